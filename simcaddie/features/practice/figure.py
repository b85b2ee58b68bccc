"""What pays as bars: strokes a round saved, ranked, and three single changes as marks."""

from __future__ import annotations

from typing import Any, Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patches import Patch

from simcaddie.charts.style import FAINT, INK, OPTION_COLOURS, PAPER, QUIET, new_figure, styled
from simcaddie.features.practice.analysis import Practice, PracticeRow

__all__ = ["practice_figure"]

_WIDE: Final = 8.27  # inches
_ROW: Final = 0.3
_HEAD: Final = 0.95
_FOOT: Final = 1.0
_LETTER: Final = 0.065
_LEAST: Final = 0.02  # strokes a round: what saves less in every way has no bar
_MARK: Final[dict[str, Any]] = {"markersize": 4.6, "markeredgecolor": INK, "markeredgewidth": 0.9, "linestyle": "none"}
_MARKS: Final = (  # change, marker, colour, what the key says
    ("tighter", "D", OPTION_COLOURS[1], "a tenth less spread"),
    ("mishits", "o", PAPER, "half the mishits"),
    ("bias", "x", OPTION_COLOURS[2], "no side bias"),
)


def _row(ax: Axes, place: int, row: PracticeRow, hatch: str) -> None:
    gap = row.gap
    ax.barh(
        place, gap.saved, height=0.56, color=OPTION_COLOURS[0] if not hatch else "#c9d3dd", edgecolor=INK,
        linewidth=0.6, hatch=hatch, zorder=2,
    )  # fmt: skip
    ax.plot([gap.saved - gap.se, gap.saved + gap.se], [place, place], color=FAINT, linewidth=2.2, zorder=3)
    for change, marker, colour, _ in _MARKS:
        if change in row.gains:
            ax.plot(row.gains[change].saved, place, marker=marker, color=colour, zorder=4, **_MARK)


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


def _key() -> list[Line2D | Patch]:
    words = "gap to five strokes better closed (± 1 SE)"
    bar = Patch(facecolor=OPTION_COLOURS[0], edgecolor=INK, linewidth=0.6, label=words)
    return [
        bar,
        *(Line2D([], [], marker=marker, color=colour, label=words, **_MARK) for _, marker, colour, words in _MARKS),
    ]


def practice_figure(practice: Practice) -> Figure:
    """Return what pays as a figure: single things ranked, all swings at once below."""
    told = [row for row in practice.rows if max(gain.saved for gain in row.gains.values()) >= _LEAST]
    rows = [*told, practice.swings]
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
            _row(ax, place, row, "////" if row is practice.swings else "")
        _axes(ax, rows, len(rows) - 1)
        figure.legend(
            handles=_key(), loc="lower center", bbox_to_anchor=(0.5, 0.27 / tall), ncols=4, fontsize=7.5,
            frameon=False, handletextpad=0.6, columnspacing=1.8,
        )  # fmt: skip
        words = "Clubs and lines as today, so on the low side. ± is the simulation's error alone."
        figure.text(0.036, 0.12 / tall, words, fontsize=6.5, color=QUIET, va="baseline")
    return figure
