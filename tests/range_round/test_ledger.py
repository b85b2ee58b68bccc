"""The ledger of played strokes: its parts add up, and mean nothing for a player who is himself.

The identity is checked for rounds that are played in the test itself, by the kernel, with numbers of the test's own.
"""

from __future__ import annotations

import math
from functools import cache

import numpy as np
import pytest
from helpers import box, busy_hole, club_golfer, lane
from rounds_played import Split, play_hole

from simcaddie.base.surfaces import code
from simcaddie.course.hole import Area
from simcaddie.decision.compare import compare, pick
from simcaddie.decision.ledger import Reckoner, ground_means, own_draws, same_strike, stroke_values
from simcaddie.decision.options import Option
from simcaddie.decision.position import Position, set_position
from simcaddie.decision.request import Request
from simcaddie.io.course import read_course
from simcaddie.io.find import demo_courses, demo_files, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player

ROUNDS = 1000  # as a season of rounds comes to; enough to see a hundredth of a stroke
HOLES = {"busy": busy_hole, "lane": lane}


@cache
def scene(name: str) -> Position:
    return set_position(HOLES[name](), club_golfer())


@cache
def plays(name: str) -> Split:
    return play_hole(scene(name).solutions[0], scene(name).start, ROUNDS, np.random.default_rng([2, len(name)]))


def se(values: np.ndarray) -> float:
    return float(values.std(ddof=1) / math.sqrt(values.size))


@pytest.mark.parametrize("name", HOLES)
def test_the_parts_of_every_play_add_up_to_its_score_less_what_was_expected(name):
    split = plays(name)
    apart = split.choice + split.execution + split.luck + split.putting - (split.score - split.expected)
    assert np.abs(apart).max() < 1e-12


@pytest.mark.parametrize("name", HOLES)
def test_a_player_who_plays_himself_loses_nothing_by_choice_and_on_average_nothing_else(name):
    split = plays(name)
    assert not split.choice.any()
    for part in (split.execution, split.luck, split.putting):
        assert abs(part.mean()) < 3 * se(part)
        assert part.std() > 0.05


def test_a_player_who_always_takes_the_driver_gets_its_cost_from_compare_back():
    """A pond lies where the driver comes down; aim lines as compare has them."""
    hole = lane(Area("water", box(-90, 178, 90, 206), marking="red"))
    answer = compare(hole, club_golfer(), Request(robust=False, sequences=400))
    driver, best = pick(answer, "driver"), answer.best
    assert driver.diff - best.diff > 0.05
    position = answer.position
    split = play_hole(
        position.solutions[0], position.start, ROUNDS, np.random.default_rng(3), first=(0, driver.bearing)
    )
    apart = split.choice + split.execution + split.luck + split.putting - (split.score - split.expected)
    assert np.abs(apart).max() < 1e-12
    error = math.hypot(driver.diff_se, se(split.score) / 10)  # choice is a number, not a mean over plays
    assert abs(split.choice.mean() - (driver.diff - best.diff)) < 3 * error + 0.003
    for part in (split.execution, split.luck):
        assert abs(part.mean()) < 3 * se(part)


@pytest.mark.parametrize("place", [(0.0, 0.0, "tee"), (8.0, 150.0, "fairway"), (26.0, 198.0, "bunker")])
def test_a_stroke_is_worth_the_mean_of_what_its_strikes_are_worth(place):
    """E M = Q, over strikes that had no part in Q."""
    reckoner = Reckoner(scene("busy"))
    at = (place[0], place[1], code(place[2]))
    swing = 3 if place[2] == "bunker" else 2
    draws = own_draws(7, 2048)
    rows = reckoner.rows(at, np.full(2048, swing), reckoner.at(at).pin_line)
    means, _ = ground_means(reckoner.ahead, rows, same_strike(draws))
    value = stroke_values(reckoner.ahead, reckoner.rows(at, swing, reckoner.at(at).pin_line))[0]
    assert means.mean() == pytest.approx(value, abs=0.02)


def test_only_what_the_ground_does_differs_between_balls_of_one_strike():
    draws = own_draws(1, 64)
    again = same_strike(draws)
    assert again.shape == (7, 64, 64)
    for row in range(7):
        alike = bool((again[row] == draws[row][:, None]).all())
        assert alike == (row in {0, 1, 3})


def test_the_plan_at_any_place_is_no_worse_than_what_the_solver_plays_there():
    reckoner = Reckoner(scene("busy"))
    option, worth = reckoner.best(reckoner.start)
    own = Option(int(reckoner.position.solutions[0].policy.swing[reckoner.ahead.problem.states.start]), 0.0)
    assert worth <= reckoner.chosen(reckoner.start, own) + 0.003
    assert worth == reckoner.chosen(reckoner.start, option)
    assert reckoner.worth(None) == 0.0


def test_execution_and_luck_spread_as_they_do_in_plays():
    """The two sds of a stroke, from a few balls, against those of many plays of the same first stroke."""
    reckoner, split = Reckoner(scene("lane")), plays("lane")
    option, _ = reckoner.best(reckoner.start)
    execution, luck = reckoner.spreads(reckoner.start, option)
    assert 0.0 < execution < split.execution.std()
    assert 0.0 < luck < split.luck.std() * 1.5


# ─── The larger forms ───────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(demo_courses()))
def test_a_thousand_rounds_of_every_shipped_course_add_up_and_mean_nothing(name):
    course, player = read_course(demo_courses()[name]), read_player(find_player("wren"))
    total = {part: np.zeros(ROUNDS) for part in ("choice", "execution", "luck", "putting", "score")}
    expected = 0.0
    for number, hole in enumerate(course.holes):
        position = set_position(hole, player)
        split = play_hole(position.solutions[0], position.start, ROUNDS, np.random.default_rng([5, number]))
        apart = split.choice + split.execution + split.luck + split.putting - (split.score - split.expected)
        assert np.abs(apart).max() < 1e-12
        expected += split.expected
        for part in total:
            total[part] += getattr(split, part)
    parts = sum(total[part] for part in ("choice", "execution", "luck", "putting"))
    assert np.abs(parts - (total["score"] - expected)).max() < 1e-9
    assert not total["choice"].any()
    for part in ("execution", "luck", "putting"):
        assert abs(total[part].mean()) < 3 * se(total[part]), part


@pytest.mark.slow
@pytest.mark.parametrize("name", sorted(demo_files("holes")))
def test_single_demo_holes_add_up_and_the_driver_costs_what_compare_says(name):
    hole, player = read_hole(demo_files("holes")[name]), read_player(find_player("otto"))
    answer = compare(hole, player, Request(robust=False, sequences=400))
    driver = next((m for m in answer.options if m.title == "driver"), None)
    position = set_position(hole, player)
    first = None if driver is None else (0, driver.bearing)
    split = play_hole(position.solutions[0], position.start, ROUNDS, np.random.default_rng(11), first=first)
    apart = split.choice + split.execution + split.luck + split.putting - (split.score - split.expected)
    assert np.abs(apart).max() < 1e-12
    for part in (split.execution, split.luck):
        assert abs(part.mean()) < 4 * se(part)  # of a score of holes and parts one is 3 off now and then
    if driver is not None:
        cost = driver.mean - answer.best.mean
        assert abs(split.choice.mean() - cost) < 3 * driver.diff_se + 0.01
