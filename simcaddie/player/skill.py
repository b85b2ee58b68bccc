"""How well a golfer of an index strikes it: the few numbers from which every default follows.

One row a level, linear in the handicap index between, the last two rows carried on beyond. Where a number comes from
stands below; *fitted* means: chosen so that simulated golfers score as the published ones do, on the values that
DEVELOPERS.md lists as used for it.

==============  =====================================================================================================
direction       sd of the solid strike's direction with the driver, degrees. Tour: 3.4, published (Broadie, Every Shot
                Counts, 2014, second-hand). Scratch: 3.5, the accuracy table read as a rectangle. 18: fitted, and
                within 6 to 7 for a golfer who scores about 90, from memory.
iron_direction  the same with irons; fitted. A driver's share falls to it linearly in loft, up to 29.5°.
carry_sd        sd of the solid strike's carry, as a share of it. Length over width of the pattern at 150 yd: 1.07 on
                tour and at scratch, after the course raters' accuracy table; 1.26 at 18, between theirs and 1.5.
mishits         share of full swings that are fat or thin; fitted. Part swings: half as many.
touch           how much wider feel shots scatter than those in ``surfaces`` (``TouchLie``), of index 18; fitted.
putting         direction sd in degrees and distance sd as a fraction. Tour: 1.02 and 0.080 (A. Gelman, Stan case study,
                2019). Others from the distance holed half the time, 8 ft on tour, 6 ft at 0-9, 5 ft for a golfer who
                scores about 90 (second-hand), and fitted to three-putts a round.
==============  =====================================================================================================
"""

from __future__ import annotations

import math
from dataclasses import astuple, dataclass, replace
from typing import Final

from simcaddie.base.surfaces import TouchLie, default_touch
from simcaddie.player.swing import Putting

__all__ = ["LEVELS", "TOUR_INDEX", "USUAL_INDEX", "Skill", "skill_of", "touch_of"]

IRON_LOFT: Final = 29.5  # from here on a club is as straight as irons get
PART_MISHITS: Final = 0.5  # of a full swing's
PART_CARRY_SD: Final = 1.2  # 50-100 yd against 100-200 yd, on tour: James and Rees, IJSSC 3, 2008
LEAST_CARRY_SD: Final = 1.5  # yd
MOST_MISHITS: Final = 0.4
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
    putting_direction: float
    putting_distance: float

    @property
    def putting(self) -> Putting:
        """The putting of this level."""
        return Putting(self.putting_direction, self.putting_distance)

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
    #     index  direction  irons  carry  mishits  touch  putting
    Skill(TOUR_INDEX, 3.4, 2.5, 0.047, 0.037, 0.61, 1.02, 0.080),
    Skill(0.0, 3.5, 2.6, 0.049, 0.042, 0.67, 1.25, 0.090),
    Skill(USUAL_INDEX, 6.0, 4.3, 0.095, 0.135, 1.0, 1.57, 0.122),
)
# fmt: on


def skill_of(index: float | None) -> Skill:
    """Return the skill at a handicap index (below 0: a plus index); None counts as ``USUAL_INDEX``.

    >>> skill_of(0.0) == LEVELS[1]
    True
    """
    at = USUAL_INDEX if index is None else max(index, TOUR_INDEX)
    upper = next((level for level in LEVELS[1:] if at <= level.index), LEVELS[-1])
    lower = LEVELS[LEVELS.index(upper) - 1]
    share = (at - lower.index) / (upper.index - lower.index)
    skill = Skill(*(a + share * (b - a) for a, b in zip(astuple(lower), astuple(upper), strict=True)))
    return replace(skill, index=at, mishits=min(skill.mishits, MOST_MISHITS))


def touch_of(skill: Skill) -> dict[str, TouchLie]:
    """Return the touch numbers of every lie: scatter times ``touch``, failures times its square."""
    return {kind: _scaled(touch, skill.touch) for kind, touch in default_touch().items()}


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
