"""Published ball flights, air densities and bounces, each with its source and how it is known; and flights by scipy."""

from __future__ import annotations

import math

import numpy as np
from scipy.integrate import solve_ivp

MPH, YARD = 0.44704, 0.9144

# A published radar-measured table, second-hand: a man's 6 iron, 130 mph, 14.7°, 6088 rpm, 25 °C at sea level.
# (wind in mph, tail positive): carry yd, apex yd, landing angle. It isn't one of the tour averages that the
# flight model's constants were fitted to; whether it was looked at in fitting them isn't recorded.
SIX_IRON = (130.0, 14.7, 6088.0)
SIX_IRON_IN_WIND = {
    -20: (143.0, 42.8, 69.5),
    -10: (166.0, 38.1, 58.1),
    0: (184.0, 33.8, 48.0),
    10: (198.0, 29.7, 39.5),
    20: (207.0, 26.1, 32.7),
}

# Published tour averages of 2023, second-hand: ball speed mph, launch, rpm; carry yd, apex yd, landing angle.
# Calibration: the flight model's constants were fitted to these.
TOUR = {
    "driver men": (171.0, 10.4, 2545.0, 282.0, 35.0, 39.0),
    "7 iron men": (123.0, 16.1, 7124.0, 176.0, 34.0, 51.0),
    "driver women": (143.0, 12.6, 2506.0, 223.0, 26.0, 36.0),
    "7 iron women": (106.0, 18.5, 6630.0, 143.0, 26.0, 47.0),
}

# Overall Distance Standard of the governing bodies: 120 mph of club, 176 mph of ball, 10°, 42 rev/s; carry and roll
# at most 317 + 3 yd. Second-hand (full statement of December 2023).
DISTANCE_STANDARD = (176.0, 10.0, 2520.0)
MOST_TOTAL = 320.0

# International Standard Atmosphere (ISO 2533:1975): °C, metres, kg/m³. From memory. The last: ideal gas at 25 °C.
DENSITIES = ((15.0, 0.0, 1.2250), (-43.417, 9000.0, 0.46706), (2.004, 2000.0, 1.00655), (25.0, 0.0, 1.184))
PRESSURES = ((0.0, 1013.25), (1000.0, 898.76), (9000.0, 308.00))  # metres, hPa

# A. R. Penner, The run of a golf ball, Canadian Journal of Physics 80, 2002; second-hand. Speed m/s, degrees from the
# vertical, backspin rad/s, and 1.17 and 2.82 m: what those lengths are isn't said where they are quoted. They are
# the heights of the first bounce by his formulas (its lengths would be 4.0 and 9.5 m).
FIRST_BOUNCES = ((26.2, 46.2, 315.0, 1.17), (26.8, 68.0, 224.0, 2.82))


def by_solve_ivp(speed, launch, spin, density, tail=0.0, across=0.0, rise=0.0):
    """Return carry, side and apex in metres of a ball that flies to a plane which rises by so much a metre.

    By vectors, cross products and scipy's adaptive eighth-order method.
    """
    radius, mass = 0.021335, 0.04593
    axis = np.array([0.0, -1.0, 0.0])  # x ahead, y to the left, z up: right-handed
    wind = np.array([tail, -across, 0.0])
    k = density * math.pi * radius**2 / (2 * mass)

    def rates(_time, s):
        u = s[3:6] - wind
        size = np.linalg.norm(u)
        ratio = radius * s[6] / size
        lift = ratio / (0.352 + 1.91 * ratio)
        drag = 0.200 + 1.40 * lift**2
        pull = k * size * (lift * np.cross(axis, u) - drag * u)
        return [*s[3:6], *(pull - [0.0, 0.0, 9.80665]), -2.0e-5 * density / 1.225 * size * s[6] / radius]

    def ground(time, s):
        return s[2] - rise * s[0] if time > 1e-3 else 1.0

    ground.terminal, ground.direction = True, -1.0
    angle = math.radians(launch)
    start = [0, 0, 0, speed * math.cos(angle), 0, speed * math.sin(angle), spin * math.pi / 30]
    done = solve_ivp(rates, (0, 60), start, "DOP853", events=ground, rtol=1e-10, atol=1e-10, max_step=0.05)
    end = done.y_events[0][0]
    return end[0], -end[1], done.y[2].max()
