"""Plans: the line of play reaches the green by strokes that best play would choose, and hazards cost what they cost."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
from helpers import box, busy_hole, club_golfer, mirrored_hole, mirrored_player

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import kernel_key
from simcaddie.base.surfaces import NAMES, code
from simcaddie.console.document import Items, Text
from simcaddie.course.hole import Area, Hole, Landmark, Spot
from simcaddie.decision.compare import LEVEL
from simcaddie.decision.line_of_play import plan
from simcaddie.features.plan.analysis import coarse_clubs, fairway_clubs
from simcaddie.features.plan.present import avoid_words, danger_place, leg_aim, present, times
from simcaddie.simulate import first_strokes, play_sequences


def corridor(*extra: Area, length: float = 330.0, **keys: object) -> Hole:
    """Return a straight, plain hole with more areas laid over it."""
    hole = Hole(
        name="Corridor (invented)",
        par=4,
        tees={"white": (0.0, 0.0)},
        pins={"middle": (0.0, length)},
        areas=(
            Area("fairway", box(-20, 90, 20, length - 20)),
            Area("green", box(-13, length - 13, 13, length + 13)),
            *extra,
        ),
        boundary=box(-70, -20, 70, length + 50),
    )
    return replace(hole, **keys)


@pytest.fixture(scope="module")
def busy():
    return plan(busy_hole(), club_golfer())


@pytest.fixture(scope="module")
def belt():
    """Gorse all across where the driver would finish, and a bunker beside the green."""
    return plan(
        corridor(
            Area("gorse", box(-70, 198, 70, 229), name="whin belt"),
            Area("bunker", box(15, 322, 27, 340), name="green bunker"),
        ),
        club_golfer(),
    )


def test_legs_follow_each_other_to_the_green(busy):
    legs = busy.legs
    assert legs[0].start == busy.place.at
    assert legs[-1].finish_lie == "green"
    for leg, after in pairwise(legs):
        assert leg.finish == after.start
        assert leg.finish_lie == after.lie
        assert leg.to_go > after.to_go
        assert leg.leaves == after.left
    assert [leg.left for leg in legs] == pytest.approx([math.dist(leg.start, busy.pin) for leg in legs])
    assert legs[0].to_go == pytest.approx(busy.mean, abs=1e-9)
    assert busy.pmf.sum() == pytest.approx(1.0)


def test_a_leg_stays_out_of_trouble_where_most_balls_do(busy, belt):
    for each in (busy, belt):
        for leg in each.legs:
            assert leg.safe > 0.5
            assert leg.finish_lie not in ("heather", "gorse", "bunker", "trees", "water")
            assert 0.0 <= leg.green <= leg.safe


def test_the_first_stroke_is_as_good_as_any(busy):
    """Independent of the plan's own look-ahead: played out with other random numbers, 4 standard errors."""
    solution, place = busy.solution, (*busy.place.at, code(busy.place.lie))
    key = kernel_key(99)

    def score(swing, bearing):
        first = first_strokes(solution.problem, solution.value, place, swing, bearing, key, 20_000)
        played = play_sequences(solution.problem, solution.policy, solution.value, first, key, solution.cap)
        return played.score.astype(float)

    leg = busy.legs[0]
    mine = score(leg.swing, leg.bearing)
    error = mine.std() / math.sqrt(mine.size)
    assert mine.mean() == pytest.approx(busy.mean, abs=4 * error + 0.003)
    for swing in range(4):
        for turn in (-8.0, -4.0, 0.0, 4.0, 8.0):
            other = score(swing, leg.bearing + math.radians(turn))
            apart = mine - other
            assert apart.mean() < LEVEL + 4 * apart.std() / math.sqrt(apart.size)


def test_a_mirrored_hole_has_the_mirrored_plan(busy):
    other = plan(mirrored_hole(busy_hole()), mirrored_player(club_golfer()))
    assert other.mean == pytest.approx(busy.mean, abs=0.01)
    for leg, turned in zip(busy.legs, other.legs, strict=True):
        assert leg.title in (turned.title, *turned.level)
        if leg.title == turned.title:
            assert turned.aim == pytest.approx(-leg.aim, abs=4.0)


def test_play_stops_short_of_a_belt_and_says_what_it_costs(belt):
    assert belt.legs[0].title != "driver"
    assert belt.legs[0].finish[1] < 198
    whins = next(danger for danger in belt.avoid if danger.title == "whin belt")
    assert whins.cost > 0.2
    assert (whins.near, whins.far) == pytest.approx((198.0, 229.0))
    assert whins.where == "short of it"
    assert whins.beside == "fairway"
    assert "whin belt at 198–229" in avoid_words(whins, "yards")
    assert "dearer than the fairway short of it" in avoid_words(whins, "yards")


def test_what_costs_most_stands_first(busy, belt):
    for each in (busy, belt):
        assert len(each.avoid) <= 3
        losses = [danger.loss for danger in each.avoid]
        assert losses == sorted(losses, reverse=True)
        assert all(danger.cost > 0 and 0 < danger.often < 2 for danger in each.avoid)


def test_a_penalty_costs_about_its_stroke():
    """A pond in front of the green, red: a ball there costs its penalty stroke and a drop beside the water.

    Rules of Golf 2023, 17.1d: one penalty stroke. It must cost more than a stroke less the little that lying nearer may
    save, and less than stroke and distance from the tee would.
    """
    pond = Area("water", box(-60, 100, 60, 124), name="pond", marking="red")
    found = plan(corridor(pond, length=140.0, par=3), club_golfer())
    water = next(danger for danger in found.avoid if danger.title == "pond")
    assert 0.8 < water.cost < 2.0


def test_out_of_bounds_is_told_by_its_side():
    narrow = corridor(boundary=box(-200, -20, 16, 400))
    found = plan(narrow, club_golfer())
    out = next(danger for danger in found.avoid if danger.area == -1)
    assert out.title == "out of bounds on the right"
    assert danger_place(out, "yards") == ""
    assert out.cost > 1.0  # Rule 18.2: stroke and distance
    assert avoid_words(out, "yards").startswith("out of bounds on the right: ")


def test_distances_beyond_reach_are_counted_from_the_pin(busy):
    far = [danger for danger in busy.avoid if danger.from_pin]
    for danger in far:
        assert "yd from the pin" in avoid_words(danger, "yards")
        assert danger.near <= danger.far


def test_a_trusted_club_is_played_where_it_is_level():
    player = club_golfer()
    one = player.bag[1]
    twin = replace(
        one, name="second 5 wood", swings=tuple(replace(s, club="second 5 wood", trust="high") for s in one.swings)
    )
    both = replace(player, bag=(player.bag[1], twin, *player.bag[3:]))
    leg = plan(corridor(), both).legs[0]
    assert leg.title == "second 5 wood"
    assert "5 wood" in leg.level


def test_from_a_spot_and_to_another_pin():
    hole = replace(
        corridor(), pins={"front": (0.0, 322.0), "back": (0.0, 338.0)}, spots={"pitch": Spot((5.0, 275.0), "fairway")}
    )
    found = plan(hole, club_golfer(), spot="pitch", pin="back")
    assert (found.asked_from, found.pin_name, found.pin) == ("spot pitch", "back", (0.0, 338.0))
    assert len(found.legs) == 1
    assert found.legs[0].left == pytest.approx(math.hypot(5, 63))
    assert leg_aim(found, found.legs[0]).endswith("the flag")


@pytest.mark.parametrize(
    ("words", "message"),
    [
        ({"tee": "gold"}, "has no tee 'gold'"),
        ({"pin": "any"}, "has no pin 'any'"),
        ({"spot": "wet"}, "no stroke to plan from a lie of 'green'"),
    ],
)
def test_questions_that_make_no_sense(words, message):
    hole = corridor(spots={"wet": Spot((0.0, 330.0), "green")})
    with pytest.raises(BadRequest, match=message):
        plan(hole, club_golfer(), **words)


def test_same_seed_same_plan():
    one, other = (plan(corridor(), club_golfer(), seed=3) for _ in range(2))
    assert one.legs == other.legs
    assert one.avoid == other.avoid


def test_the_fairway_calls_for_shorter_clubs_nearer_the_pin(belt):
    clubs = fairway_clubs(belt)
    carry = {swing.title: swing.carry for swing in belt.player.swings} | {"touch shot": 0.0}
    near = [club for club in clubs if club.far <= 160]
    assert [carry[club.title] for club in near] == sorted((carry[club.title] for club in near), reverse=True)
    for club, after in pairwise(clubs):
        assert club.far > club.near >= after.far
        assert club.title != after.title or club.near > after.far


def test_the_coarse_grid_agrees_with_the_policy(belt):
    cells = coarse_clubs(belt)
    places = [(cell.x, cell.y) for cell in cells]
    assert len(set(places)) == len(places)
    states, solution = belt.solution.problem.states, belt.solution
    assert {cell.lie for cell in cells} <= set(NAMES)
    assert not {cell.lie for cell in cells} & {"water", "green", "out_of_bounds"}
    (cell,) = [cell for cell in cells if (cell.x, cell.y) == (5.0, 155.0)]
    inside = (states.lie == code("fairway")) & (states.xy // 10 == [0, 15]).all(axis=1)
    assert cell.lie == "fairway"
    assert cell.to_go == pytest.approx(solution.to_go[inside].mean())
    titles = [belt.player.swings[i].title for i in solution.policy.swing[inside] if i < len(belt.player.swings)]
    assert titles.count(cell.club) == max(map(titles.count, set(titles)))


def test_words_tell_each_leg_the_fairway_and_what_to_avoid(belt):
    blocks = present(belt)
    legs, avoid = ([text for _, text in block.items] for block in blocks if isinstance(block, Items))
    assert legs[0].startswith("From the white tee, 330 yd from the pin: ")
    assert f"{belt.mean:.2f} strokes to go" in legs[0]
    assert legs[1].startswith(f"From the fairway at {belt.legs[1].left:.0f} yd: ")
    assert any("finds the green" in text for text in legs)
    told = [block.text for block in blocks if isinstance(block, Text)]
    assert any(text.startswith("From the fairway, by yards left: ") for text in told)
    assert any(text.startswith("the whin belt at 198–229: ") for text in avoid)


def test_a_lay_up_is_aimed_by_the_landmark():
    found = plan(corridor(landmarks=(Landmark("pylon", (0.0, 420.0)),)), club_golfer())
    assert "pylon" in leg_aim(found, found.legs[0])
    assert "flag" in leg_aim(found, found.legs[-1])


@pytest.mark.parametrize(
    ("share", "words"),
    [
        (0.5, "5 times in ten"),
        (0.24, "2 times in ten"),
        (0.22, "one time in five"),
        (0.083, "one time in twelve"),
        (0.049, "one time in 20"),
        (0.97, "nearly always"),
        (0.0, "hardly ever"),
    ],
)
def test_how_often(share, words):
    assert times(share) == words
