"""What was read from a map, before any of it has a meaning: shapes in degrees with their tags."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

__all__ = ["MapData", "MapFeature", "Tags"]

Tags = Mapping[str, str]


def _no_heights() -> NDArray[np.float64]:
    return np.empty((0, 3))


@dataclass(frozen=True, slots=True)
class MapFeature:
    """One thing on a map: its shape in degrees, its tags as text, and what a report calls it.

    ``heights`` is float64[n, 3] of longitude, latitude and metres, for the corners that have a height.
    """

    shape: BaseGeometry
    tags: Tags
    label: str
    heights: NDArray[np.float64] = field(default_factory=_no_heights)


@dataclass(frozen=True, slots=True)
class MapData:
    """All that a map file holds for us; ``source`` says whose map it is and under which licence.

    ``left_out`` counts, by reason, what could not be used.
    """

    features: tuple[MapFeature, ...]
    name: str = ""
    source: str = ""
    source_assumed: bool = False
    left_out: Mapping[str, int] = field(default_factory=dict)
