"""A day as people write it, in a `day:` block or as options: wind, temperature, firmness and the like.

Each reader turns words into the record's units, or returns None; ``EXPECTED`` says what it would have understood.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from typing import Annotated, Any, Final, NamedTuple

from pydantic import BeforeValidator, Field, WithJsonSchema

from simcaddie.base.errors import BadRequest, Fault
from simcaddie.base.units import MPS_PER_MPH
from simcaddie.io.faults import fault, sound
from simcaddie.io.fields import Format, Name, Part, unlike
from simcaddie.io.yaml_reader import Document, PathLike, load
from simcaddie.weather.day import STANDARD, Day

__all__ = ["EXPECTED", "READERS", "DayBlock", "DayFile", "Wind", "day_faults", "day_of", "day_of_words", "read_day"]

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


def _measure(units: dict[str, float], low: float, high: float) -> Callable[[Any], float | None]:
    """Return a reader of "20 mph" in the units' base."""

    def read(text: Any) -> float | None:
        found = _quantity(str(text), units)
        return found[0] if found and not found[1] and low <= found[0] <= high else None

    return read


def read_temperature(text: Any) -> float | None:
    """Read "8 C", "8 °C", "46 F" as °C."""
    found = re.fullmatch(r"\s*(-?\d+(?:[.,]\d+)?)\s*°?\s*([cf])\s*", str(text).lower().replace("−", "-"))
    if not found:
        return None
    value = float(found[1].replace(",", "."))
    value = value if found[2] == "c" else (value - 32.0) / 1.8
    return value if -40.0 <= value <= 50.0 else None


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
    "gust": _measure(MS_PER, 0.0, MOST_WIND),
    "temperature": read_temperature,
    "altitude": _measure(METRES_PER, -430.0, 9000.0),
    "firmness": read_firmness,
    "greens": read_greens,
}


def _reader(key: str) -> BeforeValidator:
    def read(value: Any) -> Any:
        found = READERS[key](value) if isinstance(value, str | int | float) else None
        if found is None:
            raise unlike(EXPECTED[key], value)
        return found

    return BeforeValidator(read)


_TEXT: Final = WithJsonSchema({"type": "string"})
_EITHER: Final = WithJsonSchema({"type": ["string", "number"]})


class DayBlock(Part):
    """Wind, air and ground of a day; what is left out is as on a standard day."""

    wind: Annotated[Wind, _reader("wind"), _TEXT] | None = Field(None, description="such as `12 mph from 240`")
    gust: Annotated[float, _reader("gust"), _TEXT] | None = Field(None, description="such as `20 mph`")
    temperature: Annotated[float, _reader("temperature"), _TEXT] | None = Field(None, description="such as `8 C`")
    altitude: Annotated[float, _reader("altitude"), _TEXT] | None = Field(None, description="such as `150 m`")
    firmness: Annotated[float, _reader("firmness"), _EITHER] | None = Field(
        None, description="`soft`, `ordinary`, `firm`, or 0 to 1"
    )
    greens: Annotated[float, _reader("greens"), _EITHER] | None = Field(None, description="feet on the stimpmeter")


class DayFile(Part):
    """A day to plan for."""

    format: Format = Field(1, description="of the file")
    name: Name | None = Field(None, description="what the day is called, such as `winter`")
    day: DayBlock


def day_of(block: DayBlock) -> Day:
    """Return the day of a block; what it leaves out is as on a standard day."""
    return _made(dict(block))


def _made(said: Mapping[str, Any]) -> Day:
    found = {key: value for key, value in said.items() if value is not None}
    wind = found.pop("wind", None)
    if wind is not None:
        found |= {"wind": wind.speed, "wind_from": wind.comes_from, "relative": wind.relative}
    return Day(**found)


def _check_gust(day: Day) -> bool:
    return day.gust is None or day.gust >= day.wind


def day_faults(document: Document, block: DayBlock | None) -> list[Fault]:
    """Return the faults of a `day:` block as a whole."""
    right = block is None or _check_gust(day_of(block))
    return [] if right else [fault(document, ("day", "gust"), EXPECTED["gust"])]


def read_day(path: PathLike) -> tuple[str, Day]:
    """Return the name and the day of a day file; the name is "" where it has none.

    Raises
    ------
    BadFile
        With every fault of the file, each with its line.
    """
    document = load(path)
    expected = "a day: `day:` with lines of `key: value` below it"
    model = sound(document, DayFile, expected, lambda m: day_faults(document, m.day if m else None))
    return model.name or "", day_of(model.day)


def day_of_words(words: Mapping[str, str | None], base: Day = STANDARD) -> Day:
    """Return the day that words say, by key as in a `day:` block; what is None stays as in ``base``.

    Raises
    ------
    BadRequest
        For words that can't be understood, named as options: ``--wind: expected …``.
    """
    said: dict[str, Any] = {}
    for key, value in words.items():
        if value is None:
            continue
        said[key] = READERS[key](value)
        if said[key] is None:
            raise BadRequest(f"--{key}: expected {EXPECTED[key]}, found '{value}'")
    kept = {key: getattr(base, key) for key in ("gust", "temperature", "altitude", "firmness", "greens")}
    wind = Wind(base.wind, base.wind_from, base.relative)
    day = _made({"wind": wind, **kept, **said})
    if not _check_gust(day):
        raise BadRequest(f"--gust: expected {EXPECTED['gust']}, found '{words.get('gust') or 'the one of the file'}'")
    return day
