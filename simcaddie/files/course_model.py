"""The course file as a model: its keys, their types and bounds."""

from __future__ import annotations

from typing import Annotated, Any, Final

from pydantic import BeforeValidator, Field

from simcaddie.files.day_file import DayBlock
from simcaddie.files.words import Format, Name, Part, Units, Within, told, unlike

__all__ = ["MOST_HOLES", "CourseFile", "CourseTeeFile"]

MOST_HOLES: Final = 36


def _file_name(value: Any) -> Any:
    if isinstance(value, str) and value.strip() and value.isprintable() and len(value) <= 200:
        return value
    raise unlike("the name of a hole file", value)


class CourseTeeFile(Part):
    """What the card says of one tee."""

    par: Annotated[int, Field(ge=3, le=6 * MOST_HOLES), told("a whole number, the par of all holes")] | None = None
    course_rating: Annotated[float, Within(above=0, high=200)] | None = Field(
        None, description="strokes a scratch player takes, from the card"
    )
    slope: Annotated[int, Field(ge=55, le=155), told("a whole number from 55 to 155")] | None = Field(
        None, description="slope rating, from the card; 113 is the standard"
    )


class CourseFile(Part):
    """A golf course: its hole files in playing order."""

    format: Format = Field(1, description="of the file")
    name: Name
    units: Units = Field("yards", description="of all lengths in this file")
    holes: Annotated[
        list[Annotated[str, BeforeValidator(_file_name)]], Field(min_length=1, max_length=MOST_HOLES)
    ] = Field(description="hole files in playing order, as seen from this file's folder")
    tees: dict[Name, CourseTeeFile] = Field({}, description="by name, as the hole files name them")
    day: DayBlock | None = Field(None, description="wind, air and ground to plan for")
    source: Annotated[str, Field(max_length=500), told("text")] | None = Field(
        None, description="where the drawing comes from"
    )
