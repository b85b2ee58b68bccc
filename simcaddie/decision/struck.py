"""A ball hit on the range, as the strike that it is on the hole.

On the range a ball has a carry and a side, level and calm. The kernel plays it as the draws that would have made it
from a tee: so many spreads off its mean, for its kind of strike (told, or the likeliest). From another lie the same
draws fly as that lie lets them: shorter, wider. A lie or a slope that makes more mishits than a tee does turns so many
of the solid strikes fat or thin: that is drawn, like run, trees and finding the ball, and counts as luck. So balls that
are distributed on the range as the player's pattern is on a tee score on the hole as whole sequences do.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.streams import Purpose
from simcaddie.base.surfaces import SURFACES, TEE, code
from simcaddie.base.units import unit_vector
from simcaddie.decision.ledger import GROUND_NODES, Place, Reckoner, ground_means, same_strike
from simcaddie.decision.options import Option
from simcaddie.model import arrays as r
from simcaddie.model.batch import asked, play
from simcaddie.model.kernel import STANCE, STEEPEST

__all__ = ["KINDS", "Played", "Struck", "even_underfoot", "likeliest", "play_struck", "touch_carry"]

KINDS: Final = ("fat", "thin", "solid")  # as the kernel numbers them
SURE: Final = 1.0 - 1e-9  # of the strike's number: a solid one
_FAIRWAY: Final = next(number for number, kind in enumerate(SURFACES) if kind.fairway)

Floats = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Struck:
    """A ball hit: carry and side to the right of the aim line on level ground in calm air, yd; one of ``KINDS``."""

    carry: float
    side: float
    kind: str = "solid"


@dataclass(frozen=True, slots=True)
class Played:
    """What came of a ball on the hole.

    ``rest`` is one ball's; ``kind`` the strike that it was there; ``value`` M of ``ledger``.
    """

    rest: r.Rest
    kind: str
    value: float


def _shares(reckoner: Reckoner, swing: int, lie: int) -> tuple[float, Floats]:
    """Return (chance to fail, shares of fat, thin and solid of the rest) of a swing from a lie."""
    problem = reckoner.ahead.problem
    if swing >= problem.swings.rows.shape[1]:
        fail, fat, thin = problem.touch.rows[lie, [r.TOUCH_FAIL, r.TOUCH_FAT, r.TOUCH_THIN]]
    else:
        fail, fat, thin = problem.swings.rows[lie, swing, [r.SW_FAIL, r.SW_FAT, r.SW_THIN]]
    return float(fail), np.array([fat - fail, thin - fat, 1.0 - thin]) / (1.0 - fail)


def _strike(reckoner: Reckoner, swing: int, kind: int) -> Floats:
    """Return a swing's strike of a kind from a tee, as the kernel's columns have it."""
    at = r.SW_STRIKE + r.STRIKE_COLUMNS * kind
    return reckoner.ahead.problem.swings.rows[code(TEE), swing, at : at + r.STRIKE_COLUMNS]


def likeliest(reckoner: Reckoner, swing: int, carry: float, side: float) -> str:
    """Return the kind of strike that a ball of a swing most probably was; touch shots count as solid."""
    if swing >= reckoner.ahead.problem.swings.rows.shape[1]:
        return "solid"
    _, shares = _shares(reckoner, swing, code(TEE))
    logs = []
    for kind, share in enumerate(shares):
        row = _strike(reckoner, swing, kind)
        ahead, aside = _standard(row, carry, side)
        scale = row[r.STRIKE_CARRY_SD] * row[r.STRIKE_SIDE_SD]
        logs.append(math.log(max(share, 1e-12) / scale) - 0.5 * (ahead * ahead + aside * aside))
    return KINDS[int(np.argmax(logs))]


def _standard(row: Floats, carry: float, side: float) -> tuple[float, float]:
    """Return the normals (carry, side) that make a ball under a strike."""
    ahead = (carry - row[r.STRIKE_CARRY]) / row[r.STRIKE_CARRY_SD]
    return ahead, (side - row[r.STRIKE_SIDE] - row[r.STRIKE_SIDE_ON_CARRY] * ahead) / row[r.STRIKE_SIDE_SD]


def _touch_balls(reckoner: Reckoner, place: Place, option: Option, kind: int) -> Floats:
    """Return (carry, side) of touch shots from a fairway lie, average, one sd longer, one sd right: float64[3, 2]."""
    problem = reckoner.ahead.problem
    open_ground = problem._replace(ground=problem.ground._replace(wood=np.zeros((1, 1), np.uint8)))
    bearing = reckoner.at(place).pin_line + math.radians(option.aim)
    draws = np.zeros((r.DRAWS + 1, 3))
    draws[r.DRAW_CARRY, 1], draws[r.DRAW_SIDE, 2] = 1.0, 1.0
    fail, shares = _shares(reckoner, option.swing, _FAIRWAY)
    middle = fail + (1.0 - fail) * (0.5 * shares[0] if kind == 0 else shares[0] + 0.5 * shares[1])
    draws[r.DRAW_STRIKE] = SURE if kind == len(KINDS) - 1 else middle
    draws[r.DRAW_FIND] = SURE
    rows = asked(*place[:2], _FAIRWAY, option.swing, bearing, np.arange(3))
    rest = play(open_ground, reckoner.ahead.to_go, rows, draws, 1)
    dx, dy = unit_vector(bearing)
    x, y = rest.landing_x - place[0], rest.landing_y - place[1]
    return np.column_stack([x * dx + y * dy, x * dy - y * dx])


def touch_carry(reckoner: Reckoner, place: Place, option: Option) -> float:
    """Return how far a touch shot is meant to carry, yd: what to hit on the range."""
    return float(_touch_balls(reckoner, place, option, len(KINDS) - 1)[0, 0])


def _normals(reckoner: Reckoner, place: Place, option: Option, ball: Struck) -> tuple[float, float]:
    """Return the normals (carry, side) that made a ball."""
    kind = KINDS.index(ball.kind)
    if option.swing < reckoner.ahead.problem.swings.rows.shape[1]:
        return _standard(_strike(reckoner, option.swing, kind), ball.carry, ball.side)
    (carry, side), (longer, _), (_, righter) = _touch_balls(reckoner, place, option, kind)
    ahead = (ball.carry - carry) / (longer - carry) if abs(longer - carry) > 1e-9 else 0.0
    return ahead, (ball.side - side) / (righter - side) if abs(righter - side) > 1e-9 else 0.0


def even_underfoot(reckoner: Reckoner, place: Place, swing: int) -> float:
    """Return what part of the chance not to mishit a slope underfoot leaves, as ``kernel.address`` has it."""
    ground = reckoner.ahead.problem.ground
    touch = swing >= reckoner.ahead.problem.swings.rows.shape[1]
    if ground.height.shape[0] == 1 or touch or ground.kinds[place[2], r.KIND_LEVEL] != 0.0:
        return 1.0
    rows, columns = ground.height.shape
    px = min(max((place[0] - ground.x0) / ground.height_cell, 0.0), columns - 1.001)
    py = min(max((place[1] - ground.y0) / ground.height_cell, 0.0), rows - 1.001)
    ix, iy = int(px), int(py)
    (a, b), (c, d) = ground.height[iy : iy + 2, ix : ix + 2]
    u, v = px - ix, py - iy
    slope = math.hypot((b - a) * (1.0 - v) + (d - c) * v, (c - a) * (1.0 - u) + (d - b) * u) / ground.height_cell
    return 1.0 / (1.0 + STANCE * min(slope, STEEPEST))


def _turned(reckoner: Reckoner, place: Place, swing: int, kind: int, u: Floats) -> tuple[Floats, NDArray[np.int64]]:
    """Return the strike's number for the kernel and its kind, by uniforms ``u``, any shape.

    A solid ball of the range is a mishit where the lie and the slope make more of them than a tee.
    """
    fail, here = _shares(reckoner, swing, place[2])
    even = even_underfoot(reckoner, place, swing)
    tee = _shares(reckoner, swing, _FAIRWAY if swing >= reckoner.ahead.problem.swings.rows.shape[1] else code(TEE))[1]
    more = np.maximum(here[:2] / even - tee[:2], 0.0) / max(tee[2], 1e-9)
    v = (u - fail) / (1.0 - fail)
    kinds = (
        np.where(v < more[0], 0, np.where(v < more.sum(), 1, 2)) if kind == len(KINDS) - 1 else np.full(u.shape, kind)
    )
    middles = np.array([0.5 * here[0], here[0] + 0.5 * here[1]]) / even
    numbers = np.append(np.minimum(fail + (1.0 - fail) * middles, SURE), SURE)[kinds]
    return np.where(u < fail, u, numbers), np.where(u < fail, -1, kinds)


def play_struck(reckoner: Reckoner, place: Place, option: Option, ball: Struck, luck: Floats) -> Played:
    """Play a ball hit on the range from a place; ``luck`` float64[7] are the kernel's numbers for what the ground does.

    Its carry and side there count for nothing; its strike's number tells what the lie makes of the ball.
    """
    ahead, kind = reckoner.ahead, KINDS.index(ball.kind)
    if _shares(reckoner, option.swing, place[2])[1][kind] <= 0.0:  # a kind of strike that the player's file rules out
        kind = len(KINDS) - 1
    normals = _normals(reckoner, place, option, Struck(ball.carry, ball.side, KINDS[kind]))
    rows = reckoner.rows(place, option.swing, reckoner.at(place).pin_line + math.radians(option.aim))
    draws = np.array(luck, float)[:, None]
    draws[[r.DRAW_CARRY, r.DRAW_SIDE], 0] = normals
    numbers, kinds = _turned(reckoner, place, option.swing, kind, draws[r.DRAW_STRIKE])
    draws[r.DRAW_STRIKE] = numbers
    rest = play(ahead.problem, ahead.to_go, rows, draws, 1)
    every = same_strike(draws, ahead.seed)
    u = (np.random.default_rng((ahead.seed, Purpose.GROUND)).permutation(GROUND_NODES) + 0.5) / GROUND_NODES
    every[r.DRAW_STRIKE] = _turned(reckoner, place, option.swing, kind, u)[0]
    found = "failed" if kinds[0] < 0 else KINDS[kinds[0]]
    return Played(rest, found, float(ground_means(ahead, rows, every)[0][0]))
