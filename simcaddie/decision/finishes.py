"""Where a ball finished, as a golfer remembers it, and what that tells of the stroke.

"right rough 140" is no point but all ground that the words fit, within a few yards. The player's own balls of the
stroke that was chosen are played; those whose finish the words fit stand for what may have happened. One that leaves
what they leave on average gives the place that the next stroke is played from; M (``decision/ledger.py``) is the mean
over their strikes. Where none of them fits, the ground that the words fit nearest to where they finish is taken, with
the few balls nearest to it.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass, field, replace
from difflib import get_close_matches
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import LineString

from simcaddie.base.surfaces import BY_NAME, NAMES, SYNONYMS, code
from simcaddie.base.units import FEET_PER_YARD, YARDS_PER, told
from simcaddie.course.hole import Hole, Point
from simcaddie.course.played import Finish
from simcaddie.course.route import line_of_play
from simcaddie.decision.ledger import Entry, Place, Reckoner, ground_means, own_draws, same_strike
from simcaddie.decision.options import Option, plain_name
from simcaddie.decision.struck import even_underfoot
from simcaddie.decision.targets import LENGTH_UNITS, number_of
from simcaddie.fitting.rounds import Strikes
from simcaddie.model import arrays as r
from simcaddie.model.batch import play
from simcaddie.model.build import pack_swings
from simcaddie.model.left import strokes_left
from simcaddie.model.states import states_at
from simcaddie.player.swing import Player

__all__ = ["PICKED_UP", "Balls", "Observer", "Seen", "finish_of", "fitting", "own_balls", "seen"]

Floats = NDArray[np.float64]
Mask = NDArray[np.bool_]

HOLED: Final = ("holed", "in", "in the hole", "hole")
PICKED_UP: Final = ("picked up", "pick up")
_EVENTS: Final = {
    "lost": r.Event.LOST,
    "unplayable": r.Event.UNPLAYABLE,
    "holed": r.Event.HOLED,
    "out_of_bounds": r.Event.OUT_OF_BOUNDS,
}
_STAYS: Final = (r.Event.PLAYED, r.Event.HIT_TREE, r.Event.FAILED)
NEAR: Final = (5.0, 0.04)  # yd, share of what is left: how well a golfer knows how far it was to the pin
NEAR_PUTT: Final = (4.0 / FEET_PER_YARD, 0.2)  # the same of a putt
AROUND: Final = 5.0  # yd about coordinates
SLACK: Final = (1.0, 2.0, 4.0)  # times as far off where too few balls fit
FEWEST: Final = 8
MOST: Final = 64  # of the balls that fit, whose strikes are looked at
PER_YARD: Final = 0.002  # strokes that a yard from the middle of the balls that fit counts, to take one of them
GRID: Final = 2.0  # yd between places that are tried on the ground
WIDEST: Final = 10  # of a hundred own balls: those that may have been lost where none is
_FILLERS: Final = ("of", "in", "the", "a", "on")
_PAIR: Final = re.compile(r"(?:at\s*)?\(?\s*(-?\d+(?:\.\d+)?)\s*[,;/ ]\s*(-?\d+(?:\.\d+)?)\s*\)?")
_NUMBER: Final = re.compile(r"(.*?)\s*(?:(\d+(?:[.,]\d+)?)\s*([a-z]*))?\s*(?:to (?:go|the pin|the hole))?")


def _kind(words: str, hole: Hole) -> Finish:
    """Return the finish that words without a number tell.

    Raises
    ------
    ValueError
        With what was expected.
    """
    areas = {plain_name(area.name): area for area in hole.areas if area.name}
    side = next((side for side in ("left", "right") if re.search(rf"\b{side}\b", words)), "")
    rest = words.replace(side, "").strip() if side else words
    rest = rest if rest == "out of bounds" else " ".join(word for word in rest.split() if word not in _FILLERS)
    if rest in ("lost", "lost ball"):
        return Finish("lost", side)
    if rest in ("unplayable", "holed"):
        return Finish(rest, side)
    kinds = {name.replace("_", " "): name for name in NAMES} | {
        plain_name(word): kind for word, kind in SYNONYMS.items()
    }
    kinds |= {"out": "out_of_bounds", "semi": "light_rough"}
    if rest in kinds:
        return Finish(kinds[rest], side)
    if words in areas:  # one that is called "left heather" needn't be the only heather on the left
        return Finish(areas[words].kind, area=areas[words].title)
    close = get_close_matches(words, [*areas, *kinds], 1, 0.7)
    hint = f"; did you mean '{close[0]}'?" if close else ""
    raise ValueError(f"a place such as 'fairway 152', 'right rough 140', 'bunker', 'green 24 ft' or 'holed'{hint}")


def finish_of(text: str, hole: Hole, units: str) -> Finish:
    """Return where a ball finished from a golfer's words; lengths are in ``units`` unless they say so, putts in feet.

    >>> from simcaddie.course.hole import Hole
    >>> finish_of("right rough 140", Hole("", 4, {}, {}, ()), "yards")
    Finish(kind='rough', side='right', area='', to_pin=140.0, at=None)

    Raises
    ------
    ValueError
        With what was expected, where the words can't be read.
    """
    plain = " ".join(text.lower().split())
    if plain in HOLED:
        return Finish("holed")
    if pair := _PAIR.fullmatch(plain):
        return Finish(at=(float(pair[1]) * YARDS_PER[units], float(pair[2]) * YARDS_PER[units]))
    found = _NUMBER.fullmatch(plain)
    words, number, unit = found.groups() if found else (plain, None, "")
    if unit and unit not in LENGTH_UNITS:
        words, number = plain, None
    told = _kind(plain_name(words), hole)
    if number is None:
        return told
    own = 1.0 / FEET_PER_YARD if told.kind in BY_NAME and BY_NAME[told.kind].putting else YARDS_PER[units]
    left = number_of(number) * LENGTH_UNITS.get(unit or "", own)
    return Finish(told.kind, told.side, told.area, left)


# ─── Which of the player's own balls finish so ──────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Balls:
    """Own balls of a stroke: their draws float64[7, ball], and where they came to rest."""

    draws: Floats
    rest: r.Rest


def own_balls(reckoner: Reckoner, place: Place, option: Option, problem: r.Problem | None = None) -> Balls:
    """Return the player's own balls of a stroke, on another table of the same hole where one is given."""
    ahead, draws = reckoner.ahead, own_draws(reckoner.ahead.seed)
    rows = reckoner.rows(place, option.swing, reckoner.at(place).pin_line + math.radians(option.aim))
    return Balls(draws, play(problem or ahead.problem, ahead.to_go, rows, draws, draws.shape[1]))


def _right_of(hole: Hole, x: Floats, y: Floats) -> Floats:
    """Return how far to the right of the line of play places lie, yd, negative to its left."""
    line = LineString(line_of_play(hole, hole.place().at))
    along = np.clip(shapely.line_locate_point(line, shapely.points(x, y)), 0.5, line.length - 0.5)
    ahead, behind = (shapely.get_coordinates(shapely.line_interpolate_point(line, along + d)) for d in (0.5, -0.5))
    way = ahead - behind
    return np.asarray((x - behind[:, 0]) * way[:, 1] - (y - behind[:, 1]) * way[:, 0])


def _there(reckoner: Reckoner, finish: Finish, x: Floats, y: Floats, slack: float) -> Mask:
    """Tell which places the words fit, kinds left out."""
    hole, pin = reckoner.position.hole, reckoner.position.pins[0]
    fits = np.ones(x.size, np.bool_)
    if finish.at is not None:
        fits &= np.hypot(x - finish.at[0], y - finish.at[1]) <= slack * AROUND
    if finish.to_pin is not None:
        least, share = NEAR_PUTT if finish.kind in BY_NAME and BY_NAME[finish.kind].putting else NEAR
        off = np.abs(np.hypot(x - pin[0], y - pin[1]) - finish.to_pin)
        fits &= off <= slack * max(least, share * finish.to_pin)
    if finish.side:
        fits &= _right_of(hole, x, y) * (1.0 if finish.side == "right" else -1.0) > 0.0
    if finish.area:
        outlines = shapely.union_all([area.outline for area in hole.areas if area.title == finish.area])
        fits &= shapely.contains_xy(outlines.buffer(1.0), x, y)
    return fits


def fitting(reckoner: Reckoner, finish: Finish, rest: r.Rest, slack: float = 1.0) -> Mask:
    """Tell which balls finished as the words say: bool[ball]; ``slack`` is how many times as far off they may be."""
    if finish.kind in _EVENTS:
        here = rest.event == _EVENTS[finish.kind]
        if finish.kind == "holed":
            return np.asarray(here)
    elif finish.gone:
        here = (rest.event == r.Event.PENALTY_AREA) & (rest.finish == code(finish.kind))
    else:
        here = np.isin(rest.event, _STAYS)
        if finish.kind:
            here = here & (rest.finish == code(finish.kind))
    x, y = (rest.landing_x, rest.landing_y) if finish.gone else (rest.x, rest.y)
    return np.asarray(here & _there(reckoner, finish, x, y, slack))


# ─── What a finish tells ────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Seen:
    """What a finish tells: where the next stroke is played from (None: holed), strokes counted, M, and how many balls.

    ``balls`` own balls finish so, 0 where none does; ``landed`` is where one that isn't played from there came down.
    """

    after: Place | None
    added: int
    strike: float
    balls: int
    landed: Point | None = None


def kind_at(problem: r.Problem, x: Floats, y: Floats) -> NDArray[np.int8]:
    """Return the codes of the kinds of ground at places."""
    ground = problem.ground
    iy = np.clip(np.floor((y - ground.y0) / ground.cell).astype(np.int64), 0, ground.rows - 1)
    ix = np.clip(np.floor((x - ground.x0) / ground.cell).astype(np.int64), 0, ground.columns - 1)
    return np.asarray(ground.word[iy * ground.columns + ix] & r.WORD_KIND, np.int8)


def _typical(reckoner: Reckoner, finish: Finish, rest: r.Rest, which: NDArray[np.int64]) -> tuple[int, Place]:
    """Return the one of the balls ``which`` that leaves what they leave on average, and where it is played from next.

    Not the middle one: what is left is no straight function of the place, and luck would have a mean. A ball that lies
    as the words tell is taken to exactly the distance that was told, where that is ground of the same kind.
    """
    ahead, (px, py) = reckoner.ahead, reckoner.position.pins[0]
    some = r.Rest._make(column[which] for column in rest)
    x, y = some.x, some.y
    if finish.to_pin is not None and not finish.gone:
        share = finish.to_pin / np.maximum(np.hypot(x - px, y - py), 1e-9)
        tx, ty = px + share * (x - px), py + share * (y - py)
        same = kind_at(ahead.problem, tx, ty) == some.surface
        x, y = np.where(same, tx, x), np.where(same, ty, y)
    worth = some.added + strokes_left(ahead.problem, ahead.mean_to_go, some._replace(x=x, y=y))
    off = np.abs(worth - worth.mean()) + PER_YARD * np.hypot(x - np.median(x), y - np.median(y))
    best = int(np.argmin(off))
    return int(which[best]), (float(x[best]), float(y[best]), int(some.surface[best]))


def _on_ground(reckoner: Reckoner, finish: Finish, near: Point) -> Place | None:
    """Return the place nearest to ``near`` on ground that the words fit, None where the hole has none."""
    problem = reckoner.ahead.problem
    if finish.at is not None:
        x, y = np.array([finish.at[0]]), np.array([finish.at[1]])
        lie = code(finish.kind) if finish.kind else int(kind_at(problem, x, y)[0])
        return (*finish.at, lie) if BY_NAME[NAMES[lie]].in_play else None
    ground, step = problem.ground, round(GRID / problem.ground.cell)
    kinds = (ground.word.reshape(ground.rows, ground.columns)[::step, ::step]) & r.WORD_KIND
    iy, ix = np.nonzero(kinds == code(finish.kind))
    x, y = (np.asarray(axis + (i * step + 0.5) * ground.cell, float) for axis, i in ((ground.x0, ix), (ground.y0, iy)))
    for slack in SLACK:
        which = np.flatnonzero(_there(reckoner, finish, x, y, slack))
        if which.size:
            best = which[np.argmin(np.hypot(x[which] - near[0], y[which] - near[1]))]
            return float(x[best]), float(y[best]), code(finish.kind)
    return None


def _playable(reckoner: Reckoner, place: Place) -> Place:
    """Return a place with a lie that occurs there: on the edge of a cell another may be seen than was told."""
    states = reckoner.ahead.problem.states
    if BY_NAME[NAMES[place[2]]].putting or states_at(states, place[2], place[0], place[1]) >= 0:
        return place
    lie = int(kind_at(reckoner.ahead.problem, np.array([place[0]]), np.array([place[1]]))[0])
    if not BY_NAME[NAMES[lie]].in_play:
        raise ValueError(f"a place that a ball can be played from, not one in {BY_NAME[NAMES[lie]].title}")
    return (*place[:2], lie)


def seen(reckoner: Reckoner, place: Place, option: Option, finish: Finish, drop: Finish | None = None) -> Seen:
    """Return what the finish of a stroke tells; ``drop`` says where the ball was played from after relief.

    Raises
    ------
    ValueError
        With what was expected, where the hole has no ground that the words fit.
    """
    own = own_balls(reckoner, place, option)
    which, slack = np.zeros(0, np.int64), SLACK[0]
    for slack in SLACK:
        which = np.flatnonzero(fitting(reckoner, finish, own.rest, slack))
        if which.size >= FEWEST:
            break
    if finish.kind == "holed":
        return Seen(None, 1, _strike(reckoner, place, option, own, which, None), which.size)
    if finish.gone:
        return _after_relief(reckoner, place, option, finish, drop, own, which)
    rest = own.rest
    if finish.at is not None or not which.size:
        after = _on_ground(reckoner, finish, (float(np.median(rest.x)), float(np.median(rest.y))))
        if after is None:
            raise ValueError(_none_such(reckoner, finish))
    else:
        _, after = _typical(reckoner, finish, rest, which)
    after = _playable(reckoner, after)
    return Seen(after, 1, _strike(reckoner, place, option, own, which, after), which.size)


def _none_such(reckoner: Reckoner, finish: Finish) -> str:
    title = finish.area or (BY_NAME[finish.kind].title if finish.kind in BY_NAME else "ground")
    left = "" if finish.to_pin is None else f" with {told(finish.to_pin, reckoner.position.hole.units)} to the pin"
    side = f" on the {finish.side}" if finish.side else ""
    return f"ground that {reckoner.position.hole.name} has: no {title}{side}{left} there"


def _after_relief(
    reckoner: Reckoner, place: Place, option: Option, finish: Finish, drop: Finish | None, own: Balls,
    which: NDArray[np.int64],
) -> Seen:  # fmt: skip
    """Return what the finish of a ball tells that was lost, out, wet or unplayable."""
    rest, count, after, added, landed = own.rest, which.size, None, 2, None
    if count:
        ball, after = _typical(reckoner, finish, rest, which)
        added = int(rest.added[ball])
        landed = float(rest.landing_x[ball]), float(rest.landing_y[ball])
    elif finish.kind in ("lost", "out_of_bounds"):
        aside = _right_of(reckoner.position.hole, rest.x, rest.y)
        aside = aside * (1.0 if finish.side == "right" else -1.0) if finish.side else np.abs(aside)
        after, which = place, np.argsort(aside)[-(rest.x.size * WIDEST // 100) :]
    if drop is not None:
        near = place if after is None else after
        after = _on_ground(reckoner, drop, near[:2])
    if after is None:
        told = "where it was dropped (column `drop`)" if drop is None else _none_such(reckoner, drop)
        raise ValueError(told)
    strike = _strike(reckoner, place, option, own, which, after)
    return Seen(_playable(reckoner, after), added, strike, count, landed)


def _strike(
    reckoner: Reckoner, place: Place, option: Option, own: Balls, which: NDArray[np.int64], near: Place | None
) -> float:
    """Return M over the own balls ``which``; over the few nearest to ``near`` where there are none."""
    if not which.size:
        goal = near if near is not None else (*reckoner.position.pins[0], 0)
        which = np.argsort(np.hypot(own.rest.x - goal[0], own.rest.y - goal[1]))[:FEWEST]
    some = which[:: max(1, which.size // MOST)]
    bearing = reckoner.at(place).pin_line + math.radians(option.aim)
    rows = reckoner.rows(place, np.full(some.size, option.swing), bearing)
    again = same_strike(own.draws[:, some], reckoner.ahead.seed)
    return float(ground_means(reckoner.ahead, rows, again)[0].mean())


# ─── What finishes tell of the player's patterns ────────────────────────────────────────────────────────────────────

MOST_STRIKES: Final = 40  # of a finish
WIDER: Final = 1.5  # times the player's spreads and mishits: strikes to look for finishes among


@dataclass
class Observer:
    """Which strikes may have made a finish (``fitting/rounds.py``), for one player; balls of a choice are kept."""

    player: Player
    _balls: dict[tuple[int, Place, Option], tuple[Balls, Strikes]] = field(default_factory=dict, repr=False)
    _found: dict[tuple[int, Place, Option, Finish], Strikes | None] = field(default_factory=dict, repr=False)

    def strikes(self, number: int, reckoner: Reckoner, entry: Entry) -> Strikes | None:
        """Return the strikes that end as a stroke on hole ``number`` was told to; None where none of them does.

        The same stroke told in the same words has the same record.
        """
        if entry.finish is None or entry.option.swing >= len(self.player.swings):
            return None
        key = (number, entry.place, entry.option)
        if (*key, entry.finish) not in self._found:
            self._found[*key, entry.finish] = self._look(key, reckoner, entry, entry.finish)
        return self._found[*key, entry.finish]

    def _look(self, key: tuple[int, Place, Option], reckoner: Reckoner, entry: Entry, finish: Finish) -> Strikes | None:
        if key not in self._balls:
            swings = pack_swings(self._wider())
            problem = reckoner.ahead.problem
            balls = own_balls(reckoner, entry.place, entry.option, problem._replace(swings=swings))
            self._balls[key] = balls, _strikes(reckoner, entry, balls, swings.rows)
        balls, strikes = self._balls[key]
        struck = strikes.kind >= 0
        for slack in SLACK:
            which = np.flatnonzero(fitting(reckoner, finish, balls.rest, slack) & struck)
            if which.size >= FEWEST:
                break
        some = which[:: -(-which.size // MOST_STRIKES) or 1]
        if not some.size:
            return None
        return Strikes(*(getattr(strikes, name)[some] for name in Strikes.__dataclass_fields__))

    def _wider(self) -> Player:
        return self.player.with_swings(
            lambda s: replace(
                s, carry_sd=WIDER * s.carry_sd, side_sd=WIDER * s.side_sd, fat=WIDER * s.fat, thin=WIDER * s.thin
            )
        )


def _strikes(reckoner: Reckoner, entry: Entry, balls: Balls, wider: Floats) -> Strikes:
    """Return the strikes that made balls, by the player's own numbers and the wider ones; −1 for those that failed."""
    lie, swing, z = entry.place[2], entry.option.swing, balls.draws
    own, wide = reckoner.ahead.problem.swings.rows[lie, swing], wider[lie, swing]
    fail, even = wide[r.SW_FAIL], even_underfoot(reckoner, entry.place, swing)
    u = fail + (z[r.DRAW_STRIKE] - fail) * even
    kind = np.where(z[r.DRAW_STRIKE] < fail, -1, np.searchsorted(wide[[r.SW_FAT, r.SW_THIN]], u, side="right"))
    at = np.maximum(kind, 0)
    mine, theirs = (row[r.SW_STRIKE :].reshape(3, r.STRIKE_COLUMNS)[at].T for row in (own, wide))
    shares, wider_shares = (_shares_of(row) for row in (own, wide))
    x, y = z[r.DRAW_CARRY], z[r.DRAW_SIDE]
    carry = theirs[r.STRIKE_CARRY] + theirs[r.STRIKE_CARRY_SD] * x
    side = theirs[r.STRIKE_SIDE] + theirs[r.STRIKE_SIDE_ON_CARRY] * x + theirs[r.STRIKE_SIDE_SD] * y
    scale = theirs[r.STRIKE_CARRY_SD] * theirs[r.STRIKE_SIDE_SD]
    player = reckoner.position.player
    return Strikes(
        carry=carry,
        side=side,
        kind=kind,
        far=mine[r.STRIKE_CARRY],
        far_sd=mine[r.STRIKE_CARRY_SD],
        aside=mine[r.STRIKE_SIDE],
        on=mine[r.STRIKE_SIDE_ON_CARRY],
        aside_sd=mine[r.STRIKE_SIDE_SD],
        share=shares[at],
        mishits=np.full(kind.size, shares[:2].sum()),
        lie=np.full(kind.size, own[r.SW_SOLID + r.STRIKE_CARRY] / player.swings[swing].carry),
        wide=np.log(np.maximum(wider_shares[at], 1e-300) / scale) - 0.5 * (x * x + y * y),
    )


def _shares_of(row: Floats) -> Floats:
    """Return the shares of fat, thin and solid of a swing's row, of the strikes that don't fail."""
    fail, fat, thin = row[[r.SW_FAIL, r.SW_FAT, r.SW_THIN]]
    return np.asarray(np.array([fat - fail, thin - fat, 1.0 - thin]) / (1.0 - fail))
