"""Strokes that were played, on the map of their hole, and what they cost as a waterfall that adds up."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill
from typing import Final

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.figure import Figure

from simcaddie.charts.labels import Label
from simcaddie.charts.maps import draw_hole
from simcaddie.charts.marks import mark
from simcaddie.charts.page import draw_cautions, draw_title
from simcaddie.charts.style import FAINT, INK, OPTION_COLOURS, PAPER, QUIET, new_figure, styled
from simcaddie.charts.text import head, panel, width_of, wrapped, write
from simcaddie.course.played import HolePlayed, Step

__all__ = ["hole_page", "round_page", "waterfall"]

GAIN: Final = OPTION_COLOURS[3]
LOSS: Final = OPTION_COLOURS[1]
_ROW: Final = 17.0  # points a row of a waterfall
_BAR: Final = 9.0
_NAME: Final = 0.36  # of a waterfall's width: its names
_BOLD: Final = (("weight", "bold"),)


def _figure(step: Step) -> str:
    if step.shown:
        return step.shown
    if step.whole or abs(step.strokes) < 0.005:
        return f"{abs(step.strokes):.2f}"
    return f"{step.strokes:+.2f}"


def waterfall(ax: Axes, top: float, steps: Sequence[Step], size: float = 7.0) -> float:
    """Draw a waterfall on a ``panel`` from ``top`` (points) downward; return where it ends.

    Each row begins where the one above it ended: what adds strokes goes to the right. The scale leaves out what no
    total falls below.
    """
    wide = ax.get_xlim()[1]
    left, right = _NAME * wide, wide - width_of(ax, "+00.00", size) - 6.0
    totals, spans = [0.0], []
    for step in steps:
        start = step.strokes if step.whole else totals[-1]
        end = step.strokes if step.whole else start + step.strokes
        spans.append((start, end))
        totals.append(end)
    low, high = min(totals[1:]), max(totals[1:])
    room = max(high - low, 0.2)
    low, high = low - 0.25 * room, high + 0.06 * room

    def at(value: float) -> float:
        return float(left + (value - low) / (high - low) * (right - left))

    y = top
    for number, (step, (start, end)) in enumerate(zip(steps, spans, strict=True)):
        middle = y - 0.5 * _ROW
        weight = "bold" if step.whole else "normal"
        lines = wrapped(ax, step.name, size, weight, left - 4.0)
        ax.text(
            0.0, middle, lines[0] if len(lines) == 1 else f"{lines[0]} …", fontsize=size, fontweight=weight, va="center"
        )
        ends = (left, at(end)) if step.whole else (at(start), at(end))
        colour = INK if step.whole else LOSS if step.strokes > 0.0 else GAIN
        hatch = "" if step.whole or step.strokes > 0.0 else "////"
        ax.barh(
            middle, ends[1] - ends[0], left=ends[0], height=_BAR, color=PAPER if hatch else colour, edgecolor=colour,
            linewidth=0.8, hatch=hatch,
        )  # fmt: skip
        if number + 1 < len(steps):
            ax.plot([at(end)] * 2, [middle - 0.5 * _BAR, middle - _ROW + 0.5 * _BAR], color=FAINT, linewidth=0.7)
        ax.text(wide, middle, _figure(step), fontsize=size, fontweight=weight, ha="right", va="center")
        y -= _ROW
    return y


def _draw_strokes(ax: Axes, played: HolePlayed) -> None:
    """Draw the strokes of a hole on its map, numbered, with what each cost."""
    labels = draw_hole(ax, played.hole, detail=False)
    for stroke in played.marks:
        ends = np.array([stroke.start, stroke.end])
        ax.plot(ends[:, 0], ends[:, 1], color=INK, linewidth=1.1, zorder=6.0)
        mark(ax, stroke.end, "o", 4.2, open_=True, zorder=6.6)
        labels.block(shapely.Point(stroke.end), 3.0)
        labels.keep_off_line(shapely.LineString(ends), 20.0)
        if stroke.relief is not None:
            back = np.array([stroke.end, stroke.relief])
            ax.plot(back[:, 0], back[:, 1], color=INK, linewidth=0.8, linestyle=(0, (1.4, 1.6)), zorder=6.0)
            mark(ax, stroke.relief, "o", 3.0, zorder=6.6)
        middle = shapely.LineString(ends).interpolate(0.55, normalized=True)
        text = f"{stroke.number}  {stroke.title}  {stroke.cost:+.2f}"
        colour = LOSS if stroke.cost > 0.0 else GAIN
        labels.add(Label(text, middle, priority=0, reach=68.0, size=7.0, colour=colour, style=_BOLD))
    labels.place()


def hole_page(played: HolePlayed, cautions: str) -> Figure:
    """Return an upright A4 page of a hole: the map with the strokes, the waterfall, the strokes in words."""
    with styled():
        figure = new_figure(8.27, 11.69)
        draw_title(figure, played.hole, played.note)
        draw_cautions(figure, fill(cautions, 110))
        _draw_strokes(figure.add_axes((0.036, 0.048, 0.572, 0.888)), played)
        side = panel(figure, (0.634, 0.048, 0.330, 0.888))
        y = waterfall(side, head(side, 0.0, "What it cost"), played.steps)
        y = write(side, y - 4.0, "Striped bars are strokes gained; black ones are cut short.", size=5.8, colour=QUIET)
        y = head(side, y - 12.0, "Stroke by stroke")
        for title, costs in played.rows:
            y = write(side, y, title, size=7.0, bold=True)
            y = write(side, y, costs, size=6.6, x=8.0) - 3.0
        for text in played.said:
            y = write(side, y - 6.0, text, size=7.0)
    return figure


def round_page(
    title: str, note: str, parts: Sequence[Step], holes: Sequence[Step], said: Sequence[str], cautions: str
) -> Figure:
    """Return an upright A4 page of a round: by part and hole by hole, from expected to score; ``said``: decisions."""
    with styled():
        figure = new_figure(8.27, 11.69)
        inch = 1.0 / 11.69
        figure.text(0.036, 1.0 - 0.58 * inch, title, fontsize=19, va="baseline")
        figure.text(0.964, 1.0 - 0.36 * inch, note, fontsize=7.5, ha="right", va="baseline", color=QUIET)
        draw_cautions(figure, fill(cautions, 110))
        page = panel(figure, (0.036, 0.048, 0.928, 0.884))
        y = waterfall(page, head(page, 0.0, "From expected to score"), parts, size=8.5)
        y = write(page, y - 4.0, "Striped bars are strokes gained; black ones are cut short.", size=6.5, colour=QUIET)
        y = waterfall(page, head(page, y - 14.0, "By hole"), holes, size=8.0)
        y = head(page, y - 14.0, "The decisions that cost most") if said else y
        for text in said:
            y = write(page, y - 2.0, text, size=8.5)
    return figure
