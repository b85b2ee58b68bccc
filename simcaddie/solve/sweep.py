"""The compiled part of the solver: what an action is worth at a state, and the race between actions.

The worth of action a at state s is E[strokes + V(next)], the mean over the nodes of the stroke kernel. A node that
comes back to s itself (stroke and distance) enters as the factor 1/(1 − p): with p its share,

    V(s) = (Σ added over all nodes + Σ V(next) over those that leave) / number that leave.
"""

from __future__ import annotations

import math
from typing import Any, Final

from simcaddie.compiled import compiled
from simcaddie.play import kernel as k
from simcaddie.play import records as r

__all__ = [
    "NEVER",
    "action_sum",
    "candidates",
    "polish",
    "race",
    "set_of",
    "sweep_all",
    "sweep_few",
    "sweep_values",
    "worth",
]

NEVER: Final = 1.0e9
FINEST: Final = math.radians(2.0)  # no finer steps of an aim are tried


@compiled
def set_of(g: Any, s: Any, state: int, sets: int) -> int:
    """Return which set of nodes serves a state: neighbours differ, and a mirrored hole has the same."""
    row = int(math.floor((s.xy[state, 1] - s.y0) / s.cell))
    aside = int(math.floor(abs(s.xy[state, 0] - g.pin_x) / s.cell + 0.5))
    return (row * 29 + aside * 13) % sets


@compiled
def action_sum(table: Any, to_go: Any, sets: Any, low: int, high: int, state: int, swing: int, bearing: float) -> Any:
    """Return (Σ strokes and values, how many nodes come back to ``state``) over nodes ``low`` … ``high`` of its set.

    ``bearing`` in radians off the line to the pin.
    """
    g, s = table.ground, table.states
    x, y, lie = s.xy[state, 0], s.xy[state, 1], int(s.lie[state])
    dx, dy = k.aim_line(g, x, y, bearing)
    nodes = sets[set_of(g, s, state, sets.shape[0])]
    total, back = 0.0, 0
    for i in range(low, high):
        z = (nodes[i, 0], nodes[i, 1], nodes[i, 2], nodes[i, 3], nodes[i, 4], nodes[i, 5], nodes[i, 6])
        nx, ny, surface, added, event, _, _, _ = k.stroke(table, to_go, x, y, lie, swing, dx, dy, z)
        total += added
        if event == k.HOLED:
            continue
        if g.kinds[surface, r.KIND_PUTTING] > 0.0:
            total += k.mean_putts(g, table.putting, nx, ny)
        else:
            after = k.state_at(s, surface, nx, ny)
            if after == state:
                back += 1
            else:
                total += to_go[after]
    return total, back


@compiled
def worth(total: float, back: int, nodes: int) -> float:
    """Return the value from sums over ``nodes`` nodes."""
    return total / (nodes - back) if back < nodes else NEVER


@compiled
def race(table: Any, to_go: Any, plan: Any, state: int, swings: Any, bearings: Any, count: int, room: Any) -> Any:
    """Race ``count`` actions; after each stage those more than its margin behind the leader drop out.

    Returns (index of the winner, value).
    """
    for c in range(count):
        room.total[c], room.back[c], room.alive[c] = 0.0, 0, True
    low, winner, best = 0, 0, NEVER
    for stage in range(plan.stages.size):
        high = plan.stages[stage]
        best = NEVER
        for c in range(count):
            if room.alive[c]:
                more, again = action_sum(table, to_go, plan.nodes, low, high, state, swings[c], bearings[c])
                room.total[c] += more
                room.back[c] += again
                value = worth(room.total[c], room.back[c], high)
                if value < best:
                    best, winner = value, c
        for c in range(count):
            if room.alive[c] and worth(room.total[c], room.back[c], high) > best + plan.margins[stage]:
                room.alive[c] = False
        low = high
    return winner, best


@compiled
def candidates(table: Any, plan: Any, state: int, room: Any) -> int:
    """Write every sensible action at a state into ``room``; return how many.

    Usable swings along the ``fan`` of lines, or ``all_round`` from lies that only leave gaps; unless
    ``every`` one is asked for, none that fly far past the pin or less than half as far as one would go. Touch shots
    where the pin is near, and where the lie is bad.
    """
    g, s, table_of = table.ground, table.states, table.swings.table
    lie = int(s.lie[state])
    away = k.distance(g.pin_x - s.xy[state, 0], g.pin_y - s.xy[state, 1])
    number = table_of.shape[1]
    count, shortest, longest = 0, NEVER, 0.0
    for swing in range(number):
        if table_of[lie, swing, r.SW_USABLE] > 0.0:
            carry = table_of[lie, swing, r.SW_SOLID + r.STRIKE_CARRY]
            shortest, longest = min(shortest, carry), max(longest, carry)
    bad = table_of[lie, 0, r.SW_GAP] < 1.0 or table_of[lie, 0, r.SW_FAIL] > 0.2
    lines = plan.all_round if bad else plan.fan
    low, high = (0.0, NEVER) if plan.every or bad else (0.5 * min(longest, away), max(shortest, away + 25.0))
    for swing in range(number):
        carry = table_of[lie, swing, r.SW_SOLID + r.STRIKE_CARRY]
        if table_of[lie, swing, r.SW_USABLE] > 0.0 and low <= carry <= high:
            for i in range(lines.size):
                room.swings[count], room.bearings[count] = swing, lines[i]
                count += 1
    if plan.every or bad or count == 0 or away < 1.25 * table.touch.table[lie, r.TOUCH_LONGEST]:
        for reach in range(table.touch.reach.size):
            for i in range(lines.size):
                room.swings[count], room.bearings[count] = number + reach, lines[i]
                count += 1
    return count


@compiled
def polish(table: Any, to_go: Any, plan: Any, state: int, swing: int, bearing: float, value: float) -> Any:
    """Return (bearing, value) after halving steps about a bearing, from ``plan.step`` down to a degree or so."""
    step, use = plan.step, plan.stages[plan.stages.size - 1]
    while step > FINEST:
        total, back = action_sum(table, to_go, plan.nodes, 0, use, state, swing, bearing - step)
        low = worth(total, back, use)
        total, back = action_sum(table, to_go, plan.nodes, 0, use, state, swing, bearing + step)
        high = worth(total, back, use)
        if low < value and low <= high:
            bearing, value = bearing - step, low
        elif high < value:
            bearing, value = bearing + step, high
        step *= 0.5
    return bearing, value


@compiled
def sweep_all(table: Any, to_go: Any, plan: Any, choice: Any, room: Any, order: Any, start: int, stop: int) -> None:
    """Choose among all actions at the states ``order[start:stop]``; write swing, bearing and new value."""
    for i in range(start, stop):
        state = order[i]
        count = candidates(table, plan, state, room)
        winner, value = race(table, to_go, plan, state, room.swings, room.bearings, count, room)
        swing = room.swings[winner]
        bearing, value = polish(table, to_go, plan, state, swing, room.bearings[winner], value)
        choice.swing[state], choice.bearing[state], choice.new[state] = swing, bearing, value


@compiled
def sweep_few(
    table: Any, to_go: Any, plan: Any, few: Any, choice: Any, room: Any, order: Any, start: int, stop: int
) -> None:
    """Choose among the few actions per state of ``few`` (swing and bearing [state, most], many [state])."""
    for i in range(start, stop):
        state = order[i]
        swings, bearings = few.swing[state], few.bearing[state]
        winner, value = race(table, to_go, plan, state, swings, bearings, few.many[state], room)
        bearing, value = polish(table, to_go, plan, state, swings[winner], bearings[winner], value)
        choice.swing[state], choice.bearing[state], choice.new[state] = swings[winner], bearing, value


@compiled
def sweep_values(table: Any, to_go: Any, nodes: Any, choice: Any, order: Any, start: int, stop: int) -> None:
    """Value the chosen action again at the states ``order[start:stop]``."""
    for i in range(start, stop):
        state = order[i]
        total, back = action_sum(
            table, to_go, nodes, 0, nodes.shape[1], state, choice.swing[state], choice.bearing[state]
        )
        choice.new[state] = worth(total, back, nodes.shape[1])
