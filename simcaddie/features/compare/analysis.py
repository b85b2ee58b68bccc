"""The same question on several days, to see where the choice flips."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import Final, Literal

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.errors import BadRequest
from simcaddie.base.parallel import each
from simcaddie.base.streams import generator
from simcaddie.course.hole import Hole
from simcaddie.decision.compare import compare
from simcaddie.decision.measure import Measure, standard_error
from simcaddie.decision.options import swing_title
from simcaddie.decision.perturbed import on_patterns
from simcaddie.decision.position import Position
from simcaddie.decision.request import Comparison, Request
from simcaddie.player.posterior import draw_player, posterior_of
from simcaddie.player.swing import Player, Swing
from simcaddie.weather.day import Day

__all__ = [
    "MOST",
    "BestBallCost",
    "Doubt",
    "OnDay",
    "ValueOfInformation",
    "best_ball_cost",
    "compare_days",
    "days_words",
    "doubt",
    "doubtful",
    "redrawn_worths",
    "telling",
]


@dataclass(frozen=True, slots=True)
class OnDay:
    """The answer on one day; ``usual`` is what the first day's choice does on it, None where it wasn't asked about."""

    name: str
    answer: Comparison
    usual: Measure | None

    @property
    def costs(self) -> float | None:
        """What the first day's choice of club costs on this day, in the objective's units."""
        return None if self.usual is None else self.usual.worth - min(m.worth for m in self.answer.options)

    @property
    def flips(self) -> bool:
        """Whether the day asks for another club: the first day's is no longer level with the best."""
        return self.costs is not None and self.costs > self.answer.objective.level


def compare_days(hole: Hole, player: Player, request: Request, days: Sequence[tuple[str, Day]]) -> tuple[OnDay, ...]:
    """Return the answers to one question on several days, in their order; the first is what others are held against.

    Raises
    ------
    BadRequest
        As ``compare`` does.
    """
    found: list[OnDay] = []
    for name, day in days:
        answer = compare(hole, player, replace(request, day=day, robust=False))
        title = found[0].answer.best.title if found else answer.best.title
        usual = next((m for m in answer.options if m.title == title), None)
        found.append(OnDay(name, answer, usual))
    return tuple(found)


def days_words(found: Sequence[OnDay]) -> str:
    """Say where the choice flips."""
    first, *others = found
    flips = [one for one in others if one.flips]
    if not flips:
        return f"The {first.answer.best.title} is the choice, or level with it, on every one of these days."
    parts = [f"on {one.name} to the {one.answer.best.title} (the other costs {one.costs:.2f})" for one in flips]
    return f"From the {first.answer.best.title} of {first.name} the choice flips {'; '.join(parts)}."


# ─── Choosing by the best ball: what ``usual`` play costs against ``sound`` play, the stroke asked about included ───
#
# Both first strokes are looked ahead from with the same random numbers, each with its own play to follow
# (``model/heuristics.py`` tells what they do).


@dataclass(frozen=True, slots=True)
class BestBallCost:
    """Strokes that choosing every club by its best ball costs from here, its standard error, and the first clubs."""

    strokes: float
    se: float
    usual: str
    sound: str


def best_ball_cost(position: Position) -> BestBallCost:
    """Return what playing every stroke ``usual`` rather than ``sound`` costs, on average over the pins.

    Clubs named are those to the first pin.
    """
    (usual, a), (sound, b) = (_played(position, "usual"), _played(position, "sound"))
    return BestBallCost(float((a - b).mean()), standard_error(a - b), usual, sound)


def _played(position: Position, then: Literal["sound", "usual"]) -> tuple[str, NDArray[np.float64]]:
    """Return the first club to the first pin and the mean strokes by set of first balls, every stroke by the policy."""
    titles, strokes, here = [], [], position.playing(then)
    for pin, solution, ahead in zip(here.pins, here.solutions, here.aheads, strict=True):
        start = solution.problem.states.start
        swing = int(solution.policy.swing[start])
        titles.append(swing_title(position.player, swing))
        line = math.atan2(pin[0] - here.place.at[0], pin[1] - here.place.at[1])
        strokes.append(ahead.means(here.start, swing, line + float(solution.policy.bearing[start]))[0])
    return titles[0], np.mean(strokes, axis=0)


# ─── Doubt about the player carried into the choice: how often each option is best, what more balls would be worth ───
#
# The player is redrawn from what is known of every swing (``player/posterior.py``), the same redraw for all options,
# and each option valued anew by one look-ahead with the mean player's play to follow. With v_o the worth of option o in
# a redraw, less being better, and f the first line of the table:
#
#     P(o is best) = P(v_o = min),    loss of following the table = E[v_f] − E[min over o of v_o]
#
# The loss is the expected value of perfect information; that of one swing s alone leaves the others at their means,
#
#     value(s) = min over o of E[v_o] − E[ min over o of (v_o where o is played with s, E[v_o] elsewhere) ],
#
# which needs no redraws of its own, since swings are drawn independently (H. Raiffa and R. Schlaifer, Applied
# Statistical Decision Theory, 1961). n more balls tell part of it: with what is known worth κ balls,
# v_o goes only √(n / (n + κ)) of its way from its mean (H. Jalal and F. Alarid-Escudero, A Gaussian approximation
# approach for value of information analysis, Medical Decision Making 38, 2018).

MOST: Final = 10_000  # redraws
_OPTIONS: Final = 8  # the head of the table: others cost too much to matter
_SETS: Final = 8  # of first balls
_STEP, _FAR = 5, 100  # balls: told in fives, up to a long session
_PART: Final = 0.5  # of what a swing's truth is worth: what the balls named should tell

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class ValueOfInformation:
    """What knowing one swing better is worth: ``value`` its very truth, ``told`` what ``balls`` more of it tell.

    Both in the units of the aim of play.
    """

    title: str
    value: float
    balls: int
    told: float


@dataclass(frozen=True, slots=True)
class Doubt:
    """The answer for ``options``, in the table's order.

    ``best`` is the share of redraws in which each is best, ``worth`` its mean worth over them; ``loss`` what following
    the table costs against knowing the player, with its standard error over the redraws. ``swings`` stand most worth
    knowing first.
    """

    redraws: int
    options: tuple[Measure, ...]
    best: tuple[float, ...]
    worth: tuple[float, ...]
    loss: float
    loss_se: float
    swings: tuple[ValueOfInformation, ...]


def doubtful(comparison: Comparison) -> tuple[Measure, ...]:
    """Return the options to doubt: the head of the table, each swing on its best line."""
    first: dict[int, Measure] = {}
    for m in comparison.options:
        first.setdefault(m.option.swing, m)
    return tuple(first.values())[:_OPTIONS]


def redrawn_worths(comparison: Comparison, options: Sequence[Measure], redraws: int) -> Floats:
    """Return the worth of each option for each redraw of the player, float64[redraw, option], less being better."""
    position = comparison.position

    def worths(rng: np.random.Generator) -> Floats:
        one = on_patterns(position, draw_player(position.player, rng))
        return one.worths([m.option.swing for m in options], [m.option.aim for m in options], _SETS)

    return np.array(each(worths, generator(comparison.request.seed).spawn(redraws)))


def _known(swing: Swing) -> float:
    """Return κ: the most balls that any number of the swing is worth: rather too many than too few."""
    belief = posterior_of(swing)
    return max(*belief.worth, *belief.own, sum(belief.strikes))


def _gain(worths: Floats, own: NDArray[np.bool_], part: float) -> float:
    """Return what it is worth to know the options ``own`` a ``part`` of the way from their means."""
    mean = worths.mean(axis=0)
    told = mean + np.where(own, part * (worths - mean), 0.0)
    return max(0.0, float(mean.min() - told.min(axis=1).mean()))


def telling(swing: Swing, worths: Floats, own: NDArray[np.bool_]) -> ValueOfInformation:
    """Return what more balls with a swing are worth, ``own`` marking the options that are played with it.

    The balls named are the fewest, in fives, that tell half of what its truth is worth, at most 100.
    """
    value, known, balls, told = _gain(worths, own, 1.0), _known(swing), 0, 0.0
    while balls < _FAR and told < _PART * value:
        balls += _STEP
        told = _gain(worths, own, float(np.sqrt(balls / (balls + known))))
    return ValueOfInformation(swing.title, value, balls, told)


def doubt(comparison: Comparison, redraws: int) -> Doubt:
    """Return how far doubt about the player goes into the choice. Same seed, same answer, whatever the threads.

    Raises
    ------
    BadRequest
        Fewer than 2 redraws, or more than 10,000.
    """
    if not 2 <= redraws <= MOST:
        raise BadRequest(f"a player is redrawn from 2 to {MOST} times, not {redraws}")
    options, swings = doubtful(comparison), comparison.position.player.swings
    worths = redrawn_worths(comparison, options, redraws)
    least = worths.min(axis=1)
    lost = worths[:, 0] - least
    best = np.bincount(worths.argmin(axis=1), minlength=len(options)) / redraws
    number = np.array([m.option.swing for m in options])
    tellings = [telling(swings[i], worths, number == i) for i in number if i < len(swings)]
    return Doubt(
        redraws,
        options,
        tuple(float(share) for share in best),
        tuple(float(mean) for mean in worths.mean(axis=0)),
        float(lost.mean()),
        float(lost.std(ddof=1) / np.sqrt(redraws)),
        tuple(sorted(tellings, key=lambda t: -t.value)),
    )
