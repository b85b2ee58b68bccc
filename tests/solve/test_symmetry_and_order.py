"""What must hold whatever the hole: mirrors, and that more to choose from is never worse.

The exhaustive search is exact for its nodes, so that there more clubs or aim lines can only help. The race throws
actions away early; there the valued law may lose a hundredth of a stroke.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import box, busy_hole, club, club_golfer, mirrored_hole, mirrored_player
from solving import ask, converged, demo, mean_of, state_of, tee_law

from simcaddie.files.find import find_hole, find_player
from simcaddie.files.hole_file import read_hole
from simcaddie.files.player_file import read_player
from simcaddie.ground.hole import Area, Hole
from simcaddie.play import kernel as k
from simcaddie.solve import best_policy, first_stroke_law, solve
from simcaddie.solve.nodes import CHOOSE, stroke_nodes

NODES = stroke_nodes(32, CHOOSE)
SMALL_CELL = 6.0  # yd
TWO_THIRDS = ("driver", "7 iron", "sand wedge")


def mirrored_states(one, other) -> np.ndarray:
    """Return the state of ``other`` that mirrors each state of ``one``."""
    s = one.states
    return np.array([k.state_at(other.states, int(s.lie[i]), -s.xy[i, 0], s.xy[i, 1]) for i in range(s.lie.size)])


def test_a_mirrored_hole_and_player_have_mirrored_values_and_laws():
    one = ask(busy_hole(), club_golfer())
    other = ask(mirrored_hole(busy_hole()), mirrored_player(club_golfer()))
    here = solve(one.table, one.grid, one.place)
    there = solve(other.table, other.grid, other.place)
    match = mirrored_states(one.table, other.table)
    assert (match >= 0).all()
    assert np.abs(here.value.to_go - there.value.to_go[match]).max() < 1e-9
    assert np.abs(here.law - there.law[:, match]).max() < 1e-9
    for swing, aim in ((0, -0.1), (3, 0.04), (len(club_golfer().swings), 0.0)):
        law = first_stroke_law(here, one.place, swing, one.pin_line + aim)
        back = first_stroke_law(there, other.place, swing, other.pin_line - aim)
        assert np.abs(law - back).max() < 1e-9


def test_the_mirror_shows():
    """The same golfer on the mirrored hole is another problem: what was compared above was no hole like its mirror."""
    one, other = ask(busy_hole(), club_golfer()), ask(mirrored_hole(busy_hole()), club_golfer())
    here, there = solve(one.table, one.grid, one.place), solve(other.table, other.grid, other.place)
    match = mirrored_states(one.table, other.table)
    assert np.abs(here.value.to_go - there.value.to_go[match]).max() > 0.01


def small_hole() -> Hole:
    return Hole(
        "Small (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (6.0, 262.0)},
        (
            Area("fairway", box(-12, 90, 16, 240)),
            Area("green", box(-6, 250, 18, 274)),
            Area("bunker", box(-14, 236, -6, 256)),
            Area("water", box(10, 150, 34, 190), marking="red"),
        ),
        boundary=box(-40, -10, 44, 300),
    )


def values(clubs: tuple[str, ...], fan: np.ndarray) -> np.ndarray:
    """Return the converged exhaustive values of a bag on the small hole; longest and shortest club are in every bag."""
    carries = {"driver": 190.0, "5 wood": 165.0, "7 iron": 130.0, "9 iron": 110.0, "sand wedge": 70.0}
    bag = tuple(club(name, carries[name]) for name in clubs)
    question = ask(small_hole(), club_golfer(bag=bag))
    return converged(question.on_cells(SMALL_CELL), fan, NODES).value


FAN = np.radians([-10.0, 0.0, 10.0])
NESTED = np.radians([-20.0, -10.0, -5.0, 0.0, 5.0, 10.0, 20.0])


@pytest.fixture(scope="module")
def base() -> np.ndarray:
    return values(TWO_THIRDS, FAN)


@pytest.mark.parametrize("extra", ["5 wood", "9 iron"])
def test_a_club_more_is_nowhere_worse(base, extra):
    more = values((TWO_THIRDS[0], extra, *TWO_THIRDS[1:]), FAN)
    assert (more - base).max() <= 1e-9
    assert (base - more).max() > 0.01  # somewhere it helps


def test_more_aim_lines_are_nowhere_worse(base):
    wider = values(TWO_THIRDS, NESTED)
    assert (wider - base).max() <= 1e-9
    assert (base - wider).max() > 0.01


def test_the_public_exhaustive_search_gains_by_a_wider_fan_too():
    """As a player of the public functions sees it: a few sweeps, not converged, on a short hole."""
    question = ask(small_hole(), club_golfer(bag=(club("9 iron", 108.0), club("sand wedge", 70.0))))
    table = question.on_cells(SMALL_CELL)
    narrow, wide = (
        best_policy(table, question.grid, question.place, exhaustive=True, fan=fan).value.to_go for fan in (FAN, NESTED)
    )
    state = state_of(table, question.place)
    assert wide[state] <= narrow[state] + 1e-6
    assert (wide - narrow).max() < 0.01


@pytest.mark.parametrize(
    ("hole", "player", "left_out"),
    [
        pytest.param("curlew-inlet", "wren", (1, 4), marks=pytest.mark.slow),
        ("millpond", "scratch", (2, 6)),
        pytest.param("weir-lawn", "slow-swing-30", (1, 3), marks=pytest.mark.slow),
    ],
)
def test_with_racing_a_club_more_costs_at_most_a_hundredth(hole, player, left_out):
    """Clubs in the middle of the bag, so that how far touch shots reach stays the same."""
    full = demo(hole, player)
    whole = mean_of(tee_law(solve(full.table, full.grid, full.place), full))
    golfer = read_player(find_player(player))
    for number in left_out:
        bag = tuple(one for i, one in enumerate(golfer.bag) if i != number)
        less = ask(read_hole(find_hole(hole)), replace(golfer, bag=bag))
        assert whole <= mean_of(tee_law(solve(less.table, less.grid, less.place), less)) + 0.01
