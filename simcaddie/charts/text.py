"""Sizes of paper, panels on it, and running text on those: wrapped to their width, from a place downward."""

from __future__ import annotations

from collections.abc import Iterable
from functools import lru_cache
from textwrap import wrap
from typing import Final

from matplotlib import rcParams
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties
from matplotlib.patches import Rectangle

from simcaddie.base.errors import BadRequest
from simcaddie.charts.style import FAINT, INK, QUIET, new_figure

__all__ = [
    "PAPERS", "box_at", "credit", "head", "panel", "panel_at", "paper_size", "sheet", "width_of", "wrapped", "write",
]  # fmt: skip

PAPERS: Final = {"a4": (210.0 / 25.4, 297.0 / 25.4), "letter": (8.5, 11.0)}  # inches, upright
LEAST_HEAD: Final = 9.0  # points
CREDIT: Final = 5.5  # points
_SPARE: Final = 3.0  # points, since a drawn text may be wider than its measure
_LEADING: Final = 1.35  # of type size, from line to line


def paper_size(paper: str) -> tuple[float, float]:
    """Return the (width, height) in inches of a paper by name.

    Raises
    ------
    BadRequest
        For another name.
    """
    if paper.lower() not in PAPERS:
        raise BadRequest(f"--paper: expected {' or '.join(PAPERS)}, found '{paper}'")
    return PAPERS[paper.lower()]


def credit(figure: Figure, sources: Iterable[str]) -> None:
    """Write whose drawing a page shows, as open data ask for, upright along its right edge; once each."""
    told = "; ".join(dict.fromkeys(source for source in sources if source))
    wide, tall = (72.0 * inches for inches in figure.get_size_inches())
    x, y = 1.0 - 2.0 / wide, 8.0 / tall
    for line in wrap(told, max(20, int(tall / (0.55 * CREDIT))), max_lines=1, placeholder=" …"):
        figure.text(x, y, line, fontsize=CREDIT, color=QUIET, rotation=90, ha="right", va="bottom")


def sheet(width: float, height: float) -> Figure:
    """Return an empty white page of ``width`` × ``height`` inches, for print."""
    figure = new_figure(width, height)
    white = Rectangle((0.0, 0.0), 1.0, 1.0, transform=figure.transFigure, facecolor="white", edgecolor="none")
    white.set_zorder(-9)
    figure.add_artist(white)
    return figure


def box_at(figure: Figure, left: float, top: float, width: float, height: float) -> tuple[float, float, float, float]:
    """Return a box given in points from the page's upper left corner as matplotlib wants it."""
    wide, tall = (72.0 * inches for inches in figure.get_size_inches())
    return left / wide, 1.0 - (top + height) / tall, width / wide, height / tall


def panel(figure: Figure, box: tuple[float, float, float, float]) -> Axes:
    """Return Axes without frame whose unit is one point: the upper left corner is (0, 0), y runs downward."""
    ax = figure.add_axes(box)
    width, height = (float(size) * 72.0 / figure.dpi for size in (ax.bbox.width, ax.bbox.height))
    ax.set_xlim(0.0, width)
    ax.set_ylim(-height, 0.0)
    ax.set_axis_off()
    return ax


def panel_at(figure: Figure, left: float, top: float, width: float, height: float) -> Axes:
    """Return a panel (unit: a point, y running downward from 0) at a place in points from the upper left corner."""
    return panel(figure, box_at(figure, left, top, width, height))


def width_of(ax: Axes, text: str, size: float, weight: str = "normal") -> float:
    """Return how wide a text is, in points."""
    return _width(ax.figure.dpi, text, size, weight, tuple(rcParams["font.family"]))


@lru_cache(maxsize=1 << 14)  # pages say the same words again and again
def _width(dpi: float, text: str, size: float, weight: str, family: tuple[str, ...]) -> float:
    renderer = RendererAgg(1, 1, dpi)  # type: ignore[no-untyped-call]
    font = FontProperties(family=family, size=size, weight=weight)
    pixels = renderer.get_text_width_height_descent(text, font, ismath=False)[0]  # type: ignore[no-untyped-call]
    return float(pixels * 72.0 / dpi)


def wrapped(ax: Axes, text: str, size: float, weight: str, room: float) -> list[str]:
    """Break text into lines of at most ``room`` points: a line is as wide as its words and spaces."""
    lines, wide, space = [""], 0.0, width_of(ax, " ", size, weight)
    for word in text.split():
        more = width_of(ax, word, size, weight)
        if lines[-1] and wide + space + more > room - _SPARE:
            lines, wide = [*lines, word], more
        else:
            lines[-1], wide = f"{lines[-1]} {word}".strip(), wide + more + (space if lines[-1] else 0.0)
    return lines


def write(
    ax: Axes, y: float, text: str, *, x: float = 0.0, size: float = 6.6, bold: bool = False, colour: str = INK
) -> float:
    """Write wrapped text from ``y`` (points) downward; return where the next line may start."""
    weight = "bold" if bold else "normal"
    lines = wrapped(ax, text, size, weight, ax.get_xlim()[1] - x)
    for number, line in enumerate(lines):
        at = y - _LEADING * size * (number + 0.75)
        ax.text(x, at, line, fontsize=size, fontweight=weight, color=colour, va="baseline")
    return y - _LEADING * size * len(lines)


def head(ax: Axes, y: float, text: str, size: float = 11.0) -> float:
    """Write a heading with a line beneath it, a little smaller where it is long; return where the text may start."""
    size = max(LEAST_HEAD, min(size, size * ax.get_xlim()[1] / width_of(ax, text, size, "bold")))
    ax.text(0.0, y - size, text, fontsize=size, fontweight="bold", va="baseline")
    ax.plot([0.0, ax.get_xlim()[1]], [y - 1.45 * size] * 2, color=FAINT, linewidth=0.6)
    return y - 1.75 * size
