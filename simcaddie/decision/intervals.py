"""How far is each option behind the best of the others? Simultaneous intervals.

Multiple comparisons with the best (J. Hsu, Annals of Statistics 9, 1981; Hsu, Multiple Comparisons, 1996, section
4.2), for the differences δ_i = mean_i − min over j ≠ i of mean_j, less being better. With m the sample means, s_ij
the standard error of the paired difference and c_i the point that all standardised differences (m_i − m_j −
expectation) / s_ij, j ≠ i, stay below together with the chance wanted,

    low_i  = −( min over j ≠ i of  m_j − m_i + c_i s_ij )⁺          i may be the best: δ_i could be as small as this
    high_i =  ( max over j in B, j ≠ i of  m_i − m_j + c_j s_ij )⁺   B: those whose low is below 0

and high_i = 0 where B holds i alone. The c_i come from the joint normal law of the paired differences, by simulation.
"""

from __future__ import annotations

import math
from typing import Final

import numpy as np
from numpy.typing import NDArray

__all__ = ["behind_best", "together"]

CONFIDENCE: Final = 0.95
DRAWS: Final = 20_000
TINY: Final = 1e-12  # standard errors below this: the options are the same to the last ball

Floats = NDArray[np.float64]


def _critical(covariance: Floats, i: int, confidence: float, rng: np.random.Generator) -> float:
    """Return c_i: the quantile of the largest standardised difference of option i to the others."""
    others = np.delete(np.arange(covariance.shape[0]), i)
    turn = -np.eye(covariance.shape[0])[others]
    turn[:, i] = 1.0
    spread = turn @ covariance @ turn.T
    drawn = _standardised(spread, rng)
    return float(np.quantile(drawn.max(axis=0), confidence)) if drawn.size else 0.0


def _standardised(covariance: Floats, rng: np.random.Generator) -> Floats:
    """Return draws of normals of unit variance with correlations, float64[n, DRAWS], without those of no variance."""
    scale = np.sqrt(np.maximum(np.diag(covariance), 0.0))
    real = scale > TINY
    if not real.any():
        return np.empty((0, DRAWS))
    values, vectors = np.linalg.eigh(covariance[np.ix_(real, real)] / np.outer(scale[real], scale[real]))
    root = vectors * np.sqrt(np.maximum(values, 0.0))
    return np.asarray(root @ rng.standard_normal((root.shape[1], DRAWS)))


def behind_best(pairs: Floats, confidence: float = CONFIDENCE, seed: int = 0) -> Floats:
    """Return simultaneous intervals (low, high) for how far each option is behind the best of the others.

    Parameters
    ----------
    pairs : float64[option, draw], paired draws: column k of every option comes from the same random numbers
    confidence : chance that all intervals hold together
    seed : of the simulation that finds the critical points

    Returns
    -------
    float64[option, 2]; a low below 0 means that the option may be the best, a high of 0 that it surely is
    """
    count, draws = pairs.shape
    if count == 1:
        return np.zeros((1, 2))
    mean, covariance = pairs.mean(axis=1), np.cov(pairs) / draws
    variance = np.diag(covariance)
    error = np.sqrt(np.maximum(variance[:, None] + variance[None, :] - 2.0 * covariance, 0.0))
    rng = np.random.default_rng(seed)
    critical = np.array([_critical(covariance, i, confidence, rng) for i in range(count)])
    gap = mean[:, None] - mean[None, :]  # how far i is behind j
    reach = -gap + critical[:, None] * error
    np.fill_diagonal(reach, math.inf)
    low = -np.maximum(reach.min(axis=1), 0.0)
    candidates = low < 0.0
    if not candidates.any():  # all the same to the last ball
        return np.zeros((count, 2))
    worst = gap + critical[None, :] * error
    np.fill_diagonal(worst, -math.inf)
    worst[:, ~candidates] = -math.inf
    high = np.maximum(worst.max(axis=1), 0.0)
    return np.column_stack([low, high])


def together(covariance: Floats, confidence: float = CONFIDENCE, seed: int = 0) -> float:
    """Return c such that all of some estimates lie within c standard errors of the truth with the chance wanted.

    The quantile of max |Z_i|, Z normal with the correlations of ``covariance`` float64[n, n] (two-sided; for
    differences to one base these are Dunnett's intervals, Journal of the American Statistical Association 50, 1955).

    >>> 1.9 < together(np.eye(1)) < 2.0
    True
    """
    drawn = _standardised(covariance, np.random.default_rng(seed))
    return float(np.quantile(np.abs(drawn).max(axis=0), confidence)) if drawn.size else 0.0
