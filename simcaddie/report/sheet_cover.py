"""The cover of a sheet: card of carries, the player's routine, cautions; on the desk all holes in a table too."""

from __future__ import annotations

from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from simcaddie.report.card import CARD_MARGIN, draw_carries, draw_part_swings, part_swings
from simcaddie.report.style import INK
from simcaddie.report.writing import head, panel_at, width_of, write
from simcaddie.strategy.day_words import day_words
from simcaddie.strategy.sheet import Sheet
from simcaddie.units import YARDS_PER

__all__ = ["SHEET_CAUTION", "draw_caution", "draw_cover"]

SHEET_CAUTION: Final = (
    "Made before the round: Rule 4.3 forbids using the program from the ball's position during one. Play only when "
    "nobody is within reach of your longest likely shot; shout if a ball may hit someone; stop for lightning. The "
    "Committee, its Local Rules and qualified coaches decide."
)
NOTE: Final = "Carry: average of solid strikes. 8 in 10: eight balls in ten beat it. Averages over the pins."
SMALL: Final = 8.0  # points, of the caution
POCKET: Final = 320.0  # points: a page no wider than that is a pocket's
TALLEST: Final = 21.0  # points, of a row
HEADING: Final = 19.0  # points, of the course's name


def draw_caution(figure: Figure, left: float, top: float, wide: float) -> None:
    """Write the cautions, small."""
    write(panel_at(figure, left, top, wide, 60.0), 0.0, SHEET_CAUTION, size=SMALL)


def _title(ax: Axes, answer: Sheet) -> float:
    wide = ax.get_xlim()[1]
    size = min(HEADING, HEADING * wide / width_of(ax, answer.title, HEADING))
    ax.text(0.0, -size, answer.title, fontsize=size, va="baseline")
    who = [answer.player.name]
    who += [f"{answer.tee} tees"] if answer.tee else []
    who += [f"{answer.handicap} strokes"] if answer.handicap is not None else []
    y = write(ax, -size - 6.5, " · ".join(who), size=10.0)
    ax.plot([0.0, wide], [y - 3.0] * 2, color=INK, linewidth=1.1)
    return y - 7.0


def _carries(ax: Axes, answer: Sheet, top: float, low: float) -> None:
    """Write the card of carries from ``top`` down to ``low``."""
    full = [each for each in answer.carries if each.swing.name == "full"]
    clubs, parts = full or list(answer.carries), part_swings(answer.player, answer.carries) if full else []
    rows = 1 + len(clubs) + (1.6 + len(parts) if parts else 0.0)
    row, unit = min(TALLEST, (top - low) / rows), YARDS_PER[answer.player.units]
    y = draw_carries(ax, clubs, unit, row, top)
    if parts:
        draw_part_swings(ax, parts, unit, row, y - 0.6 * row)


def _foot(ax: Axes, answer: Sheet, y: float) -> float:
    """Write the player's routine, what the card's words mean, and the cautions; return where they end."""
    if answer.player.routine:
        y = write(ax, y, f"Routine: {answer.player.routine}", size=10.0, bold=True)
    return write(ax, y - 3.0, f"{NOTE} Planned for: {day_words(answer.day)}. {SHEET_CAUTION}", size=SMALL)


def _holes(ax: Axes, answer: Sheet) -> None:
    """Write every hole in a row: number, name, net par, the tee shot."""
    wide, y = ax.get_xlim()[1], head(ax, 0.0, "The holes", 13.0)
    row = min(32.0, (y - ax.get_ylim()[0]) / max(len(answer.holes), 1))
    size = min(10.0, 0.42 * row)
    for hole in answer.holes:
        y -= row
        ax.text(
            14.0, y + 0.35 * row, f"{hole.number}", fontsize=1.2 * size, ha="right", fontweight="bold"
        )
        ax.text(20.0, y + 0.55 * row, hole.hole.name, fontsize=size, va="baseline")
        told = f"par {hole.hole.par}, net par {hole.net_par}: {hole.line[0].title}"
        ax.text(20.0, y + 0.12 * row, told, fontsize=size, va="baseline", fontweight="bold")
        ax.plot([0.0, wide], [y, y], color=INK, linewidth=0.3)


def draw_cover(figure: Figure, answer: Sheet, margin: float) -> None:
    """Draw the cover on an empty page."""
    wide, tall = (72.0 * inches for inches in figure.get_size_inches())
    pocket = wide < POCKET
    across = wide - 2 * margin if pocket else 0.54 * (wide - 2 * margin)
    foot_tall = _foot_height(figure, answer, across)
    ax = panel_at(figure, margin, margin, across, tall - 2 * margin)
    y = _title(ax, answer)
    low = -(tall - 2 * margin) + foot_tall
    card = panel_at(figure, margin - CARD_MARGIN, margin, across + 2 * CARD_MARGIN, tall - 2 * margin)
    _carries(card, answer, y, low + 6.0)
    _foot(ax, answer, low)
    if not pocket:
        left = margin + across + 24.0
        _holes(panel_at(figure, left, margin, wide - margin - left, tall - 2 * margin), answer)


def _foot_height(figure: Figure, answer: Sheet, wide: float) -> float:
    trial = panel_at(figure, 0.0, 0.0, wide, 72.0)
    end = _foot(trial, answer, 0.0)
    trial.remove()
    return 2.0 - end
