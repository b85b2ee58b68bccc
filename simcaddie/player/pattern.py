"""Shot patterns: what a swing does on the course, from a given lie.

A pattern is a mixture of three strikes. *Solid* is bivariate normal in (carry, side). *Fat* is short and has little
run; *thin* is low and runs, with wedges sometimes as far as the solid shot and more. Single normals are too thin in
the tails (S. Ko, PhD thesis, Columbia University, 2012), hence the mixture.

From the range to the course, in this order: the declared ``range_to_course`` where the numbers come from the range, the
player's trust in the swing, then the lie. They multiply.

The wild ball that fitting knows (``fitting/sampler.py``) is played as part of the thin strike: its spread to the side
is that of both together.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

from simcaddie.base.surfaces import Lie
from simcaddie.player.swing import Player, Swing

__all__ = [
    "MAX_MISHITS",
    "TRUST_SPREAD",
    "WILD_SHAPE",
    "WILD_SHARE",
    "MishitShape",
    "Pattern",
    "Strike",
    "course_pattern",
    "mishit_rate",
    "mishit_shapes",
    "usable",
]  # fmt: skip

WOOD_LOFT: Final = 20.0  # degrees; longer clubs are woods and their like
WEDGE_LOFT: Final = 44.0  # from here on a club is a wedge
TRUST_SPREAD: Final = {"low": 1.15, "ok": 1.0, "high": 1.0}  # declared; common practice, no source
MAX_MISHITS: Final = 0.7  # beyond this even a multiplied rate does not go: some balls come off

# A mishit as shares of the solid carry: (mean carry, sd of carry, run).
# Full swings; the carry lost by a part swing is scaled by _PART. Common practice, no source.
_FAT: Final = (0.55, 0.15, 0.04)
_THIN_LONG: Final = (0.72, 0.10, 0.20)  # a topped or thin wood
_THIN_SHORT: Final = (0.88, 0.10, 0.32)  # a thinned wedge flies about as far, low, and runs through
_PART: Final = 0.7
# How much wider than a solid strike it flies, of 18° and less, and of 48° and more; the first fitted to recoveries
_WIDER: Final = (1.3, 1.15)
WILD_SHARE: Final = 0.2  # of thin balls: off toe or heel; common practice, no source
WILD_SHAPE: Final = (0.75, 0.2, 4.0)  # carry and its sd as shares of the solid carry; times the solid spread of side


@dataclass(frozen=True, slots=True)
class Strike:
    """One kind of strike: mean and sd of carry, of side, their correlation, run; all in yards."""

    share: float
    carry: float
    carry_sd: float
    side: float
    side_sd: float
    correlation: float
    run: float
    run_sd: float
    launch: float
    landing: float


@dataclass(frozen=True, slots=True)
class Pattern:
    """Solid, fat and thin; ``fail`` is the chance that the lie keeps the ball, then ``fail_carry`` yd on average."""

    solid: Strike
    fat: Strike
    thin: Strike
    fail: float
    fail_carry: float

    @property
    def strikes(self) -> tuple[Strike, Strike, Strike]:
        """Solid, fat and thin."""
        return self.solid, self.fat, self.thin

    @property
    def carry(self) -> float:
        """Mean carry over all strikes that leave the lie, in yards."""
        return sum(strike.share * strike.carry for strike in self.strikes)


def usable(player: Player, swing: Swing, lie: Lie) -> bool:
    """Tell whether a swing may be used from a lie: its loft, and the longest club the player allows there."""
    if not lie.min_loft <= swing.loft <= lie.max_loft:
        return False
    if lie.longest is None:
        return True
    lofts = {club.name: club.loft for club in player.bag}
    return swing.loft >= lofts.get(lie.longest, 0.0)


@dataclass(frozen=True, slots=True)
class MishitShape:
    """A mishit as shares of the solid strike's carry: mean and sd of carry, run; ``wider`` is its side sd's factor."""

    carry: float
    carry_sd: float
    run: float
    wider: float

    @property
    def wider_with_wild(self) -> float:
        """``wider`` of thin strikes of which ``WILD_SHARE`` fly wild: one normal with the variance of both."""
        return math.sqrt((1.0 - WILD_SHARE) * self.wider**2 + WILD_SHARE * WILD_SHAPE[2] ** 2)


def mishit_shapes(loft: float, name: str) -> tuple[MishitShape, MishitShape]:
    """Return (fat, thin) for a swing of a loft (degrees); the carry that a part swing loses is scaled down.

    >>> fat, thin = mishit_shapes(33.0, "full")
    >>> fat.carry, round(thin.carry, 2)
    (0.55, 0.8)
    """
    smaller = _PART if name != "full" else 1.0
    share = min(1.0, max(0.0, (loft - 18.0) / 30.0))
    thin = tuple(low + share * (high - low) for low, high in zip(_THIN_LONG, _THIN_SHORT, strict=True))
    wider = _WIDER[0] + share * (_WIDER[1] - _WIDER[0])
    fat, thinned = (
        MishitShape(1.0 - smaller * (1.0 - carry), carry_sd * smaller, run, wider)
        for carry, carry_sd, run in (_FAT, thin)
    )
    return fat, thinned


def _mishit(solid: Strike, shape: MishitShape, share: float, thin: bool) -> Strike:
    return Strike(
        share=share,
        carry=solid.carry * shape.carry,
        carry_sd=solid.carry * shape.carry_sd,
        side=solid.side,
        side_sd=solid.side_sd * (shape.wider_with_wild if thin else shape.wider),
        correlation=0.0,
        run=solid.carry * shape.run,
        run_sd=solid.carry * shape.run * 0.4,
        launch=solid.launch * 0.4 if thin else solid.launch,
        landing=15.0 if thin else solid.landing,
    )


def _by_loft(swing: Swing, lie: Lie) -> float:
    if swing.loft < WOOD_LOFT:
        return lie.woods
    return lie.wedges if swing.loft >= WEDGE_LOFT else 1.0


def mishit_rate(player: Player, swing: Swing, lie: Lie) -> float:
    """Return what a swing's own share of mishits is multiplied by on the course from ``lie``."""
    return player.range_to_course.of(swing.source).mishits * lie.mishits * _by_loft(swing, lie)


def course_pattern(player: Player, swing: Swing, lie: Lie) -> Pattern:
    """Return the pattern of ``swing`` on the course from ``lie``, in yards and degrees."""
    transfer = player.range_to_course.of(swing.source)
    spread = transfer.spread * TRUST_SPREAD[swing.trust] * lie.spread * _by_loft(swing, lie)
    rate = mishit_rate(player, swing, lie)
    both = (swing.fat + swing.thin) * rate
    keep = min(1.0, MAX_MISHITS / both) if both > 0 else 1.0
    fat, thin = swing.fat * rate * keep, swing.thin * rate * keep
    solid = Strike(
        share=1.0 - fat - thin,
        carry=swing.carry * lie.carry,
        carry_sd=swing.carry_sd * spread,
        side=swing.side * lie.carry,
        side_sd=swing.side_sd * spread * lie.carry,
        correlation=swing.correlation,
        run=swing.run * lie.run,
        run_sd=swing.run_sd * lie.run,
        launch=swing.launch * lie.low,
        landing=swing.landing * math.sqrt(lie.low),
    )
    fat_shape, thin_shape = mishit_shapes(swing.loft, swing.name)
    return Pattern(
        solid=solid,
        fat=_mishit(solid, fat_shape, fat, thin=False),
        thin=_mishit(solid, thin_shape, thin, thin=True),
        fail=lie.fail,
        fail_carry=lie.fail_carry,
    )
