"""The lesson on one page: two maps, the reasons, the scores, the number that would change the answer, homework."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from pathlib import Path
from typing import Final

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from simcaddie.report.lesson_charts import HATCHES, draw_reasons, draw_scores, shown_reasons
from simcaddie.report.lesson_maps import LEAST, MARKS, draw_balls, plot_mark
from simcaddie.report.style import OPTION_COLOURS, PAPER, QUIET, save_figure, styled
from simcaddie.report.writing import box_at, head, panel_at, paper_size, sheet, width_of, write
from simcaddie.strategy.lesson import Lesson, Side
from simcaddie.strategy.lesson_words import because, glossary, headline, homework, played_words, setting, title
from simcaddie.strategy.words import aim_words

__all__ = ["LESSON_CAUTION", "draw_lesson", "lesson_figure"]

LESSON_CAUTION: Final = (
    "Made before the round: Rule 4.3 forbids using the program from the ball's position during one. Play only when "
    "nobody is within reach of your longest likely shot; shout if a ball may hit someone; stop for lightning. The "
    "Committee, its Local Rules and qualified coaches decide."
)
MARGIN: Final = 34.0  # points
GAP: Final = 20.0  # between columns
TITLE: Final = 24.0  # points, of type
FOOT: Final = 37.0  # height, points
ROW, LEAST_CHARTS = 25.5, 140.0  # height of a reason's row, and of the charts


def _title(figure: Figure, lesson: Lesson, wide: float) -> float:
    """Write question, place and because-sentence; return where they end, points from the page's top."""
    page = panel_at(figure, MARGIN, MARGIN - 6.0, wide, 200.0)
    words, who = title(lesson), f"for {lesson.answer.scene.player.name}"
    long, room = width_of(page, words, TITLE), wide - GAP - width_of(page, who, 10.0)
    beside = 0.65 * long <= room
    size = TITLE * min(1.0, (room if beside else wide) / long)
    page.text(0.0, -20.0, words, fontsize=size, va="baseline")
    if beside:
        page.text(wide, -20.0, who, fontsize=10.0, va="baseline", ha="right", color=QUIET)
    where = setting(lesson) if beside else f"{who[:1].upper()}{who[1:]}: {setting(lesson)}"
    y = write(page, -26.0, where, size=9.5, colour=QUIET)
    y = write(page, y - 5.0, because(lesson), size=12.5, bold=True)
    return MARGIN - 6.0 - y


def _key(ax: Axes, y: float) -> None:
    """Write what the marks on the maps mean, on one line that ends at the right."""
    x = ax.get_xlim()[1]
    for mark in reversed(MARKS):
        ax.text(x, y, mark, fontsize=LEAST, va="center", ha="right")
        x -= width_of(ax, mark, LEAST) + 9.0
        plot_mark(ax, x, y, mark)
        x -= 16.0


def _swatch(ax: Axes, x: float, y: float, order: int) -> None:
    colour = OPTION_COLOURS[order]
    face = colour if order == 0 else PAPER
    ax.add_patch(
        Rectangle((x, y - 5.0), 13.0, 10.0, facecolor=face, edgecolor=colour, hatch=HATCHES[order], linewidth=0.8)
    )


def _side_head(ax: Axes, lesson: Lesson, side: Side, order: int, y: float) -> float:
    """Write a choice's name, average and aim over its map."""
    _swatch(ax, 0.0, y - 9.0, order)
    best = " – play this" if side is lesson.first and not lesson.level else ""
    name = f"{side.title}{best}"
    room = ax.get_xlim()[1] - 19.0
    size = min(12.0, 1.5 * (room - 76.0) / max(len(name), 1))
    ax.text(19.0, y - 9.0, name, fontsize=size, fontweight="bold", va="center", color=OPTION_COLOURS[order])
    ax.text(ax.get_xlim()[1], y - 9.0, f"average {side.mean:.2f}", fontsize=10.0, va="center", ha="right")
    return write(ax, y - 18.0, f"aimed {aim_words(lesson.answer.scene, side.measure)}", size=LEAST, colour=QUIET)


def _of_ten(side: Side) -> str:
    balls = ", ".join(f"{many} {finish.replace('_', ' ')}" for finish, many in side.of_ten)
    return f"Of ten balls: {balls}. They leave {side.leave:.0f} yd on average."


def _under(ax: Axes, side: Side) -> float:
    return write(ax, 0.0, _of_ten(side), size=9.5)


def _maps(figure: Figure, lesson: Lesson, top: float, wide: float, tall: float) -> None:
    strip = panel_at(figure, MARGIN, top, wide, 24.0)
    head(strip, 0.0, "The same twenty balls")
    _key(strip, -8.0)
    half, above = (wide - GAP) / 2, 34.0
    below = max(_height(figure, half, partial(_under, side=side)) for side in lesson.sides) + 4.0
    for order, side in enumerate(lesson.sides):
        left = MARGIN + order * (half + GAP)
        over = panel_at(figure, left, top + 22.0, half, above)
        _side_head(over, lesson, side, order, 0.0)
        map_tall = tall - 22.0 - above - below
        chart = figure.add_axes(box_at(figure, left, top + 22.0 + above, half, map_tall))
        draw_balls(chart, lesson, side, order)
        _under(panel_at(figure, left, top + tall - below + 2.0, half, below), side)


def _charts(figure: Figure, lesson: Lesson, top: float, wide: float, tall: float) -> None:
    left_wide = 0.55 * (wide - GAP)
    left = panel_at(figure, MARGIN, top, left_wide, tall)
    y = head(left, 0.0, f"Why: what the {lesson.other.title} costs")
    draw_reasons(left, lesson, y - 2.0, 4.0 - tall)
    right = panel_at(figure, MARGIN + left_wide + GAP, top, wide - GAP - left_wide, tall)
    y = head(right, 0.0, "How the hole ends, of 100 plays")
    draw_scores(right, lesson, y - 2.0, 4.0 - tall)


def _change(ax: Axes, lesson: Lesson) -> float:
    told = headline(lesson)
    y = head(ax, 0.0, "What would change the answer")
    if told.number:
        size = min(19.0, 1.6 * ax.get_xlim()[1] / len(told.number))
        ax.text(0.0, y - size - 2.0, told.number, fontsize=size, fontweight="bold", va="baseline")
        y -= 1.6 * size
    y = write(ax, y, told.text, size=9.5)
    return write(ax, y - 7.0, f"{played_words()} {glossary(lesson)}", size=LEAST, colour=QUIET)


def _homework(ax: Axes, lesson: Lesson) -> float:
    y = head(ax, 0.0, "Your homework")
    for number, task in enumerate(homework(lesson)):
        ax.text(0.0, y - 10.0, f"{number + 1}", fontsize=11.0, fontweight="bold", va="baseline")
        y = write(ax, y, task.title, x=15.0, size=9.5, bold=True)
        y = write(ax, y, task.text, x=15.0, size=LEAST)
        if task.count:
            ax.text(15.0, y - 11.0, f"{task.count}:  ____    ____    ____", fontsize=LEAST, va="baseline")
            y -= 14.0
        y -= 4.0
    return y


def _height(figure: Figure, wide: float, draw: Callable[[Axes], float]) -> float:
    """Return how tall a panel ``wide`` points across must be for what ``draw`` writes on it."""
    trial = panel_at(figure, 0.0, 0.0, wide, 72.0)
    end = draw(trial)
    trial.remove()
    return -end


def lesson_figure(lesson: Lesson, paper: str = "a4") -> Figure:
    """Return the page of a lesson, upright, on "a4" or "letter".

    Raises
    ------
    BadRequest
        For another paper.
    """
    size = paper_size(paper)
    with styled():
        figure = sheet(*size)
        wide, low = 72.0 * size[0] - 2 * MARGIN, 72.0 * size[1] - MARGIN + 14.0
        left_wide = 0.40 * (wide - GAP)
        columns = (
            (MARGIN, left_wide, partial(_change, lesson=lesson)),
            (MARGIN + left_wide + GAP, wide - GAP - left_wide, partial(_homework, lesson=lesson)),
        )
        tasks_tall = max(_height(figure, across, draw) for _, across, draw in columns)
        tasks = low - FOOT - 4.0 - tasks_tall
        for left, across, draw in columns:
            draw(panel_at(figure, left, tasks, across, tasks_tall))
        write(panel_at(figure, MARGIN, low - FOOT, wide, FOOT), 0.0, LESSON_CAUTION, size=LEAST, colour=QUIET)
        charts_tall = max(LEAST_CHARTS, 26.0 + ROW * (1 + len(shown_reasons(lesson))))
        charts = tasks - charts_tall - 8.0
        _charts(figure, lesson, charts, wide, charts_tall)
        top = _title(figure, lesson, wide) + 8.0
        _maps(figure, lesson, top, wide, charts - 8.0 - top)
    return figure


def draw_lesson(lesson: Lesson, path: Path, paper: str = "a4") -> None:
    """Draw the page of a lesson to ``path`` (.pdf, .png or .svg).

    Raises
    ------
    BadRequest
        For another paper or ending, or where the file can't be written.
    """
    save_figure(lesson_figure(lesson, paper), path)
