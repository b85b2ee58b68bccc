"""All defaults of golfers fitted in one go: ``PYTHONPATH=tests python -m validation.fit_golfers [--fit]``.

Prints for every published value what is simulated, and whether it was fitted or kept aside; some two minutes. ``--fit``
prints one Gauss-Newton step instead, by least squares over ``NUMBERS``: each golfer's best play is found once with
the numbers as they stand, and derivatives are differences of sequences played along it with one luck (by the envelope
theorem best play itself needn't move). Values weigh by their tolerance, and each number is held to where it stands by
its own ``doubt``. The step's numbers, rounded, are written by hand where they belong, and the step repeated.
"""

from __future__ import annotations

import sys
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import astuple, dataclass, fields, replace
from typing import Any

import numpy as np
from reference import club_golfers as facts
from reference import tour
from reference.putts import TOUR as TOUR_PUTTS
from scipy.optimize import lsq_linear
from validation import strokes
from validation.golfers import BANDS, WHO, Golfer, golfer_of, prepare, seen

from simcaddie.base.surfaces import SAND, Lie, TouchLie, default_lies, default_touch
from simcaddie.player import day_form, pattern, putting, reference, skill
from simcaddie.player.skill import LEVELS, Skill
from simcaddie.player.swing import Player

Seen = Mapping[str, Mapping[str, float]]
BEHIND = "behind the tour"


@dataclass(frozen=True)
class Value:
    """A published value, the deviation that counts as one, and whether it was fitted."""

    who: str
    what: str
    published: float
    tolerance: float
    fitted: bool


def values() -> list[Value]:
    """Return every published value."""
    rows: list[tuple[str, str, float, float, bool]] = []
    for kind, tolerance in (("fairway", 0.04), ("rough", 0.04), ("sand", 0.06), ("recovery", 0.12), ("tee", 0.06)):
        rows += [("tour", f"{kind} {d}", 0.0, tolerance, kind != "tee") for d in _distances(kind)]
    for feet, one, three, *_ in TOUR_PUTTS:
        rows.append(("tour", f"one putt {feet} ft", one, 0.02, False))
        rows.append(("tour", f"three putts {feet} ft", three, 0.015, feet == 60))
    rows += [
        ("tour", "greens from 150", tour.GREENS_FROM_150, 0.05, False),
        ("tour", "feet from 150", tour.MEDIAN_FEET_FROM_150, 4.0, False),
        *(("tour", what, share, 0.04 if share > 0.1 else 0.01, False) for what, share in tour.TEE_SHOTS.items()),
        ("tour", "three-putts", tour.THREE_PUTTS_A_ROUND, 0.2, False),
        ("scores 90", "greens from 150", facts.GREENS_FROM_150, 0.03, True),
        ("scores 90", "feet from 150", facts.MEDIAN_FEET_FROM_150, 5.0, False),
        ("scores 90", "fairway", facts.FAIRWAYS, 0.04, False),
        ("scores 90", "recovery", facts.RECOVERIES, 0.015, True),
        *((f"scores {n}", "three-putts", share, 0.25, n < 100) for n, share in facts.THREE_PUTTS_A_ROUND.items()),
        *((who, "short at 10 ft", share, 0.01, True) for who, share in facts.SHORT_AT_10_FEET.items()),
        *((who, "half holed from", feet, 0.3, True) for who, feet in facts.HALF_HOLED_FROM.items()),
        ("scores 100", "sand in two", facts.SAND_IN_TWO, 0.03, True),
        ("scratch man", BEHIND, facts.BEHIND_THE_TOUR, 0.4, True),
    ]
    for who, (per, *_) in facts.LENGTH_RATING.items():
        rows.append((who, "level", 0.0, 1.0, True))
        rows.append((who, "per 1000 yd", 1000.0 / per, 0.2, who.startswith("bogey")))
    rows += [(who, "level", 0.0, 1.0, who == "index 36") for who in list(WHO)[5:]]
    for who in facts.EXCEPTIONAL:
        rows += [
            (who, f"odds {k}", float(np.log(rounds)), 0.25, k % 2 == 1)
            for k, rounds in enumerate(facts.EXCEPTIONAL[who])
        ]
    return [Value(*row) for row in rows]


def _distances(kind: str) -> list[int]:
    if kind in ("fairway", "rough", "tee"):
        return [d for d in strokes.DISTANCES if d >= 100 or kind != "tee"]
    if kind == "recovery":
        return list(strokes.PATCHES)[:-1]
    far = [round(float(np.hypot(strokes.SAND_X, away))) for away in strokes.PATCHES]
    return [20, *(d for d in far if d <= strokes.DISTANCES[-1])]


# ── the numbers ──────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass(frozen=True)
class Number:
    """A number to fit: how far it is in doubt (1 sd), and its bounds."""

    doubt: float
    low: float
    high: float


NUMBERS = {
    "iron_direction -6": Number(0.1, 2.2, 2.8),
    "mishits -6": Number(0.006, 0.02, 0.05),
    "touch -6": Number(0.03, 0.5, 0.7),
    "sand -6": Number(0.1, 0.4, 1.2),
    "direction 0": Number(0.3, 3.4, 4.3),
    "iron_direction 0": Number(0.3, 2.6, 3.6),
    "mishits 0": Number(0.015, 0.04, 0.1),
    "touch 0": Number(0.06, 0.6, 0.9),
    "direction 18": Number(0.3, 5.5, 7.4),
    "iron_direction 18": Number(0.4, 3.5, 5.5),
    "carry_sd 18": Number(0.01, 0.08, 0.12),
    "mishits 18": Number(0.015, 0.06, 0.18),
    "growth": Number(0.25, 0.4, 1.8),  # of the solid strike's spreads from 18 to 36, against 0 to 18
    "mishits 36": Number(0.02, 0.08, 0.3),
    "touch 36": Number(0.2, 1.0, 2.2),
    "putting_distance 0": Number(0.004, 0.079, 0.11),
    "putting_distance 18": Number(0.008, 0.08, 0.14),
    "putting_distance 36": Number(0.01, 0.08, 0.18),
    "putting_direction": Number(0.2, 0.3, 1.6),  # grown at last, along 1 − exp(−(index + 6) / bend)
    "bend": Number(10.0, 8.0, 60.0),  # indexes
    "past": Number(0.01, -0.02, 0.05),  # ft per index
    "long_leave": Number(0.001, 0.002, 0.009),
    "wider": Number(0.2, 1.2, 3.5),
    "bunker touch": Number(0.15, 0.7, 1.8),
    "bunker wedges": Number(0.3, 1.0, 2.5),
    "bunker spread": Number(0.05, 1.05, 1.4),
    "rough spread": Number(0.05, 1.1, 1.4),
    "form": Number(0.2, 0.0, 3.0),  # degrees at an index of 34
}
SWING = ("direction", "iron_direction", "carry_sd")
ROW = {level.index: level for level in LEVELS}


def _reached(index: float, bend: float) -> float:
    return 1.0 - float(np.exp(-(index - skill.TOUR_INDEX) / bend))


def standing() -> dict[str, float]:
    """Return the numbers as the program has them."""
    found = {}
    for name in NUMBERS:
        what, _, index = name.partition(" ")
        if index and what in Skill.__slots__:
            found[name] = float(getattr(ROW[float(index)], what))
    low, middle, high = ROW[0.0], ROW[18.0], ROW[36.0]
    lies = default_lies()
    tops, first = ROW[-6.0], (middle.putting_direction - ROW[-6.0].putting_direction)
    bend = _bend(first / (high.putting_direction - tops.putting_direction))
    return found | {
        "growth": (high.direction - middle.direction) / (middle.direction - low.direction),
        "bend": bend,
        "putting_direction": first / _reached(18.0, bend),
        "past": (high.past - tops.past) / 42.0,
        "long_leave": putting.LONG_LEAVE,
        "wider": pattern._WIDER[0],
        "bunker touch": 1.0,
        "bunker wedges": lies[SAND].wedges,
        "bunker spread": lies[SAND].spread,
        "rough spread": lies["rough"].spread,
        "form": day_form.DIRECTION_AT_34,
    }


def _bend(share: float) -> float:
    tries = np.linspace(5.0, 80.0, 3001)
    return float(tries[np.argmin([abs(_reached(18.0, b) / _reached(36.0, b) - share) for b in tries])])


def levels(numbers: Mapping[str, float]) -> tuple[Skill, ...]:
    """Return the rows of skill that ``numbers`` mean."""

    def of(index: float) -> Skill:
        named = {n.partition(" ")[0]: v for n, v in numbers.items() if n.endswith(f" {index:g}")}
        level = replace(ROW[index], **{k: v for k, v in named.items() if k in Skill.__slots__})
        return replace(level, past=ROW[-6.0].past + numbers["past"] * (index + 6.0))

    top, low, middle = of(-6.0), of(0.0), of(18.0)
    low = replace(low, sand=top.sand + 0.25 * (1.0 - top.sand))
    grown = {k: getattr(middle, k) + numbers["growth"] * (getattr(middle, k) - getattr(low, k)) for k in SWING}
    high = replace(of(36.0), **grown, sand=1.0 + 0.75 * (1.0 - top.sand))

    def putts(level: Skill) -> Skill:
        share = _reached(level.index, numbers["bend"])
        return replace(level, putting_direction=top.putting_direction + numbers["putting_direction"] * share)

    return top, putts(low), putts(middle), putts(high)


@contextmanager
def holding(numbers: Mapping[str, float]) -> Iterator[Callable[[str], Player]]:
    """Let the program have ``numbers`` for a while, unrounded; yields what makes a golfer of ``WHO``."""
    by = numbers["bunker touch"]

    def touch() -> dict[str, TouchLie]:
        usual = default_touch()
        return usual | {SAND: skill._scaled(usual[SAND], by)}

    def lies() -> dict[str, Lie]:
        usual = default_lies()
        sand = replace(usual[SAND], wedges=numbers["bunker wedges"], spread=numbers["bunker spread"])
        return usual | {SAND: sand, "rough": replace(usual["rough"], spread=numbers["rough spread"])}

    wider = (numbers["wider"], 1.0 + 0.5 * (numbers["wider"] - 1.0))
    changes: list[tuple[Any, str, Any]] = [
        (skill, "LEVELS", levels(numbers)),
        (skill, "default_touch", touch),
        (skill, "default_lies", lies),
        (pattern, "_WIDER", wider),
        (putting, "LONG_LEAVE", numbers["long_leave"]),
        (day_form, "DIRECTION_AT_34", numbers["form"]),
        (day_form, "MISHITS_AT_34", numbers["form"] / 4.0),
        (reference, "_rounded", lambda swing, _unit: swing),
    ]
    kept = [(module, name, getattr(module, name)) for module, name, _ in changes]

    def make(name: str) -> Player:
        index, driver = WHO[name]
        player = reference.golfer(index, driver)
        return replace(player, putting=skill.skill_of(index).putting)

    for module, name, value in changes:
        setattr(module, name, value)
    putting.putt_law.cache_clear()
    try:
        yield make
    finally:
        for module, name, value in kept:
            setattr(module, name, value)
        putting.putt_law.cache_clear()


# ── the step ─────────────────────────────────────────────────────────────────────────────────────────────────────────


def deviations(rows: list[Value], found: Seen) -> np.ndarray:
    """Return simulated less published in tolerances, float64[value]."""
    return np.array([(simulated(row, found) - row.published) / row.tolerance for row in rows])


def simulated(row: Value, found: Seen) -> float:
    """Return what was found of a value."""
    if row.what == BEHIND:
        return found[row.who]["mean 6500"] - found["tour"]["mean 6500"]
    return found[row.who][row.what]


def touched(name: str, who: str) -> bool:
    """Tell whether a number can matter for a golfer at all."""
    index = WHO[who][0]
    what = name.rpartition(" ")[2]
    if what == "-6":
        return index < 0.0
    if what in ("18", "36", "growth"):
        return index > (0.0 if what == "18" else 18.0)
    if name == "form":
        return who in BANDS
    return not (what == "0" and index < 0.0)


def jacobian(rows: list[Value], golfers: Mapping[str, Golfer], numbers: Mapping[str, float], base: Seen) -> np.ndarray:
    """Return the derivatives of ``deviations``, float64[value, number], each number's step half its doubt."""
    columns = []
    for name, number in NUMBERS.items():
        step = 0.5 * number.doubt
        with holding({**numbers, name: numbers[name] + step}) as make:
            found = {who: seen(golfers[who], make(who), brief=True) if touched(name, who) else base[who] for who in WHO}
        columns.append((deviations(rows, found) - deviations(rows, base)) / step)
    return np.array(columns).T


def fitted(golfers: Mapping[str, Golfer]) -> dict[str, float]:
    """Return the numbers after one step."""
    rows = [row for row in values() if row.fitted]
    numbers = standing()
    with holding(numbers) as make:
        base = {who: seen(golfers[who], make(who), brief=True) for who in WHO}
    doubt = np.array([number.doubt for number in NUMBERS.values()])
    start = np.array([numbers[name] for name in NUMBERS])
    slopes = jacobian(rows, golfers, numbers, base) * doubt
    bounds = [(np.array([getattr(n, end) for n in NUMBERS.values()]) - start) / doubt for end in ("low", "high")]
    tall = np.vstack([slopes, np.eye(doubt.size)])
    wanted = np.concatenate([-deviations(rows, base), np.zeros(doubt.size)])
    step = lsq_linear(tall, wanted, bounds=(np.minimum(bounds[0], -1e-9), np.maximum(bounds[1], 1e-9))).x
    foretold = deviations(rows, base) + slopes @ step
    print(f"fitted values, rms in tolerances: {_rms(deviations(rows, base)):.2f}, foretold {_rms(foretold):.2f}")
    for row, now, then in zip(rows, deviations(rows, base), foretold, strict=True):
        if row.who != "tour" or not row.what[-1].isdigit():
            print(
                f"  {row.who}, {row.what}: {now * row.tolerance + row.published:.3f} → "
                f"{then * row.tolerance + row.published:.3f}, published {row.published:.3f}"
            )
    return {name: float(at) for name, at in zip(NUMBERS, start + step * doubt, strict=True)}


def _rms(deviation: np.ndarray) -> float:
    return float(np.sqrt(np.mean(np.square(deviation))))


def told(found: Seen) -> None:
    """Print every value, and the root mean squares."""
    rows = values()
    for row in rows:
        print(
            f"{row.who:14} {row.what:20} published {row.published:7.3f}  simulated {simulated(row, found):7.3f}  "
            f"{'fitted' if row.fitted else 'kept aside'}"
        )
    for use in (True, False):
        some = [row for row in rows if row.fitted == use]
        print(f"{'fitted' if use else 'kept aside'}: {len(some)} values, rms {_rms(deviations(some, found)):.3f}")
    kinds = ("fairway", "rough", "sand", "tee")
    cells = {kind: [simulated(r, found) for r in rows if r.who == "tour" and r.what in _cells(kind)] for kind in kinds}
    cells["all four"] = [error for row in cells.values() for error in row]
    print("tour, rms of strokes:", ", ".join(f"{kind} {_rms(np.array(row)):.3f}" for kind, row in cells.items()))


def _cells(kind: str) -> set[str]:
    return {f"{kind} {distance}" for distance in _distances(kind)}


def main() -> None:
    """Fit if asked to, then tell."""
    golfers = {who: prepare(who, golfer_of(who)) for who in WHO}
    if "--fit" in sys.argv:
        numbers = fitted(golfers)
        for name, number in numbers.items():
            print(f"{name:20} {standing()[name]:.4f} → {number:.4f}")
        for level in levels(numbers):
            print("    Skill(" + ", ".join(f"{v:.4g}" for v in astuple(level)) + "),")
        assert len(fields(Skill)) == len(astuple(LEVELS[0]))
    else:
        told({who: seen(golfers[who], golfer_of(who)) for who in WHO})


if __name__ == "__main__":
    main()
