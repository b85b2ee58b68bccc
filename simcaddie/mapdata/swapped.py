"""Whether longitude and latitude were changed over.

Read the wrong way round, a course may still lie somewhere on Earth, but its shapes are stretched: a step to the east
counts too much or too little. Greens and bunkers lie every way about, so that on average over a course they are as
wide from east to west as from south to north. With rᵢ the logarithm of width over height of outline i, taken as normal
with mean 0 and sd 0.4 (0.33 and 0.36 on the two open maps that the tests may use), the two readings are told apart by

    ln (likelihood changed over / as written) = n (r̄² − r̄′²) / (2 · 0.4²)

Where that says a thousand to one, it is told. Near the equator and the zeroth meridian shapes tell nothing.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
import shapely
from shapely import Polygon

from simcaddie.mapdata.features import MapData
from simcaddie.mapdata.meaning import meaning_of

__all__ = ["log_odds_swapped"]

SPREAD: Final = 0.4
LIMIT: Final = 89.9  # degrees; what is more is no latitude of a course


def log_odds_swapped(data: MapData) -> float:
    """Return the natural logarithm of the odds that latitude was written first, from the greens and bunkers."""
    places, spreads = [], []
    for feature in data.features:
        meaning = meaning_of(feature.tags)
        if meaning is not None and meaning.kind in ("green", "bunker"):
            for part in shapely.get_parts(feature.shape):
                if isinstance(part, Polygon) and (spread := _spread(part)) is not None:
                    places.append((part.centroid.x, part.centroid.y))
                    spreads.append(spread)
    if not places or np.abs(places).max() > LIMIT:  # such a longitude can't be a latitude
        return 0.0
    lon, lat = np.radians(places).T
    as_written = float(np.mean(spreads + np.log(np.cos(lat))))
    other = float(np.mean(np.log(np.cos(lon)) - spreads))
    return len(spreads) * (as_written**2 - other**2) / (2.0 * SPREAD**2)


def _spread(polygon: Polygon) -> float | None:
    """Return ln(width / height) of an outline in degrees, from the spread of points along it."""
    outline = polygon.exterior
    if outline.length == 0.0:
        return None
    points = shapely.get_coordinates(shapely.line_interpolate_point(outline, np.linspace(0, 1, 64), normalized=True))
    width, height = points.std(axis=0)
    return math.log(width / height) if width > 0.0 and height > 0.0 else None
