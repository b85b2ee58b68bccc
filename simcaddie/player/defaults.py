"""What a player file may leave out, and what stands in for it.

Launch and spin by club follow a published table of club-golfer averages (second-hand; estimates between). Landing
angles of the driver, 6 and 7 irons follow published radar averages; a longer hitter's ball comes down more steeply.

For a swing of carry C (yd), by a player whose index says the skill (``skill.py``; index 18 where the file has none):

=============  ==============================================================================================
carry sd       the skill's share of C; part swings 1.2 ×
side           0 (straight)
side sd        C × tan of the skill's direction sd
correlation    0
run            by landing angle θ: C × (2 % + 14 % × ((50° − θ)/20°)^1.4), 2 % from 50° up, 20 % below 26°; its sd
               40 % of the run. 8 % at 39° is usual on tour; raters count about 20 yd in a drive of 200 or 250 yd
mishits        the skill's share, part swings half of it; woods half fat, half thin; irons 0.6 fat
launch, spin   table below; a part swing launches 1.5° lower with 0.75 of the spin
landing        table below, 11° × (C / the table's carry − 1) steeper, at most 6; a part swing 2° shallower
=============  ==============================================================================================

The skill's numbers are for the course. Where a swing's other numbers come from the range, its spreads and mishits are
what will be so much once ``range_to_course`` has widened them.
"""

from __future__ import annotations

from dataclasses import astuple, dataclass, replace
from typing import Final

from simcaddie.player.skill import skill_of
from simcaddie.player.swing import Posterior, RangeToCourse, Source, Swing, Trust

__all__ = ["CLUBS", "ClubDefaults", "club_defaults", "make_swing", "mishit_split"]


@dataclass(frozen=True, slots=True)
class ClubDefaults:
    """Loft, launch and landing in degrees, spin in rpm, a club golfer's carry in yards."""

    loft: float
    launch: float
    spin: float
    landing: float
    carry: float


CLUBS: Final[dict[str, ClubDefaults]] = {
    "driver": ClubDefaults(10.5, 12.6, 3200, 35.0, 205.0),
    "3 wood": ClubDefaults(15.0, 12.5, 3900, 38.0, 185.0),
    "4 wood": ClubDefaults(16.5, 13.0, 4100, 39.0, 178.0),
    "5 wood": ClubDefaults(18.0, 13.5, 4400, 40.5, 172.0),
    "7 wood": ClubDefaults(21.0, 14.5, 4700, 42.5, 167.0),
    "2 hybrid": ClubDefaults(17.0, 13.0, 4200, 39.5, 175.0),
    "3 hybrid": ClubDefaults(19.0, 13.5, 4400, 40.5, 170.0),
    "hybrid": ClubDefaults(22.0, 14.5, 4600, 42.0, 165.0),
    "4 hybrid": ClubDefaults(22.0, 14.5, 4600, 42.0, 165.0),
    "5 hybrid": ClubDefaults(25.0, 15.5, 4900, 43.0, 156.0),
    "6 hybrid": ClubDefaults(28.0, 16.8, 5300, 44.0, 148.0),
    "2 iron": ClubDefaults(18.5, 12.5, 4300, 38.5, 168.0),
    "3 iron": ClubDefaults(20.5, 13.5, 4500, 39.5, 161.0),
    "4 iron": ClubDefaults(23.0, 14.5, 4700, 41.0, 155.0),
    "5 iron": ClubDefaults(26.0, 15.5, 5000, 42.5, 150.0),
    "6 iron": ClubDefaults(29.5, 17.0, 5600, 44.0, 145.0),
    "7 iron": ClubDefaults(33.0, 19.0, 6000, 45.5, 138.0),
    "8 iron": ClubDefaults(37.0, 21.0, 6800, 47.0, 128.0),
    "9 iron": ClubDefaults(41.5, 24.0, 7400, 48.5, 116.0),
    "pitching wedge": ClubDefaults(46.0, 26.5, 8000, 50.0, 104.0),
    "gap wedge": ClubDefaults(50.0, 29.0, 8500, 51.0, 92.0),
    "sand wedge": ClubDefaults(55.0, 32.0, 9000, 52.5, 80.0),
    "lob wedge": ClubDefaults(60.0, 35.0, 9200, 54.0, 65.0),
}

STEEPER: Final = 11.0  # degrees of landing angle per share of carry beyond the table's: driver 39° at 282 yd
MOST_STEEPER: Final = 6.0


def _between(loft: float) -> ClubDefaults:
    """Interpolate launch, spin and landing for a club known only by its loft."""
    rows = sorted(CLUBS.values(), key=lambda row: row.loft)
    low = max((row for row in rows if row.loft <= loft), key=lambda row: row.loft, default=rows[0])
    high = min((row for row in rows if row.loft >= loft), key=lambda row: row.loft, default=rows[-1])
    share = 0.0 if high.loft == low.loft else (loft - low.loft) / (high.loft - low.loft)
    mixed = ClubDefaults(*(a + share * (b - a) for a, b in zip(astuple(low), astuple(high), strict=True)))
    return replace(mixed, loft=loft)


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
    index: float | None = None,
    transfer: RangeToCourse | None = None,
) -> Swing:
    """Return a whole swing, what is None filled in by the table in this module's head.

    ``carry`` and sds in yards, angles in degrees, chances in 0..1; ``index`` and ``transfer`` are the player's.
    """
    part, skill, widened = name != "full", skill_of(index), (transfer or RangeToCourse()).of(source)
    base = club_defaults(club, loft) or _between(loft)
    if landing is None:
        steeper = STEEPER * (carry / base.carry - 1.0)
        landing = base.landing + min(MOST_STEEPER, max(-MOST_STEEPER, steeper)) if not part else base.landing - 2.0
    if run is None:
        run = carry * (0.02 + 0.14 * min(1.2, max(0.0, (50.0 - landing) / 20.0)) ** 1.4)
    given = {"carry_sd": carry_sd, "side_sd": side_sd, "fat": fat, "thin": thin}
    both = mishit_split(loft, skill.share_of_mishits(part=part) / (widened.mishits or 1.0))
    return Swing(
        club=club,
        name=name,
        loft=loft,
        carry=carry,
        carry_sd=carry_sd if carry_sd is not None else skill.spread_of_carry(carry, part=part) / widened.spread,
        side=side,
        side_sd=side_sd if side_sd is not None else skill.side_sd(carry, loft) / widened.spread,
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
        filled=tuple(name for name, value in given.items() if value is None),
    )
