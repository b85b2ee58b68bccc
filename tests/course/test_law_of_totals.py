"""Laws of sums against counting every case."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simcaddie.course.law import Law, mixed, total

shares = st.lists(st.floats(0.01, 1.0), min_size=1, max_size=4).map(lambda x: np.array(x) / sum(x))
laws = st.builds(Law, st.integers(-2, 5), shares)


@given(st.lists(laws, min_size=1, max_size=4))
def test_a_total_is_what_counting_every_case_gives(parts):
    counted: dict[int, float] = {}
    for case in itertools.product(*(zip(law.values, law.chance, strict=True) for law in parts)):
        value = sum(int(v) for v, _ in case)
        counted[value] = counted.get(value, 0.0) + float(np.prod([p for _, p in case]))
    found = total(parts)
    assert dict(zip(found.values.tolist(), found.chance, strict=True)) == pytest.approx(counted, abs=1e-12)
    assert found.mean == pytest.approx(sum(law.mean for law in parts))
    assert found.sd**2 == pytest.approx(sum(law.sd**2 for law in parts), abs=1e-9)


@given(laws, laws, st.floats(0.0, 1.0))
def test_a_mixture_has_the_mean_of_its_means(a, b, share):
    law = mixed([a, b], [share, 1.0 - share])
    assert law.chance.sum() == pytest.approx(1.0)
    assert law.mean == pytest.approx(share * a.mean + (1.0 - share) * b.mean)


@given(laws)
def test_tails_shift_and_sign(law):
    for value in range(law.low - 1, law.low + 6):
        assert law.at_most(value) + law.at_least(value + 1) == pytest.approx(1.0)
        assert law.negative().at_least(-value) == pytest.approx(law.at_most(value))
        assert law.shifted(3).at_most(value + 3) == law.at_most(value)


def test_quantiles():
    law = Law(70, np.full(10, 0.1))
    assert [law.quantile(share) for share in (0.0, 0.1, 0.11, 0.5, 1.0)] == [70, 70, 71, 74, 79]
