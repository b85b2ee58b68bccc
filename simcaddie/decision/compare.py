"""Compare first strokes from one place: which club, which line, how clear.

1. Screen: every swing along every aim by look-ahead, one stroke of the kernel and then what the policy that plays on
   comes to from there; about each swing's best aims to a degree (``aims``).
2. Answer: each swing's best aim, by first balls that had no part in the screening, so that the figures shown are not
   the lucky ones that it picked. All options share their random numbers: differences are paired. Options that may be
   best get simultaneous intervals for how far each is behind the best of the others.
3. Audit: those options are played to the bottom of the hole as well, luck taken out; the rest an eighth as often.
4. Ask again with everyday play to follow and with range numbers taken as they are.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.parallel import each
from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.course.hole import Hole
from simcaddie.decision.best_aims import best_lines, fan
from simcaddie.decision.intervals import behind_best
from simcaddie.decision.measure import Measure, measure
from simcaddie.decision.objectives import OBJECTIVES
from simcaddie.decision.options import (
    DEFAULT_AIMS,
    Option,
    aim_grid,
    known_aims,
    named_swings,
    plain_name,
    scene_turn,
    swing_title,
    swings_to_compare,
)
from simcaddie.decision.position import Position
from simcaddie.decision.request import (
    LEVEL,
    Comparison,
    Request,
    asked_scene,
    hole_strokes,
    strokes_played,
    trusted_first,
)
from simcaddie.player.swing import Player, RangeToCourse
from simcaddie.simulate import Outcome

__all__ = ["LEVEL", "compare", "pick", "pick_two", "play_options"]

_ALL_AIMS_SETS = 8
OTHERS = 8  # options that can't be best are played this many times less
FEWEST = 100  # sequences
_AGAIN_CLUBS, _AGAIN_SETS = 4, 16


def play_options(
    position: Position, options: Iterable[Option], seed: int, purpose: int, n: int, *, luck: bool = False
) -> dict[Option, Outcome]:
    """Play ``n`` sequences for each option, all with the same random numbers; ``luck`` as in ``Scene.play``."""
    key, wanted = kernel_key(seed, purpose), list(options)
    outcomes = each(lambda o: position.play(o.swing, o.aim, key, n, luck=luck), wanted)
    return dict(zip(wanted, outcomes, strict=True))


def _laws(position: Position, options: Sequence[Option]) -> NDArray[np.float64]:
    """Return the score laws of options by set of first balls, float64[option, set, cap + 1]."""
    return position.pmfs([o.swing for o in options], [o.aim for o in options], purpose=Purpose.ANSWER)


def _screen(position: Position, request: Request, swings: Sequence[int]) -> dict[Option, float]:
    """Return each swing's best aim, to a degree where no aims were asked for, with its worth by look-ahead."""
    if request.all_aims:
        options = [Option(swing, float(aim)) for swing in swings for aim in aim_grid(position, request.aims)]
        worths = position.worths([o.swing for o in options], [o.aim for o in options], _ALL_AIMS_SETS)
        return dict(zip(options, worths.tolist(), strict=True))
    given = request.aims is not None
    aims = [float(aim) for aim in aim_grid(position, request.aims)] if given else _whole_fan(position)
    lines = best_lines(
        lambda s, a, sets: position.worths(s, a, sets, Purpose.LOOK), swings, aims, 0.0 if given else 1.0
    )
    return {Option(line.swing, line.aim): line.worth for line in lines.values()}


def _whole_fan(position: Position) -> list[float]:
    """Return the aims to try: about the pin line, the line to the landing area, and best play's own."""
    return fan([0.0, scene_turn(position), position.own_aim])


def _ordered(measures: Iterable[Measure], level: float) -> tuple[Measure, ...]:
    """Return options by worth; those level with the best by trust first, where they risk no more than it."""
    by_worth = sorted(measures, key=lambda m: m.worth)
    near = [m for m in by_worth if m.worth - by_worth[0].worth <= level]
    order = trusted_first([m.trust for m in near], [m.blow_up for m in near])
    return (*(near[i] for i in order), *by_worth[len(near) :])


def _measured(
    position: Position, request: Request, seen: dict[Option, float], played: int, net_par: int
) -> list[Measure]:
    """Measure the options: those that may be best with intervals and an audit."""
    level, options = OBJECTIVES[request.objective].level, list(seen)
    pmfs = _laws(position, options)
    worths = pmfs @ position.worth  # [option, set]
    means = worths.mean(axis=1)
    likely = [i for i, mean in enumerate(means) if mean <= means.min() + 2.0 * level]
    few = max(request.sequences // OTHERS, FEWEST)
    outcomes = play_options(
        position, [options[i] for i in likely], request.seed, Purpose.AUDIT, request.sequences, luck=True
    )
    outcomes |= play_options(position, [o for o in options if o not in outcomes], request.seed, Purpose.AUDIT, few)
    behind = dict(zip(likely, behind_best(worths[likely]), strict=True))
    best = worths[np.argmin(means)]

    def make(i: int) -> Measure:
        interval = (float(behind[i][0]), float(behind[i][1])) if i in behind else None
        return measure(
            position, options[i], pmfs[i], outcomes[options[i]], best, interval, played=played, net_par=net_par
        )

    return each(make, range(len(options)))


def _winner(position: Position, options: Sequence[Option]) -> str:
    """Return the title of the option with the lowest mean worth."""
    worths = position.worths([o.swing for o in options], [o.aim for o in options], _AGAIN_SETS, Purpose.ANSWER)
    return swing_title(position.player, options[int(np.argmin(worths))].swing)


def _also(position: Position, options: Sequence[Measure]) -> dict[str, str]:
    """Return which club wins with everyday play to follow, and with range numbers taken as they are."""
    chosen = [m.option for m in options[:_AGAIN_CLUBS]]
    swings = position.player.swings
    full = [m.option for m in options if m.option.swing < len(swings)]
    longest = max(full, key=lambda o: swings[o.swing].total, default=chosen[0])
    if longest not in chosen:
        chosen.append(longest)
    plain = replace(position.player, range_to_course=RangeToCourse(1.0, 1.0))
    return {
        "sound": _winner(position.playing("sound"), chosen),
        "usual": _winner(position.playing("usual"), chosen),
        "as they are": _winner(position.with_player(plain), chosen),
    }


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
    named_swings(player, request.clubs)  # what can't be is refused before the long search
    known_aims(request.aims or DEFAULT_AIMS)
    objective = OBJECTIVES[request.objective]
    received = request.strokes if request.strokes is not None else hole_strokes(hole, player)
    net_par = hole.par + received
    played = strokes_played(hole, player, request)
    position = asked_scene(hole, player, request, played, net_par)
    seen = _screen(position, request, swings_to_compare(position, request.clubs))
    measures = _measured(position, request, seen, played, net_par)
    options = _ordered(measures, objective.level)
    robustness = _also(position, options) if request.robust else {}
    fewest = min(m.mean for m in options)
    return Comparison(position, request, received, played, net_par, options, fewest, robustness)


# ─── Two rows of an answer by name, for questions about a pair of options ───────────────────────────────────────────


def pick(answer: Comparison, name: str) -> Measure:
    """Return the row of a club or swing by its best aim.

    A title as the table shows it means that swing; the name of a club with several swings means the best of them.

    Raises
    ------
    BadRequest
        A name that the player's bag doesn't have, or that isn't among the options compared.
    """
    found = [m for m in answer.options if plain_name(m.title) == plain_name(name)]
    if not found:
        numbers = named_swings(answer.position.player, [name])
        found = [m for m in answer.options if m.option.swing in numbers]
    if not found:
        titles = ", ".join(dict.fromkeys(m.title for m in answer.options))
        raise BadRequest(f"'{name}' is not among the choices compared here: {titles}")
    return min(found, key=lambda m: m.worth)


def pick_two(answer: Comparison, a: str, b: str) -> tuple[Measure, Measure]:
    """Return two different rows by name.

    Raises
    ------
    BadRequest
        As ``pick``, and where both names mean the same row.
    """
    one, other = pick(answer, a), pick(answer, b)
    if one is other:
        raise BadRequest(f"'{a}' and '{b}' are the same choice: name two different ones")
    return one, other
