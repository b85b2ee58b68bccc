"""Day form: strokes within a round are not independent. A round draws one side bias and one mishit factor for all.

How much: club golfers' rounds, published (USGA, before 2020, seen): 3 strokes above the course handicap on average, a
quarter at or better than it, which is an sd of about 3.7 strokes. Independent strokes on neutral courses alone come to
nearly that (DEVELOPERS.md, "Golfers"), so little is left for form: the numbers below, of about one stroke a round, are
the most that the published spread allows, and otherwise common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from simcaddie.player.skill import USUAL_INDEX
from simcaddie.player.swing import Player, Swing

__all__ = ["DayForm", "FormDay", "day_form", "form_days", "in_form", "on_day"]


@dataclass(frozen=True, slots=True)
class DayForm:
    """``direction``: sd of a round's bias in degrees; ``mishits``: sd of the logarithm of its mishit factor."""

    direction: float
    mishits: float


# At an index of 34, less by the square of the index below, none at scratch and better. Fitted: ``player/__init__.py``.
DIRECTION_AT_34: Final = 1.8
MISHITS_AT_34: Final = 0.45
_NODES: Final = (5, 3)


@dataclass(frozen=True, slots=True)
class FormDay:
    """One day: its ``bias`` in degrees to the right, its ``mishits`` factor, and its ``weight`` among all days."""

    bias: float
    mishits: float
    weight: float = 1.0


def _factor(form: DayForm, z: float) -> float:
    """Return a day's mishit factor from a standard normal; its mean is 1, so that the average day is the player's."""
    return math.exp(form.mishits * z - form.mishits**2 / 2.0)


def day_form(index: float | None) -> DayForm:
    """Return the form of a golfer of a handicap index; None counts as ``USUAL_INDEX``.

    >>> day_form(0.0)
    DayForm(direction=0.0, mishits=0.0)
    """
    share = (max(0.0, USUAL_INDEX if index is None else index) / 34.0) ** 2
    return DayForm(DIRECTION_AT_34 * share, MISHITS_AT_34 * share)


def form_days(form: DayForm) -> tuple[FormDay, ...]:
    """Return 15 days that stand for all: Gauss-Hermite, five of the bias times three of the mishits.

    Whatever is a polynomial of degree 9 in the bias and 5 in the logarithm of the factor has its mean over all days
    exactly.

    >>> days = form_days(DayForm(1.0, 0.25))
    >>> len(days), round(sum(day.weight for day in days), 12), round(sum(d.weight * d.bias**2 for d in days), 12)
    (15, 1.0, 1.0)
    """
    (biases, by_bias), (factors, by_factor) = (np.polynomial.hermite_e.hermegauss(n) for n in _NODES)
    weights = np.outer(by_bias, by_factor) / (2.0 * math.pi)
    return tuple(
        FormDay(form.direction * float(z), _factor(form, float(w)), float(weights[i, j]))
        for i, z in enumerate(biases)
        for j, w in enumerate(factors)
    )


def on_day(player: Player, day: FormDay) -> Player:
    """Return the player as on one day: all swings turned by one bias, all mishit shares times one factor."""
    slope = math.tan(math.radians(day.bias))

    def today(swing: Swing) -> Swing:
        return replace(
            swing, side=swing.side + slope * swing.carry, fat=swing.fat * day.mishits, thin=swing.thin * day.mishits
        )

    return player.with_swings(today)


def in_form(player: Player, form: DayForm, rng: np.random.Generator) -> Player:
    """Return the player as on a day drawn by chance; see ``on_day``."""
    bias = form.direction * float(rng.standard_normal())
    return on_day(player, FormDay(bias, _factor(form, float(rng.standard_normal()))))
