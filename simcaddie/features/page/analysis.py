"""Everything that a page shows, worked out beforehand: each club along each line, and best play from everywhere.

A question is one pin on one day. Its options are the swings that ``compare`` looks over along aims a degree apart, as
many as there is room for. All are looked at in one go, by the look-ahead and the first balls of ``compare``, so that
the figures are the same for the same club and aim.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.memo import Arrays, digest, kept_arrays
from simcaddie.base.parallel import each
from simcaddie.base.surfaces import NAMES, code
from simcaddie.course.course import Course
from simcaddie.course.hole import Hole
from simcaddie.decision.best_aims import fan
from simcaddie.decision.compare import compare
from simcaddie.decision.measure import Measure
from simcaddie.decision.options import Option, scene_turn
from simcaddie.decision.pair import Reason, because_words, first_of, pair_title, reasons, twenty_of_each
from simcaddie.decision.phrases import line_words
from simcaddie.decision.position import Position
from simcaddie.decision.request import Comparison, Request
from simcaddie.decision.rounds import strokes_on, tee_of
from simcaddie.decision.why import explain_balls
from simcaddie.model.arrays import Event, Rest
from simcaddie.player.swing import Player
from simcaddie.scoring.formats import stableford
from simcaddie.solve.ahead import NODES
from simcaddie.solve.quadrature import SETS
from simcaddie.weather.day import Day

__all__ = [
    "FINISHES",
    "Anywhere",
    "Looks",
    "Page",
    "PageHole",
    "PageRequest",
    "Pair",
    "Question",
    "Side",
    "course_page",
    "hole_page",
]

FINISHES: Final = (*NAMES, "lost", "unplayable", "holed")  # of first balls: ground by its code first
WIDEST: Final = 30  # degrees about the pin line, the best aims and their surroundings apart
AROUND: Final = 2  # degrees about every swing's best aim that are always offered
# How many degrees of its fan a swing gives up: for a cost of as much as counts as level, for a degree between its best
# aim, the line to the pin and that to the landing area, and for a degree more beyond these
DEAR, WITHIN, BEYOND = 0.75, 0.25, 1.0
MOST: Final = 600  # options of a hole, shared out over its questions
MOST_OF_COURSE: Final = 320  # of each hole of a course
SEQUENCES: Final = 100  # for the audit, which a page doesn't show
OTHERS: Final = 3  # next ones that the first choice is set against, the longest club besides
LIES: Final = ("fairway", "light_rough", "rough", "heather", "trees", "bunker")  # where a ball may be looked from
NO_SWING: Final = 255
_PLACE: Final = {name: at for at, name in enumerate(FINISHES)}
_EVENTS: Final = {Event.LOST: "lost", Event.UNPLAYABLE: "unplayable", Event.HOLED: "holed"}

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
NamedDay = tuple[str, Day]


@dataclass(frozen=True, slots=True)
class PageRequest:
    """What is asked: place, pin by name (None: every pin of a single hole, the default one of a course's), days.

    ``strokes`` and ``played`` as for ``compare``; no ``days`` is a standard one.
    """

    tee: str | None = None
    spot: str | None = None
    pin: str | None = None
    strokes: int | None = None
    played: int | None = None
    objective: str = "strokes"
    seed: int = 1
    days: tuple[NamedDay, ...] = ()


@dataclass(frozen=True, slots=True)
class Looks:
    """Every option of a question, one a row.

    ``swing`` and ``aim`` (degrees right of the pin); ``mean`` strokes, those played counted, and its standard error;
    ``diff`` to the option of the lowest mean worth in ``compare``, paired; chances of ``net_par`` or better and
    ``blow_up``; Stableford ``points``; ``leave`` mean yards to the pin; ``finish`` float64[row, finish] shares of first
    balls; ``law`` float64[row, cap + 1] the chance of each number of strokes from the place; ``at`` float64[row, 20, 2]
    yards and ``ended`` int64[row, 20] places in ``FINISHES`` of twenty balls; ``words`` the aims as ``compare`` says
    them.
    """

    swing: Whole
    aim: Floats
    mean: Floats
    se: Floats
    diff: Floats
    diff_se: Floats
    net_par: Floats
    blow_up: Floats
    points: Floats
    leave: Floats
    finish: Floats
    law: Floats
    at: Floats
    ended: Whole
    words: tuple[str, ...]

    def row(self, option: Option) -> int:
        """Return the row of an option that is among them."""
        return int(np.flatnonzero((self.swing == option.swing) & (self.aim == option.aim))[0])


@dataclass(frozen=True, slots=True)
class Pair:
    """The first choice against another: which of ``a`` and ``b`` (rows) to play and why, parts that add up."""

    a: int
    b: int
    headline: str
    because: str
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Anywhere:
    """Best play by cell and lie: [lie, row, column] of ``swing`` (255: none), ``aim`` in degrees, strokes ``to_go``.

    Cells are ``cell`` yards wide, the first one's corner at (x0, y0); ``lies`` are surface kinds.
    """

    cell: float
    x0: float
    y0: float
    lies: tuple[str, ...]
    swing: Whole
    aim: Floats
    to_go: Floats


@dataclass(frozen=True, slots=True)
class Question:
    """One pin on one day: the answer as ``compare`` gives it, and every option besides."""

    pin: str
    day: NamedDay | None
    answer: Comparison
    looks: Looks
    pairs: tuple[Pair, ...]
    anywhere: Anywhere


@dataclass(frozen=True, slots=True)
class Side:
    """A player's questions on a hole."""

    player: Player
    questions: tuple[Question, ...]


@dataclass(frozen=True, slots=True)
class PageHole:
    """A hole of the page; ``number`` is 0 where it stands alone."""

    number: int
    hole: Hole
    sides: tuple[Side, ...]


@dataclass(frozen=True, slots=True)
class Page:
    """A hole or a course to try strokes on."""

    title: str
    source: str
    request: PageRequest
    players: tuple[Player, ...]
    holes: tuple[PageHole, ...]


# ─── Which options a question offers ────────────────────────────────────────────────────────────────────────────────


def _offered(answer: Comparison, most: int) -> list[Option]:
    """Return the options of a question, by swing and aim: about ``most``, those of the table always among them.

    A swing's fan lies about its best aim, the line to the pin and that to the landing area; it is the narrower the more
    the swing costs.
    """
    position = answer.position
    turn, own, lowest = scene_turn(position), round(position.own_aim), min(m.worth for m in answer.options)
    lines, at, keys = fan([0.0, turn, float(own)]), [], []
    for m in sorted(answer.options, key=lambda m: m.option.swing):
        best = float(round(m.option.aim))
        low = min(max(math.ceil(lines[0]), -WIDEST), best - AROUND, own)
        aims = np.arange(low, max(min(math.floor(lines[-1]), WIDEST), best + AROUND, own) + 1.0)
        sensible = np.clip(aims, min(best, turn, 0.0), max(best, turn, 0.0))
        away, beyond = np.abs(aims - best), np.abs(aims - sensible)
        key = DEAR * (m.worth - lowest) / answer.objective.level + WITHIN * away + BEYOND * beyond
        keys.append(np.where(away <= AROUND, 0.0, key))
        at += [m.option if aim == best else Option(m.option.swing, float(aim)) for aim in aims]
    key = np.concatenate(keys)
    bound = np.sort(key)[min(most, key.size) - 1]
    return [option for option, one in zip(at, key, strict=True) if one <= bound]


# ─── What each of them comes to ─────────────────────────────────────────────────────────────────────────────────────


def _finishes(rest: Rest, balls: int) -> Whole:
    """Return where the first ``balls`` finished, places in ``FINISHES``."""
    found = rest.finish[:balls].astype(np.int64)
    for event, name in _EVENTS.items():
        found[rest.event[:balls] == event] = _PLACE[name]
    return found


def _looked(position: Position, swings: Whole, bearings: Floats) -> Arrays:
    """Return mean ``strokes`` and ``worth``, [row, set]; ``law``, shares of ``finish`` and yards ``left`` by row."""
    (px, py), rows = position.pins[0], swings.size * SETS
    ended, left = np.zeros((rows, len(FINISHES)), np.int64), np.zeros(rows)

    def count(rest: Rest, start: int, stop: int) -> None:
        balls, many = (stop - start) * NODES, len(FINISHES)
        place = _finishes(rest, balls) + np.repeat(np.arange(stop - start) * many, NODES)
        ended[start:stop] = np.bincount(place, minlength=(stop - start) * many).reshape(-1, many)
        away = np.hypot(rest.x[:balls] - px, rest.y[:balls] - py)
        left[start:stop] = away.reshape(-1, NODES).sum(axis=1)

    laws = position.aheads[0].pmfs(position.start, swings, bearings, also=count)
    balls = float(SETS * NODES)
    return {
        "strokes": laws @ np.arange(position.cap + 1.0),
        "worth": laws @ position.worth,
        "law": laws.mean(axis=1),
        "finish": ended.reshape(-1, SETS, len(FINISHES)).sum(axis=1) / balls,
        "left": left.reshape(-1, SETS).sum(axis=1) / balls,
    }


def _kept(position: Position, swings: Whole, bearings: Floats) -> Arrays:
    """Return what ``_looked`` does, kept on the disk."""
    ahead, many = position.aheads[0], swings.size
    states, what = ahead.problem.states, (*ahead.problem[:5], ahead.to_go, ahead.after, position.worth)
    where = states.xy.shape, states.x0, states.y0, states.cell, states.start, position.start
    key = digest("page", what, where, swings, bearings, ahead.seed, SETS, NODES)
    shapes = {
        "strokes": (many, SETS),
        "worth": (many, SETS),
        "law": (many, position.cap + 1),
        "finish": (many, len(FINISHES)),
        "left": (many,),
    }

    def fits(held: Arrays) -> bool:
        return {name: array.shape for name, array in held.items()} == shapes

    return kept_arrays(key, lambda: _looked(position, swings, bearings), fits)


def _errors(by_set: Floats) -> Floats:
    return np.asarray(by_set.std(axis=1, ddof=1) / math.sqrt(by_set.shape[1]))


def _looks(answer: Comparison, options: Sequence[Option]) -> Looks:
    """Measure all options as ``compare`` does those of its table, in one go."""
    position, net_par = answer.position, answer.net_par
    swing, aim = np.array([o.swing for o in options]), np.array([o.aim for o in options])
    bearing = position.pin_line + np.radians(aim)
    found = _kept(position, swing, bearing)
    total = np.arange(position.cap + 1) + answer.played
    worths, whole = found["worth"], found["law"]
    lowest = min(answer.options, key=lambda m: m.worth).option
    apart = worths - worths[options.index(lowest)]
    holed = np.arange(position.cap + 1) < position.cap
    at, ended = twenty_of_each(position, swing, bearing, answer.request.seed)
    return Looks(
        swing=swing,
        aim=aim,
        mean=found["strokes"].mean(axis=1) + answer.played,
        se=_errors(found["strokes"]),
        diff=apart.mean(axis=1),
        diff_se=_errors(apart),
        net_par=whole[:, total <= net_par].sum(axis=1),
        blow_up=whole[:, total >= net_par + 2].sum(axis=1),
        points=whole @ stableford(total, net_par, holed=holed),
        leave=found["left"],
        finish=found["finish"],
        law=whole,
        at=at,
        ended=np.vectorize(_PLACE.__getitem__)(ended),
        words=tuple(line_words(position, option) for option in options),
    )


# ─── The first choice against others, and best play from everywhere ─────────────────────────────────────────────────


def _against(answer: Comparison) -> list[Measure]:
    """Return the options that the first one is set against: the longest club and the next ones of the table."""
    best, swings = answer.best, answer.position.player.swings
    full = [m for m in answer.options if m.option.swing < len(swings)]
    longest = max(full, key=lambda m: swings[m.option.swing].total, default=best)
    others = {m.option: m for m in (longest, *answer.options[1 : OTHERS + 1]) if m is not best}
    return list(others.values())


def _pairs(answer: Comparison, looks: Looks) -> tuple[Pair, ...]:
    position, level, others = answer.position, answer.objective.level, _against(answer)
    balls = {m.option: position.balls(m.option.swing, m.option.aim) for m in (answer.best, *others)}
    found = []
    for other in others:
        two = (answer.best, other)
        first, second = (two[i] for i in first_of(two, level))
        told = explain_balls(position, (second, first), (balls[second.option], balls[first.option]))
        because = because_words(first, second, told, level)
        rows = looks.row(answer.best.option), looks.row(other.option)
        found.append(Pair(*rows, pair_title(answer.best.title, other.title), because, reasons(told)))
    return tuple(found)


def _anywhere(position: Position, block: int) -> Anywhere:
    """Return best play by cell, for fewest strokes; ``block`` of the solver's cells, either way, make one of these."""
    solution = position.solutions[0]
    states = solution.problem.states
    lies = [code(name) for name in LIES if (states.of_cell[code(name)] >= 0).any()]
    of_cell = states.of_cell[lies]
    short = [(0, 0), *((0, -size % block) for size in of_cell.shape[1:])]
    cells = np.pad(of_cell, short, constant_values=-1)
    inner = cells.reshape(len(lies), cells.shape[1] // block, block, cells.shape[2] // block, block)
    inner = np.moveaxis(inner, 2, 3).reshape(*inner.shape[:2], inner.shape[3], block * block)
    there = inner >= 0
    number = np.take_along_axis(inner, np.argmax(there, axis=3)[..., None], axis=3)[..., 0]
    none = number < 0
    aim = np.degrees(np.remainder(solution.policy.bearing[number] + np.pi, 2 * np.pi) - np.pi)
    return Anywhere(
        cell=states.cell * block,
        x0=states.x0,
        y0=states.y0,
        lies=tuple(NAMES[i] for i in lies),
        swing=np.where(none, NO_SWING, np.minimum(solution.policy.swing[number], len(position.player.swings))),
        aim=np.where(none, 0.0, aim),
        to_go=np.where(none, 0.0, solution.to_go[number]),
    )


# ─── The page ───────────────────────────────────────────────────────────────────────────────────────────────────────


def _question(hole: Hole, player: Player, request: Request, named: NamedDay | None, most: int, block: int) -> Question:
    answer = compare(hole, player, request)
    looks = _looks(answer, _offered(answer, most))
    pin = request.pin or next(name for name, at in hole.pins.items() if at == hole.pin())
    return Question(pin, named, answer, looks, _pairs(answer, looks), _anywhere(answer.position, block))


def _pins(hole: Hole, pin: str | None, *, single: bool) -> list[str]:
    """Return the pins to offer: the one asked for, else the default one, and on a single hole then the others."""
    if pin is not None:
        return [pin]
    default = next(name for name, at in hole.pins.items() if at == hole.pin())
    return [default, *(name for name in hole.pins if single and name != default)]


def _hole(
    hole: Hole, players: Sequence[Player], request: PageRequest, number: int = 0, strokes: int | None = None
) -> PageHole:
    """Return one hole of the page; ``strokes`` received where a course's card gives them."""
    pins, days = _pins(hole, request.pin, single=not number), request.days or (None,)
    asked = [(player, pin, day) for player in players for day in days for pin in pins]
    most = (MOST_OF_COURSE if number else MOST) // (len(days) * len(pins) * len(players))
    block = 2 if number or len(asked) > 1 else 1

    def one(item: tuple[Player, str, NamedDay | None]) -> Question:
        player, pin, day = item
        plain = Request(
            tee=request.tee,
            spot=request.spot,
            pin=pin,
            strokes=request.strokes if strokes is None else strokes,
            played=request.played,
            sequences=SEQUENCES,
            objective=request.objective,
            seed=request.seed,
            robust=False,
            day=day[1] if day else None,
        )
        return _question(hole, player, plain, day, most, block)

    found = [one(item) for item in asked]
    many = len(pins) * len(days)
    sides = [Side(player, tuple(found[i * many : (i + 1) * many])) for i, player in enumerate(players)]
    return PageHole(number, hole, tuple(sides))


def _check(request: PageRequest) -> None:
    if request.pin == "any":
        raise BadRequest("a page shows one pin at a time: name one, or say none to have every pin of the hole")


def hole_page(hole: Hole, players: Sequence[Player], request: PageRequest | None = None) -> Page:
    """Return the page of one hole for one or several players.

    Raises
    ------
    BadRequest
        As ``compare`` does; for the pin "any".
    """
    request = request or PageRequest()
    _check(request)
    return Page(hole.name, hole.source, request, tuple(players), (_hole(hole, players, request),))


def course_page(
    course: Course, player: Player, request: PageRequest | None = None, done: Callable[[], None] | None = None
) -> Page:
    """Return the page of a course's holes; ``done`` is called as each hole is finished, from any thread.

    Raises
    ------
    BadRequest
        As ``compare`` does; for the pin "any", a spot, strokes received or played: these belong to one hole.
    """
    request = request or PageRequest()
    _check(request)
    for value, name in ((request.spot, "a spot"), (request.strokes, "strokes received"), (request.played, "played")):
        if value is not None:
            raise BadRequest(f"{name}: that is asked of one hole, not of a course")
    tee = tee_of(course, request.tee)
    for hole in course.holes:
        hole.place(tee)
        hole.pin(request.pin)
    days = request.days or ((("the course's day", course.day),) if course.day else ())
    whole, strokes = replace(request, tee=tee, days=days), strokes_on(course, player, tee)[0]

    def one(number: int) -> PageHole:
        hole = _hole(course.holes[number], (player,), whole, number + 1, strokes[number])
        if done is not None:
            done()
        return hole

    source = course.source or "; ".join(dict.fromkeys(hole.source for hole in course.holes if hole.source))
    return Page(course.name, source, whole, (player,), tuple(each(one, range(len(course.holes)))))
