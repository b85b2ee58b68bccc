"""Carries as bands: where the middle half of every swing's balls lands, and what lies between neighbours."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from simcaddie.base.units import SHORT, YARDS_PER
from simcaddie.charts.style import FAINT, INK, OPTION_COLOURS, PAPER, QUIET, TROUBLE, new_figure, styled
from simcaddie.features.bag.analysis import gap_words, holes
from simcaddie.player.carries import SwingCarry
from simcaddie.player.estimated import estimates_told
from simcaddie.player.swing import Player

__all__ = ["gaps_figure"]

_WIDE: Final = 8.27  # inches
_ROW: Final = 0.27
_HEAD: Final = 0.95
_FOOT: Final = 0.75
_LINE: Final = 0.17
_LETTER: Final = 0.062  # of the swings' names
_FULL, _PART = OPTION_COLOURS[0], "#c9d3dd"


def _rows(ax: Axes, carries: Sequence[SwingCarry], unit: float) -> None:
    for row, each in enumerate(carries):
        full = each.swing.name == "full"
        low, high, short = each.low / unit, each.high / unit, each.short / unit
        ax.barh(
            row, high - low, left=low, height=0.52, color=_FULL if full else _PART, edgecolor=INK, linewidth=0.6,
            hatch="" if full else "////", zorder=3,
        )  # fmt: skip
        ax.plot([short, low], [row, row], color=INK, linewidth=0.8, zorder=2.9)
        ax.plot([short, short], [row - 0.16, row + 0.16], color=INK, linewidth=0.8, zorder=2.9)
        ax.plot(
            each.average / unit, row, marker="o", markersize=4.6, color=PAPER, markeredgecolor=INK, markeredgewidth=0.8,
            zorder=4,
        )  # fmt: skip
        ax.text(high + 2.0, row, each.average_shown(unit), fontsize=7.5, va="center", fontweight="bold", zorder=4)


def _axes(ax: Axes, carries: Sequence[SwingCarry], unit: float, units: str) -> None:
    ax.set_ylim(len(carries) - 0.4, -0.6)
    low = min(each.short for each in carries) / unit
    ax.set_xlim(max(0.0, 10.0 * (low // 10.0) - 10.0), max(each.high for each in carries) / unit + 14.0)
    ax.set_yticks(range(len(carries)), [each.swing.title for each in carries], fontsize=8)
    ax.tick_params(axis="y", length=0)
    ax.tick_params(axis="x", labelsize=7.5, top=True, labeltop=True)
    ax.set_xlabel(f"carry, {units}", fontsize=8)
    ax.grid(axis="x", color=FAINT, linewidth=0.35, dashes=(1, 2))
    for side in ("left", "right"):
        ax.spines[side].set_visible(False)


def gaps_figure(player: Player, carries: Sequence[SwingCarry]) -> Figure:
    """Return a player's carries (longest first) as a figure, as tall as the bag is full."""
    unit, sign = YARDS_PER[player.units], SHORT[player.units]
    words = [*gap_words(carries, unit, sign), *filter(None, [estimates_told(player.swings)])]
    tall = _HEAD + _ROW * len(carries) + _FOOT + _LINE * len(words)
    with styled():
        figure = new_figure(_WIDE, tall)
        figure.text(0.036, 1.0 - 0.42 / tall, player.name, fontsize=17, va="baseline")
        note = "carry on the course, from a good lie"
        figure.text(0.964, 1.0 - 0.42 / tall, note, fontsize=9, ha="right", va="baseline")
        foot = (_FOOT + _LINE * len(words)) / tall
        side = max(0.175, (0.42 + _LETTER * max(len(each.swing.title) for each in carries)) / _WIDE)
        ax = figure.add_axes((side, foot, 0.965 - side, 1.0 - foot - _HEAD / tall))
        ax.set_facecolor("none")
        _axes(ax, carries, unit, player.units)
        _rows(ax, carries, unit)
        for gap in holes(carries):
            left, right = gap.shorter.average / unit, gap.longer.average / unit
            ax.axvspan(left, right, color=TROUBLE, alpha=0.13, linewidth=0, zorder=0)
            middle = (left + right) / 2
            empty = f"{right - left:.0f} {sign}"
            ax.text(middle, -0.4, empty, fontsize=6.5, ha="center", va="center", color=TROUBLE)
        for number, line in enumerate(words):
            figure.text(0.036, (0.3 + _LINE * (len(words) - 1 - number)) / tall, line, fontsize=7.5, va="baseline")
        key = (
            "Dot: average of solid strikes. Bar: the middle half of all balls, mishits too; hatched: part swings. "
            "Whisker: 8 balls in 10 carry further."
            + (" Shaded red: no club's carry lies there." if holes(carries) else "")
        )
        figure.text(0.036, 0.12 / tall, key, fontsize=6.2, color=QUIET, va="baseline")
    return figure
