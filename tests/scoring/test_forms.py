"""Forms of play: what a score counts, counted by hand; limits; recommended allowances."""

from __future__ import annotations

import numpy as np
import pytest
from reference.handicapping import ALLOWANCES, STABLEFORD

from simcaddie.base.errors import BadRequest
from simcaddie.scoring.formats import FORMS, limit_of

SCORES = np.arange(1, 13)


def by_hand(form: str, score: int, net_par: int, limit: int) -> int:
    if form == "stableford":  # Rule 21.1b, the table of the reference
        return STABLEFORD.get(score - net_par, 0 if score > net_par else 2 + net_par - score)
    if form == "maximum":
        return min(score, limit)
    if form == "par-bogey":
        return 1 if score < net_par else -1 if score > net_par else 0
    return score


@pytest.mark.parametrize("form", FORMS)
@pytest.mark.parametrize("net_par", [2, 4, 5, 9])
def test_every_score_counts_what_the_rules_say(form, net_par):
    found = FORMS[form].counts(SCORES, net_par, net_par + 2)
    assert found.tolist() == [by_hand(form, int(score), net_par, net_par + 2) for score in SCORES]


@pytest.mark.parametrize("form", FORMS)
def test_allowances_are_the_recommended_ones(form):
    assert 100 * FORMS[form].share == pytest.approx(ALLOWANCES[FORMS[form].allowance])


def test_limits():
    assert [limit_of(limit, 4, 6) for limit in ("net-double-bogey", "double-par", "10")] == [8, 8, 10]
    for wrong in ("2", "13", "ten", "-5", ""):
        with pytest.raises(BadRequest, match="a limit is net-double-bogey, double-par or a number from 3 to 12"):
            limit_of(wrong, 4, 5)
