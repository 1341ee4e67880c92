"""Blocks of a manuscript written as Markdown, DocBook, plain text or a caption list.

`write` returns the text and, for each block, its first and last line, by which a query is told to stand
where the fault was planted.
"""

import csv
import dataclasses
import io
import re
import textwrap
import xml.sax.saxutils

FORMATS = ("md", "xml", "txt", "csv")


@dataclasses.dataclass
class Block:
    kind: str            # caption, body, heading, table
    text: str = ""       # of a table: only what a miss is told with
    stet: tuple = ()     # (check, reason)
    rows: list = ()      # of a table: the first is its head
    label: str = ""      # of a caption; filled in by `number`
    note: str = ""       # what it is, for whoever reads a miss


LABELS = {"md": "Fig. {n}", "xml": "{n}", "txt": "Fig. {n}", "csv": "Fig. {n}"}


def number(blocks):
    """Gives the captions their figure numbers; "{fig:+1}" in a text is the figure that far away."""
    captions = [b for b in blocks if b.kind == "caption"]
    for n, block in enumerate(captions, 1):
        if not block.label:
            block.label = str(n)

    def of(index):
        def label(match):
            return captions[index + int(match.group(1))].label
        return label

    last = -1
    for block in blocks:
        if block.kind == "caption":
            last += 1
        block.text = re.sub(r"\{fig:([+-]\d+)\}", of(last), block.text)
    return blocks


def write(blocks, form, rng):
    lines, spans = [], []
    wrap = rng.choice([0, 0, 92, 110])

    def put(text):
        first = len(lines) + 1
        lines.extend(text.split("\n"))
        spans.append((first, len(lines)))
        lines.append("")

    def folded(text, width=None):
        width = wrap if width is None else width
        return "\n".join(textwrap.wrap(text, width, break_long_words=False, break_on_hyphens=False)) if width else text

    if form == "csv":
        return _caption_list(blocks)
    if form == "xml":
        lines += ['<?xml version="1.0" encoding="UTF-8"?>',
                  '<chapter xmlns="http://docbook.org/ns/docbook" version="5.0" xml:id="c1">',
                  "<title>A chapter</title>"]
    elif form == "md":
        lines += ["# A chapter", ""]
    else:
        lines += ["A CHAPTER", ""]
    style = rng.choice(["Fig. {n}.", "Fig. {n}.", "Figure {n}."])
    for block in blocks:
        escaped = xml.sax.saxutils.escape(block.text)
        stet = ""
        if block.stet:
            stet = {"md": "<!-- stet {}: {} -->", "xml": "<?stet {}: {}?>",
                    "txt": "[stet {}: {}]"}[form].format(*block.stet) + "\n"
        if block.kind == "table":
            put(stet + _table(block, form))
        elif form == "xml":
            if block.kind == "caption":
                put(f'{stet}<figure label="{block.label}"><title>{folded(escaped)}</title>'
                    f'<mediaobject><imageobject><imagedata fileref="p{block.label}.jpg"/></imageobject>'
                    "</mediaobject></figure>")
            elif block.kind == "heading":
                put(f"<bridgehead>{escaped}</bridgehead>")
            else:
                put(f"{stet}<para>{folded(escaped)}</para>")
        elif block.kind == "caption":
            text = f"{style.format(n=block.label)} {block.text}"
            put(stet + (f"![{text}](p{block.label}.jpg)" if form == "md" else folded(text)))
        elif block.kind == "heading":
            put(f"## {block.text}" if form == "md" else block.text.upper())
        else:
            put(stet + folded(block.text))
    if form == "xml":
        lines.append("</chapter>")
    return "\n".join(lines) + "\n", spans


def _table(block, form):
    if form == "xml":
        def row(cells):
            return "<row>" + "".join(f"<entry>{xml.sax.saxutils.escape(c)}</entry>" for c in cells) + "</row>"
        head, *body = block.rows
        return (f'<informaltable><tgroup cols="{len(head)}"><thead>{row(head)}</thead><tbody>\n'
                + "\n".join(row(r) for r in body) + "\n</tbody></tgroup></informaltable>")
    head, *body = block.rows
    if form == "md":
        rows = [head, ["---"] * len(head)] + body
        return "\n".join("| " + " | ".join(r) + " |" for r in rows)
    widths = [max(len(r[i]) for r in block.rows) for i in range(len(head))]
    rows = [head, ["-" * width for width in widths]] + body
    return "\n".join("   " + "  ".join(c.ljust(width) for c, width in zip(r, widths)).rstrip() for r in rows)


def _caption_list(blocks):
    out = io.StringIO()
    writer = csv.writer(out, lineterminator="\n")
    writer.writerow(["figure", "caption"])
    spans, line = [], 2
    for block in blocks:
        if block.kind != "caption":
            spans.append((0, 0))
            continue
        writer.writerow([f"Fig. {block.label}", block.text])
        spans.append((line, line))
        line += 1
    return out.getvalue(), spans
