"""What pays as bars: strokes a round saved, ranked, with two single changes beside."""

from __future__ import annotations

from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Patch

from simcaddie.charts.style import FAINT, INK, OPTION_COLOURS, QUIET, new_figure, styled
from simcaddie.decision.practice import Practice, PracticeRow, that_pay

__all__ = ["practice_figure"]

_WIDE: Final = 8.27  # inches
_ROW: Final = 0.42
_HEAD: Final = 0.95
_FOOT: Final = 1.0
_LETTER: Final = 0.065
_BARS: Final = (  # change, place in the row, height, colour, what the key says
    ("gap", -0.2, 0.34, OPTION_COLOURS[0], "gap to five strokes better closed (± 1 SE)"),
    ("tighter", 0.09, 0.18, OPTION_COLOURS[1], "a tenth less spread"),
    ("mishits", 0.29, 0.18, "#c9d3dd", "half the mishits"),
)


def _row(ax: Axes, place: int, row: PracticeRow) -> None:
    for change, off, tall, colour, _ in _BARS:
        gain = row.gains.get(change)
        if gain is not None:
            ax.barh(place + off, gain.saved, height=tall, color=colour, edgecolor=INK, linewidth=0.5, zorder=2)
            if change == "gap":
                ends = [gain.saved - gain.se, gain.saved + gain.se]
                ax.plot(ends, [place + off] * 2, color=FAINT, linewidth=2.2, zorder=3)


def _axes(ax: Axes, rows: list[PracticeRow], last: int) -> None:
    gains = [gain.saved for row in rows for gain in row.gains.values()]
    ax.set_xlim(min(0.0, *gains) - 0.02, max(gains) * 1.06 + 0.02)
    ax.set_ylim(len(rows) - 0.3, -0.7)
    ax.set_yticks(range(len(rows)), [row.thing.title for row in rows], fontsize=8)
    ax.tick_params(axis="y", length=0)
    ax.tick_params(axis="x", labelsize=7.5, top=True, labeltop=True)
    ax.set_xlabel("strokes a round saved", fontsize=8)
    ax.grid(axis="x", color=FAINT, linewidth=0.35, dashes=(1, 2))
    ax.axvline(0.0, color=INK, linewidth=0.7, zorder=1)
    ax.axhline(last - 0.5, color=FAINT, linewidth=0.6)
    for side in ("left", "right"):
        ax.spines[side].set_visible(False)


def practice_figure(practice: Practice) -> Figure:
    """Return what pays as a figure: the swings that pay most, below them what is practised about the green."""
    swings, green = that_pay(practice)
    rows = [*swings, *green]
    tall = _HEAD + _ROW * len(rows) + _FOOT
    with styled():
        figure = new_figure(_WIDE, tall)
        figure.text(0.036, 1.0 - 0.42 / tall, practice.player.name, fontsize=17, va="baseline")
        note = f"what practice pays, {practice.course.name}"
        figure.text(0.964, 1.0 - 0.42 / tall, note, fontsize=9, ha="right", va="baseline")
        side = max(0.175, (0.42 + _LETTER * max(len(row.thing.title) for row in rows)) / _WIDE)
        ax = figure.add_axes((side, _FOOT / tall, 0.965 - side, 1.0 - (_FOOT + _HEAD) / tall))
        ax.set_facecolor("none")
        for place, row in enumerate(rows):
            _row(ax, place, row)
        _axes(ax, rows, len(swings))
        key = [Patch(facecolor=colour, edgecolor=INK, linewidth=0.5, label=words) for *_, colour, words in _BARS]
        figure.legend(
            handles=key, loc="lower center", bbox_to_anchor=(0.5, 0.27 / tall), ncols=3, fontsize=7.5,
            frameon=False, handletextpad=0.6, columnspacing=1.8,
        )  # fmt: skip
        words = "Clubs and lines as today, so on the low side. ± is the simulation's error alone."
        figure.text(0.036, 0.12 / tall, words, fontsize=6.5, color=QUIET, va="baseline")
    return figure
