"""The question and the answer: what is asked of ``compare``, and what it says."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import numpy as np

from simcaddie.base.errors import BadRequest
from simcaddie.base.limits import FEWEST_SEQUENCES, MOST_SEQUENCES
from simcaddie.course.hole import Hole
from simcaddie.decision.measure import Measure
from simcaddie.decision.objectives import OBJECTIVES, Objective
from simcaddie.decision.position import THENS, Position, Then, set_position
from simcaddie.player.swing import TRUST_ORDER, Player
from simcaddie.scoring.handicap import course_handicap, rounded, strokes_received
from simcaddie.weather.day import Day

__all__ = ["LEVEL", "Comparison", "Request", "asked_scene", "hole_strokes", "strokes_played", "trusted_first"]

LEVEL = OBJECTIVES["strokes"].level  # strokes: the model is no sharper than this, whatever the standard error
NO_RISKIER = 0.005  # of plays: a chance that is larger by less isn't


def trusted_first(trust: Sequence[str], risk: Sequence[float]) -> list[int]:
    """Return the order of level choices, given by worth: one trusted more stands before the best if no riskier.

    >>> trusted_first(["low", "high", "ok"], [0.10, 0.20, 0.08])
    [2, 0, 1]
    """
    level = range(len(trust))
    may = [i for i in level if i == 0 or risk[i] <= risk[0] + NO_RISKIER]
    return sorted(level, key=lambda i: (i not in may, TRUST_ORDER[trust[i]] if i in may else 0, i))


@dataclass(frozen=True, slots=True)
class Request:
    """What is asked: place, pin ("any" for all), clubs by name, aims (low, high, step) in degrees, and how hard to try.

    ``strokes`` are handicap strokes received on the hole (None: from the player's index and the hole's stroke index);
    ``played`` counts strokes already played (None: none from a tee, an estimate from a spot). ``sequences`` are
    played for every option that may be best, an eighth of that for the others. ``robust`` asks which club wins under
    other play and numbers as well. No ``day`` is a standard one.
    """

    tee: str | None = None
    spot: str | None = None
    pin: str | None = None
    clubs: tuple[str, ...] = ()
    aims: tuple[float, float, float] | None = None
    strokes: int | None = None
    played: int | None = None
    sequences: int = 4_000
    then: Then = "best"
    objective: str = "strokes"
    seed: int = 1
    all_aims: bool = False
    robust: bool = True
    cap: int = 12
    day: Day | None = None

    def check(self) -> None:
        """Refuse what makes no sense whatever the hole and player.

        Raises
        ------
        BadRequest
            Too few or too many sequences, an unknown way to play on or aim of play.
        """
        if self.sequences < FEWEST_SEQUENCES:
            raise BadRequest(f"at least {FEWEST_SEQUENCES} sequences are needed to say anything, not {self.sequences}")
        if self.sequences > MOST_SEQUENCES:
            raise BadRequest(f"at most {MOST_SEQUENCES} sequences, not {self.sequences}")
        if self.then not in THENS:
            raise BadRequest(f"strokes that follow are played {', '.join(THENS)}, not '{self.then}'")
        if self.objective not in OBJECTIVES:
            raise BadRequest(f"an aim of play is one of {', '.join(OBJECTIVES)}, not '{self.objective}'")


@dataclass(frozen=True, slots=True)
class Comparison:
    """The answer: options best first, level ones ordered by the player's trust.

    ``fewest`` is the lowest mean score of any option, whatever the aim of play; ``also`` says which club wins
    otherwise: with "sound" and "usual" play to follow, and with range numbers "as they are".
    """

    position: Position
    request: Request
    strokes_received: int
    played: int
    net_par: int
    options: tuple[Measure, ...]
    fewest: float
    robustness: Mapping[str, str] = field(default_factory=dict)

    @property
    def objective(self) -> Objective:
        """The aim of play that ranks the options."""
        return OBJECTIVES[self.request.objective]

    @property
    def best(self) -> Measure:
        """The option to play."""
        return self.options[0]

    def is_level(self, option: Measure) -> bool:
        """Tell whether an option is as good as the best, as far as the model can see."""
        return option.worth - min(o.worth for o in self.options) <= self.objective.level

    def on_frontier(self, option: Measure) -> bool:
        """Tell whether no other option beats this one on both mean strokes and the chance of a blow-up."""
        return not any(
            o.mean <= option.mean
            and o.blow_up <= option.blow_up
            and (o.mean, o.blow_up) != (option.mean, option.blow_up)
            for o in self.options
        )


def asked_scene(hole: Hole, player: Player, request: Request, played: int, net_par: int) -> Position:
    """Return the scene of a question on a hole: its place, pin, day, play to follow and aim of play.

    Raises
    ------
    BadRequest
        As ``set_position`` does.
    """
    objective = OBJECTIVES[request.objective]
    aim = None if objective.by_strokes else lambda total: objective.worth(total + played, net_par)
    return set_position(
        hole,
        player,
        tee=request.tee,
        spot=request.spot,
        pin=request.pin,
        then=request.then,
        aim=aim,
        played=played,
        cap=request.cap,
        day=request.day,
        seed=request.seed,
    )


def hole_strokes(hole: Hole, player: Player) -> int:
    """Return handicap strokes on a hole where no course is given: slope 113, rating = par, full allowance.

    0 where the player has no index or the hole no stroke index.
    """
    if player.handicap_index is None or hole.stroke_index is None:
        return 0
    whole = rounded(course_handicap(player.handicap_index, 113, hole.par, hole.par))
    return strokes_received(whole, hole.stroke_index)


def strokes_played(hole: Hole, player: Player, request: Request) -> int:
    """Return strokes already played: as told, else from a spot as many average longest shots as it is from the tee."""
    if request.played is not None:
        return request.played
    if request.spot is None:
        return 0
    place, tee = hole.place(None, request.spot).at, next(iter(hole.tees.values()))
    away = float(np.hypot(place[0] - tee[0], place[1] - tee[1]))
    longest = max(swing.total for swing in player.swings)
    return max(1, int(np.ceil(away / longest - 0.1)))
