"""One hole on one sheet: title, map, the green enlarged, legend, and the usual cautions."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import shapely
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from simcaddie.golfer.pattern import Pattern
from simcaddie.ground.hole import Hole, Point
from simcaddie.ground.targets import line_of_play
from simcaddie.report.furniture import length_of, shown, unit_sign
from simcaddie.report.legend import draw_legend, panel
from simcaddie.report.maps import draw_hole
from simcaddie.report.patterns import draw_pattern
from simcaddie.report.style import FAINT, INK, OPTION_COLOURS, QUIET, new_figure, styled

__all__ = ["CAUTIONS", "PatternView", "draw_cautions", "draw_title", "hole_figure"]

NINE_IN_TEN: Final = 1.645  # sd: the standard normal stays within this nine times in ten
CAUTIONS: Final = (
    "Made before the round: Rule 4.3 forbids using the program from the ball's position during one. "
    "Play when nobody is within reach of your longest likely shot; shout if a ball may hit someone;\n"
    "leave the course when there is lightning. The Committee, its Local Rules and qualified coaches decide."
)


@dataclass(frozen=True, slots=True)
class PatternView:
    """A shot pattern to draw: its title, the place (yards), the aim's bearing (radians) and the pattern."""

    title: str
    place: Point
    bearing: float
    pattern: Pattern


def draw_title(figure: Figure, hole: Hole, note: str = "") -> None:
    """Write the hole's name, par, stroke index and length across the top of a figure."""
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


def draw_cautions(figure: Figure) -> None:
    """Write the cautions along the foot of a figure."""
    inch = 1.0 / figure.get_size_inches()[1]
    figure.text(0.036, 0.16 * inch, CAUTIONS, fontsize=5.6, color=QUIET, va="bottom", linespacing=1.35)


def _draw_green(figure: Figure, hole: Hole, box: tuple[float, float, float, float], place: Point) -> list[str]:
    """Draw the green enlarged; return the labels that found no place."""
    ax = figure.add_axes(box)
    left, low, right, high = hole.green.bounds
    labels = draw_hole(
        ax,
        hole,
        place=place,
        bounds=(left - 6, low - 6, right + 6, high + 6),
        names=False,
        arcs=False,
        scale=False,
        each_pin=True,
    )
    return [label.text for label in labels.place()]


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
        ax.text(
            0.0,
            y,
            view.title,
            fontsize=7,
            va="center",
            fontweight="bold",
            color=OPTION_COLOURS[order % len(OPTION_COLOURS)],
        )
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
