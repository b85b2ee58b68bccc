"""One hole of a sheet, in a box: title, map, decisions, green, and what flips the plan."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from simcaddie.ground.targets import line_of_play
from simcaddie.report.furniture import length_of
from simcaddie.report.sheet_maps import draw_green, draw_line_map
from simcaddie.report.style import INK
from simcaddie.report.writing import box_at, panel_at, width_of, write
from simcaddie.strategy.sheet import SheetHole
from simcaddie.strategy.sheet_words import decisions, facts, flip_words

__all__ = ["Box", "draw_sheet_hole"]

NAME: Final = 1.15  # times the type: the smallest that a hole's name is written beside net par
GREEN: Final = 0.74  # height of the green's drawing as a share of its width


@dataclass(frozen=True, slots=True)
class Box:
    """Where a hole goes on its page: points from the upper left corner; ``size`` of the type, ``map`` width."""

    left: float
    top: float
    wide: float
    tall: float
    size: float
    map: float
    green: float


def _title(figure: Figure, box: Box, hole: SheetHole) -> float:
    """Write the hole's number, name, facts and net par across the top; return how tall that is."""
    ax = panel_at(figure, box.left, box.top, box.wide, 4.0 * box.size)
    number, name, net = f"{hole.number or ''}", hole.hole.name, f"net par {hole.net_par}"
    big = 1.75 * box.size
    ax.text(0.0, -big, number, fontsize=1.25 * big, fontweight="bold", va="baseline")
    x = width_of(ax, number, 1.25 * big, "bold") + 0.6 * box.size if number else 0.0
    net_wide = width_of(ax, net, 1.25 * box.size, "bold")
    whole = big / width_of(ax, name, big)
    beside = whole * (box.wide - x - net_wide - box.size) >= NAME * box.size  # else net par goes to the line below
    room = box.wide - x - (net_wide + box.size if beside else 0.0)
    ax.text(x, -big, name, fontsize=min(big, whole * room), va="baseline")
    y = -big if beside else -big - 1.6 * box.size
    ax.text(box.wide, y, net, fontsize=1.25 * box.size, fontweight="bold", va="baseline", ha="right")
    length = length_of(line_of_play(hole.hole, hole.line[0].start))
    ax.text(0.0, -big - 1.6 * box.size, facts(hole, length), fontsize=box.size, va="baseline")
    ax.plot([0.0, box.wide], [-big - 2.05 * box.size] * 2, color=INK, linewidth=0.9)
    return big + 2.5 * box.size


def _decisions(ax: Axes, hole: SheetHole, size: float) -> float:
    """Write the decisions on a panel; return where they end."""
    y = 0.0
    for each in decisions(hole):
        y = write(ax, y, f"{each.number} {each.name}", size=size)
        y = write(ax, y, each.play, size=1.2 * size, bold=True)
        for line in each.lines:
            y = write(ax, y, line, size=size)
        y -= 0.55 * size
    return y


def draw_sheet_hole(figure: Figure, box: Box, hole: SheetHole) -> list[str]:
    """Draw one hole in its box; return the labels that found no place."""
    head = _title(figure, box, hole)
    flips = flip_words(hole)
    foot = _height(figure, box.wide, flips, box.size)
    low = box.tall - foot - 4.0
    chart = figure.add_axes(box_at(figure, box.left, box.top + head, box.map, low - head - 6.0))
    dropped = draw_line_map(chart, hole, max(9.0, 0.9 * box.size))
    left, wide = box.left + box.map + box.size, box.wide - box.map - box.size
    side_by_side = wide > 2.2 * box.green
    text_wide = wide - box.green - box.size if side_by_side else wide
    _decisions(panel_at(figure, left, box.top + head, text_wide, low - head), hole, box.size)
    green_tall = GREEN * box.green
    green_left = box.left + box.wide - box.green
    green_top = box.top + (head if side_by_side else low - green_tall - 1.5 * box.size - 6.0)
    ax = figure.add_axes(box_at(figure, green_left, green_top, box.green, green_tall))
    scale = draw_green(ax, hole)
    note = panel_at(figure, green_left, green_top + green_tall, box.green, 1.5 * box.size)
    note.text(box.green, -1.1 * box.size, f"green 1:{scale}", fontsize=max(8.0, 0.8 * box.size), ha="right")
    strip = panel_at(figure, box.left, box.top + low, box.wide, foot)
    strip.plot([0.0, box.wide], [0.0, 0.0], color=INK, linewidth=0.9)
    y = -0.2 * box.size
    for words in flips:
        y = write(strip, y, words, size=box.size)
    return dropped


def _height(figure: Figure, wide: float, lines: tuple[str, ...], size: float) -> float:
    trial = panel_at(figure, 0.0, 0.0, wide, 72.0)
    y = -0.2 * size
    for words in lines:
        y = write(trial, y, words, size=size)
    trial.remove()
    return -y + 2.0
