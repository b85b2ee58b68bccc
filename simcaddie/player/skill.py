"""How well a golfer of an index strikes it: the few numbers from which every default follows.

One row a level, linear in the handicap index between, beyond the last one half as steep. Where a number comes from
stands below; *fitted* means: chosen so that simulated golfers score as the published ones do, on the values that
``player/__init__.py`` lists as used for it; ``tests/validation/fit_golfers.py`` does so for all of them at once.

==============  =====================================================================================================
direction       sd of the solid strike's direction with the driver, degrees. Tour: 3.4, published (Broadie, Every Shot
                Counts, 2014, second-hand). Others fitted: 6.8 for a golfer who scores about 90, where 6 to 7 is known
                from memory; scratch 3.7, the accuracy table read as a rectangle gives 3.5.
iron_direction  the same with irons; fitted. A driver's share falls to it linearly in loft, up to 29.5°.
carry_sd        sd of the solid strike's carry, as a share of it. Length over width of the pattern at 150 yd: 1.07 on
                tour and at scratch, after the course raters' accuracy table; 1.45 at 18, fitted: 1.5 is published.
mishits         share of full swings that are fat or thin; fitted. Part swings: half as many.
touch           how much wider feel shots scatter than those in ``surfaces`` (``TouchLie``), of index 18; fitted.
sand            the same from sand once more; linear in the index, its level fitted.
putting         direction sd in degrees, distance sd as a fraction, and feet past the hole aimed at from 10 ft. Tour:
                1.04, 0.079 and 1.14, near the published 1.02 and 0.080 of a putt that is always meant to go 1 ft past
                (A. Gelman, Stan case study, 2019), but with fewer than one in ten of 10 ft short. Others fitted: the
                distance holed half the time, 6 ft at 0-9, 5 ft for a golfer who scores about 90 (second-hand), one
                putt of 10 ft in six short, three-putts a round. Direction flattens as 1 − exp(−(index + 6) / 30).
==============  =====================================================================================================
"""

from __future__ import annotations

import math
from dataclasses import astuple, dataclass, replace
from typing import Final

from simcaddie.base.surfaces import SAND, Lie, TouchLie, default_lies, default_touch
from simcaddie.player.swing import Putting

__all__ = ["LEVELS", "TOUR_INDEX", "USUAL_INDEX", "Skill", "lies_of", "skill_of", "touch_of"]

IRON_LOFT: Final = 29.5  # from here on a club is as straight as irons get
PART_MISHITS: Final = 0.5  # of a full swing's
PART_CARRY_SD: Final = 1.2  # 50-100 yd against 100-200 yd, on tour: James and Rees, IJSSC 3, 2008
LEAST_CARRY_SD: Final = 1.5  # yd
MOST_MISHITS: Final = 0.4
BEYOND: Final = 0.5  # of the last rows' slope, beyond them; common practice, no source
USUAL_INDEX: Final = 18.0  # of a player who doesn't say
TOUR_INDEX: Final = -6.0  # from memory


@dataclass(frozen=True, slots=True)
class Skill:
    """One level; the module's head says what the numbers mean."""

    index: float
    direction: float
    iron_direction: float
    carry_sd: float
    mishits: float
    touch: float
    sand: float
    putting_direction: float
    putting_distance: float
    past: float

    @property
    def putting(self) -> Putting:
        """The putting of this level."""
        return Putting(self.putting_direction, self.putting_distance, self.past)

    def side_sd(self, carry: float, loft: float) -> float:
        """Return the sd of a solid strike's side, in the unit of ``carry``; ``loft`` in degrees."""
        share = min(1.0, max(0.0, (loft - 10.5) / (IRON_LOFT - 10.5)))
        degrees = self.direction + share * (self.iron_direction - self.direction)
        return carry * math.tan(math.radians(degrees))

    def spread_of_carry(self, carry: float, *, part: bool = False) -> float:
        """Return the sd of a solid strike's carry, in yards."""
        return max(LEAST_CARRY_SD, self.carry_sd * carry * (PART_CARRY_SD if part else 1.0))

    def share_of_mishits(self, *, part: bool = False) -> float:
        """Return the share of swings that are fat or thin."""
        return self.mishits * (PART_MISHITS if part else 1.0)


# fmt: off
LEVELS: Final = (
    #     index  direction  irons  carry  mishits  touch  sand  putting
    Skill(TOUR_INDEX, 3.4, 2.49, 0.047, 0.036, 0.605, 0.94, 1.04, 0.079, 1.14),
    Skill(0.0, 3.7, 2.86, 0.049, 0.05, 0.66, 0.955, 1.29, 0.083, 1.1),
    Skill(USUAL_INDEX, 7.3, 4.65, 0.118, 0.073, 1.0, 1.0, 1.77, 0.0995, 1.02),
    Skill(36.0, 11.4, 6.65, 0.196, 0.111, 1.48, 1.045, 2.04, 0.1155, 0.94),
)
# fmt: on


def skill_of(index: float | None) -> Skill:
    """Return the skill at a handicap index (below 0: a plus index); None counts as ``USUAL_INDEX``.

    >>> skill_of(0.0) == LEVELS[1]
    True
    """
    own, last = USUAL_INDEX if index is None else max(index, TOUR_INDEX), LEVELS[-1].index
    at = own if own <= last else last + BEYOND * (own - last)
    upper = next((level for level in LEVELS[1:] if at <= level.index), LEVELS[-1])
    lower = LEVELS[LEVELS.index(upper) - 1]
    share = (at - lower.index) / (upper.index - lower.index)
    skill = Skill(*(a + share * (b - a) for a, b in zip(astuple(lower), astuple(upper), strict=True)))
    return replace(skill, index=own, mishits=min(skill.mishits, MOST_MISHITS))


def touch_of(skill: Skill) -> dict[str, TouchLie]:
    """Return the touch numbers of every lie: scatter times ``touch``, failures times its square."""
    by = {SAND: skill.touch * skill.sand}
    return {kind: _scaled(touch, by.get(kind, skill.touch)) for kind, touch in default_touch().items()}


def lies_of(skill: Skill) -> dict[str, Lie]:
    """Return what lies do to a golfer of a level: each adds its own error, that tells less beside a larger one."""
    usual = skill_of(None)
    spread, mishits = usual.iron_direction / skill.iron_direction, usual.mishits / skill.mishits
    return {
        kind: replace(lie, spread=1.0 + (lie.spread - 1.0) * spread, mishits=1.0 + (lie.mishits - 1.0) * mishits)
        for kind, lie in default_lies().items()
    }


def _scaled(touch: TouchLie, by: float) -> TouchLie:
    return replace(
        touch,
        near=touch.near * by,
        far=touch.far * by,
        direction=touch.direction * by,
        fat=min(0.2, touch.fat * by * by),
        thin=min(0.2, touch.thin * by * by),
        fail=min(0.4, touch.fail * by * by),
    )
