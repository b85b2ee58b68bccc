"""A day in words."""

from __future__ import annotations

from typing import Final

from simcaddie.air.day import STANDARD, Day
from simcaddie.units import MPS_PER_MPH

__all__ = ["day_words"]

_RELATIVE: Final = (
    "into", "into from the right", "from the right", "helping from the right", "helping", "helping from the left",
    "from the left", "into from the left",
)  # fmt: skip
_FIRMNESS: Final = {0.0: "soft", 0.5: "ordinary turf", 1.0: "firm"}


def _wind(day: Day) -> str:
    if day.wind == 0.0 and not day.wind_sd:
        return "calm"
    place = _RELATIVE[round(day.wind_from / 45.0) % 8] if day.relative else f"from {day.wind_from:.0f}°"
    gusts = f", gusts {day.gust / MPS_PER_MPH:.0f} mph" if day.gust and day.wind_sd else ""
    return f"{day.wind / MPS_PER_MPH:.0f} mph {place}{gusts}"


def day_words(day: Day) -> str:
    """Say a day in a line: the wind, then what differs from a standard day.

    >>> day_words(Day(wind=5.36, wind_from=240.0, relative=False, temperature=8.0, firmness=0.0))
    '12 mph from 240°, 8 °C, soft'
    """
    words = [_wind(day)]
    if day.temperature != STANDARD.temperature:
        words.append(f"{day.temperature:.0f} °C")
    if day.altitude != STANDARD.altitude:
        words.append(f"{day.altitude:.0f} m above the sea")
    if day.firmness != STANDARD.firmness:
        words.append(_FIRMNESS.get(day.firmness, f"firmness {day.firmness:g}"))
    if day.greens != STANDARD.greens:
        words.append(f"greens {day.greens:g} ft")
    return ", ".join(words)
