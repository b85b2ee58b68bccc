"""The same twenty balls on two maps at one scale, marked by where they finish: by shape, so that print needs no colour.

The maps show where the balls finish, not the whole way there; for a short stroke the place and the green as well.
"""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any, Final

import shapely
from matplotlib.axes import Axes
from matplotlib.patheffects import withStroke

from simcaddie.ground.hole import Hole
from simcaddie.ground.targets import line_of_play, nearest_landmark
from simcaddie.report.furniture import draw_landmarks, draw_pins
from simcaddie.report.labels import Label, LabelPlacer
from simcaddie.report.maps import fit_view
from simcaddie.report.measures import draw_arcs
from simcaddie.report.patterns import draw_line
from simcaddie.report.style import AREA_NAME, INK, PAPER, TROUBLE
from simcaddie.report.terrain import paint_hole, view_box
from simcaddie.strategy.lesson import Lesson, Side
from simcaddie.strategy.words import landing
from simcaddie.surfaces import BY_NAME

__all__ = ["LEAST", "MARKS", "draw_balls", "mark_of", "plot_mark", "view_of"]

LEAST: Final = 9.0  # points: the smallest type of the page
MARGIN: Final = 10.0  # yd around the balls
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
    if kind is None or finish in ("fairway", "green", "tee"):
        return "fairway, green"
    if kind.penalty or kind.out:
        return "lost, or a penalty"
    return "sand, heather, trees" if kind.hazard or finish == "trees" else "rough"


def view_of(lesson: Lesson) -> tuple[float, float, float, float]:
    """Return (left, low, right, high) in yards that show every ball of both choices."""
    scene = lesson.answer.scene
    points: list[Any] = [shapely.Point(ball.x, ball.y) for side in lesson.sides for ball in side.balls]
    box = shapely.box(*shapely.total_bounds(points))
    place, green = shapely.Point(scene.place.at), scene.hole.green
    if place.distance(green) <= SHORT:
        points += [place, green]
    elif box.distance(green) <= SHORT / 3.0:
        points.append(green)
    left, low, right, high = shapely.total_bounds(points)
    return float(left) - MARGIN, float(low) - MARGIN, float(right) + MARGIN, float(high) + MARGIN


def _aim(ax: Axes, lesson: Lesson, side: Side, order: int) -> None:
    """Draw the aim line as far as the club carries."""
    scene, number = lesson.answer.scene, side.measure.option.swing
    swings = scene.player.swings
    far = swings[number].carry if number < len(swings) else math.dist(scene.place.at, scene.hole.pin())
    draw_line(ax, scene.place.at, side.measure.bearing, far, order=order)


def plot_mark(ax: Axes, x: float, y: float, mark: str, zorder: float = 8.0) -> None:
    """Plot one ball."""
    marker, size, fill, edge = MARKS[mark]
    (ball,) = ax.plot(
        [x], [y], linestyle="none", marker=marker, markersize=size, markerfacecolor=fill, markeredgecolor=edge,
        markeredgewidth=1.0 if edge == INK else 0.7, zorder=zorder,
    )  # fmt: skip
    if edge == INK:
        ball.set_path_effects([withStroke(linewidth=2.4, foreground=PAPER)])


def _seen_hole(lesson: Lesson) -> Hole:
    """Return the hole with nothing named but what the lesson speaks of: the pins asked for, the landmarks aimed by."""
    answer = lesson.answer
    hole, place = answer.scene.hole, answer.scene.place.at
    aims = [(side.measure.bearing, landing(answer.scene, side.measure)) for side in lesson.sides]
    near = [nearest_landmark(hole, place, bearing, far) for bearing, far in aims]
    marks = tuple(dict.fromkeys(found[0] for found in near if found is not None))
    pins = {name: at for name, at in hole.pins.items() if at in answer.scene.pins}
    return replace(hole, landmarks=marks, pins=pins)


def _name_hazards(ax: Axes, lesson: Lesson, labels: LabelPlacer) -> None:
    """Name the hazards and woods that balls of either choice finish in or near."""
    balls = shapely.MultiPoint([(ball.x, ball.y) for side in lesson.sides for ball in side.balls])
    for area in lesson.answer.scene.hole.areas:
        seen = area.outline.intersection(view_box(ax))
        if (BY_NAME[area.kind].hazard or area.kind == "trees") and not seen.is_empty and seen.distance(balls) <= NEAR:
            inside = area.kind in ("trees", "water", "heather", "gorse")
            labels.add(Label(area.title, seen, priority=2, inside=inside, size=LEAST, style=AREA_NAME))


def draw_balls(ax: Axes, lesson: Lesson, side: Side, order: int) -> list[str]:
    """Draw one choice's twenty balls on its map; return the labels that found no place."""
    hole, place = _seen_hole(lesson), lesson.answer.scene.place.at
    fit_view(ax, view_of(lesson), margin=4.0)
    labels = LabelPlacer(ax, least=LEAST)
    seen = paint_hole(ax, hole)
    for name in ("green", "bunker", "water", "fairway"):
        if name in seen:
            labels.keep_clear(seen[name], 25.0)
    for ball in side.balls:
        plot_mark(ax, ball.x, ball.y, mark_of(ball.finish))
        labels.block(shapely.Point(ball.x, ball.y), 4.6)
    _aim(ax, lesson, side, order)
    draw_arcs(ax, hole, line_of_play(hole, place), labels, to_go=False)
    draw_landmarks(ax, hole, labels, place)
    if all(view_box(ax).contains(shapely.Point(at)) for at in hole.pins.values()):
        draw_pins(ax, hole, labels, place)
    _name_hazards(ax, lesson, labels)
    return [label.text for label in labels.place()]
