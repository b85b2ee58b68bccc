"""A fitted session to a player: numbers rounded as people write them, what wasn't hit kept as it was."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import fields, replace

from simcaddie.base.units import YARDS_PER
from simcaddie.fitting.fit import SessionFit
from simcaddie.fitting.summary import SwingFit
from simcaddie.player.defaults import make_swing
from simcaddie.player.skill import skill_of, touch_of
from simcaddie.player.swing import Club, Player, Posterior, RangeToCourse, Swing

__all__ = ["fitted_player"]


def fitted_player(
    session: SessionFit,
    base: Player | None,
    lofts: Mapping[str, float],
    *,
    name: str | None = None,
    handicap_index: float | None = None,
    units: str | None = None,
) -> Player:
    """Return ``base`` with the swings of a session in it, or a new player who has only these.

    ``lofts`` (degrees) are those of clubs that ``base`` hasn't got. Clubs stand by loft. A measured transfer replaces
    the declared one where the session has enough balls to tell (``fitting/transfer.py``). ``units`` are those that
    the file will have: lengths are rounded to tenths of them.
    """
    player = base or Player(name or "From the range", ())
    player = replace(player, name=name or player.name, units=units or player.units)
    if handicap_index is not None:
        player = replace(player, handicap_index=handicap_index)
    if base is None:
        skill = skill_of(handicap_index)
        player = replace(player, touch=touch_of(skill), putting=skill.putting)
    scale = YARDS_PER[player.units]
    clubs = {club.name: {swing.name: swing for swing in club.swings} for club in player.bag}
    loft = {club.name: club.loft for club in player.bag}
    for (club, swing), fit in session.fits.items():
        loft.setdefault(club, lofts[club])
        mine = clubs.setdefault(club, {})
        mine[swing] = _rounded(fit, mine.get(swing), scale)
    bag = [
        Club(club, loft[club], tuple(sorted(swings.values(), key=lambda swing: (swing.name != "full", -swing.carry))))
        for club, swings in clubs.items()
    ]
    return replace(
        player, bag=tuple(sorted(bag, key=lambda club: club.loft)), range_to_course=_transfer(session, player)
    )


def _transfer(session: SessionFit, player: Player) -> RangeToCourse:
    first = session.first
    return first.as_declared if first is not None and session.without_first else player.range_to_course


def _tenths(worth: Posterior) -> Posterior:
    numbers = {f.name: getattr(worth, f.name) for f in fields(worth)}
    return Posterior(**{name: balls and round(balls, 1) for name, balls in numbers.items()})


def _rounded(fit: SwingFit, before: Swing | None, scale: float) -> Swing:
    """Return a swing with a session's numbers, tenths of a unit; what a session doesn't tell stays as ``before``."""
    found = fit.swing

    def length(yards: float) -> float:
        return round(yards / scale, 1) * scale

    carry = length(found.carry)
    usual = make_swing(found.club, found.name, carry, loft=found.loft)
    run = (length(found.run), length(found.run_sd)) if fit.run_known else (usual.run, usual.run_sd)
    if before is not None and not fit.run_known:
        run = before.run, before.run_sd
    worth = found.posterior
    return replace(
        before or usual,
        carry=carry,
        carry_sd=length(found.carry_sd),
        side=length(found.side),
        side_sd=length(found.side_sd),
        correlation=round(found.correlation, 2),
        run=run[0],
        run_sd=run[1],
        fat=round(found.fat, 3),
        thin=round(found.thin, 3),
        shots=found.shots,
        source="range",
        estimated=False,
        posterior=worth and _tenths(worth),
    )
