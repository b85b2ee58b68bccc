"""A plan on one sheet: the best club by place, contours of the strokes to go, the line of play, what to avoid."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from pathlib import Path
from typing import Any

import shapely
from matplotlib.axes import Axes
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle
from matplotlib.patheffects import Normal, withStroke
from shapely.ops import substring

from simcaddie.report.club_classes import short_name
from simcaddie.report.labels import Label, LabelPlacer
from simcaddie.report.legend import kinds_on, panel
from simcaddie.report.maps import draw_hole, view_from
from simcaddie.report.page import draw_cautions, draw_title
from simcaddie.report.plan_map import FAIRWAY_EDGE, ClubMap, club_map, draw_club_map, draw_contours, strip_fills
from simcaddie.report.style import FAINT, INK, PAPER, QUIET, TROUBLE, new_figure, save_figure, styled
from simcaddie.report.terrain import paint_kind, view_box
from simcaddie.report.writing import wrapped, write
from simcaddie.strategy.places import fairway_clubs
from simcaddie.strategy.plan import Leg, Plan
from simcaddie.strategy.plan_words import danger_place, leg_aim, times
from simcaddie.surfaces import BY_NAME, Surface

__all__ = ["draw_plan", "plan_figure"]

_WIDE, _TALL, _ROW = 22.0, 9.0, 13.5  # points, of the key's swatches and rows
_SMALL, _ROOM = 10.0, 50.0  # points: rows of the fairway table; its heading and the note below


def _heading(ax: Axes, y: float, text: str) -> float:
    ax.text(0.0, y, text, fontsize=8, fontweight="bold", va="top")
    ax.plot([0.0, ax.get_xlim()[1]], [y - 12.5, y - 12.5], color=FAINT, linewidth=0.5)
    return y - 17.0


def _draw_leg(ax: Axes, number: int, leg: Leg, labels: LabelPlacer) -> None:
    """Draw one leg of the line of play, with its number, club and the yards that it leaves."""
    ends = [leg.start, leg.finish]
    (line,) = ax.plot(*zip(*ends, strict=True), color=INK, linewidth=2.0, zorder=7.0, solid_capstyle="round")
    line.set_path_effects([withStroke(linewidth=4.2, foreground=PAPER), Normal()])
    ax.plot(*leg.start, marker="o", markersize=6.4, color=PAPER, markeredgecolor=INK, markeredgewidth=1.2, zorder=7.2)
    path = shapely.LineString(ends)
    labels.block(shapely.Point(leg.start), 4.0)
    labels.block(path, 2.6)
    text = f"{number + 1} · {leg.title}\n{leg.to_go:.2f} to go"
    style = (("weight", "bold"),)
    beginning = substring(path, 0.08, 0.4, normalized=True)  # its name stands nearer its start than its finish
    labels.add(Label(text, beginning, priority=0, reach=60.0, size=7.6, style=style))


def _chart(ax: Axes, plan: Plan) -> tuple[ClubMap, list[str]]:
    """Draw the map; return the clubs on it, and the labels that found no place."""
    hole = replace(plan.hole, pins={plan.pin_name: plan.pin})
    labels = draw_hole(ax, hole, place=plan.place.at, bounds=view_from(hole, plan.place.at), detail=False, arcs=False)
    strip_fills(ax)
    for number, leg in enumerate(plan.legs):
        _draw_leg(ax, number, leg, labels)
    ax.plot(*plan.legs[-1].finish, marker="o", markersize=4.4, color=INK, zorder=7.2)
    clubs = club_map(plan, view_box(ax))
    draw_club_map(ax, clubs, labels)
    draw_contours(ax, clubs, labels)
    return clubs, [label.text for label in labels.place()]


def _entry(ax: Axes, y: float, text: str, draw: Callable[[float], object]) -> float:
    """Write one row of the key, its sign drawn by ``draw`` (middle, in points); return where the next row starts."""
    lines = wrapped(ax, text, 6.8, "normal", ax.get_xlim()[1] - _WIDE - 6.0)
    tall = max(_ROW, 9.2 * len(lines) + 2.5)
    draw(y - tall / 2)
    for number, line in enumerate(lines):
        at = y - tall / 2 + 9.2 * ((len(lines) - 1) / 2 - number)
        ax.text(_WIDE + 6.0, at, line, fontsize=6.8, va="center")
    return y - tall


def _key(ax: Axes, plan: Plan, clubs: ClubMap, view: Any, top: float) -> float:
    """Write what the map's colours, lines and textures mean; return where it ends."""

    def swatch(colour: str, y: float) -> None:
        box = Rectangle((0.5, y - _TALL / 2), _WIDE, _TALL, facecolor=colour, edgecolor=INK, linewidth=0.4)
        ax.add_patch(box)

    def line(width: float, dashes: Any, colour: str, y: float) -> None:
        ax.plot([0.5, _WIDE], [y, y], color=colour, linewidth=width, linestyle=dashes)

    def ground(surface: Surface, y: float) -> None:
        paint_kind(ax, shapely.box(0.5, y - _TALL / 2, 0.5 + _WIDE, y + _TALL / 2), surface, 1.0)

    y = _heading(ax, top, "Best club by place")
    for each in clubs.classes:
        y = _entry(ax, y, each.title, partial(swatch, each.colour))
    for text, width in (("strokes to go, by halves", 0.75), ("… by quarters", 0.35), ("line of play", 2.0)):
        y = _entry(ax, y, text, partial(line, width, "-", INK))
    if "fairway" in kinds_on(plan.hole):
        y = _entry(ax, y, "edge of the fairway", partial(line, 0.9, FAIRWAY_EDGE, BY_NAME["green"].drawing.edge))
    for surface in _textures(plan, view):
        y = _entry(ax, y, surface.title, partial(ground, surface))
    return y


def _textures(plan: Plan, view: Any) -> list[Surface]:
    """Return the kinds in view that are told by texture, as the map draws them."""
    inside = tuple(area for area in plan.hole.areas if area.outline.intersects(view))
    beyond = None if plan.hole.boundary is None or plan.hole.boundary.contains(view) else plan.hole.boundary
    kinds = [BY_NAME[kind] for kind in kinds_on(replace(plan.hole, areas=inside, boundary=beyond))]
    return [
        kind if kind.penalty or kind.out or kind.putting else replace(kind, drawing=replace(kind.drawing, fill="none"))
        for kind in kinds
        if kind.drawing.hatch or kind.putting
    ]


def _fairway(ax: Axes, plan: Plan, top: float) -> float:
    """List the best club from the fairway by what is left, in two columns; return where that ends."""
    clubs = fairway_clubs(plan)
    rows = math.ceil(len(clubs) / 2)
    if len(clubs) < 2 or top - _ROOM - _SMALL * rows < ax.get_ylim()[0]:
        return top
    y = _heading(ax, top, "From the fairway, by yards left")
    for number, club in enumerate(clubs):
        x, row = ax.get_xlim()[1] / 2 * (number // rows), number % rows
        ax.text(x, y - _SMALL * (row + 0.75), f"{club.far:.0f}–{club.near:.0f}", fontsize=6.4, va="baseline")
        ax.text(x + 34.0, y - _SMALL * (row + 0.75), short_name(club.title), fontsize=6.4, va="baseline", weight="bold")
    return y - _SMALL * rows


def _side(ax: Axes, plan: Plan, clubs: ClubMap, view: Any) -> None:
    y = _heading(ax, 0.0, "The line of play")
    for number, leg in enumerate(plan.legs):
        start = plan.asked_from if number == 0 else leg.lie.replace("_", " ")
        y = write(ax, y, f"{number + 1} · {leg.title}, {leg_aim(plan, leg)}", size=7.2, bold=True)
        words = f"From the {start}, {leg.left:.0f} yd from the pin; {leg.to_go:.2f} strokes to go. "
        if leg.finish_lie == "green":
            words += f"Finds the green {times(leg.green)}."
        else:
            words += f"Leaves about {leg.leaves:.0f} yd."
        if leg.level:
            words += f" As good: {', '.join(leg.level[:2])}."
        y = write(ax, y, words) - 5.0
    if plan.avoid:
        y = _heading(ax, y - 7.0, "What to avoid")
        for danger in plan.avoid:
            place = danger_place(danger)
            y = write(ax, y, f"{danger.title} {place}".strip(), size=7.2, bold=True, colour=TROUBLE)
            words = f"{danger.cost:.1f} strokes dearer than the {danger.beside.replace('_', ' ')} {danger.where}; "
            y = write(ax, y, words + f"a ball gets there {times(danger.often)}.") - 5.0
    y = _key(ax, plan, clubs, view, y - 7.0)
    y = _fairway(ax, plan, y - 9.0)
    note = (
        "For the lie that a ball has at each place. A patch shows the club that most of it calls for; near an edge "
        "two clubs are as good. Strokes to go: averages with best play, putts included."
    )
    write(ax, y - 4.0, note, size=5.8, colour=QUIET)


def plan_figure(plan: Plan) -> Figure:
    """Return an upright A4 sheet of a plan."""
    with styled():
        figure = new_figure(8.27, 11.69)
        draw_title(figure, plan.hole, f"{plan.player.name}, from the {plan.asked_from}, {plan.pin_name} pin")
        draw_cautions(figure)
        chart = figure.add_axes((0.036, 0.048, 0.652, 0.888))
        clubs, _ = _chart(chart, plan)
        _side(panel(figure, (0.714, 0.048, 0.250, 0.888)), plan, clubs, view_box(chart))
    return figure


def draw_plan(plan: Plan, path: Path) -> None:
    """Draw a plan to ``path`` (.png, .svg or .pdf).

    Raises
    ------
    BadRequest
        Where the file can't be written or its kind is not known.
    """
    save_figure(plan_figure(plan), path)
