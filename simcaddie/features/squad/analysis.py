"""A group on a course: for each player the tee, the round, the club on every tee and what pays most to practise.

A piece of work is one hole for one player: its scores on good and bad days, and what every thing that can be practised
would save there. All players meet the same luck on a hole, that of ``round`` and ``practice`` with the same seed.

The tee is the longest from which three in four of the par 4s and 5s are in reach: as long as the player's longest
stroke and, for what is left of par less two, the longest ones without the driver (common practice, no source).
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any, Final

import numpy as np

from simcaddie.base.errors import BadRequest
from simcaddie.base.pieces import Delivered, Piece, packed, unpacked
from simcaddie.course.course import Course
from simcaddie.course.route import length_from
from simcaddie.decision.options import swing_title
from simcaddie.decision.practice import HoleGains, PracticeRow, Replayed
from simcaddie.decision.rounds import (
    HoleScores,
    good_and_bad_days,
    hole_scores,
    refuse_unknown,
    set_hole,
    strokes_on,
)
from simcaddie.io.sent import SentHole, day_from, day_sent, hole_from, player_from
from simcaddie.player.day_form import day_form, form_days
from simcaddie.player.swing import Player
from simcaddie.scoring.pmf import Pmf, mixed, total

__all__ = [
    "Differs",
    "Member",
    "Ordered",
    "Squad",
    "SquadHole",
    "SquadRequest",
    "hole_piece",
    "in_reach",
    "pieces_of",
    "squad_of",
    "suited_tee",
    "tees_by_length",
]

REACHED: Final = 0.75  # of the par 4s and 5s
FEWEST: Final = 3  # players from one tee for a group to differ from
PAYS: Final = 3  # strokes told of


@dataclass(frozen=True, slots=True)
class Ordered:
    """A player of the group: the record, the file's text, and the tee to play from."""

    player: Player
    text: str
    tee: str | None


@dataclass(frozen=True, slots=True)
class SquadRequest:
    """What is asked: a pin by name, how often each hole is played, and for every change of practice; the day sent.

    ``tee`` is the one that was asked for all, None where each plays from the one that suits.
    """

    pin: str | None = None
    sequences: int = 20_000
    practised: int = 4_000
    seed: int = 1
    day: Mapping[str, Any] | None = None
    tee: str | None = None


# ─── A piece ────────────────────────────────────────────────────────────────────────────────────────────────────────


@lru_cache(maxsize=32)
def _replayed(player: str, day: tuple[tuple[str, Any], ...]) -> Replayed:
    return Replayed.of(player_from(player), day_from(dict(day)))


def hole_piece(
    hole: SentHole, player: str, tee: str | None, number: int, asked: Mapping[str, Any]
) -> dict[str, Any]:  # fmt: skip
    """Return one player's hole, ``number`` from 0, as plain data; ``asked`` has the fields of ``SquadRequest``."""
    golfer, day = player_from(player), day_from(asked["day"])
    ready = set_hole(hole_from(hole), golfer, tee, asked["pin"], "best", day)
    scores = hole_scores(ready, good_and_bad_days(golfer), number, asked["sequences"], asked["seed"])
    gains = _replayed(player, tuple(asked["day"].items())).hole(ready, number, asked["practised"], asked["seed"])
    start = ready.problem.states.start
    return {
        "days": packed(scores.days),
        "plain": packed(scores.plain),
        "parts": scores.parts.tolist(),
        "errors": [scores.se, scores.plain_se],
        "gains": [gains.mean, *(packed(np.asarray(one)) for one in gains[1:])],
        "swing": int(ready.policy.swing[start]),
        "bearing": float(ready.policy.bearing[start]),
    }


# ─── Tees ───────────────────────────────────────────────────────────────────────────────────────────────────────────


def _needed(course: Course, tee: str | None) -> list[tuple[int, float]]:
    """Return (strokes by par less two, yards) of the par 4s and 5s, of all holes where there are none."""
    holes = [hole for hole in course.holes if hole.par > 3] or list(course.holes)
    return [(hole.par - 2, length_from(hole, hole.place(tee).at)) for hole in holes]


def in_reach(course: Course, player: Player, tee: str | None) -> float:
    """Return the share of a course's par 4s and 5s that a player reaches from a tee in par less two strokes."""
    first = max(swing.total for swing in player.swings)
    then = max((swing.total for swing in player.swings if swing.club != "driver"), default=first)
    found = [first + (strokes - 1) * then >= yards for strokes, yards in _needed(course, tee)]
    return sum(found) / len(found)


def tees_by_length(course: Course) -> list[str | None]:
    """Return the tees that every hole has, the longest first; [None], each hole's first, where there are none."""
    shared: list[str | None] = [
        name for name in course.holes[0].tees if all(name in hole.tees for hole in course.holes)
    ]

    def length(tee: str | None) -> float:
        return sum(length_from(hole, hole.place(tee).at) for hole in course.holes)

    return sorted(shared, key=length, reverse=True) or [None]


def suited_tee(course: Course, player: Player) -> str | None:
    """Return the longest tee from which enough is in reach, else the shortest."""
    tees = tees_by_length(course)
    return next((tee for tee in tees if in_reach(course, player, tee) >= REACHED), tees[-1])


# ─── The group ──────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class SquadHole:
    """One player's hole: ``club`` on the tee and its ``kind``, ``bearing`` in radians, mean strokes, ``net`` par."""

    club: str
    kind: str
    bearing: float
    net_par: int
    pmf: Pmf
    se: float

    @property
    def blow_up(self) -> float:
        """Chance of net double bogey or worse."""
        return self.pmf.at_least(self.net_par + 2)


@dataclass(frozen=True, slots=True)
class Member:
    """One player of the group; ``holes`` None at those that failed, ``total`` and ``rows`` None where any did.

    ``handicap`` is the playing handicap in stroke play, None without an index or a card; ``reach`` the share of par 4s
    and 5s in reach from ``tee``; ``rows`` what pays, best first.
    """

    player: Player
    tee: str | None
    reach: float
    handicap: int | None
    holes: tuple[SquadHole | None, ...]
    total: Pmf | None
    se: float
    rows: tuple[PracticeRow, ...] | None

    @property
    def blow_ups(self) -> float:
        """Holes of net double bogey or worse, a round."""
        return sum(hole.blow_up for hole in self.holes if hole)

    @property
    def net_par(self) -> int:
        """Par and the strokes received, of the holes that didn't fail."""
        return sum(hole.net_par for hole in self.holes if hole)

    @property
    def pays(self) -> tuple[PracticeRow, ...]:
        """The strokes that pay most to practise."""
        return tuple(row for row in self.rows or () if row.gap.saved > 0.0)[:PAYS]


@dataclass(frozen=True, slots=True)
class Differs:
    """Players who choose otherwise than most of those who play a hole, ``number`` from 1, from the same tee."""

    number: int
    tee: str | None
    most: str
    many: int
    players: tuple[tuple[str, str], ...]  # name, club


@dataclass(frozen=True, slots=True)
class Squad:
    """The answer: ``members`` as they were given, ``differs`` in playing order."""

    course: Course
    request: SquadRequest
    members: tuple[Member, ...]
    differs: tuple[Differs, ...]


def pieces_of(
    course: Course, holes: Sequence[SentHole], group: Sequence[Ordered], request: SquadRequest
) -> list[Piece]:  # fmt: skip
    """Return a piece for every player and hole, player by player.

    Raises
    ------
    BadRequest
        Where a hole has no such tee or pin.
    """
    for tee in {one.tee for one in group}:
        refuse_unknown(course, tee, request.pin)
    for one in group:
        strokes_on(course, one.player, one.tee)
    asked = {
        "pin": request.pin,
        "sequences": request.sequences,
        "practised": request.practised,
        "seed": request.seed,
        "day": request.day or day_sent(course.day),
    }
    return [
        Piece(
            f"hole {number + 1} for {one.player.name}", hole_piece, (list(sent), one.text, one.tee, number, asked)
        )
        for one in group
        for number, sent in enumerate(holes)
    ]  # fmt: skip


def _kind(title: str) -> str:
    return title.rsplit(maxsplit=1)[-1]


def _scores(found: Mapping[str, Any]) -> HoleScores:
    errors = found["errors"]
    return HoleScores(unpacked(found["days"]), unpacked(found["plain"]), np.array(found["parts"]), errors[0], errors[1])


def _gains(found: Mapping[str, Any]) -> HoleGains:
    mean, *arrays = found["gains"]
    return HoleGains(mean, *(unpacked(array) for array in arrays))


def _member(course: Course, one: Ordered, found: Sequence[Mapping[str, Any] | None], request: SquadRequest) -> Member:
    weights = np.array([form.weight for form in form_days(day_form(one.player.handicap_index))])
    strokes, handicap, _ = strokes_on(course, one.player, one.tee)
    scores = [None if data is None else _scores(data) for data in found]
    holes: list[SquadHole | None] = []
    for data, law, hole, gets in zip(found, scores, course.holes, strokes, strict=True):
        if data is None or law is None:
            holes.append(None)
            continue
        title = swing_title(one.player, data["swing"])
        pmf = Pmf(0, weights @ law.days)
        holes.append(SquadHole(title, _kind(title), data["bearing"], hole.par + gets, pmf, law.se))
    whole = [law for law in scores if law is not None]
    complete = len(whole) == len(scores)
    by_day = [total(Pmf(0, law.days[day]) for law in whole) for day in range(weights.size)]
    day = day_from(request.day or day_sent(course.day))
    gains = [_gains(data) for data in found if data is not None]
    rows = Replayed.of(one.player, day).ranked(gains)[0][:-1] if complete else None
    return Member(
        player=one.player,
        tee=one.tee,
        reach=in_reach(course, one.player, one.tee),
        handicap=handicap,
        holes=tuple(holes),
        total=mixed(by_day, list(weights)) if complete else None,
        se=float(np.sqrt(sum(law.se**2 for law in whole))),
        rows=None if rows is None else tuple(rows),
    )


def _differs(course: Course, members: Sequence[Member]) -> list[Differs]:
    """Return who plays another kind of club off a tee than most; par 3s are left out: there it is but a length."""
    found = []
    for number, hole in enumerate(course.holes):
        for tee in dict.fromkeys(member.tee for member in members):
            here = [(m.player.name, one) for m in members if m.tee == tee and (one := m.holes[number])]
            kinds = Counter(one.kind for _, one in here)
            most, many = kinds.most_common(1)[0] if kinds else ("", 0)
            others = tuple((name, one.club) for name, one in here if one.kind != most)
            if hole.par > 3 and len(here) >= FEWEST and 2 * many > len(here) and others:
                found.append(Differs(number + 1, tee, most, many, others))
    return found


def squad_of(course: Course, group: Sequence[Ordered], request: SquadRequest, delivered: Delivered) -> Squad:
    """Return what the pieces of ``pieces_of`` come to.

    Raises
    ------
    BadRequest
        Where every single one failed.
    """
    many, results = len(course.holes), delivered.results[: len(group) * len(course.holes)]
    if all(result is None for result in results):
        name, why = delivered.failed[0]
        raise BadRequest(f"every piece of work failed three times; {name}: {why}")
    members = [
        _member(course, one, results[place * many : (place + 1) * many], request) for place, one in enumerate(group)
    ]
    return Squad(course, request, tuple(members), tuple(_differs(course, members)))
