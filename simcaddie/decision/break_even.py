"""Where two options come level as one thing changes by degrees, everything else as it is.

1. The gap between the options, as a function of the changed thing, comes from look-aheads with nodes common to all
   (no noise between evaluations) and with the answer's own values for what follows: a thousandth of a second each.
   The change nearest to how things are now that closes the gap is bracketed by steps outward, then found by Brent's
   method.
2. There the question is asked anew: the hole solved again with the thing changed, so that the strokes that follow
   know of it too. What the new values move the gap by is added to the look-aheads of 1, and the search repeated
   until they agree.
3. The re-run: both options played out with that solution, 60,000 sequences with the same random numbers. Their
   difference has to be zero within three standard errors and a fifth of what counts as level.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from typing import Any, Final, Literal

import numpy as np
import shapely

from simcaddie.base.streams import Purpose
from simcaddie.base.units import told
from simcaddie.course.hole import Hole
from simcaddie.decision.compare import pick_two, play_options
from simcaddie.decision.measure import Measure, pair_means, standard_error
from simcaddie.decision.perturbed import (
    dearest_area,
    moved,
    on_ground,
    on_patterns,
    with_mishits,
    with_spread,
    with_trust,
)
from simcaddie.decision.position import Position
from simcaddie.decision.request import Comparison, asked_scene
from simcaddie.player.pattern import TRUST_SPREAD, course_pattern
from simcaddie.player.swing import Player, Trust

__all__ = [
    "HAZARD",
    "MISHITS",
    "SPREAD",
    "SURE_SE",
    "THINGS",
    "TRUST",
    "Kind",
    "Pair",
    "SwitchPoint",
    "Thing",
    "leads",
    "rerun_words",
    "search",
    "switch_points",
    "switch_words",
    "when_data",
    "worth_words",
]

Kind = Literal["mishits", "spread", "trust", "hazard"]

_SETS: Final = 16  # of first balls
_ROUNDS: Final = 3
SURE_SE: Final = 3.0


TRUST: Final[tuple[Trust, ...]] = ("low", "ok", "high")


def leads(gap: float, level: float, mine: str, theirs: str) -> bool:
    """Tell whether an option stands before another: it is better, or level and trusted more.

    ``gap`` is its mean worth less the other's; ``mine`` and ``theirs`` are the trust in each.
    """
    ranks = [list(TRUST).index(trust) for trust in (mine, theirs)]  # type: ignore[arg-type]
    if abs(gap) <= level and ranks[0] != ranks[1]:
        return ranks[0] > ranks[1]
    return gap < 0.0


@dataclass(frozen=True, slots=True)
class SwitchPoint:
    """Where one thing would have to be for ``b`` to be as good as ``a``; ``title`` names the thing.

    ``now`` and ``at`` are in the thing's own measure: mishits, their share on the course from this lie; spread, the
    sd to the side of solid strikes on the course, yards; trust, its name (the one from which the other option stands
    first); hazard, yards moved along b's line. ``at`` is None where no such point lies between ``low`` and ``high``.
    ``gap`` is the mean worth of b less that of a (strokes, as a rule) as things are, ``nearest`` the smallest one in
    that range. ``rerun`` and ``rerun_se`` are what the re-run found at the point, ``agrees`` whether that bears it
    out.
    """

    kind: Kind
    title: str
    a: str
    b: str
    now: float | str
    at: float | str | None
    low: float | None
    high: float | None
    gap: float
    nearest: float
    rerun: float | None = None
    rerun_se: float | None = None
    agrees: bool | None = None


@dataclass(frozen=True, slots=True)
class Pair:
    """Two options of an answer; ``sequences`` are played in a re-run."""

    answer: Comparison
    a: Measure
    b: Measure
    sequences: int

    def gap(self, position: Position) -> float:
        """Return the worth of b less that of a, by look-ahead."""
        swings, aims = zip(*((m.option.swing, m.option.aim) for m in (self.b, self.a)), strict=True)
        mine, theirs = position.worths(swings, aims, _SETS)
        return float(mine - theirs)

    def anew(self, hole: Hole, player: Player) -> Position:
        """Return the scene of the answer's question with another hole or player, solved again."""
        return asked_scene(hole, player, self.answer.request, self.answer.played, self.answer.net_par)

    def rerun(self, position: Position) -> tuple[float, float]:
        """Return b less a and its standard error from whole sequences, paired."""
        answer, options = self.answer, [self.b.option, self.a.option]
        played = play_options(position, options, answer.request.seed, Purpose.RERUN, self.sequences)
        total = [np.asarray(played[o].score, np.float64) + answer.played for o in options]
        mine, theirs = (pair_means(answer.objective.worth(t, answer.net_par)) for t in total)
        return float((mine - theirs).mean()), standard_error(mine - theirs)

    def point(self, kind: Kind, title: str, now: float | str, gap: float, nearest: float) -> SwitchPoint:
        """Return the record of a thing that doesn't turn the choice."""
        return SwitchPoint(kind, title, self.a.title, self.b.title, now, None, None, None, gap, nearest)

    def checked(
        self, point: SwitchPoint, at: float | str, position: Position, agrees: Callable[[float, float], bool]
    ) -> SwitchPoint:
        """Return a point with what the re-run says of it; ``agrees`` judges by difference and standard error."""
        rerun, se = self.rerun(position)
        return replace(point, at=at, rerun=rerun, rerun_se=se, agrees=agrees(rerun, se))


@dataclass(frozen=True, slots=True)
class Thing:
    """Something that may change by degrees: where it is now, its range, the scene at a value of it, quickly or anew.

    ``unit`` turns the value into what is told.
    """

    kind: Kind
    title: str
    now: float
    limits: tuple[float, float, float]
    quick: Callable[[float], Position]
    anew: Callable[[float], Position]
    unit: float = 1.0


def _steps(thing: Thing) -> list[tuple[float, float]]:
    """Return the steps outward from now, (from, to), nearest first."""
    low, high, step = thing.limits
    found: list[tuple[float, float]] = []
    for sign, end in ((1.0, high), (-1.0, low)):
        count = max(0, int(np.ceil(round(sign * (end - thing.now) / step, 6))))
        edges = [min(max(thing.now + sign * i * step, low), high) for i in range(count + 1)]
        found += pairwise(edges)
    return sorted(found, key=lambda ends: abs(ends[1] - thing.now))


def _nearest_root(thing: Thing, gap: Callable[[float], float]) -> tuple[float | None, float]:
    """Return the value nearest to now at which the gap closes (None: nowhere), and the smallest gap seen."""
    from scipy.optimize import brentq  # noqa: PLC0415 (a tenth of a second that few questions need)

    least = gap(thing.now)
    if least == 0.0:
        return thing.now, least
    roots: list[float] = []
    for start, end in _steps(thing):
        if roots and abs(start - thing.now) >= abs(roots[0] - thing.now):
            break
        if gap(start) * gap(end) <= 0.0:
            roots.append(float(brentq(gap, start, end, xtol=thing.limits[2] / 100.0)))
            roots.sort(key=lambda x: abs(x - thing.now))
        least = min(least, gap(end), key=abs)
    return (roots[0] if roots else None), least


def search(pair: Pair, thing: Thing) -> SwitchPoint:
    """Find the value of a thing nearest to now at which the options of a pair are level; see the module's head."""
    gap = cache(lambda x: pair.gap(thing.quick(x)))
    at, least = _nearest_root(thing, gap)
    low, high, _ = thing.limits
    point = pair.point(thing.kind, thing.title, thing.unit * thing.now, gap(thing.now), least)
    point = replace(point, low=thing.unit * low, high=thing.unit * high)
    if at is None:
        return point
    for _ in range(_ROUNDS):
        found, position = at, thing.anew(at)
        off = pair.gap(position)
        if abs(off) < pair.answer.objective.level / 10.0:
            break
        shift = off - gap(found)
        closer, _ = _nearest_root(thing, lambda x, shift=shift: gap(x) + shift)  # type: ignore[misc]
        if closer is None:
            break
        at = closer
    near = pair.answer.objective.level / 5.0
    return pair.checked(point, thing.unit * found, position, lambda rerun, se: abs(rerun) <= SURE_SE * se + near)


# ─── When would the other option be as good? How far one thing would have to change, everything else as it is ───────
#
# Each of these is changed alone, both options keeping their aims: how often club B is mishit, its spread to the side,
# the trust given to it, the place of the hazard that makes most of the difference. ``turning`` says how a point is
# found and checked.
#
# A changed club is changed for every stroke of the hole. A hazard moves along B's aim line; what it leaves behind is
# the ground that lay under it.

MISHITS: Final = (0.0, 0.6, 0.02)  # share of strokes on the course: lowest, highest, step
SPREAD: Final = (0.2, 3.0, 0.1)  # times what it is
HAZARD: Final = (-60.0, 60.0, 10.0)  # yd along the line
CLEARANCE: Final = 15.0  # yd that a moved hazard keeps from the place asked
SEQUENCES: Final = 60_000
_POINT_SETS: Final = 64  # of first balls: they tell which hazard matters


def _mishits(pair: Pair) -> SwitchPoint:
    position, number, lie = pair.answer.position, pair.b.option.swing, pair.answer.position.place.lie
    player = position.player
    pattern = course_pattern(player, player.swings[number], player.lies[lie])
    thing = Thing(
        "mishits",
        "mishits",
        pattern.fat.share + pattern.thin.share,
        MISHITS,
        lambda share: on_patterns(position, with_mishits(player, number, lie, share)),
        lambda share: pair.anew(position.hole, with_mishits(player, number, lie, share)),
    )
    return search(pair, thing)


def _spread(pair: Pair) -> SwitchPoint:
    position, number, lie = pair.answer.position, pair.b.option.swing, pair.answer.position.place.lie
    player = position.player
    thing = Thing(
        "spread",
        "side spread",
        1.0,
        SPREAD,
        lambda times: on_patterns(position, with_spread(player, number, times)),
        lambda times: pair.anew(position.hole, with_spread(player, number, times)),
        course_pattern(player, player.swings[number], player.lies[lie]).solid.side_sd,
    )
    return search(pair, thing)


def _leads(pair: Pair, gap: float, trust: Trust) -> bool:
    """Tell whether b stands before a where b is trusted so much."""
    return leads(gap, pair.answer.objective.level, trust, pair.a.trust)


def _trust(pair: Pair) -> SwitchPoint:
    """Try the other degrees of trust: there is no root to find among three."""
    position, number = pair.answer.position, pair.b.option.swing
    now = position.player.swings[number].trust
    changed = {trust: with_trust(position.player, number, trust) for trust in TRUST}
    gaps = {trust: pair.gap(on_patterns(position, player)) for trust, player in changed.items()}
    point = pair.point("trust", "trust", now, gaps[now], min(gaps.values(), key=abs))
    turns = [t for t in TRUST if _leads(pair, gaps[t], t) != _leads(pair, gaps[now], now)]
    if not turns:
        return point
    at = min(turns, key=lambda t: abs(TRUST.index(t) - TRUST.index(now)))
    return pair.checked(
        point,
        at,
        pair.anew(position.hole, changed[at]),
        lambda rerun, se: any(
            _leads(pair, rerun + by * SURE_SE * se, at) == _leads(pair, gaps[at], at) for by in (-1.0, 0.0, 1.0)
        ),
    )


def _hazard(pair: Pair) -> SwitchPoint:
    """Move the hazard that costs the option behind most more than the other."""
    position, gap = pair.answer.position, pair.gap(pair.answer.position)
    back, ahead = (pair.b, pair.a) if gap > 0.0 else (pair.a, pair.b)
    balls = [position.balls(m.option.swing, m.option.aim, _POINT_SETS) for m in (back, ahead)]
    number = dearest_area(position.hole, *balls)
    if number is None:
        return pair.point("hazard", "", 0.0, gap, gap)
    area = position.hole.areas[number]
    room = max(0.0, float(shapely.Point(position.place.at).distance(area.outline)) - CLEARANCE)
    low, high, step = HAZARD

    def hole_with(far: float) -> Hole:
        return moved(position.hole, number, pair.b.bearing, far)

    thing = Thing(
        "hazard",
        area.title,
        0.0,
        (max(low, -room), high, step),
        lambda far: on_ground(position, hole_with(far)),
        lambda far: pair.anew(hole_with(far), position.player),
    )
    return search(pair, thing)


_FIND: Final[dict[Kind, Callable[[Pair], SwitchPoint]]] = {
    "mishits": _mishits,
    "spread": _spread,
    "trust": _trust,
    "hazard": _hazard,
}
THINGS: Final[tuple[Kind, ...]] = tuple(_FIND)


def switch_points(
    answer: Comparison, a: str, b: str, *, things: Sequence[Kind] = THINGS, sequences: int = SEQUENCES
) -> tuple[SwitchPoint, ...]:
    """Return how far one thing at a time would have to change for ``b`` to be as good as ``a``.

    Parameters
    ----------
    answer : a comparison that holds both
    a, b : clubs or swings by name, each along its best aim; where ``b`` is ahead, the points are where it is no
        longer
    things : what may change
    sequences : played per option in a re-run

    Returns
    -------
    A point for each of ``things``; a touch shot has none but the hazard's

    Raises
    ------
    BadRequest
        A name that isn't among the options, or twice the same option.
    """
    pair = Pair(answer, *pick_two(answer, a, b), sequences)
    touch = pair.b.option.swing >= len(answer.position.player.swings)
    return tuple(_FIND[thing](pair) for thing in things if thing == "hazard" or not touch)


# ─── Switch points in words: how often, how wide, how far ───────────────────────────────────────────────────────────

_NUMBERS: Final = ("one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten", "eleven", "twelve")
_HALF_YARD: Final = 0.5


def _often(share: float) -> str:
    """Say a share as "one time in nine", "four times in ten"."""
    if share < 0.01:
        return "one time in a hundred"
    if share <= 0.29:
        every = round(1.0 / share)
        return f"one time in {_NUMBERS[every - 1] if every <= len(_NUMBERS) else every}"
    tenths = round(10 * share)
    return "half the time" if tenths == 5 else f"{_NUMBERS[tenths - 1]} times in ten"


def worth_words(comparison: Comparison, gap: float, digits: int = 2) -> str:
    """Say a difference of worth, without its sign, in the units of the aim of play: "0.12 strokes"."""
    objective = comparison.objective
    if objective.by_strokes or objective.name == "points":
        return f"{abs(gap):.{digits}f} {'strokes' if objective.by_strokes else 'points'}"
    return f"{100 * abs(gap):.{digits - 1}f} in a hundred"


def _whose(point: SwitchPoint) -> str:
    return f"the {point.b}'s" if point.gap >= 0.0 else "its"


def _mishits_words(point: SwitchPoint, now: float, at: float, keep: str, _: str) -> str:
    now_told = f"now {_often(now)}" if now > 0.0 else "now never"
    word = "less often" if at < now else "more often"
    than = f"{word} than {_often(at)}" if at > 0.0 else "never"
    it = f"the {point.b}" if point.gap >= 0.0 else "it"
    return f"{keep} until you would mishit {it} {than} ({now_told})."


def _spread_words(point: SwitchPoint, now: float, at: float, keep: str, units: str) -> str:
    shots = f"the middle two in three of {_whose(point)} solid shots"
    digits = 0 if told(at, units) != told(now, units) else 1
    spread, was = told(at, units, digits), told(now, units, digits)
    return f"{keep} until {shots} spread {spread} to either side (now {was})."


def _hazard_words(point: SwitchPoint, now: float, at: float, keep: str, units: str) -> str:
    far = at - now
    if abs(far) < _HALF_YARD:
        return f"{keep} only just: the {point.title} need hardly move."
    return f"{keep} until the {point.title} lies {told(abs(far), units)} {'farther' if far > 0 else 'nearer'}."


_FOUND: Final[dict[Kind, Callable[[SwitchPoint, float, float, str, str], str]]] = {
    "mishits": _mishits_words,
    "spread": _spread_words,
    "hazard": _hazard_words,
}


def _trust_words(comparison: Comparison, point: SwitchPoint) -> str:
    wider = round(100 * (TRUST_SPREAD["low"] - 1.0))
    if point.at is None:
        return (
            f"Trust doesn't turn it: little trust in the {point.b} widens its spread by {wider} %, much trust narrows "
            "nothing."
        )
    rerun = point.rerun if point.rerun is not None else point.nearest
    theirs = next(m.trust for m in comparison.options if m.title == point.a)
    first = point.b if leads(rerun, comparison.objective.level, str(point.at), theirs) else point.a
    if abs(rerun) <= comparison.objective.level:
        return f"With {point.at} trust in the {point.b} the two are level, and the {first} stands first."
    return f"With {point.at} trust in the {point.b}, play the {first}: better by {worth_words(comparison, rerun)}."


def _none(comparison: Comparison, point: SwitchPoint, first: str, other: str) -> str:
    """Say that no change within the range turns the choice."""
    units = comparison.position.hole.units
    still = f"the {other} stays at least {worth_words(comparison, point.nearest)} behind"
    if point.kind == "hazard" and not point.title:
        return f"No hazard costs the {other} more than the {first}: moving one wouldn't turn the choice."
    if point.low is None or point.high is None:
        return f"Keep the {first}: {still}."
    if point.kind == "mishits":
        most, it = _often(point.high), "it" if point.b == first else f"the {point.b}"
        return f"Keep the {first} however often you mishit {it} (never to {most}): {still}."
    if point.kind == "spread":
        its = "its" if point.b == first else f"the {point.b}'s"
        low, high = told(point.low, units), told(point.high, units)
        return f"Keep the {first} whatever {its} side spread, from {low} to {high}: {still}."
    nearer, farther = told(-point.low, units), told(point.high, units)
    return f"Keep the {first} wherever the {point.title} lies, {nearer} nearer to {farther} farther: {still}."


def switch_words(comparison: Comparison, point: SwitchPoint) -> str:
    """Say where one thing would turn the choice between two options, or that it can't."""
    if point.kind == "trust":
        text = _trust_words(comparison, point)
    else:
        first, other = (point.a, point.b) if point.gap >= 0.0 else (point.b, point.a)
        if point.at is None:
            text = _none(comparison, point, first, other)
        else:
            level = abs(point.gap) <= comparison.objective.level
            keep = f"The {first} stays ahead" if level else f"Keep the {first}"
            text = _FOUND[point.kind](point, float(point.now), float(point.at), keep, comparison.position.hole.units)
    return text if point.agrees is not False else f"{text} The re-run does not bear this out."


def rerun_words(point: SwitchPoint) -> str:
    """Say what the re-run at a point found; empty where there was none."""
    if point.rerun is None or point.rerun_se is None:
        return ""
    return f"Played again there they differ by {point.rerun:+.3f} ± {point.rerun_se:.3f}."


def when_data(comparison: Comparison, point: SwitchPoint) -> dict[str, Any]:
    """Return a switch point as plain data."""
    return {
        "thing": point.kind,
        "title": point.title,
        "now": point.now,
        "at": point.at,
        "range": None if point.low is None else [point.low, point.high],
        "gap": point.gap,
        "nearest_gap": point.nearest,
        "rerun": point.rerun,
        "rerun_se": point.rerun_se,
        "rerun_agrees": point.agrees,
        "sentence": switch_words(comparison, point),
    }
