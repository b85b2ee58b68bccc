"""A `day:` block, and the file that holds one, to a day record."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Annotated, Any, Final

from pydantic import BeforeValidator, Field, WithJsonSchema

from simcaddie.air.day import STANDARD, Day
from simcaddie.errors import BadRequest, Fault
from simcaddie.files.day_words import EXPECTED, READERS, Wind
from simcaddie.files.nodes import Document, PathLike, load
from simcaddie.files.told import fault, raise_faults, validated
from simcaddie.files.words import Format, Name, Part, unlike

__all__ = ["DayBlock", "DayFile", "day_faults", "day_of", "day_of_words", "read_day"]


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


def day_of(block: DayBlock | None) -> Day:
    """Return the day of a block; what it leaves out is as on a standard day."""
    return _made(dict(block) if block else {})


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
    sound = block is None or _check_gust(day_of(block))
    return [] if sound else [fault(document, ("day", "gust"), EXPECTED["gust"])]


def read_day(path: PathLike) -> tuple[str, Day]:
    """Return the name and the day of a day file; the name is "" where it has none.

    Raises
    ------
    BadFile
        With every fault of the file, each with its line.
    """
    document = load(path)
    if not isinstance(document.data, dict):
        raise_faults([fault(document, (), "a day: `day:` with lines of `key: value` below it")])
    model, faults = validated(document, DayFile)
    if model is not None:
        faults += day_faults(document, model.day)
    raise_faults(faults)
    if model is None:
        raise TypeError("a model that fails has faults")  # unreachable
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
