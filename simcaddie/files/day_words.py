"""The words of a day: wind, temperature, firmness and the like as people write them, to the record's units.

Each reader returns what it understood, or None; ``EXPECTED`` says in words what it would have understood.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any, Final, NamedTuple

from simcaddie.units import MPS_PER_MPH

__all__ = ["EXPECTED", "READERS", "Wind"]

MS_PER: Final = {
    "mph": MPS_PER_MPH, "km/h": 1 / 3.6, "kmh": 1 / 3.6, "kph": 1 / 3.6, "m/s": 1.0, "ms": 1.0,
    "kn": 1852 / 3600, "kt": 1852 / 3600, "kts": 1852 / 3600, "knot": 1852 / 3600, "knots": 1852 / 3600,
}  # fmt: skip
METRES_PER: Final = {"m": 1.0, "metres": 1.0, "ft": 0.3048, "feet": 0.3048}
MOST_WIND: Final = 27.0  # m/s, 60 mph: nobody plays in more
POINTS: Final = ("n", "nne", "ne", "ene", "e", "ese", "se", "sse", "s", "ssw", "sw", "wsw", "w", "wnw", "nw", "nnw")
COMPASS: Final = {
    **{point: 22.5 * number for number, point in enumerate(POINTS)},
    "north": 0.0, "north east": 45.0, "east": 90.0, "south east": 135.0, "south": 180.0, "south west": 225.0,
    "west": 270.0, "north west": 315.0,
}  # fmt: skip
RELATIVE: Final = {
    "into": 0.0, "against": 0.0, "into from the right": 45.0, "from the right": 90.0, "helping from the right": 135.0,
    "helping": 180.0, "behind": 180.0, "helping from the left": 225.0, "from the left": 270.0,
    "into from the left": 315.0,
}  # fmt: skip
FIRMNESS: Final = {"soft": 0.0, "ordinary": 0.5, "firm": 1.0}

EXPECTED: Final = {
    "wind": "a wind up to 60 mph such as '12 mph from 240', '12 mph from NW', '12 mph into', '12 mph from the left' or "
    "'calm'; units mph, km/h, m/s or knots",
    "gust": "a speed up to 60 mph, not below the wind's, such as '20 mph'; units mph, km/h, m/s or knots",
    "temperature": "a temperature from -40 C to 50 C, such as '8 C' or '46 F'",
    "altitude": "an altitude from -430 m to 9,000 m, such as '150 m' or '500 ft'",
    "firmness": "soft, ordinary, firm, or a number from 0 to 1",
    "greens": "a green speed from 4 to 16 feet on the stimpmeter, such as 9.5",
}


class Wind(NamedTuple):
    """Speed in m/s, and where it comes from in degrees: from north, or where ``relative`` from the hole's line."""

    speed: float
    comes_from: float
    relative: bool


def _quantity(text: str, units: dict[str, float]) -> tuple[float, str] | None:
    """Split "12 mph from 240" into its quantity, in the units' base, and the rest."""
    found = re.match(r"\s*(-?\d+(?:[.,]\d+)?)\s*([a-z°/]+)\b\s*(.*)$", text.lower())
    if not found or found[2] not in units:
        return None
    return float(found[1].replace(",", ".")) * units[found[2]], found[3].strip()


def read_wind(text: Any) -> Wind | None:
    """Read "12 mph from 240", "5 m/s into", "calm"."""
    words = " ".join(re.sub(r"(?<=[a-z])-(?=[a-z])", " ", str(text).lower()).split())
    if words in ("calm", "none"):
        return Wind(0.0, 0.0, True)
    found = _quantity(words, MS_PER)
    if not found or not 0.0 <= found[0] <= MOST_WIND:
        return None
    speed, rest = found
    if rest in RELATIVE:
        return Wind(speed, RELATIVE[rest], True)
    comes_from = _compass(rest[5:]) if rest.startswith("from ") else None
    return None if comes_from is None else Wind(speed, comes_from, False)


def _compass(text: str) -> float | None:
    """Read "240", "240°", "NW", "the north west" as degrees from north."""
    place = text.removeprefix("the ").rstrip("°").strip()
    return COMPASS.get(place, _number(place, 0.0, 360.0))


def read_gust(text: Any) -> float | None:
    """Read "20 mph" as m/s."""
    found = _quantity(str(text), MS_PER)
    return found[0] if found and not found[1] and 0.0 <= found[0] <= MOST_WIND else None


def read_temperature(text: Any) -> float | None:
    """Read "8 C", "8 °C", "46 F" as °C."""
    found = re.fullmatch(r"\s*(-?\d+(?:[.,]\d+)?)\s*°?\s*([cf])\s*", str(text).lower().replace("−", "-"))
    if not found:
        return None
    value = float(found[1].replace(",", "."))
    value = value if found[2] == "c" else (value - 32.0) / 1.8
    return value if -40.0 <= value <= 50.0 else None


def read_altitude(text: Any) -> float | None:
    """Read "150 m", "500 ft" as metres."""
    found = _quantity(str(text), METRES_PER)
    return found[0] if found and not found[1] and -430.0 <= found[0] <= 9000.0 else None


def _number(value: Any, low: float, high: float) -> float | None:
    try:
        number = float(value)
    except (TypeError, ValueError):
        return None
    return number if low <= number <= high and not isinstance(value, bool) else None


def read_firmness(value: Any) -> float | None:
    """Read "soft", "ordinary", "firm", or 0 … 1."""
    return FIRMNESS.get(str(value).strip().lower(), _number(value, 0.0, 1.0))


def read_greens(value: Any) -> float | None:
    """Read feet on the stimpmeter, 4 … 16."""
    plain = re.sub(r"\s*(ft|feet)\s*$", "", value) if isinstance(value, str) else value
    return _number(plain, 4.0, 16.0)


READERS: Final[dict[str, Callable[[Any], Any]]] = {
    "wind": read_wind,
    "gust": read_gust,
    "temperature": read_temperature,
    "altitude": read_altitude,
    "firmness": read_firmness,
    "greens": read_greens,
}
