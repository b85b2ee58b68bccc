"""Other aims of play than fewest strokes: most points, least chance of a blow-up.

What is best then depends on the strokes used so far, so this is a finite-horizon problem over (state, strokes used
u): with w(t) what a total of t strokes is worth (lower is better) and the transitions of a short list of actions per
state,

    W(u, s) = min over actions a of E[ W(u + strokes, next) ],   W(u, down) = w(u),   W(u, ·) = w(cap) for u ≥ cap.

The short list of a state holds what the coarse cells around chose, the longer and the shorter swing along the same
line (lay-ups among them). States that balls seldom reach play on for fewest strokes: there W(u, s) follows from the
score law. What the policy comes to is found with other nodes than those that chose it.
"""

from __future__ import annotations

from collections.abc import Callable
from functools import partial
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.base.parallel import share_out
from simcaddie.base.streams import Purpose
from simcaddie.model import arrays as r
from simcaddie.solve import values
from simcaddie.solve.quadrature import node_sets
from simcaddie.solve.solution import Solution
from simcaddie.solve.transitions import Steps, step_out

__all__ = ["SHORT_LIST", "Aim", "aimed_policy"]

SHORT_LIST: Final = 8  # actions per state
NODES: Final = 64
VALUE_NODES: Final = 128
SURE: Final = 0.003  # share of the whole range of worth by which another action must be better: the nodes are few

Floats = NDArray[np.float64]
Whole = NDArray[np.int64]
Aim = Callable[[Floats], Floats]  # total strokes, any shape → what they are worth, lower is better


def _short_list(solution: Solution) -> list[r.Policy]:
    """Return the short list as whole policies, one a slot, over all states: slot 0 is the policy of fewest strokes."""
    problem, base = solution.problem, solution.policy
    usable = problem.swings.rows[problem.states.lie, :, r.SW_USABLE] > 0.0
    carry = problem.swings.rows[problem.states.lie, :, r.SW_SOLID + r.STRIKE_CARRY]
    slots = [base]
    rows, swings = np.arange(base.swing.size), usable.shape[1]
    own = np.where(base.swing < swings, carry[rows, np.minimum(base.swing, swings - 1)], 0.0)
    for factor in (1.12, 0.9, 0.8, 0.65):
        wanted = np.where(usable, np.abs(carry - factor * own[:, None]), np.inf)
        other = np.argmin(wanted, axis=1).astype(np.int16)
        fits = (base.swing < swings) & np.isfinite(wanted.min(axis=1))
        slots.append(r.Policy(np.where(fits, other, base.swing).astype(np.int16), base.bearing))
    turned = [r.Policy(base.swing, base.bearing + turn) for turn in np.radians([-6.0, 6.0])]
    return [*slots, *turned, r.Policy(base.swing, np.zeros_like(base.bearing))][:SHORT_LIST]


def _from_law(solution: Solution, aim: Aim) -> Floats:
    """Return W(u, s) of playing on for fewest strokes, float64[cap + 1, states]."""
    cap = solution.cap
    strokes = np.arange(cap + 1.0)
    return np.array([aim(np.minimum(used + strokes, cap)) @ solution.pmf for used in range(cap + 1)])


def _chosen(solution: Solution, aim: Aim, slots: list[r.Policy]) -> NDArray[np.int64]:
    """Return the slot that is best for ``aim``, int64[used, often]."""
    problem, reachable, cap = solution.problem, solution.reachable, solution.cap
    nodes = node_sets(NODES, Purpose.CHOOSE)
    steps = [step_out(problem, slot, solution.value.to_go, reachable, nodes, NODES, cap) for slot in slots]
    fewest = _from_law(solution, aim)
    worth, best = fewest.copy(), np.zeros((cap, reachable.size), np.int64)
    room, plain, here = np.empty((len(slots), reachable.size)), np.empty(reachable.size), np.arange(reachable.size)
    for used in range(cap - 1, -1, -1):
        down = aim(np.minimum(used + np.arange(cap + 1.0), cap))
        share_out(partial(values.worth_layer, steps[0], fewest, down, used, plain), reachable.size, least=256)
        for slot, step in enumerate(steps):
            share_out(partial(values.worth_layer, step, worth, down, used, room[slot]), reachable.size, least=256)
        room[1:] += SURE * np.ptp(down)
        best[used] = np.argmin(room, axis=0)
        # The law knows the policy of fewest strokes from many nodes: its gap to these few corrects them.
        worth[used, reachable] = room[best[used], here] + fewest[used, reachable] - plain
    return best


def _laws(solution: Solution, slots: list[r.Policy], best: NDArray[np.int64]) -> Floats:
    """Return the law of strokes to go by strokes used, float64[cap, states, cap + 1], of playing the slots ``best``."""
    problem, reachable, cap = solution.problem, solution.reachable, solution.cap
    nodes = node_sets(VALUE_NODES, Purpose.VALUE)
    plain = np.ascontiguousarray(solution.pmf.T)[None]
    after = np.repeat(plain, cap, axis=0)

    def pmfs(steps: Steps, following: Floats, used: int) -> Floats:
        out = np.empty((steps.after.shape[0], cap + 1))
        share_out(partial(values.step_laws, steps, following, used, out), out.shape[0], least=256)
        return out

    def stepped(slot: int, which: Whole) -> Steps:
        return step_out(problem, slots[slot], solution.value.to_go, reachable[which], nodes, VALUE_NODES, cap)

    every = np.arange(reachable.size)
    fewest = pmfs(stepped(0, every), plain, 0)
    rows = [np.flatnonzero((best == slot).any(axis=0)) for slot in range(len(slots))]
    steps = [stepped(slot, which) for slot, which in enumerate(rows)]
    for used in range(cap - 1, -1, -1):
        for slot, which in enumerate(rows):
            here = np.flatnonzero(best[used, which] == slot)
            some = Steps._make(np.ascontiguousarray(column[here]) for column in steps[slot])
            there = which[here]
            change = pmfs(some, after, used) - fewest[there]
            after[used, reachable[there]] = np.maximum(plain[0, reachable[there]] + change, 0.0)
    return np.asarray(after / after.sum(axis=2, keepdims=True))


def aimed_policy(solution: Solution, aim: Aim) -> tuple[r.Policy, Floats]:
    """Return the policy that is best for ``aim``, and the law of strokes to go, float64[cap, states, cap + 1].

    Both have a row of states per number of strokes used; ``aim`` takes totals from the place asked, up to the cap.
    """
    slots, reachable, cap = _short_list(solution), solution.reachable, solution.cap
    best = _chosen(solution, aim, slots)
    swing, bearing = np.tile(solution.policy.swing, (cap, 1)), np.tile(solution.policy.bearing, (cap, 1))
    swings, bearings = (np.array([slot[column][reachable] for slot in slots]) for column in (0, 1))
    here = np.arange(reachable.size)
    swing[:, reachable], bearing[:, reachable] = swings[best, here], bearings[best, here]
    return r.Policy(swing.ravel(), bearing.ravel()), _laws(solution, slots, best)
