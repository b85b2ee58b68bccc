"""A player record to a player file: what differs from the defaults, one line a swing, in the player's own units.

Reading the text gives the same record again, to the last bit, for every record that a file can hold: each number is
written with as few digits as bring it back.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator, Mapping
from dataclasses import fields
from functools import partial
from typing import Any, Final

from simcaddie.base.errors import BadFile, BadRequest, Fault, shown
from simcaddie.base.units import YARDS_PER
from simcaddie.io.player import LENGTHS, PLAYED, player_of
from simcaddie.io.write import write_text
from simcaddie.io.yaml_reader import PathLike, parse
from simcaddie.io.yaml_writer import word
from simcaddie.player.defaults import make_swing, mishit_split
from simcaddie.player.skill import lies_of, skill_of, touch_of
from simcaddie.player.swing import Club, Player, Swing

__all__ = ["player_text", "text_faults", "write_player"]

_WIDTH: Final = 118


def write_player(
    player: Player, path: PathLike, *, comment: str = "", source: str | None = None, whole: bool = False
) -> None:
    """Write a player file, replaced whole or not at all; see ``player_text``.

    Raises
    ------
    BadRequest
        Where it can't be written, or ``read_player`` would refuse it.

    """
    text = player_text(player, comment=comment, source=source, whole=whole)
    if faults := text_faults(text):
        told = "; ".join(f"{one.where}: expected {one.expected}, found {one.found}" for one in faults[:3])
        raise BadRequest(f"can't write {shown(os.fsdecode(path), 200)}, which `check` would refuse: {told}")
    write_text(path, text)


def text_faults(text: str) -> tuple[Fault, ...]:
    """Return what ``read_player`` would find wrong with the text of a player file."""
    try:
        player_of(parse(text, ""))
    except BadFile as error:
        return error.faults
    return ()


def player_text(player: Player, *, comment: str = "", source: str | None = None, whole: bool = False) -> str:
    """Return a player as the text of a player file.

    ``comment`` goes before everything else, each of its lines behind a ``#``; ``source`` says where the numbers come
    from; ``whole`` writes spreads, mishits, touch and putting also where they are the usual ones.

    >>> from simcaddie.player.defaults import make_swing
    >>> iron = make_swing("7 iron", "full", 126.0, loft=33.0, carry_sd=8.5, trust="high")
    >>> print(player_text(Player("Pat (invented)", (Club("7 iron", 33.0, (iron,)),)), comment="Made up."))
    # Made up.
    format: 1
    name: Pat (invented)
    units: yards
    range_to_course: {spread: 1.25, mishits: 1.5}
    bag:
      - club: 7 iron
        loft: 33
        swings:
          full: {carry: [126, 8.5], trust: high}
    """
    return "\n".join([*_head(player, comment, source), *_bag(player, whole), *_tail(player, whole)]) + "\n"


def _number(value: float, scale: float = 1.0) -> str:
    """Return the shortest number that a reader who multiplies by ``scale`` turns into ``value``."""
    for digits in range(1, 18):
        short = float(f"{value / scale:.{digits}g}")
        if short * scale == value:
            break
    return repr(short).removesuffix(".0")


def _pair(mean: float, sd: float, usual_sd: float | None, scale: float) -> str:
    """Return ``mean``, or ``[mean, sd]`` where the spread isn't the usual one."""
    if sd == usual_sd:
        return _number(mean, scale)
    return f"[{_number(mean, scale)}, {_number(sd, scale)}]"


def _flow(entries: Mapping[str, str]) -> str:
    return "{" + ", ".join(f"{key}: {value}" for key, value in entries.items()) + "}"


def _head(player: Player, comment: str, source: str | None) -> Iterator[str]:
    yield from (f"# {line}".rstrip() for line in comment.splitlines())
    yield "format: 1"
    yield f"name: {word(player.name)}"
    if source:
        yield f"source: {json.dumps(source, ensure_ascii=False)}"
    yield f"units: {player.units}"
    if player.routine is not None:
        yield f"routine: {word(player.routine)}"
    if player.handicap_index is not None:
        yield f"handicap_index: {_number(player.handicap_index)}"
    transfer = player.range_to_course  # always in sight, also where it is the usual one
    yield f"range_to_course: {{spread: {_number(transfer.spread)}, mishits: {_number(transfer.mishits)}}}"


def _bag(player: Player, whole: bool) -> Iterator[str]:
    yield "bag:"
    for club in player.bag:
        yield f"  - club: {word(club.name)}"
        yield f"    loft: {_number(club.loft)}"
        yield "    swings:"
        for swing in club.swings:
            yield from _swing_lines(f"      {word(swing.name)}: ", _swing_keys(player, club, swing, whole))


def _swing_lines(start: str, entries: Mapping[str, str]) -> Iterator[str]:
    """Return a swing as one line, or as more where it is long."""
    line = start + "{"
    for number, (key, value) in enumerate(entries.items()):
        piece = f"{key}: {value}" + ("}" if number == len(entries) - 1 else ",")
        if number and len(line) + 1 + len(piece) > _WIDTH:
            yield line
            line = " " * len(start) + " " + piece
        else:
            line += (" " if number else "") + piece
    yield line


def _swing_keys(player: Player, club: Club, swing: Swing, whole: bool) -> dict[str, str]:
    scale = YARDS_PER[player.units]
    usually = partial(
        make_swing,
        club.name,
        swing.name,
        swing.carry,
        loft=club.loft,
        source=swing.source,
        index=player.handicap_index,
        transfer=player.range_to_course,
    )
    plain, usual = usually(), usually(landing=swing.landing)  # run follows it
    keys = {"carry": _pair(swing.carry, swing.carry_sd, None if whole else usual.carry_sd, scale)}
    if whole or (swing.side, swing.side_sd) != (0.0, usual.side_sd):
        keys["side"] = _pair(swing.side, swing.side_sd, None if whole else usual.side_sd, scale)
    if swing.correlation:
        keys["correlation"] = _number(swing.correlation)
    if whole or (swing.run, swing.run_sd) != (usual.run, usual.run_sd):
        keys["run"] = _pair(swing.run, swing.run_sd, None if whole else 0.4 * swing.run, scale)
    if whole or (swing.fat, swing.thin) != (usual.fat, usual.thin):
        keys["mishits"] = _mishits(swing)
    for key in ("launch", "landing", "spin"):
        if getattr(swing, key) != getattr(plain, key):
            keys[key] = _number(getattr(swing, key))
    if swing.start_line is not None:
        keys["start_line"] = _number(swing.start_line)
    return keys | _standing(swing)


def _mishits(swing: Swing) -> str:
    """Return one chance where the usual split gives both, else one each."""
    for digits in range(1, 7):
        both = float(f"{swing.fat + swing.thin:.{digits}g}")
        if mishit_split(swing.loft, both) == (swing.fat, swing.thin):
            return _number(both)
    return _flow({"fat": _number(swing.fat), "thin": _number(swing.thin)})


def _standing(swing: Swing) -> dict[str, str]:
    """Return what the numbers rest on, where it isn't the usual."""
    told = {
        "shots": str(swing.shots or ""),
        "from": swing.source if swing.source != "range" else "",
        "trust": swing.trust if swing.trust != "ok" else "",
        "estimated": "true" if swing.estimated else "",
    }
    keys = {key: text for key, text in told.items() if text}
    if swing.posterior is not None:
        worth = {f.name: getattr(swing.posterior, f.name) for f in fields(swing.posterior)}
        keys["posterior"] = _flow({name: _number(balls) for name, balls in worth.items() if balls is not None})
    return keys


def _differences(record: Any, usual: Any, scale: float) -> dict[str, str]:
    """Return the fields of a lie or touch that aren't the usual ones."""
    keys = {}
    for name in (f.name for f in fields(record)):
        value = getattr(record, name)
        if value != getattr(usual, name):
            number = not isinstance(value, str)
            keys[name] = _number(value, scale if name in LENGTHS else 1.0) if number else word(value)
    return keys


def _tail(player: Player, whole: bool) -> Iterator[str]:
    scale = YARDS_PER[player.units]
    skill = skill_of(player.handicap_index)
    usual_touch, usual_lies = touch_of(skill), lies_of(skill)
    for title, mine, usual in (("touch", player.touch, usual_touch), ("lies", player.lies, usual_lies)):
        rows = {kind: _differences(mine[kind], usual[kind], scale) for kind in PLAYED}
        if any(rows.values()):
            yield f"{title}:"
            yield from (f"  {kind}: {_flow(keys)}" for kind, keys in rows.items() if keys)
    putting = player.putting
    if whole or putting != skill.putting:
        both = {"direction_sd": _number(putting.direction_sd), "distance_sd": _number(putting.distance_sd)}
        yield f"putting: {_flow(both)}"
