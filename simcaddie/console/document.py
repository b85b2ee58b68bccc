"""What a feature presents, as data: headings, sentences, lists and tables, for ``terminal`` or ``html`` to render."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Final, Literal

__all__ = [
    "BEST",
    "GAP",
    "SUM",
    "Block",
    "Column",
    "Document",
    "Gap",
    "Heading",
    "Items",
    "Row",
    "Table",
    "Text",
    "figures",
    "signed",
    "table",
    "tenths",
    "words",
]

BEST: Final = "best"  # what a row is: the best of its table
SUM: Final = "sum"  # what the rows above it come to


@dataclass(frozen=True, slots=True)
class Gap:
    """An empty line."""


GAP: Final = Gap()


@dataclass(frozen=True, slots=True)
class Heading:
    """A name, and what follows it on the same line."""

    text: str
    rest: str = ""


@dataclass(frozen=True, slots=True)
class Text:
    """A paragraph; ``quiet`` is said beside the answer, ``whole`` is never wrapped: lines that may hold a path."""

    text: str
    quiet: bool = False
    whole: bool = False


@dataclass(frozen=True, slots=True)
class Items:
    """A list: (mark, text) pairs, as a number or a dash."""

    items: tuple[tuple[str, str], ...]


@dataclass(frozen=True, slots=True)
class Column:
    """A column of a table: its title, whether it holds figures (to the right), whether its text may wrap."""

    title: str = ""
    figures: bool = False
    wraps: bool = False


@dataclass(frozen=True, slots=True)
class Row:
    """A row of a table; ``kind`` is empty, ``BEST`` or ``SUM``."""

    cells: tuple[str, ...]
    kind: str = ""


@dataclass(frozen=True, slots=True)
class Table:
    """A table with a caption beneath it; ``gap`` is the room between its columns, ``ruled`` a line beneath its head."""

    columns: tuple[Column, ...]
    rows: tuple[Row, ...]
    caption: str = ""
    gap: Literal["usual", "close", "wide", "tight"] = "usual"
    ruled: bool = True


Block = Gap | Heading | Text | Items | Table
Document = Sequence[Block]


def words(*titles: str, wraps: bool = False) -> tuple[Column, ...]:
    """Return columns of text."""
    return tuple(Column(title, wraps=wraps) for title in titles)


def figures(*titles: str, wraps: bool = False) -> tuple[Column, ...]:
    """Return columns of figures."""
    return tuple(Column(title, figures=True, wraps=wraps) for title in titles)


def table(
    columns: Iterable[Column],
    rows: Iterable[Row | Iterable[str]],
    caption: str = "",
    gap: Literal["usual", "close", "wide", "tight"] = "usual",
    *,
    ruled: bool = True,
) -> Table:
    """Return a table; plain sequences of cells stand for ordinary rows."""
    made = tuple(row if isinstance(row, Row) else Row(tuple(row)) for row in rows)
    return Table(tuple(columns), made, caption, gap, ruled)


def tenths(share: float) -> str:
    """Say a share as so many in ten, one decimal."""
    return f"{10 * share:.1f}"


def signed(number: float, places: int = 2) -> str:
    """Say a difference with its sign, none where it rounds to nothing.

    >>> signed(0.125), signed(-0.004), signed(-0.25, 1)
    ('+0.12', '0.00', '-0.2')
    """
    text = f"{number:+.{places}f}"
    return text if float(text) else text[1:]
