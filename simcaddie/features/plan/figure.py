"""A plan on one sheet: the best club by place, contours of the strokes to go, the line of play, what to avoid.

The club is shown for the lie that a ball has at each place, the contours on open ground. The solver's cells are a few
yards wide and neighbouring ones often choose between clubs that are level; the map shows the club that most cells
around a place choose from that lie, and contours of values averaged around each place.

Clubs stand in at most eight groups by length, told apart by colours on a straight line in CIELAB (CIE 15), from pale
straw for the longest clubs to blue for the shortest strokes: equal steps look equally far apart. The line runs along
the yellow–blue axis, which colour-blind readers see, and lightness falls evenly along it, so that grey print keeps the
order.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache, partial
from itertools import pairwise
from pathlib import Path
from typing import Any, Final

import numpy as np
import shapely
from matplotlib.axes import Axes
from matplotlib.colors import to_hex, to_rgb
from matplotlib.figure import Figure
from matplotlib.patches import PathPatch, Rectangle
from matplotlib.patheffects import Normal, withStroke
from numpy.typing import NDArray
from scipy.ndimage import distance_transform_edt, gaussian_filter, label
from shapely.ops import substring

from simcaddie.base.surfaces import BY_NAME, GREEN, SURFACES, Surface
from simcaddie.base.units import YARDS_PER, told
from simcaddie.charts.ground_fill import paint_kind, view_box, yards_per_point
from simcaddie.charts.labels import Label, LabelPlacer
from simcaddie.charts.maps import draw_hole, view_from
from simcaddie.charts.page import draw_cautions, draw_title, kinds_on
from simcaddie.charts.style import FAINT, INK, PAPER, QUIET, TROUBLE, new_figure, save_figure, styled
from simcaddie.charts.text import panel, wrapped, write
from simcaddie.decision.line_of_play import Leg, Plan
from simcaddie.features.plan.analysis import fairway_clubs, prevailing
from simcaddie.features.plan.present import danger_place, leg_aim, times
from simcaddie.player.swing import Player

__all__ = [
    "MOST_CLASSES",
    "ClubClass",
    "ClubMap",
    "club_classes",
    "club_map",
    "draw_map",
    "draw_plan",
    "lab_to_srgb",
    "plan_figure",
    "ramp",
]

MOST_CLASSES: Final = 8
NAMED: Final = 0.08  # a club with less of its group's ground than this isn't named in the group's title
_PALE: Final = (95.0, -3.0, 32.0)  # CIELAB L*, a*, b*
_DARK: Final = (50.0, -3.0, -32.0)
_WHITE: Final = (0.95047, 1.0, 1.08883)  # D65, 2° observer
_TO_LINEAR: Final = np.array(  # IEC 61966-2-1
    [[3.2406, -1.5372, -0.4986], [-0.9689, 1.8758, 0.0415], [0.0557, -0.2040, 1.0570]]
)


@dataclass(frozen=True, slots=True)
class ClubClass:
    """A group of clubs: swing numbers, a title ("6, 7 iron"), a short name for the map ("6i–7i"), a colour."""

    swings: frozenset[int]
    title: str
    short: str
    colour: str


def lab_to_srgb(lab: NDArray[np.float64]) -> NDArray[np.float64]:
    """Return sRGB, 0 … 1, of CIELAB colours, float64[..., 3]; D65."""
    fy = (lab[..., 0] + 16.0) / 116.0
    f = np.stack([fy + lab[..., 1] / 500.0, fy, fy - lab[..., 2] / 200.0], axis=-1)
    xyz = np.where(f > 6 / 29, f**3, 3 * (6 / 29) ** 2 * (f - 4 / 29)) * _WHITE
    linear = np.clip(xyz @ _TO_LINEAR.T, 0.0, 1.0)
    return np.asarray(np.where(linear <= 0.0031308, 12.92 * linear, 1.055 * linear ** (1 / 2.4) - 0.055))


def ramp(count: int) -> list[str]:
    """Return ``count`` colours in equal steps, pale first, as "#rrggbb"."""
    share = np.linspace(0.0, 1.0, count)[:, None] if count > 1 else np.zeros((1, 1))
    colours = lab_to_srgb(np.array(_PALE) + share * (np.array(_DARK) - np.array(_PALE)))
    return ["#" + "".join(f"{round(255 * channel):02x}" for channel in colour) for colour in colours]


def short_name(title: str) -> str:
    """Return a club's title as it stands on a map.

    >>> [short_name(title) for title in ("5 wood", "half gap wedge", "driver", "touch shot", "9 iron")]
    ['5w', '½ GW', 'driver', 'touch', '9i']
    """
    part, rest = ("½ ", title.removeprefix("half ")) if title.startswith("half ") else ("", title)
    if numbered := re.fullmatch(r"(\d+) (\w).*", rest):
        return part + numbered[1] + numbered[2]
    if rest.endswith(" wedge"):
        return part + "".join(word[0].upper() for word in rest.split())
    return part + rest.removesuffix(" shot")


def _joined(titles: Sequence[str]) -> str:
    """Join titles, a common last word told once."""
    last = {title.split()[-1] for title in titles}
    if len(titles) > 1 and len(last) == 1 and all(" " in title for title in titles):
        (word,) = last
        return ", ".join(title.removesuffix(f" {word}") for title in titles) + f" {word}"
    return ", ".join(titles)


def _cuts(weights: tuple[float, ...], most: int) -> tuple[int, ...]:
    """Return where to cut a row of weights into at most ``most`` runs, as equal in weight as can be."""

    @cache
    def best(start: int, left: int) -> tuple[float, tuple[int, ...]]:
        if left == 1 or start == len(weights) - 1:
            return sum(weights[start:]) ** 2, ()
        options: list[tuple[float, tuple[int, ...]]] = [(sum(weights[start:]) ** 2, ())]
        for cut in range(start + 1, len(weights)):
            rest, cuts = best(cut, left - 1)
            options.append((sum(weights[start:cut]) ** 2 + rest, (cut, *cuts)))
        return min(options)

    return best(0, most)[1]


def club_classes(player: Player, counts: NDArray[np.int64]) -> list[ClubClass]:
    """Return the groups of clubs that a map tells apart, longest first, touch shots last.

    ``counts`` int64[actions] says on how much ground each swing is best; touch actions follow the swings.
    """
    swings = player.swings
    used = sorted((i for i in range(len(swings)) if counts[i] > 0), key=lambda i: -swings[i].carry)
    touch = [i for i in range(len(swings), counts.size) if counts[i] > 0]
    groups: list[list[int]] = []
    if used:
        edges = [0, *_cuts(tuple(float(counts[i]) for i in used), MOST_CLASSES - bool(touch)), len(used)]
        groups = [used[a:b] for a, b in pairwise(edges)]
    groups += [touch] if touch else []
    classes = []
    for group, colour in zip(groups, ramp(len(groups)), strict=True):
        total = sum(int(counts[i]) for i in group)
        named = (i for i in group if counts[i] >= NAMED * total)
        titles = ["touch shot"] if group is touch else [swings[i].title for i in named]
        ends = dict.fromkeys((short_name(titles[0]), short_name(titles[-1])))
        classes.append(ClubClass(frozenset(group), _joined(titles), "–".join(ends), colour))
    return classes


# ─── The map ────────────────────────────────────────────────────────────────────────────────────────────────────────

SMOOTH: Final = 1.6  # cells: how far around a place the cells are asked
ROUND: Final = 2.5  # cells: how far values are averaged for the contours
LEAST_REGION: Final = 250.0  # yd²: a smaller patch is not named
MOST_NAMES: Final = 3  # of one group on one map
FAIRWAY_EDGE: Final = (0, (5.0, 1.6))
_FAIRWAYS: Final = {kind.name: kind.drawing.edge for kind in SURFACES if kind.fairway}
NAME: Final = 6.4  # points
SHORT: Final = 40.0  # yd: a shorter contour has no number
STEP: Final = 0.25  # strokes between contours
BOLD: Final = (("weight", "bold"),)

_OPEN: Final = np.array([not (kind.trouble or kind.putting) for kind in SURFACES])
_LETTER: Final = 0.68  # width of a bold letter against the size of the type, about

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ClubMap:
    """``which`` int8[rows, columns] numbers ``classes`` (−1: water, green, out) on cells of ``cell`` yards.

    ``to_go`` float64[rows', columns'] holds the mean strokes to go on the solver's cells, of ``coarse`` yards; nan in
    hazards and trees. ``x0``, ``y0``: the lower left corner of both.
    """

    classes: tuple[ClubClass, ...]
    which: NDArray[np.int8]
    to_go: Floats
    x0: float
    y0: float
    cell: float
    coarse: float


def _shares(numbers: NDArray[np.int64], count: int) -> Floats:
    """Return float64[count, rows, columns]: how much of the neighbourhood of each cell has each number; −1 has none."""
    return np.array([gaussian_filter((numbers == i).astype(float), SMOOTH, mode="constant") for i in range(count)])


def _finer(values: Floats, block: int, axis: int) -> Floats:
    """Return values of cells ``block`` times as fine along an axis, linear between the middles of the coarse ones."""
    cells = values.shape[axis]
    at = np.clip((np.arange(cells * block) + 0.5) / block - 0.5, 0.0, cells - 1.0)
    low = at.astype(np.int64)
    part = (at - low).reshape([-1 if each == axis else 1 for each in range(values.ndim)])
    before, after = (np.take(values, np.minimum(low + i, cells - 1), axis) for i in (0, 1))
    return np.asarray(before + part * (after - before))


def club_map(plan: Plan, view: Any) -> ClubMap:
    """Return the best club by place, for the lie that occurs there; groups by what is in ``view`` (a polygon, yd)."""
    solution, surface = plan.solution, plan.grid.surface
    states = solution.problem.states
    lies, there = prevailing(plan)
    actions = len(plan.player.swings) + solution.problem.touch.reach.size
    seen = there[there >= 0]
    seen = seen[shapely.contains_xy(view, states.xy[seen])]
    counts = np.bincount(solution.policy.swing[seen], minlength=actions)
    classes = club_classes(plan.player, counts)
    class_of = np.zeros(actions, np.int64)
    for number, each in enumerate(classes):
        class_of[list(each.swings)] = number
    block = round(states.cell / plan.grid.cell)
    which = np.full(surface.shape, -1, np.int8)
    for lie in np.unique(states.lie):
        of_cell = states.of_cell[lie]
        numbers = np.where(of_cell >= 0, class_of[solution.policy.swing[of_cell]], -1)
        shares = _finer(_finer(_shares(numbers, len(classes)), block, 1), block, 2)
        shares = shares[:, : surface.shape[0], : surface.shape[1]]
        here = (surface == lie) & (shares.sum(axis=0) > 0.0)
        which[here] = np.argmax(shares, axis=0)[here]
    to_go = np.where((there >= 0) & _OPEN[lies], solution.to_go[there], np.nan)
    return ClubMap(tuple(classes), which, to_go, states.x0, states.y0, plan.grid.cell, states.cell)


def _strip_fills(ax: Axes) -> None:
    """Take the fill off ground that a ball is played from, so that only its edge and texture stay over the clubs.

    The fairway's edge is drawn stronger, since no colour tells it any more.
    """
    playable = {kind.drawing.fill for kind in SURFACES if kind.swung}
    for patch in ax.patches:
        if not isinstance(patch, PathPatch) or patch.get_zorder() >= 3.0:
            continue
        if to_hex(patch.get_facecolor()) in playable:
            patch.set_facecolor("none")
        if to_hex(patch.get_edgecolor()) in _FAIRWAYS.values():
            patch.set_edgecolor(BY_NAME[GREEN].drawing.edge)
            patch.set_linewidth(0.9)
            patch.set_linestyle(FAIRWAY_EDGE)


def _draw_clubs(ax: Axes, clubs: ClubMap, labels: LabelPlacer) -> None:
    """Colour the ground by the best club, and name the larger patches."""
    colours = np.array([to_rgb(each.colour) for each in clubs.classes])
    rows, columns = clubs.which.shape
    near = distance_transform_edt(clubs.which < 0, return_distances=False, return_indices=True)
    which = clubs.which[tuple(near)]  # water, green and out of bounds lie over it
    extent = (clubs.x0, clubs.x0 + columns * clubs.cell, clubs.y0, clubs.y0 + rows * clubs.cell)
    limits = ax.axis()
    ax.imshow(colours[which], extent=extent, origin="lower", interpolation="nearest", aspect="auto", zorder=0.5)
    ax.axis(limits)
    for name in _names(ax, clubs):
        labels.add(name)


def _names(ax: Axes, clubs: ClubMap) -> list[Label]:
    """Return a label for the largest patches of each group, to stand inside them."""
    view, names = view_box(ax).buffer(-8.0 * yards_per_point(ax)), []
    step = 4  # cells; patches are measured on every fourth
    for number, each in enumerate(clubs.classes):
        pieces, count = label(clubs.which[::step, ::step] == number)
        sizes = np.bincount(pieces.ravel(), minlength=count + 1)[1:] * (step * clubs.cell) ** 2
        for piece in np.argsort(-sizes, kind="stable")[:MOST_NAMES]:
            if sizes[piece] < LEAST_REGION:
                break
            depth = distance_transform_edt(np.pad(pieces == piece + 1, 1))[1:-1, 1:-1]
            iy, ix = np.unravel_index(int(np.argmax(depth)), depth.shape)
            x, y = (clubs.x0 + ix * step * clubs.cell, clubs.y0 + iy * step * clubs.cell)
            reach = float(depth[iy, ix]) * step * clubs.cell
            room = shapely.Point(x, y).buffer(reach).intersection(view)
            if not room.is_empty and 2.0 * reach > len(each.short) * _LETTER * NAME * yards_per_point(ax):
                names.append(Label(each.short, room, priority=5, inside=True, reach=0.0, size=NAME, style=BOLD))
    return names


def _smooth(field: Floats) -> Floats:
    """Return a field averaged around each cell, over the cells that have a value."""
    there = np.isfinite(field)
    weight = gaussian_filter(there.astype(float), ROUND)
    total = gaussian_filter(np.where(there, field, 0.0), ROUND)
    return np.where(weight > 0.4, total / np.maximum(weight, 1e-9), np.nan)


def _draw_contours(ax: Axes, clubs: ClubMap, labels: LabelPlacer) -> None:
    """Draw lines of equal strokes to go, every quarter of a stroke, the halves stronger and labelled."""
    field = _smooth(clubs.to_go)
    rows, columns = field.shape
    x = clubs.x0 + (np.arange(columns) + 0.5) * clubs.coarse
    y = clubs.y0 + (np.arange(rows) + 0.5) * clubs.coarse
    low, high = np.floor(np.nanmin(field) / STEP), np.ceil(np.nanmax(field) / STEP)
    levels = np.arange(low, high + 1) * STEP
    halves = np.isclose(levels % 0.5, 0.0)
    lines = ax.contour(x, y, field, levels, colors=INK, linewidths=np.where(halves, 0.75, 0.35), alpha=0.8, zorder=2.6)
    for level, path in zip(lines.levels, lines.get_paths(), strict=True):
        if np.isclose(level % 0.5, 0.0):
            for piece in _long_pieces(path, view_box(ax)):
                labels.add(Label(f"{level:.1f}", piece, priority=6, reach=3.0, size=5.6, style=(("style", "italic"),)))


def _long_pieces(path: Any, view: Any) -> list[Any]:
    """Return the two longest pieces of a contour in view, as lines."""
    lines = [shapely.LineString(line) for line in path.to_polygons(closed_only=False) if len(line) > 1]
    seen = [part for line in lines for part in shapely.get_parts(line.intersection(view))]
    return sorted((part for part in seen if part.length > SHORT), key=lambda part: -part.length)[:2]


# ─── The sheet ──────────────────────────────────────────────────────────────────────────────────────────────────────

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
    beginning = substring(path, 0.08, 0.4, normalized=True)  # its name stands nearer its start than its finish
    labels.add(Label(text, beginning, priority=0, reach=60.0, size=7.6, style=BOLD))


def draw_map(ax: Axes, plan: Plan) -> ClubMap:
    """Draw the hole with the best club by place and the line of play; return the clubs on it."""
    hole = replace(plan.hole, pins={plan.pin_name: plan.pin})
    labels = draw_hole(ax, hole, place=plan.place.at, bounds=view_from(hole, plan.place.at), detail=False, arcs=False)
    _strip_fills(ax)
    for number, leg in enumerate(plan.legs):
        _draw_leg(ax, number, leg, labels)
    ax.plot(*plan.legs[-1].finish, marker="o", markersize=4.4, color=INK, zorder=7.2)
    clubs = club_map(plan, view_box(ax))
    _draw_clubs(ax, clubs, labels)
    _draw_contours(ax, clubs, labels)
    labels.place()
    return clubs


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
    if _FAIRWAYS.keys() & kinds_on(plan.hole):
        y = _entry(ax, y, "edge of the fairway", partial(line, 0.9, FAIRWAY_EDGE, BY_NAME[GREEN].drawing.edge))
    for surface in _textures(plan, view):
        y = _entry(ax, y, surface.title, partial(ground, surface))
    return y


def _textures(plan: Plan, view: Any) -> list[Surface]:
    """Return the kinds in view that are told by texture, as the map draws them."""
    inside = tuple(area for area in plan.hole.areas if area.outline.intersects(view))
    beyond = None if plan.hole.boundary is None or plan.hole.boundary.contains(view) else plan.hole.boundary
    kinds = [BY_NAME[kind] for kind in kinds_on(replace(plan.hole, areas=inside, boundary=beyond))]
    return [
        replace(kind, drawing=replace(kind.drawing, fill="none")) if kind.swung else kind
        for kind in kinds
        if kind.drawing.hatch or kind.putting
    ]


def _fairway(ax: Axes, plan: Plan, top: float) -> float:
    """List the best club from the fairway by what is left, in two columns; return where that ends."""
    clubs = fairway_clubs(plan)
    rows = math.ceil(len(clubs) / 2)
    if len(clubs) < 2 or top - _ROOM - _SMALL * rows < ax.get_ylim()[0]:
        return top
    y = _heading(ax, top, f"From the fairway, by {plan.hole.units} left")
    unit = YARDS_PER[plan.hole.units]
    for number, club in enumerate(clubs):
        x, row = ax.get_xlim()[1] / 2 * (number // rows), number % rows
        reach = f"{club.far / unit:.0f}–{club.near / unit:.0f}"
        ax.text(x, y - _SMALL * (row + 0.75), reach, fontsize=6.4, va="baseline")
        ax.text(x + 34.0, y - _SMALL * (row + 0.75), short_name(club.title), fontsize=6.4, va="baseline", weight="bold")
    return y - _SMALL * rows


def _side(ax: Axes, plan: Plan, clubs: ClubMap, view: Any) -> None:
    y = _heading(ax, 0.0, "The line of play")
    for number, leg in enumerate(plan.legs):
        start = plan.asked_from if number == 0 else BY_NAME[leg.lie].title
        y = write(ax, y, f"{number + 1} · {leg.title}, {leg_aim(plan, leg)}", size=7.2, bold=True)
        words = f"From the {start}, {told(leg.left, plan.hole.units)} from the pin; {leg.to_go:.2f} strokes to go. "
        if BY_NAME[leg.finish_lie].putting:
            words += f"Finds the green {times(leg.green)}."
        else:
            words += f"Leaves about {told(leg.leaves, plan.hole.units)}."
        if leg.level:
            words += f" As good: {', '.join(leg.level[:2])}."
        y = write(ax, y, words) - 5.0
    if plan.avoid:
        y = _heading(ax, y - 7.0, "What to avoid")
        for danger in plan.avoid:
            place = danger_place(danger, plan.hole.units)
            y = write(ax, y, f"{danger.title} {place}".strip(), size=7.2, bold=True, colour=TROUBLE)
            words = f"{danger.cost:.1f} strokes dearer than the {BY_NAME[danger.beside].title} {danger.where}; "
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
        clubs = draw_map(chart, plan)
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
