"""The strategy sheet: every hole of a course as at most three decisions, worked out before the round.

Nobody knows the day's pins when the sheet is printed: all figures are averages over the pins that the hole files name,
and only what a pin would change is told. The same for wind: the plan is for a calm day (or the course's own), and a
head wind is told where it changes the plan.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from simcaddie.base.errors import BadRequest
from simcaddie.base.parallel import each
from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.base.surfaces import SURFACES
from simcaddie.base.units import MPS_PER_MPH, unit_vector
from simcaddie.course.course import Course
from simcaddie.course.distances import visible
from simcaddie.course.hole import Hole, Point
from simcaddie.decision.dangers import Danger, dangers, in_trouble
from simcaddie.decision.line_of_play import Leg, SolvedHole, best_leg, line_of_legs, solved_hole
from simcaddie.decision.measure import ball_places, finish_names
from simcaddie.decision.options import swing_title
from simcaddie.decision.request import LEVEL
from simcaddie.decision.rounds import strokes_on, tee_of
from simcaddie.model import arrays as r
from simcaddie.model.states import states_at
from simcaddie.player.carries import SwingCarry, swing_carries
from simcaddie.player.swing import Player
from simcaddie.simulate import next_strokes
from simcaddie.solve.solution import QUICK
from simcaddie.weather.day import STANDARD, Day

__all__ = ["HEAD_WIND", "Flip", "Hazard", "Sheet", "SheetHole", "approaches", "sheet", "sheet_hole"]

SETS: Final = 16  # of first balls, for the figures shown
SHORTLIST: Final = 5  # swings that a pin may make the best
ON: Final = 0.15  # share of balls on the green from which a stroke is the approach
NEAR_GREEN: Final = 45.0  # yd left, likewise

Floats = NDArray[np.float64]


def approaches(leg: Leg) -> bool:
    """Tell whether a stroke is the one to the green: what it leaves is a touch shot or a putt."""
    return leg.green >= ON or leg.leaves <= NEAR_GREEN


# ─── Beside the strokes: what to carry, the way out of trouble, the side to miss on ─────────────────────────────────

BESIDE: Final = 0.7  # sd to either side of the line: a hazard within that is in the way
LEAST_BESIDE: Final = 5.0  # yd
SHORT: Final = 0.45  # of the middle carry: a hazard that ends nearer than that is of no concern
SURE: Final = 0.8  # of balls that carry a hazard, or stop short of it, for a number to hold by
ROUND: Final = 5.0  # yd beyond the longest of a hundred balls: what lies farther isn't reached
IN_PLAY: Final = 0.05  # of balls: a hazard across the line that as many find is in play
DEAR: Final = (0.3, 0.1)  # strokes, share of holes: what costs so much so often is told whatever else is
OFTEN: Final = 0.02  # of balls: trouble that comes more seldom isn't told
ALIKE: Final = 0.6  # of the balls in trouble that must call for one club to tell of a way out
RING: Final = (2.0, 14.0)  # yd off the green: where balls lie that just miss it
DEARER: Final = 0.12  # strokes: a side that costs so much more than the best one is told
SIDES: Final = ("long", "right", "short", "left")  # clockwise from straight on


@dataclass(frozen=True, slots=True)
class Hazard:
    """What a stroke has to do with a hazard: carry it, stop short of it, or know that it is in play.

    ``yards`` from the stroke's start to its far edge for "carry", to its near one for "short", None for "play";
    ``often`` the share of the stroke's balls that find it (of the holes played, for one told by its cost alone).
    """

    say: Literal["carry", "short", "play"]
    yards: float | None
    title: str
    often: float


@dataclass(frozen=True, slots=True)
class Trouble:
    """The trouble that a stroke finds most often, and how often; what to play from there and what that leaves.

    ``play`` is None where the way out differs from place to place.
    """

    title: str
    often: float
    play: str | None
    leaves: float


@dataclass(frozen=True, slots=True)
class Miss:
    """The side of the green to miss on, and the one that costs ``dearer`` strokes more; None where all are alike."""

    best: str | None
    worst: str | None
    dearer: float


def _along(ground: BaseGeometry, start: Point, bearing: float, wide: float) -> tuple[float, float] | None:
    """Return where ground within ``wide`` yards of a line begins and ends along it, yards; None where there is none."""
    dx, dy = unit_vector(bearing)
    way = LineString([start, (start[0] + 600.0 * dx, start[1] + 600.0 * dy)]).buffer(wide, cap_style="flat")
    part = ground.intersection(way)
    if part.is_empty:
        return None
    along = (shapely.get_coordinates(part) - start) @ np.array([dx, dy])
    return float(along.min()), float(along.max())


def _in_the_way(hole: Hole, start: Point, bearing: float, wide: float) -> list[tuple[float, float, str]]:
    """Return (near, far, title) in yards along a line of the hazards within ``wide`` yards of it."""
    found = []
    for number, area in enumerate(hole.areas):
        if area.surface.trouble:
            reach = _along(visible(hole, number), start, bearing, wide)
            if reach is not None:
                found.append((*reach, area.title))
    return found


def _found(hole: Hole, title: str, leg: Leg) -> NDArray[np.bool_]:
    """Return which balls of a stroke are in trouble on the areas of a title, bool[ball]."""
    x, y = ball_places(leg.rest)
    inside = [shapely.contains_xy(a.outline.buffer(1.0), x, y) for a in hole.areas if a.title == title]
    return np.asarray(in_trouble(leg.rest) & np.any(inside, axis=0))


def hazards_of(on: SolvedHole, leg: Leg, avoid: Iterable[Danger] = ()) -> tuple[Hazard, ...]:
    """Return what a stroke has to do with the hazards on its line; those of ``avoid`` are named in any case.

    To carry: the farthest that eight balls in ten carry. To stop short of: the nearest that eight in ten don't reach.
    """
    hole, pattern = on.hole, on.pattern_of(leg)
    named: dict[str, Hazard] = {}
    if pattern is not None:
        dx, dy = unit_vector(leg.bearing)
        shown, (sx, sy) = ball_places(leg.rest), leg.start
        flown = (leg.rest.landing_x - sx) * dx + (leg.rest.landing_y - sy) * dy
        along = (shown[0] - sx) * dx + (shown[1] - sy) * dy
        middle, most = float(np.median(flown)), float(np.quantile(along, 0.99)) + ROUND
        over: list[Hazard] = []
        short: list[Hazard] = []
        wide = max(LEAST_BESIDE, BESIDE * pattern.solid.side_sd)
        for near, far, title in _in_the_way(hole, leg.start, leg.bearing, wide):
            often = float(_found(hole, title, leg).mean())
            if far < SHORT * middle or near > most or near <= 0.0:
                continue
            if (flown > far).mean() >= SURE:
                over.append(Hazard("carry", far, title, often))
            elif (along < near).mean() >= SURE:
                short.append(Hazard("short", near, title, often))
            elif often >= IN_PLAY:
                named[title] = Hazard("play", None, title, often)
        chosen = [max(over, key=lambda one: one.yards or 0.0)] if over else []
        chosen += [min(short, key=lambda one: one.yards or 0.0)] if short else []
        named |= {one.title: one for one in chosen}
    for number, danger in enumerate(avoid):
        if danger.title not in named and (number == 0 or (danger.cost >= DEAR[0] and danger.often >= DEAR[1])):
            named[danger.title] = Hazard("play", None, danger.title, danger.often)
    order = ("carry", "short", "play")
    return tuple(sorted(named.values(), key=lambda one: (order.index(one.say), -one.often)))


def _where(hole: Hole, leg: Leg) -> dict[str, NDArray[np.int64]]:
    """Return the balls in trouble of a stroke by what they found: an area's title, else the finish's name."""
    names, bad = finish_names(leg.rest), in_trouble(leg.rest)
    found: dict[str, NDArray[np.int64]] = {}
    for area in hole.areas:
        if area.surface.trouble and area.title not in found:
            here = np.flatnonzero(_found(hole, area.title, leg) & (names == area.kind))
            found[area.title] = here
    taken = np.concatenate([np.zeros(0, np.int64), *found.values()])
    rest = np.setdiff1d(np.flatnonzero(bad), taken)
    for name in np.unique(names[rest]):
        found[str(name)] = rest[names[rest] == name]
    return found


def trouble_of(on: SolvedHole, leg: Leg) -> Trouble | None:
    """Return the trouble that a stroke finds most often and the way out of it; None where it hardly finds any."""
    found = _where(on.hole, leg)
    title = max(found, key=lambda name: found[name].size, default="")
    if not title or found[title].size < max(OFTEN * leg.rest.x.size, 1):
        return None
    here, often = found[title], found[title].size / leg.rest.x.size
    rest, problem, policy = r.Rest._make(column[here] for column in leg.rest), on.problem, on.solution.policy
    number = states_at(problem.states, rest.surface, rest.x, rest.y)
    swing = np.minimum(policy.swing[number[number >= 0]], len(on.player.swings))
    if not swing.size:
        return Trouble(title, often, None, math.nan)
    after = next_strokes(problem, policy, on.solution.value, rest, kernel_key(on.seed, Purpose.SHEETS), 1)
    leaves = float(np.median(np.hypot(after.x - problem.ground.pin_x, after.y - problem.ground.pin_y)))
    many = np.bincount(swing)
    alike = many.max() >= ALIKE * swing.size and leaves > NEAR_GREEN
    return Trouble(title, often, swing_title(on.player, int(np.argmax(many))) if alike else None, leaves)


def _ring(on: SolvedHole) -> tuple[Floats, NDArray[np.int8]]:
    """Return points (yd) that lie just off the green, float64[n, 2], and the kind of ground at each."""
    ring = on.hole.green.buffer(RING[1]).difference(on.hole.green.buffer(RING[0]))
    left, low, right, high = ring.bounds
    xs, ys = np.meshgrid(np.arange(left, right, 2.0), np.arange(low, high, 2.0))
    inside = shapely.contains_xy(ring, xs, ys)
    xy, grid = np.column_stack([xs[inside], ys[inside]]), on.grid
    iy = np.clip(((xy[:, 1] - grid.y0) / grid.cell).astype(int), 0, grid.surface.shape[0] - 1)
    ix = np.clip(((xy[:, 0] - grid.x0) / grid.cell).astype(int), 0, grid.surface.shape[1] - 1)
    return xy, grid.surface[iy, ix]


def _prices(on: SolvedHole, xy: Floats, kinds: NDArray[np.int8]) -> Floats:
    """Return what a ball at each place costs to the middle pin, float64[n]: relief counted, nan for unknown."""
    number = states_at(on.problem.states, kinds, xy[:, 0], xy[:, 1])
    price = np.where(number >= 0, on.solution.to_go[np.maximum(number, 0)], np.nan)
    usual = float(np.nanmean(price)) if np.isfinite(price).any() else math.nan
    penalty = np.array([1.0 if kind.penalty else 2.0 if kind.out else 0.0 for kind in SURFACES])[kinds]
    return np.where(penalty > 0.0, usual + penalty, price)


def miss_of(on: SolvedHole, stroke: Leg) -> Miss:
    """Return the side of the green to miss on, seen along the approach ``stroke``."""
    xy, kinds = _ring(on)
    price, centre = _prices(on, xy, kinds), on.hole.green.centroid
    turn = np.arctan2(xy[:, 0] - centre.x, xy[:, 1] - centre.y) - stroke.bearing
    side = np.round(turn / (math.pi / 2)).astype(int) % 4
    means = {}
    for number, name in enumerate(SIDES):
        here = price[(side == number) & np.isfinite(price)]
        if here.size:
            means[name] = float(here.mean())
    if not means:
        return Miss(None, None, 0.0)
    best, worst = min(means, key=lambda name: means[name]), max(means, key=lambda name: means[name])
    dearer = means[worst] - means[best]
    return Miss(best, worst, dearer) if dearer >= DEARER else Miss(None, None, dearer)


# ─── The holes and the sheet ────────────────────────────────────────────────────────────────────────────────────────

HEAD_WIND: Final = 12 * MPS_PER_MPH  # m/s: 12 mph into the player's face


@dataclass(frozen=True, slots=True)
class Flip:
    """What changes the plan: ``when`` ("wind" or a pin's name), and the stroke that it asks for instead of ``instead``.

    ``saves`` strokes; ``stroke`` is the number of the stroke of the line that changes.
    """

    when: str
    stroke: int
    instead: Leg
    saves: float


@dataclass(frozen=True, slots=True)
class SheetHole:
    """One hole of the sheet.

    ``number`` on the course, from 1, 0 for a hole of its own; ``strokes`` received, none where ``gross``; ``line`` the
    advised strokes, the last of them the approach; ``hazards`` what each has to do with hazards; ``flips`` what changes
    the plan.
    """

    number: int
    on: SolvedHole
    tee: str
    strokes: int
    line: tuple[Leg, ...]
    hazards: tuple[tuple[Hazard, ...], ...]
    trouble: Trouble | None
    miss: Miss
    flips: tuple[Flip, ...]
    gross: bool = False

    @property
    def hole(self) -> Hole:
        """The hole."""
        return self.on.hole

    @property
    def approach(self) -> int:
        """The number of the stroke to the green."""
        return len(self.line) - 1

    @property
    def finish(self) -> Point:
        """Where the approach usually finishes, x and y in yards."""
        return self.line[-1].finish

    @property
    def net_par(self) -> int:
        """Par and the strokes received."""
        return self.hole.par + self.strokes


@dataclass(frozen=True, slots=True)
class Sheet:
    """A sheet: ``title`` of the course (of the hole, where there is but one), and its holes in playing order.

    ``handicap`` is the playing handicap in stroke play, None where the player has no index or the course no card.
    """

    title: str
    player: Player
    holes: tuple[SheetHole, ...]
    carries: tuple[SwingCarry, ...]
    handicap: int | None
    tee: str | None
    day: Day
    single: bool = False
    by_length: bool = False  # strokes, for want of stroke indexes


def _turned(on: SolvedHole, number: int, leg: Leg, when: str, pins: tuple[str, ...] = ()) -> Flip | None:
    """Return the flip of a stroke of the line under other circumstances, None where its club stays the best.

    For a pin only the swings that were near the best are tried again.
    """
    place, swings = leg.begin, tuple(row[0] for row in leg.tried[:SHORTLIST])
    other = best_leg(on, place, number, pins=pins, swings=swings if pins else (), sets=SETS)
    if other.title == leg.title or leg.title in other.level:
        return None
    saves = float(on.look(place, leg.swing, leg.bearing, pins, SETS)[0]) - other.to_go
    return Flip(when, number, other, saves) if saves >= LEVEL else None


def _by_wind(on: SolvedHole, line: tuple[Leg, ...], day: Day) -> Flip | None:
    """Return what a head wind changes first: the tee shot, else the approach from where it is played in calm."""
    windy = on.blown(replace(day, wind=HEAD_WIND, wind_from=0.0, relative=True, gust=None))
    for number in dict.fromkeys((0, len(line) - 1)):
        flip = _turned(windy, number, line[number], "wind")
        if flip is not None:
            return flip
    return None


def _by_pin(on: SolvedHole, line: tuple[Leg, ...]) -> Flip | None:
    """Return the pin that changes the approach most, None where none does."""
    number = len(line) - 1
    flips = [_turned(on, number, line[number], name, (name,)) for name in on.pins] if len(on.pins) > 1 else []
    return max((flip for flip in flips if flip), key=lambda flip: flip.saves, default=None)


def sheet_hole(
    hole: Hole, player: Player, tee: str | None, number: int, strokes: int, *, seed: int, day: Day
) -> SheetHole:
    """Return one hole of a sheet.

    Raises
    ------
    BadRequest
        Where the hole has no such tee.
    """
    on = solved_hole(hole, player, tee=tee, pin="any", effort=QUICK, seed=seed, day=day)
    line = line_of_legs(on, approaches, sets=SETS)
    first = (line[0].swing, line[0].bearing)
    avoid = dangers(hole, on.grid, on.solution, on.place, first, kernel_key(seed, Purpose.DANGERS))
    last = len(line) - 1
    mine = [tuple(d for d in avoid if min(d.stroke - 1, last) == i) for i in range(len(line))]
    flips = (_by_wind(on, line, day), _by_pin(on, line))
    return SheetHole(
        number=number,
        on=on,
        tee=tee or next(iter(hole.tees)),
        strokes=strokes,
        line=line,
        hazards=tuple(hazards_of(on, leg, of_it) for leg, of_it in zip(line, mine, strict=True)),
        trouble=trouble_of(on, line[0]),
        miss=miss_of(on, line[last]),
        flips=tuple(flip for flip in flips if flip is not None),
    )


def sheet(
    course: Course,
    player: Player,
    *,
    tee: str | None = None,
    holes: Iterable[int] | None = None,
    seed: int = 1,
    day: Day | None = None,
    gross: bool = False,
    done: Callable[[], None] | None = None,
) -> Sheet:
    """Return the sheet of a course, or of those of its holes that ``holes`` numbers from 1; ``gross``: no strokes.

    It is planned for ``day``, else for the course's own, else for a standard one. ``done`` is called as each hole is
    finished, from any thread. Nothing depends on how many threads there are.

    Raises
    ------
    BadRequest
        Where a hole has no such tee, the course no such hole, or the card is wrong (see ``card_of``).
    """
    tee = tee_of(course, tee)
    for hole in course.holes:
        hole.place(tee)  # what can't be played is refused before the long work
    numbers = list(range(1, len(course.holes) + 1) if holes is None else holes)
    for number in numbers:
        if not 1 <= number <= len(course.holes):
            raise BadRequest(f"{course.name} has {len(course.holes)} holes, none numbered {number}")
    strokes, handicap, by_length = strokes_on(course, player, tee)
    if gross:
        strokes, handicap, by_length = [0] * len(strokes), None, False
    planned, single = day or course.day or STANDARD, len(course.holes) == 1

    def one(number: int) -> SheetHole:
        shown = 0 if single else number
        hole = sheet_hole(course.holes[number - 1], player, tee, shown, strokes[number - 1], seed=seed, day=planned)
        if gross or (handicap is None and (player.handicap_index is None or hole.hole.stroke_index is None)):
            hole = replace(hole, gross=True)
        if done is not None:
            done()
        return hole

    found, carries = tuple(each(one, numbers)), swing_carries(player)
    return Sheet(course.name, player, found, carries, handicap, tee, planned, single, by_length)
