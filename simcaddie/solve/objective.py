"""Other aims of play than fewest strokes: most points, least chance of a blow-up.

What is best then depends on the strokes used so far, so this is a finite-horizon problem over (state, strokes used
u): with w(t) what a total of t strokes is worth (lower is better) and the transitions of a short list of actions per
state,

    W(u, s) = min over actions a of E[ W(u + strokes, next) ],   W(u, down) = w(u),   W(u, ·) = w(cap) for u ≥ cap.

The short list of a state holds what the coarse cells around chose, the longer and the shorter swing along the same
line (lay-ups among them). States that balls seldom reach play on for fewest strokes: there W(u, s) follows from the
score law.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.play import records as r
from simcaddie.solve import laws
from simcaddie.solve.nodes import ANSWER, CHOOSE, node_sets, stroke_nodes
from simcaddie.solve.solution import Solution, putt_laws, step_out
from simcaddie.units import unit_vector
from simcaddie.workers import share_out

__all__ = ["SHORT_LIST", "Aim", "Lookahead", "aimed_policy"]

SHORT_LIST: Final = 8  # actions per state
NODES: Final = 64
SURE: Final = 0.003  # share of the whole range of worth by which another action must be better: the nodes are few

Floats = NDArray[np.float64]
Aim = Callable[[Floats], Floats]  # total strokes, any shape → what they are worth, lower is better


def _short_list(solution: Solution) -> list[r.Policy]:
    """Return the short list as whole policies, one a slot, over all states: slot 0 is the policy of fewest strokes."""
    table, base = solution.table, solution.policy
    usable = table.swings.table[table.states.lie, :, r.SW_USABLE] > 0.0
    carry = table.swings.table[table.states.lie, :, r.SW_SOLID + r.STRIKE_CARRY]
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
    return np.array([aim(np.minimum(used + strokes, cap)) @ solution.law for used in range(cap + 1)])


def aimed_policy(solution: Solution, aim: Aim) -> tuple[r.Policy, Floats]:
    """Return the policy that is best for ``aim`` and W(u, s), float64[cap + 1, states].

    The policy has a row of states per number of strokes used; ``aim`` takes totals from the place asked, up to the cap.
    """
    table, often, cap = solution.table, solution.often, solution.cap
    slots = _short_list(solution)
    points = node_sets(NODES, CHOOSE)
    steps = [step_out(table, slot, solution.value, often, points, cap) for slot in slots]
    fewest = _from_law(solution, aim)
    worth = fewest.copy()
    swing, bearing = np.tile(solution.policy.swing, (cap, 1)), np.tile(solution.policy.bearing, (cap, 1))
    swings = np.array([slot.swing[often] for slot in slots])
    bearings = np.array([slot.bearing[often] for slot in slots])
    room, plain = np.empty((len(slots), often.size)), np.empty(often.size)
    for used in range(cap - 1, -1, -1):
        down = aim(np.minimum(used + np.arange(cap + 1.0), cap))
        share_out(partial(laws.worth_layer, steps[0], fewest, down, used, plain), often.size)
        for slot, step in enumerate(steps):
            share_out(partial(laws.worth_layer, step, worth, down, used, room[slot]), often.size)
        room[1:] += SURE * np.ptp(down)
        best = np.argmin(room, axis=0)
        here = np.arange(often.size)
        # The law knows the policy of fewest strokes from many nodes: its gap to these few corrects them.
        worth[used, often] = room[best, here] + fewest[used, often] - plain
        swing[used, often], bearing[used, often] = swings[best, here], bearings[best, here]
    return r.Policy(swing.ravel(), bearing.ravel()), worth


@dataclass(frozen=True, slots=True)
class Lookahead:
    """Values first strokes from a place: one stroke of the kernel, then W(u, s) of the policy that follows.

    ``worth`` is W, float64[cap + 1, states].
    """

    solution: Solution
    worth: Floats
    aim: Aim
    place: tuple[float, float, int]

    @classmethod
    def of(
        cls, solution: Solution, aim: Aim, place: tuple[float, float, int], worth: Floats | None = None
    ) -> Lookahead:
        """Return the look-ahead for ``aim``; ``worth`` where the policy that follows is not the solution's own."""
        return cls(solution, _from_law(solution, aim) if worth is None else worth, aim, place)

    def __call__(self, swing: int, bearing: float, nodes: int) -> float:
        """Return E[W] of a first stroke along ``bearing`` (radians clockwise from +y), lower is better."""
        table, down = self.solution.table, self.aim(np.arange(self.solution.cap + 1.0))
        x, y, lie = self.place
        points = stroke_nodes(nodes, ANSWER)
        putts = putt_laws(table)
        start = (float(x), float(y), int(lie), int(swing), *unit_vector(bearing))
        return float(laws.first_worth(table, self.solution.value.to_go, self.worth, putts, down, points, *start))
