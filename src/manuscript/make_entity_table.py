#!/usr/bin/env python3
"""Writes entity_table.inc: the named character references of HTML (which take in the ISO entity
sets that DocBook 4 declares), from Python's html.entities.html5. Usage: make_entity_table.py > entity_table.inc
"""
import html.entities

rows = []
for name, text in html.entities.html5.items():
    if name.endswith(";"):
        escaped = "".join("\\x%02x" % byte for byte in text.encode("utf-8"))
        rows.append('{"%s", "%s"},' % (name[:-1], escaped))
rows.sort(key=lambda row: row.split('"')[1].encode("ascii"))
print("// Written by make_entity_table.py from Python's html.entities.html5; do not edit.")
print("// name, characters; sorted by name in byte order")
line = ""
for row in rows:
    if line and len(line) + 1 + len(row) > 98:
        print(line)
        line = ""
    line = line + " " + row if line else row
print(line)
