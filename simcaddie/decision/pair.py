"""Two options as a pupil is shown them: twenty balls of each, what makes the difference, one because-sentence.

Both are played with the same random numbers: the same luck.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.base.units import told
from simcaddie.decision.measure import Measure, ball_places, finish_names
from simcaddie.decision.position import Position
from simcaddie.decision.request import trusted_first
from simcaddie.decision.why import Explanation, Part, counts, finds_words
from simcaddie.model.arrays import Rest
from simcaddie.player.swing import TRUST_ORDER
from simcaddie.simulate import first_strokes_of_each

__all__ = [
    "LEAST_REASON",
    "TWENTY",
    "Ball",
    "Reason",
    "because_words",
    "first_of",
    "pair_title",
    "reasons",
    "twenty",
    "twenty_of_each",
    "wholes",
]

TWENTY: Final = 20
LEAST_REASON: Final = 0.015  # strokes: smaller ones are told together
MOST_REASONS: Final = 3

Floats = NDArray[np.float64]


def wholes(values: Sequence[float], total: int) -> list[int]:
    """Round ``values``, of either sign, to whole numbers that add up to ``total``, by largest remainders.

    The sum of ``values`` is within a half, or so, of ``total``.

    >>> wholes([3.4, 3.4, 3.2], 10), wholes([12.6, -7.3], 5)
    ([4, 3, 3], [12, -7])
    """
    floors = [math.floor(value) for value in values]
    order = sorted(range(len(values)), key=lambda i: (floors[i] - values[i], i))
    spare = total - sum(floors)
    for turn in range(abs(spare)):
        floors[(order if spare > 0 else order[::-1])[turn % len(values)]] += 1 if spare > 0 else -1
    return floors


@dataclass(frozen=True, slots=True)
class Ball:
    """One first ball: where it finished (yards; where it landed, for one that is played from elsewhere), and on what.

    ``finish`` is a surface kind, or "lost", "unplayable", "holed".
    """

    x: float
    y: float
    finish: str


def twenty(position: Position, swing: int, bearing: float, seed: int) -> tuple[Ball, ...]:
    """Return twenty first balls: every other one of the mirrored pairs, so that they are independent.

    The same luck for every swing along every ``bearing``, radians clockwise from +y.
    """
    first = position.first(swing, bearing, kernel_key(seed, Purpose.TWENTY), 2 * TWENTY)[0]
    (x, y), names = ball_places(first), finish_names(first)
    return tuple(Ball(float(x[i]), float(y[i]), str(names[i])) for i in range(0, 2 * TWENTY, 2))


def twenty_of_each(
    position: Position, swings: NDArray[np.int64], bearings: Floats, seed: int
) -> tuple[Floats, NDArray[np.str_]]:
    """Return the same for many options: places, float64[option, 20, 2], and what the balls finished on, str[...]."""
    solution, key = position.solutions[0], kernel_key(seed, Purpose.TWENTY)
    every = (solution.problem, solution.value, position.start, swings, bearings, key, 2 * TWENTY)
    first = Rest._make(column[::2] for column in first_strokes_of_each(*every))
    at = np.stack(ball_places(first), axis=-1)
    return at.reshape(-1, TWENTY, 2), finish_names(first).reshape(-1, TWENTY)


def first_of(measures: tuple[Measure, Measure], level: float) -> tuple[int, int]:
    """Return the places of the option to play and of the other: the lower mean, or a level one trusted as safe."""
    low, high = sorted((0, 1), key=lambda i: measures[i].mean)
    by_trust = trusted_first([measures[i].trust for i in (low, high)], [measures[i].blow_up for i in (low, high)])
    near = measures[high].mean - measures[low].mean <= level
    return (high, low) if near and by_trust[0] == 1 else (low, high)


def pair_title(one: str, other: str) -> str:
    """Ask which of two to play: "Driver or 5 wood?"."""
    return f"{one[:1].upper()}{one[1:]} or {other}?"


# ─── What makes the difference ──────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True, slots=True)
class Reason:
    """A part of the difference: its title, a few words of detail, strokes, and hundredths that add up when shown."""

    title: str
    detail: str
    strokes: float
    hundredths: int


def _place(explanation: Explanation) -> tuple[str, str]:
    """Name what lies in how well balls lie on like ground."""
    nearer, worth = explanation.nearer, explanation.by_place
    if abs(nearer) >= 1.0 and (worth < 0.0) == (nearer > 0.0):
        less = told(abs(nearer), explanation.units)
        return "distance left", f"{less} {'less' if nearer > 0 else 'more'}, like for like"
    return "where it lies", "on the same sort of ground"


def _in_short(part: Part) -> str:
    """Say how often both choices finish there: "3 in ten, not none"."""
    mine, theirs, words = counts(part)
    return f"{mine} in {words}, not {theirs}"


def reasons(explanation: Explanation) -> tuple[Reason, ...]:
    """Return what makes a difference, dearest first; the strokes add up to it, and so do the hundredths."""
    by_share = sorted(explanation.parts, key=lambda part: -abs(part.by_share))
    told = [part for part in by_share[:MOST_REASONS] if abs(part.by_share) >= LEAST_REASON]
    rows = [(part.finish.replace("_", " "), _in_short(part), part.by_share) for part in told]
    place = explanation.by_place
    rest = explanation.difference - place - sum(part.by_share for part in told)
    if abs(place) >= LEAST_REASON:
        rows.append((*_place(explanation), place))
    else:
        rest += place
    rows = [*sorted(rows, key=lambda row: -row[2]), ("all else", "", rest)]
    hundredths = wholes([100.0 * row[2] for row in rows], round(100.0 * explanation.difference))
    return tuple(Reason(*row, whole) for row, whole in zip(rows, hundredths, strict=True))


def _reason(explanation: Explanation, other: str) -> str:
    """Say what the dearest part of the difference is: where balls finish, or how far off they lie."""
    dearest = max(explanation.parts, key=lambda part: part.by_share)
    if dearest.by_share >= max(LEAST_REASON, explanation.by_place):
        gain = ""
        if explanation.nearer >= 1.0 and explanation.by_place <= -LEAST_REASON:
            gain = f", and its {told(explanation.nearer, explanation.units)} less to go don't make up for that"
        return f"because the {other} {finds_words(dearest)}{gain}"
    if explanation.nearer <= -1.0 and explanation.by_place >= LEAST_REASON:
        return f"because the {other} leaves {told(-explanation.nearer, explanation.units)} more, like for like"
    return f"because many small things add up against the {other}"


SMALL_NUMBERS: Final = ("two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")


def visits(strokes: float) -> str:
    """Say a difference in strokes as how often it costs one.

    >>> visits(0.18), visits(0.5), visits(0.03), visits(1.2)
    ('one stroke every five or six visits', 'one stroke every two visits', 'one stroke every 33 visits',
     '1.2 strokes a visit')
    """
    if strokes > 0.7:
        return f"{strokes:.1f} strokes a visit"
    times = 1.0 / strokes
    low, part = int(times), times % 1.0

    def said(number: int) -> str:
        return SMALL_NUMBERS[number - 2] if 2 <= number <= 10 else f"{number}"

    if times < 9.75 and low >= 2 and 0.25 < part < 0.75:
        return f"one stroke every {said(low)} or {said(low + 1)} visits"
    return f"one stroke every {said(max(2, round(times)))} visits"


def because_words(first: Measure, other: Measure, explanation: Explanation, level: float) -> str:
    """Say in one sentence which of two to play, and why; ``explanation`` tells why ``other`` costs more than ``first``.

    Differences up to ``level`` count as none.
    """
    if abs(explanation.difference) <= level:
        start = f"The {first.title} and the {other.title} score alike here ({first.mean:.2f} and {other.mean:.2f} "
        if first.trust == other.trust:
            return f"{start}strokes on average), so play the one that you would rather hit."
        if TRUST_ORDER[other.trust] < TRUST_ORDER[first.trust]:
            return f"{start}strokes on average); you trust the {other.title} more, but it is worse in score and risk."
        return f"{start}strokes on average), so play the {first.title}, because you trust it more."
    more = visits(round(other.mean, 2) - round(first.mean, 2))
    scores = f"{first.mean:.2f} strokes on average against {other.mean:.2f}, {more}"
    return f"Play the {first.title} here: {scores}, {_reason(explanation, other.title)}."
