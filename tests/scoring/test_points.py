"""Points and results of Rule 21 against its tables."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from reference.handicapping import STABLEFORD

from simcaddie.scoring.formats import maximum_score, net_double_bogey, par_bogey, stableford
from simcaddie.scoring.handicap import strokes_received


@pytest.mark.parametrize("par", [3, 4, 5, 6])
def test_stableford_table(par):
    over = np.array(list(STABLEFORD))
    assert stableford(par + over, par).tolist() == list(STABLEFORD.values())


@given(st.integers(-8, 54), st.integers(1, 18), st.integers(3, 6))
def test_net_double_bogey_is_the_first_score_without_points(handicap, index, par):
    """Seen: mainegolf.org, maximum hole score."""
    net_par = par + strokes_received(handicap, index)
    first = int(net_double_bogey(net_par))
    assert stableford(first, net_par) == 0
    assert stableford(first - 1, net_par) == 1


@given(st.lists(st.integers(1, 12), min_size=18, max_size=18), st.integers(0, 36))
def test_points_of_a_round_without_a_blow_up_are_36_less_what_is_over(scores, handicap):
    """The identity behind turning a Stableford total into a score: 36 points are net par."""
    net_par = np.array([4 + strokes_received(handicap, index) for index in range(1, 19)])
    kept = np.minimum(scores, net_double_bogey(net_par))
    assert stableford(scores, net_par).sum() == 36 - (kept - net_par).sum()


def test_arrays_broadcast_and_empty_ones_stay_empty():
    assert stableford(np.arange(3, 9)[:, None], [4, 5]).shape == (6, 2)
    assert stableford([], 4).shape == (0,)
    assert int(stableford(4, 4)) == 2


def test_not_holing_out_is_no_points_a_loss_and_the_maximum():
    """Rules 21.1b, 21.2a and 21.3b."""
    holed = np.array([True, False])
    assert stableford([3, 3], 4, holed=holed).tolist() == [3, 0]
    assert par_bogey([3, 3], 4, holed=holed).tolist() == [1, -1]
    assert maximum_score([3, 3], 8, holed=holed).tolist() == [3, 8]


def test_par_bogey_is_won_tied_or_lost():
    """Rule 21.3b, second-hand (kaisgolfguide.de): lower wins, equal ties, higher loses."""
    assert par_bogey([3, 4, 5, 9], 4).tolist() == [1, 0, -1, -1]


def test_maximum_score_caps():
    """Rule 21.2a, seen: such as twice par, a fixed number or net double bogey."""
    assert maximum_score([4, 8, 11], 2 * 4).tolist() == [4, 8, 8]
