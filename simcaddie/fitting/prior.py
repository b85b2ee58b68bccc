"""What is believed of a swing before any ball: what golfers of that index do with that club, and what that is worth.

A prior is a swing like any other, its numbers the usual ones and its ``posterior`` what they are worth in balls, so
``player/posterior.py`` turns it into a normal–inverse-Wishart and a Dirichlet distribution. It takes plain numbers:
where they come from is the caller's business.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Final

import numpy as np

from simcaddie.fitting.session import Ball, Key
from simcaddie.player.defaults import make_swing
from simcaddie.player.posterior import PRIOR
from simcaddie.player.swing import Player, Swing

__all__ = ["PriorFor", "prior_from"]

PriorFor = Callable[[Key, Sequence[Ball]], Swing]

UNKNOWN_CARRY: Final = 0.05  # balls: a carry that is not known beforehand weighs next to nothing


def prior_from(base: Player | None, lofts: Mapping[str, float], index: float | None = None) -> PriorFor:
    """Return what gives every swing its prior, with the skill of ``index``, else of the base's, as the range shows it.

    Its carry is that of ``base`` where it has that swing; else the balls' own (the one that two in five beat), which
    sets the scale and weighs next to nothing. ``lofts`` are in degrees, by club.
    """
    if index is None and base is not None:
        index = base.handicap_index
    known = {(swing.club, swing.name): swing for swing in (base.swings if base else ())}

    def prior(key: Key, balls: Sequence[Ball]) -> Swing:
        if (mine := known.get(key)) is not None:
            usual = make_swing(*key, mine.carry, loft=mine.loft, index=index, posterior=PRIOR)
            return replace(usual, run=mine.run, run_sd=mine.run_sd)
        carry, worth = float(np.percentile([ball.carry for ball in balls], 60)), replace(PRIOR, carry=UNKNOWN_CARRY)
        return make_swing(*key, carry, loft=lofts[key[0]], index=index, posterior=worth)

    return prior
