"""Whole sequences: symmetry, reproducibility, and what happens at the cap."""

from __future__ import annotations

import os
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from helpers import box, busy_hole, club_golfer, mirrored_hole, mirrored_player, score_law, turned_hole

from simcaddie.base.streams import kernel_key
from simcaddie.course.hole import Area, Hole, Spot
from simcaddie.decision.position import Position, set_position

N = 20_000
BY_ROUNDING = 0.001  # of sequences: an edge may be met on its other side, by the last bit of a sum (processors differ)
KEY = kernel_key(7)


def play(position: Position, aim: float, swing: int = 0, n: int = N) -> np.ndarray:
    return position.play(swing, aim, KEY, n).score


@pytest.mark.parametrize("then", ["sound", "usual"])
def test_a_mirrored_hole_and_player_have_the_same_score_law(then):
    one = set_position(busy_hole(), club_golfer(), then=then)
    other = set_position(mirrored_hole(busy_hole()), mirrored_player(club_golfer()), then=then)
    for aim in (-6.0, 0.0, 4.0):
        apart = np.abs(score_law(play(one, aim)) - score_law(play(other, -aim))).sum()
        assert apart <= 2 * BY_ROUNDING * N


def test_the_busy_hole_is_not_its_own_mirror_image():
    one = set_position(busy_hole(), club_golfer(), then="sound")
    assert (score_law(play(one, -6.0)) != score_law(play(one, 6.0))).any()


@pytest.mark.parametrize("degrees", [90, 180, 270])
def test_a_quarter_turn_changes_no_score(degrees):
    one, other = (
        set_position(busy_hole(), club_golfer(), then="sound"),
        set_position(turned_hole(busy_hole(), degrees), club_golfer(), then="sound"),
    )
    assert (score_law(play(one, 3.0)) == score_law(play(other, 3.0))).all()


@pytest.mark.parametrize("degrees", [17.0, 45.0, 121.3])
def test_any_other_turn_changes_the_mean_by_less_than_a_hundredth(degrees):
    one, other = (
        set_position(busy_hole(), club_golfer(), then="sound"),
        set_position(turned_hole(busy_hole(), degrees), club_golfer(), then="sound"),
    )
    means = [play(position, 3.0, n=200_000).mean() for position in (one, other)]
    assert abs(means[0] - means[1]) < 0.01


SCRIPT = """
import hashlib, sys
sys.path.insert(0, {tests!r})
from helpers import busy_hole, club_golfer
from simcaddie.decision.position import set_position
from simcaddie.base.streams import kernel_key
position = set_position(busy_hole(), club_golfer(), then="sound")
outcome = position.play(0, 5.7, kernel_key(3), 30_000, luck=True)
digest = hashlib.sha256()
for column in (outcome.score, outcome.parts, outcome.picked_up, outcome.luck, *outcome.first):
    digest.update(column.tobytes())
print(digest.hexdigest())
"""


def test_the_bytes_do_not_depend_on_the_number_of_threads():
    code = SCRIPT.format(tests=str(Path(__file__).parent.parent))
    running = [
        subprocess.Popen(
            [sys.executable, "-c", code],
            env={**os.environ, "SIMCADDIE_THREADS": str(count)},
            stdout=subprocess.PIPE,
            text=True,
        )
        for count in (1, 2, 5)
    ]
    seen = {one.communicate(timeout=120)[0].strip() for one in running}
    assert [len(digest) for digest in seen] == [64]


def test_another_seed_gives_other_scores():
    position = set_position(busy_hole(), club_golfer(), then="sound")
    assert (position.play(0, 5.7, kernel_key(3), 1000).score != position.play(0, 5.7, kernel_key(4), 1000).score).any()


def test_a_hopeless_hole_is_picked_up_at_the_cap():
    moat = Hole(
        name="Moat (invented)",
        par=3,
        tees={"t": (0.0, 0.0)},
        pins={"p": (0.0, 150.0)},
        areas=(Area("green", box(-5, 145, 5, 155)), Area("water", box(-300, 40, 300, 400), marking="yellow")),
    )
    position = set_position(moat, replace(club_golfer()), then="usual", cap=9)
    outcome = position.play(7, 0.0, KEY, 4000)
    assert outcome.score.max() == 9
    assert (outcome.score[outcome.picked_up] == 9).all()
    assert outcome.picked_up.mean() > 0.1


def test_scores_add_up_from_strokes_penalties_and_putts():
    """From two feet beside the green's centre a touch shot and putts are all there is: no penalties, no pick-ups."""
    lawn = Hole(
        name="Lawn (invented)",
        par=3,
        tees={"t": (0.0, 0.0)},
        pins={"p": (0.0, 100.0)},
        areas=(Area("fairway", box(-80, -50, 80, 160)), Area("green", box(-12, 88, 12, 112))),
        spots={"chip": Spot((0.0, 84.0), "fairway")},
    )
    position = set_position(lawn, club_golfer(), spot="chip", then="sound")
    outcome = position.play(len(position.player.swings), 0.0, KEY, N)
    assert not outcome.picked_up.any()
    assert (outcome.penalties == 0).all()
    holed = outcome.first.event == 5
    assert (outcome.score[holed] == 1).all()
    assert outcome.score[~holed].min() >= 2
    assert 2.0 < outcome.score.mean() < 3.5
