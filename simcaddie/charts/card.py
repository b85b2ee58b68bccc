"""The pocket card: what to carry on to the course, in black on white, within 4¼ × 7 inches.

Average carries and what eight balls in ten beat, never a best ball: a card is for choosing a club by.
"""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import fill
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from simcaddie.base.cautions import ON_A_CARD
from simcaddie.base.units import YARDS_PER
from simcaddie.charts.style import new_figure, styled
from simcaddie.player.carries import SwingCarry
from simcaddie.player.estimated import estimates_told
from simcaddie.player.swing import Player

__all__ = ["CARD_CAUTION", "CARD_MARGIN", "CARD_SIZE", "card_figure", "draw_carries", "draw_part_swings", "part_swings"]

CARD_SIZE: Final = (4.25, 7.0)  # inches: what Clarification 4.3a/1 allows green-reading materials to measure
CARD_CAUTION: Final = fill(ON_A_CARD, 84)
LETTERS: Final = 15  # of a name that fits at full size
LIKELIER: Final = 1.3  # times: then one mishit is the usual one
_INK, _GREY, _BAND = "black", "#555555", "#ececec"
CARD_MARGIN: Final = 14.0  # points
_TITLE: Final = 36.0
_FOOT: Final = 7.2
_LINE: Final = 8.2
_TALLEST: Final = 23.0  # points a row
_LEAST: Final = 7.5  # points, of type
_TYPE: Final = 0.6  # type size, of a row's height


def card_figure(player: Player, carries: Sequence[SwingCarry]) -> Figure:
    """Return the card of a player; ``carries`` stand longest first."""
    full = [each for each in carries if each.swing.name == "full"]
    clubs, parts = full or list(carries), part_swings(player, carries) if full else []
    wide, tall = (72.0 * inches for inches in CARD_SIZE)
    rows = 1 + len(clubs) + (1.6 + len(parts) if parts else 0)
    foot = _foot(player)
    row = min(_TALLEST, (tall - _TITLE - _FOOT - _LINE * (1 + foot.count("\n")) - 2 * CARD_MARGIN) / rows)
    unit = YARDS_PER[player.units]
    with styled():
        figure = new_figure(*CARD_SIZE)
        ax = figure.add_axes((0.0, 0.0, 1.0, 1.0))
        ax.set_xlim(0.0, wide)
        ax.set_ylim(-tall, 0.0)
        ax.axis("off")
        ax.add_patch(Rectangle((0.0, -tall), wide, tall, facecolor="white", edgecolor="none", zorder=-5))
        _title(ax, player, wide)
        y = draw_carries(ax, clubs, unit, row, -CARD_MARGIN - _TITLE)
        if parts:
            draw_part_swings(ax, parts, unit, row, y - 0.6 * row)
        ax.text(CARD_MARGIN, -tall + CARD_MARGIN - 4.0, foot, fontsize=6.3, color=_INK, va="bottom", linespacing=1.3)
    return figure


def _foot(player: Player) -> str:
    words = "● trusted.  Carry: average of solid strikes.  8 in 10: eight balls in ten beat it."
    return "\n".join(filter(None, (words, estimates_told(player.swings), CARD_CAUTION)))


def _title(ax: Axes, player: Player, wide: float) -> None:
    name = player.name
    size = min(17.0, 1.75 * (wide - 2 * CARD_MARGIN - 62.0) / max(len(name), 1))
    ax.text(CARD_MARGIN, -CARD_MARGIN - 15.0, name, fontsize=size, va="baseline", color=_INK)
    ax.text(wide - CARD_MARGIN, -CARD_MARGIN - 15.0, player.units, fontsize=10, ha="right", va="baseline", color=_INK)
    ax.plot([CARD_MARGIN, wide - CARD_MARGIN], [-CARD_MARGIN - 24.0] * 2, color=_INK, linewidth=1.1)


def _band(ax: Axes, y: float, row: float, number: int) -> None:
    """Shade every other row, so that the eye keeps to it."""
    if number % 2:
        wide = ax.get_xlim()[1] - 2 * CARD_MARGIN
        ax.add_patch(Rectangle((CARD_MARGIN, y - row), wide, row, facecolor=_BAND, edgecolor="none", zorder=-1))


def draw_carries(ax: Axes, clubs: Sequence[SwingCarry], unit: float, row: float, top: float) -> float:
    """Write the clubs' rows; return where they end."""
    right = ax.get_xlim()[1] - CARD_MARGIN
    stops = (0.565 * right, 0.735 * right, right - 4.0)
    size = _TYPE * row
    y = top
    for x, head in zip(stops, ("carry", "8 in 10", "usual miss"), strict=True):
        ax.text(x, y - 0.5 * row, head, fontsize=max(_LEAST, 0.62 * size), ha="right", va="center", color=_GREY)
    y -= row
    for number, each in enumerate(clubs):
        _band(ax, y, row, number)
        middle = y - 0.53 * row
        if each.swing.trust == "high":
            ax.plot(CARD_MARGIN + 5.0, middle + 0.03 * row, marker="o", markersize=0.32 * row, color=_INK)
        fitting = 0.9 * size * min(1.0, LETTERS / len(each.swing.title))
        ax.text(CARD_MARGIN + 13.0, middle, each.swing.title, fontsize=fitting, va="center", color=_INK)
        ax.text(
            stops[0], middle, each.average_shown(unit), fontsize=1.15 * size, fontweight="bold", ha="right",
            va="center", color=_INK,
        )  # fmt: skip
        ax.text(stops[1], middle, each.short_shown(unit), fontsize=size, ha="right", va="center", color=_INK)
        ax.text(stops[2], middle, _miss(each), fontsize=max(_LEAST, 0.72 * size), ha="right", va="center", color=_INK)
        y -= row
    return y


def _miss(each: SwingCarry) -> str:
    """Say which way a swing misses, and how it is mishit where one is likelier."""
    swing = each.swing
    way = each.miss.split()[0]
    if swing.fat > LIKELIER * swing.thin:
        return f"{way} · fat"
    return f"{way} · thin" if swing.thin > LIKELIER * swing.fat else way


def part_swings(player: Player, carries: Sequence[SwingCarry]) -> list[tuple[str, dict[str, SwingCarry]]]:
    """Return (club, carries by swing) of the clubs with part swings, in bag order."""
    found = {(each.swing.club, each.swing.name): each for each in carries}
    return [
        (club.name, {swing.name: found[club.name, swing.name] for swing in club.swings})
        for club in player.bag
        if any(swing.name != "full" for swing in club.swings)
    ]


def draw_part_swings(
    ax: Axes, parts: Sequence[tuple[str, dict[str, SwingCarry]]], unit: float, row: float, top: float
) -> None:
    """Write the part swings: a row a club, a column a swing, the shortest swing first."""
    right, size = ax.get_xlim()[1] - CARD_MARGIN, _TYPE * row
    shares: dict[str, list[float]] = {}
    for _, swings in parts:
        longest = max(each.average for each in swings.values())
        for name, each in swings.items():
            shares.setdefault(name, []).append(each.average / longest)
    names = sorted(shares, key=lambda name: sum(shares[name]) / len(shares[name]))
    left = 0.42 * right
    stops = [left + (right - 4.0 - left) * (number + 1) / len(names) for number in range(len(names))]
    for x, name in zip(stops, names, strict=True):
        ax.text(x, top - 0.5 * row, name, fontsize=max(_LEAST, 0.62 * size), ha="right", va="center", color=_GREY)
    told = "part swings: carry (8 in 10)"
    ax.text(CARD_MARGIN, top - 0.5 * row, told, fontsize=max(_LEAST, 0.62 * size), va="center", color=_GREY)
    y = top - row
    for number, (club, swings) in enumerate(parts):
        _band(ax, y, row, number)
        middle = y - 0.53 * row
        fitting = 0.9 * size * min(1.0, LETTERS / len(club))
        ax.text(CARD_MARGIN + 13.0, middle, club, fontsize=fitting, va="center", color=_INK)
        for x, name in zip(stops, names, strict=True):
            if name in swings:
                text = f"{swings[name].average_shown(unit)} ({swings[name].short_shown(unit)})"
                ax.text(x, middle, text, fontsize=size, ha="right", va="center", color=_INK)
        y -= row
