"""The two charts of a lesson: what makes the difference, as bars that add up, and how the hole ends of a hundred plays.

Bars of the first chart follow each other, each from where the last one ended, so that the eye adds them up: what costs
the other club runs to the right, what it saves to the left, and the whole stands below.
"""

from __future__ import annotations

from typing import Final

from matplotlib.axes import Axes
from matplotlib.patches import Rectangle
from matplotlib.patheffects import withStroke

from simcaddie.report.style import FAINT, INK, OPTION_COLOURS, PAPER, QUIET, TROUBLE
from simcaddie.report.writing import wrapped
from simcaddie.strategy.lesson import Lesson, Reason

__all__ = ["HATCHES", "draw_reasons", "draw_scores", "shown_reasons", "signed"]

SIZE: Final = 9.0  # points, of type
HATCHES: Final = ("", "////")  # of the two choices, for black and white
_NUMBER: Final = 34.0  # points for a bar's number


def signed(hundredths: int) -> str:
    """Say hundredths of a stroke with their sign: "+0.12", "−0.07"."""
    if hundredths == 0:
        return "0.00"
    return f"{'+' if hundredths > 0 else '−'}{abs(hundredths) / 100:.2f}"


def shown_reasons(lesson: Lesson) -> list[Reason]:
    """Return the reasons that come to a hundredth of a stroke."""
    return [reason for reason in lesson.reasons if reason.hundredths]


def _bar(ax: Axes, start: float, end: float, y: float, tall: float, *, total: bool = False) -> None:
    left, wide = min(start, end), abs(end - start)
    face, hatch = (INK, "") if total else (TROUBLE, "") if end > start else (PAPER, "////")
    box = Rectangle(
        (left, y - tall / 2), max(wide, 0.4), tall, facecolor=face, edgecolor=INK, hatch=hatch, linewidth=0.7
    )
    box.set_zorder(3)
    ax.add_patch(box)


def draw_reasons(ax: Axes, lesson: Lesson, top: float, low: float) -> None:
    """Draw the parts of the difference as bars on a panel (points), from ``top`` down to ``low``."""
    wide = ax.get_xlim()[1]
    shown = shown_reasons(lesson)
    texts = 0.46 * wide
    ends, at = [0.0], 0.0
    for reason in shown:
        at += reason.strokes
        ends.append(at)
    low_end, high_end = min(*ends, 0.0), max(*ends, lesson.difference, 0.0)
    scale = (wide - texts - 2 * _NUMBER) / max(high_end - low_end, 1e-9)
    zero = texts + _NUMBER - low_end * scale
    row = (top - low) / (len(shown) + 1)
    tall = min(13.0, 0.5 * row)
    for number, reason in enumerate(shown):
        y = top - (number + 0.5) * row
        _reason_words(ax, reason, y, texts - 6.0)
        start, end = (zero + scale * ends[number + i] for i in (0, 1))
        _bar(ax, start, end, y, tall)
        _number(ax, end, y, signed(reason.hundredths), right=end >= start)
        ax.plot([end, end], [y - tall / 2, y - row + tall / 2], color=INK, linewidth=0.5, dashes=(2, 2), zorder=2)
    y = low + 0.5 * row
    whole = zero + scale * lesson.difference
    ax.plot([0.0, wide], [low + row] * 2, color=FAINT, linewidth=0.5)
    ax.text(0.0, y, "in all, strokes", fontsize=SIZE, fontweight="bold", va="center")
    _bar(ax, zero, whole, y, tall, total=True)
    total = sum(reason.hundredths for reason in lesson.reasons)
    _number(ax, whole, y, signed(total), right=lesson.difference >= 0.0, bold=True)
    ax.plot([zero, zero], [low, top], color=INK, linewidth=0.8, zorder=4)


def _reason_words(ax: Axes, reason: Reason, y: float, room: float) -> None:
    lines = wrapped(ax, reason.detail, SIZE, "normal", room) if reason.detail else []
    pitch = 1.2 * SIZE
    at = y + pitch * len(lines) / 2
    ax.text(0.0, at, reason.title, fontsize=SIZE, fontweight="bold", va="center")
    for number, line in enumerate(lines):
        ax.text(0.0, at - pitch * (number + 1), line, fontsize=SIZE, va="center", color=QUIET)


def _number(ax: Axes, x: float, y: float, text: str, *, right: bool, bold: bool = False) -> None:
    ax.text(
        x + (4.0 if right else -4.0), y, text, fontsize=SIZE, va="center", ha="left" if right else "right",
        fontweight="bold" if bold else "normal", zorder=5, path_effects=[withStroke(linewidth=2.5, foreground="white")],
    )  # fmt: skip


def draw_scores(ax: Axes, lesson: Lesson, top: float, low: float) -> None:
    """Draw how the hole ends of a hundred plays, both choices side by side, on a panel from ``top`` to ``low``."""
    wide, par = ax.get_xlim()[1], lesson.answer.net_par
    groups = (f"{par - 1} or less", f"{par}\nnet par", f"{par + 1}", f"{par + 2} or more\nblow-up")
    foot, pitch = low + 2.6 * SIZE, wide / len(groups)
    most = max(max(side.of_hundred) for side in lesson.sides)
    scale = (top - 1.6 * SIZE - foot) / most
    bar = 0.36 * pitch
    ax.add_patch(Rectangle((3 * pitch + 2.0, foot), pitch - 2.0, top - foot, facecolor="#efeae4", edgecolor="none"))
    for group, words in enumerate(groups):
        middle = (group + 0.5) * pitch
        for order, side in enumerate(lesson.sides):
            x, many = middle + (order - 1) * bar, side.of_hundred[group]
            colour = OPTION_COLOURS[order]
            face, hatch = (PAPER if order else colour), HATCHES[order]
            box = Rectangle((x + 1.0, foot), bar - 2.0, scale * many, facecolor=face, edgecolor=colour, hatch=hatch)
            box.set(linewidth=0.8, zorder=3)
            ax.add_patch(box)
            ax.text(x + bar / 2, foot + scale * many + 3.0, f"{many}", fontsize=SIZE, ha="center", va="bottom")
        ax.text(middle, foot - 4.0, words, fontsize=SIZE, ha="center", va="top", linespacing=1.15)
    ax.plot([0.0, wide], [foot, foot], color=INK, linewidth=0.8, zorder=4)
