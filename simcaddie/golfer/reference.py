"""Golfers of any index, and five of them by name, against which the model is held.

A golfer is a ladder of carries (``ladder``) and a level of skill (``skill``). Driver carries of the named ones: the
published tee shots of the Course Rating System's model golfers (250, 210, 200 and 150 yd in all, of which about 20 are
run) and, for the tour, of the years of the published strokes, 2003 to 2010: about 289 yd in all, from memory.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Final

from simcaddie.golfer.defaults import CLUBS, make_swing, mishit_split
from simcaddie.golfer.ladder import PARTS, bag_for, carry_of
from simcaddie.golfer.player import Club, Player, Putting, RangeToCourse, Swing
from simcaddie.golfer.skill import TOUR_INDEX, skill_of, touch_of
from simcaddie.units import YARDS_PER

__all__ = ["LONGEST_DRIVER", "REFERENCES", "SHORTEST_DRIVER", "golfer", "reference"]

SHORTEST_DRIVER: Final = 60.0  # yd of carry for which a ladder makes sense
LONGEST_DRIVER: Final = 350.0

PART_LOFT: Final = 41.0  # from the 9 iron down a golfer has part swings

# name: (index, driver carry in yd)
REFERENCES: Final = {
    "tour": (TOUR_INDEX, 266.0),
    "scratch man": (0.0, 230.0),
    "scratch woman": (0.0, 191.0),
    "bogey man": (20.0, 180.0),
    "bogey woman": (24.0, 131.0),
}


def _rounded(swing: Swing, unit: float) -> Swing:
    """Round a swing as a person would write it: whole carries, tenths of a unit, hundredths of a chance."""
    tenths = {key: round(getattr(swing, key) / unit, 1) * unit for key in ("carry_sd", "side_sd", "run", "run_sd")}
    fat, thin = mishit_split(swing.loft, round(swing.fat + swing.thin, 2))
    return replace(swing, fat=fat, thin=thin, **tenths)


def golfer(index: float, driver: float, *, name: str = "", units: str = "yards") -> Player:
    """Return a golfer of a handicap index whose driver carries ``driver`` yd on average; all of it estimated.

    The numbers are for the course, not the range: nothing flatters them. They are rounded in ``units``.
    """
    bag = []
    unit = YARDS_PER[units]

    def swing(club: str, part: str, carry: float) -> Swing:
        loft, whole = CLUBS[club].loft, max(1.0, round(carry / unit)) * unit
        made = make_swing(club, part, whole, loft=loft, index=index, source="course", estimated=True)
        return _rounded(made, unit)

    for club in bag_for(driver):
        carry = carry_of(club, driver)
        swings = [swing(club, "full", carry)]
        if CLUBS[club].loft >= PART_LOFT:
            swings += [swing(club, part, carry * share) for part, share, highest in PARTS if index <= highest]
        bag.append(Club(club, CLUBS[club].loft, tuple(swings)))
    skill = skill_of(index)
    putting = Putting(round(skill.putting_direction, 2), round(skill.putting_distance, 3))
    title = name or f"Index {index:g}, estimated"
    return Player(title, tuple(bag), index, RangeToCourse(), touch_of(skill), putting, units=units)


def reference(name: str) -> Player:
    """Return one of ``REFERENCES``."""
    index, driver = REFERENCES[name]
    return golfer(index, driver, name=name.capitalize())
