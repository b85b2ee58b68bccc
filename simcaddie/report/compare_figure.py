"""The best options side by side: their lines and patterns on the map, and how the scores fall.

Each option has one row of bars, the chance of each score told against net par; scores from net double
bogey up (or from where ``blow_up`` says) stand in a shaded band. The rows share one scale, so that bars
compare by eye.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D
from matplotlib.patheffects import withStroke

from simcaddie.golfer.pattern import Pattern
from simcaddie.ground.hole import Hole, Point
from simcaddie.report.maps import draw_hole, view_from
from simcaddie.report.page import draw_cautions, draw_title
from simcaddie.report.patterns import draw_line, draw_pattern
from simcaddie.report.style import (
    INK,
    OPTION_COLOURS,
    OPTION_LINES,
    PAPER,
    QUIET,
    TROUBLE,
    new_figure,
    styled,
)

__all__ = ["MOST_OPTIONS", "OptionView", "compare_figure", "draw_scores"]

MOST_OPTIONS: Final = 3
_BELOW, _ABOVE = -2, 5  # scores against net par that are told apart; the ends gather what lies beyond


@dataclass(frozen=True, slots=True)
class OptionView:
    """One option as the figure shows it.

    ``place`` in yards, ``bearing`` in radians, ``score_law`` the chance of each number of strokes,
    ``net_par`` the number of strokes that is net par, ``mean`` in strokes, ``note`` a short line such as
    how clear the choice is. A touch shot has no pattern (None): its line alone is drawn.
    """

    title: str
    place: Point
    bearing: float
    pattern: Pattern | None
    score_law: Mapping[int, float]
    net_par: int
    mean: float
    note: str = ""


def _against_par(view: OptionView) -> tuple[list[int], list[float]]:
    """Return scores against net par, the ends gathered, and the chance of each."""
    scores = list(range(_BELOW, _ABOVE + 1))
    shares = dict.fromkeys(scores, 0.0)
    for strokes, share in view.score_law.items():
        shares[min(max(strokes - view.net_par, _BELOW), _ABOVE)] += share
    return scores, [shares[score] for score in scores]


def _tick(score: int, net_par: int) -> str:
    told = {0: "net par"}.get(score, f"{score:+d}".replace("-", "−"))
    more = {_BELOW: " or\nbetter", _ABOVE: " or\nworse"}.get(score, "")
    strokes = "" if more else f"\n{net_par + score}"
    return f"{told}{more}{strokes}"


def draw_scores(ax: Axes, view: OptionView, *, order: int, top: float, blow_up: int = 2, ticks: bool = True) -> None:
    """Draw the chance of each score as bars against net par.

    Parameters
    ----------
    ax : Axes
    view : the option
    order : 0, 1, 2 picks the colour of the map
    top : upper end of the scale, 0 … 1
    blow_up : strokes over net par from which a score counts as a blow-up
    ticks : write the scores under the bars
    """
    scores, shares = _against_par(view)
    ax.axvspan(blow_up - 0.5, _ABOVE + 0.55, facecolor="#efe4dc", edgecolor="none", zorder=0)
    colour = OPTION_COLOURS[order % len(OPTION_COLOURS)]
    for score, share in zip(scores, shares, strict=True):
        bad = score >= blow_up
        ax.bar(
            score,
            share,
            width=0.66,
            facecolor=TROUBLE if bad else colour,
            edgecolor=INK,
            linewidth=0.5,
            hatch="////" if bad else "",
            zorder=2,
        )
        if share >= 0.005:
            told = ax.text(
                score,
                share + 0.025 * top,
                f"{100 * share:.0f} %",
                fontsize=6.5,
                ha="center",
                va="bottom",
                zorder=3,
            )
            if not bad:
                told.set_path_effects([withStroke(linewidth=2.5, foreground=PAPER)])
    risk = sum(share for score, share in zip(scores, shares, strict=True) if score >= blow_up)
    ax.text(
        _ABOVE + 0.45,
        0.94 * top,
        f"blow-up {10 * risk:.1f} in ten",
        fontsize=7,
        ha="right",
        va="top",
        color=TROUBLE,
    )
    ax.plot(
        view.mean - view.net_par,
        0.0,
        marker=(3, 0, 0),
        markersize=7,
        color=PAPER,
        markeredgecolor=INK,
        markeredgewidth=0.8,
        clip_on=False,
        zorder=4,
    )
    ax.set_xlim(_BELOW - 0.55, _ABOVE + 0.55)
    ax.set_ylim(0.0, top)
    ax.set_yticks([])
    ax.set_xticks(
        scores,
        [_tick(score, view.net_par) for score in scores] if ticks else [""] * len(scores),
        fontsize=6.8,
    )
    ax.tick_params(axis="x", length=0, pad=3)
    for side in ("top", "right", "left"):
        ax.spines[side].set_visible(False)


def _row_title(ax: Axes, view: OptionView, order: int) -> None:
    """Write an option's number, title, average and note over its bars, with the line it has on the map."""
    colour, dashes = OPTION_COLOURS[order], OPTION_LINES[order]
    line = Line2D(
        [0.0, 0.045],
        [1.19, 1.19],
        transform=ax.transAxes,
        color=colour,
        linewidth=2.0,
        linestyle=dashes,
        clip_on=False,
    )
    ax.add_line(line)
    ax.text(
        0.06,
        1.19,
        view.title,
        transform=ax.transAxes,
        fontsize=10,
        fontweight="bold",
        va="center",
        color=colour,
    )
    ax.text(1.0, 1.19, f"average {view.mean:.2f}", transform=ax.transAxes, fontsize=10, ha="right", va="center")
    if view.note:
        ax.text(0.06, 1.07, view.note, transform=ax.transAxes, fontsize=7, va="center", color=QUIET)


def compare_figure(hole: Hole, views: Sequence[OptionView], *, note: str = "", blow_up: int = 2) -> Figure:
    """Return a broad A4 sheet with up to three options, best first.

    Parameters
    ----------
    hole : the hole
    views : the options
    note : a line at the top, such as the player's name
    blow_up : strokes over net par from which a score counts as a blow-up
    """
    views = list(views)[:MOST_OPTIONS]
    with styled():
        figure = new_figure(11.69, 8.27)
        draw_title(figure, hole, note)
        draw_cautions(figure)
        chart = figure.add_axes((0.036, 0.068, 0.42, 0.842))
        labels = draw_hole(chart, hole, place=views[0].place, bounds=view_from(hole, views[0].place), detail=False)
        for order, view in enumerate(views):
            short = view.title.split(",")[0]
            if view.pattern is None:
                away = math.dist(view.place, hole.pin())
                draw_line(chart, view.place, view.bearing, away, title=short, labels=labels, order=order)
            else:
                draw_pattern(chart, view.place, view.bearing, view.pattern, title=short, labels=labels, order=order)
        labels.place()
        _draw_rows(figure, views, blow_up)
    return figure


def _draw_rows(figure: Figure, views: Sequence[OptionView], blow_up: int) -> None:
    top = 1.18 * max(max(_against_par(view)[1]) for view in views)
    low, high, gap = 0.155, 0.865, 0.095
    tall = (high - low - gap * (MOST_OPTIONS - 1)) / MOST_OPTIONS
    for order, view in enumerate(views):
        bottom = high - tall - order * (tall + gap)
        ax = figure.add_axes((0.50, bottom - 0.02, 0.464, tall))
        draw_scores(ax, view, order=order, top=top, blow_up=blow_up, ticks=order == len(views) - 1)
        _row_title(ax, view, order)
    foot = high - tall - (len(views) - 1) * (tall + gap) - 0.02
    figure.text(
        0.50,
        foot - 0.052,
        "Score on the hole against net par; the small triangle marks the average. ◆ no other choice beats it on\n"
        "both score and blow-up. On the map: half, and nine in ten, of solid strikes land inside.",
        fontsize=6.0,
        color=QUIET,
        va="top",
    )
