"""What may be played from each state: every sensible action, or what the coarser states around one chose."""

from __future__ import annotations

import math
from typing import Final, NamedTuple

import numpy as np
from numpy.typing import NDArray

from simcaddie.model import arrays as r

__all__ = ["FAN", "NEVER", "Actions", "Choice", "Tried", "all_actions", "handed_on", "in_play", "parents", "pin_line"]

NEVER: Final = 1.0e9
FAN: Final = np.radians([-36.0, -24.0, -12.0, 0.0, 12.0, 24.0, 36.0])
ALL_ROUND: Final = np.radians(np.arange(-180.0, 180.0, 15.0))
NEIGHBOURS: Final = ((0, 0), (0, -1), (0, 1), (-1, 0), (1, 0), (-1, -1), (-1, 1), (1, -1), (1, 1))
HOPELESS: Final = 0.3  # strokes behind in a coarse cell after which an action isn't tried in those inside
ALIKE: Final = math.radians(6.0)  # lines of a swing that round to the same of this are tried as one
BAD_FAIL: Final = 0.2  # a lie that fails that often, or leaves but gaps in the trees, asks for lines all round

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]


class Actions(NamedTuple):
    """Actions, those of a state after each other: the state, the swing, the bearing off the pin line (rad)."""

    state: Whole
    swing: NDArray[np.int16]
    bearing: Floats

    def of(self, which: NDArray[np.bool_] | Whole) -> Actions:
        """Return some of them."""
        return Actions(self.state[which], self.swing[which], self.bearing[which])


class Tried(NamedTuple):
    """Actions that raced, and how many strokes each was behind the best of its state when last looked at."""

    actions: Actions
    behind: Floats


class Choice(NamedTuple):
    """The swing, bearing off the pin line (rad) and value chosen at every state so far."""

    swing: NDArray[np.int16]
    bearing: Floats
    value: Floats


def pin_line(problem: r.Problem, state: Whole) -> Floats:
    """Return the bearing from states to the pin, radians clockwise from +y."""
    xy, ground = problem.states.xy[state], problem.ground
    return np.arctan2(ground.pin_x - xy[:, 0], ground.pin_y - xy[:, 1])


def all_actions(problem: r.Problem, state: Whole, fan: Floats = FAN, *, every: bool = False) -> Actions:
    """Return every sensible action at some states.

    Usable swings along the ``fan`` of lines, or all round from lies that only leave gaps; unless ``every`` one is asked
    for, none that fly far past the pin or less than half as far as one would go. Touch shots where the pin is near, and
    where the lie is bad.
    """
    rows, lie = problem.swings.rows, problem.states.lie[state]
    usable = rows[lie, :, r.SW_USABLE] > 0.0
    carry = rows[lie, :, r.SW_SOLID + r.STRIKE_CARRY]
    away = np.hypot(*(problem.states.xy[state] - (problem.ground.pin_x, problem.ground.pin_y)).T)
    bad = (rows[lie, 0, r.SW_GAP] < 1.0) | (rows[lie, 0, r.SW_FAIL] > BAD_FAIL)
    free = bad | every
    shortest = np.where(usable, carry, NEVER).min(axis=1)
    longest = np.where(usable, carry, 0.0).max(axis=1)
    low = np.where(free, 0.0, 0.5 * np.minimum(longest, away))
    high = np.where(free, NEVER, np.maximum(shortest, away + 25.0))
    swings = usable & (carry >= low[:, None]) & (carry <= high[:, None])
    near = free | ~swings.any(axis=1) | (away < 1.25 * problem.touch.rows[lie, r.TOUCH_LONGEST])
    chosen = np.column_stack([swings, np.repeat(near[:, None], problem.touch.reach.size, axis=1)])
    found = []
    for lines, here in ((fan, ~bad), (ALL_ROUND, bad)):
        place, swing = np.nonzero(chosen & here[:, None])
        found.append((np.repeat(place, lines.size), np.repeat(swing, lines.size), np.tile(lines, place.size)))
    place, swing, bearing = (np.concatenate(column) for column in zip(*found, strict=True))
    order = np.argsort(place, kind="stable")
    return Actions(state[place[order]], swing[order].astype(np.int16), bearing[order])


def parents(coarse: r.Problem, fine: r.Problem, dy: int = 0, dx: int = 0) -> Whole:
    """Return, per fine state, the coarse state of its lie over it, or that (dy, dx) cells away; −1 where none is."""
    xy, lie = fine.states.xy, fine.states.lie.astype(np.int64)
    rows, columns = coarse.states.of_cell.shape[1:]
    iy = np.floor((xy[:, 1] - coarse.states.y0) / coarse.states.cell).astype(np.int64) + dy
    ix = np.floor((xy[:, 0] - coarse.states.x0) / coarse.states.cell).astype(np.int64) + dx
    return np.asarray(coarse.states.of_cell[lie, np.clip(iy, 0, rows - 1), np.clip(ix, 0, columns - 1)], np.int64)


def in_play(coarse: r.Problem, tried: Tried, fine: r.Problem, actions: Actions) -> Actions:
    """Return those of fine ``actions`` that weren't far behind when tried at the coarse state over theirs.

    What wasn't tried there stays in play.
    """
    known = _labels(tried.actions.state, tried.actions)
    order = np.argsort(known)
    wanted = _labels(parents(coarse, fine)[actions.state], actions)
    at = order[np.minimum(np.searchsorted(known, wanted, sorter=order), order.size - 1)]
    return actions.of((known[at] != wanted) | (tried.behind[at] <= HOPELESS))


def _labels(state: Whole, actions: Actions) -> Whole:
    """Return a number for each swing and whole degree of bearing at ``state``."""
    degree = np.rint(np.degrees(actions.bearing)).astype(np.int64)
    return (state * 1000 + actions.swing) * 1000 + degree


def handed_on(coarse: r.Problem, choice: Choice, fine: r.Problem, which: Whole) -> tuple[Choice, Actions]:
    """Return the coarse choice on the fine states, and for the states ``which`` what coarse cells around each chose.

    Lines of a swing that are ``ALIKE`` are one action, their mean: each is off by what its own nodes left.
    """
    here = parents(coarse, fine)
    first = Choice(choice.swing[here], choice.bearing[here], choice.value[here])
    found = [(which, choice.swing[here[which]], choice.bearing[here[which]])]
    for dy, dx in NEIGHBOURS[1:]:
        there = parents(coarse, fine, dy, dx)[which]
        known = there >= 0
        found.append((which[known], choice.swing[there[known]], choice.bearing[there[known]]))
    state, swing, bearing = (np.concatenate(column) for column in zip(*found, strict=True))
    about = np.rint(bearing / ALIKE)
    order = np.lexsort((bearing, about, swing, state))
    state, swing, bearing, about = state[order], swing[order], bearing[order], about[order]
    fresh = np.ones(state.size, np.bool_)
    fresh[1:] = (np.diff(state) != 0) | (np.diff(swing) != 0) | (np.diff(about) != 0)
    start = np.flatnonzero(fresh)
    middle = np.add.reduceat(bearing, start) / np.diff(start, append=state.size)
    return first, Actions(state[start], swing[start], middle)
