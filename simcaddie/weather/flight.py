"""Ball flight: from speed, launch and spin to where the ball comes down, and back from a carry to the ball speed.

SI: metres, m/s; launch and landing in degrees, spin in rpm. The ball flies with backspin alone: a curve is part of a
swing's spread, not of its flight. With u = v − wind, u its length, S = rω/u the spin ratio and K = ρπr²/2m:

    dv/dt = −g ẑ − K C_D u u + K C_L u (â × u),    dω/dt = −2.0e-5 (ρ/1.225) u ω / r
    C_L = S / (0.352 + 1.91 S),                    C_D = 0.200 + 1.40 C_L²

â is the axis of pure backspin: level, square to the aim line. The spin's decay is that of G. Tavares, K. Shannon and
T. Melvin, Golf ball spin decay model based on radar measurements, Science and Golf III, 1999 (from memory). The
constants of lift and drag were fitted to published tour averages in air of 1.184 kg/m³ (25 °C, sea level). The wind is
the same at every height, so it counts for a little less aloft and a little more near the ground than it does.

The air's density is that of the ideal gas law, ρ = p / (R T), with R = 287.05287 J/(kg K) for dry air. Where no
pressure was measured it is that of the International Standard Atmosphere (ISO 2533:1975) at the altitude:

    p = 1013.25 hPa × (1 − 0.0065 H / 288.15)^5.25588,    H = h R / (R + h),    R = 6,356,766 m

H is the geopotential altitude of the altitude h. Humidity is left out: saturated air at 30 °C is 1.6 % lighter than dry
air, which moves a drive by about a yard.
"""

from __future__ import annotations

import math
from typing import Any, Final, NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from simcaddie.base.compiled import compiled
from simcaddie.base.errors import BadRequest

__all__ = [
    "FASTEST",
    "GRAVITY",
    "MASS",
    "RADIUS",
    "REFERENCE_DENSITY",
    "Flight",
    "air_density",
    "air_of",
    "ball_speed",
    "columns",
    "fly",
    "fly_all",
    "solve_all",
    "standard_pressure",
]  # fmt: skip

EARTH: Final = 6_356_766.0  # m, the standard's radius
GAS: Final = 287.05287  # J/(kg K), dry air
FREEZING: Final = 273.15  # K
LOWEST, HIGHEST = -500.0, 11000.0  # metres: the standard atmosphere's lowest layer
COLDEST, HOTTEST = -90.0, 60.0  # °C: what has been measured on Earth
THINNEST, THICKEST = 200.0, 1100.0  # hPa


def standard_pressure(altitude: float) -> float:
    """Return the standard atmosphere's pressure in hPa at ``altitude`` metres.

    >>> round(standard_pressure(0.0), 2)
    1013.25
    """
    if not LOWEST <= altitude <= HIGHEST:
        raise BadRequest(f"the altitude should be {LOWEST:g} to {HIGHEST:g} m, found {altitude:g}")
    geopotential = altitude * EARTH / (EARTH + altitude)
    return float(1013.25 * (1.0 - 0.0065 * geopotential / 288.15) ** 5.25588)


def air_density(temperature: float, altitude: float, pressure: float | None = None) -> float:
    """Return the density of dry air in kg/m³.

    Parameters
    ----------
    temperature : °C, −90 to 60.
    altitude : metres above sea level, −500 to 11,000; used only where no pressure is given.
    pressure : hPa as a barometer reads it there, 200 to 1,100 (not reduced to sea level); None for the standard one.

    Raises
    ------
    BadRequest
        A value out of its range, or not a number.

    >>> round(air_density(15.0, 0.0), 3)
    1.225
    """
    if not COLDEST <= temperature <= HOTTEST:
        raise BadRequest(f"the temperature should be {COLDEST:g} to {HOTTEST:g} °C, found {temperature:g}")
    hectopascals = standard_pressure(altitude) if pressure is None else pressure
    if not (math.isfinite(hectopascals) and THINNEST <= hectopascals <= THICKEST):
        raise BadRequest(f"the pressure should be {THINNEST:g} to {THICKEST:g} hPa, found {hectopascals:g}")
    return 100.0 * hectopascals / (GAS * (temperature + FREEZING))


# ─── The compiled equations: fourth-order Runge–Kutta steps ──────────────────────────────────────────────────────────
#
# A state is (x, y, z, vx, vy, vz, ω): along the aim line, to the right of it, up; m, m/s, rad/s. ``air`` is
# (wind along, wind to the right, K, decay per metre).

GRAVITY: Final = 9.80665  # m/s², standard
RADIUS: Final = 0.021335  # m: the smallest ball allowed, 1.680 in across (Rules of Golf, Equipment Rules)
MASS: Final = 0.04593  # kg: the heaviest ball allowed, 1.620 oz
LIFT_HALF, LIFT_SLOPE = 0.352, 1.91
DRAG, DRAG_OF_LIFT = 0.200, 1.40
DECAY: Final = 2.0e-5
DECAY_DENSITY: Final = 1.225
LONGEST: Final = 60.0  # s: no flight takes longer
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
    return (s[3], s[4], s[5], -drag * ux - up * uz, -drag * uy, -drag * uz + up * ux - GRAVITY, -air[3] * u * s[6])


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


REFERENCE_DENSITY: Final = 1.184  # kg/m³, 25 °C at sea level: the air that the constants were fitted in
FASTEST: Final = 120.0  # m/s, 268 mph: no ball is faster

Floats = NDArray[np.float64]


class Flight(NamedTuple):
    """Where each ball comes down to its start's level: float64[n] each."""

    carry: Floats  # m, along the aim line; below 0 where the wind blew the ball back
    side: Floats  # m, to the right of the aim line
    landing: Floats  # degrees below the horizontal, up to 90
    apex: Floats  # m above the start
    time: Floats  # s
    landing_speed: Floats  # m/s
    landing_spin: Floats  # rpm of backspin


def _given(speed: ArrayLike, launch: ArrayLike, spin: ArrayLike, air: tuple[ArrayLike, ...], step: float) -> Floats:
    """Return what the compiled code takes, float64[n, 6], checked."""
    given = columns(speed, launch, spin, *air)
    if (given[:, 0] < 0.0).any() or (given[:, 3] < 0.0).any():
        raise BadRequest("ball speed and air density should be 0 or more")
    if not 0.0 < step <= 0.1:
        raise BadRequest(f"the time step should be above 0 and at most 0.1 s, found {step:g}")
    return given


def fly(
    speed: ArrayLike,
    launch: ArrayLike,
    spin: ArrayLike,
    *,
    density: ArrayLike = REFERENCE_DENSITY,
    tail: ArrayLike = 0.0,
    across: ArrayLike = 0.0,
    step: float = 0.02,
) -> Flight:
    """Fly n balls to the level of their start.

    Parameters
    ----------
    speed : ball speed, m/s.
    launch : degrees above the horizontal.
    spin : backspin, rpm.
    density : kg/m³, 0 for a vacuum.
    tail : wind along the aim line, m/s; a head wind is negative.
    across : wind across it, m/s, positive from left to right.
    step : s, at most 0.1.

    All but ``step`` broadcast together to n flights, in C order.

    Raises
    ------
    BadRequest
        A value that isn't finite, a speed or density below 0, or a time step out of its range.

    >>> flight = fly(76.4, 10.4, 2545.0)
    >>> round(float(flight.carry[0]) / 0.9144)
    276
    """
    given = _given(speed, launch, spin, (density, tail, across), step)
    out = np.empty((given.shape[0], 7))
    fly_all(given, step, out)
    return Flight(*np.ascontiguousarray(out.T))


def ball_speed(
    carry: ArrayLike, launch: ArrayLike, spin: ArrayLike, *, density: ArrayLike = REFERENCE_DENSITY, step: float = 0.02
) -> Floats:
    """Return the ball speeds, float64[n] in m/s, that carry ``carry`` metres on the level in calm air.

    Raises
    ------
    BadRequest
        A carry that isn't above 0, or one that no ball of up to 120 m/s reaches at that launch and spin.

    >>> speed = ball_speed(250.0, 10.4, 2545.0)
    >>> round(float(fly(speed, 10.4, 2545.0).carry[0]), 4)
    250.0
    """
    given = columns(carry, launch, spin, density)
    if (given[:, 0] <= 0.0).any():
        raise BadRequest(f"a carry should be above 0 m, found {given[:, 0].min():g}")
    out = np.empty(given.shape[0])
    solve_all(given, step, FASTEST, out)
    if np.isnan(out).any():
        far, angle, rpm, thick = given[int(np.argmax(np.isnan(out)))]
        raise BadRequest(
            f"no ball of up to {FASTEST:g} m/s carries {far:.1f} m ({far / 0.9144:.0f} yd) when launched at {angle:g}° "
            f"with {rpm:g} rpm in air of {thick:.3f} kg/m³"
        )
    return out
