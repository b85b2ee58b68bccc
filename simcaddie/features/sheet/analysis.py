"""The strategy sheet: every hole of a course as at most three decisions, worked out before the round.

Nobody knows the day's pins when the sheet is printed: all figures are averages over the pins that the hole files name,
and only what a pin would change is told. The same for wind: the plan is for a calm day (or the course's own), and a
head wind is told where it changes the plan.

A hole is solved once, to its middle pin; the best stroke from a place is found by looking one stroke ahead. Bearings of
a policy are offsets from the line to the pin, so it plays to the other pins as well; a ball on the green counts the
putts to each of them, a ball off it what it is worth to the middle one. Every look uses the same balls, so that
differences between swings are paired.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
import shapely
from numpy.typing import ArrayLike, NDArray
from shapely import LineString
from shapely.geometry.base import BaseGeometry

from simcaddie.base.errors import BadRequest
from simcaddie.base.parallel import each
from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.base.surfaces import NAMES, SURFACES, code
from simcaddie.base.units import MPS_PER_MPH, angle_between, unit_vector
from simcaddie.course.course import Course
from simcaddie.course.distances import visible
from simcaddie.course.grid import AreaGrid, area_grid
from simcaddie.course.hole import Hole, Point, Spot
from simcaddie.decision.best_aims import best_lines
from simcaddie.decision.dangers import in_trouble
from simcaddie.decision.line_of_play import aims_from, middle_ball, swings_worth_trying
from simcaddie.decision.measure import finish_names
from simcaddie.decision.options import swing_title
from simcaddie.decision.request import LEVEL
from simcaddie.decision.rounds import strokes_on, tee_of
from simcaddie.model import arrays as r
from simcaddie.model.average import on_the_day
from simcaddie.model.build import pack, pack_day
from simcaddie.model.states import states_at
from simcaddie.player.carries import SwingCarry, swing_carries
from simcaddie.player.pattern import Pattern, course_pattern
from simcaddie.player.swing import TRUST_ORDER, Player
from simcaddie.simulate import first_strokes, next_strokes
from simcaddie.solve.ahead import Ahead
from simcaddie.solve.memo import solved
from simcaddie.solve.solution import QUICK, ROUGH, Solution
from simcaddie.weather.day import STANDARD, Day

__all__ = [
    "HEAD_WIND",
    "NEAR_GREEN",
    "ON",
    "Flip",
    "Sheet",
    "SheetHole",
    "Stroke",
    "look",
    "pattern_of",
    "ready",
    "sheet",
    "sheet_hole",
]

BALLS: Final = 8000
FIGURE_SETS: Final = 16  # of first balls, for the figures shown
SHORTLIST: Final = 5  # swings that may be best
MOST: Final = 6  # strokes to the green
ON: Final = 0.15  # share of balls on the green from which a stroke is the approach
NEAR_GREEN: Final = 45.0  # yd left, likewise
LONG: Final = 0.55  # of the longest carry: shorter swings aren't tried while the green is out of reach
_PUTTING: Final = np.array([kind.putting for kind in SURFACES])

Floats = NDArray[np.float64]
Place = tuple[float, float, int]


@dataclass(frozen=True, slots=True)
class Ready:
    """A hole solved for a player to its middle pin; ``tables`` one a pin, in the order of ``pins``."""

    hole: Hole
    player: Player
    spot: Spot
    grid: AreaGrid
    pins: tuple[str, ...]
    tables: tuple[r.Problem, ...]
    solution: Solution
    key: np.uint64

    @property
    def policy(self) -> r.Policy:
        """What is played on."""
        return self.solution.policy

    @property
    def value(self) -> r.Value:
        """What choices that a Rule leaves go by."""
        return self.solution.value

    @property
    def middle(self) -> r.Problem:
        """The table to the middle pin."""
        return self.tables[self.pins.index(next(n for n, at in self.hole.pins.items() if at == self.hole.pin()))]

    @property
    def place(self) -> Place:
        """Where the hole is played from: x, y in yards, the lie's code."""
        return (*self.spot.at, code(self.spot.lie))


@dataclass(frozen=True, slots=True)
class Stroke:
    """One stroke of the advised line.

    ``start`` and ``finish`` in yards with their lies (surface kinds); ``swing`` its number, touch actions after the
    player's swings; ``bearing`` in radians clockwise from +y; ``mean`` strokes to go from the start, over all pins;
    ``left`` and ``leaves`` yards to the middle pin before and after; ``safe`` the share of balls that stay out of
    trouble, ``green`` that on the green; ``level`` the titles of other swings that are as good; ``shortlist`` the
    swings looked at closer; ``rest`` the balls.
    """

    start: Point
    lie: str
    swing: int
    title: str
    bearing: float
    mean: float
    finish: Point
    finish_lie: str
    left: float
    leaves: float
    safe: float
    green: float
    level: tuple[str, ...]
    shortlist: tuple[int, ...]
    rest: r.Rest


def ready(
    hole: Hole,
    player: Player,
    tee: str | None = None,
    *,
    seed: int = 1,
    day: Day | None = None,
) -> Ready:
    """Return a hole solved for a player from a tee (the first by default) on a day (a standard one by default).

    Raises
    ------
    BadRequest
        Where the hole has no such tee.
    """
    spot, grid = hole.place(tee), area_grid(hole)
    problem = pack(hole, player, spot, hole.pin(), grid=grid, day=day)
    solution = solved(problem, grid, (*spot.at, code(spot.lie)), effort=QUICK)
    names, key = tuple(hole.pins), kernel_key(seed, Purpose.SHEETS)
    return Ready(hole, player, spot, grid, names, _to_pins(problem, hole), solution, key)


def blown(on: Ready, day: Day) -> Ready:
    """Return a hole on a day that differs by its wind alone, solved in half the time: for looks ahead."""
    problem = on.middle._replace(day=pack_day(on.hole, on.player, day))
    solution = solved(problem, on.grid, on.place, effort=ROUGH)
    return replace(on, tables=_to_pins(problem, on.hole), solution=solution)


def _to_pins(problem: r.Problem, hole: Hole) -> tuple[r.Problem, ...]:
    """Return a problem a pin of the hole, in the file's order."""
    return tuple(problem._replace(ground=problem.ground._replace(pin_x=x, pin_y=y)) for x, y in hole.pins.values())


def look(
    on: Ready,
    place: Place,
    swings: ArrayLike,
    bearings: ArrayLike,
    pins: Sequence[str] = (),
    sets: int = FIGURE_SETS,
    purpose: int = Purpose.ANSWER,
) -> Floats:
    """Return the mean strokes from a place by first strokes, one a row, over all pins or those named."""
    grounds = [problem.ground for name, problem in zip(on.pins, on.tables, strict=True) if not pins or name in pins]
    means = Ahead.of(on.solution).means(place, swings, bearings, sets, purpose, grounds)
    return np.asarray(means.mean(axis=1))


def _swings(on: Ready, place: Place) -> list[int]:
    """Return the swings to try from a place: long ones while the green is out of reach."""
    problem = on.middle
    swings = swings_worth_trying(problem, place)
    carry = problem.swings.rows[place[2], :, r.SW_SOLID + r.STRIKE_CARRY]
    full = [swing for swing in swings if swing < carry.size]
    longest = max((carry[swing] for swing in full), default=0.0)
    if math.dist(place[:2], (problem.ground.pin_x, problem.ground.pin_y)) < 1.2 * longest:
        return swings
    return [swing for swing in full if carry[swing] >= LONG * longest]


def worths(
    on: Ready, place: Place, pins: Sequence[str] = (), swings: Sequence[int] = ()
) -> dict[int, tuple[float, float]]:
    """Return (mean strokes, bearing) of the best aim of each swing that may be best from a place.

    ``swings`` are those to try; those that make sense by default.
    """
    ground = on.middle.ground
    line = angle_between(place[:2], (ground.pin_x, ground.pin_y))

    def tried(numbers: Sequence[int], aims: Sequence[float], sets: int) -> Floats:
        return look(on, place, numbers, line + np.radians(aims), pins, sets, Purpose.LOOK)

    lines = best_lines(tried, swings or _swings(on, place), aims_from(on.solution, place))
    found = sorted(lines.values(), key=lambda one: one.worth)[:SHORTLIST]
    bearings = line + np.radians([one.aim for one in found])
    means = look(on, place, [one.swing for one in found], bearings, pins)
    return {one.swing: (float(m), float(at)) for one, m, at in zip(found, means, bearings, strict=True)}


def best_stroke(on: Ready, place: Place, pins: Sequence[str] = (), swings: Sequence[int] = ()) -> Stroke:
    """Return the stroke with the fewest strokes to go; among level swings the one that is trusted most."""
    player, problem = on.player, on.middle
    means = worths(on, place, pins, swings)
    lowest = min(mean for mean, _ in means.values())
    trust = {s: TRUST_ORDER[player.swings[s].trust] if s < len(player.swings) else TRUST_ORDER["ok"] for s in means}
    level = sorted((s for s in means if means[s][0] - lowest <= LEVEL), key=lambda s: (trust[s], means[s][0]))
    swing, (mean, bearing) = level[0], means[level[0]]
    rest = first_strokes(problem, on.value, place, swing, bearing, on.key, BALLS)
    stays = ~in_trouble(rest)
    ball = middle_ball(rest, stays)
    pin = (problem.ground.pin_x, problem.ground.pin_y)
    title = swing_title(player, swing)
    return Stroke(
        start=place[:2],
        lie=NAMES[place[2]],
        swing=swing,
        title=title,
        bearing=bearing,
        mean=mean,
        finish=(float(rest.x[ball]), float(rest.y[ball])),
        finish_lie=NAMES[int(rest.surface[ball])],
        left=math.dist(place[:2], pin),
        leaves=math.dist((float(rest.x[ball]), float(rest.y[ball])), pin),
        safe=float(stays.mean()),
        green=float(_PUTTING[rest.surface].mean()),
        level=tuple(dict.fromkeys(t for t in (swing_title(player, s) for s in level[1:]) if t != title)),
        shortlist=tuple(means),
        rest=rest,
    )


def _approaches(stroke: Stroke) -> bool:
    """Tell whether a stroke is the one to the green: what it leaves is a touch shot or a putt."""
    return stroke.green >= ON or stroke.leaves <= NEAR_GREEN


def line_of_strokes(on: Ready) -> tuple[Stroke, ...]:
    """Return the advised line: each stroke from where the middle ball of the last one lies, the approach the last."""
    strokes: list[Stroke] = []
    place = on.place
    while len(strokes) < MOST and not SURFACES[place[2]].putting and not (strokes and _approaches(strokes[-1])):
        stroke = best_stroke(on, place)
        strokes.append(stroke)
        place = (*stroke.finish, code(stroke.finish_lie))
    return tuple(strokes)


# ─── Beside the strokes: what to carry, the way out of trouble, the side to miss on ─────────────────────────────────

BESIDE: Final = 0.7  # sd to either side of the line: a hazard within that is in the way
LEAST_BESIDE: Final = 5.0  # yd
REACH: Final = 70.0  # yd beyond the carry: a hazard farther off is of no concern
SHORT: Final = 0.45  # of the carry: a hazard that ends nearer than that is of no concern
OFTEN: Final = 0.02  # of balls: trouble that comes more seldom isn't told
RING: Final = (2.0, 14.0)  # yd off the green: where balls lie that just miss it
DEARER: Final = 0.12  # strokes: a side that costs so much more than the best one is told
SIDES: Final = ("long", "right", "short", "left")  # clockwise from straight on


@dataclass(frozen=True, slots=True)
class Number:
    """A distance from the tee in yards, and what lies there."""

    yards: float
    title: str


@dataclass(frozen=True, slots=True)
class Trouble:
    """The trouble that a stroke finds most often: its finish, how often, what to play from there, what that leaves."""

    finish: str
    often: float
    title: str
    leaves: float


@dataclass(frozen=True, slots=True)
class Miss:
    """The side of the green to miss on, and the one that costs ``dearer`` strokes more; None where all are alike."""

    best: str | None
    worst: str | None
    dearer: float


def pattern_of(on: Ready, stroke: Stroke) -> Pattern | None:
    """Return the pattern of a stroke on the day, None for a touch shot."""
    swings = on.player.swings
    if stroke.swing >= len(swings):
        return None
    pattern = course_pattern(on.player, swings[stroke.swing], on.player.lies[stroke.lie])
    return on_the_day(on.middle, pattern, stroke.swing, (*stroke.start, code(stroke.lie)), stroke.bearing)


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


def numbers_of(on: Ready, stroke: Stroke) -> tuple[Number | None, Number | None]:
    """Return what a tee shot must carry and must not reach; None where there is nothing.

    A stroke to the green carries the last hazard before it, else its front, and must not reach what lies beyond it.
    """
    hole, pattern = on.hole, pattern_of(on, stroke)
    if pattern is None:
        return None, None
    carry, wide = pattern.solid.carry, max(LEAST_BESIDE, BESIDE * pattern.solid.side_sd)
    near = _in_the_way(hole, stroke.start, stroke.bearing, wide)
    over = [(far, title) for low, far, title in near if SHORT * carry < far <= carry and low < carry]
    beyond = [(low, title) for low, far, title in near if far > carry and SHORT * carry < low < carry + REACH]
    green = _along(hole.green, stroke.start, stroke.bearing, wide)
    if green is not None and green[0] < carry + REACH:
        over = [row for row in over if row[0] <= green[0]]
        over = over or [(green[0], "front of the green")]
        beyond = [row for row in beyond if row[0] >= green[1] - 1.0] or [(green[1], "back of the green")]
    carried = Number(*max(over)) if over else None
    return carried, Number(*min(beyond)) if beyond else None


def trouble_of(on: Ready, stroke: Stroke) -> Trouble | None:
    """Return the trouble that a stroke finds most often and the way out of it; None where it hardly finds any."""
    rest, names = stroke.rest, finish_names(stroke.rest)
    bad = in_trouble(rest)
    kinds, counts = np.unique(names[bad], return_counts=True)
    if not kinds.size or counts.max() < OFTEN * names.size:
        return None
    finish = str(kinds[np.argmax(counts)])
    here = np.flatnonzero(bad & (names == finish))
    problem = on.middle
    number = states_at(problem.states, rest.surface[here], rest.x[here], rest.y[here])
    swing = np.minimum(on.policy.swing[number[number >= 0]], len(on.player.swings))
    if not swing.size:
        return None
    balls = r.Rest._make(column[here] for column in rest)
    after = next_strokes(problem, on.policy, on.value, balls, on.key, 1)
    leaves = np.hypot(after.x - problem.ground.pin_x, after.y - problem.ground.pin_y)
    often = here.size / names.size
    return Trouble(finish, often, swing_title(on.player, int(np.argmax(np.bincount(swing)))), float(np.median(leaves)))


def _ring(on: Ready) -> tuple[Floats, NDArray[np.int8]]:
    """Return points (yd) that lie just off the green, float64[n, 2], and the kind of ground at each."""
    ring = on.hole.green.buffer(RING[1]).difference(on.hole.green.buffer(RING[0]))
    left, low, right, high = ring.bounds
    xs, ys = np.meshgrid(np.arange(left, right, 2.0), np.arange(low, high, 2.0))
    inside = shapely.contains_xy(ring, xs, ys)
    xy, grid = np.column_stack([xs[inside], ys[inside]]), on.grid
    iy = np.clip(((xy[:, 1] - grid.y0) / grid.cell).astype(int), 0, grid.surface.shape[0] - 1)
    ix = np.clip(((xy[:, 0] - grid.x0) / grid.cell).astype(int), 0, grid.surface.shape[1] - 1)
    return xy, grid.surface[iy, ix]


def _prices(on: Ready, xy: Floats, kinds: NDArray[np.int8]) -> Floats:
    """Return what a ball at each place costs to the middle pin, float64[n]: relief counted, nan for unknown."""
    number = states_at(on.middle.states, kinds, xy[:, 0], xy[:, 1])
    price = np.where(number >= 0, on.solution.to_go[np.maximum(number, 0)], np.nan)
    usual = float(np.nanmean(price)) if np.isfinite(price).any() else math.nan
    penalty = np.array([1.0 if kind.penalty else 2.0 if kind.out else 0.0 for kind in SURFACES])[kinds]
    return np.where(penalty > 0.0, usual + penalty, price)


def miss_of(on: Ready, stroke: Stroke) -> Miss:
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
    instead: Stroke
    saves: float


@dataclass(frozen=True, slots=True)
class SheetHole:
    """One hole of the sheet.

    ``number`` on the course, from 1, 0 for a hole of its own; ``strokes`` received; ``line`` the advised strokes,
    ``approach`` the number of the one to the green; ``carry`` and ``reach`` what the tee shot carries and must not
    reach; ``flips`` what changes the plan.
    """

    number: int
    on: Ready
    tee: str
    strokes: int
    line: tuple[Stroke, ...]
    approach: int
    carry: Number | None
    reach: Number | None
    trouble: Trouble | None
    miss: Miss
    flips: tuple[Flip, ...]

    @property
    def hole(self) -> Hole:
        """The hole."""
        return self.on.hole

    @property
    def finish(self) -> Point:
        """Where the approach usually finishes, x and y in yards."""
        return self.line[self.approach].finish

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


def _turned(on: Ready, number: int, stroke: Stroke, when: str, pins: tuple[str, ...] = ()) -> Flip | None:
    """Return the flip of a stroke of the line under other circumstances, None where its club stays the best.

    For a pin only the swings that were near the best are tried again.
    """
    place = (*stroke.start, code(stroke.lie))
    other = best_stroke(on, place, pins, stroke.shortlist if pins else ())
    if other.title == stroke.title or stroke.title in other.level:
        return None
    saves = float(look(on, place, stroke.swing, stroke.bearing, pins)[0]) - other.mean
    return Flip(when, number, other, saves) if saves >= LEVEL else None


def _by_wind(on: Ready, line: tuple[Stroke, ...], approach: int, day: Day) -> Flip | None:
    """Return what a head wind changes first: the tee shot, else the approach from where it is played in calm."""
    windy = blown(on, replace(day, wind=HEAD_WIND, wind_from=0.0, relative=True, gust=None))
    for number in dict.fromkeys((0, approach)):
        flip = _turned(windy, number, line[number], "wind")
        if flip is not None:
            return flip
    return None


def _by_pin(on: Ready, line: tuple[Stroke, ...], approach: int) -> Flip | None:
    """Return the pin that changes the approach most, None where none does."""
    flips = [_turned(on, approach, line[approach], name, (name,)) for name in on.pins] if len(on.pins) > 1 else []
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
    on = ready(hole, player, tee, seed=seed, day=day)
    line = line_of_strokes(on)
    approach = len(line) - 1
    carry, reach = numbers_of(on, line[0])
    flips = (_by_wind(on, line, approach, day), _by_pin(on, line, approach))
    return SheetHole(
        number=number,
        on=on,
        tee=tee or next(iter(hole.tees)),
        strokes=strokes,
        line=line,
        approach=approach,
        carry=carry,
        reach=reach,
        trouble=trouble_of(on, line[0]),
        miss=miss_of(on, line[approach]),
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
    done: Callable[[], None] | None = None,
) -> Sheet:
    """Return the sheet of a course, or of those of its holes that ``holes`` numbers from 1.

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
    strokes, handicap = strokes_on(course, player, tee)
    planned, single = day or course.day or STANDARD, len(course.holes) == 1

    def one(number: int) -> SheetHole:
        shown = 0 if single else number
        hole = sheet_hole(course.holes[number - 1], player, tee, shown, strokes[number - 1], seed=seed, day=planned)
        if done is not None:
            done()
        return hole

    return Sheet(course.name, player, tuple(each(one, numbers)), swing_carries(player), handicap, tee, planned, single)
