"""What pays: paired, plain in sign, the sum of its holes; sessions in proportion, random, no club twice running."""

from __future__ import annotations

import dataclasses
import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from small_courses import golfer, nine

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import kernel_key
from simcaddie.course.course import Course
from simcaddie.decision.practice import Gain, PracticeRow, Thing, better_at, closed, what_pays
from simcaddie.decision.rounds import set_hole
from simcaddie.features.practice.session import LEAST, session, shares
from simcaddie.player.swing import Putting


def two() -> Course:
    course = nine()
    return dataclasses.replace(course, holes=(course.holes[6], course.holes[8]), files=course.files[:2])


@pytest.fixture(scope="module")
def pays():
    return what_pays(two(), golfer(), sequences=8_000)


def test_each_gain_is_the_paired_difference_of_two_rounds(pays):
    """Replayed here from outside, for the swing that the two holes call for most."""
    row = max((row for row in pays.rows if row.thing.swings), key=lambda row: row.played)
    better = better_at(golfer(), closed, set(row.thing.swings))
    saved, variance = 0.0, 0.0
    for number, hole in enumerate(two().holes):
        mine, theirs = (set_hole(hole, player, None, None, "best") for player in (golfer(), better))
        mixed = dataclasses.replace(mine, problem=theirs.problem)  # the better player with the old policy
        key = kernel_key(1, 6000 + number)
        scores = [one.play(one.problem, key, 8_000).sum(axis=1).astype(float) for one in (mine, mixed)]
        pairs = (scores[0] - scores[1]).reshape(-1, 2).mean(axis=1)
        saved += pairs.mean()
        variance += pairs.var(ddof=1) / pairs.size
    assert row.gap == pytest.approx((saved, np.sqrt(variance)))


def test_pairing_makes_the_error_small(pays):
    alone = 2.0 / np.sqrt(8_000)  # of one mean alone: the sd of two such holes is about 1.4, two means, no pairing
    assert all(0.0 <= gain.se < alone for row in pays.rows for gain in row.gains.values())


def test_getting_better_saves_strokes(pays):
    assert [row.gap.saved for row in pays.rows] == sorted((row.gap.saved for row in pays.rows), reverse=True)
    for row in pays.rows:
        for change in ("gap", "tighter", "mishits"):
            if change in row.gains:
                assert row.gains[change].saved > -4 * row.gains[change].se
    top = pays.rows[0].gap
    assert top.saved > 4 * top.se
    assert pays.everything.saved > top.saved
    assert abs(pays.swings.gains["bias"].saved) < 0.05  # it was aimed off for


def test_strokes_played_add_up(pays):
    told = sum(row.played for row in pays.rows)
    assert pays.mean - 0.3 - 0.1 * len(pays.seldom) < told < pays.mean  # the rest: penalties, swings played seldom


def test_a_putter_gains_nothing_where_it_is_the_model_already():
    player = golfer(putting=Putting(0.5, 0.03))
    found = what_pays(two(), player, sequences=1_000)
    (putting,) = (row for row in found.rows if row.thing.putting)
    assert putting.gap == (0.0, 0.0)
    assert putting.gains["tighter"].saved > 0.0


def test_the_number_of_threads_changes_nothing(pays, monkeypatch):
    monkeypatch.setenv("SIMCADDIE_THREADS", "1")
    again = what_pays(two(), golfer(), sequences=8_000)
    assert again.rows == pays.rows
    assert again.everything == pays.everything


@given(st.integers(4, 120), st.integers(0, 50))
@settings(max_examples=40, deadline=None)
def test_no_club_comes_twice_running(pays, balls, seed):
    plan = session(pays, balls, seed)
    assert len(plan) == balls
    for _, there in itertools.groupby(plan, key=lambda ball: ball.where):  # the range first, then about the green
        clubs = [ball.club for ball in there]
        runs = [list(run) for _, run in itertools.groupby(clubs)]
        most = max(clubs.count(club) for club in clubs)
        assert max(map(len, runs)) == 1 or 2 * most > len(clubs) + 1
    assert [ball.where for ball in plan] == sorted((ball.where for ball in plan), reverse=True)
    for title in {ball.title for ball in plan}:
        targets = [ball.target for ball in plan if ball.title == title]
        assert all(a != b for a, b in itertools.pairwise(targets))
    assert session(pays, balls, seed) == plan


@given(st.lists(st.floats(0.0, 3.0), min_size=2, max_size=9), st.integers(4, 100))
@settings(deadline=None)
def test_balls_are_in_proportion_but_no_club_has_more_than_half(pays, gains, balls):
    rows = tuple(
        PracticeRow(Thing(f"swing {i}", (i,)), 1.0, {"gap": Gain(gain, 0.01)}) for i, gain in enumerate(gains)
    )
    practice = dataclasses.replace(pays, rows=rows)
    counts = shares(practice, balls)
    assert sum(counts.values()) == balls
    assert max(counts.values()) <= -(-balls // 2)
    paying = [gain for gain in gains if gain >= LEAST]
    by_club: dict[str, float] = {}
    for gain, swing in zip(gains, pays.player.swings, strict=False):
        by_club[swing.club] = by_club.get(swing.club, 0.0) + (gain if gain >= LEAST else 0.0)
    if len(paying) > 2 and max(by_club.values()) < 0.45 * sum(paying):
        for i, gain in enumerate(gains):
            wanted = balls * gain / sum(paying) if gain >= LEAST else 0.0
            assert abs(counts.get(f"swing {i}", 0) - wanted) <= 1.0
    session(practice, balls, 1)


@pytest.mark.parametrize("balls", [3, 301])
def test_a_session_has_some_balls(pays, balls):
    with pytest.raises(BadRequest, match=f"a session has 4 to 300 balls, not {balls}"):
        session(pays, balls, 1)


def test_too_few_sequences_are_refused():
    with pytest.raises(BadRequest, match="at least 1000 sequences a hole are needed, not 10"):
        what_pays(two(), golfer(), sequences=10)
