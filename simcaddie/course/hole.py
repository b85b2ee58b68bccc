"""The hole as a record: what a hole file says, in yards, checked and with smooth outlines drawn out.

Frame: x to the right, y up the hole, angles clockwise from +y.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Final

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely import Polygon

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import BY_NAME, GROUND, TEE, Surface

__all__ = ["TREE_DENSITY", "TREE_HEIGHT", "Area", "Hole", "Landmark", "Point", "Spot"]

TREE_HEIGHT: Final = 12.0  # yd, of trees whose height nobody told; common practice, no source
TREE_DENSITY: Final = 0.5  # share of balls stopped by 10 m of wood, likewise; common practice, no source

Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Area:
    """One outlined piece of ground.

    ``outline`` is in yards, inner rings kept; ``marking`` is "red" or "yellow" for a penalty area (Rule 17);
    ``height`` (yd) and ``density`` (0..1) describe trees; ``tilt`` is (per cent, bearing downhill in radians), greens
    only.
    """

    kind: str
    outline: Polygon
    name: str = ""
    marking: str = ""
    height: float = 0.0
    density: float = 0.0
    tilt: tuple[float, float] | None = None

    @property
    def surface(self) -> Surface:
        """The row of its kind."""
        return BY_NAME[self.kind]

    @property
    def title(self) -> str:
        """The name a person gave it, else the kind in plain words."""
        return self.name or self.surface.title


@dataclass(frozen=True, slots=True)
class Landmark:
    """A thing to aim at."""

    name: str
    at: Point


@dataclass(frozen=True, slots=True)
class Spot:
    """A named place to ask from, and the lie there (a surface kind)."""

    at: Point
    lie: str


@dataclass(frozen=True, slots=True)
class Hole:
    """A hole; lengths in yards, ``bearing`` (degrees) the compass direction of +y, None where nobody said.

    ``line`` is the line of play from a tee to the green, () where it is to be found from the fairways. ``heights`` is
    float64[n, 3] of (x, y, height) spot heights, or None where the hole counts as flat.
    """

    name: str
    par: int
    tees: Mapping[str, Point]
    pins: Mapping[str, Point]
    areas: tuple[Area, ...]
    stroke_index: int | None = None
    bearing: float | None = None
    surround: str = GROUND
    line: tuple[Point, ...] = ()
    boundary: Polygon | None = None
    heights: NDArray[np.float64] | None = None
    landmarks: tuple[Landmark, ...] = ()
    spots: Mapping[str, Spot] = field(default_factory=dict)
    local_rules: frozenset[str] = frozenset()
    origin: tuple[float, float] | None = None  # lon, lat of (0, 0)
    source: str = ""  # whose drawing it is, and under which licence
    units: str = "yards"  # what the file was written in; the record itself is in yards

    @property
    def green(self) -> Polygon:
        """The green that holds the default pin."""
        greens = [area.outline for area in self.areas if area.surface.putting]
        pin = shapely.Point(self.pin())
        return next((green for green in greens if green.covers(pin)), greens[0])

    @property
    def green_middle(self) -> Point:
        """The middle of that green."""
        centre = self.green.centroid
        return float(centre.x), float(centre.y)

    def pin(self, name: str | None = None) -> Point:
        """Return a pin by name; ``middle``, else the first, by default.

        Raises
        ------
        BadRequest
            Where the hole has no pin of that name.
        """
        if name is None:
            return self.pins.get("middle", next(iter(self.pins.values())))
        if name not in self.pins:
            raise BadRequest(f"{self.name} has no pin '{name}'; it has {', '.join(self.pins)}")
        return self.pins[name]

    def place(self, tee: str | None = None, spot: str | None = None) -> Spot:
        """Return where the question is asked from: a tee (the first by default) or a named spot.

        Raises
        ------
        BadRequest
            Where the hole has no tee or spot of that name, or both are asked for.
        """
        if tee is not None and spot is not None:
            raise BadRequest("ask from a tee or from a spot, not from both")
        if spot is not None:
            if spot not in self.spots:
                known = ", ".join(self.spots) or "none"
                raise BadRequest(f"{self.name} has no spot '{spot}'; it has {known}")
            return self.spots[spot]
        name = tee if tee is not None else next(iter(self.tees))
        if name not in self.tees:
            raise BadRequest(f"{self.name} has no tee '{name}'; it has {', '.join(self.tees)}")
        return Spot(self.tees[name], TEE)
