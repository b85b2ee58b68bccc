"""What is believed of a swing before any ball: what golfers of that index do with that club, and what that is worth.

A prior is a swing like any other, its numbers the usual ones and its ``posterior`` what they are worth in balls, so
``golfer/redraw.py`` turns it into a normal–inverse-Wishart and a Dirichlet distribution. It takes plain numbers: where
they come from is the caller's business.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from simcaddie.fitting.session import Ball
from simcaddie.golfer.defaults import make_swing, mishit_split
from simcaddie.golfer.player import Player, Posterior, Swing
from simcaddie.golfer.redraw import PRIOR

__all__ = ["UNKNOWN_CARRY", "default_prior", "prior_from", "swing_prior"]

UNKNOWN_CARRY: Final = 0.05  # balls: a carry that is not known beforehand weighs next to nothing


def swing_prior(
    *,
    club: str,
    swing: str,
    loft: float,
    carry: float,
    carry_known: bool,
    carry_sd: float,
    direction_sd: float,
    mishits: float,
    worth: Posterior = PRIOR,
) -> Swing:
    """Return the prior of a swing.

    Parameters
    ----------
    club, swing, loft : which swing, loft in degrees
    carry : expected average carry in yards; where it is not known beforehand, a rough one from the balls themselves
        that only sets the scale, with ``carry_known`` false
    carry_sd : spread of carry as a fraction of the carry
    direction_sd : spread of direction in degrees
    mishits : chance of a mishit, fat and thin together
    worth : what each number is worth in balls

    """
    fat, thin = mishit_split(loft, mishits)
    return make_swing(
        club,
        swing,
        carry,
        loft=loft,
        carry_sd=carry_sd * carry,
        side_sd=carry * math.tan(math.radians(direction_sd)),
        fat=fat,
        thin=thin,
        posterior=worth if carry_known else replace(worth, carry=UNKNOWN_CARRY),
    )


def default_prior(
    club: str, swing: str, loft: float, carry: float, *, carry_known: bool, index: float | None = None
) -> Swing:
    """Return the prior with the skill of a handicap index, as it shows on the range (``golfer/skill.py``)."""
    usual = make_swing(club, swing, carry, loft=loft, index=index)
    return swing_prior(
        club=club,
        swing=swing,
        loft=loft,
        carry=carry,
        carry_known=carry_known,
        carry_sd=usual.carry_sd / carry,
        direction_sd=math.degrees(math.atan(usual.side_sd / carry)),
        mishits=usual.fat + usual.thin,
    )


def prior_from(
    base: Player | None, lofts: Mapping[str, float], index: float | None = None
) -> Callable[[tuple[str, str], Sequence[Ball]], Swing]:
    """Return what gives every swing its prior: its carry from ``base`` where it has that swing.

    ``lofts`` are in degrees, by club; spreads and mishits are those of ``index``, else of the
    base player's. Without ``base`` the balls' own carry (the one that two in five beat) sets the
    scale and weighs next to nothing.
    """
    if index is None and base is not None:
        index = base.handicap_index
    known = {(swing.club, swing.name): swing for swing in (base.swings if base else ())}

    def prior(key: tuple[str, str], balls: Sequence[Ball]) -> Swing:
        club, name = key
        if (mine := known.get(key)) is not None:
            usual = default_prior(club, name, mine.loft, mine.carry, carry_known=True, index=index)
            return replace(usual, run=mine.run, run_sd=mine.run_sd)
        carry = float(np.percentile([ball.carry for ball in balls], 60))
        return default_prior(club, name, lofts[club], carry, carry_known=False, index=index)

    return prior
