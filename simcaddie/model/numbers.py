"""Numbers from a counter: uniforms keyed by (key, sequence, draw), and normals by inversion.

Nothing is carried from one number to the next, so no result depends on how the work is shared out.
"""

from __future__ import annotations

import math
from typing import Any, Final

import numpy as np

from simcaddie.base.compiled import inlined

__all__ = ["mix", "normal", "stream", "uniform"]

_GOLDEN: Final = np.uint64(0x9E3779B97F4A7C15)
_MIX_1: Final = np.uint64(0xBF58476D1CE4E5B9)
_MIX_2: Final = np.uint64(0x94D049BB133111EB)
_S30, _S27, _S31, _S12 = np.uint64(30), np.uint64(27), np.uint64(31), np.uint64(12)


@inlined
def mix(z: Any) -> Any:
    """Scramble 64 bits: the finaliser of SplitMix64 (Steele, Lea and Flood, OOPSLA 2014)."""
    z = (z ^ (z >> _S30)) * _MIX_1
    z = (z ^ (z >> _S27)) * _MIX_2
    return z ^ (z >> _S31)


@inlined
def stream(key: Any, sequence: int) -> Any:
    """Return the start of a sequence's own stream."""
    return mix(key ^ mix(np.uint64(sequence) * _GOLDEN + _MIX_1))


@inlined
def uniform(start: Any, draw: int) -> float:
    """Return draw number ``draw`` of a stream, uniform in (0, 1)."""
    bits = mix(start + np.uint64(draw + 1) * _GOLDEN) >> _S12
    return (float(bits) + 0.5) * (1.0 / 4503599627370496.0)


@inlined
def normal(p: float) -> float:
    """Return the standard normal quantile of ``p``: Wichura's AS 241 (PPND16), Applied Statistics 37, 1988."""
    # fmt: off
    q = p - 0.5
    if abs(q) <= 0.425:
        s = 0.180625 - q * q
        return (
            q
            * (((((((2509.0809287301226727 * s + 33430.575583588128105) * s + 67265.770927008700853) * s
                   + 45921.953931549871457) * s + 13731.693765509461125) * s + 1971.5909503065514427) * s
                + 133.14166789178437745) * s + 3.387132872796366608)
            / (((((((5226.495278852545925 * s + 28729.085735721942674) * s + 39307.89580009271061) * s
                   + 21213.794301586595867) * s + 5394.1960214247511077) * s + 687.1870074920579083) * s
                + 42.313330701600911252) * s + 1.0)
        )
    s = math.sqrt(-math.log(p if q < 0.0 else 1.0 - p))
    if s <= 5.0:
        s -= 1.6
        x = (
            (((((((7.7454501427834140764e-4 * s + 0.0227238449892691845833) * s + 0.24178072517745061177) * s
                 + 1.27045825245236838258) * s + 3.64784832476320460504) * s + 5.7694972214606914055) * s
              + 4.6303378461565452959) * s + 1.42343711074968357734)
            / (((((((1.05075007164441684324e-9 * s + 5.475938084995344946e-4) * s + 0.0151986665636164571966) * s
                   + 0.14810397642748007459) * s + 0.68976733498510000455) * s + 1.6763848301838038494) * s
                + 2.05319162663775882187) * s + 1.0)
        )
    else:
        s -= 5.0
        x = (
            (((((((2.01033439929228813265e-7 * s + 2.71155556874348757815e-5) * s + 0.0012426609473880784386) * s
                 + 0.026532189526576123093) * s + 0.29656057182850489123) * s + 1.7848265399172913358) * s
              + 5.4637849111641143699) * s + 6.6579046435011037772)
            / (((((((2.04426310338993978564e-15 * s + 1.4215117583164458887e-7) * s + 1.8463183175100546818e-5) * s
                   + 7.868691311456132591e-4) * s + 0.0148753612908506148525) * s + 0.13692988092273580531) * s
                + 0.59983220655588793769) * s + 1.0)
        )
    # fmt: on
    return -x if q < 0.0 else x
