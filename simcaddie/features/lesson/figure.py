"""A lesson on one page: the same twenty balls on two maps, reasons, scores, what would change the answer, homework.

The maps have one scale and show where the balls finish, not the whole way there; for a short stroke the place and the
green as well. Balls are marked by where they finish, by shape, so that print needs no colour.

Reasons are bars that follow each other, each from where the last one ended, so that the eye adds them up: what costs
the other club runs to the right, what it saves to the left, and the whole stands below.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from itertools import accumulate
from pathlib import Path
from typing import Any, Final

import shapely
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.patheffects import withStroke

from simcaddie.base.cautions import ON_PAPER
from simcaddie.base.surfaces import BY_NAME
from simcaddie.base.units import told
from simcaddie.charts.ground_fill import paint_hole, view_box
from simcaddie.charts.labels import Label, LabelPlacer
from simcaddie.charts.maps import draw_line, fit_view
from simcaddie.charts.marks import draw_arcs, draw_landmarks, draw_pins
from simcaddie.charts.style import AREA_NAME, FAINT, INK, OPTION_COLOURS, PAPER, QUIET, TROUBLE, save_figure, styled
from simcaddie.charts.text import box_at, credit, head, panel_at, paper_size, sheet, width_of, wrapped, write
from simcaddie.course.hole import Hole
from simcaddie.course.route import line_of_play, nearest_landmark
from simcaddie.decision.pair import Reason
from simcaddie.decision.phrases import aim_words, landing
from simcaddie.features.lesson.analysis import Lesson, Side
from simcaddie.features.lesson.present import because, glossary, headline, homework, played_words, setting, title
from simcaddie.player.estimated import marked_title

__all__ = ["HATCHES", "LEAST", "MARKS", "draw_lesson", "lesson_figure", "mark_of", "view_of"]

SIZE: Final = 9.0  # points, of type
HATCHES: Final = ("", "////")  # of the two choices, for black and white
_NUMBER: Final = 34.0  # points for a bar's number


def _signed(hundredths: int) -> str:
    """Say hundredths of a stroke with their sign: "+0.12", "−0.07"."""
    if hundredths == 0:
        return "0.00"
    return f"{'+' if hundredths > 0 else '−'}{abs(hundredths) / 100:.2f}"


def _shown(lesson: Lesson) -> list[Reason]:
    """Return the reasons that come to a hundredth of a stroke."""
    return [reason for reason in lesson.reasons if reason.hundredths]


def _bar(ax: Axes, start: float, end: float, y: float, tall: float, *, total: bool = False) -> None:
    left, wide = min(start, end), abs(end - start)
    face, hatch = (INK, "") if total else (TROUBLE, "") if end > start else (PAPER, "////")
    box = Rectangle((left, y - tall / 2), max(wide, 0.4), tall, facecolor=face, edgecolor=INK, hatch=hatch)
    box.set(linewidth=0.7, zorder=3)
    ax.add_patch(box)


def _draw_reasons(ax: Axes, lesson: Lesson, top: float, low: float) -> None:
    """Draw the parts of the difference as bars on a panel (points), from ``top`` down to ``low``."""
    wide = ax.get_xlim()[1]
    shown = _shown(lesson)
    texts = 0.46 * wide
    ends = [0.0, *accumulate(reason.strokes for reason in shown)]
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
        _number(ax, end, y, _signed(reason.hundredths), right=end >= start)
        ax.plot([end, end], [y - tall / 2, y - row + tall / 2], color=INK, linewidth=0.5, dashes=(2, 2), zorder=2)
    y = low + 0.5 * row
    whole = zero + scale * lesson.difference
    ax.plot([0.0, wide], [low + row] * 2, color=FAINT, linewidth=0.5)
    ax.text(0.0, y, "in all, strokes", fontsize=SIZE, fontweight="bold", va="center")
    _bar(ax, zero, whole, y, tall, total=True)
    total = sum(reason.hundredths for reason in lesson.reasons)
    _number(ax, whole, y, _signed(total), right=lesson.difference >= 0.0, bold=True)
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


def _option_box(ax: Axes, order: int, at: tuple[float, float], wide: float, tall: float, zorder: float = 3.0) -> None:
    colour = OPTION_COLOURS[order]
    box = Rectangle(at, wide, tall, facecolor=PAPER if order else colour, edgecolor=colour, hatch=HATCHES[order])
    box.set(linewidth=0.8, zorder=zorder)
    ax.add_patch(box)


def _draw_scores(ax: Axes, lesson: Lesson, top: float, low: float) -> None:
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
            _option_box(ax, order, (x + 1.0, foot), bar - 2.0, scale * many)
            ax.text(x + bar / 2, foot + scale * many + 3.0, f"{many}", fontsize=SIZE, ha="center", va="bottom")
        ax.text(middle, foot - 4.0, words, fontsize=SIZE, ha="center", va="top", linespacing=1.15)
    ax.plot([0.0, wide], [foot, foot], color=INK, linewidth=0.8, zorder=4)


# ─── Maps ───────────────────────────────────────────────────────────────────────────────────────────────────────────

LEAST: Final = 9.0  # points: the smallest type of the page
MARGIN: Final = 10.0  # yd around the balls
ROOMY: Final = 1500.0  # square yards seen, from which a name may stand inside an area
NEAR: Final = 25.0  # yd: a hazard no farther from a ball is named
SHORT: Final = 120.0  # yd: from nearer than this the place and the green are shown
# what a mark means, in the order of the key: marker, size, filled, colour
MARKS: Final[dict[str, tuple[str, float, str, str]]] = {
    "fairway, green": ("o", 6.4, INK, PAPER),
    "rough": ("o", 6.4, PAPER, INK),
    "sand, heather, trees": ("X", 8.6, TROUBLE, PAPER),
    "lost, or a penalty": ("D", 7.0, TROUBLE, PAPER),
}


def mark_of(finish: str) -> str:
    """Return which of ``MARKS`` a finish has."""
    if finish in ("lost", "unplayable"):
        return "lost, or a penalty"
    kind = BY_NAME.get(finish)
    if kind is None or kind.smooth:
        return "fairway, green"
    if not kind.in_play:
        return "lost, or a penalty"
    return "sand, heather, trees" if kind.trouble else "rough"


def view_of(lesson: Lesson) -> tuple[float, float, float, float]:
    """Return (left, low, right, high) in yards that show every ball of both choices."""
    position = lesson.answer.position
    points: list[Any] = [shapely.Point(ball.x, ball.y) for side in lesson.sides for ball in side.balls]
    box = shapely.box(*shapely.total_bounds(points))
    place, green = shapely.Point(position.place.at), position.hole.green
    if place.distance(green) <= SHORT:
        points += [place, green]
    elif box.distance(green) <= SHORT / 3.0:
        points.append(green)
    left, low, right, high = shapely.total_bounds(points)
    return float(left) - MARGIN, float(low) - MARGIN, float(right) + MARGIN, float(high) + MARGIN


def _aim(ax: Axes, lesson: Lesson, side: Side, order: int) -> None:
    """Draw the aim line as far as the club carries."""
    position, number = lesson.answer.position, side.measure.option.swing
    swings = position.player.swings
    far = swings[number].carry if number < len(swings) else math.dist(position.place.at, position.hole.pin())
    draw_line(ax, position.place.at, side.measure.bearing, far, order=order)


def _plot_mark(ax: Axes, x: float, y: float, mark: str) -> None:
    """Plot one ball."""
    marker, size, fill, edge = MARKS[mark]
    (ball,) = ax.plot(
        [x], [y], linestyle="none", marker=marker, markersize=size, markerfacecolor=fill, markeredgecolor=edge,
        markeredgewidth=1.0 if edge == INK else 0.7, zorder=8.0,
    )  # fmt: skip
    if edge == INK:
        ball.set_path_effects([withStroke(linewidth=2.4, foreground=PAPER)])


def _seen_hole(lesson: Lesson) -> Hole:
    """Return the hole with nothing named but what the lesson speaks of: the pins asked for, the landmarks aimed by."""
    answer = lesson.answer
    hole, place = answer.position.hole, answer.position.place.at
    aims = [(side.measure.bearing, landing(answer.position, side.measure)) for side in lesson.sides]
    near = [nearest_landmark(hole, place, bearing, far) for bearing, far in aims]
    marks = tuple(dict.fromkeys(found[0] for found in near if found is not None))
    pins = {name: at for name, at in hole.pins.items() if at in answer.position.pins}
    return replace(hole, landmarks=marks, pins=pins)


def _name_hazards(ax: Axes, lesson: Lesson, labels: LabelPlacer) -> None:
    """Name the hazards and woods that balls of either choice finish in or near."""
    balls = shapely.MultiPoint([(ball.x, ball.y) for side in lesson.sides for ball in side.balls])
    for area in lesson.answer.position.hole.areas:
        seen = area.outline.intersection(view_box(ax))
        if area.surface.trouble and not seen.is_empty and seen.distance(balls) <= NEAR:
            roomy = area.surface.drawing.roomy or seen.area > ROOMY
            labels.add(Label(area.title, seen, priority=2, inside=roomy, size=LEAST, style=AREA_NAME))


def _draw_balls(ax: Axes, lesson: Lesson, side: Side, order: int) -> None:
    """Draw one choice's twenty balls on its map."""
    hole, place = _seen_hole(lesson), lesson.answer.position.place.at
    fit_view(ax, view_of(lesson), margin=4.0)
    labels = LabelPlacer(ax, least=LEAST)
    for name, shape in paint_hole(ax, hole).items():
        if BY_NAME[name].drawing.clear:
            labels.keep_clear(shape, 25.0)
    for ball in side.balls:
        _plot_mark(ax, ball.x, ball.y, mark_of(ball.finish))
        labels.block(shapely.Point(ball.x, ball.y), 4.6)
    _aim(ax, lesson, side, order)
    draw_arcs(ax, hole, line_of_play(hole, place), labels, to_go=False)
    draw_landmarks(ax, hole, labels, place)
    if all(view_box(ax).contains(shapely.Point(at)) for at in hole.pins.values()):
        draw_pins(ax, hole, labels, place)
    _name_hazards(ax, lesson, labels)
    labels.place()


# ─── The page ───────────────────────────────────────────────────────────────────────────────────────────────────────

PAGE_MARGIN: Final = 34.0  # points
GAP: Final = 20.0  # between columns
TITLE: Final = 24.0  # points, of type
FOOT: Final = 37.0  # height, points
ROW, LEAST_CHARTS = 25.5, 140.0  # height of a reason's row, and of the charts


def _title(figure: Figure, lesson: Lesson, wide: float) -> float:
    """Write question, place and because-sentence; return where they end, points from the page's top."""
    page = panel_at(figure, PAGE_MARGIN, PAGE_MARGIN - 6.0, wide, 200.0)
    words, who = title(lesson), f"for {lesson.answer.position.player.name}"
    long, room = width_of(page, words, TITLE), wide - GAP - width_of(page, who, 10.0)
    beside = 0.65 * long <= room
    size = TITLE * min(1.0, (room if beside else wide) / long)
    page.text(0.0, -20.0, words, fontsize=size, va="baseline")
    if beside:
        page.text(wide, -20.0, who, fontsize=10.0, va="baseline", ha="right", color=QUIET)
    where = setting(lesson) if beside else f"{who[:1].upper()}{who[1:]}: {setting(lesson)}"
    y = write(page, -26.0, where, size=9.5, colour=QUIET)
    y = write(page, y - 5.0, because(lesson), size=12.5, bold=True)
    return PAGE_MARGIN - 6.0 - y


def _key(ax: Axes, y: float) -> None:
    """Write what the marks on the maps mean, on one line that ends at the right."""
    x = ax.get_xlim()[1]
    for mark in reversed(MARKS):
        ax.text(x, y, mark, fontsize=LEAST, va="center", ha="right")
        x -= width_of(ax, mark, LEAST) + 9.0
        _plot_mark(ax, x, y, mark)
        x -= 16.0


def _side_head(ax: Axes, lesson: Lesson, side: Side, order: int) -> None:
    """Write a choice's name, average and aim over its map."""
    _option_box(ax, order, (0.0, -14.0), 13.0, 10.0, zorder=1.0)
    title = marked_title(lesson.answer.position.player, side.measure.option.swing, side.title)
    name = f"{title}{' – play this' if side is lesson.first and not lesson.level else ''}"
    wide = ax.get_xlim()[1]
    size = max(LEAST, min(12.0, 1.5 * (wide - 19.0 - 76.0) / max(len(name), 1)))
    ax.text(19.0, -9.0, name, fontsize=size, fontweight="bold", va="center", color=OPTION_COLOURS[order])
    ax.text(wide, -9.0, f"average {side.mean:.2f}", fontsize=10.0, va="center", ha="right")
    write(ax, -18.0, f"aimed {aim_words(lesson.answer.position, side.measure)}", size=LEAST, colour=QUIET)


def _under(ax: Axes, side: Side, units: str) -> float:
    """Count the balls that are drawn; of all that were played the distance that they leave."""
    counted = Counter(ball.finish for ball in side.balls).most_common()
    balls = ", ".join(f"{many} {finish.replace('_', ' ')}" for finish, many in counted)
    return write(ax, 0.0, f"Of these {len(side.balls)}: {balls}. Average left {told(side.leave, units)}.", size=9.5)


def _maps(figure: Figure, lesson: Lesson, top: float, wide: float, tall: float) -> None:
    strip = panel_at(figure, PAGE_MARGIN, top, wide, 24.0)
    head(strip, 0.0, "The same twenty balls")
    _key(strip, -8.0)
    half, above = (wide - GAP) / 2, 34.0
    units = lesson.answer.position.hole.units
    below = max(_height(figure, half, partial(_under, side=side, units=units)) for side in lesson.sides) + 4.0
    for order, side in enumerate(lesson.sides):
        left = PAGE_MARGIN + order * (half + GAP)
        _side_head(panel_at(figure, left, top + 22.0, half, above), lesson, side, order)
        chart = figure.add_axes(box_at(figure, left, top + 22.0 + above, half, tall - 22.0 - above - below))
        _draw_balls(chart, lesson, side, order)
        _under(panel_at(figure, left, top + tall - below + 2.0, half, below), side, units)


def _charts(figure: Figure, lesson: Lesson, top: float, wide: float, tall: float) -> None:
    left_wide = 0.55 * (wide - GAP)
    left = panel_at(figure, PAGE_MARGIN, top, left_wide, tall)
    y = head(left, 0.0, f"Why: what the {lesson.other.title} costs")
    _draw_reasons(left, lesson, y - 2.0, 4.0 - tall)
    right = panel_at(figure, PAGE_MARGIN + left_wide + GAP, top, wide - GAP - left_wide, tall)
    y = head(right, 0.0, "How the hole ends, of 100 plays")
    _draw_scores(right, lesson, y - 2.0, 4.0 - tall)


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
        credit(figure, [lesson.answer.position.hole.source])
        wide, low = 72.0 * size[0] - 2 * PAGE_MARGIN, 72.0 * size[1] - PAGE_MARGIN + 14.0
        left_wide = 0.40 * (wide - GAP)
        columns = (
            (PAGE_MARGIN, left_wide, partial(_change, lesson=lesson)),
            (PAGE_MARGIN + left_wide + GAP, wide - GAP - left_wide, partial(_homework, lesson=lesson)),
        )
        tasks_tall = max(_height(figure, across, draw) for _, across, draw in columns)
        tasks = low - FOOT - 4.0 - tasks_tall
        for left, across, draw in columns:
            draw(panel_at(figure, left, tasks, across, tasks_tall))
        write(panel_at(figure, PAGE_MARGIN, low - FOOT, wide, FOOT), 0.0, ON_PAPER, size=LEAST, colour=QUIET)
        charts_tall = max(LEAST_CHARTS, 26.0 + ROW * (1 + len(_shown(lesson))))
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
