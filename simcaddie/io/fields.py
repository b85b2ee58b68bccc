"""The vocabulary that file models share: numbers, names, points, choices, each with its words for a fault."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Annotated, Any, Final, Literal

from pydantic import BaseModel, BeforeValidator, ConfigDict, Field, Strict, ValidationError, WrapValidator
from pydantic_core import CoreSchema, PydanticCustomError, core_schema

from simcaddie.io.faults import describe, listed, near
from simcaddie.io.hole_rules import RULES

__all__ = [
    "REACH",
    "Coordinate",
    "Format",
    "Name",
    "OneOf",
    "Part",
    "Point",
    "Source",
    "Units",
    "Within",
    "is_name",
    "told",
    "unlike",
]

REACH: Final = 2000.0  # units from the frame's origin; the longest hole is a third of that


class Part(BaseModel):
    """Base of all file models: strict types, no unknown keys, nothing endless."""

    model_config = ConfigDict(strict=True, extra="forbid", frozen=True, allow_inf_nan=False)


def unlike(expected: str, value: Any) -> PydanticCustomError:
    """Return the error for a value that isn't as ``expected``, for a validator to raise."""
    return PydanticCustomError("told", "{expected}", {"expected": expected, "found": describe(value)})


def told(expected: str) -> WrapValidator:
    """Return a validator that tells any fault within the type as ``expected``."""

    def check(value: Any, handler: Any) -> Any:
        try:
            return handler(value)
        except ValidationError:
            raise unlike(expected, value) from None

    return WrapValidator(check)


@dataclass(frozen=True, slots=True)
class Within:
    """Marks a float as one from ``low`` to ``high``; ``above`` and ``below`` are themselves out of bounds."""

    low: float | None = None
    high: float | None = None
    above: float | None = None
    below: float | None = None

    @property
    def words(self) -> str:
        """The bounds as a fault tells them."""
        if self.above is not None and self.below is not None:
            return f"a number between {self.above:g} and {self.below:g}"
        if self.above is not None:
            return f"a number above {self.above:g}" + (f", at most {self.high:g}" if self.high is not None else "")
        return f"a number from {self.low:g} to {self.high:g}"

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        plain = core_schema.float_schema(
            strict=True, allow_inf_nan=False, ge=self.low, le=self.high, gt=self.above, lt=self.below
        )
        return core_schema.no_info_wrap_validator_function(told(self.words).func, plain)  # type: ignore[arg-type]


@dataclass(frozen=True, slots=True)
class OneOf:
    """Marks a text as one out of ``names``; a near one is suggested, then with ``what`` for a long list."""

    names: tuple[str, ...]
    what: str = ""
    synonyms: Mapping[str, str] = field(default_factory=dict, hash=False)

    def check(self, value: Any) -> Any:
        """Return the value, or raise the fault."""
        if isinstance(value, str) and value in self.names:
            return value
        close = self.synonyms.get(value.lower()) or near(value, self.names) if isinstance(value, str) else None
        plain = listed(self.names)
        hint = f" (did you mean `{close}`?)" if close and len(self.names) > 1 else ""
        raise unlike((self.what or plain) + hint if hint else plain, value)

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_before_validator_function(self.check, core_schema.literal_schema([*self.names]))


def is_name(value: Any) -> bool:
    """Tell whether a value can be a name in a file: text to be printed, of at most 80 letters."""
    return isinstance(value, str) and bool(value.strip()) and value.isprintable() and len(value) <= 80


def _printable(value: Any) -> Any:
    if is_name(value):
        return value
    number = isinstance(value, int | float) and not isinstance(value, bool)
    raise unlike("a name, in quotes if it is a number" if number else RULES["name"][0], value)


Name = Annotated[str, BeforeValidator(_printable)]
Source = Annotated[str, Field(max_length=500), told("text")]
Format = Annotated[Literal[1], told("1, the only format there is so far")]
Units = Annotated[Literal["yards", "metres"], OneOf(("yards", "metres"))]
Coordinate = Annotated[float, Field(ge=-REACH, le=REACH)]
Point = Annotated[
    tuple[Coordinate, Coordinate], Strict(False), told(f"a point [x, y], each from {-REACH:g} to {REACH:g}")
]
