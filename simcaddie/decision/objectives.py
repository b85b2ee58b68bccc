"""What a player may aim for on a hole. To add an aim of play, add one row to ``OBJECTIVES``.

``worth`` turns total strokes on the hole and net par into what is to be made small; ``shown`` turns a mean of it back
into the figure that people read. Options within ``level`` of the best (in worth) are level, those within twice that
are played out in full.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.scoring.formats import net_double_bogey

__all__ = ["OBJECTIVES", "Objective"]

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Objective:
    """An aim of play; see the module's head."""

    name: str
    title: str
    worth: Callable[[Floats, int], Floats]
    shown: Callable[[float], str]
    level: float
    by_strokes: bool = False  # fewest strokes: what is best doesn't depend on the strokes used


def _points(total: Floats, net_par: int) -> Floats:
    """Return Stableford points (Rule 21.1b), turned over."""
    return -np.maximum(0.0, 2.0 + net_par - np.asarray(total, np.float64))


def _blow_up(total: Floats, net_par: int) -> Floats:
    return np.asarray(np.asarray(total) >= net_double_bogey(net_par), np.float64)


_ROWS = (
    Objective(
        "strokes", "fewest strokes", lambda total, _: np.asarray(total, np.float64), lambda m: f"{m:.2f}", 0.05, True
    ),
    Objective("points", "most Stableford points", _points, lambda m: f"{-m:.2f} points", 0.05),
    Objective("blow-up", "least chance of a blow-up", _blow_up, lambda m: f"{100 * m:.1f} %", 0.01),
)
OBJECTIVES: Final[dict[str, Objective]] = {row.name: row for row in _ROWS}
