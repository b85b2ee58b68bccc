"""The compiled equations of a ball's flight, and one flight to where it comes down.

With u = v − wind, u its length, S = rω/u the spin ratio and K = ρπr²/2m:

    dv/dt = −g ẑ − K C_D u u + K C_L u (â × u),    dω/dt = −2.0e-5 (ρ/1.225) u ω / r
    C_L = S / (0.352 + 1.91 S),                    C_D = 0.200 + 1.40 C_L²

â is the axis of pure backspin: level, square to the aim line. The spin's decay is that of G. Tavares, K. Shannon and
T. Melvin, Golf ball spin decay model based on radar measurements, Science and Golf III, 1999 (from memory). The
constants of lift and drag were fitted to published tour averages in air of 1.184 kg/m³ (25 °C, sea level).

A state is (x, y, z, vx, vy, vz, ω): along the aim line, to the right of it, up; m, m/s, rad/s. ``air`` is
(wind along, wind to the right, K, decay per metre). Fourth-order Runge–Kutta steps.
"""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.compiled import compiled
from simcaddie.errors import BadRequest

__all__ = ["GRAVITY", "MASS", "RADIUS", "SHARES", "air_of", "columns", "fly_all", "profile_all", "solve_all"]

GRAVITY: Final = 9.80665  # m/s², standard
RADIUS: Final = 0.021335  # m: the smallest ball allowed, 1.680 in across (Rules of Golf, Equipment Rules)
MASS: Final = 0.04593  # kg: the heaviest ball allowed, 1.620 oz
LIFT_HALF, LIFT_SLOPE = 0.352, 1.91
DRAG, DRAG_OF_LIFT = 0.200, 1.40
DECAY: Final = 2.0e-5
DECAY_DENSITY: Final = 1.225
LONGEST: Final = 60.0  # s: no flight takes longer
SHARES: Final = 17  # points of a profile, 0 to 1.6 of the level carry
SHARE_STEP: Final = 0.1
DEEPEST: Final = 0.8  # a profile is flown down to this share of the carry below the start
STEEPEST: Final = 11.43  # tangent of 85°: no profile falls more steeply
TINY: Final = 1.0e-12


def columns(*values: ArrayLike) -> NDArray[np.float64]:
    """Return the values broadcast together as float64[n, len(values)]; BadRequest where one isn't finite."""
    spread = np.broadcast_arrays(*(np.asarray(value, dtype=np.float64) for value in values))
    made = np.stack([column.ravel() for column in spread], axis=1)
    if not np.isfinite(made).all():
        raise BadRequest("a flight needs finite numbers, found nan or infinity")
    return made


@compiled
def air_of(tail: float, across: float, density: float) -> Any:
    """Return what the equations need of the air."""
    area = math.pi * RADIUS * RADIUS
    return tail, across, 0.5 * density * area / MASS, DECAY * density / DECAY_DENSITY / RADIUS


@compiled
def _rates(s: Any, air: Any) -> Any:
    """Return the time derivative of state ``s``."""
    ux, uy, uz, surface = s[3] - air[0], s[4] - air[1], s[5], RADIUS * s[6]
    u = math.sqrt(ux * ux + uy * uy + uz * uz)
    lift = surface / (LIFT_HALF * u + LIFT_SLOPE * abs(surface) + TINY)  # C_L, with S = surface / u
    drag = air[2] * (DRAG + DRAG_OF_LIFT * lift * lift) * u
    up = air[2] * lift * u
    return (
        s[3],
        s[4],
        s[5],
        -drag * ux - up * uz,
        -drag * uy,
        -drag * uz + up * ux - GRAVITY,
        -air[3] * u * s[6],
    )


@compiled
def _moved(s: Any, d: Any, h: float) -> Any:
    """Return ``s + h d``."""
    return (
        s[0] + h * d[0],
        s[1] + h * d[1],
        s[2] + h * d[2],
        s[3] + h * d[3],
        s[4] + h * d[4],
        s[5] + h * d[5],
        s[6] + h * d[6],
    )


@compiled
def _step(s: Any, h: float, air: Any) -> Any:
    """Return the state ``h`` seconds on."""
    a = _rates(s, air)
    b = _rates(_moved(s, a, 0.5 * h), air)
    c = _rates(_moved(s, b, 0.5 * h), air)
    d = _rates(_moved(s, c, h), air)
    return _moved(_moved(_moved(_moved(s, a, h / 6.0), b, h / 3.0), c, h / 3.0), d, h / 6.0)


@compiled
def _until(s: Any, h: float, air: Any, which: int, value: float) -> Any:
    """Return (time, state) where the state's entry ``which`` (0 x, 2 z) comes to ``value`` within ``h`` seconds.

    Newton's method on a shortened step, so that the crossing is as exact as the steps.
    """
    after = _step(s, h, air)
    here, there = (s[0], after[0]) if which == 0 else (s[2], after[2])
    time = h * (value - here) / (there - here)
    for _ in range(8):
        after = _step(s, time, air)
        gap, rate = (value - after[0], after[3]) if which == 0 else (value - after[2], after[5])
        if rate == 0.0 or abs(gap) < 1.0e-10:
            break
        time = min(h, max(0.0, time + gap / rate))
    return time, after


@compiled
def _start(speed: float, launch: float, spin: float, step: float) -> Any:
    """Return the first state and a step that gives even the shortest chip 16 of them; degrees and rpm come in."""
    angle = math.radians(launch)
    up = speed * math.sin(angle)
    first = (0.0, 0.0, 0.0, speed * math.cos(angle), 0.0, up, spin * math.pi / 30.0)
    return first, min(step, max(1.0e-4, up / GRAVITY / 8.0)) if up > 0.0 else step


@compiled
def _fly(first: Any, h: float, air: Any) -> Any:
    """Return (time, apex, state) where the ball is back at its start's level."""
    s, time, apex = first, 0.0, 0.0
    while time < LONGEST:
        after = _step(s, h, air)
        if s[5] > 0.0 >= after[5]:
            apex = max(apex, _step(s, h * s[5] / (s[5] - after[5]), air)[2])
        if after[2] <= 0.0:
            if s[2] <= 0.0:  # never rose
                return time, apex, s
            last, after = _until(s, h, air, 2, 0.0)
            return time + last, apex, after
        s, time = after, time + h
    return time, apex, s


@compiled
def fly_all(given: Any, step: float, out: Any) -> None:
    """Fill ``out`` float64[n, 7] from ``given`` float64[n, 6] (speed, launch, spin, density, tail, across).

    Columns of ``out``: carry, side, landing angle, apex, time, landing speed, landing spin.
    """
    for i in range(given.shape[0]):
        first, h = _start(given[i, 0], given[i, 1], given[i, 2], step)
        time, apex, s = _fly(first, h, air_of(given[i, 4], given[i, 5], given[i, 3]))
        level = math.sqrt(s[3] * s[3] + s[4] * s[4])
        out[i, 0], out[i, 1] = s[0], s[1]
        out[i, 2] = math.degrees(math.atan2(-s[5], level))
        out[i, 3], out[i, 4] = apex, time
        out[i, 5] = math.sqrt(level * level + s[5] * s[5])
        out[i, 6] = s[6] * 30.0 / math.pi


@compiled
def _carry_on(s: Any, carry: float, point: int, heights: Any, sides: Any, i: int) -> None:
    """Fill a profile from ``point`` on by a straight line from state ``s``, no steeper than ``STEEPEST``."""
    ahead = s[3] > 0.0
    fall = min(STEEPEST, max(0.0, -s[5] / s[3])) if ahead else STEEPEST
    drift = min(STEEPEST, max(-STEEPEST, s[4] / s[3])) if ahead else 0.0
    for k in range(point, SHARES):
        beyond = k * SHARE_STEP - s[0] / carry
        heights[i, k] = s[2] / carry - fall * beyond
        sides[i, k] = s[1] / carry + drift * beyond


@compiled
def _walk(s: Any, h: float, air: Any, carry: float, heights: Any, sides: Any, i: int) -> Any:
    """Fill a profile while the ball goes forward; return (points filled, state where that ended)."""
    point, time = 1, 0.0
    while point < SHARES and time < LONGEST and s[2] > -DEEPEST * carry:
        after = _step(s, h, air)
        if after[3] <= 0.0:
            break
        while point < SHARES and after[0] >= point * SHARE_STEP * carry:
            _, there = _until(s, h, air, 0, point * SHARE_STEP * carry)
            heights[i, point], sides[i, point] = there[2] / carry, there[1] / carry
            point += 1
        s, time = after, time + h
    return point, s


@compiled
def profile_all(given: Any, step: float, out: Any, heights: Any, sides: Any) -> None:
    """Fill ``heights`` and ``sides`` float64[n, 17], as shares of the level carries in ``out``, which is full."""
    for i in range(given.shape[0]):
        first, h = _start(given[i, 0], given[i, 1], given[i, 2], step)
        air = air_of(given[i, 4], given[i, 5], given[i, 3])
        carry, side = out[i, 0], out[i, 1]
        heights[i, 0], sides[i, 0] = 0.0, 0.0
        if carry <= 0.0:  # blown back behind its start, or never up: a straight fall there
            for k in range(SHARES):
                heights[i, k] = min(0.0, -STEEPEST * (k * SHARE_STEP - 1.0))
                sides[i, k] = k * SHARE_STEP * side / carry if carry < 0.0 else 0.0
            continue
        point, s = _walk(first, h, air, carry, heights, sides, i)
        if point <= 10 or s[2] > 0.0:  # turned back in the air: it falls steeply at its carry
            s, point = (carry, side, 0.0, 0.0, 0.0, -1.0, 0.0), min(point, 10)
        _carry_on(s, carry, point, heights, sides, i)


@compiled
def _carry(speed: float, launch: float, spin: float, air: Any, step: float) -> float:
    """Return the carry of one flight, in metres."""
    first, h = _start(speed, launch, spin, step)
    return float(_fly(first, h, air)[2][0])


@compiled
def _solve(target: float, launch: float, spin: float, air: Any, step: float, fastest: float) -> float:
    """Return the speed that carries ``target`` metres by the Illinois form of false position; nan if none does.

    Source: M. Dowell and P. Jarratt, A modified regula falsi method, BIT 11, 1971.
    """
    low, below, high, above = 0.0, -target, 0.5 * math.sqrt(GRAVITY * target), -1.0
    while above < 0.0:  # up from slow: a ball with much spin carries less again when hit harder than some speed
        if high >= fastest:
            return math.nan
        high = min(fastest, 1.2 * high)
        above = _carry(high, launch, spin, air, step) - target
        if above < 0.0:
            low, below = high, above
    side = 0
    for _ in range(200):
        speed = (low * above - high * below) / (above - below)
        if not low < speed < high:
            speed = 0.5 * (low + high)
        miss = _carry(speed, launch, spin, air, step) - target
        if abs(miss) < 1.0e-8 * (1.0 + target) or high - low < 1.0e-11 * fastest:
            return speed
        if miss > 0.0:
            high, above, below = speed, miss, 0.5 * below if side > 0 else below
            side = 1
        else:
            low, below, above = speed, miss, 0.5 * above if side < 0 else above
            side = -1
    return 0.5 * (low + high)


@compiled
def solve_all(given: Any, step: float, fastest: float, out: Any) -> None:
    """Fill ``out`` float64[n] from ``given`` float64[n, 4] (carry in m, launch, spin, density)."""
    for i in range(given.shape[0]):
        air = air_of(0.0, 0.0, given[i, 3])
        out[i] = _solve(given[i, 0], given[i, 1], given[i, 2], air, step, fastest)
