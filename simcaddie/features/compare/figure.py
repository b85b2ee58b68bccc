"""The best options together: their lines and patterns on the map, and one chart of how often each score comes."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.lines import Line2D

from simcaddie.base.surfaces import code
from simcaddie.charts.maps import draw_hole, draw_line, draw_pattern, view_from
from simcaddie.charts.page import draw_cautions, draw_title
from simcaddie.charts.style import (
    FAINT,
    INK,
    OPTION_COLOURS,
    OPTION_LINES,
    QUIET,
    TROUBLE,
    new_figure,
    save_figure,
    styled,
)
from simcaddie.charts.text import box_at, panel_at
from simcaddie.console.document import signed
from simcaddie.course.hole import Hole, Point
from simcaddie.decision.measure import Measure
from simcaddie.decision.phrases import aim_words, clarity, place_words
from simcaddie.decision.request import Comparison
from simcaddie.model.average import on_the_day
from simcaddie.player.pattern import Pattern, course_pattern

__all__ = ["MOST_OPTIONS", "OptionView", "compare_figure", "draw_comparison", "draw_ranking", "draw_scores"]

MOST_OPTIONS: Final = 3
RANKED: Final = 8  # clubs in a chart of their averages
ROW: Final = 40.0  # points, of an option in the list
GROUP: Final = 0.84  # of a score's room that its bars take
LEAST_SHARE: Final = 0.005
BLOW_UP: Final = "#efe4dc"
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


def draw_scores(ax: Axes, views: Sequence[OptionView], *, blow_up: int = 2) -> None:
    """Draw how often each score comes, in a hundred plays: a group of bars a score, a bar an option.

    Scores from ``blow_up`` over net par stand in a shaded band; bars that differ between options by eye do so because
    they stand beside each other.
    """
    wide = GROUP / len(views)
    shares = [_against_par(view)[1] for view in views]
    scores, top = _against_par(views[0])[0], 1.14 * max(max(each) for each in shares)
    ax.axvspan(blow_up - 0.5, _ABOVE + 0.55, facecolor=BLOW_UP, edgecolor="none", zorder=0)
    for order, each in enumerate(shares):
        for score, share in zip(scores, each, strict=True):
            at = score + (order - (len(views) - 1) / 2) * wide
            hatch = "////" if score >= blow_up else ""
            ax.bar(at, share, width=0.88 * wide, facecolor=OPTION_COLOURS[order], edgecolor=INK, linewidth=0.5,
                   hatch=hatch, zorder=2)  # fmt: skip
            if share >= LEAST_SHARE:
                ax.text(at, share + 0.012 * top, f"{100 * share:.0f}", fontsize=8.0, ha="center", va="bottom", zorder=3)
    ax.text(_ABOVE + 0.45, 0.985 * top, "blow-up", fontsize=8.5, ha="right", va="top", color=TROUBLE)
    ax.set_xlim(_BELOW - 0.55, _ABOVE + 0.55)
    ax.set_ylim(0.0, top)
    ax.set_yticks([])
    ax.set_xticks(scores, [_tick(score, views[0].net_par) for score in scores], fontsize=8.5)
    ax.tick_params(axis="x", length=0, pad=3)
    for side in ("top", "right", "left"):
        ax.spines[side].set_visible(False)


def _draw_key(ax: Axes, views: Sequence[OptionView], blow_up: int) -> None:
    """List the options on a panel (unit: a point): its line on the map, title, average and what it costs."""
    wide = ax.get_xlim()[1]
    for order, view in enumerate(views):
        y, colour = -(order + 0.5) * ROW, OPTION_COLOURS[order]
        ax.add_line(Line2D([0.0, 22.0], [y, y], color=colour, linewidth=2.4, linestyle=OPTION_LINES[order]))
        ax.text(30.0, y + 5.5, view.title, fontsize=11, fontweight="bold", va="center", color=colour)
        ax.text(30.0, y - 8.5, view.note, fontsize=8.0, va="center", color=QUIET)
        more = round(view.mean, 2) - round(views[0].mean, 2)
        costs = "" if order == 0 else f"  {signed(more)}"
        ax.text(wide, y + 5.5, f"{view.mean:.2f} strokes{costs}", fontsize=11, ha="right", va="center")
        risk = sum(share for strokes, share in view.score_law.items() if strokes - view.net_par >= blow_up)
        ax.text(wide, y - 8.5, f"blow-up {round(100 * risk)} in a hundred", fontsize=8.0, ha="right", va="center",
                color=TROUBLE)  # fmt: skip


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
        _draw_right(figure, views, blow_up)
    return figure


def _draw_right(figure: Figure, views: Sequence[OptionView], blow_up: int) -> None:
    """Draw the options' list, and one chart of how their scores fall, beside the map."""
    wide, tall = (72.0 * inches for inches in figure.get_size_inches())
    left, across = 0.50 * wide, 0.464 * wide
    _draw_key(panel_at(figure, left, 0.13 * tall, across, ROW * len(views)), views, blow_up)
    top = 0.13 * tall + ROW * len(views) + 28.0
    low = 0.845 * tall
    draw_scores(figure.add_axes(box_at(figure, left, top, across, low - top)), views, blow_up=blow_up)
    figure.text(
        0.50,
        0.095,
        "Of a hundred plays of the hole, how many end with each score. ◆ no other choice beats it on both score\n"
        "and blow-up. On the map: half, and nine in ten, of solid strikes land inside.",
        fontsize=7.5,
        color=QUIET,
        va="top",
    )


# ─── A comparison as a figure: its best options on the map, and how their scores fall ───────────────────────────────


def _view(answer: Comparison, measure: Measure) -> OptionView:
    position = answer.position
    swings, number = position.player.swings, measure.option.swing
    pattern = None
    if number < len(swings):
        usual = course_pattern(position.player, swings[number], position.player.lies[position.place.lie])
        start = (*position.place.at, code(position.place.lie))
        pattern = on_the_day(position.solutions[0].problem, usual, number, start, measure.bearing)
    return OptionView(
        title=measure.title,
        place=position.place.at,
        bearing=measure.bearing,
        pattern=pattern,
        score_law=measure.score_law,
        net_par=answer.net_par,
        mean=measure.mean,
        note=f"{aim_words(position, measure)}, {clarity(answer, measure)}{' ◆' if answer.on_frontier(measure) else ''}",
    )


def _shown(answer: Comparison) -> list[Measure]:
    """Return the best options of different clubs, and the longest club's, which is what the pupil would have hit."""
    swings = answer.position.player.swings
    full = [m for m in answer.options if m.option.swing < len(swings)]
    longest = max(full, key=lambda m: swings[m.option.swing].total, default=answer.best)
    chosen = {m.title: m for m in reversed(answer.options)}  # the best aim of each club stays
    order = [m for m in answer.options if chosen[m.title] is m and m.title != longest.title]
    best = [*order[: MOST_OPTIONS - 1], chosen[longest.title]]
    return sorted(best, key=answer.options.index)


def draw_ranking(ax: Axes, answer: Comparison) -> None:
    """Draw what each club costs against the best on ``ax``: a bar a club, the best on top, with two standard errors."""
    best = {m.title: m for m in reversed(answer.options)}
    rows = [m for m in answer.options if best[m.title] is m][:RANKED]
    for place, m in enumerate(rows):
        colour = OPTION_COLOURS[0] if answer.is_level(m) else FAINT
        costs = m.mean - answer.best.mean
        ax.barh(place, costs, height=0.62, color=colour)
        ax.errorbar(costs, place, xerr=2.0 * m.diff_se, color=INK, linewidth=0.8, capsize=2.0)
        ax.annotate(f"{m.mean:.2f}", (costs, place), xytext=(6.0, 0.0), textcoords="offset points", va="center")
    ax.set_yticks(range(len(rows)), [m.title for m in rows])
    ax.invert_yaxis()
    ax.margins(x=0.12)
    ax.set_xlabel("strokes more than the best line, on average; beside the bars the average score")
    ax.set_title(f"{answer.position.hole.name}, {answer.position.player.name}", loc="left")
    for side in ("top", "right", "left"):
        ax.spines[side].set_visible(False)


def draw_comparison(answer: Comparison, path: Path) -> None:
    """Draw the two best clubs and the longest one to ``path`` (.png, .svg or .pdf).

    Raises
    ------
    BadRequest
        Where the file can't be written or its kind is not known.
    """
    views = [_view(answer, measure) for measure in _shown(answer)]
    note = f"{answer.position.player.name}, from the {place_words(answer)}"
    save_figure(compare_figure(answer.position.hole, views, note=note), path)
