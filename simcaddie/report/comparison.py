"""A comparison as a figure: its best options on the map, and how their scores fall."""

from __future__ import annotations

from pathlib import Path

from simcaddie.golfer.pattern import course_pattern
from simcaddie.play.aloft import on_the_day
from simcaddie.report.compare_figure import MOST_OPTIONS, OptionView, compare_figure
from simcaddie.report.style import save_figure
from simcaddie.strategy import Comparison, Measure
from simcaddie.strategy.words import aim_words, clarity, place_words
from simcaddie.surfaces import code

__all__ = ["draw_comparison"]


def _view(answer: Comparison, measure: Measure) -> OptionView:
    scene = answer.scene
    swings, number = scene.player.swings, measure.option.swing
    pattern = None
    if number < len(swings):
        usual = course_pattern(scene.player, swings[number], scene.player.lies[scene.place.lie])
        start = (*scene.place.at, code(scene.place.lie))
        pattern = on_the_day(scene.solutions[0].table, usual, number, start, measure.bearing)
    return OptionView(
        title=measure.title,
        place=scene.place.at,
        bearing=measure.bearing,
        pattern=pattern,
        score_law=measure.score_law,
        net_par=answer.net_par,
        mean=measure.mean,
        note=f"{aim_words(scene, measure)}, {clarity(answer, measure)}{' ◆' if answer.on_frontier(measure) else ''}",
    )


def _shown(answer: Comparison) -> list[Measure]:
    """Return the best options of different clubs, and the longest club's, which is what the pupil would have hit."""
    swings = answer.scene.player.swings
    full = [m for m in answer.options if m.option.swing < len(swings)]
    longest = max(full, key=lambda m: swings[m.option.swing].total, default=answer.best)
    chosen = {m.title: m for m in reversed(answer.options)}  # the best aim of each club stays
    order = [m for m in answer.options if chosen[m.title] is m and m.title != longest.title]
    best = [*order[: MOST_OPTIONS - 1], chosen[longest.title]]
    return sorted(best, key=answer.options.index)


def draw_comparison(answer: Comparison, path: Path) -> None:
    """Draw the two best clubs and the longest one to ``path`` (.png, .svg or .pdf).

    Raises
    ------
    BadRequest
        Where the file can't be written or its kind is not known.
    """
    views = [_view(answer, measure) for measure in _shown(answer)]
    note = f"{answer.scene.player.name}, from the {place_words(answer)}"
    save_figure(compare_figure(answer.scene.hole, views, note=note), path)
