"""The compiled part of the score law: where a policy takes each state, and the chance of k strokes to go.

With p(s → s′, a) the share of nodes that take state s to s′ with a strokes counted, and g(s, k) the chance to be down
in k by way of the green,

    P(k | s) = g(s, k) + Σ p(s → s′, a) · P(k − a | s′),   a ≥ 1,

so that each number of strokes follows from smaller ones, without iterating.
"""

from __future__ import annotations

import math
from typing import Any

from simcaddie.compiled import compiled
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.solve.nodes import NODE_X, NODE_Y
from simcaddie.solve.sweep import set_of

__all__ = ["first_law", "first_worth", "law_layer", "putt_out", "scatter", "spread", "step_out", "worth_layer"]


@compiled
def step_out(
    table: Any, to_go: Any, sets: Any, policy: Any, putt_law: Any, which: Any, steps: Any, start: int, stop: int
) -> None:
    """Write where each node takes each of the states ``which`` under a policy.

    A ball starts somewhere in the state's cell, as the node says, at the middle where the lie is another there.
    ``steps.after`` [row, node] is the next state and ``steps.added`` the strokes counted. Balls that reach the green
    or the hole have ``after`` −1 and add their law of strokes to ``steps.green`` [row, strokes].
    """
    s, g = table.states, table.ground
    weight = 1.0 / sets.shape[1]
    for row in range(start, stop):
        state = which[row]
        lie = int(s.lie[state])
        nodes = sets[set_of(g, s, state, sets.shape[0])]
        for i in range(nodes.shape[0]):
            x = s.xy[state, 0] + s.cell * nodes[i, NODE_X]
            y = s.xy[state, 1] + s.cell * nodes[i, NODE_Y]
            if state == s.start or k.kind_at(g, x, y) != lie:
                x, y = s.xy[state, 0], s.xy[state, 1]
            dx, dy = k.aim_line(g, x, y, policy.bearing[state])
            z = (nodes[i, 0], nodes[i, 1], nodes[i, 2], nodes[i, 3], nodes[i, 4], nodes[i, 5], nodes[i, 6])
            nx, ny, surface, strokes, event, _, _, _ = k.stroke(table, to_go, x, y, lie, policy.swing[state], dx, dy, z)
            steps.after[row, i], steps.added[row, i] = -1, strokes
            if event == k.HOLED:
                steps.green[row, min(strokes, steps.green.shape[1] - 1)] += weight
            elif g.kinds[surface, r.KIND_PUTTING] > 0.0:
                putt_out(table, putt_law, nx, ny, strokes, weight, steps.green[row])
            else:
                steps.after[row, i] = k.state_at(s, surface, nx, ny)


@compiled
def putt_out(table: Any, putt_law: Any, x: float, y: float, strokes: int, weight: float, law: Any) -> None:
    """Add to ``law`` the strokes of a ball on the green at (x, y) that took ``strokes`` to get there."""
    g, p = table.ground, table.putting
    row = k.tilt_row(g, p, x, y)
    place = min(math.hypot(x - g.pin_x, y - g.pin_y) / p.step, putt_law.shape[1] - 1.001)
    i = int(math.floor(place))
    share = place - i
    for putts in range(putt_law.shape[2]):
        at = min(strokes + putts + 1, law.size - 1)
        law[at] += weight * ((1.0 - share) * putt_law[row, i, putts] + share * putt_law[row, i + 1, putts])


@compiled
def law_layer(steps: Any, which: Any, law: Any, strokes: int, start: int, stop: int) -> None:
    """Write ``law[strokes, state]`` = P(exactly that many to go) from the layers below it, for the states ``which``."""
    weight = 1.0 / steps.after.shape[1]
    for row in range(start, stop):
        total = 0.0
        for i in range(steps.after.shape[1]):
            before = strokes - steps.added[row, i]
            if before > 0 and steps.after[row, i] >= 0:
                total += law[before, steps.after[row, i]]
        law[strokes, which[row]] = steps.green[row, strokes] + weight * total


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
def spread(steps: Any, visits: Any, new: Any) -> None:
    """Add to ``new`` where a stroke takes the balls that are at each state, ``visits`` [state], on average."""
    weight = 1.0 / steps.after.shape[1]
    for state in range(visits.size):
        if visits[state] > 0.0:
            for i in range(steps.after.shape[1]):
                if steps.after[state, i] >= 0:
                    new[steps.after[state, i]] += weight * visits[state]


@compiled
def scatter(
    table: Any, to_go: Any, nodes: Any, x: float, y: float, lie: int, swing: int, dx: float, dy: float, visits: Any
) -> None:
    """Add to ``visits`` [state] where first strokes from the exact place (x, y) come to rest."""
    g, s = table.ground, table.states
    for i in range(nodes.shape[0]):
        z = (nodes[i, 0], nodes[i, 1], nodes[i, 2], nodes[i, 3], nodes[i, 4], nodes[i, 5], nodes[i, 6])
        nx, ny, surface, _, event, _, _, _ = k.stroke(table, to_go, x, y, lie, swing, dx, dy, z)
        if event != k.HOLED and g.kinds[surface, r.KIND_PUTTING] == 0.0:
            visits[k.state_at(s, surface, nx, ny)] += 1.0 / nodes.shape[0]


@compiled
def first_law(
    table: Any,
    to_go: Any,
    law: Any,
    putt_law: Any,
    nodes: Any,
    x: float,
    y: float,
    lie: int,
    swing: int,
    dx: float,
    dy: float,
    out: Any,
) -> None:
    """Add to ``out`` the law of strokes from the exact place (x, y), a first stroke and the policy behind ``law``."""
    g, s = table.ground, table.states
    weight = 1.0 / nodes.shape[0]
    for i in range(nodes.shape[0]):
        z = (nodes[i, 0], nodes[i, 1], nodes[i, 2], nodes[i, 3], nodes[i, 4], nodes[i, 5], nodes[i, 6])
        nx, ny, surface, strokes, event, _, _, _ = k.stroke(table, to_go, x, y, lie, swing, dx, dy, z)
        if event == k.HOLED:
            out[strokes] += weight
        elif g.kinds[surface, r.KIND_PUTTING] > 0.0:
            putt_out(table, putt_law, nx, ny, strokes, weight, out)
        else:
            state = k.state_at(s, surface, nx, ny)
            for more in range(1, out.size):
                out[min(strokes + more, out.size - 1)] += weight * law[more, state]


@compiled
def first_worth(
    table: Any,
    to_go: Any,
    worth: Any,
    putt_law: Any,
    down: Any,
    nodes: Any,
    x: float,
    y: float,
    lie: int,
    swing: int,
    dx: float,
    dy: float,
) -> float:
    """Return the mean of ``worth`` [used, state] after a first stroke; ``down[k]`` is what being down in k is worth."""
    g, p, s = table.ground, table.putting, table.states
    total, most = 0.0, worth.shape[0] - 1
    for i in range(nodes.shape[0]):
        z = (nodes[i, 0], nodes[i, 1], nodes[i, 2], nodes[i, 3], nodes[i, 4], nodes[i, 5], nodes[i, 6])
        nx, ny, surface, strokes, event, _, _, _ = k.stroke(table, to_go, x, y, lie, swing, dx, dy, z)
        if event == k.HOLED:
            total += down[strokes]
        elif g.kinds[surface, r.KIND_PUTTING] > 0.0:
            row = k.tilt_row(g, p, nx, ny)
            place = min(k.distance(nx - g.pin_x, ny - g.pin_y) / p.step, putt_law.shape[1] - 1.001)
            j = int(math.floor(place))
            share = place - j
            for putts in range(putt_law.shape[2]):
                chance = (1.0 - share) * putt_law[row, j, putts] + share * putt_law[row, j + 1, putts]
                total += chance * down[min(strokes + putts + 1, most)]
        else:
            total += worth[min(strokes, most), k.state_at(s, surface, nx, ny)]
    return total / nodes.shape[0]
