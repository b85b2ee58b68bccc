"""The compiled part of the solver: what balls are worth where they rest, where a policy takes them, and score laws.

The worth of an action at a state is E[strokes + V(next)], the mean over the nodes of the stroke kernel. A node that
comes back to the state itself (stroke and distance) enters as the factor 1/(1 − p): with p its share,

    Q(s, a) = (Σ added over all nodes + Σ V(next) over those that leave) / number that leave.

With p(s → s′, a) the share of nodes that take state s to s′ with a strokes counted, and g(s, k) the chance to be down
in k by way of the green, the chance of k strokes to go under a policy is

    P(k | s) = g(s, k) + Σ p(s → s′, a) · P(k − a | s′),   a ≥ 1,

so that each number of strokes follows from smaller ones, without iterating.
"""

from __future__ import annotations

import math
from typing import Any

from simcaddie.base.compiled import compiled, inlined
from simcaddie.model import arrays as r
from simcaddie.model.kernel import HOLED, mean_putts, tilt_row
from simcaddie.model.look import ask_policy, distance, kind_at, state_at
from simcaddie.solve.quadrature import NODE_X, NODE_Y

__all__ = ["add_up", "laws_of_rest", "pmf_layer", "start_anywhere", "step_laws", "take_steps", "visit", "worth_layer"]


@compiled
def add_up(problem: Any, to_go: Any, rest: Any, count: int, state: Any, sums: Any, first: int, last: int) -> None:
    """Write (Σ strokes and values, Σ squares, how many come back) of the rows ``first`` … ``last``, float64[row, 3].

    ``rest`` holds the balls of those rows, ``count`` each; ``state`` [row] is where a row's strokes are played from.
    """
    g, s, p = problem.ground, problem.states, problem.putting
    for row in range(first, last):
        total, square, back = 0.0, 0.0, 0.0
        for i in range((row - first) * count, (row - first + 1) * count):
            value = float(rest.added[i])
            if rest.event[i] != HOLED:
                surface = int(rest.surface[i])
                if g.kinds[surface, r.KIND_PUTTING] > 0.0:
                    value += mean_putts(g, p, rest.x[i], rest.y[i])
                else:
                    after = state_at(s, surface, rest.x[i], rest.y[i])
                    if after == state[row]:
                        back += 1.0
                    else:
                        value += to_go[after]
            total += value
            square += value * value
        sums[row, 0], sums[row, 1], sums[row, 2] = total, square, back


@compiled
def start_anywhere(
    problem: Any,
    policy: Any,
    turn: Any,
    which: Any,
    block: Any,
    nodes: Any,
    count: int,
    rows: Any,
    first: int,
    last: int,
) -> None:
    """Write the strokes that a policy plays from the states ``which`` [first … last], ``count`` rows each.

    A ball starts somewhere in the state's cell, as the node says; at the middle where the lie is another there.
    ``block`` [state] is the first node, ``turn`` the policy's own.
    """
    g, s = problem.ground, problem.states
    for j in range(first, last):
        state = which[j]
        lie = int(s.lie[state])
        for k in range(count):
            row, node = (j - first) * count + k, block[state] + k
            x = s.xy[state, 0] + s.cell * nodes[NODE_X, node]
            y = s.xy[state, 1] + s.cell * nodes[NODE_Y, node]
            if state == s.start or kind_at(g, x, y) != lie:
                x, y = s.xy[state, 0], s.xy[state, 1]
            ask_policy(g, policy, turn, state, x, y, lie, node, rows, row)


@inlined
def putt_out(problem: Any, putt_law: Any, x: float, y: float, strokes: int, weight: float, pmf: Any) -> None:
    """Add to ``pmf`` the strokes of a ball on the green at (x, y) that took ``strokes`` to get there."""
    g, p = problem.ground, problem.putting
    row = tilt_row(g, p, x, y)
    place = min(distance(x - g.pin_x, y - g.pin_y) / p.step, putt_law.shape[1] - 1.001)
    i = int(math.floor(place))
    share = place - i
    for putts in range(putt_law.shape[2]):
        at = min(strokes + putts + 1, pmf.size - 1)
        pmf[at] += weight * ((1.0 - share) * putt_law[row, i, putts] + share * putt_law[row, i + 1, putts])


@compiled
def take_steps(problem: Any, rest: Any, count: int, putt_law: Any, steps: Any, first: int, last: int) -> None:
    """Write where the balls of the rows ``first`` … ``last`` went, ``count`` each.

    ``steps.after`` [row, node] is the next state and ``steps.added`` the strokes counted. Balls that reach the green or
    the hole have ``after`` −1 and add their law of strokes to ``steps.green`` [row, strokes].
    """
    g, weight = problem.ground, 1.0 / count
    for row in range(first, last):
        pmf = steps.green[row]
        for k in range(count):
            i = (row - first) * count + k
            surface, added = int(rest.surface[i]), int(rest.added[i])
            steps.after[row, k], steps.added[row, k] = -1, added
            if rest.event[i] == HOLED:
                pmf[min(added, pmf.size - 1)] += weight
            elif g.kinds[surface, r.KIND_PUTTING] > 0.0:
                putt_out(problem, putt_law, rest.x[i], rest.y[i], added, weight, pmf)
            else:
                steps.after[row, k] = state_at(problem.states, surface, rest.x[i], rest.y[i])


@compiled
def pmf_layer(steps: Any, which: Any, pmf: Any, strokes: int, start: int, stop: int) -> None:
    """Write ``law[strokes, state]`` = P(exactly that many to go) from the layers below it, for the states ``which``."""
    weight = 1.0 / steps.after.shape[1]
    for row in range(start, stop):
        total = 0.0
        for i in range(steps.after.shape[1]):
            before = strokes - steps.added[row, i]
            if before > 0 and steps.after[row, i] >= 0:
                total += pmf[before, steps.after[row, i]]
        pmf[strokes, which[row]] = steps.green[row, strokes] + weight * total


@compiled
def worth_layer(steps: Any, worth: Any, down: Any, used: int, out: Any, start: int, stop: int) -> None:
    """Write ``out[row]`` = E[W(used + strokes, next)]; ``down[k]`` is what being down in k more is worth."""
    weight, most = 1.0 / steps.after.shape[1], worth.shape[0] - 1
    for row in range(start, stop):
        total = 0.0
        for i in range(steps.after.shape[1]):
            if steps.after[row, i] >= 0:
                total += worth[min(used + steps.added[row, i], most), steps.after[row, i]]
        total *= weight
        for strokes in range(down.size):
            total += steps.green[row, strokes] * down[strokes]
        out[row] = total


@compiled
def visit(steps: Any, which: Any, visits: Any, new: Any) -> None:
    """Add to ``new`` where a stroke takes balls at the states ``which``, ``visits`` [state] of them, on average."""
    weight = 1.0 / steps.after.shape[1]
    for row in range(which.size):
        share = weight * visits[which[row]]
        if share > 0.0:
            for i in range(steps.after.shape[1]):
                if steps.after[row, i] >= 0:
                    new[steps.after[row, i]] += share


@compiled
def step_laws(steps: Any, after: Any, used: int, out: Any, start: int, stop: int) -> None:
    """Write ``out`` [row, strokes], the law of strokes to go with ``used`` behind; ``after`` as in ``laws_of_rest``."""
    weight, last = 1.0 / steps.after.shape[1], after.shape[0] - 1
    for row in range(start, stop):
        pmf = out[row]
        for strokes in range(pmf.size):
            pmf[strokes] = steps.green[row, strokes]
        for i in range(steps.after.shape[1]):
            if steps.after[row, i] >= 0:
                added = int(steps.added[row, i])
                follow_on(after[min(used + added, last), steps.after[row, i]], added, weight, pmf)


@inlined
def follow_on(after: Any, added: int, weight: float, pmf: Any) -> None:
    """Add to ``pmf`` that of ``added`` strokes and those of ``after``; strokes beyond the last count as the last."""
    most = pmf.size - 1
    for more in range(1, most - added):
        pmf[added + more] += weight * after[more]
    for more in range(max(1, most - added), most + 1):
        pmf[most] += weight * after[more]


@compiled
def laws_of_rest(
    problem: Any, after: Any, putt_law: Any, rest: Any, count: int, out: Any, first: int, last: int
) -> None:
    """Add to ``out`` [row, strokes] the law of strokes of the balls of rows ``first`` … ``last``, ``count`` each.

    ``after`` [used, state, strokes] is the law of what follows by strokes used (the last row for more); strokes beyond
    the last count as the last.
    """
    g, weight, most = problem.ground, 1.0 / count, after.shape[0] - 1
    for row in range(first, last):
        here = out[row]
        for i in range((row - first) * count, (row - first + 1) * count):
            surface, added = int(rest.surface[i]), int(rest.added[i])
            if rest.event[i] == HOLED:
                here[min(added, here.size - 1)] += weight
            elif g.kinds[surface, r.KIND_PUTTING] > 0.0:
                putt_out(problem, putt_law, rest.x[i], rest.y[i], added, weight, here)
            else:
                state = state_at(problem.states, surface, rest.x[i], rest.y[i])
                follow_on(after[min(added, most), state], added, weight, here)
