"""The quick policy costs next to nothing against the careful one, played out with the same numbers."""

from __future__ import annotations

import math

import pytest
from helpers import busy_hole, club_golfer, lane

from simcaddie.ground.grid import area_grid
from simcaddie.play.pack import pack
from simcaddie.simulate import first_strokes, play_sequences
from simcaddie.solve import best_policy
from simcaddie.solve.quick import QUICK_CELL, quick_policy
from simcaddie.streams import kernel_key
from simcaddie.surfaces import code

N = 100_000
KEY = kernel_key(12)


def scores(table, policy, value, place):
    start = table.states.start
    line = math.atan2(table.ground.pin_x - place[0], table.ground.pin_y - place[1])
    first = first_strokes(
        table, value, place, int(policy.swing[start]), line + float(policy.bearing[start]), KEY, N
    )
    return play_sequences(table, policy, value, first, KEY).score.astype(float)


@pytest.mark.parametrize("hole", [busy_hole(), lane()], ids=["busy", "lane"])
def test_it_costs_at_most_two_hundredths(hole):
    player, spot, grid = club_golfer(), hole.place(), area_grid(hole)
    place = (*spot.at, code(spot.lie))
    table = pack(hole, player, spot, hole.pin(), grid=grid)
    best = best_policy(table, grid, place)
    middle = hole.green.centroid
    quick = quick_policy(table, grid, player, (middle.x, middle.y), place)
    assert quick[0].states.cell == QUICK_CELL
    cost = scores(*quick, place) - scores(table, best.policy, best.value, place)
    pairs = cost.reshape(-1, 2).mean(axis=1)
    assert pairs.mean() < 0.02 + 4 * pairs.std() / math.sqrt(pairs.size)
