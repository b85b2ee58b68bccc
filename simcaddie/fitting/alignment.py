"""Does every club miss by the same angle? Then the device, or the feet, may be misaligned.

Each swing's angle to the side is the mean over its balls, each by how likely it was solid, with its standard error;
nothing is shrunk, since a shared angle would shrink with it. The angles are pooled by their precision (a fixed-effect
summary: W. G. Cochran, Biometrics 10, 1954), and Cochran's Q tells whether they differ by more than chance.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from scipy.stats import chi2

from simcaddie.fitting.batch import SOLID, Problem
from simcaddie.fitting.summary import SwingFit

__all__ = ["SharedAngle", "shared_angle"]

FEWEST_SWINGS: Final = 4
FEWEST_BALLS: Final = 3.0  # solid ones, of a swing that takes part
LEAST: Final = 1.5  # degrees: less is within what golfers aim to
SURE: Final = 3.0  # standard errors off the line
DIFFER: Final = 0.05  # chance of a Q as large, below which the clubs differ


@dataclass(frozen=True, slots=True)
class SharedAngle:
    """The angle (°, to the right) that all swings miss by, its standard error, and how many swings take part."""

    degrees: float
    se: float
    swings: int


def shared_angle(fits: Sequence[tuple[Problem, SwingFit]]) -> SharedAngle | None:
    """Return the angle by which all swings miss alike; None where they don't, or too few can tell."""
    angles, errors = [], []
    for problem, fit in fits:
        weight = fit.strikes[:, SOLID]
        if (count := float(weight.sum())) < FEWEST_BALLS:
            continue
        each = np.degrees(np.arctan2(problem.side, problem.carry))
        mean = float((weight * each).sum()) / count
        spread = np.degrees(np.arctan(fit.swing.side_sd / fit.swing.carry))
        angles.append(mean)
        errors.append(float(spread) / np.sqrt(count))
    if len(angles) < FEWEST_SWINGS:
        return None
    precision = 1.0 / np.square(errors)
    pooled = float(np.average(angles, weights=precision))
    se = float(1.0 / np.sqrt(precision.sum()))
    q = float((precision * (np.array(angles) - pooled) ** 2).sum())
    alike = bool(chi2.sf(q, len(angles) - 1) >= DIFFER)
    if not alike or abs(pooled) < LEAST or abs(pooled) < SURE * se:
        return None
    return SharedAngle(pooled, se, len(angles))
