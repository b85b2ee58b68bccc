"""What rounds say of a player's strokes: finishes as censored observations of strikes.

That a ball finished in the right rough, about 140 yd from the pin, is an interval: it holds all strikes that end there.
Its likelihood under numbers θ of a swing is the chance of such a finish, by importance sampling from strikes b that
were drawn wider than the player's own, p_wide, and played on the hole:

    L(θ) ∝ Σ over the b that finish so of  p_θ(b) / p_wide(b)

On the course a swing has its average carry and side, its two spreads e^u and e^v times as wide as the file says, and
e^w times as many mishits. The file's own doubt is the prior: normal for the averages; for u and v normal about ρ, for
w about μ, which all swings of the range share: they tell how the range comes to the course (``range_to_course``),
and have the priors of ``transfer.py``. Posterior draws come by Gibbs sampling: given the swings ρ and μ are normal;
given them each swing takes a step of differential evolution (C. J. F. ter Braak, Statistics and Computing 16, 2006),
all chains at once.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray
from scipy.special import polygamma

from simcaddie.base.units import YARDS_PER
from simcaddie.fitting.player import in_tenths
from simcaddie.fitting.summary import Told, told, worth_of
from simcaddie.player.pattern import TRUST_SPREAD
from simcaddie.player.posterior import Truths, posterior_of
from simcaddie.player.swing import Player, RangeToCourse, Swing

__all__ = ["FAT", "SOLID", "THIN", "Moved", "RoundRow", "RoundsFit", "Strikes", "fit_rounds"]

Floats = NDArray[np.float64]

FAT, THIN, SOLID = range(3)  # as the kernel numbers strikes
CHAINS: Final = 20
BURN_IN: Final = 150
KEPT: Final = 250
LOG_SPREAD: Final = 0.27  # sd of ρ, as that of log r in ``transfer.py``
LOG_MISHITS: Final = 0.5  # sd of μ
MOST_MISHITS: Final = 0.9
NUMBERS: Final = 5  # of a swing: carry, side, u, v, w
_STEP: Final = 2.38 / np.sqrt(2.0 * NUMBERS)


class RoundRow(NamedTuple):
    """One stroke as a golfer remembers it, in words; ``hole`` counts from 1, ``line`` is that of its file.

    ``putts`` were taken after it, None where that isn't told.
    """

    line: int
    hole: int
    club: str
    aim: str
    finish: str
    drop: str = ""
    putts: int | None = None


@dataclass(frozen=True, slots=True)
class Strikes:
    """Strikes that end as a stroke was seen to: float64[strike] each, yards.

    ``carry`` and ``side`` are level and calm; ``kind`` is FAT, THIN or SOLID. By the file's numbers, from the lie, that
    kind has the mean ``far``, its sd ``far_sd``, the side ``aside``, which grows by ``on`` a sd of carry, its own sd
    ``aside_sd`` and the ``share``; ``mishits`` is that of fat and thin together. ``lie`` is what the lie does to a
    carry, ``wide`` the log density that the strikes were drawn from.
    """

    carry: Floats
    side: Floats
    kind: NDArray[np.int64]
    far: Floats
    far_sd: Floats
    aside: Floats
    on: Floats
    aside_sd: Floats
    share: Floats
    mishits: Floats
    lie: Floats
    wide: Floats


@dataclass(frozen=True, slots=True)
class _Data:
    """The strikes of all finishes of a swing after each other; ``first`` is where each one's begin.

    ``times`` is how often each finish was seen.
    """

    swing: Swing
    strikes: Strikes
    first: NDArray[np.int64]
    times: Floats
    prior: Floats  # sds of the five numbers
    ranged: bool


@dataclass(frozen=True, slots=True)
class Moved:
    """A swing before and after: ``strokes`` seen; carry, side, and its spreads on the course, yd, and mishits there."""

    before: Swing
    after: Swing
    strokes: int
    carry: Told
    side: Told
    carry_spread: Told
    side_spread: Told
    mishits: Told


@dataclass(frozen=True, slots=True)
class RoundsFit:
    """What rounds say: the player after them, each swing that was seen, and both factors of ``range_to_course``."""

    player: Player
    moved: tuple[Moved, ...]
    spread: Told
    mishits: Told
    strokes: int


def _prior_sds(swing: Swing) -> Floats:
    """Return how far the five numbers may be off the file's."""
    belief = posterior_of(swing)
    by_freedom = [0.5 * np.sqrt(polygamma(1, 0.5 * (freedom - 1.0))) for freedom in belief.own]
    mishits = sum(belief.strikes[1:])
    in_log = polygamma(1, max(mishits, 0.5)) - polygamma(1, max(sum(belief.strikes), 1.0))
    sds = [
        swing.carry_sd / np.sqrt(belief.worth[0]),
        swing.side_sd / np.sqrt(belief.worth[1]),
        *by_freedom,
        np.sqrt(max(float(in_log), 1e-4)),
    ]
    return np.asarray(np.maximum(np.array(sds, float), 1e-3), np.float64)


def _likelihood(data: _Data, numbers: Floats) -> Floats:
    """Return the log likelihood of a swing's numbers, float64[chain, 5]: float64[chain]."""
    s = data.strikes
    carry, side, u, v, w = (column[:, None] for column in numbers.T)
    longer, solid = np.maximum(1.0 + carry / data.swing.carry, 0.05), s.kind == SOLID
    far_sd = s.far_sd * np.where(solid, np.exp(u), longer)
    wide = np.exp(v)
    x = (s.carry - s.far * longer) / far_sd
    y = (s.side - s.aside - s.lie * side - s.on * wide * x) / (s.aside_sd * wide)
    mishits = np.minimum(s.mishits * np.exp(w), MOST_MISHITS)
    share = np.where(solid, 1.0 - mishits, s.share * mishits / np.maximum(s.mishits, 1e-12))
    logs = np.log(np.maximum(share, 1e-300) / (far_sd * s.aside_sd * wide)) - 0.5 * (x * x + y * y) - s.wide
    top = np.maximum.reduceat(logs, data.first, axis=1)
    sizes = np.diff(np.append(data.first, s.carry.size))
    sums = np.add.reduceat(np.exp(logs - np.repeat(top, sizes, axis=1)), data.first, axis=1)
    return np.asarray((np.log(sums) + top) @ data.times)


def _log_prior(data: _Data, numbers: Floats, shared: Floats) -> Floats:
    """Return the log prior of a swing's numbers given (ρ, μ), float64[chain, 2]."""
    return np.asarray(-0.5 * (((numbers - _centre(data, shared)) / data.prior) ** 2).sum(axis=1))


def _centre(data: _Data, shared: Floats) -> Floats:
    """Return the prior's means: those of spreads and mishits so that their own means are the file's."""
    centre = np.zeros((shared.shape[0], NUMBERS))
    centre[:, 2:] = -0.5 * data.prior[2:] ** 2
    if data.ranged:
        centre[:, 2:4] += shared[:, :1]
        centre[:, 4] += shared[:, 1]
    return centre


def _step(data: _Data, numbers: Floats, now: Floats, shared: Floats, rng: np.random.Generator) -> tuple[Floats, Floats]:
    """Return a swing's numbers and their log likelihoods after a step of differential evolution in every chain."""
    chains = numbers.shape[0]
    one = (np.arange(chains) + rng.integers(1, chains, chains)) % chains
    other = (one + rng.integers(1, chains, chains)) % chains
    size = np.where(rng.random((chains, 1)) < 0.1, 1.0, _STEP)
    tried = numbers + size * (numbers[one] - numbers[other]) + 1e-3 * data.prior * rng.standard_normal(numbers.shape)
    then = _likelihood(data, tried)
    gain = then - now + _log_prior(data, tried, shared) - _log_prior(data, numbers, shared)
    yes = np.log(rng.random(chains)) < gain
    return np.where(yes[:, None], tried, numbers), np.where(yes, then, now)


def _shared(data: Sequence[_Data], numbers: Sequence[Floats], rng: np.random.Generator) -> Floats:
    """Draw (ρ, μ) given the swings, float64[chain, 2]."""
    chains = numbers[0].shape[0]
    precision = np.array([LOG_SPREAD**-2.0, LOG_MISHITS**-2.0])
    pull = np.zeros((chains, 2))
    for one, mine in zip(data, numbers, strict=True):
        if one.ranged:
            weight = one.prior[2:] ** -2.0
            off = (mine[:, 2:] + 0.5 * one.prior[2:] ** 2) * weight
            precision = precision + np.array([weight[0] + weight[1], weight[2]])
            pull += np.column_stack([off[:, 0] + off[:, 1], off[:, 2]])
    return np.asarray(pull / precision + rng.standard_normal((chains, 2)) / np.sqrt(precision))


def _sample(data: Sequence[_Data], rng: np.random.Generator) -> tuple[list[Floats], Floats]:
    """Return posterior draws of each swing's numbers, float64[draw, 5], and of (ρ, μ), float64[draw, 2]."""
    shared = rng.standard_normal((CHAINS, 2)) * (LOG_SPREAD, LOG_MISHITS) * 0.5
    numbers = [_centre(one, shared) + one.prior * rng.standard_normal((CHAINS, NUMBERS)) for one in data]
    now = [_likelihood(one, mine) for one, mine in zip(data, numbers, strict=True)]
    kept: list[list[Floats]] = [[] for _ in data]
    together = []
    for number in range(BURN_IN + KEPT):
        for i, one in enumerate(data):
            numbers[i], now[i] = _step(one, numbers[i], now[i], shared, rng)
        shared = _shared(data, numbers, rng)
        if number >= BURN_IN:
            together.append(shared)
            for mine, some in zip(numbers, kept, strict=True):
                some.append(mine)
    return [np.concatenate(some) for some in kept], np.concatenate(together)


def fit_rounds(player: Player, seen: Mapping[int, Sequence[Strikes]], rng: np.random.Generator) -> RoundsFit:
    """Return what rounds say of a player.

    Parameters
    ----------
    player : as the file, or the range, has him
    seen : by swing number, the strikes that end as each of its strokes was seen to, none of them empty
    rng : same generator, same numbers
    """
    swings = player.swings
    data = [_data(swings[number], seen[number]) for number in sorted(seen)]
    if not data:
        transfer = player.range_to_course
        return RoundsFit(player, (), Told(*[transfer.spread] * 3), Told(*[transfer.mishits] * 3), 0)
    draws, shared = _sample(data, rng)
    factors = np.exp(shared) * (player.range_to_course.spread, player.range_to_course.mishits)
    moved = {
        (one.swing.club, one.swing.name): _moved(player, one, mine, shared)
        for one, mine in zip(data, draws, strict=True)
    }
    spread, mishits = told(factors[:, 0]), told(factors[:, 1])
    after = player.with_swings(lambda s: moved[s.club, s.name].after if (s.club, s.name) in moved else s)
    if any(one.ranged for one in data):
        after = replace(after, range_to_course=RangeToCourse(round(spread.mean, 2), round(mishits.mean, 2)))
    return RoundsFit(after, tuple(moved.values()), spread, mishits, sum(len(strokes) for strokes in seen.values()))


def _data(swing: Swing, strokes: Sequence[Strikes]) -> _Data:
    several = {id(stroke): stroke for stroke in strokes}  # the same record: the same finish once more
    times = Counter(id(stroke) for stroke in strokes)
    columns = (np.concatenate([getattr(s, name) for s in several.values()]) for name in Strikes.__dataclass_fields__)
    first = np.cumsum([0, *(stroke.carry.size for stroke in several.values())])[:-1]
    counts = np.array([times[key] for key in several], float)
    return _Data(swing, Strikes(*columns), first, counts, _prior_sds(swing), swing.source == "range")


def _moved(player: Player, data: _Data, draws: Floats, shared: Floats) -> Moved:
    """Return a swing before and after, from its draws; what all swings share goes to ``range_to_course``."""
    before, transfer = data.swing, player.range_to_course.of(data.swing.source)
    spread, mishits = (np.exp(shared) if data.ranged else np.ones_like(shared)).T
    on_course = transfer.spread * TRUST_SPREAD[before.trust]
    carry, side = np.maximum(before.carry + draws[:, 0], 1.0), before.side + draws[:, 1]
    wide = np.exp(draws[:, 2:])
    own = np.minimum(wide[:, 2] / mishits, MOST_MISHITS / max(before.fat + before.thin, 1e-9))
    truths = Truths(
        carry=carry,
        side=side,
        carry_sd=before.carry_sd * wide[:, 0] / spread,
        side_sd=before.side_sd * wide[:, 1] / spread,
        correlation=np.full(carry.size, before.correlation),
        fat=before.fat * own,
        thin=before.thin * own,
    )
    scale = YARDS_PER[player.units]

    def length(yards: Floats) -> float:
        return round(float(yards.mean()) / scale, 1) * scale

    after = replace(
        before,
        carry=length(carry),
        side=length(side),
        carry_sd=length(truths.carry_sd),
        side_sd=length(truths.side_sd),
        fat=round(float(truths.fat.mean()), 3),
        thin=round(float(truths.thin.mean()), 3),
        run=length(before.run * carry / before.carry),
        shots=before.shots + int(data.times.sum()),
        posterior=in_tenths(worth_of(truths)) if before.fat + before.thin > 0.0 else before.posterior,
    )
    return Moved(
        before=before,
        after=after,
        strokes=int(data.times.sum()),
        carry=told(carry),
        side=told(side),
        carry_spread=told(before.carry_sd * on_course * wide[:, 0]),
        side_spread=told(before.side_sd * on_course * wide[:, 1]),
        mishits=told(np.minimum((before.fat + before.thin) * transfer.mishits * wide[:, 2], 1.0)),
    )
