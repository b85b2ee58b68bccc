"""Laws of sums against counting every case."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simcaddie.scoring.pmf import Pmf, mixed, total

shares = st.lists(st.floats(0.01, 1.0), min_size=1, max_size=4).map(lambda x: np.array(x) / sum(x))
pmfs = st.builds(Pmf, st.integers(-2, 5), shares)


@given(st.lists(pmfs, min_size=1, max_size=4))
def test_a_total_is_what_counting_every_case_gives(parts):
    counted: dict[int, float] = {}
    for case in itertools.product(*(zip(pmf.values, pmf.chance, strict=True) for pmf in parts)):
        value = sum(int(v) for v, _ in case)
        counted[value] = counted.get(value, 0.0) + float(np.prod([p for _, p in case]))
    found = total(parts)
    assert dict(zip(found.values.tolist(), found.chance, strict=True)) == pytest.approx(counted, abs=1e-12)
    assert found.mean == pytest.approx(sum(pmf.mean for pmf in parts))
    assert found.sd**2 == pytest.approx(sum(pmf.sd**2 for pmf in parts), abs=1e-9)


@given(pmfs, pmfs, st.floats(0.0, 1.0))
def test_a_mixture_has_the_mean_of_its_means(a, b, share):
    pmf = mixed([a, b], [share, 1.0 - share])
    assert pmf.chance.sum() == pytest.approx(1.0)
    assert pmf.mean == pytest.approx(share * a.mean + (1.0 - share) * b.mean)


@given(pmfs)
def test_tails_shift_and_sign(pmf):
    for value in range(pmf.low - 1, pmf.low + 6):
        assert pmf.at_most(value) + pmf.at_least(value + 1) == pytest.approx(1.0)
        assert pmf.negative().at_least(-value) == pytest.approx(pmf.at_most(value))
        assert pmf.shifted(3).at_most(value + 3) == pmf.at_most(value)


def test_quantiles():
    pmf = Pmf(70, np.full(10, 0.1))
    assert [pmf.quantile(share) for share in (0.0, 0.1, 0.11, 0.5, 1.0)] == [70, 70, 71, 74, 79]
