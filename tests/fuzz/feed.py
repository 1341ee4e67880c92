"""More to begin from than seeds/: feed.py NAME CORPUS DICTIONARY fills them from the project's own texts.

What reads prose gets each manuscript of the case files as a file of its own, what reads a format the demo's files in it; the
dictionary holds the phrases of the grammars and the names in the ledger that the fuzzers use.
"""
import csv
import hashlib
import pathlib
import re
import sys

TOP = pathlib.Path(__file__).resolve().parents[2]
DEMO = TOP / "demo_manuscripts"
MOST = 8192  # bytes of one text


def case_texts(endings):
    """Manuscripts of the case files whose name has one of the endings, without their marks."""
    for path in sorted((TOP / "tests/checks").glob("*.case")):
        for part in re.split(r"^(?=---|===)", path.read_text(encoding="utf-8"), flags=re.M):
            head, _, body = part.partition("\n")
            if head.startswith("--- ") and head.strip().endswith(endings):
                yield "".join(line for line in body.splitlines(True) if not line.startswith("^^^"))


def files(*globs):
    for glob in globs:
        for path in sorted(TOP.glob(glob)):
            yield path.read_text(encoding="utf-8")


def pieces(texts):
    for text in texts:
        for begin in range(0, len(text), MOST):
            yield text[begin:begin + MOST]


def texts_for(name):
    prose = (".txt", ".md")
    if name in ("dates", "claims", "text"):
        return list(case_texts(prose)) + list(pieces(files("demo_manuscripts/book/*.txt")))
    if name == "whole":
        own = {".xml": "@", ".md": "A", ".txt": "B", ".csv": "C"}  # its first byte, modulo four
        return [first + text for ending, first in own.items() for text in case_texts((ending,))]
    if name == "markdown":
        return list(case_texts((".md",))) + list(pieces(files("demo_manuscripts/book/*.md", "README.md")))
    if name == "docbook":
        return list(case_texts((".xml",))) + list(files("demo_manuscripts/book/*.xml"))
    if name in ("captions", "csv"):
        return list(case_texts((".csv",))) + list(pieces(files("demo_manuscripts/*/*.csv")))
    if name == "edtf":
        return sorted({cell for text in files("demo_manuscripts/ledger/*.csv") for row in csv.reader(text.splitlines())
                       for cell in row if re.match(r"^[\[{.]*-?\d{3}", cell)})
    if name == "ledger_toml":
        return list(case_texts(("ledger.toml",))) + list(files("demo_manuscripts/ledger/ledger.toml"))
    if name == "grammar_toml":
        return list(pieces(files("grammars/*/*.toml")))
    return []


def words():
    for text in files("grammars/en/*.toml"):
        yield from re.findall(r'"([^"\\\n]{2,40})" *[=,\]]', text)
    for text in files("tests/readme/ledger/*.csv"):
        for row in csv.reader(text.splitlines()):
            yield from row


name, corpus, dictionary = sys.argv[1], pathlib.Path(sys.argv[2]), pathlib.Path(sys.argv[3])
corpus.mkdir(parents=True, exist_ok=True)
for text in texts_for(name):
    data = text.encode()
    (corpus / hashlib.sha1(data).hexdigest()).write_bytes(data)
with dictionary.open("w", encoding="utf-8") as out:
    for word in sorted({word for word in words() if 1 < len(word.encode()) < 60}):
        escaped = "".join(chr(b) if 32 <= b < 127 and chr(b) not in '"\\' else f"\\x{b:02x}" for b in word.encode())
        out.write(f'"{escaped}"\n')
