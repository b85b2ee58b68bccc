"""Printing what a feature presents, on the terminal or into a pipe."""

from __future__ import annotations

import sys
from io import StringIO
from typing import Any, Final

from rich.box import Box
from rich.console import Console
from rich.padding import Padding
from rich.table import Table as Grid
from rich.text import Text as Words

from simcaddie.console.document import BEST, SUM, Document, Gap, Heading, Items, Row, Table, Text

__all__ = ["plain", "show"]

PLAIN_WIDTH: Final = 80  # columns when the output is not a terminal
_RULE: Final = "╌"  # beneath the head of a table
_STYLES: Final = {BEST: "bold green", SUM: "bold"}  # on a terminal; the words say so too
_GAPS: Final = {"usual": (0, 1, 0, 1), "close": (0, 1, 0, 0), "wide": (0, 2, 0, 0), "tight": (0, 0, 0, 0)}
_BOX: Final = Box("\n".join(["    ", "    ", f" {_RULE}{_RULE} ", *["    "] * 5]) + "\n")


class _Printer(Console):
    """A console that leaves what to do about a reader who has gone to its caller."""

    def on_broken_pipe(self) -> None:
        raise BrokenPipeError


def show(document: Document) -> None:
    """Print a document, 100 columns wide where no terminal says otherwise."""
    _print(document, _Printer(width=None if sys.stdout.isatty() else PLAIN_WIDTH, highlight=False, soft_wrap=False))


def plain(document: Document) -> str:
    """Return a document as plain text, 100 columns wide."""
    written = StringIO()
    _print(document, Console(file=written, width=PLAIN_WIDTH, highlight=False, soft_wrap=False))
    return written.getvalue()


def _print(document: Document, out: Console) -> None:
    for block in document:
        if isinstance(block, Gap):
            out.print()
        elif isinstance(block, Heading):
            out.print(Words.assemble((block.text, "bold"), block.rest))
        elif isinstance(block, Text):
            out.print(Words(block.text, style="dim" if block.quiet else ""), soft_wrap=block.whole)
        else:
            out.print(_items(block) if isinstance(block, Items) else _table(block))


def _items(block: Items) -> Grid:
    grid = Grid.grid(padding=(0, 1, 0, 0))
    for mark, text in block.items:
        grid.add_row(mark, Words(text))
    return grid


def _table(block: Table) -> Grid:
    box = _BOX if block.ruled else None
    grid = Grid(box=box, padding=_GAPS[block.gap], pad_edge=False, header_style="bold", show_edge=False)
    grid.show_header = any(column.title for column in block.columns)
    grid.caption, grid.caption_justify = block.caption or None, "left"
    for column in block.columns:
        grid.add_column(column.title, justify="right" if column.figures else "left", no_wrap=not column.wraps)
    for row in block.rows:
        grid.add_row(*_cells(block, row), style=_STYLES.get(row.kind))
    return grid


def _cells(block: Table, row: Row) -> list[Any]:
    """Return the cells of a row; text in a tight table keeps a space behind it, figures have theirs before them."""
    if block.gap != "tight":
        return list(row.cells)
    figures = [column.figures for column in block.columns]
    first = figures.index(True) if True in figures else len(figures)
    return [Padding(text, (0, 1, 0, 0)) if at < first else text for at, text in enumerate(row.cells)]
