"""A club's members on a course: scores by hole and group, where strokes should fall, what a tee or a pin does.

A piece of work is one hole for one golfer, over all set-ups (tee, pin) that are asked of that golfer. It gives the law
of the score from each and the covariance of those laws, over mirrored pairs on good and bad days. All set-ups share the
piece's luck, so that differences are paired; golfers and holes have their own. Whatever is asked here is linear in the
laws, so that its standard error follows from the covariances, and simultaneous intervals from all of them together.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import lru_cache
from itertools import pairwise
from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.pieces import Delivered, Piece, packed, unpacked
from simcaddie.base.streams import Purpose, child_key
from simcaddie.course.card import ROUNDS, card_of
from simcaddie.course.course import Course
from simcaddie.decision.intervals import together
from simcaddie.decision.rounds import (
    CAP,
    good_and_bad_days,
    handicap_of,
    refuse_unknown,
    sequences_on,
    set_hole,
    strokes_on,
)
from simcaddie.features.field.golfers import Golfers, Setup, golfers_for
from simcaddie.io.members import FieldMember
from simcaddie.io.sent import SentHole, day_from, hole_from
from simcaddie.model import arrays as r
from simcaddie.player.reference import golfer
from simcaddie.player.swing import Player
from simcaddie.scoring.allocation import Asked, asked_of, difficulty, places, proposed_indexes

__all__ = [
    "Allocation",
    "Difference",
    "Estimate",
    "Field",
    "FieldRequest",
    "Group",
    "Tees",
    "field_of",
    "hole_piece",
    "pieces_of",
    "plan_of",
]

Floats = NDArray[np.float64]

LAW: Final = CAP + 1  # chances of a law
TINY: Final = 1e-9  # strokes: what is the same to the last ball differs by rounding alone
GROUPS: Final = (10.0, 20.0, 30.0)  # indexes at which the groups part


# ─── A piece ────────────────────────────────────────────────────────────────────────────────────────────────────────


@lru_cache(maxsize=64)
def _golfer(index: float, driver: float) -> tuple[Player, list[tuple[float, r.Swings]]]:
    made = golfer(index, driver)
    return made, good_and_bad_days(made)


def hole_piece(
    hole: SentHole, who: Sequence[float], setups: Sequence[Sequence[str | None]], number: int, asked: Mapping[str, Any]
) -> list[str]:
    """Return the score laws float64[setup, LAW] of a neutral golfer on a hole, and the covariance of all of them.

    ``who`` is index and driver carry; ``number`` the hole's, from 0; ``asked`` has sequences, seed and day.
    """
    player, days = _golfer(*who)
    day = day_from(asked["day"])
    ready = [set_hole(hole_from(hole), player, tee, pin, "best", day) for tee, pin in setups]
    size = len(setups) * LAW
    law, covariance = np.zeros(size), np.zeros((size, size))
    index, driver = (round(10.0 * value) for value in who)
    for place, (weight, swings) in enumerate(days):
        key = child_key(asked["seed"], Purpose.MEMBERS, number, index + 1000, driver, place)
        n = sequences_on(weight, asked["sequences"])
        columns = []
        for one in ready:
            score = one.play(one.problem._replace(swings=swings), key, n).sum(axis=1)
            columns.append(np.eye(LAW)[score].reshape(-1, 2, LAW).mean(axis=1))
        pairs = np.concatenate(columns, axis=1)
        law += weight * pairs.mean(axis=0)
        covariance += weight**2 * np.cov(pairs, rowvar=False) / pairs.shape[0]
    return [packed(law.reshape(-1, LAW)), packed(covariance)]


# ─── What is asked ──────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class FieldRequest:
    """What is asked: ``tees`` to be set against the first of them, ``pins`` likewise; ``men`` and ``women`` name tees.

    Without ``tees`` everybody plays from their own alone. ``each``: no lattice; ``day`` as sent.
    """

    day: Mapping[str, Any]
    tees: tuple[str, ...] = ()
    pins: tuple[str, ...] = ()
    men: str | None = None
    women: str | None = None
    sequences: int = 6_000
    seed: int = 1
    each: bool = False


@dataclass(frozen=True, slots=True)
class Plan:
    """Who plays what: each member's ``own`` tee, the ``golfers``, all ``setups``, and by golfer those played."""

    own: tuple[str | None, ...]
    golfers: Golfers
    setups: tuple[Setup, ...]
    played: tuple[tuple[int, ...], ...]


def plan_of(course: Course, members: Sequence[FieldMember], request: FieldRequest) -> Plan:
    """Return who plays what.

    Raises
    ------
    BadRequest
        Where a hole has no such tee or pin, or a member of some sex has no tee.
    """
    first = request.tees[0] if request.tees else next(iter(course.tees), None)
    by_sex = {"m": request.men, "w": request.women}
    own = tuple(member.tee or by_sex.get(member.sex or "") or first for member in members)
    pin = request.pins[0] if request.pins else None
    golfers = golfers_for(members, each=request.each)
    wanted: list[set[Setup]] = [set() for _ in golfers.golfers]
    for tee, shares in zip(own, golfers.shares, strict=True):
        for number, _ in shares:
            wanted[number] |= {(tee, pin), *((one, pin) for one in request.tees)}
            wanted[number] |= {(tee, other) for other in request.pins}
    setups = tuple(sorted(set().union(*wanted), key=lambda setup: tuple(name or "" for name in setup)))
    for tee, other in setups:
        refuse_unknown(course, tee, other)
    played = tuple(tuple(k for k, setup in enumerate(setups) if setup in some) for some in wanted)
    return Plan(own, golfers, setups, played)


def pieces_of(course: Course, holes: Sequence[SentHole], plan: Plan, request: FieldRequest) -> list[Piece]:
    """Return a piece for every hole and golfer, hole by hole."""
    asked = {"sequences": request.sequences, "seed": request.seed, "day": dict(request.day)}
    return [
        Piece(
            f"hole {number + 1} for a golfer of index {who[0]:g}, driver {who[1]:g} yd",
            hole_piece,
            (list(sent), list(who), [list(plan.setups[k]) for k in played], number, asked),
        )
        for number, sent in enumerate(holes)
        for who, played in zip(plan.golfers.golfers, plan.played, strict=True)
    ]


# ─── The laws, and what is linear in them ───────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Estimate:
    """A value, its standard error, and half the width of its simultaneous interval."""

    value: float
    se: float
    within: float = 0.0

    @property
    def sure(self) -> bool:
        """Whether the interval leaves 0 out."""
        return abs(self.value) > self.within + TINY


@dataclass(frozen=True, slots=True)
class Group:
    """Members by index: ``title`` and the ``members`` by number."""

    title: str
    members: tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Asking:
    """A mean over members of some figure of their scores: a member's score in ``setup`` counts as ``worth`` says.

    ``worth`` float64[member, LAW]; ``against`` is the set-up taken off, by member (None: nothing is).
    """

    members: tuple[int, ...]
    setup: tuple[int, ...]
    worth: Floats
    against: tuple[int, ...] | None = None
    off: Floats | None = None


class Laws:
    """One hole: what all golfers' laws are; ``known`` tells which members' golfers were all delivered."""

    def __init__(self, plan: Plan, results: Sequence[Sequence[str] | None]) -> None:
        size = len(plan.setups)
        self.plan = plan
        self.law = np.zeros((len(results), size * LAW))
        self.covariance: list[tuple[NDArray[np.int64], Floats]] = []
        for number, (result, played) in enumerate(zip(results, plan.played, strict=True)):
            here = (np.array(played)[:, None] * LAW + np.arange(LAW)).ravel()
            law, covariance = map(unpacked, result or [packed(np.zeros(here.size)), packed(np.zeros((here.size,) * 2))])
            self.law[number, here] = law.ravel()
            self.covariance.append((here, covariance))
        failed = {number for number, result in enumerate(results) if result is None}
        self.known = np.array([not failed & {n for n, _ in shares} for shares in plan.golfers.shares])

    def estimates(self, asked: Sequence[Asking]) -> tuple[Floats, Floats]:
        """Return the values float64[n] of what is asked, and their covariance; nan where nobody is known."""
        weights = np.zeros((len(asked), *self.law.shape))
        for row, one in enumerate(asked):
            members = [m for m in one.members if self.known[m]]
            for m in members:
                for number, share in self.plan.golfers.shares[m]:
                    at = one.setup[m] * LAW
                    weights[row, number, at : at + LAW] += share / len(members) * one.worth[m]
                    if one.against is not None and one.off is not None:
                        at = one.against[m] * LAW
                        weights[row, number, at : at + LAW] -= share / len(members) * one.off[m]
            if not members:
                weights[row] = np.nan
        covariance = np.zeros((len(asked), len(asked)))
        for number, (here, own) in enumerate(self.covariance):
            part = np.nan_to_num(weights[:, number][:, here])
            covariance += part @ own @ part.T
        return np.asarray(np.tensordot(weights, self.law, axes=2)), covariance


def groups_of(members: Sequence[FieldMember]) -> tuple[Group, ...]:
    """Return the members by index, groups without any left out, then all of them."""
    bounds, found = (-np.inf, *GROUPS, np.inf), []
    for low, high in pairwise(bounds):
        inside = tuple(m for m, member in enumerate(members) if low <= member.index < high)
        if inside:
            title = (
                f"under {high:g}"
                if low == -np.inf
                else f"{low:g} and over"
                if high == np.inf
                else f"{low:g} to {high:g}"
            )
            found.append(Group(title, inside))
    every = Group("all", tuple(range(len(members))))
    return (*found, every) if len(found) > 1 else (every,)


# ─── Strokes received ───────────────────────────────────────────────────────────────────────────────────────────────


class _Card:
    """What every member receives: net pars and course handicaps by tee, worked out once for each index and tee."""

    def __init__(self, course: Course, members: Sequence[FieldMember]) -> None:
        self.course, self.members = course, members
        self.someone = golfer(18.0, 200.0)
        self._strokes: dict[tuple[float, str | None], list[int]] = {}

    def net_par(self, member: int, tee: str | None, hole: int) -> int:
        """Return par and strokes received on a hole, by the playing handicap of stroke play."""
        key = (self.members[member].index, tee)
        if key not in self._strokes:
            self._strokes[key] = strokes_on(self.course, replace(self.someone, handicap_index=key[0]), tee)[0]
        return self.course.holes[hole].par + self._strokes[key][hole]

    def course_handicap(self, member: int, tee: str | None) -> float:
        """Return the course handicap, unrounded (Rule 6.1)."""
        one = replace(self.someone, handicap_index=self.members[member].index)
        found = handicap_of(self.course, card_of(self.course, tee), one, tee, 1.0).course
        return float(found or 0.0)


# ─── The answer ─────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class FieldHole:
    """One hole from everybody's own tee: ``scores`` and ``blow_ups`` (net double bogey or worse) by group."""

    scores: tuple[Estimate, ...]
    blow_ups: tuple[Estimate, ...]


@dataclass(frozen=True, slots=True)
class Allocation:
    """Where strokes should fall. By hole: ``difficulty`` relative to par, its ``rank``, and the ranks it ``may`` have.

    ``today`` are the card's indexes, None where any is missing; ``proposed`` those by difficulty; ``asked`` what the
    guidance asks, of the proposed and of today's.
    """

    difficulty: tuple[Estimate, ...]
    rank: tuple[int, ...]
    may: tuple[tuple[int, int], ...]
    today: tuple[int, ...] | None
    proposed: tuple[int, ...]
    asked: tuple[Asked, ...]
    asked_today: tuple[Asked, ...]

    @property
    def off(self) -> float | None:
        """How many places today's indexes are from the proposed ones, on average; None where there are none."""
        if self.today is None:
            return None
        return float(
            np.mean(np.abs(np.subtract(places([-i for i in self.today]), places([-i for i in self.proposed]))))
        )


@dataclass(frozen=True, slots=True)
class Difference:
    """What a set-up changes, strokes and blow-ups a round: ``by_group`` in all, ``by_hole`` for everybody."""

    title: str
    by_group: tuple[tuple[Estimate, Estimate], ...]
    by_hole: tuple[tuple[Estimate, Estimate], ...]


@dataclass(frozen=True, slots=True)
class Tees:
    """Whether two tees are fair: net scores from ``tee`` less those from ``base``, after each one's course handicaps.

    ``by_group`` above 0: harder than its ratings say. ``rated`` tells whether both have course rating and slope.
    """

    base: str
    tee: str
    by_group: tuple[Estimate, ...]
    rated: bool


@dataclass(frozen=True, slots=True)
class Field:
    """The answer; members with a golfer that failed on a hole are left out there, nan where that leaves nobody."""

    course: Course
    request: FieldRequest
    members: tuple[FieldMember, ...]
    plan: Plan
    groups: tuple[Group, ...]
    holes: tuple[FieldHole, ...]
    allocation: Allocation
    differences: tuple[Difference, ...]
    tees: tuple[Tees, ...]


SCORES: Final = np.arange(LAW, dtype=float)
Worth = Callable[[int, int], Floats]  # member, set-up → float64[LAW]


class _Asked:
    """Questions of one hole, put together by set-up and group."""

    def __init__(self, plan: Plan, card: _Card, hole: int) -> None:
        self.plan, self.card, self.hole = plan, card, hole

    def blow_up(self, member: int, setup: int) -> Floats:
        """Return what counts as a blow-up for a member from a set-up's tee."""
        return np.asarray(self.card.net_par(member, self.plan.setups[setup][0], self.hole) + 2 <= SCORES, float)

    def of(self, group: Group, setup: Sequence[int], worth: Worth, against: Sequence[int] | None = None) -> Asking:
        """Return a question; ``setup`` and ``against`` are by member."""
        many = range(len(setup))
        off = None if against is None else np.array([worth(m, against[m]) for m in many])
        return Asking(
            group.members,
            tuple(setup),
            np.array([worth(m, setup[m]) for m in many]),
            None if against is None else tuple(against),
            off,
        )

    def both(self, group: Group, setup: Sequence[int], against: Sequence[int] | None = None) -> list[Asking]:
        """Return the questions of strokes and blow-ups."""
        return [self.of(group, setup, worth, against) for worth in (lambda _m, _s: SCORES, self.blow_up)]


def _estimates(values: Floats, covariance: Floats, *, simultaneous: bool = True) -> list[Estimate]:
    """Return estimates with simultaneous intervals over all of them."""
    error = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    critical = together(covariance) if simultaneous else 0.0
    return [Estimate(float(v), float(e), critical * float(e)) for v, e in zip(values, error, strict=True)]


def _allocation(
    course: Course, laws: Sequence[Laws], base: Sequence[int], members: Sequence[FieldMember]
) -> Allocation:
    """Return where strokes should fall for the better and the worse half of the members.

    Where all of a half failed on a hole, everybody else stands for it.
    """
    order = sorted(range(len(members)), key=lambda m: (members[m].index, m))
    half = (len(order) + 1) // 2
    halves = [tuple(order[:half]), tuple(order[-half:])]
    worth = np.tile(SCORES, (len(members), 1))
    values, variances = [], []
    for hole, law in zip(course.holes, laws, strict=True):
        whom = [some if law.known[list(some)].any() else tuple(order) for some in halves]
        (better, worse), covariance = law.estimates([Asking(some, tuple(base), worth) for some in whom])
        values.append(difficulty(float(better), float(worse), hole.par))
        variances.append(float(covariance.sum()))
    if not np.isfinite(values).all():
        raise BadRequest("too many pieces of work failed to tell how difficult the holes are")
    today = [hole.stroke_index for hole in course.holes]
    known = tuple(index for index in today if index is not None)
    complete = known if len(known) == len(today) else None
    proposed = proposed_indexes(values)
    return Allocation(
        difficulty=tuple(_estimates(np.array(values), np.diag(variances))),
        rank=places(values),
        may=_may(np.array(values), np.array(variances)),
        today=complete,
        proposed=proposed,
        asked=asked_of(proposed, values),
        asked_today=() if complete is None else asked_of(complete, values),
    )


def _may(values: Floats, variances: Floats) -> tuple[tuple[int, int], ...]:
    """Return the ranks that each hole may have: all pairs of holes compared at once."""
    many = values.size
    first, second = np.triu_indices(many, 1)
    turn = np.zeros((first.size, many))
    turn[np.arange(first.size), first], turn[np.arange(first.size), second] = 1.0, -1.0
    covariance = turn @ np.diag(variances) @ turn.T
    bound = together(covariance) * np.sqrt(np.diag(covariance))
    gap = turn @ values
    harder = np.zeros((many, many), bool)
    harder[first, second], harder[second, first] = gap > bound, gap < -bound
    return tuple((1 + int(harder[:, i].sum()), many - int(harder[i].sum())) for i in range(many))


def _differences(
    plan: Plan, ask: Sequence[_Asked], laws: Sequence[Laws], groups: Sequence[Group], request: FieldRequest
) -> list[Difference]:
    """Return what each tee and each pin does against the first ones."""
    number, pin = {setup: k for k, setup in enumerate(plan.setups)}, request.pins[0] if request.pins else None
    pairs: list[tuple[str, list[int], list[int]]] = []
    for tee in request.tees[1:]:
        to, base = number[tee, pin], number[request.tees[0], pin]
        pairs.append((f"{tee} tee instead of {request.tees[0]}", [to] * len(plan.own), [base] * len(plan.own)))
    for other in request.pins[1:]:
        to_pin, from_pin = [number[tee, other] for tee in plan.own], [number[tee, pin] for tee in plan.own]
        pairs.append((f"pin {other} instead of {pin}", to_pin, from_pin))
    if not pairs:
        return []
    by_hole = []
    for one, law in zip(ask, laws, strict=True):
        asked = [q for _, to, base in pairs for group in groups for q in one.both(group, to, base)]
        by_hole.append(law.estimates(asked))
    return _told_differences([title for title, _, _ in pairs], len(groups), by_hole)


def _told_differences(
    titles: Sequence[str], groups: int, by_hole: Sequence[tuple[Floats, Floats]]
) -> list[Difference]:  # fmt: skip
    """Return differences from values and covariances by hole, ordered by title, group, and strokes and blow-ups."""
    values = np.sum([value for value, _ in by_hole], axis=0)
    whole = _estimates(values, np.sum([covariance for _, covariance in by_hole], axis=0))
    every = [2 * (place * groups + groups - 1) + stat for place in range(len(titles)) for stat in (0, 1)]
    size = len(every)
    block = np.zeros((size * len(by_hole),) * 2)
    for hole, (_, covariance) in enumerate(by_hole):
        here = slice(hole * size, (hole + 1) * size)
        block[here, here] = covariance[np.ix_(every, every)]
    single = _estimates(np.concatenate([value[every] for value, _ in by_hole]), block)
    found = []
    for place, title in enumerate(titles):
        start = 2 * place * groups
        by_group = tuple((whole[start + 2 * g], whole[start + 2 * g + 1]) for g in range(groups))
        at = [hole * size + 2 * place for hole in range(len(by_hole))]
        found.append(Difference(title, by_group, tuple((single[k], single[k + 1]) for k in at)))
    return found


def _tees(
    course: Course, plan: Plan, card: _Card, groups: Sequence[Group], laws: Sequence[Laws], request: FieldRequest
) -> list[Tees]:  # fmt: skip
    """Return whether each tee is fair to the first, by net scores; nothing where the card has no course handicaps."""
    if len(course.holes) not in ROUNDS:
        return []
    number, pin = {setup: k for k, setup in enumerate(plan.setups)}, request.pins[0] if request.pins else None
    worth, many, found = np.tile(SCORES, (len(plan.own), 1)), len(plan.own), []
    base = request.tees[0] if request.tees else ""
    for tee in request.tees[1:]:
        to, back = (number[tee, pin],) * many, (number[base, pin],) * many
        asked = [Asking(group.members, to, worth, back, worth) for group in groups]
        by_hole = [law.estimates(asked) for law in laws]
        less = [
            float(np.mean([card.course_handicap(m, tee) - card.course_handicap(m, base) for m in group.members]))
            for group in groups
        ]
        values = np.sum([value for value, _ in by_hole], axis=0) - less
        estimates = _estimates(values, np.sum([covariance for _, covariance in by_hole], axis=0))
        cards = [course.tees.get(name) for name in (base, tee)]
        rated = all(one is not None and one.course_rating is not None and one.slope is not None for one in cards)
        found.append(Tees(base, tee, tuple(estimates), rated))
    return found


def field_of(
    course: Course, members: Sequence[FieldMember], request: FieldRequest, plan: Plan, delivered: Delivered
) -> Field:
    """Return what the pieces of ``pieces_of`` come to.

    Raises
    ------
    BadRequest
        Where too many failed to tell of the holes.
    """
    many = len(plan.golfers.golfers)
    laws = [Laws(plan, delivered.results[hole * many : (hole + 1) * many]) for hole in range(len(course.holes))]
    card, groups = _Card(course, members), groups_of(members)
    number, pin = {setup: k for k, setup in enumerate(plan.setups)}, request.pins[0] if request.pins else None
    base = [number[tee, pin] for tee in plan.own]
    ask, holes = [_Asked(plan, card, hole) for hole in range(len(course.holes))], []
    for one, law in zip(ask, laws, strict=True):
        asked = [question for group in groups for question in one.both(group, base)]
        told = _estimates(*law.estimates(asked), simultaneous=False)
        holes.append(FieldHole(tuple(told[0::2]), tuple(told[1::2])))
    return Field(
        course=course,
        request=request,
        members=tuple(members),
        plan=plan,
        groups=groups,
        holes=tuple(holes),
        allocation=_allocation(course, laws, base, members),
        differences=tuple(_differences(plan, ask, laws, groups, request)),
        tees=tuple(_tees(course, plan, card, groups, laws, request)),
    )
