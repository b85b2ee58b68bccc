"""A day in words."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import asdict
from typing import Any, Final

import numpy as np
import shapely
from shapely import LineString

from simcaddie.base.surfaces import BY_NAME
from simcaddie.base.units import MPS_PER_MPH, angle_between, told, unit_vector
from simcaddie.course.hole import Hole, Point
from simcaddie.course.route import ASIDE, aim_in_degrees, line_of_play, nearest_landmark
from simcaddie.decision.measure import Measure
from simcaddie.decision.options import Option
from simcaddie.decision.position import Position
from simcaddie.decision.request import LEVEL, Comparison
from simcaddie.player.pattern import course_pattern
from simcaddie.player.swing import TRUST_ORDER, Player
from simcaddie.weather.day import STANDARD, Day

__all__ = [
    "aim_in_yards",
    "aim_words",
    "audit_words",
    "bare_words",
    "clarity",
    "cost",
    "day_data",
    "day_words",
    "landing",
    "line_words",
    "place_words",
    "price",
    "robustness_words",
    "sentence",
    "stroke_target",
    "target_words",
    "trouble",
    "why_first",
]

_RELATIVE: Final = (
    "into", "into from the right", "from the right", "helping from the right", "helping", "helping from the left",
    "from the left", "into from the left",
)  # fmt: skip
_FIRMNESS: Final = {0.0: "soft", 0.5: "ordinary turf", 1.0: "firm"}


def _wind(day: Day) -> str:
    if day.wind == 0.0 and not day.wind_sd:
        return "calm"
    place = _RELATIVE[round(day.wind_from / 45.0) % 8] if day.relative else f"from {day.wind_from:.0f}°"
    gusts = f", gusts {day.gust / MPS_PER_MPH:.0f} mph" if day.gust and day.wind_sd else ""
    return f"{day.wind / MPS_PER_MPH:.0f} mph {place}{gusts}"


def day_words(day: Day) -> str:
    """Say a day in a line: the wind, then what differs from a standard day.

    >>> day_words(Day(wind=5.36, wind_from=240.0, relative=False, temperature=8.0, firmness=0.0))
    '12 mph from 240°, 8 °C, soft'
    """
    words = [_wind(day)]
    if day.temperature != STANDARD.temperature:
        words.append(f"{day.temperature:.0f} °C")
    if day.altitude != STANDARD.altitude:
        words.append(f"{day.altitude:.0f} m above the sea")
    if day.firmness != STANDARD.firmness:
        words.append(_FIRMNESS.get(day.firmness, f"firmness {day.firmness:g}"))
    if day.greens != STANDARD.greens:
        words.append(f"greens {day.greens:g} ft")
    return ", ".join(words)


# ─── A day as data ──────────────────────────────────────────────────────────────────────────────────────────────────


def day_data(day: Day | None) -> dict[str, Any] | None:
    """Return a day as plain data, speeds in m/s and temperature in °C, with its words; None for a standard one."""
    return None if day is None else {"words": day_words(day), **asdict(day)}


# ─── The answer in plain words: where to aim, what the best option is, what it saves, how clear that is ─────────────

OFF_THE_WAY = 25.0  # yd from the line of play: beyond it seldom anything is drawn
BARE = 30.0  # yd of such ground that a line must cross to be told of
LEAST_TOLD = 0.01  # strokes
_CLEAR_SE = 3.0  # a difference of fewer standard errors is called close


def trouble(measure: Measure) -> float:
    """Return the share of first balls that finish in a hazard, among trees, or are lost."""
    safe = {name for name, kind in BY_NAME.items() if not kind.trouble} | {"holed"}
    return sum(share for kind, share in measure.finish.items() if kind not in safe)


def _carry(position: Position, swing: int) -> float:
    swings = position.player.swings
    if swing < len(swings):
        return swings[swing].carry * position.player.lies[position.place.lie].carry
    pin = position.hole.pin()
    return math.hypot(pin[0] - position.place.at[0], pin[1] - position.place.at[1])


def landing(position: Position, measure: Measure) -> float:
    """Return the average carry of the option's solid strike, yards; for a touch shot the way to the pin."""
    return _carry(position, measure.option.swing)


def aim_in_yards(position: Position, measure: Measure) -> str:
    """Say an aim as yards beside the line to the pin, at the landing distance."""
    far = landing(position, measure)
    aside = round(far * math.sin(math.radians(measure.option.aim)))
    if aside == 0:
        return "on the pin line"
    units = position.hole.units
    if told(abs(aside), units).startswith("0 "):
        return "on the pin line"
    return f"{told(abs(aside), units)} {'right' if aside > 0 else 'left'} of the pin line at {told(far, units)}"


AT: Final = 1.0 / 3.0  # of the pattern's half-width: an aim that near a thing is at it
REACHES: Final = 0.85  # of the way to the flag that a stroke must carry to be one to the flag
OFTEN_WIDE: Final = 1.28  # standard deviations of side within which eight balls in ten go
TOUCH_WIDE: Final = 3.0  # yd, half-width of a touch shot


def target_words(hole: Hole, start: Point, bearing: float, far: float, wide: float, pin: Point) -> str:
    """Say where a stroke is aimed: at the flag or a landmark, else yards beside the flag or one near.

    ``far`` is the yards to the landing, ``wide`` half the pattern's width there. Yards are those at the landing.
    """
    near = nearest_landmark(hole, start, bearing, far)
    turn = math.remainder(bearing - angle_between(start, pin), 2.0 * math.pi)
    flag = (far * math.sin(turn) if abs(turn) < math.pi / 2 else math.copysign(math.inf, turn), "flag")
    known = [flag] if near is None else [flag, (near[1], near[0].name)]
    if far < REACHES * math.dist(start, pin):
        known.reverse()  # a stroke that doesn't get there is rather aimed by a landmark
    at = [one for one in known if abs(one[0]) <= max(AT * wide, 0.5)]
    aside, thing = at[0] if at else flag if abs(flag[0]) <= ASIDE else min(known, key=lambda one: abs(one[0]))
    if not math.isfinite(aside):
        return aim_in_degrees(math.degrees(turn))
    if at:
        return f"at the {thing}"
    return f"{told(abs(aside), hole.units)} {'right' if aside > 0 else 'left'} of the {thing}"


def stroke_target(hole: Hole, player: Player, stroke: tuple[Point, str, int, float], pin: Point) -> str:
    """Say where a stroke, (place, lie, swing number, bearing), is aimed."""
    start, lie, swing, bearing = stroke
    if swing >= len(player.swings):
        return target_words(hole, start, bearing, math.dist(start, pin), TOUCH_WIDE, pin)
    solid = course_pattern(player, player.swings[swing], player.lies[lie]).solid
    return target_words(hole, start, bearing, solid.carry, OFTEN_WIDE * solid.side_sd, pin)


def aim_words(position: Position, measure: Measure) -> str:
    """Say the aim of an option that was measured."""
    return line_words(position, measure.option)


def line_words(position: Position, option: Option) -> str:
    """Say the aim of an option that need not have been measured."""
    place, pin = position.place, position.pins[0] if len(position.pins) == 1 else position.hole.pin()
    bearing = position.pin_line + math.radians(option.aim)
    return stroke_target(position.hole, position.player, (place.at, place.lie, option.swing, bearing), pin)


def cost(comparison: Comparison, measure: Measure) -> float:
    """Return the strokes that an option costs against the best one: the difference of the scores as they are shown."""
    return round(measure.mean, 2) - round(comparison.best.mean, 2)


def clarity(comparison: Comparison, measure: Measure) -> str:
    """Return "best", "level", "close" or "clear" for an option against the best."""
    if measure is comparison.best:
        return "best"
    if comparison.is_level(measure):
        return "level"
    level = comparison.objective.level
    return "close" if measure.diff < 2 * level or measure.diff < _CLEAR_SE * measure.diff_se else "clear"


def place_words(comparison: Comparison) -> str:
    """Say where the question is asked from."""
    request = comparison.request
    if request.spot:
        return f"spot {request.spot}"
    return f"{request.tee or next(iter(comparison.position.hole.tees))} tee"


def why_first(comparison: Comparison) -> str:
    """Say why the first line stands first where others are level with it; empty where none is."""
    best = comparison.best
    level = [m for m in comparison.options[1:] if comparison.is_level(m)]
    if not level:
        return ""
    names = [m.title if m.title != best.title else f"the line {aim_words(comparison.position, m)}" for m in level[:3]]
    start = f"Level with {_and(names)} (within {LEVEL} strokes)"
    if all(m.title == best.title for m in level):
        return f"{start}: any line between them will do."
    trusted = [m for m in level if TRUST_ORDER[m.trust] < TRUST_ORDER[best.trust]]
    if trusted:
        other = min(trusted, key=lambda m: (TRUST_ORDER[m.trust], m.worth))
        more = max(other.worth - best.worth, 0.0)
        return (
            f"{start}. You trust the {other.title} more, but it is worse in both score and blow-ups: the trust would "
            f"have to be worth {f'{more:.2f} strokes' if more >= LEAST_TOLD else 'a hundredth of a stroke'} a hole."
        )
    if any(m.trust != best.trust for m in level):
        return f"{start}; the {best.title} stands first because it is trusted more and risks no more."
    return f"{start}: choose the one you trust."


def robustness_words(comparison: Comparison) -> str:
    """Say whether the same club wins with everyday play to follow, and with range numbers as they are."""
    if not comparison.robustness or len({m.title for m in comparison.options}) == 1:
        return ""
    best = comparison.best.title
    told = {
        "sound": "with sound play to follow",
        "usual": "with usual play to follow",
        "as they are": "with range numbers as they are",
    }
    cases: dict[str, list[str]] = {}
    for key, title in comparison.robustness.items():
        cases.setdefault(title, []).append(told[key])
    same = cases.pop(best, [])
    parts = [f"The {best} wins as well {_and(same)}"] if same else []
    parts += [f"the {title} would win {_and(others)}" for title, others in cases.items()]
    words = "; ".join(parts)
    return f"{words[0].upper()}{words[1:]}."


def audit_words(comparison: Comparison) -> str:
    """Say where whole sequences don't bear out the figures; empty where they do."""
    apart = [m for m in comparison.options if m.audit is not None and not m.audit.agrees]
    if not apart:
        return ""
    told = _and([f"{m.audit.apart:+.3f} for the {m.title}" for m in apart if m.audit is not None])
    return f"Played out, scores differ from the figures by more than their error: {told}. Trust no smaller difference."


def bare_words(comparison: Comparison) -> str:
    """Say where the best line leaves the drawn way over ground of which the file draws nothing; empty elsewhere.

    A hole taken from a map is drawn along its fairway; what lies inside a corner is then but assumed.
    """
    position, best = comparison.position, comparison.best
    (x, y), (dx, dy) = position.place.at, unit_vector(best.bearing)
    along = np.arange(0.0, landing(position, best), 1.0)
    px, py = x + along * dx, y + along * dy
    way = LineString(line_of_play(position.hole, position.place.at))
    drawn = [shapely.contains_xy(area.outline, px, py) for area in position.hole.areas]
    bare = (shapely.distance(shapely.points(px, py), way) > OFF_THE_WAY) & ~np.any(drawn, axis=0)
    if bare.sum() < BARE:
        return ""
    across = told(float(bare.sum()), position.hole.units)
    return (
        f"The line of the {best.title} leaves the drawn way: {across} of it cross ground of which the file "
        f"draws nothing, so that it counts as {BY_NAME[position.hole.surround].title}. Look what really lies there."
    )


def _and(parts: Sequence[str]) -> str:
    """Join words as a sentence does: "a, b and c"."""
    *most, last = parts
    return f"{', '.join(most)} and {last}" if most else last


def price(comparison: Comparison) -> str:
    """Say what another aim of play than fewest strokes costs in mean strokes; empty for fewest strokes."""
    objective = comparison.objective
    if objective.by_strokes:
        return ""
    best = comparison.best
    cost = max(0.0, best.mean - comparison.fewest)
    return (
        f"Ranked for the {objective.title}: the {best.title} comes to {objective.shown(best.worth)}. "
        f"In strokes that costs {cost:.2f} on average."
    )


def _in_ten(share: float) -> str:
    tenths = round(10 * share)
    if tenths == 0 and share > 0.005:
        return "fewer than one ball in twenty" if share < 0.05 else "one ball in twenty"
    return {0: "no ball in ten", 1: "one ball in ten"}.get(tenths, f"{tenths} balls in ten")


def sentence(comparison: Comparison) -> str:
    """Say what the best option is, what it saves against the longest club, and how clear that is."""
    best, position = comparison.best, comparison.position
    swings = position.player.swings
    text = f"Play the {best.title}, {aim_words(position, best)}: {best.mean:.2f} strokes on average"
    full = [m for m in comparison.options if m.option.swing < len(swings)]
    longest = max(full, key=lambda m: swings[m.option.swing].total, default=best)
    if longest.title == best.title:
        return _as_longest(comparison, text)
    saved = cost(comparison, longest)
    hurt, safe = trouble(longest), trouble(best)
    because = ""
    if hurt - safe > 0.05:
        because = f" The {longest.title} finds trouble with {_in_ten(hurt)}, the {best.title} with {_in_ten(safe)}."
    if comparison.is_level(longest):
        return f"{text}. The {longest.title} is level with it ({saved:+.2f}).{because}"
    word = {"clear": "a clear difference", "close": "a close thing"}[clarity(comparison, longest)]
    return f"{text}, {saved:.2f} fewer than the {longest.title} ({word}).{because}"


def _as_longest(comparison: Comparison, text: str) -> str:
    """Finish the sentence where the longest club is the best one."""
    others = [m for m in comparison.options[1:] if m.title != comparison.best.title]
    if not others:
        return f"{text}."
    second = others[0]
    if comparison.is_level(second):
        return f"{text}. That is the longest club; the {second.title} is level with it."
    return (
        f"{text}. That is the longest club: the next best, the {second.title}, "
        f"costs {cost(comparison, second):.2f} more."
    )
