"""Rounds: the law of the total against whole rounds, parts and holes add up, forms against direct counts, opponents."""

from __future__ import annotations

import dataclasses

import numpy as np
import pytest
from scipy.stats import chisquare
from small_courses import golfer, nine

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import kernel_key
from simcaddie.course.card import card_of
from simcaddie.decision.rounds import play_course, set_hole
from simcaddie.features.round.analysis import RoundRequest, count_round, play_round
from simcaddie.model.build import pack_swings
from simcaddie.player.day_form import FormDay, day_form, on_day
from simcaddie.scoring.formats import par_bogey, stableford
from simcaddie.weather.day import Day

N = 60_000
QUICK = RoundRequest(sequences=4_000, then="sound")


@pytest.fixture(scope="module")
def course():
    return nine()


@pytest.fixture(scope="module")
def scores(course):
    return play_course(course, golfer(), tee=None, pin=None, then="best", sequences=N, seed=1)


@pytest.fixture(scope="module")
def best(course, scores):
    return count_round(course, golfer(), RoundRequest(sequences=N), scores)


@pytest.fixture(scope="module")
def other_scores(course):
    return play_course(course, golfer(), tee=None, pin=None, then="sound", sequences=4_000, seed=3)


@pytest.fixture(scope="module")
def ready(course):
    return [set_hole(hole, golfer(), None, None, "best") for hole in course.holes]


def whole_rounds(ready, n: int, seed: int, day: FormDay | None = None) -> np.ndarray:
    """Return the scores of independent whole rounds, int[n, holes]: one sequence of each mirrored pair."""
    swings = None if day is None else pack_swings(on_day(golfer(), day))
    columns = []
    for number, hole in enumerate(ready):
        problem = hole.problem if swings is None else hole.problem._replace(swings=swings)
        columns.append(hole.play(problem, kernel_key(seed, 77 + number), 2 * n).sum(axis=1)[::2])
    return np.stack(columns, axis=1)


def p_value(pmf, totals: np.ndarray) -> float:
    """Return the p-value of one chi-square of totals against a law, tails merged to at least 10 expected."""
    low, high = pmf.quantile(20 / totals.size), pmf.quantile(1.0 - 20 / totals.size)
    inner = np.arange(low, high + 1)
    clipped = np.clip(totals, low, high)
    expected = np.array([pmf.chance[v - pmf.low] for v in inner])
    expected[0], expected[-1] = pmf.at_most(low), pmf.at_least(high)
    found = np.array([(clipped == v).sum() for v in inner])
    return float(chisquare(found, expected * totals.size).pvalue)


def test_the_total_without_day_form_is_that_of_whole_rounds(best, ready):
    totals = whole_rounds(ready, 6_000, 5).sum(axis=1)
    assert p_value(best.plain, totals) > 1e-4
    error = best.plain.sd / np.sqrt(totals.size) + best.plain_se
    assert totals.mean() == pytest.approx(best.plain.mean, abs=4 * error)


def test_the_total_with_day_form_is_that_of_rounds_on_days_drawn_by_chance(best, ready):
    """Days from the two normals themselves, not from the 15 that stand for them."""
    rng, form = np.random.default_rng(8), day_form(golfer().handicap_index)
    totals = []
    for number in range(150):
        bias, mishits = rng.standard_normal(2)
        factor = np.exp(form.mishits * mishits - form.mishits**2 / 2)
        day = FormDay(float(form.direction * bias), float(factor))
        totals.append(whole_rounds(ready, 40, 100 + number, day).sum(axis=1))
    found = np.array(totals)
    error = found.mean(axis=1).std(ddof=1) / np.sqrt(len(found))
    assert found.mean() == pytest.approx(best.total.mean, abs=4 * error)
    assert found.std() == pytest.approx(best.total.sd, rel=0.06)


def test_day_form_widens_the_total_of_a_high_index():
    wide = play_round(nine(), golfer(handicap_index=34.0), QUICK)
    assert wide.total.sd > 1.02 * wide.plain.sd


def test_parts_and_holes_add_up_to_the_total(best):
    assert best.parts.sum() == pytest.approx(best.total.mean, abs=1e-9)
    assert sum(one.mean for one in best.holes) == pytest.approx(best.total.mean, abs=1e-9)
    for one in best.holes:
        assert one.parts.sum() == pytest.approx(one.mean, abs=1e-9)
        assert one.pmf.chance.sum() == pytest.approx(1.0)
    assert [round(float(one.parts[0]), 9) for one in best.holes] == [0.0] * 8 + [1.0]  # tee: par 4s and longer


def test_strokes_fall_by_the_card(best, course):
    """Index 18 over nine: 9 × 118 / 113 + 27.0 − 28 = 8.398; × 0.95 = 7.98, so 8; Rules 6.1b, 6.2a."""
    assert float(best.handicap.course) == pytest.approx(8.398, abs=5e-4)
    assert best.handicap.playing == 8
    assert [one.strokes for one in best.holes] == [1, 0, 1, 1, 1, 1, 1, 1, 1]
    assert tuple(one.net_par for one in best.holes) == card_of(course).net_pars(8)


def test_forms_count_what_whole_rounds_count(course, scores, best, ready):
    rounds = whole_rounds(ready, 6_000, 9)
    nets = np.array([one.net_par for one in best.holes])
    direct = {
        "stableford": stableford(rounds, nets),
        "par-bogey": par_bogey(rounds, nets),
        "maximum": np.minimum(rounds, 6),
    }
    for form, counts in direct.items():
        answer = count_round(course, golfer(), RoundRequest(form=form, limit="6"), scores)
        assert answer.handicap.playing == 8
        assert p_value(answer.counted_plain, counts.sum(axis=1)) > 1e-4
        assert sum(one.counts.mean for one in answer.holes) == pytest.approx(answer.counted.mean)


def test_playing_to_the_handicap_is_counted_on_whole_rounds(best, course):
    """No hole above net double bogey by the course handicap (3.1b); a differential up to the index (5.1a)."""
    full = np.array(card_of(course).net_pars(8))  # course handicap 8.398, rounded
    rng = np.random.default_rng(2)
    drawn = np.stack([rng.choice(one.pmf.values, 40_000, p=one.pmf.chance) for one in best.holes], axis=1)
    adjusted = np.minimum(drawn, full + 2).sum(axis=1)
    independent = float((adjusted <= 28 + 8.398).mean())
    assert best.to_handicap == pytest.approx(independent, abs=0.02)  # days are not mixed hole by hole, so not the same


def test_a_match_gives_the_difference_of_handicaps(course, scores, other_scores):
    other = golfer(name="other", handicap_index=6.0)
    request = dataclasses.replace(QUICK, form="match")
    answer = count_round(course, golfer(), request, scores, (other, other_scores))
    versus = answer.versus
    assert (answer.handicap.playing, versus.handicap.playing) == (8, 2)
    assert versus.strokes == card_of(course).strokes(6)
    back = count_round(course, other, request, other_scores, (golfer(), scores)).versus
    assert back.strokes == tuple(-s for s in versus.strokes)
    assert (back.lose, back.tie, back.win) == pytest.approx((versus.win, versus.tie, versus.lose))
    assert versus.holes.sum(axis=1) == pytest.approx(np.ones(9))
    assert versus.win + versus.tie + versus.lose == pytest.approx(1.0)


@pytest.mark.parametrize("form", ["stroke", "stableford", "maximum", "par-bogey"])
def test_against_oneself_one_wins_as_often_as_one_loses(course, scores, form):
    request = dataclasses.replace(QUICK, form=form)
    versus = count_round(course, golfer(), request, scores, (golfer(), scores)).versus
    assert versus.win == pytest.approx(versus.lose)
    assert 0.02 < versus.tie < 0.5


def test_more_strokes_win_more_often(course, scores):
    """In every form of play a player given six strokes more than fair beats the same golfer."""
    kinder = golfer(handicap_index=30.0)
    for form in ("stroke", "stableford", "maximum", "par-bogey", "match"):
        request = dataclasses.replace(QUICK, form=form)
        versus = count_round(course, kinder, request, scores, (golfer(), scores)).versus
        assert versus.win > versus.lose + 0.2


@pytest.mark.parametrize(("index", "playing"), [(-8.0, -5), (54.0, 26), (None, 0)])
def test_indexes_at_the_ends(course, scores, index, playing):
    """−8: (−4 × 118 / 113 − 1) × 0.95 = −4.92; 54: (27 × 118 / 113 − 1) × 0.95 = 25.8; Rules 6.1b, 6.2a."""
    answer = count_round(course, golfer(handicap_index=index), QUICK, scores)
    assert answer.handicap.playing == playing
    assert sum(one.strokes for one in answer.holes) == playing
    assert sum(one.points for one in answer.holes) >= 0.0
    assert (answer.to_handicap is None) == (index is None)


def test_the_number_of_threads_changes_nothing(course, monkeypatch):
    few = dataclasses.replace(course, holes=course.holes[:2])
    found = []
    for threads in ("1", "2"):
        monkeypatch.setenv("SIMCADDIE_THREADS", threads)
        found.append(play_course(few, golfer(), tee=None, pin=None, then="best", sequences=4_000, seed=1))
    for one, other in zip(found[0].holes, found[1].holes, strict=True):
        assert (one.days == other.days).all()
        assert (one.parts == other.parts).all()


def test_the_day_of_the_course_file_is_played_in(course, other_scores):
    """Ten metres a second into the face on every hole cost strokes; a day of the request counts before the file's."""
    request = dataclasses.replace(QUICK, seed=3)
    windy = dataclasses.replace(course, day=Day(wind=10.0))
    calm = count_round(course, golfer(), request, other_scores).total.mean
    assert play_round(windy, golfer(), request).total.mean > calm + 1.0
    assert play_round(windy, golfer(), dataclasses.replace(request, day=Day())).total.mean == pytest.approx(calm)


def test_every_hole_is_told_of(course):
    told = []
    play_round(course, golfer(), QUICK, opponent=golfer(), done=lambda: told.append(1))
    assert len(told) == 18


@pytest.mark.parametrize(
    ("keys", "told"),
    [
        ({"form": "skins"}, "a form of play is one of stroke, stableford, maximum, par-bogey, match, not 'skins'"),
        ({"form": "match"}, "match play needs an opponent: --versus OTHER"),
        ({"then": "worst"}, "strokes are played best, sound, usual, not 'worst'"),
        ({"sequences": 10}, "at least 1000 sequences a hole are needed, not 10"),
        ({"limit": "lots"}, "a limit is net-double-bogey, double-par or a number from 3 to 12, not 'lots'"),
        ({"allowance": 1.2}, "an allowance lies between 0 and 1, not at 1.2"),
        ({"tee": "blue"}, "has no tee 'blue'"),
        ({"pin": "back"}, "has no pin 'back'"),
        ({"pin": "any"}, "a round is played to one pin a hole"),
    ],
)
def test_what_can_not_be_played(course, keys, told):
    with pytest.raises(BadRequest) as caught:
        play_round(course, golfer(), dataclasses.replace(QUICK, **keys))
    assert told in str(caught.value)
