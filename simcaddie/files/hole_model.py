"""The hole file as a model: its keys, their types and bounds.

What a hole as a whole must be is in ``hole_checks``.
"""

from __future__ import annotations

from typing import Annotated, Final, Literal

from pydantic import Field, Strict

from simcaddie.files.words import REACH, Format, Name, OneOf, Part, Point, Units, Within, told
from simcaddie.ground.hole import TREE_DENSITY, TREE_HEIGHT
from simcaddie.surfaces import NAMES, SURFACES, SYNONYMS

__all__ = [
    "LIES",
    "SURROUNDS",
    "SYNONYMS",
    "AreaFile",
    "HoleFile",
    "LandmarkFile",
    "SpotFile",
    "TiltFile",
]

MAX_POINTS: Final = 2000
MAX_AREAS: Final = 2000

LIES: Final = tuple(kind.name for kind in SURFACES if not kind.penalty and not kind.out)
SURROUNDS: Final = ("rough", "light_rough", "fairway", "heather", "gorse", "out_of_bounds")

Ring = Annotated[list[Point], Field(max_length=MAX_POINTS, json_schema_extra={"minItems": 3})]
Height = Annotated[
    tuple[
        Annotated[float, Field(ge=-REACH, le=REACH)],
        Annotated[float, Field(ge=-REACH, le=REACH)],
        Annotated[float, Field(ge=-1000, le=1000)],
    ],
    Strict(False),
    told("a spot height [x, y, height]"),
]


class TiltFile(Part):
    """One slope of a green."""

    percent: Annotated[float, Within(0, 15)] = Field(description="fall in per cent")
    toward: Annotated[float, Within(-360, 360)] = Field(
        description="where the ground falls to, in degrees clockwise from straight up the hole"
    )


class AreaFile(Part):
    """One outlined piece of ground."""

    kind: Annotated[str, OneOf(NAMES, "a kind of ground", SYNONYMS)] = Field(description="what lies there")
    outline: Ring = Field(description="points [x, y] around it; it need not be closed")
    name: Name | None = Field(None, description="what players call it")
    smooth: bool = Field(False, description="true runs a smooth closed curve through the points")
    inner: list[Ring] = Field([], description="outlines of holes in the area")
    marking: Annotated[Literal["red", "yellow"], OneOf(("red", "yellow"))] | None = Field(
        None, description="water only, and there required: how the penalty area is marked"
    )
    height: Annotated[float, Within(above=0, high=80)] | None = Field(
        None, description=f"trees only: their height; {TREE_HEIGHT:g} yards if left out"
    )
    density: Annotated[float, Within(0, 1)] | None = Field(
        None,
        description=f"trees only: share of balls that 10 metres of them stop; {TREE_DENSITY:g} if left out",
    )
    tilt: TiltFile | None = Field(None, description="greens only: their slope")


class LandmarkFile(Part):
    """A thing to aim at."""

    name: Name
    at: Point


class SpotFile(Part):
    """A named place to ask from."""

    at: Point
    lie: Annotated[str, OneOf(LIES)] | None = Field(
        None, description="the lie; what is drawn there if left out"
    )


class OriginFile(Part):
    """Where on Earth the point [0, 0] lies."""

    lon: Annotated[float, Within(-180, 180)] = Field(description="degrees east")
    lat: Annotated[float, Within(-90, 90)] = Field(description="degrees north")


class HoleFile(Part):
    """A golf hole: x is to the right, y up the hole, angles clockwise from straight up the hole."""

    format: Format = Field(1, description="of the file")
    name: Name
    par: Annotated[int, Field(ge=3, le=6), told("a whole number from 3 to 6")]
    stroke_index: Annotated[int, Field(ge=1, le=18), told("a whole number from 1 to 18")] | None = None
    units: Units = Field("yards", description="of all lengths in the file")
    bearing: Annotated[float, Within(-360, 360)] = Field(
        0.0, description="compass direction of straight up the hole"
    )
    tees: Annotated[dict[Name, Point], Field(min_length=1)] = Field(
        description="by name, the usual one first"
    )
    pins: Annotated[dict[Name, Point], Field(min_length=1)] = Field(
        description="by name; `middle` is the usual one"
    )
    surround: Annotated[str, OneOf(SURROUNDS)] = Field("rough", description="what lies outside every area")
    areas: Annotated[list[AreaFile], Field(max_length=MAX_AREAS)]
    line: Annotated[list[Point], Field(max_length=50, json_schema_extra={"minItems": 2})] | None = Field(
        None, description="the line of play, from a tee to the green; found from the fairways if left out"
    )
    boundary: Ring | None = Field(None, description="outside it is out of bounds")
    heights: Annotated[list[Height], Field(max_length=20_000)] | None = Field(
        None, description="spot heights [x, y, height]"
    )
    landmarks: list[LandmarkFile] = Field([], description="things to aim at")
    spots: dict[Name, SpotFile] = Field({}, description="places to ask from, by name")
    local_rules: list[Annotated[str, OneOf(("E-5",))]] = Field([], description="model Local Rules in force")
    origin: OriginFile | None = Field(None, description="where on Earth [0, 0] lies")
    source: Annotated[str, Field(max_length=500), told("text")] | None = Field(
        None, description="where the drawing comes from"
    )
