"""Marking up what a feature presents as HTML: for notebooks and pages."""

from __future__ import annotations

from html import escape

from simcaddie.console.document import Block, Document, Gap, Heading, Items, Table, Text

__all__ = ["html"]


def html(document: Document) -> str:
    """Return a document as HTML, every text escaped; its classes are quiet, figure, best and sum."""
    return "\n".join(part for part in map(_block, document) if part)


def _block(block: Block) -> str:
    if isinstance(block, Gap):
        return ""
    if isinstance(block, Heading):
        return f"<p><strong>{escape(block.text)}</strong>{escape(block.rest)}</p>"
    if isinstance(block, Text):
        return f"<p{_kind('quiet' if block.quiet else '')}>{escape(block.text)}</p>"
    if isinstance(block, Items):
        ordered = all(mark.rstrip(".").isdigit() for mark, _ in block.items)
        kind = "ol" if ordered else "ul"
        return f"<{kind}>" + "".join(f"<li>{escape(text)}</li>" for _, text in block.items) + f"</{kind}>"
    return _table(block)


def _kind(kind: str) -> str:
    return f' class="{kind}"' if kind else ""


def _table(block: Table) -> str:
    numbers = ["figure" if column.figures else "" for column in block.columns]
    head = "".join(
        f'<th scope="col"{_kind(kind)}>{escape(column.title)}</th>'
        for column, kind in zip(block.columns, numbers, strict=True)
    )
    lines = []
    for row in block.rows:
        cells = "".join(f"<td{_kind(kind)}>{escape(text)}</td>" for text, kind in zip(row.cells, numbers, strict=False))
        lines.append(f"<tr{_kind(row.kind)}>{cells}</tr>")
    caption = f"<caption>{escape(block.caption)}</caption>" if block.caption else ""
    shown = f"<thead><tr>{head}</tr></thead>" if any(column.title for column in block.columns) else ""
    return f"<table>{caption}{shown}<tbody>{''.join(lines)}</tbody></table>"
