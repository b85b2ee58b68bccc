"""Switch points in words: how often, how wide, how far."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, Final

from simcaddie.golfer.pattern import TRUST_SPREAD
from simcaddie.strategy.request import Comparison
from simcaddie.strategy.turning import Kind, SwitchPoint, leads

__all__ = ["rerun_words", "switch_words", "when_data", "worth_words"]

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


def _mishits(point: SwitchPoint, now: float, at: float, keep: str) -> str:
    now_told = f"now {_often(now)}" if now > 0.0 else "now never"
    word = "less often" if at < now else "more often"
    than = f"{word} than {_often(at)}" if at > 0.0 else "never"
    it = f"the {point.b}" if point.gap >= 0.0 else "it"
    return f"{keep} until you would mishit {it} {than} ({now_told})."


def _spread(point: SwitchPoint, now: float, at: float, keep: str) -> str:
    shots = f"the middle two in three of {_whose(point)} solid shots"
    digits = 0 if round(at) != round(now) else 1
    return f"{keep} until {shots} spread {at:.{digits}f} yd to either side (now {now:.{digits}f} yd)."


def _hazard(point: SwitchPoint, now: float, at: float, keep: str) -> str:
    far = at - now
    if abs(far) < _HALF_YARD:
        return f"{keep} only just: the {point.title} need hardly move."
    return f"{keep} until the {point.title} lies {abs(far):.0f} yd {'farther' if far > 0 else 'nearer'}."


_FOUND: Final[dict[Kind, Callable[[SwitchPoint, float, float, str], str]]] = {
    "mishits": _mishits,
    "spread": _spread,
    "hazard": _hazard,
}


def _trust(comparison: Comparison, point: SwitchPoint) -> str:
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
    still = f"the {other} stays at least {worth_words(comparison, point.nearest)} behind"
    if point.kind == "hazard" and not point.title:
        return f"No hazard costs the {other} more than the {first}: moving one wouldn't turn the choice."
    if point.low is None or point.high is None:
        return f"Keep the {first}: {still}."
    if point.kind == "mishits":
        most, it = _often(point.high), "it" if point.b == first else f"the {point.b}"
        return f"Keep the {first} however often you mishit {it} (never to {most}): {still}."
    if point.kind == "spread":
        reach, its = f"from {point.low:.0f} to {point.high:.0f} yd", "its" if point.b == first else f"the {point.b}'s"
        return f"Keep the {first} whatever {its} side spread, {reach}: {still}."
    return (
        f"Keep the {first} wherever the {point.title} lies, {-point.low:.0f} yd nearer to {point.high:.0f} yd "
        f"farther: {still}."
    )


def switch_words(comparison: Comparison, point: SwitchPoint) -> str:
    """Say where one thing would turn the choice between two options, or that it can't."""
    if point.kind == "trust":
        text = _trust(comparison, point)
    else:
        first, other = (point.a, point.b) if point.gap >= 0.0 else (point.b, point.a)
        if point.at is None:
            text = _none(comparison, point, first, other)
        else:
            level = abs(point.gap) <= comparison.objective.level
            keep = f"The {first} stays ahead" if level else f"Keep the {first}"
            text = _FOUND[point.kind](point, float(point.now), float(point.at), keep)
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
