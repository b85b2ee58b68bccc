"""Which carries a ball can fly at all, without loading the flight model for usual ones."""

from __future__ import annotations

from typing import Final

from simcaddie.base.units import METRES_PER_YARD

__all__ = ["can_carry"]

# launch from, to (degrees), spin from, to (rpm), carry up to (yd): the fastest ball goes farther by a good margin
SURELY: Final = (
    (8.0, 20.0, 1000.0, 5000.0, 290.0),
    (8.0, 30.0, 1000.0, 8000.0, 190.0),
    (8.0, 40.0, 1000.0, 9500.0, 120.0),
)


def can_carry(carry: float, launch: float, spin: float) -> bool:
    """Tell whether some ball launched at ``launch`` degrees with ``spin`` rpm carries ``carry`` yards in still air."""
    if any(low <= launch <= high and less <= spin <= more and carry <= far for low, high, less, more, far in SURELY):
        return True
    from simcaddie.base.errors import BadRequest  # noqa: PLC0415 (half a second that few files need)
    from simcaddie.weather.day import STANDARD  # noqa: PLC0415
    from simcaddie.weather.flight import air_density, ball_speed  # noqa: PLC0415

    try:
        ball_speed(carry * METRES_PER_YARD, launch, spin, density=air_density(STANDARD.temperature, STANDARD.altitude))
    except BadRequest:
        return False
    return True
