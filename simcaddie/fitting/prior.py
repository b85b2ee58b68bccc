"""What is believed of a swing before any ball: what golfers of that index do with that club, and what that is worth.

A prior is a swing like any other, its numbers the usual ones and its ``posterior`` what they are worth in balls, so
``golfer/redraw.py`` turns it into a normal–inverse-Wishart and a Dirichlet distribution. It takes plain numbers: where
they come from is the caller's business.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from simcaddie.fitting.session import Ball, Key
from simcaddie.golfer.defaults import make_swing
from simcaddie.golfer.player import Player, Swing
from simcaddie.golfer.redraw import PRIOR

__all__ = ["UNKNOWN_CARRY", "PriorFor", "default_prior", "prior_from"]

PriorFor = Callable[[Key, Sequence[Ball]], Swing]

UNKNOWN_CARRY: Final = 0.05  # balls: a carry that is not known beforehand weighs next to nothing


def default_prior(
    club: str, swing: str, loft: float, carry: float, *, carry_known: bool, index: float | None = None
) -> Swing:
    """Return the prior with the skill of a handicap index, as it shows on the range (``golfer/skill.py``).

    ``carry`` in yards is the average expected; where it is not known beforehand (``carry_known`` false), a rough one
    from the balls themselves that only sets the scale.
    """
    worth = PRIOR if carry_known else replace(PRIOR, carry=UNKNOWN_CARRY)
    return make_swing(club, swing, carry, loft=loft, index=index, posterior=worth)


def prior_from(base: Player | None, lofts: Mapping[str, float], index: float | None = None) -> PriorFor:
    """Return what gives every swing its prior: its carry from ``base`` where it has that swing.

    ``lofts`` are in degrees, by club; spreads and mishits are those of ``index``, else of the
    base player's. Without ``base`` the balls' own carry (the one that two in five beat) sets the
    scale and weighs next to nothing.
    """
    if index is None and base is not None:
        index = base.handicap_index
    known = {(swing.club, swing.name): swing for swing in (base.swings if base else ())}

    def prior(key: Key, balls: Sequence[Ball]) -> Swing:
        club, name = key
        if (mine := known.get(key)) is not None:
            usual = default_prior(club, name, mine.loft, mine.carry, carry_known=True, index=index)
            return replace(usual, run=mine.run, run_sd=mine.run_sd)
        carry = float(np.percentile([ball.carry for ball in balls], 60))
        return default_prior(club, name, lofts[club], carry, carry_known=False, index=index)

    return prior
