"""Where two options come level as one thing changes by degrees, everything else as it is.

1. The gap between the options, as a function of the changed thing, comes from look-aheads with nodes common to all
   (no noise between evaluations) and with the answer's own values for what follows: a thousandth of a second each.
   The change nearest to how things are now that closes the gap is bracketed by steps outward, then found by Brent's
   method.
2. There the question is asked anew: the hole solved again with the thing changed, so that the strokes that follow
   know of it too. What the new values move the gap by is added to the look-aheads of 1, and the search repeated
   until they agree.
3. The re-run: both options played out with that solution, 60,000 sequences with the same random numbers. Their
   difference has to be zero within three standard errors and a fifth of what counts as level.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from typing import Final, Literal

import numpy as np

from simcaddie.golfer.player import Player, Trust
from simcaddie.ground.hole import Hole
from simcaddie.strategy.compare import play_options
from simcaddie.strategy.measure import Measure, pair_means, standard_error
from simcaddie.strategy.request import Comparison, asked_scene
from simcaddie.strategy.scene import Scene

__all__ = ["SURE_SE", "TRUST", "Kind", "Pair", "SwitchPoint", "Thing", "leads", "search"]

Kind = Literal["mishits", "spread", "trust", "hazard"]

_SETS: Final = 16  # of first balls
_RERUN: Final = 5  # purpose of the random numbers
_ROUNDS: Final = 3
SURE_SE: Final = 3.0


TRUST: Final[tuple[Trust, ...]] = ("low", "ok", "high")


def leads(gap: float, level: float, mine: str, theirs: str) -> bool:
    """Tell whether an option stands before another: it is better, or level and trusted more.

    ``gap`` is its mean worth less the other's; ``mine`` and ``theirs`` are the trust in each.
    """
    ranks = [list(TRUST).index(trust) for trust in (mine, theirs)]  # type: ignore[arg-type]
    if abs(gap) <= level and ranks[0] != ranks[1]:
        return ranks[0] > ranks[1]
    return gap < 0.0


@dataclass(frozen=True, slots=True)
class SwitchPoint:
    """Where one thing would have to be for ``b`` to be as good as ``a``; ``title`` names the thing.

    ``now`` and ``at`` are in the thing's own measure: mishits, their share on the course from this lie; spread, the
    sd to the side of solid strikes on the course, yards; trust, its name (the one from which the other option stands
    first); hazard, yards moved along b's line. ``at`` is None where no such point lies between ``low`` and ``high``.
    ``gap`` is the mean worth of b less that of a (strokes, as a rule) as things are, ``nearest`` the smallest one in
    that range. ``rerun`` and ``rerun_se`` are what the re-run found at the point, ``agrees`` whether that bears it
    out.
    """

    kind: Kind
    title: str
    a: str
    b: str
    now: float | str
    at: float | str | None
    low: float | None
    high: float | None
    gap: float
    nearest: float
    rerun: float | None = None
    rerun_se: float | None = None
    agrees: bool | None = None


@dataclass(frozen=True, slots=True)
class Pair:
    """Two options of an answer; ``sequences`` are played in a re-run."""

    answer: Comparison
    a: Measure
    b: Measure
    sequences: int

    def gap(self, scene: Scene) -> float:
        """Return the worth of b less that of a, by look-ahead."""
        swings, aims = zip(*((m.option.swing, m.option.aim) for m in (self.b, self.a)), strict=True)
        mine, theirs = scene.worths(swings, aims, _SETS)
        return float(mine - theirs)

    def anew(self, hole: Hole, player: Player) -> Scene:
        """Return the scene of the answer's question with another hole or player, solved again."""
        return asked_scene(hole, player, self.answer.request, self.answer.played, self.answer.net_par)

    def rerun(self, scene: Scene) -> tuple[float, float]:
        """Return b less a and its standard error from whole sequences, paired."""
        answer, options = self.answer, [self.b.option, self.a.option]
        played = play_options(scene, options, answer.request.seed, _RERUN, self.sequences)
        total = [np.asarray(played[o].score, np.float64) + answer.played for o in options]
        mine, theirs = (pair_means(answer.objective.worth(t, answer.net_par)) for t in total)
        return float((mine - theirs).mean()), standard_error(mine - theirs)

    def point(self, kind: Kind, title: str, now: float | str, gap: float, nearest: float) -> SwitchPoint:
        """Return the record of a thing that doesn't turn the choice."""
        return SwitchPoint(kind, title, self.a.title, self.b.title, now, None, None, None, gap, nearest)

    def checked(
        self, point: SwitchPoint, at: float | str, scene: Scene, agrees: Callable[[float, float], bool]
    ) -> SwitchPoint:
        """Return a point with what the re-run says of it; ``agrees`` judges by difference and standard error."""
        rerun, se = self.rerun(scene)
        return replace(point, at=at, rerun=rerun, rerun_se=se, agrees=agrees(rerun, se))


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that may change by degrees: where it is now, its range, the scene at a value of it, quickly or anew.

    ``unit`` turns the value into what is told.
    """

    kind: Kind
    title: str
    now: float
    limits: tuple[float, float, float]
    quick: Callable[[float], Scene]
    anew: Callable[[float], Scene]
    unit: float = 1.0


def _steps(thing: Thing) -> list[tuple[float, float]]:
    """Return the steps outward from now, (from, to), nearest first."""
    low, high, step = thing.limits
    found: list[tuple[float, float]] = []
    for sign, end in ((1.0, high), (-1.0, low)):
        count = max(0, int(np.ceil(round(sign * (end - thing.now) / step, 6))))
        edges = [min(max(thing.now + sign * i * step, low), high) for i in range(count + 1)]
        found += pairwise(edges)
    return sorted(found, key=lambda ends: abs(ends[1] - thing.now))


def _nearest_root(thing: Thing, gap: Callable[[float], float]) -> tuple[float | None, float]:
    """Return the value nearest to now at which the gap closes (None: nowhere), and the smallest gap seen."""
    from scipy.optimize import brentq  # noqa: PLC0415 (a tenth of a second that few questions need)

    least = gap(thing.now)
    if least == 0.0:
        return thing.now, least
    roots: list[float] = []
    for start, end in _steps(thing):
        if roots and abs(start - thing.now) >= abs(roots[0] - thing.now):
            break
        if gap(start) * gap(end) <= 0.0:
            roots.append(float(brentq(gap, start, end, xtol=thing.limits[2] / 100.0)))
            roots.sort(key=lambda x: abs(x - thing.now))
        least = min(least, gap(end), key=abs)
    return (roots[0] if roots else None), least


def search(pair: Pair, thing: Thing) -> SwitchPoint:
    """Find the value of a thing nearest to now at which the options of a pair are level; see the module's head."""
    gap = cache(lambda x: pair.gap(thing.quick(x)))
    at, least = _nearest_root(thing, gap)
    low, high, _ = thing.limits
    point = pair.point(thing.kind, thing.title, thing.unit * thing.now, gap(thing.now), least)
    point = replace(point, low=thing.unit * low, high=thing.unit * high)
    if at is None:
        return point
    for _ in range(_ROUNDS):
        found, scene = at, thing.anew(at)
        off = pair.gap(scene)
        if abs(off) < pair.answer.objective.level / 10.0:
            break
        shift = off - gap(found)
        closer, _ = _nearest_root(thing, lambda x, shift=shift: gap(x) + shift)  # type: ignore[misc]
        if closer is None:
            break
        at = closer
    near = pair.answer.objective.level / 5.0
    return pair.checked(point, thing.unit * found, scene, lambda rerun, se: abs(rerun) <= SURE_SE * se + near)
