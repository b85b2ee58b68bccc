"""One hole on one sheet: title, map, the green enlarged, the map's legend, and the usual cautions."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass
from functools import partial
from textwrap import fill
from typing import Any, Final

import shapely
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Ellipse

from simcaddie.base.cautions import ON_PAPER
from simcaddie.base.surfaces import BY_NAME, OUT, SURFACES, Surface
from simcaddie.charts.ground_fill import paint_kind
from simcaddie.charts.maps import draw_hole, draw_pattern
from simcaddie.charts.marks import length_of, mark, shown, unit_sign
from simcaddie.charts.style import FAINT, INK, MARKINGS, OPTION_COLOURS, QUIET, new_figure, styled
from simcaddie.charts.text import credit, panel
from simcaddie.course.hole import Hole, Point
from simcaddie.course.route import line_of_play
from simcaddie.player.pattern import Pattern

__all__ = ["CAUTIONS", "PatternView", "draw_cautions", "draw_legend", "draw_title", "hole_figure", "kinds_on"]

CAUTIONS: Final = fill(ON_PAPER, 110)
NINE_IN_TEN: Final = 1.645  # sd: the standard normal stays within this nine times in ten
_ROW: Final = 15.0  # points from row to row
_WIDE, _TALL = 24.0, 9.5  # of a swatch, points
Entry = Callable[[Axes, float, float], None]


def kinds_on(hole: Hole) -> list[str]:
    """Return the kinds of ground on a hole, lowest first."""
    used = {hole.surround, *(area.kind for area in hole.areas)} | ({OUT} if hole.boundary else set())
    return [surface.name for surface in SURFACES if surface.name in used]


def _swatch(surface: Surface, ax: Axes, x: float, y: float) -> None:
    paint_kind(ax, shapely.box(x, y - _TALL / 2, x + _WIDE, y + _TALL / 2), surface, 1.0)


def _line(colour: str, width: float, dashes: object, ax: Axes, x: float, y: float) -> None:
    ax.plot([x, x + _WIDE], [y, y], color=colour, linewidth=width, linestyle=dashes)


def _sample(text: str, style: Mapping[str, Any], ax: Axes, x: float, y: float) -> None:
    ax.text(x + _WIDE / 2, y, text, fontsize=5.8, ha="center", va="center", **style)


def _signs(marker: str, size: float, ax: Axes, x: float, y: float) -> None:
    mark(ax, (x + _WIDE / 2, y), marker, size, open_=True, zorder=2.0)
    if marker == "o":
        mark(ax, (x + _WIDE / 2, y), "+", 3.4, zorder=2.0)


def _ellipses(ax: Axes, x: float, y: float) -> None:
    colour, wide, tall = OPTION_COLOURS[0], _WIDE, 1.2 * _TALL
    for share, width, inner in ((1.0, 1.0, "none"), (0.55, 0.6, colour + "40")):
        at = (x + _WIDE / 2, y)
        ax.add_patch(Ellipse(at, wide * share, tall * share, facecolor=inner, edgecolor=colour, linewidth=width))


def _sign_entries(hole: Hole, patterns: bool, origin: str) -> dict[str, Entry]:
    """Return the legend's entries for lines, numbers and signs that occur on a map whose arcs start from ``origin``."""
    unit = unit_sign(hole)
    markings = {area.marking for area in hole.areas if area.surface.penalty}
    entries: dict[str, tuple[bool, Entry]] = {
        "red penalty area": ("red" in markings, partial(_line, MARKINGS["red"], 1.3, "-")),
        "yellow penalty area": ("yellow" in markings, partial(_line, MARKINGS["yellow"], 1.3, (0, (4.5, 2.2)))),
        "boundary": (hole.boundary is not None, partial(_line, INK, 0.8, (0, (7, 2, 1.2, 2)))),
        f"arc: {unit} from {origin}": (True, partial(_sample, "150", {"weight": "bold"})),
        f"{unit} to reach and to carry": (True, partial(_sample, "163 – 180", {"style": "italic"})),
        "landmark to aim at": (bool(hole.landmarks), partial(_signs, "^", 5.0)),
        f"named spot, {unit} to the pin": (bool(hole.spots), partial(_signs, "o", 4.6)),
        f"spot height, {unit}": (hole.heights is not None, partial(_sample, "· 12", {})),
        "half, and nine in ten, of\nsolid strikes land inside": (patterns, _ellipses),
    }
    return {text: draw for text, (there, draw) in entries.items() if there}


def draw_legend(ax: Axes, hole: Hole, *, top: float = 0.0, patterns: bool = False, origin: str = "the tee") -> float:
    """Draw the legend on a ``panel``, from ``top`` (points, negative) downward; return where it ends."""
    entries: dict[str, Entry] = {BY_NAME[kind].title: partial(_swatch, BY_NAME[kind]) for kind in kinds_on(hole)}
    entries |= _sign_entries(hole, patterns, origin)
    for row, (text, draw) in enumerate(entries.items()):
        y = top - _ROW * (row + 0.5)
        draw(ax, 0.5, y)
        ax.text(_WIDE + 7.0, y, text, fontsize=7, va="center", ha="left", linespacing=1.1)
    return top - _ROW * len(entries)


@dataclass(frozen=True, slots=True)
class PatternView:
    """A shot pattern to draw: its title, the place (yards), the aim's bearing (radians) and the pattern."""

    title: str
    place: Point
    bearing: float
    pattern: Pattern


def draw_title(figure: Figure, hole: Hole, note: str = "") -> None:
    """Write the hole's name, par, stroke index and length across the top of a figure, and whose drawing it is."""
    credit(figure, [hole.source])
    tee, at = next(iter(hole.tees.items()))
    facts = [f"par {hole.par}"]
    if hole.stroke_index is not None:
        facts.append(f"stroke index {hole.stroke_index}")
    facts.append(f"{shown(hole, length_of(line_of_play(hole, at)))} {unit_sign(hole)} from {tee}")
    inch = 1.0 / figure.get_size_inches()[1]
    left, right = 0.036, 0.964
    figure.text(left, 1.0 - 0.58 * inch, hole.name, fontsize=19, va="baseline")
    figure.text(right, 1.0 - 0.58 * inch, "  ·  ".join(facts), fontsize=9, ha="right", va="baseline")
    if note:
        figure.text(right, 1.0 - 0.36 * inch, note, fontsize=7.5, ha="right", va="baseline", color=QUIET)


def draw_cautions(figure: Figure, text: str = CAUTIONS) -> None:
    """Write the cautions along the foot of a figure."""
    inch = 1.0 / figure.get_size_inches()[1]
    figure.text(0.036, 0.16 * inch, text, fontsize=5.6, color=QUIET, va="bottom", linespacing=1.35)


def _draw_green(figure: Figure, hole: Hole, box: tuple[float, float, float, float], place: Point) -> None:
    """Draw the green enlarged."""
    ax = figure.add_axes(box)
    left, low, right, high = hole.green.bounds
    bounds = (left - 6, low - 6, right + 6, high + 6)
    draw_hole(ax, hole, place=place, bounds=bounds, names=False, arcs=False, scale=False, each_pin=True).place()


def _depth_and_width(hole: Hole, place: Point) -> tuple[float, float]:
    """Return how deep and how wide the green is, in yards, seen along the last leg of the line of play."""
    line = line_of_play(hole, place)
    bearing = math.atan2(line[-1][0] - line[-2][0], line[-1][1] - line[-2][1])
    turned = shapely.affinity.rotate(hole.green, bearing, use_radians=True, origin=(0.0, 0.0))
    left, low, right, high = turned.bounds
    return high - low, right - left


def _heading(ax: Axes, y: float, text: str) -> None:
    ax.text(0.0, y, text, fontsize=8, fontweight="bold", va="top")
    ax.plot([0.0, ax.get_xlim()[1]], [y - 12.5, y - 12.5], color=FAINT, linewidth=0.5)


def _club_table(ax: Axes, hole: Hole, patterns: Sequence[PatternView], top: float) -> float:
    """List the patterns drawn, carry, run and how wide nine in ten land; return where the table ends."""
    _heading(ax, top, f"Solid strikes, {unit_sign(hole)}")
    right = ax.get_xlim()[1]
    stops = (0.52 * right, 0.72 * right, right)
    for x, head in zip(stops, ("carry", "run", "nine in ten"), strict=True):
        ax.text(x, top - 24.0, head, fontsize=6.2, ha="right", va="center", color=QUIET)
    y = top - 24.0
    for order, view in enumerate(patterns):
        y -= 13.0
        solid = view.pattern.solid
        wide = 2 * NINE_IN_TEN * solid.side_sd
        cells = (shown(hole, solid.carry), shown(hole, solid.run), f"{shown(hole, wide)} wide")
        colour = OPTION_COLOURS[order % len(OPTION_COLOURS)]
        ax.text(0.0, y, view.title, fontsize=7, va="center", fontweight="bold", color=colour)
        for x, cell in zip(stops, cells, strict=True):
            ax.text(x, y, cell, fontsize=7, ha="right", va="center")
    return y - 8.0


def _note_lines(ax: Axes, top: float) -> None:
    """Rule the rest of the panel for notes by hand."""
    low = ax.get_ylim()[0]
    if top - low < 60.0:
        return
    _heading(ax, top, "Notes")
    y = top - 12.5 - 19.0
    while y > low:
        ax.plot([0.0, ax.get_xlim()[1]], [y, y], color=FAINT, linewidth=0.4, dashes=(1, 2))
        y -= 19.0


def hole_figure(
    hole: Hole, *, place: Point | None = None, patterns: Sequence[PatternView] = (), note: str = ""
) -> Figure:
    """Return an upright A4 sheet of one hole.

    Parameters
    ----------
    hole : the hole
    place : (x, y) in yards that distances are counted from; None for the first tee
    patterns : shot patterns to draw on the map
    note : a line over the facts, such as the player's name
    """
    place = hole.place().at if place is None else place
    with styled():
        figure = new_figure(8.27, 11.69)
        draw_title(figure, hole, note)
        draw_cautions(figure)
        chart = figure.add_axes((0.036, 0.048, 0.652, 0.888))
        labels = draw_hole(chart, hole, place=place)
        for order, view in enumerate(patterns):
            draw_pattern(chart, view.place, view.bearing, view.pattern, title=view.title, labels=labels, order=order)
        labels.place()
        side = panel(figure, (0.714, 0.048, 0.250, 0.888))
        deep, wide = _depth_and_width(hole, place)
        _heading(side, 0.0, "The green, enlarged")
        _draw_green(figure, hole, (0.714, 0.752, 0.250, 0.165), place)
        size = f"{shown(hole, deep)} {unit_sign(hole)} deep, {shown(hole, wide)} wide"
        side.text(0.0, -158.0, size, fontsize=7, color=INK, va="top")
        _heading(side, -186.0, "How to read the map")
        origin = "the tee" if place in hole.tees.values() else "the spot"
        end = draw_legend(side, hole, top=-204.0, patterns=bool(patterns), origin=origin)
        if patterns:
            end = _club_table(side, hole, patterns, end - 18.0)
        _note_lines(side, end - 22.0)
    return figure
