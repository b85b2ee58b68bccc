"""The day's table: per swing, angle to the wind and its strength, how carry, direction, landing and run change.

Every entry compares two flights of the model with the same ball speed, launch and spin: one in the day's air and wind,
one in the standard air, calm, in which the carry was measured. So on a standard day nothing changes, to the last bit.

    carry factor = carry / calm carry          drift = yards to the right per yard of calm carry
    landing      = the swing's own landing angle and what the model's changes by
    run factor   = (run of the bounce model + S) / (the same, calm and ordinary turf + S),    S = 3 % of the carry

S keeps the ratio sane where a wedge's ball stops dead. ``arch`` bends the kernel's flight shape so that its top
is as much higher or lower as the model's (``model/kernel.py``).
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from functools import lru_cache
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.units import METRES_PER_YARD
from simcaddie.weather.bounce import run_out
from simcaddie.weather.day import STANDARD, Day
from simcaddie.weather.flight import Flight, air_density, ball_speed, fly

__all__ = [
    "ANGLES",
    "DAY_ARCH",
    "DAY_CARRY",
    "DAY_COLUMNS",
    "DAY_DRIFT",
    "DAY_LANDING",
    "DAY_RUN",
    "Struck",
    "day_table",
]  # fmt: skip

DAY_CARRY: Final = 0
DAY_DRIFT: Final = 1  # yd to the right per yd of calm carry
DAY_LANDING: Final = 2  # tangent
DAY_RUN: Final = 3
DAY_ARCH: Final = 4
DAY_COLUMNS: Final = 5

ANGLES: Final = 36  # round the compass; read between linearly, which is good to 0.2 % of the carry in a gale
STRENGTHS: Final = (-2.0, 0.0, 2.0)  # sds of the wind's speed
SHORTEST: Final = 0.05  # of the calm carry: a ball blown back still leaves the player's feet
STEEPEST: Final = 80.0  # degrees
RUN_SPARE: Final = 0.03  # of the carry, S above
MOST_RUN: Final = 5.0
STEP: Final = 0.04  # s; half of it moves no carry by 0.02 yd

Floats = NDArray[np.float64]
_T: Final = np.linspace(0.0, 1.0, 65)


class Struck(NamedTuple):
    """A solid strike of a swing: carry in yards, launch and landing in degrees, spin in rpm."""

    carry: float
    launch: float
    spin: float
    landing: float


def _runs(flight: Flight, firmness: float) -> Floats:
    return np.asarray(run_out(flight.landing_speed, flight.landing, flight.landing_spin, firmness=firmness))


def _arch(launch: Floats, landing: Floats, top: Floats) -> Floats:
    """Return the arch with which the flight shape's top is ``top`` (share of the carry), by bisection.

    Less than −(√a + √b)² would take the shape below its start.
    """
    low, high = -0.95 * (np.sqrt(launch) + np.sqrt(landing)) ** 2, np.full(top.shape, 12.0)
    for _ in range(40):
        middle = 0.5 * (low + high)
        reached = _top(launch, landing, middle)
        low, high = np.where(reached < top, middle, low), np.where(reached < top, high, middle)
    return np.asarray(0.5 * (low + high))


def _top(launch: Floats, landing: Floats, arch: Floats) -> Floats:
    inner = launch[..., None] * (1.0 - _T) + landing[..., None] * _T + arch[..., None] * _T * (1.0 - _T)
    return np.asarray((_T * (1.0 - _T) * inner).max(axis=-1))


@lru_cache(maxsize=16)
def _table(swings: tuple[Struck, ...], day: Day) -> Floats:
    carry, launch, spin, landing = np.array(swings).T.reshape(4, -1, 1, 1)
    usual = air_density(STANDARD.temperature, STANDARD.altitude)
    level = carry.ravel() * METRES_PER_YARD
    speed = ball_speed(level, launch.ravel(), spin.ravel(), density=usual).reshape(carry.shape)
    sds = STRENGTHS if day.wind_sd > 0.0 else (0.0,)
    winds = np.maximum(0.0, day.wind + day.wind_sd * np.array(sds)).reshape(1, 1, -1)
    turns = 2.0 * math.pi * np.arange(ANGLES if winds.max() > 0.0 else 1).reshape(1, -1, 1) / ANGLES
    shape = (len(swings), turns.size, winds.size)

    def flown(density: float, tail: Floats, across: Floats) -> Flight:
        given = [np.broadcast_to(each, shape).ravel() for each in (speed, launch, spin, tail, across)]
        return fly(*given[:3], density=density, tail=given[3], across=given[4], step=STEP)

    thick = air_density(day.temperature, day.altitude, day.pressure)
    # At ``turn`` clockwise from the way the wind blows, it pushes along by cos and to the left by sin.
    today = flown(thick, winds * np.cos(turns), -winds * np.sin(turns))
    calm = flown(usual, np.zeros(1), np.zeros(1))
    table = np.empty((math.prod(shape), DAY_COLUMNS))
    table[:, DAY_CARRY] = np.maximum(SHORTEST, today.carry / calm.carry)
    table[:, DAY_DRIFT] = today.side / calm.carry
    own = np.broadcast_to(landing, shape).ravel()
    table[:, DAY_LANDING] = np.tan(np.radians(np.clip(own + (today.landing - calm.landing), 3.0, STEEPEST)))
    spare = RUN_SPARE * calm.carry
    ratio = (np.maximum(0.0, _runs(today, day.firmness)) + spare) / (
        np.maximum(0.0, _runs(calm, STANDARD.firmness)) + spare
    )
    table[:, DAY_RUN] = np.clip(ratio, 0.0, MOST_RUN)
    rise = np.tan(np.radians(np.broadcast_to(launch, shape).ravel()))
    top = _top(rise, np.tan(np.radians(own)), np.zeros(own.size)) * (today.apex / calm.apex) / table[:, DAY_CARRY]
    arch = _arch(rise, table[:, DAY_LANDING], top)
    same = (today.carry == calm.carry) & (today.apex == calm.apex)
    table[:, DAY_ARCH] = np.where(same, 0.0, arch)
    return np.ascontiguousarray(table.reshape(*shape, DAY_COLUMNS))


def day_table(swings: Sequence[Struck], day: Day) -> Floats:
    """Return float64[swing, angle, strength, DAY_COLUMNS].

    Angles go clockwise from the direction that the wind blows to, 36 of them, or one in calm air; strengths are two sds
    below the mean wind, the mean and two above, or one where there are no gusts.

    Raises
    ------
    BadRequest
        A carry that no ball reaches at its swing's launch and spin.
    """
    return _table(tuple(swings), day).copy()
