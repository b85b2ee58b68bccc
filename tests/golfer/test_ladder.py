"""Estimated clubs beside measured ones: in order, apart, the less moved the further off; and the mark they bear."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from simcaddie.player.defaults import CLUBS, make_swing
from simcaddie.player.estimated import ESTIMATED, estimates_told, marked, marked_title
from simcaddie.player.ladder import carried_along
from simcaddie.player.reference import golfer

GOLFER = golfer(18.0, 200.0)
FULL = [swing for swing in GOLFER.swings if swing.name == "full"]


def measured(factors: dict[str, float]) -> dict[tuple[str, str], float]:
    return {(s.club, s.name): replace(s, carry=s.carry * factors[s.club], estimated=False)
            for s in FULL if s.club in factors}  # fmt: skip


@given(
    st.dictionaries(st.sampled_from([swing.club for swing in FULL]), st.floats(0.5, 1.6), min_size=1, max_size=1),
)
def test_no_estimated_club_ends_beside_the_measured_one(factors):
    known = measured(factors)
    after = {(s.club, s.name): s for s in FULL} | carried_along(FULL, known) | known
    ((club, factor),) = factors.items()
    for one, other in pairwise(FULL):
        gap = after[one.club, "full"].carry - after[other.club, "full"].carry
        assert gap > 0.0
        if club in (one.club, other.club):
            assert gap >= 0.5 * factor * (one.carry - other.carry) - 1e-9


def test_between_two_measured_clubs_a_carry_keeps_its_place():
    known = measured({"driver": 1.1, "7 iron": 0.95})
    after = carried_along(FULL, known)
    carries = [known.get((s.club, s.name), after.get((s.club, s.name))).carry for s in FULL]
    assert carries == sorted(carries, reverse=True)
    wood = next(swing for swing in FULL if swing.club == "3 wood")
    iron = next(swing for swing in FULL if swing.club == "7 iron")
    place = (wood.carry - iron.carry) / (200.0 - iron.carry)
    assert after["3 wood", "full"].carry == pytest.approx(0.95 * iron.carry + place * (220.0 - 0.95 * iron.carry))


def test_what_one_club_tells_fades_with_loft_and_lengths_keep_their_share():
    after = carried_along(GOLFER.swings, measured({"7 iron": 1.1}))
    before = {(swing.club, swing.name): swing for swing in GOLFER.swings}
    ratios = {key: swing.carry / before[key].carry for key, swing in after.items() if key[1] == "full"}
    assert 1.08 < ratios["8 iron", "full"] < 1.1
    assert 1.0 < ratios["lob wedge", "full"] < 1.05
    for key, swing in after.items():
        assert swing.carry_sd / swing.carry == pytest.approx(before[key].carry_sd / before[key].carry)
    assert after["9 iron", "half"].carry / before["9 iron", "half"].carry == pytest.approx(ratios["9 iron", "full"])


def test_measured_clubs_of_the_bag_stay_and_pull_as_well():
    bag = [replace(s, estimated=False) if s.club == "9 iron" else s for s in FULL]
    after = carried_along(bag, measured({"7 iron": 1.1}))
    assert ("9 iron", "full") not in after
    carries = {swing.club: swing.carry for swing in bag}
    assert carries["9 iron"] < after["8 iron", "full"].carry < 1.1 * carries["7 iron"]


def test_a_number_is_marked_where_it_or_what_it_rests_on_was_not_measured():
    bare = make_swing("7 iron", "full", 126.0, loft=CLUBS["7 iron"].loft)
    whole = replace(bare, filled=())
    assert (bare.guessed, whole.guessed, replace(whole, estimated=True).guessed) == (True, False, True)
    assert bare == whole  # a mark is no part of what is played
    assert marked("126", True) == "~126"
    assert marked_title(GOLFER, 0, "driver") == "~driver"
    assert marked_title(GOLFER, len(GOLFER.swings), "touch shot") == "touch shot"
    assert estimates_told([whole]) == ""
    assert estimates_told([whole, bare]) == ESTIMATED
