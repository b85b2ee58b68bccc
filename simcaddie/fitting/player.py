"""A fitted session to a player: numbers rounded as people write them, what wasn't hit kept as it was."""

from __future__ import annotations

from collections.abc import Collection, Iterable, Mapping
from dataclasses import fields, replace

from simcaddie.base.units import YARDS_PER
from simcaddie.fitting.fit import SessionFit
from simcaddie.fitting.summary import SwingFit
from simcaddie.player.defaults import make_swing
from simcaddie.player.ladder import carried_along
from simcaddie.player.skill import lies_of, skill_of, touch_of
from simcaddie.player.swing import Club, Player, Posterior, RangeToCourse, Swing

__all__ = ["fitted_player", "in_tenths"]


def fitted_player(
    session: SessionFit,
    base: Player | None,
    lofts: Mapping[str, float],
    *,
    name: str | None = None,
    handicap_index: float | None = None,
    units: str | None = None,
    keep: Collection[str] | None = None,
) -> Player:
    """Return ``base`` with the swings of a session in it, or a new player who has only these.

    ``lofts`` (degrees) are those of clubs that ``base`` hasn't got. Of its clubs that weren't hit those in ``keep``
    stay, all where that is None; estimated ones are carried along (``player/ladder.py``). Clubs stand by loft. A
    measured transfer replaces the declared one where the session has enough balls to tell (``fitting/transfer.py``).
    ``units`` are those that the file will have: lengths are rounded to tenths of them.
    """
    player = base or Player(name or "From the range", ())
    player = replace(player, name=name or player.name, units=units or player.units)
    if handicap_index is not None:
        player = replace(player, handicap_index=handicap_index)
    if base is None:
        skill = skill_of(handicap_index)
        player = replace(player, touch=touch_of(skill), lies=lies_of(skill), putting=skill.putting)
    scale = YARDS_PER[player.units]
    before = {(swing.club, swing.name): swing for swing in player.swings}
    measured = {key: _rounded(fit, before.get(key), scale) for key, fit in session.fits.items()}
    along = carried_along(player.swings, measured)
    moved = {key: _in_tenths(swing, scale) for key, swing in along.items() if swing is not before[key]}
    swings = before | moved | measured
    loft = dict(lofts) | {club.name: club.loft for club in player.bag}
    hit = {club for club, _ in measured}
    stays = dict.fromkeys(club for club, _ in swings if keep is None or club in hit or club in keep)
    bag = [
        Club(club, loft[club], _in_order(swing for swing in swings.values() if swing.club == club)) for club in stays
    ]
    return replace(
        player, bag=tuple(sorted(bag, key=lambda club: club.loft)), range_to_course=_transfer(session, player)
    )


def _in_order(swings: Iterable[Swing]) -> tuple[Swing, ...]:
    return tuple(sorted(swings, key=lambda swing: (swing.name != "full", -swing.carry)))


def _in_tenths(swing: Swing, scale: float) -> Swing:
    """Return a swing whose lengths are tenths of a unit."""
    lengths = ("carry", "carry_sd", "side", "side_sd", "run", "run_sd")
    return replace(swing, **{key: round(getattr(swing, key) / scale, 1) * scale for key in lengths})


def _transfer(session: SessionFit, player: Player) -> RangeToCourse:
    first = session.first
    return first.as_declared if first is not None and session.without_first else player.range_to_course


def in_tenths(worth: Posterior) -> Posterior:
    """Return what numbers are worth, rounded to tenths of a ball."""
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
        filled=(),
        posterior=worth and in_tenths(worth),
    )
