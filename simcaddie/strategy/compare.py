"""Compare first strokes from one place: which club, which line, how clear.

1. Screen: every swing along every aim by look-ahead, one stroke of the kernel and then the value of the policy that
plays on;
   about each swing's best aim to a degree.
2. Play: each swing's best aim, whole sequences, so that the figures shown are not the lucky ones that the screening
picked. All
   options share their random numbers: differences are paired. Options that may be best are played in full, with
   simultaneous intervals for how far each is behind the best of the others; the rest an eighth as often.
3. Ask again, more cheaply, with everyday play to follow and with range numbers taken as they are.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from functools import partial

import numpy as np
from numpy.typing import NDArray

from simcaddie.golfer.player import TRUST_ORDER, Player, RangeToCourse
from simcaddie.ground.hole import Hole
from simcaddie.simulate import Outcome
from simcaddie.strategy.intervals import behind_best
from simcaddie.strategy.measure import Measure, measure, pair_means
from simcaddie.strategy.objectives import OBJECTIVES, Objective
from simcaddie.strategy.options import Option, aim_grid, swing_title, swings_to_compare
from simcaddie.strategy.request import LEVEL, Comparison, Request, asked_scene, hole_strokes, strokes_played
from simcaddie.strategy.scene import Scene
from simcaddie.streams import kernel_key
from simcaddie.workers import each

__all__ = ["LEVEL", "compare", "play_options"]

_FINAL, _AGAIN = 3, 4  # purposes of the random numbers
_SCREEN_NODES, _NEAR_NODES = 512, 2048
OTHERS = 8  # options that can't be best are played this many times less
_AGAIN_CLUBS, _AGAIN_SEQUENCES = 4, 20_000

Worth = Callable[[NDArray[np.int64]], NDArray[np.float64]]


def play_options(scene: Scene, options: Iterable[Option], seed: int, purpose: int, n: int) -> dict[Option, Outcome]:
    """Play ``n`` sequences for each option, all with the same random numbers."""
    key, wanted = kernel_key(seed, purpose), list(options)
    outcomes = each(lambda o: scene.play(o.swing, scene.pin_line + np.radians(o.aim), key, n), wanted)
    return dict(zip(wanted, outcomes, strict=True))


def _look(scene: Scene, options: Sequence[Option], nodes: int) -> dict[Option, float]:
    values = each(lambda o: scene.ahead(o.swing, o.aim, nodes), options)
    return dict(zip(options, values, strict=True))


def _screen(scene: Scene, request: Request, swings: Sequence[int]) -> dict[Option, float]:
    """Return each swing's best aim, to a degree where no aims were asked for, with its worth by look-ahead."""
    aims = aim_grid(scene, request.aims)
    coarse = [Option(swing, float(aim)) for swing in swings for aim in aims]
    seen = _look(scene, coarse, _SCREEN_NODES)
    if request.all_aims:
        return seen
    leaders: dict[int, list[Option]] = {}
    for option in sorted(seen, key=lambda o: (seen[o], abs(o.aim))):
        leaders.setdefault(option.swing, []).append(option)
    steps = (0.0,) if request.aims else (-1.0, 0.0, 1.0)
    near = {Option(o.swing, o.aim + step): None for found in leaders.values() for o in found[:2] for step in steps}
    closer = _look(scene, list(near), _NEAR_NODES)
    best: dict[int, Option] = {}
    for option in sorted(closer, key=lambda o: (closer[o], abs(o.aim))):
        best.setdefault(option.swing, option)
    return {option: closer[option] for option in best.values()}


def _ordered(measures: Iterable[Measure], level: float) -> tuple[Measure, ...]:
    """Return options by worth, those level with the best by trust first."""
    by_worth = sorted(measures, key=lambda m: m.worth)
    near = [m for m in by_worth if m.worth - by_worth[0].worth <= level]
    return (*sorted(near, key=lambda m: (TRUST_ORDER[m.trust], m.worth)), *by_worth[len(near) :])


def _measured(
    scene: Scene, request: Request, seen: dict[Option, float], worth: Worth, played: int, net_par: int
) -> list[Measure]:
    """Play the options out and measure them: those that may be best in full, with intervals, others an eighth."""
    level = OBJECTIVES[request.objective].level
    first = min(seen.values())
    likely = [o for o in seen if seen[o] <= first + 2.0 * level]
    others = [o for o in seen if o not in likely]
    few = max(request.sequences // OTHERS, 100)
    outcomes = play_options(scene, likely, request.seed, _FINAL, request.sequences)
    outcomes |= play_options(scene, others, request.seed, _FINAL, few)
    pairs = {o: pair_means(worth(outcome.score.astype(np.int64) + played)) for o, outcome in outcomes.items()}
    best = min(likely, key=lambda o: float(pairs[o].mean()))
    behind = dict(zip(likely, behind_best(np.array([pairs[o] for o in likely])), strict=True))
    make = partial(measure, scene, played=played, net_par=net_par)
    return [
        make(o, outcomes[o], pairs[o], pairs[best], (float(behind[o][0]), float(behind[o][1])) if o in behind else None)
        for o in seen
    ]


def _winner(scene: Scene, options: Sequence[Option], worth: Worth, played: int, seed: int) -> str:
    """Return the title of the option with the lowest mean worth."""
    outcomes = play_options(scene, options, seed, _AGAIN, _AGAIN_SEQUENCES)
    means = {o: float(worth(outcome.score.astype(np.int64) + played).mean()) for o, outcome in outcomes.items()}
    return swing_title(scene.player, min(means, key=lambda o: means[o]).swing)


def _also(scene: Scene, request: Request, options: Sequence[Measure], worth: Worth, played: int) -> dict[str, str]:
    """Return which club wins with everyday play to follow, and with range numbers taken as they are."""
    chosen = [m.option for m in options[:_AGAIN_CLUBS]]
    swings = scene.player.swings
    full = [m.option for m in options if m.option.swing < len(swings)]
    longest = max(full, key=lambda o: swings[o.swing].total, default=chosen[0])
    if longest not in chosen:
        chosen.append(longest)
    ask = partial(_winner, options=chosen, worth=worth, played=played, seed=request.seed)
    plain = replace(scene.player, range_to_course=RangeToCourse(1.0, 1.0))
    return {
        "sound": ask(scene.playing("sound")),
        "usual": ask(scene.playing("usual")),
        "as they are": ask(scene.with_player(plain)),
    }


def _worth(objective: Objective, net_par: int) -> Worth:
    return lambda total: objective.worth(np.asarray(total, np.float64), net_par)


def compare(hole: Hole, player: Player, request: Request | None = None) -> Comparison:
    """Rank first strokes by the score that they lead to, or by another aim of play.

    Raises
    ------
    BadRequest
        A place, pin, club or range of aims that doesn't fit the hole or player.
    NothingToPlay
        Where no swing can be used from the place.
    """
    request = request or Request()
    request.check()
    objective = OBJECTIVES[request.objective]
    received = request.strokes if request.strokes is not None else hole_strokes(hole, player)
    net_par = hole.par + received
    played = strokes_played(hole, player, request)
    scene = asked_scene(hole, player, request, played, net_par)
    worth = _worth(objective, net_par)
    seen = _screen(scene, request, swings_to_compare(scene, request.clubs))
    measures = _measured(scene, request, seen, worth, played, net_par)
    options = _ordered(measures, objective.level)
    also = _also(scene, request, options, worth, played) if request.robust else {}
    fewest = min(m.mean for m in options)
    return Comparison(scene, request, received, played, net_par, options, fewest, also)
