"""A club's members as a page: what every hole takes by group, its index today and proposed, what set-ups change."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from simcaddie.base.cautions import ON_PAPER
from simcaddie.charts.pages import write_pages
from simcaddie.charts.style import FAINT, INK, OPTION_COLOURS, QUIET, styled
from simcaddie.charts.text import panel_at, sheet, write
from simcaddie.console.document import signed
from simcaddie.features.field.analysis import Allocation, Difference, Field

__all__ = ["draw_field", "field_pages"]

WIDE: Final = 595.0  # points, A4 upright
EDGE: Final = 34.0
HEAD: Final = 96.0
ROW: Final = 26.0
FOOT: Final = 66.0
LEFT: Final = 178.0
RIGHT: Final = 118.0
MARKS: Final = ("o", "s", "^", "D", "|")
RANKS: Final = (
    "Rank: by difficulty relative to par, better half and worse half of the members alike (in brackets what the "
    "simulation's error leaves open). Index: today and as Appendix E of the Rules of Handicapping recommends; the "
    "Committee decides."
)


def field_pages(answer: Field) -> Iterator[Figure]:
    """Yield the page of scores and indexes, then one for each difference of set-ups."""
    with styled():
        yield _scores(answer)
    for one in answer.differences:
        with styled():
            yield _difference(answer, one)


def draw_field(answer: Field, path: Path) -> None:
    """Draw the pages to a .pdf, or side by side to a .png; an .svg has the first page.

    Raises
    ------
    BadRequest
        Where the file can't be written.
    """
    write_pages(field_pages(answer), path)


def _page(answer: Field, note: str, foot: str) -> tuple[Figure, Axes]:
    """Return a page with a title and a foot, and its axes: a row a hole."""
    many = len(answer.course.holes)
    tall = HEAD + ROW * many + FOOT
    figure = sheet(WIDE / 72.0, tall / 72.0)
    top = panel_at(figure, EDGE, EDGE - 10.0, WIDE - 2 * EDGE, HEAD - EDGE)
    top.text(0.0, -17.0, answer.course.name, fontsize=17, va="baseline")
    top.text(0.0, -31.0, note, fontsize=9, va="baseline", color=QUIET)
    write(panel_at(figure, EDGE, tall - FOOT + 26.0, WIDE - 2 * EDGE, FOOT - 28.0), 0.0, f"{foot} {ON_PAPER}", size=6.3,
          colour=QUIET)  # fmt: skip
    ax = figure.add_axes((LEFT / WIDE, FOOT / tall, (WIDE - LEFT - RIGHT) / WIDE, ROW * many / tall))
    ax.set_ylim(many - 0.5, -0.5)
    ax.set_facecolor("none")
    ax.tick_params(axis="y", length=0)
    ax.tick_params(axis="x", labelsize=7.5)
    told = [f"{number}  {hole.name[:24]}  par {hole.par}" for number, hole in enumerate(answer.course.holes, start=1)]
    ax.set_yticks(range(many), told, fontsize=8)
    ax.grid(axis="x", color=FAINT, linewidth=0.35, dashes=(1, 2))
    ax.axvline(0.0, color=INK, linewidth=0.7, zorder=1)
    for side in ("left", "right", "top"):
        ax.spines[side].set_visible(False)
    return figure, ax


def _column(ax: Axes, at: float, title: str, cells: list[str], *, bold: bool = False) -> None:
    """Write a column of figures to the right of the rows; ``at`` in points from their end."""
    x = 1.0 + at / (WIDE - LEFT - RIGHT)
    where = ax.get_yaxis_transform()
    ax.text(x, -0.62, title, transform=where, fontsize=7, color=QUIET, ha="right", va="bottom", linespacing=1.1)
    for row, cell in enumerate(cells):
        weight = "bold" if bold else "normal"
        ax.text(x, row, cell, transform=where, fontsize=8, ha="right", va="center", fontweight=weight)


def _scores(answer: Field) -> Figure:
    many = len(answer.members)
    figure, ax = _page(
        answer,
        f"{many} member{'' if many == 1 else 's'} as neutral golfers: strokes over par",
        RANKS if len(answer.holes) > 1 else "",
    )
    pars = [hole.par for hole in answer.course.holes]
    for number, group in enumerate(answer.groups):
        last = number == len(answer.groups) - 1 and len(answer.groups) > 1
        values = [hole.scores[number].value - par for hole, par in zip(answer.holes, pars, strict=True)]
        colour = INK if last else OPTION_COLOURS[number % len(OPTION_COLOURS)]
        marker = "|" if last else MARKS[number]
        face = "none" if number % 2 else colour
        told = f"{'all' if last else f'index {group.title}'} ({len(group.members)})"
        size = 12.0 if last else 5.5
        ax.plot(values, range(len(values)), marker, markersize=size, color=colour, markerfacecolor=face, label=told)
    corner = (EDGE - 6.0) / WIDE, 1.0 - 58.0 / (72.0 * figure.get_size_inches()[1])
    figure.legend(loc="upper left", bbox_to_anchor=corner, ncols=5, fontsize=7.5, frameon=False, handletextpad=0.2)
    if len(answer.holes) > 1:
        _ranks(ax, answer.allocation)
    return figure


def _ranks(ax: Axes, found: Allocation) -> None:
    """Write how the holes rank, and their indexes, beside them."""
    ranks = [f"{rank} ({low}–{high})" if low < high else f"{rank}"
            for rank, (low, high) in zip(found.rank, found.may, strict=True)]  # fmt: skip
    _column(ax, 46.0, "rank", ranks)
    if found.today is not None:
        _column(ax, 71.0, "index\ntoday", [str(index) for index in found.today])
    _column(ax, 98.0, "pro-\nposed", [str(index) for index in found.proposed], bold=True)


def _difference(answer: Field, one: Difference) -> Figure:
    figure, ax = _page(
        answer,
        f"{one.title}: strokes more or fewer, all members",
        "Lines: simultaneous 95 % intervals over all holes, the simulation's error alone; thick where 0 is left out.",
    )
    for row, (strokes, _) in enumerate(one.by_hole):
        ends = [strokes.value - strokes.within, strokes.value + strokes.within]
        ax.plot(ends, [row, row], color=OPTION_COLOURS[0], linewidth=2.6 if strokes.sure else 1.0)
        ax.plot([strokes.value], [row], marker="o", markersize=5, color=OPTION_COLOURS[0])
    _column(ax, 40.0, "strokes", [signed(strokes.value) for strokes, _ in one.by_hole])
    _column(ax, 88.0, "blow-ups\na round", [signed(blow.value) for _, blow in one.by_hole])
    return figure
