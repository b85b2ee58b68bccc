"""Compare first strokes from one place: which club, which line, how clear.

1. Screen: every swing along every aim, a thousand sequences each. 2. Refine: per swing the best aims and their
neighbours to a degree, more sequences, other random numbers. 3. Play: each swing's best aim, many sequences, other
numbers again, so that the figures shown are not the lucky ones that
   the screening picked. All options of a step share their random numbers; differences are paired.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from simcaddie.errors import BadRequest
from simcaddie.golfer.player import Player
from simcaddie.ground.hole import Hole
from simcaddie.scoring.allowance import strokes_received
from simcaddie.scoring.handicap import course_handicap, rounded
from simcaddie.simulate import Outcome
from simcaddie.strategy.measure import Measure, measure, pair_means
from simcaddie.strategy.options import Option, aim_grid, swings_to_compare
from simcaddie.strategy.scene import Scene, Then, set_scene
from simcaddie.streams import kernel_key
from simcaddie.workers import each

__all__ = ["LEVEL", "Comparison", "Request", "compare", "hole_strokes"]

LEVEL = 0.05  # strokes: the model is no sharper than this, whatever the standard error
_TRUST_ORDER = {"high": 0, "ok": 1, "low": 2}
_SCREEN, _REFINE, _FINAL = 1, 2, 3  # purposes of the random numbers


@dataclass(frozen=True, slots=True)
class Request:
    """What is asked: place, pin ("any" for all), clubs by name, aims (low, high, step) in degrees, and how hard to try.

    ``strokes`` are handicap strokes received on the hole (None: from the player's index and the hole's stroke index);
    ``played`` counts strokes already played (None: none from a tee, an estimate from a spot).
    """

    tee: str | None = None
    spot: str | None = None
    pin: str | None = None
    clubs: tuple[str, ...] = ()
    aims: tuple[float, float, float] | None = None
    strokes: int | None = None
    played: int | None = None
    sequences: int = 40_000
    then: Then = "sound"
    seed: int = 1
    all_aims: bool = False
    cap: int = 12


@dataclass(frozen=True, slots=True)
class Comparison:
    """The answer: options best first, level ones ordered by the player's trust."""

    scene: Scene
    request: Request
    strokes_received: int
    played: int
    net_par: int
    options: tuple[Measure, ...]

    @property
    def best(self) -> Measure:
        """The option to play."""
        return self.options[0]

    def is_level(self, option: Measure) -> bool:
        """Tell whether an option is as good as the best, as far as the model can see."""
        return option.mean - min(o.mean for o in self.options) <= LEVEL


def hole_strokes(hole: Hole, player: Player) -> int:
    """Return handicap strokes on a hole where no course is given: slope 113, rating = par, full allowance.

    0 where the player has no index or the hole no stroke index.
    """
    if player.handicap_index is None or hole.stroke_index is None:
        return 0
    whole = rounded(course_handicap(player.handicap_index, 113, hole.par, hole.par))
    return strokes_received(whole, hole.stroke_index)


def _played(scene: Scene, request: Request) -> int:
    """Return strokes already played: as told, else from a spot as many average longest shots as it is from the tee."""
    if request.played is not None:
        return request.played
    if request.spot is None:
        return 0
    tee = next(iter(scene.hole.tees.values()))
    away = float(np.hypot(scene.place.at[0] - tee[0], scene.place.at[1] - tee[1]))
    longest = max(swing.total for swing in scene.player.swings)
    return max(1, int(np.ceil(away / longest - 0.1)))


def _play_all(scene: Scene, options: Iterable[Option], seed: int, purpose: int, n: int) -> dict[Option, Outcome]:
    key = kernel_key(seed, purpose)
    wanted = list(options)
    outcomes = each(lambda o: scene.play(o.swing, scene.pin_line + np.radians(o.aim), key, n), wanted)
    return dict(zip(wanted, outcomes, strict=True))


def _best_aims(outcomes: dict[Option, Outcome], keep: int) -> dict[int, list[Option]]:
    """Return, per swing, its ``keep`` best options by mean score."""
    by_swing: dict[int, list[Option]] = {}
    for option in sorted(outcomes, key=lambda o: (float(pair_means(outcomes[o].score).mean()), abs(o.aim))):
        by_swing.setdefault(option.swing, []).append(option)
    return {swing: found[:keep] for swing, found in by_swing.items()}


def _search(scene: Scene, request: Request, swings: Sequence[int]) -> list[Option]:
    """Return each swing's best aim, to a degree where no aims were asked for."""
    grid = aim_grid(scene, request.aims)
    coarse = [Option(swing, float(aim)) for swing in swings for aim in grid]
    if request.all_aims:
        return coarse
    screened = _best_aims(_play_all(scene, coarse, request.seed, _SCREEN, 800), 3)
    near: dict[Option, None] = {}
    for options in screened.values():
        for option in options:
            for step in (0.0,) if request.aims else (-1.0, 0.0, 1.0):
                near[Option(option.swing, option.aim + step)] = None
    refined = _best_aims(_play_all(scene, near, request.seed, _REFINE, 4_000), 1)
    return [options[0] for options in refined.values()]


def _ordered(measures: Iterable[Measure]) -> tuple[Measure, ...]:
    """Return options by mean, those level with the best by trust first."""
    by_mean = sorted(measures, key=lambda m: m.mean)
    level = [m for m in by_mean if m.mean - by_mean[0].mean <= LEVEL]
    rest = by_mean[len(level) :]
    return (*sorted(level, key=lambda m: (_TRUST_ORDER[m.trust], m.mean)), *rest)


def compare(hole: Hole, player: Player, request: Request | None = None) -> Comparison:
    """Rank first strokes by the mean score that they lead to.

    Raises
    ------
    BadRequest
        A place, pin, club or range of aims that doesn't fit the hole or player.
    NothingToPlay
        Where no swing can be used from the place.
    """
    request = request or Request()
    if request.sequences < 100:
        raise BadRequest(f"at least 100 sequences are needed to say anything, not {request.sequences}")
    scene = set_scene(
        hole, player, tee=request.tee, spot=request.spot, pin=request.pin, then=request.then, cap=request.cap
    )
    received = request.strokes if request.strokes is not None else hole_strokes(hole, player)
    played, net_par = _played(scene, request), hole.par + received
    options = _search(scene, request, swings_to_compare(scene, request.clubs))
    outcomes = _play_all(scene, options, request.seed, _FINAL, request.sequences)
    best = min(outcomes.values(), key=lambda outcome: float(outcome.score.mean()))
    measures = [measure(scene, option, outcome, best, played, net_par) for option, outcome in outcomes.items()]
    return Comparison(scene, request, received, played, net_par, _ordered(measures))
