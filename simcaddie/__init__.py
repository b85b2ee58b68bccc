"""simcaddie: Monte Carlo hole strategy for golf coaches.

>>> import simcaddie as sc
>>> sc.read_hole("millpond").par
3

The names below are all that is promised; what else the package holds may change. They are loaded when they are first
used, so that ``import simcaddie`` stays light.
"""

from __future__ import annotations

from importlib import import_module
from typing import TYPE_CHECKING, Any

from simcaddie.base import __version__ as __version__

if TYPE_CHECKING:
    from simcaddie.api import Answer, compare, plan, read_hole, read_player
    from simcaddie.base.errors import BadFile, SimcaddieError
    from simcaddie.course.distances import yardages
    from simcaddie.course.hole import Area, Hole, Landmark
    from simcaddie.player.defaults import make_swing
    from simcaddie.player.swing import Club, Player

__all__ = [
    "Answer",
    "Area",
    "BadFile",
    "Club",
    "Hole",
    "Landmark",
    "Player",
    "SimcaddieError",
    "compare",
    "make_swing",
    "plan",
    "read_hole",
    "read_player",
    "yardages",
]

_HOME = {
    "api": ("Answer", "compare", "plan", "read_hole", "read_player"),
    "base.errors": ("BadFile", "SimcaddieError"),
    "course.distances": ("yardages",),
    "course.hole": ("Area", "Hole", "Landmark"),
    "player.defaults": ("make_swing",),
    "player.swing": ("Club", "Player"),
}
_WHERE = {name: module for module, names in _HOME.items() for name in names}


def __getattr__(name: str) -> Any:
    if name not in _WHERE:
        raise AttributeError(f"module 'simcaddie' has no attribute '{name}'")
    return getattr(import_module(f"simcaddie.{_WHERE[name]}"), name)


def __dir__() -> list[str]:
    return sorted([*__all__, "__version__"])
