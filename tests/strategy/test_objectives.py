"""Aims of play: what each ranks by, what it costs, and best play for it."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from helpers import busy_hole, club_golfer

from simcaddie.base.errors import BadRequest
from simcaddie.base.streams import kernel_key
from simcaddie.decision.compare import compare
from simcaddie.decision.objectives import OBJECTIVES
from simcaddie.decision.phrases import price, robustness_words
from simcaddie.decision.position import set_position
from simcaddie.decision.request import Request
from simcaddie.scoring.formats import stableford

ASK = Request(sequences=20_000, aims=(-6.0, 6.0, 3.0), clubs=("driver", "5 wood", "hybrid"), robust=False)


@pytest.fixture(scope="module")
def answers():
    return {name: compare(busy_hole(), club_golfer(), replace(ASK, objective=name)) for name in OBJECTIVES}


def test_worth_is_the_rules_own_figure():
    total = np.arange(1, 13)
    assert (OBJECTIVES["points"].worth(total.astype(float), 5) == -stableford(total, 5)).all()
    assert (OBJECTIVES["blow-up"].worth(total.astype(float), 5) == (total >= 7)).all()
    assert (OBJECTIVES["strokes"].worth(total.astype(float), 5) == total).all()


def test_each_aim_of_play_ranks_by_its_own_worth(answers):
    for name, answer in answers.items():
        level = OBJECTIVES[name].level
        assert answer.best.worth <= min(m.worth for m in answer.options) + level
    full = {name: [m for m in answer.options if m.behind is not None] for name, answer in answers.items()}
    assert all(m.worth == pytest.approx(-m.stableford, abs=1e-9) for m in full["points"])
    assert all(m.worth == pytest.approx(m.blow_up, abs=1e-9) for m in full["blow-up"])


def test_playing_for_it_is_no_worse_than_playing_for_strokes(answers):
    """Same first stroke, same random numbers: the policy for the aim does at least as well, within the noise."""
    for name in ("points", "blow-up"):
        objective = OBJECTIVES[name]
        net_par = answers[name].net_par
        plain = set_position(busy_hole(), club_golfer())
        aimed = set_position(busy_hole(), club_golfer(), aim=lambda t, o=objective, n=net_par: o.worth(t, n))
        key = kernel_key(3)
        worths = [
            objective.worth(position.play(0, 0.0, key, 100_000).score.astype(float), net_par)
            for position in (plain, aimed)
        ]
        apart = (worths[1] - worths[0]).reshape(-1, 2).mean(axis=1)
        assert apart.mean() < 3.0 * apart.std() / np.sqrt(apart.size) + 0.02 * objective.level


def test_the_look_ahead_agrees_with_simulation(answers):
    for name in ("points", "blow-up"):
        objective, net_par = OBJECTIVES[name], answers[name].net_par
        position = set_position(busy_hole(), club_golfer(), aim=lambda t, o=objective, n=net_par: o.worth(t, n))
        worth = objective.worth(position.play(1, 0.0, kernel_key(4), 200_000).score.astype(float), net_par)
        pairs = worth.reshape(-1, 2).mean(axis=1)
        error = pairs.std() / np.sqrt(pairs.size)
        assert position.worths(1, 0.0, 64)[0] == pytest.approx(pairs.mean(), abs=4 * error + 0.1 * objective.level)


def test_what_another_aim_costs_in_strokes_is_told(answers):
    assert price(answers["strokes"]) == ""
    text = price(answers["blow-up"])
    assert "least chance of a blow-up" in text
    assert "%" in text
    assert "points" in price(answers["points"])


def test_the_frontier_holds_the_best_score_and_the_least_risk(answers):
    answer = answers["strokes"]
    marked = [m for m in answer.options if answer.on_frontier(m)]
    assert min(answer.options, key=lambda m: (m.mean, m.blow_up)) in marked
    assert min(answer.options, key=lambda m: (m.blow_up, m.mean)) in marked
    for m in answer.options:
        if m not in marked:
            assert any(o.mean <= m.mean and o.blow_up <= m.blow_up for o in marked)


def test_an_unknown_aim_or_way_to_play_on_is_refused():
    with pytest.raises(BadRequest, match="an aim of play is one of strokes, points, blow-up"):
        compare(busy_hole(), club_golfer(), replace(ASK, objective="glory"))
    with pytest.raises(BadRequest, match="strokes that follow are played best, sound, usual"):
        compare(busy_hole(), club_golfer(), replace(ASK, then="wild"))


def test_the_answer_says_who_wins_otherwise():
    answer = compare(busy_hole(), club_golfer(), replace(ASK, robust=True, sequences=4_000))
    assert set(answer.robustness) == {"sound", "usual", "as they are"}
    assert set(answer.robustness.values()) <= {m.title for m in answer.options}
    same = replace(answer, robustness=dict.fromkeys(answer.robustness, answer.best.title))
    assert robustness_words(same).endswith("and with range numbers as they are.")
    other = replace(answer, robustness={**same.robustness, "usual": "putter"})
    assert "the putter would win with usual play to follow" in robustness_words(other)
