"""Where the choice between two options turns: known answers, and re-runs with the thing changed."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import box, club_golfer, lane

from simcaddie.course.hole import Area, Hole
from simcaddie.decision.break_even import SwitchPoint, rerun_words, switch_points, switch_words
from simcaddie.decision.compare import compare, pick
from simcaddie.decision.options import swings_to_compare
from simcaddie.decision.perturbed import (
    dearest_area,
    moved,
    on_ground,
    on_patterns,
    with_mishits,
    with_spread,
    with_trust,
)
from simcaddie.decision.position import set_position
from simcaddie.decision.request import Comparison, Request
from simcaddie.player.pattern import course_pattern
from simcaddie.player.swing import Player

QUICK = Request(sequences=2_000, aims=(0.0, 0.0, 1.0), then="sound", robust=False)
FEW = 20_000
PLAYER = club_golfer()


def with_twin(player: Player, **changes: object) -> Player:
    """Return the player with a second 5 wood that differs only as told."""
    one = player.bag[1]
    swings = tuple(replace(s, club="twin", **changes) for s in one.swings)
    return replace(player, bag=(*player.bag[:2], replace(one, name="twin", swings=swings), *player.bag[2:]))


def ask(hole: Hole, player: Player, *clubs: str, **changes: object) -> Comparison:
    return compare(hole, player, replace(QUICK, clubs=clubs, **changes))


def on_course(player: Player, name: str) -> tuple[float, float]:
    """Return how often a club is mishit and its sd to the side on the course, from the tee."""
    swing = next(s for s in player.swings if s.title == name)
    pattern = course_pattern(player, swing, player.lies["tee"])
    return pattern.fat.share + pattern.thin.share, pattern.solid.side_sd


def only(answer: Comparison, thing: str, a: str = "5 wood", b: str = "twin") -> SwitchPoint:
    (point,) = switch_points(answer, a, b, things=(thing,), sequences=FEW)
    return point


@pytest.mark.parametrize("times", [0.5, 1.7])
def test_clubs_alike_but_for_mishits_turn_where_they_mishit_alike(times):
    five = PLAYER.bag[1].swings[0]
    player = with_twin(PLAYER, fat=times * five.fat, thin=times * five.thin)
    answer = ask(lane(), player, "5 wood", "twin")
    point = only(answer, "mishits")
    same, _ = on_course(player, "5 wood")
    assert point.now == pytest.approx(times * same)
    assert point.at == pytest.approx(same, abs=2e-3)
    assert (point.gap > 0) == (times > 1)
    assert point.agrees
    assert abs(point.rerun) <= 3 * point.rerun_se + 0.01
    words = switch_words(answer, point)
    told = "the twin less often than" if times > 1 else "it more often than"
    first = "5 wood" if times > 1 else "twin"
    level = answer.is_level(pick(answer, "twin")) and answer.is_level(pick(answer, "5 wood"))
    keep = f"The {first} stays ahead" if level else f"Keep the {first}"
    assert words.startswith(f"{keep} until you would mishit {told} one time in ")
    assert "Played again there they differ by " in rerun_words(point)


def test_clubs_alike_but_for_the_side_spread_turn_where_they_spread_alike():
    five = PLAYER.bag[1].swings[0]
    player = with_twin(PLAYER, side_sd=1.4 * five.side_sd)
    answer = ask(lane(), player, "5 wood", "twin")
    point = only(answer, "spread")
    _, same = on_course(player, "5 wood")
    assert point.now == pytest.approx(1.4 * same)
    assert point.at == pytest.approx(same, rel=0.02)
    assert point.agrees
    assert switch_words(answer, point) == (
        f"Keep the 5 wood until the middle two in three of the twin's solid shots spread {point.at:.0f} yd to "
        f"either side (now {point.now:.0f} yd)."
    )


def test_the_player_file_changed_to_the_point_makes_the_clubs_level():
    """The whole question asked again, from the start: the driver mishit as often as the point says."""
    meadow = replace(lane(), areas=(Area("fairway", box(-60, 60, 60, 282)), *lane().areas[1:2]))
    player = with_mishits(with_mishits(PLAYER, 0, "tee", 0.6), 1, "tee", 0.05)
    answer = ask(meadow, player, "5 wood", "driver")
    point = only(answer, "mishits", b="driver")
    assert point.at is not None
    changed = with_mishits(player, 0, "tee", float(point.at))
    again = ask(meadow, changed, "5 wood", "driver", sequences=100_000)
    assert abs(pick(again, "driver").mean - pick(again, "5 wood").mean) < 0.02
    assert abs(pick(answer, "driver").mean - pick(answer, "5 wood").mean) > 0.03


def test_a_point_of_the_hazard_has_the_other_choice_right_beyond_it():
    """Both sides of it by brute force: the hole with the belt 12 yd to either side of the point."""
    belt = Area("water", box(-60, 200, 60, 225), name="belt", marking="red")
    answer = ask(lane(belt), PLAYER, "5 wood", "driver")
    point = only(answer, "hazard", b="driver")
    assert point.title == "belt"
    assert point.agrees
    bearing = pick(answer, "driver").bearing
    behind = []
    for far in (point.at - 12.0, point.at + 12.0):
        there = ask(moved(lane(belt), 4, bearing, far), PLAYER, "5 wood", "driver", sequences=20_000)
        behind.append(pick(there, "driver").mean - pick(there, "5 wood").mean)
    assert behind[0] * behind[1] < 0.0
    way = "farther" if point.at > 0 else "nearer"
    assert switch_words(answer, point) == f"Keep the 5 wood until the belt lies {abs(point.at):.0f} yd {way}."


def test_where_nothing_turns_it_the_answer_says_so():
    answer = ask(lane(), PLAYER, "driver", "sand wedge")
    never, wide, trust, hazard = switch_points(answer, "driver", "sand wedge", sequences=FEW)
    assert [p.at for p in (never, wide, trust, hazard)] == [None] * 4
    assert [p.agrees for p in (never, wide, trust, hazard)] == [None] * 4
    assert 0.0 < never.nearest <= never.gap
    assert rerun_words(never) == ""
    assert "Keep the driver however often you mishit the sand wedge (never to six times in ten)" in switch_words(
        answer, never
    )
    assert "Keep the driver whatever the sand wedge's side spread" in switch_words(answer, wide)
    assert switch_words(answer, trust).startswith("Trust doesn't turn it")
    assert switch_words(answer, hazard).startswith("No hazard costs the sand wedge more than the driver")


def test_trust_turns_level_clubs_and_narrows_nothing():
    shy = ask(lane(), with_twin(PLAYER, trust="low"), "5 wood", "twin")
    point = only(shy, "trust")
    assert (point.now, point.at) == ("low", "high")  # trusted alike they are the same club: neither stands first
    assert point.agrees
    assert switch_words(shy, point) == "With high trust in the twin the two are level, and the twin stands first."
    same = ask(lane(), with_twin(PLAYER, side_sd=30.0, trust="ok"), "5 wood", "twin")
    point = only(same, "trust")
    assert point.at is None
    assert "much trust narrows nothing" in switch_words(same, point)


def test_another_aim_of_play_is_asked_about_in_its_own_measure():
    five = PLAYER.bag[1].swings[0]
    player = with_twin(PLAYER, fat=3 * five.fat, thin=3 * five.thin)
    answer = ask(lane(), player, "5 wood", "twin", objective="points")
    point = only(answer, "mishits")
    assert point.at == pytest.approx(on_course(player, "5 wood")[0], abs=2e-3)
    assert point.agrees


@pytest.mark.parametrize("lie", ["tee", "fairway", "heather"])
@pytest.mark.parametrize("share", [0.0, 0.11, 0.6])
def test_mishits_are_set_as_they_show_on_the_course(lie, share):
    changed = with_mishits(PLAYER, 1, lie, share)
    pattern = course_pattern(changed, changed.swings[1], changed.lies[lie])
    assert pattern.fat.share + pattern.thin.share == pytest.approx(share)
    untouched = [s for i, s in enumerate(changed.swings) if i != 1]
    assert untouched == [s for i, s in enumerate(PLAYER.swings) if i != 1]


def test_a_swing_without_mishits_gets_half_of_each():
    clean = replace(PLAYER, bag=(replace(PLAYER.bag[0], swings=(replace(PLAYER.swings[0], fat=0.0, thin=0.0),)),))
    changed = with_mishits(clean, 0, "tee", 0.2).swings[0]
    assert changed.fat == changed.thin > 0.0


def test_part_swings_are_numbered_through_the_bag():
    number = next(i for i, s in enumerate(PLAYER.swings) if s.title == "half gap wedge")
    assert with_trust(PLAYER, number, "low").swings[number].trust == "low"
    assert with_spread(PLAYER, number, 2.0).swings[number].side_sd == 2.0 * PLAYER.swings[number].side_sd


def test_look_aheads_on_the_same_ground_and_patterns_are_what_they_were():
    hole = lane()
    position = set_position(hole, PLAYER, then="sound")
    elsewhere = moved(hole, 3, 0.3, 0.0)
    for other in (on_ground(position, hole), on_patterns(position, PLAYER), on_ground(position, elsewhere)):
        swings = swings_to_compare(position)[:3]
        assert other.worths(swings, 2.0, 2) == pytest.approx(position.worths(swings, 2.0, 2), abs=1e-12)


def test_an_area_moves_along_the_line():
    there = moved(lane(), 2, np.pi / 2, 10.0).areas
    assert there[2].outline.bounds == pytest.approx((-35.0, 90.0, -8.0, 260.0))
    assert [a.outline for i, a in enumerate(there) if i != 2] == [
        a.outline for i, a in enumerate(lane().areas) if i != 2
    ]


def test_the_hazard_that_makes_the_difference():
    """The right heather costs a club that is aimed to the right, the left one a club aimed to the left."""
    position = set_position(lane(), PLAYER, then="sound")
    right, left = (position.balls(1, aim) for aim in (5.0, -7.0))
    assert dearest_area(position.hole, right, left) == 3
    assert dearest_area(position.hole, left, right) == 2
    assert dearest_area(position.hole, left, left) is None


@pytest.mark.parametrize(
    ("at", "words"),
    [
        (0.11, "less often than one time in nine (now one time in six)."),
        (0.002, "less often than one time in a hundred (now one time in six)."),
        (0.41, "more often than four times in ten (now one time in six)."),
        (0.52, "more often than half the time (now one time in six)."),
        (0.06, "less often than one time in 17 (now one time in six)."),
    ],
)
def test_how_often_in_words(at, words):
    answer = ask(lane(), PLAYER, "driver", "5 wood", sequences=100)
    point = SwitchPoint("mishits", "mishits", "5 wood", "driver", 0.165, at, 0.0, 0.6, 0.1, 0.0, 0.0, 0.01, True)
    assert switch_words(answer, point) == f"Keep the 5 wood until you would mishit the driver {words}"
    doubted = replace(point, agrees=False)
    assert switch_words(answer, doubted).endswith("The re-run does not bear this out.")
