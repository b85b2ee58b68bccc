"""Ranking: the trade's own lessons, paired errors, levels and trust."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from helpers import box, busy_hole, club_golfer
from scipy import stats

from simcaddie.base.errors import BadRequest, NothingToPlay
from simcaddie.base.streams import kernel_key
from simcaddie.course.hole import Area, Hole, Spot
from simcaddie.decision.compare import compare
from simcaddie.decision.measure import pair_means, standard_error
from simcaddie.decision.phrases import aim_words, clarity, sentence, trouble, why_first
from simcaddie.decision.position import set_position
from simcaddie.decision.request import LEVEL, Request, hole_strokes, trusted_first
from simcaddie.player.swing import Player

QUICK = Request(sequences=6_000, aims=(-6.0, 6.0, 3.0), then="sound", robust=False)


def corridor(*extra: Area, length: float = 360.0) -> Hole:
    """Return a straight, plain hole with more areas laid over it."""
    return Hole(
        name="Corridor (invented)",
        par=4,
        stroke_index=9,
        tees={"white": (0.0, 0.0)},
        pins={"middle": (0.0, length)},
        areas=(
            Area("fairway", box(-20, 90, 20, length - 20)),
            Area("green", box(-13, length - 13, 13, length + 13)),
            *extra,
        ),
    )


def longest_total(player: Player) -> float:
    return max(swing.total for swing in player.swings)


@pytest.mark.parametrize("kind", ["water", "heather"])
def test_the_club_that_stops_short_ranks_above_where_the_longest_just_reaches_trouble_all_across(kind):
    """Common practice, no source: the trouble begins where half the driver's balls find it."""
    player = club_golfer()
    reach = longest_total(player)
    belt = Area(kind, box(-200, reach, 200, reach + 35), marking="red" if kind == "water" else "")
    answer = compare(corridor(belt), player, replace(QUICK, aims=(0.0, 0.0, 1.0), sequences=80_000))
    driver = next(m for m in answer.options if m.title == "driver")
    assert answer.best.title != "driver"
    assert driver.mean - answer.best.mean > LEVEL
    assert trouble(driver) > 0.33
    swing = next(s for s in player.swings if s.title == answer.best.title)
    assert swing.total < reach


def test_on_a_wide_open_hole_the_driver_is_right():
    """Common practice, no source: nothing to avoid, so the shortest next shot wins."""
    player = club_golfer()
    wide = Hole(
        name="Wide (invented)",
        par=4,
        tees={"t": (0.0, 0.0)},
        pins={"p": (0.0, 430.0)},
        areas=(Area("fairway", box(-60, 90, 60, 415)), Area("green", box(-14, 416, 14, 444))),
    )
    answer = compare(wide, player, QUICK)
    assert answer.best.title == "driver"
    assert "That is the longest club: the next best" in sentence(answer)


def test_paired_differences_are_sharper_than_unpaired_ones():
    """A club a yard shorter: what the same balls do differs by little, though each mean has its error."""
    player = club_golfer()
    near = tuple(replace(s, club="near", carry=s.carry - 1.0) for s in player.bag[1].swings)
    both = replace(player, bag=(*player.bag[:2], replace(player.bag[1], name="near", swings=near), *player.bag[2:]))
    answer = compare(corridor(), both, replace(QUICK, clubs=("5 wood", "near"), aims=(0.0, 0.0, 1.0)))
    one, other = answer.options
    assert max(one.diff_se, other.diff_se) < 0.5 * math.hypot(one.se, other.se)


def test_differences_are_those_of_the_means():
    answer = compare(corridor(), club_golfer(), QUICK)
    for m in answer.options:
        assert m.diff == pytest.approx(m.mean - min(o.mean for o in answer.options), abs=1e-9)


def test_the_numbers_of_an_option_agree_with_each_other():
    answer = compare(busy_hole(), club_golfer(), QUICK)
    assert answer.strokes_received == 1
    assert answer.net_par == 5
    for m in answer.options:
        scores, shares = np.array(list(m.score_law)), np.array(list(m.score_law.values()))
        assert shares.sum() == pytest.approx(1.0)
        assert (scores * shares).sum() == pytest.approx(m.mean)
        assert shares[scores <= 5].sum() == pytest.approx(m.net_par_or_better)
        assert shares[scores >= 7].sum() == pytest.approx(m.blow_up)
        assert sum(m.finish.values()) == pytest.approx(1.0)
        assert np.maximum(0, 7 - scores) @ shares == pytest.approx(m.stableford)


def test_best_comes_first_and_level_options_are_ordered_by_trust():
    answer = compare(corridor(), club_golfer(), QUICK)
    means = [m.mean for m in answer.options]
    level = [m for m in answer.options if answer.is_level(m)]
    assert sorted(means[len(level) :]) == means[len(level) :]
    assert max(m.mean for m in level) - min(means) <= LEVEL


def test_a_trusted_club_stands_first_among_level_ones_and_the_answer_says_why():
    """Two clubs alike but for the trust put in them: the figures are level, the order is not."""
    player = club_golfer()
    one = player.bag[1]
    twin = replace(
        one, name="second 5 wood", swings=tuple(replace(s, club="second 5 wood", trust="high") for s in one.swings)
    )
    both = replace(player, bag=(*player.bag[:2], twin, *player.bag[2:]))
    answer = compare(corridor(), both, replace(QUICK, clubs=("5 wood", "second 5 wood")))
    assert [m.title for m in answer.options] == ["second 5 wood", "5 wood"]
    assert answer.options[0].mean == pytest.approx(answer.options[1].mean, abs=1e-12)
    assert "trusted more" in why_first(answer)
    assert clarity(answer, answer.options[1]) == "level"


def test_low_trust_widens_the_pattern_and_costs_strokes():
    player = club_golfer()
    shy = player.with_swings(lambda s: replace(s, trust="low"))
    water = [
        Area("water", box(-300, 100, -24, 300), marking="red"),
        Area("water", box(24, 100, 300, 300), marking="red"),
    ]
    asked = replace(QUICK, clubs=("driver",), sequences=20_000)
    assert compare(corridor(*water), shy, asked).best.mean > compare(corridor(*water), player, asked).best.mean


def test_range_numbers_flatter():
    player = club_golfer()
    measured = player.with_swings(lambda s: replace(s, source="course"))
    asked = replace(QUICK, clubs=("driver",), sequences=20_000)
    assert compare(busy_hole(), measured, asked).best.mean < compare(busy_hole(), player, asked).best.mean


def test_any_pin_is_the_average_over_the_pins():
    hole = replace(corridor(), pins={"front": (0.0, 350.0), "middle": (0.0, 360.0), "back": (0.0, 370.0)})
    asked = replace(QUICK, clubs=("driver",), aims=(0.0, 0.0, 1.0), sequences=60_000)
    each = [compare(hole, club_golfer(), replace(asked, pin=pin)).best.mean for pin in hole.pins]
    assert compare(hole, club_golfer(), replace(asked, pin="any")).best.mean == pytest.approx(np.mean(each), abs=0.02)


def test_the_standard_error_of_pairs_is_honest():
    """Means of repeated runs scatter as the standard error says (chi-squared, 1e-4 two-sided)."""
    position = set_position(busy_hole(), club_golfer(), then="sound")
    runs = [pair_means(position.play(1, position.pin_line, kernel_key(seed), 600).score) for seed in range(200)]
    expected = float(np.mean([standard_error(pairs) ** 2 for pairs in runs]))
    ratio = (len(runs) - 1) * float(np.var([pairs.mean() for pairs in runs], ddof=1)) / expected
    assert stats.chi2.ppf(5e-5, 199) < ratio < stats.chi2.ppf(1 - 5e-5, 199)


def test_mirrored_pairs_are_averaged_before_the_error_is_taken():
    score = np.array([4, 6, 5, 5], np.int8)
    assert pair_means(score).tolist() == [5.0, 5.0]
    assert standard_error(pair_means(score)) == 0.0


def test_same_seed_same_answer():
    one, other = (compare(busy_hole(), club_golfer(), replace(QUICK, sequences=2_000)) for _ in range(2))
    assert one.options == other.options


def test_a_spot_counts_what_was_played_and_allows_the_lie():
    answer = compare(busy_hole(), club_golfer(), replace(QUICK, spot="second"))
    assert answer.played == 1
    assert min(answer.best.score_law) >= 2
    assert "driver" not in [m.title for m in answer.options]  # no driver off the ground


def test_a_touch_shot_is_an_option_inside_its_reach():
    near = replace(corridor(), spots={"chip": Spot((3.0, 330.0), "fairway")})
    answer = compare(near, club_golfer(), replace(QUICK, spot="chip"))
    assert "touch shot" in [m.title for m in answer.options]


def test_aims_are_told_by_the_landmark():
    pylon = replace(busy_hole().landmarks[0], at=(0.5, 400.5))
    answer = compare(replace(busy_hole(), landmarks=(pylon,)), club_golfer(), replace(QUICK, clubs=("driver",)))
    assert aim_words(answer.position, answer.best) == f"at the {pylon.name}"


def test_a_club_trusted_more_stays_second_where_it_is_worse_in_score_and_blow_ups():
    assert trusted_first(["low", "high", "ok"], [0.10, 0.20, 0.10]) == [2, 0, 1]
    assert trusted_first(["low", "high"], [0.10, 0.11]) == [0, 1]
    assert trusted_first(["low", "high"], [0.10, 0.10]) == [1, 0]


@pytest.mark.parametrize(
    ("request_", "message"),
    [
        (Request(clubs=("5 wod",)), "has no club '5 wod'; did you mean '5 wood'?"),
        (Request(tee="gold"), "has no tee 'gold'; it has white"),
        (Request(pin="top"), "has no pin 'top'; it has middle"),
        (Request(spot="third"), "has no spot 'third'; it has second"),
        (Request(tee="white", spot="second"), "ask from a tee or from a spot"),
        (Request(aims=(5.0, -5.0, 1.0)), "aims are LOW:HIGH:STEP"),
        (Request(aims=(-5.0, 5.0, 0.0)), "aims are LOW:HIGH:STEP"),
        (Request(sequences=3), "at least 100 sequences"),
    ],
)
def test_questions_that_make_no_sense_are_refused(request_, message):
    with pytest.raises(BadRequest, match=message.replace("?", r"\?")):
        compare(busy_hole(), club_golfer(), replace(request_, then="sound"))


def test_a_bag_with_nothing_for_the_lie_is_refused():
    hole = replace(busy_hole(), spots={"stuck": Spot((0.0, 220.0), "gorse")})
    with pytest.raises(NothingToPlay, match="can be used from a lie of 'gorse'"):
        compare(hole, club_golfer(bag=club_golfer().bag[:4]), Request(spot="stuck", then="sound"))


def test_strokes_come_from_index_and_stroke_index():
    hole, player = busy_hole(), club_golfer()
    assert hole_strokes(hole, player) == 1
    assert hole_strokes(replace(hole, stroke_index=None), player) == 0
    assert hole_strokes(hole, replace(player, handicap_index=None)) == 0
    assert hole_strokes(replace(hole, stroke_index=18), replace(player, handicap_index=-1.2)) == -1
