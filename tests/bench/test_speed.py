"""How fast, against plain numpy in the same run, and how the cost grows; what is timed is looked at first, untimed.

``python tests/bench/run.py`` prints the figures; ``pytest tests/bench -m bench`` holds them to bounds.
"""

from __future__ import annotations

import inside
import numpy as np
import numpy_strokes
import pytest
from helpers import busy_hole, club_golfer, lane
from scenes import plain_scene, scene_of
from stages import STAGES, solve_stages, strokes_counted

from simcaddie.base.streams import Purpose
from simcaddie.model.heuristics import guess_to_go
from simcaddie.solve import search
from simcaddie.solve.quadrature import node_sets
from simcaddie.solve.solution import ROUGH


def test_the_kernel_and_the_numpy_stroke_agree():
    problem, _, _ = plain_scene(cell=4.0)
    assert numpy_strokes.plain(problem)
    choice, to_go, nodes = inside.a_choice(problem), guess_to_go(problem).to_go, node_sets(64, Purpose.CHOOSE)
    assert (choice.swing >= problem.swings.rows.shape[1]).any()
    mine = search.action_values(problem, to_go, nodes, choice, 64)
    assert np.abs(mine - numpy_strokes.action_values(problem, to_go, nodes, choice, 64)).max() < 1e-9


def test_the_numpy_stroke_knows_its_limits():
    assert not numpy_strokes.plain(scene_of(busy_hole(), club_golfer())[0])


def test_the_stages_of_a_solve_hold_all_of_its_strokes():
    position = scene_of(lane(), club_golfer())
    with strokes_counted() as played:
        found = solve_stages(position, ROUGH)
    assert [stage.name for stage in found] == list(STAGES)
    assert sum(stage.strokes for stage in found) == sum(played)
    assert all(stage.strokes > 0 and stage.wall > 0.0 for stage in found)


def test_strokes_are_counted_one_a_ball():
    problem, _, _ = plain_scene(cell=8.0)
    choice, nodes = inside.a_choice(problem), node_sets(8, Purpose.CHOOSE)
    with strokes_counted() as played:
        search.action_values(problem, guess_to_go(problem).to_go, nodes, choice, 8)
    assert sum(played) == 8 * choice.state.size


def test_what_grows_grows_in_proportion():
    """What is timed against a theory has the size that the theory goes by."""
    problem, few = inside.all_swings(3, 5)
    states = problem.states.lie.size
    assert few.state.size == states * 3 * 5
    assert inside.all_swings(6, 9)[1].state.size == states * 6 * 9


def test_sequences_use_the_normals_that_are_counted():
    go = inside.player_of(plain_scene(cell=8.0))
    outcome = go(inside.FEW)
    swung = outcome.parts[:, :3].sum() / inside.FEW  # tee, approach and touch
    assert inside.strokes_each(go) == pytest.approx(swung, abs=1e-12)


@pytest.mark.bench
def test_a_sweep_against_numpy():
    mine, theirs = inside.against_numpy(3)
    assert theirs > 1.5 * mine


@pytest.mark.bench
def test_sequences_against_the_normals_they_use():
    rows, rates = inside.sequences(1_000_000, 2)
    assert min(rates) > 1.0 / 25.0  # the stroke itself takes several times as long as its three normals
    assert all(2.0 < float(row[4]) < 6.0 for row in rows[1:])


@pytest.mark.bench
@pytest.mark.parametrize(
    ("grown", "theory", "within"),
    [
        (inside.by_cells, -2.0, 0.5),  # fewer states than size^−2 where lies share cells
        (inside.by_clubs, 1.0, 0.25),
        (inside.by_aims, 1.0, 0.25),
        (inside.by_sequences, 1.0, 0.2),
        (inside.by_holes, 1.0, 0.25),  # holes differ in length
    ],
)
def test_the_cost_grows_as_it_should(grown, theory, within):
    _, _, sizes, seconds, _ = grown(3)
    assert inside.growth(sizes, seconds) == pytest.approx(theory, abs=within)


@pytest.mark.bench
def test_wind_and_heights_cost_at_most_half_as_much_again():
    plain, windy = inside.flat_and_hilly(3)
    assert windy < 1.5 * plain
