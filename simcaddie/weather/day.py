"""The day: wind, air, ground and green speed, as a record.

The standard day is that of the numbers in a player file: calm, 15 °C at sea level (the standard atmosphere, ISO
2533), ordinary turf, greens of 9 feet on the stimpmeter. On it every swing does what was measured.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

__all__ = ["STANDARD", "Day"]

GUST_SDS: Final = 2.5  # a gust is the mean and this many sds of the speed; common practice, no source


@dataclass(frozen=True, slots=True)
class Day:
    """What the day does to flights, runs and putts.

    ``wind`` and ``gust`` are speeds in m/s; ``wind_from`` says where it comes from, in degrees clockwise from north, or
    where ``relative`` from the line of the hole (0: into the player's face). ``temperature`` in °C, ``altitude`` in
    metres, ``pressure`` in hPa (None: the usual one at that altitude); ``firmness`` from 0 (soft) by 0.5 (ordinary) to
    1 (firm); ``greens`` in feet on the stimpmeter.
    """

    wind: float = 0.0
    wind_from: float = 0.0
    relative: bool = True
    gust: float | None = None
    temperature: float = 15.0
    altitude: float = 0.0
    pressure: float | None = None
    firmness: float = 0.5
    greens: float = 9.0

    @property
    def wind_sd(self) -> float:
        """How much the wind's speed differs from stroke to stroke, sd in m/s."""
        return max(0.0, (self.gust or 0.0) - self.wind) / GUST_SDS

    def towards(self, line: float, bearing: float) -> float:
        """Return the direction that the wind blows towards, radians clockwise from +y of a hole.

        ``line`` is the bearing of the hole's line in its own frame, radians; ``bearing`` the compass direction of +y,
        degrees.
        """
        comes = math.radians(self.wind_from) + (line if self.relative else -math.radians(bearing))
        return comes + math.pi


STANDARD: Final = Day()
