"""Values for open maps of two golf courses, which stand beside a checkout or nowhere.

Outlines © OpenStreetMap contributors, ODbL 1.0 (openstreetmap.org/copyright), from Geofabrik's extracts
europe/isle-of-man of 2021-11-07 and europe/malta of 2018-08-27. The shares were computed by someone else from
the polygons themselves, exactly (Owen's T), on hole 6 of the first course, in metres: origin at the tee end of
the hole line, y along its first segment, where bunker, green, tee and fairway win in this order.
"""

from __future__ import annotations

from pathlib import Path

__all__ = ["LINE_6", "SHARES_6", "open_map"]

# mean (x, y), sd (x, y), correlation → share of fairway, of bunker
SHARES_6 = (
    ((0.0, 210.0), (14.0, 11.0), 0.0, 0.588176, 0.000023),
    ((-12.0, 210.0), (20.0, 14.0), 0.35, 0.385075, 0.000008),
)
LINE_6 = ((0.0, 0.0), (0.0, 250.03), (-35.87, 362.25))  # metres


def open_map(name: str) -> Path | None:
    """Return the path of an open map, in a ``geodata`` folder next to the checkout; None where there is none."""
    around = Path(__file__).resolve().parents[3]
    return next(iter(sorted(around.glob(f"*/geodata/*{name}*.geojson"))), None)
