"""Checking a file of any format: its keys tell what it is meant to be."""

from __future__ import annotations

from simcaddie.files.hole_file import hole_of
from simcaddie.files.nodes import PathLike, load
from simcaddie.files.player_file import player_of
from simcaddie.files.told import fault, near, raise_faults
from simcaddie.golfer.player import Player
from simcaddie.ground.hole import Hole

__all__ = ["check_file"]

_HOLE = ("par", "areas", "tees", "pins", "surround", "boundary", "spots", "landmarks", "stroke_index")
_PLAYER = ("bag", "handicap_index", "putting", "touch", "lies", "range_to_course")


def check_file(path: PathLike) -> Hole | Player:
    """Return the record of a file, a hole or a player, told apart by its keys.

    Raises
    ------
    BadFile
        With every fault of the file, or where it is neither.

    """
    document = load(path)
    keys = list(document.data) if isinstance(document.data, dict) else []
    meant = [near(key, (*_HOLE, *_PLAYER)) for key in keys]
    holes, players = (sum(key in names for key in meant) for names in (_HOLE, _PLAYER))
    if holes == players:
        raise_faults([fault(document, (), "a hole (`par`, `areas` …) or a player (`bag` …)")])
    return hole_of(document) if holes > players else player_of(document)
