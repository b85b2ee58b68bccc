"""Why one option costs more than another: the parts add up, and say what happened."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import box, busy_hole, club_golfer

from simcaddie.base.errors import BadRequest
from simcaddie.course.hole import Area, Hole
from simcaddie.decision.compare import compare, pick
from simcaddie.decision.request import Comparison, Request
from simcaddie.decision.why import Explanation, Part, explain, explain_words, rows

QUICK = Request(sequences=6_000, aims=(-4.0, 4.0, 4.0), then="sound", robust=False)


@pytest.fixture(scope="module")
def answer() -> Comparison:
    return compare(busy_hole(), club_golfer(), QUICK)


def water_across() -> Hole:
    """Return a straight hole with water where the longest club's average ball comes down."""
    return Hole(
        name="Across (invented)",
        par=4,
        tees={"t": (0.0, 0.0)},
        pins={"p": (0.0, 360.0)},
        areas=(
            Area("fairway", box(-40, 90, 40, 340)),
            Area("green", box(-13, 347, 13, 373)),
            Area("water", box(-200, 208, 200, 235), marking="red"),
        ),
    )


PAIRS = [("driver", "5 wood"), ("5-wood", "7 iron"), ("half gap wedge", "driver"), ("sand wedge", "pitching wedge")]


@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_the_parts_add_up_to_the_paired_difference(answer, a, b):
    told = explain(answer, a, b)
    options = [pick(answer, name).option for name in (a, b)]
    one, other = (answer.position.balls(o.swing, o.aim).strokes for o in options)
    assert told.difference == pytest.approx((one - other).mean(), abs=1e-12)
    assert sum(p.total for p in told.parts) == pytest.approx(told.difference, abs=1e-9)
    assert sum(p.by_share + p.by_place for p in rows(told)) == pytest.approx(told.difference, abs=1e-9)
    assert sum(p.share_a for p in told.parts) == pytest.approx(1.0)
    assert sum(p.share_b for p in told.parts) == pytest.approx(1.0)


@pytest.mark.parametrize(("a", "b"), PAIRS[:2])
def test_turned_round_every_part_changes_its_sign_and_nothing_else(answer, a, b):
    one, other = explain(answer, a, b), explain(answer, b, a)
    back = {part.finish: part for part in other.parts}
    assert one.nearer == pytest.approx(-other.nearer)
    for part in one.parts:
        turned = back[part.finish]
        assert (part.share_a, part.cost) == pytest.approx((turned.share_b, turned.cost))
        assert (part.by_share, part.by_place) == pytest.approx((-turned.by_share, -turned.by_place), abs=1e-12)


def test_the_second_term_is_the_change_of_cost_weighted_by_the_harmonic_mean_of_the_shares(answer):
    """The other form of it in the module's head, from the bare balls."""
    told = explain(answer, "driver", "5 wood")
    options = [pick(answer, name).option for name in ("driver", "5 wood")]
    balls = [answer.position.balls(o.swing, o.aim) for o in options]
    for part in told.parts:
        if part.finish not in ("fairway", "rough", "bunker") or not part.share_a * part.share_b:
            continue
        costs = []
        for one in balls:
            first = one.rest
            kind = {"rough": 0, "fairway": 2, "bunker": 9}[part.finish]
            here = (first.finish == kind) & ~np.isin(first.event, [3, 4, 5])  # lost, unplayable, holed
            costs.append(one.strokes[here].mean())
        weight = 2 * part.share_a * part.share_b / (part.share_a + part.share_b)
        assert part.by_place == pytest.approx(weight * (costs[0] - costs[1]), abs=1e-9)


def test_the_figures_are_those_of_the_table(answer):
    best = answer.options[0]
    second = next(m for m in answer.options[1:] if m.behind is not None)  # played in full as well
    told = explain(answer, second.title, best.title)
    assert told.difference == pytest.approx(second.mean - best.mean, abs=1e-9)
    for part in told.parts:
        assert part.share_b == pytest.approx(best.finish.get(part.finish, 0.0))
        assert part.share_a == pytest.approx(second.finish.get(part.finish, 0.0))


def test_clubs_alike_have_nothing_between_them():
    player = club_golfer()
    twin = replace(player.bag[1], name="twin", swings=tuple(replace(s, club="twin") for s in player.bag[1].swings))
    both = replace(player, bag=(*player.bag[:2], twin, *player.bag[2:]))
    answer = compare(busy_hole(), both, replace(QUICK, clubs=("5 wood", "twin"), sequences=1_000))
    told = explain(answer, "twin", "5 wood")
    assert told.difference == 0.0
    assert all(part.by_share == 0.0 and abs(part.by_place) < 1e-12 for part in told.parts)
    assert explain_words(told) == "The twin comes to the same as the 5 wood; no one finish makes the difference."


def test_water_across_where_the_driver_comes_down_is_what_it_costs():
    answer = compare(water_across(), club_golfer(), replace(QUICK, aims=(0.0, 0.0, 1.0)))
    told = explain(answer, "driver", "5 wood")
    water = told.parts[0]
    assert water.finish == "water"
    assert water.by_share > 0.5 * told.difference
    assert told.nearer > 2.0  # the drives that stop short of the water are longer than the average 5 wood
    assert told.by_place < 0.0
    text = explain_words(told)
    assert text.startswith(f"The driver leaves {told.nearer:.0f} yd less on like ground (worth ")
    assert "but finds the water with " in text
    assert text.endswith(f"In all it costs {told.difference:.2f} more than the 5 wood.")


def part(finish: str, a: float, b: float, by_share: float, by_place: float = 0.0) -> Part:
    return Part(finish, a, b, 0.5, 150.0, 160.0, by_share, by_place)


@pytest.mark.parametrize(
    ("parts", "nearer", "words"),
    [
        (
            (part("heather", 0.3, 0.01, 0.25), part("fairway", 0.7, 0.99, 0.0, -0.10)),
            12.0,
            "The driver leaves 12 yd less on like ground (worth 0.10 strokes), but finds the heather with 3 balls in "
            "ten instead of none, which costs 0.25. In all it costs 0.15 more than the 5 wood.",
        ),
        (
            (part("out_of_bounds", 0.02, 0.0, 0.04), part("bunker", 0.1, 0.2, -0.05), part("fairway", 0.8, 0.8, 0.0)),
            -8.0,
            "The driver leaves 8 yd more on like ground (worth next to nothing); it finds a bunker with one ball in "
            "ten instead of 2, which saves 0.05, but goes out of bounds with 2 balls in a hundred instead of none, "
            "which costs 0.04. In all it saves 0.01 against the 5 wood.",
        ),
        (
            (part("fairway", 0.9, 0.9, 0.0, 0.07), part("lost", 0.03, 0.0, 0.06)),
            6.0,
            "The driver lies worse on like ground (0.07 strokes); it loses 3 balls in a hundred instead of none, which "
            "costs 0.06. In all it costs 0.13 more than the 5 wood.",
        ),
    ],
)
def test_in_words(parts, nearer, words):
    difference = sum(p.total for p in parts)
    assert explain_words(Explanation("driver", "5 wood", difference, 0.01, "fairway", nearer, parts)) == words


def test_rows_too_small_to_be_seen_are_shown_as_one():
    parts = (part("fairway", 0.9, 0.95, 0.0, -0.1), part("tee", 0.002, 0.0, 0.001), part("path", 0.0, 0.001, -0.002))
    shown = rows(Explanation("a", "b", sum(p.total for p in parts), 0.0, "fairway", 0.0, parts))
    assert [p.finish for p in shown] == ["fairway", "other"]
    assert shown[1].total == pytest.approx(-0.001)
    assert shown[1].share_a == pytest.approx(0.002)


@pytest.mark.parametrize(
    ("names", "message"),
    [
        (("drivr", "5 wood"), "has no club 'drivr'; did you mean 'driver'"),
        (("driver", "Driver"), "'driver' and 'Driver' are the same choice"),
        (("driver", "7 iron"), "'7 iron' is not among the choices compared here: "),
    ],
)
def test_names_that_do_not_fit_are_refused(names, message):
    few = compare(busy_hole(), club_golfer(), replace(QUICK, clubs=("driver", "5 wood"), sequences=100))
    with pytest.raises(BadRequest, match=message):
        explain(few, *names)


def test_a_club_means_its_full_swing_and_its_best_aim(answer):
    assert pick(answer, "gap wedge").title == "gap wedge"
    assert pick(answer, "half gap-wedge").title == "half gap wedge"
    every = compare(busy_hole(), club_golfer(), replace(QUICK, clubs=("driver",), all_aims=True, sequences=1_000))
    assert pick(every, "driver").worth == min(m.worth for m in every.options)
