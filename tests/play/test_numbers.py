"""The kernel's own numbers: uniforms from a counter, normals by inversion."""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from scipy.special import ndtri
from scipy.stats import chi2, kstest, norm

from simcaddie.base.compiled import compiled
from simcaddie.base.streams import kernel_key
from simcaddie.model import arrays as r
from simcaddie.model.numbers import normal, stream, uniform
from simcaddie.simulate import _draw

N = 200_000


@compiled
def _uniforms(key: Any, sequence: int, draw: int, across: bool, out: Any) -> None:
    for i in range(out.size):
        out[i] = uniform(stream(key, sequence + i), draw) if across else uniform(stream(key, sequence), draw + i)


@compiled
def _normals(p: Any, out: Any) -> None:
    for i in range(p.size):
        out[i] = normal(p[i])


def along_one_stream(key, sequence, n):
    out = np.empty(n)
    _uniforms(key, sequence, 0, False, out)
    return out


def across_streams(key, draw, n):
    out = np.empty(n)
    _uniforms(key, 0, draw, True, out)
    return out


def normals(p):
    out = np.empty(p.size)
    _normals(p, out)
    return out


WAYS = {
    "along one stream": lambda seed: along_one_stream(kernel_key(seed), 17, N),
    "across streams, first draw": lambda seed: across_streams(kernel_key(seed), 0, N),
    "across streams, ninth draw": lambda seed: across_streams(kernel_key(seed), 8, N),
}


def chi_square(counts: np.ndarray) -> float:
    expected = counts.sum() / counts.size
    return float(chi2.sf(((counts - expected) ** 2 / expected).sum(), counts.size - 1))


@pytest.mark.parametrize("seed", [1, 2, 12345])
@pytest.mark.parametrize("way", WAYS.values(), ids=WAYS.keys())
def test_uniforms_are_uniform(way, seed):
    u = way(seed)
    assert 0.0 < u.min() < 1e-4
    assert 1 - 1e-4 < u.max() < 1.0
    assert 1e-5 < chi_square(np.bincount((u * 256).astype(int), minlength=256)) < 1 - 1e-5
    assert kstest(u, "uniform").pvalue > 1e-5


@pytest.mark.parametrize("way", WAYS.values(), ids=WAYS.keys())
def test_uniforms_are_independent_of_those_before(way):
    u = way(3)
    for lag in (1, 2, 3, 6, 12):
        assert abs(np.corrcoef(u[:-lag], u[lag:])[0, 1]) < 5 / np.sqrt(N)
        cells = (u[:-lag] * 16).astype(int) * 16 + (u[lag:] * 16).astype(int)
        assert chi_square(np.bincount(cells, minlength=256)) > 1e-5


@pytest.mark.parametrize("bit", [0, 1, 20, 40, 51])
def test_every_bit_is_as_often_one_as_nought(bit):
    ones = ((along_one_stream(kernel_key(4), 0, N) * 2.0 ** (bit + 1)).astype(np.int64) & 1).mean()
    assert ones == pytest.approx(0.5, abs=5 * 0.5 / np.sqrt(N))


def test_keys_and_sequences_give_unrelated_streams():
    base = along_one_stream(kernel_key(5), 0, N)
    others = [along_one_stream(kernel_key(5), 1, N), along_one_stream(kernel_key(6), 0, N)]
    others.append(along_one_stream(kernel_key(5, purpose=1), 0, N))
    for other in others:
        assert abs(np.corrcoef(base, other)[0, 1]) < 5 / np.sqrt(N)
        assert not np.isin(base, other).any()


def test_the_same_key_gives_the_same_numbers():
    assert (along_one_stream(kernel_key(5), 3, 99) == along_one_stream(kernel_key(5), 3, 99)).all()


def test_normals_are_the_quantiles():
    """Against scipy.special.ndtri (Cephes), from 1e-300 to 1 − 1e-15."""
    tail = np.logspace(-300, -1, 3000)
    p = np.concatenate([tail, np.linspace(1e-6, 1 - 1e-6, 20_001), 1 - np.logspace(-15, -1, 600)])
    assert np.abs(normals(p) / np.where(p == 0.5, 1, ndtri(p)) - (p != 0.5)).max() < 1e-12
    assert normals(np.array([0.5]))[0] == 0.0


def test_normals_are_odd():
    p = np.linspace(0.01, 0.49, 500)
    assert np.abs(normals(p) + normals(1 - p)).max() < 1e-13


def test_the_draws_of_a_stroke_are_four_normals_and_three_uniforms_and_a_sign_turns_only_the_side():
    who = np.arange(8000)  # the even ones and the odd ones are each other's mirror image
    z = np.zeros((r.DRAWS + 1, who.size))
    _draw(kernel_key(9), who, 2, True, z)
    plus, minus = z[:, ::2].T, z[:, 1::2].T
    assert (plus[:, 1] == -minus[:, 1]).all()
    assert (np.delete(plus, 1, axis=1) == np.delete(minus, 1, axis=1)).all()
    for column in (0, 1, 2, 6):
        assert kstest(plus[:, column], norm.cdf).pvalue > 1e-4
    for column in (3, 4, 5):
        assert kstest(plus[:, column], "uniform").pvalue > 1e-4
    apart = np.corrcoef(plus.T) - np.eye(7)
    assert np.abs(apart).max() < 5 / np.sqrt(4000)
    calm = np.zeros_like(z)
    _draw(kernel_key(9), who, 2, False, calm)
    assert (calm[:6] == z[:6]).all()  # a gust takes no number from the others
    assert (calm[6] == 0.0).all()
    _draw(kernel_key(9), who[5::3], 2, True, calm)
    assert (calm[:, : who[5::3].size] == z[:, 5::3]).all()  # keyed by sequence, not by who goes with it
    _draw(kernel_key(9), who, 3, True, calm)
    assert not np.isin(calm[:6], z[:6]).any()
