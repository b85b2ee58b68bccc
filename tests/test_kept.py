"""What tests keep is kept by all that it depends on."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from helpers import club_golfer, lane
from kept import digest, kept

from simcaddie.air.day import Day
from simcaddie.ground.grid import area_grid
from simcaddie.play.pack import pack


def test_another_player_hole_or_day_is_another_question():
    hole, player = lane(), club_golfer()
    longer = replace(player, putting=replace(player.putting, direction_sd=1.0))
    hills = replace(hole, heights=np.array([[0.0, 0.0, 3.0], [60.0, 100.0, 5.0], [-50.0, 300.0, 9.0]]))
    cases = [(hole, player, None), (hole, longer, None), (hills, player, None), (hole, player, Day(wind=3.0))]
    tables = [pack(h, p, h.place(), h.pin(), day=day) for h, p, day in cases]
    assert len({digest(table, area_grid(hole), (0.0, 0.0, 7)) for table in tables}) == len(cases)
    assert digest(tables[0]) == digest(pack(hole, player, hole.place(), hole.pin()))
    assert digest(tables[0], 1) != digest(tables[0], 2)


def test_an_answer_is_worked_out_once():
    asked = []
    work = kept(lambda x, *, y=0: asked.append((x, y)))
    for _ in range(3):
        work(1)
        work(1, y=2)
    assert asked == [(1, 0), (1, 2)]
