"""Best play is no worse than what people do every day, however small the green and whatever lies around it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from helpers import club_golfer

from simcaddie.base.streams import kernel_key
from simcaddie.course.hole import Area, Hole
from simcaddie.decision.rounds import set_hole

PLAYS = 4000
GREENS = (1.0, 2.0, 3.0, 6.0, 14.0, 24.0)  # yd across
BAG = (3, 5, 7, 9)


def small(seed: int) -> Hole:
    """Return a hole of 30 to 170 yd with a round green, sand and water about it as it comes: invented."""
    rng = np.random.default_rng([17, seed])
    far, across = rng.uniform(30.0, 170.0), GREENS[seed % len(GREENS)]
    pin = shapely.Point(rng.uniform(-8.0, 8.0), far)
    areas = [Area("fairway", pin.buffer(rng.uniform(12.0, 30.0))), Area("green", pin.buffer(across / 2.0))]
    if seed % 5 == 1:  # water all round
        inner = across / 2.0 + rng.uniform(2.0, 8.0)
        ring = pin.buffer(inner + rng.uniform(4.0, 12.0)).difference(pin.buffer(inner))
        areas.append(Area("water", ring, marking="yellow"))
    for kind in ("bunker", "heather"):
        if rng.random() < 0.5:
            turn, off = rng.uniform(0.0, 2.0 * math.pi), across / 2.0 + rng.uniform(7.0, 15.0)
            at = shapely.Point(pin.x + off * math.sin(turn), pin.y + off * math.cos(turn))
            areas.append(Area(kind, at.buffer(rng.uniform(3.0, 6.0))))
    return Hole(f"small {seed} (invented)", 3, {"tee": (0.0, 0.0)}, {"pin": (pin.x, pin.y)}, tuple(areas))


@pytest.mark.parametrize("seed", [*range(6), *(pytest.param(seed, marks=pytest.mark.slow) for seed in range(6, 50))])
def test_best_play_is_never_worse_than_everyday_play(seed):
    player = club_golfer()
    player = replace(player, bag=tuple(player.bag[i] for i in BAG if i < len(player.bag)))
    hole, scores = small(seed), {}
    for then in ("best", "sound", "usual"):
        ready = set_hole(hole, player, None, None, then)
        scores[then] = ready.play(ready.problem, kernel_key(seed), PLAYS).sum(axis=1).astype(float)
    assert np.isfinite(set_hole(hole, player, None, None, "best").policy.bearing).all()
    for then in ("sound", "usual"):
        worse = scores["best"] - scores[then]  # on the same luck
        assert worse.mean() <= 2.0 * worse.std(ddof=1) / math.sqrt(PLAYS) + 0.003, then
