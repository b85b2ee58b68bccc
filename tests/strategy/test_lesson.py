"""A lesson's figures: parts that add up, the same luck for both, sentences that a pupil can read."""

from __future__ import annotations

import math
import re
from dataclasses import replace

import numpy as np
import pytest
from helpers import lane
from hypothesis import given
from hypothesis import strategies as st
from lessons import demo_lesson

from simcaddie.base.errors import BadRequest
from simcaddie.course.hole import Spot
from simcaddie.decision.break_even import leads
from simcaddie.decision.pair import TWENTY, reasons, wholes
from simcaddie.decision.request import Request
from simcaddie.decision.why import Explanation, Part
from simcaddie.features.lesson.analysis import lesson
from simcaddie.features.lesson.present import because, headline, homework, setting
from simcaddie.io.find import find_player
from simcaddie.io.player import read_player
from simcaddie.player.swing import Club

QUICK = Request(sequences=400, then="sound", robust=False, spot="ball")
PLAYER = read_player(find_player("wren"))
SHORT = replace(lane(), spots={"ball": Spot((2.0, 190.0), "fairway")})  # 110 yd to go: quickly played


@pytest.fixture(scope="module")
def halt():
    return demo_lesson("halt")


@pytest.fixture(scope="module")
def weir():
    return demo_lesson("weir")


def twins(**keys):
    """Return a lesson about the 9 iron and a twin of it that differs in ``keys`` (invented)."""
    iron = next(club for club in PLAYER.bag if club.name == "9 iron")
    full = iron.swings[0]
    keys = {key: value(full) if callable(value) else value for key, value in keys.items()}
    twin = Club("twin iron", iron.loft, (replace(full, club="twin iron", **keys),))
    return full, lesson(SHORT, replace(PLAYER, bag=(twin, *PLAYER.bag)), ("twin iron", "full 9 iron"), QUICK)


@given(st.lists(st.floats(-50, 50), min_size=1, max_size=12), st.floats(-0.5, 0.5))
def test_whole_numbers_add_up_and_are_near(values, off):
    total = round(sum(values) + off)
    found = wholes(values, total)
    assert sum(found) == total
    assert all(abs(whole - value) < 2.0 for whole, value in zip(found, values, strict=True))


@pytest.mark.parametrize("which", ["halt", "weir"])
def test_reasons_add_up_to_the_paired_difference(which, request):
    told = request.getfixturevalue(which)
    gap = told.other.mean - told.first.mean
    assert told.difference == pytest.approx(gap, abs=1e-12)
    assert sum(reason.strokes for reason in told.reasons) == pytest.approx(gap, abs=1e-12)
    assert sum(reason.hundredths for reason in told.reasons) == round(100 * gap)
    for reason in told.reasons:
        assert abs(reason.hundredths - 100 * reason.strokes) < 1.0


shares = st.lists(st.floats(0.0, 1.0), min_size=5, max_size=5).filter(lambda row: sum(row) > 0.1)


@given(shares, shares, st.lists(st.floats(-1.0, 2.0), min_size=10, max_size=10))
def test_reasons_of_any_explanation_add_up(a, b, costs):
    a, b = (np.array(row) / sum(row) for row in (a, b))
    kinds = ("fairway", "rough", "bunker", "trees", "lost")
    parts = tuple(
        Part(kind, a[i], b[i], costs[i], 50.0, 60.0, (a[i] - b[i]) * costs[i], costs[5 + i] / 10)
        for i, kind in enumerate(kinds)
    )
    difference = sum(part.total for part in parts)
    found = reasons(Explanation("a", "b", difference, 0.01, "fairway", 10.0, parts))
    assert sum(reason.strokes for reason in found) == pytest.approx(difference, abs=1e-9)
    assert sum(reason.hundredths for reason in found) == round(100 * difference)


def test_counts_are_of_ten_and_of_a_hundred(halt, weir):
    for side in (*halt.sides, *weir.sides):
        assert sum(many for _, many in side.of_ten) == 10
        assert sum(side.of_hundred) == 100
        assert len(side.balls) == TWENTY
        for finish, many in side.of_ten:
            assert abs(many - 10 * side.measure.finish[finish]) < 1.5


def test_twenty_balls_are_independent_and_not_mirrored_pairs(halt):
    balls = halt.sides[0].balls
    assert len({(ball.x, ball.y) for ball in balls}) == TWENTY


def test_both_choices_have_the_same_luck():
    """A club and its twin finish every ball at the same place, and score the same."""
    _, told = twins()
    assert told.sides[0].balls == told.sides[1].balls
    assert told.difference == 0.0
    assert "score alike" in because(told)


def test_level_choices_go_by_trust():
    full, told = twins(trust="high")
    assert full.trust == "ok"
    assert told.level
    assert told.first.title == "twin iron"
    assert "because you trust it more" in because(told)


def test_a_twin_with_more_mishits_gets_a_goal():
    """A club that is as the other but for its mishits comes level where it is mishit less: that is the homework."""
    full, told = twins(fat=lambda swing: 4 * swing.fat + 0.1, thin=lambda swing: 4 * swing.thin + 0.1)
    assert told.first.title == "9 iron"
    assert headline(told).number.endswith("in 20 mishit")
    goal = homework(told)[1]
    now, aim = (int(number) for number in re.findall(r"(\d+) in 20", goal.text))
    assert aim < now == round(20 * (4 * (full.fat + full.thin) + 0.2))


@pytest.mark.parametrize(
    ("gap", "mine", "theirs", "first"),
    [(-0.2, "low", "high", True), (0.2, "high", "low", False), (0.02, "high", "ok", True), (-0.02, "ok", "high", False),
     (-0.02, "ok", "ok", True), (0.02, "ok", "ok", False)],
)  # fmt: skip
def test_who_leads_where_two_are_level(gap, mine, theirs, first):
    assert leads(gap, 0.05, mine, theirs) is first


def test_words_are_one_sentence_without_jargon(halt, weir):
    for told in (halt, weir):
        text = because(told)
        assert text.endswith(".")
        assert ". " not in text
        assert "because" in text
        assert f"{told.first.mean:.2f}" in text
        assert f"net par is {told.answer.net_par}" in setting(told)
        for word in ("standard error", "distribution", "policy", "expected", "EV"):
            assert word not in " ".join([text, *(task.text for task in homework(told))])


def test_homework_doesnt_contradict_itself_and_has_the_players_own_routine(halt, weir):
    first, other = homework(halt)[0], homework(weir)[0]
    assert halt.first.title in first.title.lower()
    for words in ("All twenty at this one target", "gate"):
        assert words in first.text
    assert "each at a new target" not in first.text
    assert halt.answer.position.player.routine is None
    assert "routine" not in first.text
    assert "Before each your routine: breathe out, see it land, go." in other.text


def test_the_change_is_a_change(halt):
    point = halt.headline
    assert point is not None
    assert point.at is not None
    assert not math.isclose(float(point.at), float(point.now))


@pytest.mark.parametrize(
    ("names", "words"),
    [
        (("driver", "9 wood"), "has no club '9 wood'"),
        (("Driver", "driver"), "are the same choice"),
        (("touch shot", "sand-wedge x"), "has no club 'sand-wedge x'"),
    ],
)
def test_pairs_that_make_no_sense_are_refused(names, words):
    with pytest.raises(BadRequest, match=words):
        lesson(SHORT, PLAYER, names, QUICK)
