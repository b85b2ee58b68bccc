"""Good play from everywhere, quickly: for rounds, where eighteen holes are solved and averages are asked for.

The same search as ``best_policy``, on less: sensible everyday play on 8-yd cells to start from, all actions raced only
where balls often come, then 4-yd cells among what the coarse cells around them chose. Played out, the policy costs
0.01 strokes a hole more than that of ``best_policy`` and takes a seventh of the time (DEVELOPERS.md, "Rounds").
"""

from __future__ import annotations

from typing import Final

import numpy as np

from simcaddie.golfer.player import Player
from simcaddie.ground.grid import AreaGrid
from simcaddie.play import records as r
from simcaddie.play.everyday import everyday, guess_to_go
from simcaddie.play.states import build_states
from simcaddie.solve import search
from simcaddie.solve.nodes import CHOOSE, node_sets, stroke_nodes
from simcaddie.solve.solution import often_reached

__all__ = ["QUICK_CELL", "coarse_policy", "quick_policy"]

QUICK_CELL: Final = 4.0  # yd
COARSE_CELL: Final = 8.0
OFTEN_NODES: Final = 16
FINE_NODES: Final = 64
FAN: Final = np.radians([-36.0, -24.0, -12.0, 0.0, 12.0, 24.0, 36.0])
START_NODES: Final = 16_384


def coarse_policy(
    table: r.Table,
    grid: AreaGrid,
    player: Player,
    centre: tuple[float, float],
    place: tuple[float, float, int],
    cell: float = COARSE_CELL,
) -> tuple[r.Table, r.Policy, r.Value]:
    """Return the same as ``quick_policy`` on coarse states alone, ``cell`` yards wide: for looks ahead, not for play.

    Half the time, or less with larger cells.
    """
    coarse, first = _coarse(table, grid, player, centre, place, cell)
    return coarse, r.Policy(first.swing, first.bearing), r.Value(first.value)


def _coarse(
    table: r.Table,
    grid: AreaGrid,
    player: Player,
    centre: tuple[float, float],
    place: tuple[float, float, int],
    cell: float,
) -> tuple[r.Table, search.Choice]:
    points = node_sets(64, CHOOSE)
    coarse = table._replace(states=build_states(grid, place, cell))
    policy, value = everyday(coarse, player, "sound", centre), guess_to_go(coarse).to_go
    first = search.Choice(policy.swing, policy.bearing, value, value.copy())
    search.settle(coarse, first, points[:, :16], search.every(coarse), most=2)
    often = np.flatnonzero(often_reached(coarse, first, place, OFTEN_NODES))
    search.choose_all(coarse, first, search.coarse_plan(points)._replace(fan=FAN), often)
    return coarse, first


def quick_policy(
    table: r.Table, grid: AreaGrid, player: Player, centre: tuple[float, float], place: tuple[float, float, int]
) -> tuple[r.Table, r.Policy, r.Value]:
    """Return the table with 4-yd states, a policy over them that costs hardly more than the best, and its values.

    ``centre`` is the middle of the green, ``place`` (x, y, lie) where balls start; yards.
    """
    coarse, first = _coarse(table, grid, player, centre, place, COARSE_CELL)
    fine = table._replace(states=build_states(grid, place, QUICK_CELL))
    choice, few = search.handed_on(coarse, first, fine)
    often = np.flatnonzero(often_reached(coarse, first, place, OFTEN_NODES)[search.parents(coarse, fine)])
    search.choose_near(fine, choice, search.fine_plan(node_sets(FINE_NODES, CHOOSE)), few, often)
    search.choose_start(fine, choice, stroke_nodes(START_NODES, CHOOSE)[None])
    return fine, r.Policy(choice.swing, choice.bearing), r.Value(choice.value)
