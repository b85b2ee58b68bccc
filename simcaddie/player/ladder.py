"""Clubs that nobody measured, carried along with those that somebody did: a ladder through the measured ones.

An estimated carry c, between two measured clubs whose estimates were a and b, keeps its place between what they turned
out to be. Beyond the last measured club, of estimate a and measured r a, it becomes

    c (1 + (r − 1) exp(−d / 30°)),   d the distance in loft,

so that what one club tells of another fades; but no nearer to the measured club than half the estimated gap, times r.
So no estimated club ends beside a measured one. The 30° are common practice, no source.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from simcaddie.player.swing import Swing

__all__ = ["Rung", "carried", "carried_along"]

FADES: Final = 30.0  # degrees of loft
LEAST_GAP: Final = 0.5  # of the estimated gap

Key = tuple[str, str]  # club, swing


@dataclass(frozen=True, slots=True)
class Rung:
    """A measured club: its loft in degrees, the carry that was estimated for it and the measured one, yards."""

    loft: float
    estimated: float
    measured: float


def carried(loft: float, carry: float, rungs: Sequence[Rung]) -> float:
    """Return what an estimated carry becomes with the measured clubs known; as it is without any.

    >>> iron = Rung(33.0, 130.0, 143.0)
    >>> round(carried(37.0, 120.0, [iron])), round(carried(10.5, 200.0, [iron]))
    (131, 209)
    """
    if not rungs:
        return carry
    found = sorted(rungs, key=lambda rung: rung.estimated)
    low, high = found[0], found[-1]
    if low.estimated <= carry <= high.estimated:
        return float(np.interp(carry, [r.estimated for r in found], [r.measured for r in found]))
    shorter = carry < low.estimated
    near = low if shorter else high
    ratio = near.measured / near.estimated
    faded = carry * (1.0 + (ratio - 1.0) * math.exp(-abs(loft - near.loft) / FADES))
    bound = near.measured + LEAST_GAP * ratio * (carry - near.estimated)
    return min(faded, bound) if shorter else max(faded, bound)


def carried_along(swings: Sequence[Swing], measured: Mapping[Key, Swing]) -> dict[Key, Swing]:
    """Return the estimated ones of ``swings`` that aren't in ``measured``, carried along with those that are known.

    All their lengths change in proportion. A part swing of which no like was measured follows its club's full swing.
    """
    full = sorted((s for s in swings if s.name == "full"), key=lambda s: s.loft)
    rungs: dict[str, list[Rung]] = {}
    for swing in swings:
        now = measured.get((swing.club, swing.name), swing)
        if now is not swing or not swing.estimated:
            rungs.setdefault(swing.name, []).append(Rung(swing.loft, swing.carry, now.carry))
    known = {(swing.club, swing.name) for swing in swings}
    for key, now in measured.items():
        if key not in known and now.name == "full" and full:  # a club that the bag hadn't
            usual = np.exp(np.interp(now.loft, [s.loft for s in full], np.log([s.carry for s in full])))
            rungs.setdefault("full", []).append(Rung(now.loft, float(usual), now.carry))
    ratios = {(swing.club, "full"): _ratio(swing, measured, rungs.get("full", ())) for swing in full}
    moved = {}
    for swing in swings:
        key = (swing.club, swing.name)
        if swing.estimated and key not in measured:
            like = rungs.get(swing.name)
            ratio = _ratio(swing, measured, like) if like else ratios.get((swing.club, "full"), 1.0)
            moved[key] = _scaled(swing, ratio)
    return moved


def _ratio(swing: Swing, measured: Mapping[Key, Swing], rungs: Sequence[Rung]) -> float:
    now = measured.get((swing.club, swing.name))
    if now is not None or not swing.estimated:
        return (now or swing).carry / swing.carry
    return carried(swing.loft, swing.carry, rungs) / swing.carry


def _scaled(swing: Swing, by: float) -> Swing:
    lengths = {key: getattr(swing, key) * by for key in ("carry", "carry_sd", "side", "side_sd", "run", "run_sd")}
    return swing if by == 1.0 else replace(swing, **lengths)
