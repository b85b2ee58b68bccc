"""What an option came to: from thousands of sequences to the numbers a coach reads."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from simcaddie.ground.distances import yardages
from simcaddie.play.records import Event, Rest
from simcaddie.scoring.points import stableford
from simcaddie.simulate import Outcome
from simcaddie.strategy.options import Option, swing_title
from simcaddie.strategy.scene import Scene
from simcaddie.surfaces import NAMES

__all__ = ["Measure", "finish_names", "measure", "pair_means", "standard_error"]

_EVENT_FINISH = {
    Event.LOST: "lost",
    Event.HOLED: "holed",
    Event.UNPLAYABLE: "unplayable",
}


@dataclass(frozen=True, slots=True)
class Measure:
    """One option, measured over n sequences; scores count strokes already played.

    ``worth`` is the mean of what the aim of play makes small (the strokes themselves, as a rule), compared through
    the paired difference ``diff`` to the best option; ``behind`` is the simultaneous interval for how far it is
    behind the best of the others, None where it was screened out; ``leave`` is the mean yards to the pin after the
    first ball, ``lie`` the commonest lie; ``finish`` the share of first balls by kind; ``carries`` the share that
    carry each hazard on the line.
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


def _finish(outcome: Outcome) -> dict[str, float]:
    """Return the share of first balls by the ground they finished on."""
    names = finish_names(outcome.first)
    kinds, counts = np.unique(names, return_counts=True)
    return {str(kind): float(count) / names.size for kind, count in zip(kinds, counts, strict=True)}


def _carries(scene: Scene, bearing: float, outcome: Outcome) -> dict[str, float]:
    """Return, per hazard that the aim line crosses within reach, the share of first balls that land beyond it."""
    first = outcome.first
    x, y = scene.place.at
    along = (first.landing_x - x) * np.sin(bearing) + (first.landing_y - y) * np.cos(bearing)
    reach = float(np.quantile(along, 0.99)) + 40.0
    found: dict[str, float] = {}
    for hazard in yardages(scene.hole, scene.place.at, bearing).hazards:
        if hazard.carry is not None and hazard.reach is not None and hazard.reach < reach:
            found[f"{hazard.area.title} ({hazard.carry:.0f})"] = float(np.mean(along > hazard.carry))
    return found


def measure(
    scene: Scene,
    option: Option,
    outcome: Outcome,
    pairs: NDArray[np.float64],
    best: NDArray[np.float64],
    behind: tuple[float, float] | None,
    *,
    played: int,
    net_par: int,
) -> Measure:
    """Return the measure of ``option``; ``pairs`` and ``best`` are pair means of worth, its own and the best one's."""
    swings = scene.player.swings
    swing = swings[option.swing] if option.swing < len(swings) else None
    bearing = float(scene.pin_line + np.radians(option.aim))
    total = outcome.score.astype(np.int64) + played
    apart = pairs - best[: pairs.size]
    values, counts = np.unique(total, return_counts=True)
    lies, often = np.unique(outcome.first.surface, return_counts=True)
    return Measure(
        option=option,
        title=swing_title(scene.player, option.swing),
        club=swing.club if swing else "touch",
        swing=swing.name if swing else "feel",
        trust=swing.trust if swing else "ok",
        bearing=bearing,
        sequences=int(total.size),
        mean=float(total.mean()),
        se=standard_error(pair_means(total)),
        worth=float(best.mean() + apart.mean()),
        diff=float(apart.mean()),
        diff_se=standard_error(apart),
        behind=behind,
        net_par_or_better=float(np.mean(total <= net_par)),
        blow_up=float(np.mean(total >= net_par + 2)),
        stableford=float(stableford(total, net_par, holed=~outcome.picked_up).mean()),
        penalty_strokes=float(outcome.penalties.mean()),
        picked_up=float(outcome.picked_up.mean()),
        finish=_finish(outcome),
        carries=_carries(scene, bearing, outcome),
        leave=float(scene.distance_left(outcome.first).mean()),
        lie=NAMES[int(lies[np.argmax(often)])],
        score_law={int(v): float(c) / total.size for v, c in zip(values, counts, strict=True)},
    )
