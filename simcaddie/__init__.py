"""simcaddie: Monte Carlo hole strategy for golf coaches.

The public names below are loaded when they are first used, so that ``import simcaddie`` stays light.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from simcaddie.errors import BadFile, BadRequest, Fault, NothingToPlay, SimcaddieError
    from simcaddie.files import read_hole, read_player
    from simcaddie.golfer.defaults import make_swing
    from simcaddie.golfer.player import Club, Player, Putting, RangeToCourse, Swing
    from simcaddie.ground.distances import yardages
    from simcaddie.ground.hole import Area, Hole, Landmark, Spot
    from simcaddie.strategy import Comparison, Measure, Option, Request, compare

__version__ = "0.1.0"

_HOME = {
    "simcaddie.errors": ("BadFile", "BadRequest", "Fault", "NothingToPlay", "SimcaddieError"),
    "simcaddie.files": ("read_hole", "read_player"),
    "simcaddie.golfer.defaults": ("make_swing",),
    "simcaddie.golfer.player": ("Club", "Player", "Putting", "RangeToCourse", "Swing"),
    "simcaddie.ground.distances": ("yardages",),
    "simcaddie.ground.hole": ("Area", "Hole", "Landmark", "Spot"),
    "simcaddie.strategy": ("Comparison", "Measure", "Option", "Request", "compare"),
}
_WHERE = {name: module for module, names in _HOME.items() for name in names}

__all__ = [
    "Area", "BadFile", "BadRequest", "Club", "Comparison", "Fault", "Hole", "Landmark", "Measure", "NothingToPlay",
    "Option", "Player", "Putting", "RangeToCourse", "Request", "SimcaddieError", "Spot", "Swing", "compare",
    "make_swing", "read_hole", "read_player", "yardages",
]


def __getattr__(name: str) -> Any:
    if name not in _WHERE:
        raise AttributeError(f"module 'simcaddie' has no attribute '{name}'")
    return getattr(import_module(_WHERE[name]), name)


def __dir__() -> list[str]:
    return sorted([*__all__, "__version__"])
