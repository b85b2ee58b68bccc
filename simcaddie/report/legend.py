"""The legend of a map: a swatch of every kind of ground that is drawn, and what the signs mean."""

from __future__ import annotations

from collections.abc import Callable
from typing import Final

import shapely
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Ellipse

from simcaddie.ground.hole import Hole
from simcaddie.report.furniture import unit_sign
from simcaddie.report.style import INK, MARKINGS, OPTION_COLOURS, PAPER
from simcaddie.report.terrain import paint_kind
from simcaddie.surfaces import BY_NAME, SURFACES

__all__ = ["Entry", "draw_legend", "kinds_on", "panel", "sign_entries"]

_ROW: Final = 15.0  # points from row to row
_WIDE, _TALL = 24.0, 9.5  # of a swatch, points
Entry = tuple[str, Callable[[Axes, float, float], None]]


def panel(figure: Figure, box: tuple[float, float, float, float]) -> Axes:
    """Return Axes without frame whose unit is one point: the upper left corner is (0, 0), y runs downward."""
    ax = figure.add_axes(box)
    width, height = (float(size) * 72.0 / figure.dpi for size in (ax.bbox.width, ax.bbox.height))
    ax.set_xlim(0.0, width)
    ax.set_ylim(-height, 0.0)
    ax.set_axis_off()
    return ax


def kinds_on(hole: Hole) -> list[str]:
    """Return the kinds of ground on a hole, lowest first."""
    used = {hole.surround, *(area.kind for area in hole.areas)} | ({"out_of_bounds"} if hole.boundary else set())
    return [surface.name for surface in SURFACES if surface.name in used]


def _swatch(kind: str) -> Callable[[Axes, float, float], None]:
    def draw(ax: Axes, x: float, y: float) -> None:
        paint_kind(ax, shapely.box(x, y - _TALL / 2, x + _WIDE, y + _TALL / 2), BY_NAME[kind], 1.0)

    return draw


def _line(colour: str, width: float, dashes: object = "-") -> Callable[[Axes, float, float], None]:
    def draw(ax: Axes, x: float, y: float) -> None:
        ax.plot([x, x + _WIDE], [y, y], color=colour, linewidth=width, linestyle=dashes)

    return draw


def _sample(text: str, *, bold: bool = False, italic: bool = False) -> Callable[[Axes, float, float], None]:
    def draw(ax: Axes, x: float, y: float) -> None:
        ax.text(
            x + _WIDE / 2,
            y,
            text,
            fontsize=5.8,
            ha="center",
            va="center",
            fontweight="bold" if bold else "normal",
            fontstyle="italic" if italic else "normal",
        )

    return draw


def _signs(marker: str, size: float, *, open_: bool) -> Callable[[Axes, float, float], None]:
    def draw(ax: Axes, x: float, y: float) -> None:
        ax.plot(
            [x + _WIDE / 2],
            [y],
            linestyle="none",
            marker=marker,
            markersize=size,
            color=INK,
            markeredgewidth=0.7,
            markerfacecolor=PAPER if open_ else INK,
        )
        if marker == "o":
            ax.plot(
                [x + _WIDE / 2],
                [y],
                linestyle="none",
                marker="+",
                markersize=3.4,
                color=INK,
                markeredgewidth=0.7,
            )

    return draw


def _ellipses(ax: Axes, x: float, y: float) -> None:
    colour = OPTION_COLOURS[0]
    for share, width, fill in ((1.0, 1.0, "none"), (0.55, 0.6, colour + "40")):
        ax.add_patch(
            Ellipse(
                (x + _WIDE / 2, y),
                _WIDE * share,
                _TALL * 1.2 * share,
                facecolor=fill,
                edgecolor=colour,
                linewidth=width,
            )
        )


def sign_entries(hole: Hole, *, patterns: bool = False, origin: str = "the tee") -> list[Entry]:
    """Return the legend's entries for lines, numbers and signs that occur on a map whose arcs start from ``origin``."""
    unit = unit_sign(hole)
    markings = {area.marking for area in hole.areas if BY_NAME[area.kind].penalty}
    entries: list[Entry] = []
    if "red" in markings:
        entries.append(("red penalty area", _line(MARKINGS["red"], 1.3)))
    if "yellow" in markings:
        entries.append(("yellow penalty area", _line(MARKINGS["yellow"], 1.3, (0, (4.5, 2.2)))))
    if hole.boundary is not None:
        entries.append(("boundary", _line(INK, 0.8, (0, (7, 2, 1.2, 2)))))
    entries.append((f"arc: {unit} from {origin}", _sample("150", bold=True)))
    entries.append((f"{unit} to reach and to carry", _sample("163 – 180", italic=True)))
    if hole.landmarks:
        entries.append(("landmark to aim at", _signs("^", 5.0, open_=True)))
    if hole.spots:
        entries.append((f"named spot, {unit} to the pin", _signs("o", 4.6, open_=True)))
    if hole.heights is not None:
        entries.append((f"spot height, {unit}", _sample("· 12")))
    if patterns:
        entries.append(("half, and nine in ten, of\nsolid strikes land inside", _ellipses))
    return entries


def draw_legend(ax: Axes, hole: Hole, *, top: float = 0.0, patterns: bool = False, origin: str = "the tee") -> float:
    """Draw the legend on a ``panel``, from ``top`` (points, negative) downward; return where it ends."""
    entries: list[Entry] = [(BY_NAME[kind].title, _swatch(kind)) for kind in kinds_on(hole)]
    entries += sign_entries(hole, patterns=patterns, origin=origin)
    for row, (text, draw) in enumerate(entries):
        y = top - _ROW * (row + 0.5)
        draw(ax, 0.5, y)
        ax.text(_WIDE + 7.0, y, text, fontsize=7, va="center", ha="left", linespacing=1.1)
    return top - _ROW * len(entries)
