"""What an option came to: from first balls and what they leave to the numbers a coach reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.surfaces import NAMES
from simcaddie.course.distances import yardages
from simcaddie.decision.options import Option, swing_title
from simcaddie.decision.position import Position
from simcaddie.model.arrays import Event, Rest
from simcaddie.scoring.formats import stableford
from simcaddie.simulate import Outcome

__all__ = ["Audit", "Measure", "ball_places", "finish_names", "measure", "pair_means", "standard_error"]

SURE_SE, CELLS = 4.0, 0.003  # within which an audit agrees: standard errors, and strokes
TINY = 1e-9  # chances below this are left out of a score law
_EVENT_FINISH = {
    Event.LOST: "lost",
    Event.HOLED: "holed",
    Event.UNPLAYABLE: "unplayable",
}
_STAYS = [Event.PLAYED, Event.HIT_TREE, Event.FAILED, Event.HOLED]


@dataclass(frozen=True, slots=True)
class Audit:
    """What whole sequences say of an option's mean, luck taken out: ``apart`` strokes from the answer, its error."""

    sequences: int
    apart: float
    se: float

    @property
    def agrees(self) -> bool:
        """Whether answer and audit are as near as their errors and the solver's cells let them be."""
        return abs(self.apart) <= SURE_SE * self.se + CELLS


@dataclass(frozen=True, slots=True)
class Measure:
    """One option, measured; scores count strokes already played.

    ``worth`` is the mean of what the aim of play makes small (the strokes themselves, as a rule), compared through
    the paired difference ``diff`` to the best option; ``behind`` is the simultaneous interval for how far it is
    behind the best of the others, None where it was screened out; ``leave`` is the mean yards to the pin after the
    first ball, ``lie`` the commonest lie; ``finish`` the share of first balls by kind; ``carries`` the share that
    carry each hazard on the line. ``picked_up`` is the chance of a hole that takes the cap or more. ``sequences``
    were played to the bottom of the hole; ``audit`` is what they say, None where the option was screened out.
    """

    option: Option
    title: str
    club: str
    swing: str
    trust: str
    bearing: float
    sequences: int
    mean: float
    se: float
    worth: float
    diff: float
    diff_se: float
    behind: tuple[float, float] | None
    net_par_or_better: float
    blow_up: float
    stableford: float
    penalty_strokes: float
    picked_up: float
    finish: Mapping[str, float]
    carries: Mapping[str, float]
    leave: float
    lie: str
    score_law: Mapping[int, float]
    audit: Audit | None


def pair_means(score: NDArray[Any]) -> NDArray[np.float64]:
    """Return the means of mirrored pairs, float64[n / 2]: independent draws, unlike the single scores."""
    return np.asarray(score.reshape(-1, 2).mean(axis=1))


def standard_error(pairs: NDArray[np.float64]) -> float:
    """Return the standard error of the mean of independent ``pairs``."""
    return float(pairs.std(ddof=1) / np.sqrt(pairs.size)) if pairs.size > 1 else float("inf")


def finish_names(first: Rest) -> NDArray[np.str_]:
    """Return the ground that each first ball finished on, str[ball]; "lost" and the like instead where they apply."""
    names = np.array(NAMES, dtype=object)[first.finish]
    for event, name in _EVENT_FINISH.items():
        names[first.event == event] = name
    return names.astype(str)


def ball_places(rest: Rest) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    """Return where balls are shown, x and y: where they lie, or landed where the next is played from elsewhere."""
    stays = np.isin(rest.event, _STAYS)
    return np.where(stays, rest.x, rest.landing_x), np.where(stays, rest.y, rest.landing_y)


def _finish(first: Rest) -> dict[str, float]:
    """Return the share of first balls by the ground they finished on."""
    names = finish_names(first)
    kinds, counts = np.unique(names, return_counts=True)
    return {str(kind): float(count) / names.size for kind, count in zip(kinds, counts, strict=True)}


def _carries(position: Position, bearing: float, first: Rest) -> dict[str, float]:
    """Return, per hazard that the aim line crosses within reach, the share of first balls that land beyond it."""
    x, y = position.place.at
    along = (first.landing_x - x) * np.sin(bearing) + (first.landing_y - y) * np.cos(bearing)
    reach = float(np.quantile(along, 0.99)) + 40.0
    found: dict[str, float] = {}
    for hazard in yardages(position.hole, position.place.at, bearing).hazards:
        if hazard.carry is not None and hazard.reach is not None and hazard.reach < reach:
            found[f"{hazard.area.title} ({hazard.carry:.0f})"] = float(np.mean(along > hazard.carry))
    return found


def _audit(outcome: Outcome) -> Audit | None:
    if outcome.luck is None:
        return None
    apart = pair_means(outcome.score - outcome.luck)
    return Audit(outcome.score.size, float(apart.mean()), standard_error(apart))


def measure(
    position: Position,
    option: Option,
    pmf: NDArray[np.float64],
    outcome: Outcome,
    best: NDArray[np.float64],
    behind: tuple[float, float] | None,
    *,
    played: int,
    net_par: int,
) -> Measure:
    """Return the measure of ``option``.

    ``pmf`` float64[set, cap + 1] is that of its strokes from the place by set of first balls, ``best`` float64[set] the
    mean worth of the best option; ``outcome`` its whole sequences.
    """
    swings = position.player.swings
    swing = swings[option.swing] if option.swing < len(swings) else None
    bearing = float(position.pin_line + np.radians(option.aim))
    total = np.arange(position.cap + 1) + played
    means, worths, whole = pmf @ total, pmf @ position.worth, pmf.mean(axis=0)
    first = position.balls(option.swing, option.aim).rest
    lies, often = np.unique(first.surface, return_counts=True)
    later = float((outcome.penalties - (outcome.first.added - 1)).mean())
    holed = np.arange(position.cap + 1) < position.cap
    return Measure(
        option=option,
        title=swing_title(position.player, option.swing),
        club=swing.club if swing else "touch",
        swing=swing.name if swing else "feel",
        trust=swing.trust if swing else "ok",
        bearing=bearing,
        sequences=int(outcome.score.size),
        mean=float(means.mean()),
        se=standard_error(means),
        worth=float(worths.mean()),
        diff=float((worths - best).mean()),
        diff_se=standard_error(worths - best),
        behind=behind,
        net_par_or_better=float(whole[total <= net_par].sum()),
        blow_up=float(whole[total >= net_par + 2].sum()),
        stableford=float(whole @ stableford(total, net_par, holed=holed)),
        penalty_strokes=float((first.added - 1).mean()) + later,
        picked_up=float(whole[-1]),
        finish=_finish(first),
        carries=_carries(position, bearing, first),
        leave=float(position.distance_left(first).mean()),
        lie=NAMES[int(lies[np.argmax(often)])],
        score_law={int(score): float(share) for score, share in zip(total, whole, strict=True) if share > TINY},
        audit=_audit(outcome),
    )
