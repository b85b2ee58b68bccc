"""The exact share of a bivariate normal that lies inside a polygon.

Whitened, the polygon is a sum of signed triangles with a corner at the mean. A right triangle whose leg
from the mean has length h and whose angle there is atan(a) holds

    atan(a) / 2π − T(h, a),     T(h, a) = (1/2π) ∫₀ᵃ exp(−h² (1 + x²) / 2) / (1 + x²) dx

D. B. Owen, "Tables for computing bivariate normal probabilities", Annals of Mathematical Statistics 27,
1956; over the edges of a polygon: A. R. DiDonato and R. K. Hageman, SIAM Journal on Scientific and
Statistical Computing 3, 1982. Nothing here is shared with the program.
"""

from __future__ import annotations

import numpy as np
import shapely
from scipy.special import owens_t
from shapely import Polygon

__all__ = ["normal_in_polygon", "normal_in_ring"]


def _wedge(h: np.ndarray, t: np.ndarray) -> np.ndarray:
    """Return the share of the right triangle with legs h (from the mean) and t (signed), for h > 0."""
    return np.arctan2(t, h) / (2 * np.pi) - owens_t(h, t / h)


def normal_in_ring(ring: np.ndarray, mean: np.ndarray, covariance: np.ndarray) -> float:
    """Return the share inside one ring, float[n, 2], unclosed; negative where it turns clockwise."""
    z = np.linalg.solve(np.linalg.cholesky(covariance), (ring - mean).T).T
    step = np.roll(z, -1, axis=0) - z
    length = np.hypot(*step.T)
    z, step = z[length > 0], (step[length > 0].T / length[length > 0]).T
    height = z[:, 0] * step[:, 1] - z[:, 1] * step[:, 0]  # of the triangle; positive where it turns left
    start = (z * step).sum(axis=1)
    end = start + length[length > 0]
    h = np.maximum(np.abs(height), 1e-300)
    share = np.where(np.abs(height) > 1e-12, _wedge(h, end) - _wedge(h, start), 0.0)
    return float(np.sum(np.sign(height) * share))


def normal_in_polygon(polygon: Polygon, mean: tuple[float, float], covariance: np.ndarray) -> float:
    """Return the share of a normal, mean (x, y) and covariance of (x, y), in a polygon without its holes."""
    rings = [shapely.get_coordinates(ring)[:-1] for ring in (polygon.exterior, *polygon.interiors)]
    shares = [abs(normal_in_ring(ring, np.array(mean), np.array(covariance))) for ring in rings]
    return shares[0] - sum(shares[1:])
