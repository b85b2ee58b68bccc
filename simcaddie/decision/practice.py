"""What practice pays: the round replayed with one thing better at a time, against the round as it is.

Closing the gap: a thing that is worse than that of a golfer five strokes better (``skill``, same carries) becomes as
good; what is as good already stays. Numbers from the range are held against the model on the course, after what
``range_to_course`` makes of them. A side bias is no part of that gap: the model has none.

Both rounds play the same sequences (common random numbers) by the same policy, found for the player as the file says.
So a difference is that of the strokes alone, and on the low side: a golfer who gets better would choose better as well
(by how much stands in ``features/round``). Only where a side bias goes is every aim line of the swing turned with it,
as the player aimed off for it before. Standard errors are taken over mirrored pairs of differences. Every day is alike
here: day form has no part in what a skill is worth.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.parallel import each
from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.base.surfaces import TouchLie
from simcaddie.course.course import Course
from simcaddie.decision.rounds import Policied, refuse_unknown, set_hole, tee_of
from simcaddie.model import arrays as r
from simcaddie.model.build import pack_putting, pack_swings, pack_touch, steepest_green
from simcaddie.player.skill import USUAL_INDEX, Skill, skill_of, touch_of
from simcaddie.player.swing import Player, Putting, Swing
from simcaddie.simulate import BY_SWING, PUTTING
from simcaddie.weather.day import STANDARD, Day

__all__ = [
    "MOST_THAT_PAY",
    "Gain",
    "HoleGains",
    "Practice",
    "PracticeRow",
    "Replayed",
    "Thing",
    "better_at",
    "closed",
    "halved",
    "straightened",
    "that_pay",
    "tightened",
    "what_pays",
]

STROKES_BETTER: Final = 5.0
MOST_THAT_PAY: Final = 6  # swings that are told of: more is no priority
TIGHTER: Final = 0.9

Floats = NDArray[np.float64]
Change = Callable[[Player, Swing], Swing]


def target_skill(player: Player) -> Skill:
    """Return the skill of a golfer ``STROKES_BETTER`` strokes better than the player."""
    index = USUAL_INDEX if player.handicap_index is None else player.handicap_index
    return skill_of(index - STROKES_BETTER)


def closed(player: Player, swing: Swing) -> Swing:
    """Return a swing with its gap to the better golfer closed: spreads and mishits no worse than the model's."""
    skill, transfer = target_skill(player), player.range_to_course.of(swing.source)
    part, both = swing.name != "full", swing.fat + swing.thin
    mishits = skill.share_of_mishits(part=part) / (transfer.mishits or 1.0)
    fewer = min(1.0, mishits / both) if both > 0.0 else 1.0
    return replace(
        swing,
        carry_sd=min(swing.carry_sd, skill.spread_of_carry(swing.carry, part=part) / transfer.spread),
        side_sd=min(swing.side_sd, skill.side_sd(swing.carry, swing.loft) / transfer.spread),
        fat=swing.fat * fewer,
        thin=swing.thin * fewer,
    )


def tightened(_player: Player, swing: Swing) -> Swing:
    """Return a swing with a tenth less spread, in carry and side."""
    return replace(swing, carry_sd=TIGHTER * swing.carry_sd, side_sd=TIGHTER * swing.side_sd)


def halved(_player: Player, swing: Swing) -> Swing:
    """Return a swing with half the mishits."""
    return replace(swing, fat=swing.fat / 2.0, thin=swing.thin / 2.0)


def straightened(_player: Player, swing: Swing) -> Swing:
    """Return a swing without side bias; a curve stays as it is, turned with the rest."""
    start = swing.start_line
    if start is not None:
        start = math.degrees(math.atan(math.tan(math.radians(start)) - swing.side / swing.carry))
    return replace(swing, side=0.0, start_line=start)


def _touch(player: Player, change: Change) -> dict[str, TouchLie]:
    if change is closed:
        model, every = touch_of(target_skill(player)), ("near", "far", "direction", "fat", "thin", "fail")
        return {
            kind: replace(mine, **{key: min(getattr(mine, key), getattr(model[kind], key)) for key in every})
            for kind, mine in player.touch.items()
        }
    keys, share = (("fat", "thin"), 0.5) if change is halved else (("near", "far", "direction"), TIGHTER)
    return {
        kind: replace(mine, **{key: share * getattr(mine, key) for key in keys}) for kind, mine in player.touch.items()
    }


def _putting(player: Player, change: Change) -> Putting:
    mine = player.putting
    if change is closed:
        model = target_skill(player).putting
        direction, distance = min(mine.direction_sd, model.direction_sd), min(mine.distance_sd, model.distance_sd)
    else:
        direction, distance = TIGHTER * mine.direction_sd, TIGHTER * mine.distance_sd
    return replace(mine, direction_sd=direction, distance_sd=distance)


def better_at(
    player: Player, change: Change, swings: set[int], *, touch: bool = False, putting: bool = False
) -> Player:
    """Return the player with ``change`` (``closed``, ``tightened`` …) made to the swings by number, touch and putting.

    Touch shots can be closed, tightened and halved, putts closed and tightened.
    """
    titles = {player.swings[number].title for number in swings}
    better = player.with_swings(lambda swing: change(player, swing) if swing.title in titles else swing)
    if touch:
        better = replace(better, touch=_touch(player, change))
    return replace(better, putting=_putting(player, change)) if putting else better


CHANGES: Final = {"gap": closed, "tighter": tightened, "mishits": halved, "bias": straightened}
SELDOM: Final = 0.1  # strokes a round: swings played less often are left out
FEWEST_SEQUENCES: Final = 1000


@dataclass(frozen=True, slots=True)
class Thing:
    """What can be practised: a swing by number (``title`` says it), touch, or putting; or several at once."""

    title: str
    swings: tuple[int, ...] = ()
    touch: bool = False
    putting: bool = False

    @property
    def changes(self) -> tuple[str, ...]:
        """The keys of ``CHANGES`` that make sense for it."""
        if self.swings and not self.putting:
            return tuple(CHANGES)
        if self.swings:
            return ("gap",)
        return ("gap", "tighter", "mishits") if self.touch else ("gap", "tighter")

    def of(self, played: Floats) -> float:
        """Return how many strokes it plays, of ``played`` float64[swings + 2]: by swing, then touch, then putting."""
        *_, touch, putting = played
        return float(played[list(self.swings)].sum() + self.touch * touch + self.putting * putting)


class Gain(NamedTuple):
    """Strokes a round saved, and the standard error."""

    saved: float
    se: float


@dataclass(frozen=True, slots=True)
class PracticeRow:
    """One thing: how many strokes a round it plays, and what each change of it saves, by the keys of ``CHANGES``."""

    thing: Thing
    played: float
    gains: dict[str, Gain]

    @property
    def gap(self) -> Gain:
        """What closing the gap to a golfer five strokes better saves."""
        return self.gains["gap"]


@dataclass(frozen=True, slots=True)
class Practice:
    """The answer: ``rows`` best first, ``swings`` all swings at once, ``everything`` all gaps closed at once.

    ``mean`` strokes a round, good and bad days left out; ``seldom`` are swings that a round hardly needs; no ``day``: a
    standard one.
    """

    course: Course
    player: Player
    tee: str | None
    day: Day | None
    sequences: int
    seed: int
    mean: float
    rows: tuple[PracticeRow, ...]
    swings: PracticeRow
    everything: Gain
    seldom: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class _Variant:
    """A player better at one thing, packed for a day; ``turns`` of the aim lines, float64[swings] in radians."""

    thing: int
    change: str
    player: Player
    swings: r.Swings
    touch: r.Touch
    turns: Floats
    day: Day

    def play(self, ready: Policied, key: np.uint64, n: int) -> NDArray[np.int8]:
        """Play the hole with the better player and the old policy."""
        putting = pack_putting(self.player, steepest_green(ready.hole), self.day)
        problem = ready.problem._replace(swings=self.swings, touch=self.touch, putting=putting)
        return (ready.turned(self.turns) if self.turns.any() else ready).play(problem, key, n)


def _things(player: Player) -> list[Thing]:
    """Return every swing, touch, putting, then all swings together, and everything."""
    every = tuple(range(len(player.swings)))
    single = [Thing(swing.title, (number,)) for number, swing in enumerate(player.swings)]
    return [
        *single,
        Thing("touch shots", touch=True),
        Thing("putting", putting=True),
        Thing("all swings at once", every),
        Thing("everything at once", every, touch=True, putting=True),
    ]


def _variants(player: Player, things: list[Thing], day: Day) -> list[_Variant]:
    made = []
    for number, thing in enumerate(things):
        for change in thing.changes:
            better = better_at(player, CHANGES[change], set(thing.swings), touch=thing.touch, putting=thing.putting)
            turns = [math.atan2(a.side - b.side, a.carry) for a, b in zip(player.swings, better.swings, strict=True)]
            packed = pack_swings(better), pack_touch(better, day)
            made.append(_Variant(number, change, better, *packed, np.array(turns), day))
    return made


def _pairs(counts: NDArray[np.int8]) -> Floats:
    """Return the mean score of each mirrored pair."""
    return np.asarray(counts[:, :BY_SWING].sum(axis=1).reshape(-1, 2).mean(axis=1), np.float64)


class HoleGains(NamedTuple):
    """Mean score, strokes by swing, touch and putting, and per variant the mean gain and its variance."""

    mean: float
    played: Floats
    gain: Floats
    variance: Floats


def _hole_gains(ready: Policied, things: list[Thing], variants: list[_Variant], key: np.uint64, n: int) -> HoleGains:
    """Play a hole as it is and with every variant; those of swings that it never calls for change nothing."""
    base = ready.play(ready.problem, key, n, by_swing=True)
    played = np.append(base[:, BY_SWING:].mean(axis=0), base[:, PUTTING].mean())
    scores = _pairs(base)
    gain, variance = np.zeros(len(variants)), np.zeros(len(variants))
    for number, variant in enumerate(variants):
        if things[variant.thing].of(played) == 0.0:
            continue
        saved = scores - _pairs(variant.play(ready, key, n))
        gain[number], variance[number] = saved.mean(), saved.var(ddof=1) / saved.size
    return HoleGains(float(scores.mean()), played, gain, variance)


@dataclass(frozen=True, slots=True)
class Replayed:
    """What a player's holes are replayed with: every thing that can be practised, and the player better at each."""

    things: list[Thing]
    variants: list[_Variant]

    @classmethod
    def of(cls, player: Player, day: Day) -> Replayed:
        """Return it for a player on a day."""
        things = _things(player)
        return cls(things, _variants(player, things, day))

    def hole(self, ready: Policied, number: int, sequences: int, seed: int) -> HoleGains:
        """Replay one hole, ``number`` from 0 on the course."""
        key = kernel_key(seed, Purpose.PRACTICE + number)
        return _hole_gains(ready, self.things, self.variants, key, 2 * (sequences // 2))

    def ranked(self, found: Sequence[HoleGains]) -> tuple[list[PracticeRow], Gain, tuple[str, ...], float]:
        """Return the rows, best first and all swings at once last; everything at once; what is seldom; the mean."""
        played = np.sum([hole.played for hole in found], axis=0)
        gain = np.sum([hole.gain for hole in found], axis=0)
        error = np.sqrt(np.sum([hole.variance for hole in found], axis=0))
        *single, swings, everything = _rows(self.things, self.variants, played, gain, error)
        kept = sorted((row for row in single if row.played >= SELDOM), key=lambda row: -row.gap.saved)
        seldom = tuple(row.thing.title for row in single if row.played < SELDOM)
        return [*kept, swings], everything.gap, seldom, math.fsum(hole.mean for hole in found)


def what_pays(
    course: Course,
    player: Player,
    *,
    tee: str | None = None,
    pin: str | None = None,
    sequences: int = 10_000,
    seed: int = 1,
    day: Day | None = None,
    done: Callable[[], None] | None = None,
) -> Practice:
    """Return what each thing that can be practised saves on a round of the course; ``done`` is called after each hole.

    No ``day`` is the one that the course file gives, else a standard one.

    Raises
    ------
    BadRequest
        Where a hole has no such tee or pin, or the sequences are too few.
    """
    if sequences < FEWEST_SEQUENCES:
        raise BadRequest(f"at least {FEWEST_SEQUENCES} sequences a hole are needed, not {sequences}")
    from_tee = tee_of(course, tee)
    refuse_unknown(course, from_tee, pin)
    weather = day or course.day or STANDARD
    replayed = Replayed.of(player, weather)

    def one(number: int) -> HoleGains:
        ready = set_hole(course.holes[number], player, from_tee, pin, "best", weather)
        found = replayed.hole(ready, number, sequences, seed)
        if done is not None:
            done()
        return found

    every, everything, seldom, mean = replayed.ranked(each(one, range(len(course.holes))))
    return Practice(
        course=course,
        player=player,
        tee=from_tee,
        day=day or course.day,
        sequences=sequences,
        seed=seed,
        mean=mean,
        rows=tuple(every[:-1]),
        swings=every[-1],
        everything=everything,
        seldom=seldom,
    )


def _rows(
    things: list[Thing], variants: list[_Variant], played: Floats, gain: Floats, error: Floats
) -> list[PracticeRow]:
    gains: list[dict[str, Gain]] = [{} for _ in things]
    for number, variant in enumerate(variants):
        gains[variant.thing][variant.change] = Gain(float(gain[number]), float(error[number]))
    return [PracticeRow(thing, thing.of(played), gains[number]) for number, thing in enumerate(things)]


def that_pay(practice: Practice, many: int = MOST_THAT_PAY) -> tuple[list[PracticeRow], list[PracticeRow]]:
    """Return the swings whose gaps pay most, at most ``many``, and what is practised about the green."""
    swings = [row for row in practice.rows if row.thing.swings]
    return swings[:many], [row for row in practice.rows if not row.thing.swings]
