"""What a player file may leave out, and what stands in for it.

Launch and spin by club follow a published table of club-golfer and tour averages (second-hand; estimates between).
Landing angles of the driver, 6 and 7 irons follow published radar averages, lowered for a club golfer's ball speed.
The rest is common practice, no source; calibration against published scores is noted beside a number where it was done.

For a swing of carry C (yd):

=============  ==============================================================================================
carry sd       6 % of C, at least 2.5 yd
side           0 (straight)
side sd        C × tan(3.6°) for a full driver, growing less with loft to tan(2.7°) for wedges; part swings 0.85 ×
correlation    0
run            by landing angle: 22 % of C at 30°, 3 % at 50°, never below 2 %; its sd 40 % of the run
mishits        full 0.12, part swings 0.06 together; a driver and woods half fat, half thin; irons 0.6 fat
launch, spin   table below; a part swing launches 1.5° lower with 0.75 of the spin
landing        table below; a part swing 2° shallower
=============  ==============================================================================================
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

from simcaddie.golfer.player import Posterior, Source, Swing, Trust

__all__ = ["CLUBS", "ClubDefaults", "club_defaults", "make_swing", "mishit_split"]


@dataclass(frozen=True, slots=True)
class ClubDefaults:
    """Loft, launch and landing in degrees, spin in rpm."""

    loft: float
    launch: float
    spin: float
    landing: float


CLUBS: Final[dict[str, ClubDefaults]] = {
    "driver": ClubDefaults(10.5, 12.6, 3200, 35.0),
    "3 wood": ClubDefaults(15.0, 12.5, 3900, 38.0),
    "4 wood": ClubDefaults(16.5, 13.0, 4100, 39.0),
    "5 wood": ClubDefaults(18.0, 13.5, 4400, 40.5),
    "7 wood": ClubDefaults(21.0, 14.5, 4700, 42.5),
    "2 hybrid": ClubDefaults(17.0, 13.0, 4200, 39.5),
    "3 hybrid": ClubDefaults(19.0, 13.5, 4400, 40.5),
    "hybrid": ClubDefaults(22.0, 14.5, 4600, 42.0),
    "4 hybrid": ClubDefaults(22.0, 14.5, 4600, 42.0),
    "5 hybrid": ClubDefaults(25.0, 15.5, 4900, 43.0),
    "6 hybrid": ClubDefaults(28.0, 16.8, 5300, 44.0),
    "2 iron": ClubDefaults(18.5, 12.5, 4300, 38.5),
    "3 iron": ClubDefaults(20.5, 13.5, 4500, 39.5),
    "4 iron": ClubDefaults(23.0, 14.5, 4700, 41.0),
    "5 iron": ClubDefaults(26.0, 15.5, 5000, 42.5),
    "6 iron": ClubDefaults(29.5, 17.0, 5600, 44.0),
    "7 iron": ClubDefaults(33.0, 19.0, 6000, 45.5),
    "8 iron": ClubDefaults(37.0, 21.0, 6800, 47.0),
    "9 iron": ClubDefaults(41.5, 24.0, 7400, 48.5),
    "pitching wedge": ClubDefaults(46.0, 26.5, 8000, 50.0),
    "gap wedge": ClubDefaults(50.0, 29.0, 8500, 51.0),
    "sand wedge": ClubDefaults(55.0, 32.0, 9000, 52.5),
    "lob wedge": ClubDefaults(60.0, 35.0, 9200, 54.0),
}

FULL_MISHITS: Final = 0.12
PART_MISHITS: Final = 0.06


def _between(loft: float) -> ClubDefaults:
    """Interpolate launch, spin and landing for a club known only by its loft."""
    rows = sorted(CLUBS.values(), key=lambda row: row.loft)
    low = max((row for row in rows if row.loft <= loft), key=lambda row: row.loft, default=rows[0])
    high = min((row for row in rows if row.loft >= loft), key=lambda row: row.loft, default=rows[-1])
    share = 0.0 if high.loft == low.loft else (loft - low.loft) / (high.loft - low.loft)

    def mix(a: float, b: float) -> float:
        return a + share * (b - a)

    return ClubDefaults(loft, mix(low.launch, high.launch), mix(low.spin, high.spin), mix(low.landing, high.landing))


def club_defaults(name: str, loft: float | None = None) -> ClubDefaults | None:
    """Return a club's defaults by name, or by loft where the name is not in the table; None if neither helps.

    >>> club_defaults("driver").launch
    12.6
    >>> club_defaults("trusty old cleek", loft=23.0).landing
    41.0
    """
    known = CLUBS.get(name)
    if loft is None:
        return known
    return replace(known, loft=loft) if known else _between(loft)


def mishit_split(loft: float, mishits: float) -> tuple[float, float]:
    """Split a share of mishits into (fat, thin) by loft: woods even, irons and wedges 6 to 4."""
    fat = 0.5 if loft < 19.0 else 0.6
    return mishits * fat, mishits * (1.0 - fat)


def make_swing(
    club: str,
    name: str,
    carry: float,
    *,
    loft: float,
    carry_sd: float | None = None,
    side: float = 0.0,
    side_sd: float | None = None,
    correlation: float = 0.0,
    run: float | None = None,
    run_sd: float | None = None,
    fat: float | None = None,
    thin: float | None = None,
    launch: float | None = None,
    landing: float | None = None,
    spin: float | None = None,
    start_line: float | None = None,
    shots: int = 0,
    source: Source = "range",
    trust: Trust = "ok",
    estimated: bool = False,
    posterior: Posterior | None = None,
) -> Swing:
    """Return a whole swing, what is None filled in by the table in this module's head.

    ``carry`` and sds in yards, angles in degrees, chances in 0..1.
    """
    part = name != "full"
    base = club_defaults(club, loft) or _between(loft)
    landing = landing if landing is not None else base.landing - (2.0 if part else 0.0)
    if run is None:
        run = carry * max(0.02, 0.22 - 0.0095 * (landing - 30.0))
    spread = math.tan(math.radians(3.6 - 0.9 * min(1.0, max(0.0, (loft - 10.5) / 35.0)))) * (0.85 if part else 1.0)
    both = mishit_split(loft, PART_MISHITS if part else FULL_MISHITS)
    return Swing(
        club=club,
        name=name,
        loft=loft,
        carry=carry,
        carry_sd=carry_sd if carry_sd is not None else max(2.5, 0.06 * carry),
        side=side,
        side_sd=side_sd if side_sd is not None else carry * spread,
        correlation=correlation,
        run=run,
        run_sd=run_sd if run_sd is not None else 0.4 * run,
        fat=fat if fat is not None else both[0],
        thin=thin if thin is not None else both[1],
        launch=launch if launch is not None else base.launch - (1.5 if part else 0.0),
        landing=landing,
        spin=spin if spin is not None else base.spin * (0.75 if part else 1.0),
        start_line=start_line,
        shots=shots,
        source=source,
        trust=trust,
        estimated=estimated,
        posterior=posterior,
    )
