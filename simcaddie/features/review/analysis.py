"""Rounds looked back on: what choice, execution and luck cost, by club and kind of stroke, and what of it repeats.

A mean over few strokes is mostly noise. How far execution spreads for the player himself is known stroke by stroke
(``Entry.spreads``), so the standard error s of a group's mean is; against it stands how much a player's strokes truly
differ from his file, sd τ. The mean that is told is shrunk to m τ² / (τ² + s²), its variance 1 / (1/τ² + 1/s²): a
normal mean with a normal prior. Only where nine in ten of that lie on one side of nothing it is called what repeats.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import Final, NamedTuple

from simcaddie.decision.ledger import Entry, HoleLedger
from simcaddie.decision.options import swing_title
from simcaddie.decision.request import LEVEL
from simcaddie.decision.told import kind_of_stroke
from simcaddie.decision.walk import Card, Walk, walk_round
from simcaddie.fitting.rounds import RoundRow
from simcaddie.player.swing import Player

__all__ = ["KINDS", "Decision", "Gained", "Group", "Review", "Shrunk", "review", "shrunk"]

KINDS: Final = {"tee": "tee shots", "approach": "approaches", "touch": "touch shots", "putting": "putts"}
DEAREST: Final = 3
TAU: Final = 0.05  # strokes a stroke: what a swing a fifth wider costs, about; common practice, no source
NINE_IN_TEN: Final = 1.645


class Shrunk(NamedTuple):
    """What a group costs a round: as counted, shrunk, and where nine in ten of the truth lie."""

    counted: float
    mean: float
    low: float
    high: float

    @property
    def repeats(self) -> bool:
        """Whether it is more than noise."""
        return self.low > 0.0 or self.high < 0.0


def shrunk(costs: Sequence[float], sds: Sequence[float], rounds: int, tau: float = TAU) -> Shrunk:
    """Return what strokes cost a round from their costs and the sds that these have by chance.

    >>> shrunk([0.4, 0.5, 0.3], [0.6, 0.6, 0.6], 1).repeats
    False
    """
    count = len(costs)
    if not count:
        return Shrunk(0.0, 0.0, 0.0, 0.0)
    variance = max(sum(sd * sd for sd in sds), 1e-12) / count**2
    share = tau**2 / (tau**2 + variance)
    mean, sd = share * sum(costs) / count, math.sqrt(share * variance)
    scale = count / rounds
    return Shrunk(
        sum(costs) / rounds, scale * mean, scale * (mean - NINE_IN_TEN * sd), scale * (mean + NINE_IN_TEN * sd)
    )


@dataclass(frozen=True, slots=True)
class Group:
    """Strokes of a club or a kind: how many, the three parts of what they cost, and their execution shrunk.

    Putts have no choice and no luck: what they cost counts as execution.
    """

    name: str
    strokes: int
    choice: float
    execution: float
    luck: float
    steady: Shrunk

    @property
    def cost(self) -> float:
        """What they cost in all."""
        return self.choice + self.execution + self.luck


@dataclass(frozen=True, slots=True)
class Decision:
    """A choice that cost something: its round, its hole, the stroke."""

    card: Card
    ledger: HoleLedger
    entry: Entry


@dataclass(frozen=True, slots=True)
class Gained:
    """Strokes gained against a reference golfer, all rounds together, by kind of stroke; ``total`` is their sum."""

    golfer: Player
    kinds: dict[str, float]

    @property
    def total(self) -> float:
        """What the reference golfer would have needed more."""
        return sum(self.kinds.values())


@dataclass(frozen=True)
class Review:
    """Rounds of one player on one course, looked back on."""

    walk: Walk
    cards: tuple[Card, ...]
    gained: Gained | None = None

    @property
    def ledgers(self) -> tuple[HoleLedger, ...]:
        """The holes of all rounds."""
        return tuple(ledger for card in self.cards for ledger in card.ledgers)

    def _strokes(self) -> Iterable[tuple[HoleLedger, Entry]]:
        return ((ledger, entry) for ledger in self.ledgers for entry in ledger.entries)

    @cached_property
    def clubs(self) -> tuple[Group, ...]:
        """The clubs by what they cost, dearest first; putts are one."""
        return self._groups(lambda _, entry: swing_title(self.walk.player, entry.option.swing), "putter")

    @cached_property
    def kinds(self) -> tuple[Group, ...]:
        """The kinds of stroke, in the order of ``KINDS``."""
        found = self._groups(lambda ledger, entry: KINDS[kind_of_stroke(ledger.reckoner, entry)], KINDS["putting"])
        return tuple(sorted(found, key=lambda group: [*KINDS.values()].index(group.name)))

    def _groups(self, name: Callable[[HoleLedger, Entry], str], putter: str) -> tuple[Group, ...]:
        rows: dict[str, list[Entry]] = {}
        for ledger, entry in self._strokes():
            rows.setdefault(name(ledger, entry), []).append(entry)
        found = [_group(title, entries, len(self.cards)) for title, entries in rows.items()]
        putts = [ledger.putted for ledger in self.ledgers if ledger.putted is not None]
        if putts:
            costs, sds = [putted.cost for putted in putts], [putted.sd for putted in putts]
            steady, count = shrunk(costs, sds, len(self.cards)), sum(putted.taken for putted in putts)
            found.append(Group(putter, count, 0.0, sum(costs), 0.0, steady))
        return tuple(sorted(found, key=lambda group: -group.cost))

    @cached_property
    def dearest(self) -> tuple[Decision, ...]:
        """The decisions that cost most, those left out that cost less than the model can tell."""
        every = (
            Decision(card, ledger, entry)
            for card in self.cards
            for ledger in card.ledgers
            for entry in ledger.entries
            if entry.choice >= LEVEL
        )
        return tuple(sorted(every, key=lambda decision: -decision.entry.choice)[:DEAREST])

    @property
    def unknown(self) -> int:
        """How many finishes none of the player's own balls has."""
        return sum(not entry.known for _, entry in self._strokes())


def _group(title: str, entries: Sequence[Entry], rounds: int) -> Group:
    choice, execution, luck = (
        sum(getattr(entry, part) for entry in entries) for part in ("choice", "execution", "luck")
    )
    steady = shrunk([entry.execution for entry in entries], [entry.spreads[0] for entry in entries], rounds)
    return Group(title, len(entries), choice, execution, luck, steady)


def _gained(ledgers: Iterable[HoleLedger], walk: Walk) -> Gained:
    """Return strokes gained against the golfer of ``walk``: what he needs before a stroke, less after, less its own."""
    kinds = dict.fromkeys(KINDS, 0.0)
    for ledger in ledgers:
        other = walk.reckoner(ledger.number)
        for entry in ledger.entries:
            kind = kind_of_stroke(ledger.reckoner, entry)
            kinds[kind] += other.worth(entry.place) - entry.added - other.worth(entry.after)
        if ledger.putted is not None:
            kinds["putting"] += other.worth(ledger.putted.place) - ledger.putted.taken
    return Gained(walk.player, kinds)


def review(
    walk: Walk,
    rounds: Sequence[tuple[str, Sequence[RoundRow]]],
    against: Walk | None = None,
    done: Callable[[], None] | None = None,
) -> Review:
    """Return rounds looked back on: (file, strokes) each; ``against`` plays for the reference golfer.

    Raises
    ------
    BadFile
        With the faults of a round, each with its line.
    BadRequest
        Where a hole has no such tee or pin.
    """
    cards = tuple(walk_round(walk, name, rows, done) for name, rows in rounds)
    gained = _gained((ledger for card in cards for ledger in card.ledgers), against) if against is not None else None
    return Review(walk, cards, gained)
