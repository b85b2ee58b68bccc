"""A player file to a player record: in yards, what is left out filled in by ``golfer/defaults.py``."""

from __future__ import annotations

from dataclasses import dataclass, replace

from simcaddie.files.clubs import club_name, swing_name
from simcaddie.files.nodes import Document, PathLike, load
from simcaddie.files.player_checks import check_bag, check_player
from simcaddie.files.player_model import ClubFile, Fails, LieFile, Pair, PlayerFile, SwingKeys, TouchFile
from simcaddie.files.told import fault, raise_faults, validated
from simcaddie.golfer.defaults import club_defaults, make_swing, mishit_split
from simcaddie.golfer.player import Club, Player, Posterior, Putting, RangeToCourse, Swing
from simcaddie.golfer.skill import skill_of, touch_of
from simcaddie.surfaces import Lie, TouchLie, default_lies
from simcaddie.units import YARDS_PER

__all__ = ["player_of", "read_player"]


def read_player(path: PathLike) -> Player:
    """Return the player of a player file, in yards, whole.

    Raises
    ------
    BadFile
        With every fault of the file, each with its line.

    """
    return player_of(load(path))


def player_of(document: Document) -> Player:
    """Return the player that a document describes; see ``read_player``."""
    if not isinstance(document.data, dict):
        raise_faults([fault(document, (), "a player: lines of `key: value`")])
    model, faults = validated(document, PlayerFile)
    raise_faults(faults + check_bag(document))
    if model is None:  # unreachable: it had faults
        raise TypeError("a file without faults must give a model")
    player = _record(model)
    raise_faults(check_player(document, player))
    return player


def _split(pair: Pair | None, scale: float) -> tuple[float | None, float | None]:
    if pair is None:
        return None, None
    mean, sd = pair
    return mean * scale, None if sd is None else sd * scale


@dataclass(frozen=True, slots=True)
class _Reader:
    """What all swings of a file share: yards per unit, index, transfer."""

    scale: float
    index: float | None
    transfer: RangeToCourse


def _swing(club: str, name: str, loft: float, reader: _Reader, *, keys: SwingKeys, carry: Pair) -> Swing:
    scale = reader.scale
    carry_mean, carry_sd = _split(carry, scale)
    side, side_sd = _split(keys.side, scale)
    run, run_sd = _split(keys.run, scale)
    fat = thin = None
    if isinstance(keys.mishits, Fails):
        fat, thin = keys.mishits.fat, keys.mishits.thin
    elif keys.mishits is not None:
        fat, thin = mishit_split(loft, keys.mishits)
    return make_swing(
        club,
        name,
        carry_mean or 0.0,
        loft=loft,
        carry_sd=carry_sd,
        side=side or 0.0,
        side_sd=side_sd,
        correlation=keys.correlation,
        run=run,
        run_sd=run_sd,
        fat=fat,
        thin=thin,
        launch=keys.launch,
        landing=keys.landing,
        spin=keys.spin,
        start_line=keys.start_line,
        shots=keys.shots,
        source=keys.source,
        trust=keys.trust,
        estimated=keys.estimated,
        posterior=Posterior(**keys.posterior.model_dump()) if keys.posterior else None,
        index=reader.index,
        transfer=reader.transfer,
    )


def _club(club: ClubFile, reader: _Reader) -> Club:
    name = club_name(club.club)
    defaults = club_defaults(name, club.loft)
    loft = defaults.loft if defaults else 0.0
    if club.swings is None:
        only = _swing(name, "full", loft, reader, keys=club, carry=club.carry or (0.0, None))
        return Club(name, loft, (only,))
    swings = [
        _swing(name, swing_name(key), loft, reader, keys=swing, carry=swing.carry)
        for key, swing in club.swings.items()
    ]
    return Club(name, loft, tuple(sorted(swings, key=lambda swing: swing.name != "full")))


def _lie(lie: Lie, given: LieFile, scale: float) -> Lie:
    changes = given.model_dump(exclude_none=True)
    if "fail_carry" in changes:
        changes["fail_carry"] *= scale
    if "longest" in changes:
        changes["longest"] = club_name(changes["longest"])
    return replace(lie, **changes)


def _touch(touch: TouchLie, given: TouchFile, scale: float) -> TouchLie:
    changes = given.model_dump(exclude_none=True)
    if "near" in changes:
        changes["near"] *= scale
    return replace(touch, **changes)


def _record(model: PlayerFile) -> Player:
    scale = YARDS_PER[model.units]
    transfer = RangeToCourse(model.range_to_course.spread, model.range_to_course.mishits)
    reader = _Reader(scale, model.handicap_index, transfer)
    skill = skill_of(model.handicap_index)
    lies, touch = default_lies(), touch_of(skill)
    putting = model.putting
    return Player(
        name=model.name,
        bag=tuple(_club(club, reader) for club in model.bag),
        handicap_index=model.handicap_index,
        range_to_course=transfer,
        touch=touch | {kind: _touch(touch[kind], given, scale) for kind, given in model.touch.items()},
        putting=Putting(
            skill.putting_direction if putting.direction_sd is None else putting.direction_sd,
            skill.putting_distance if putting.distance_sd is None else putting.distance_sd,
        ),
        lies=lies | {kind: _lie(lies[kind], given, scale) for kind, given in model.lies.items()},
        units=model.units,
        routine=model.routine,
    )
