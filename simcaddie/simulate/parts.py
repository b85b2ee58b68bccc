"""Whole sequences with every stroke counted under its part of the game, so that the parts add up to the score.

Putting is all that is played on the green, touch every feel shot, approach every other swing that follows a tee shot.
The first stroke counts as tee where the caller says so: on par 4s and longer, as is usual; a par 3's is an approach.
Penalty strokes stand apart. Where the ball is picked up at the cap, strokes beyond it are left out.

Strokes may be counted by swing as well, in columns of their own after the parts.

The sequences are those that ``play_sequences`` plays with the same key.
"""

from __future__ import annotations

from typing import Any, Final

import numpy as np
from numpy.typing import NDArray

from simcaddie.compiled import compiled
from simcaddie.play import kernel as k
from simcaddie.play import records as r
from simcaddie.simulate.sequences import draws
from simcaddie.workers import share_out

__all__ = ["APPROACH", "BY_SWING", "PARTS", "PENALTIES", "PUTTING", "TEE", "TOUCH", "play_parts"]

PARTS: Final = ("tee", "approach", "touch", "putting", "penalties")
TEE, APPROACH, TOUCH, PUTTING, PENALTIES = range(5)
BY_SWING: Final = len(PARTS)  # the first column of strokes by swing


@compiled
def _counted(counts: Any, i: int, part: int, added: int, room: int) -> int:
    """Count a stroke and its penalties as far as the cap leaves room; return what was counted."""
    stroke = min(1, room)
    penalties = min(added - 1, room - stroke)
    counts[i, part] += stroke
    counts[i, PENALTIES] += penalties
    return stroke + penalties


@compiled
def _play(
    table: Any, policy: Any, to_go: Any, key: Any, cap: int, first: int, rest: Any, counts: Any, start: int, stop: int
) -> None:
    g, swings = table.ground, table.swings.table.shape[1]
    gusts = table.day.table.shape[2] > 1
    for i in range(start, stop):
        begin, sign = k.stream(key, i >> 1), 1.0 - 2.0 * (i & 1)
        x, y, lie = rest.x[i], rest.y[i], int(rest.surface[i])
        score = _counted(counts, i, first, int(rest.added[i]), cap)
        holed = rest.event[i] == k.HOLED
        stroke = 1
        while not holed and score < cap:
            if g.kinds[lie, r.KIND_PUTTING] > 0.0:
                putts = k.putts(g, table.putting, x, y, k.uniform(begin, stroke * r.DRAWS))
                counts[i, PUTTING] += min(putts, cap - score)
                break
            state = k.state_at(table.states, lie, x, y)
            swing = policy.swing[state]
            dx, dy = k.aim_line(g, x, y, policy.bearing[state])
            x, y, lie, added, event, _, _, _ = k.stroke(
                table, to_go, x, y, lie, swing, dx, dy, draws(begin, stroke, sign, gusts)
            )
            holed = event == k.HOLED
            score += _counted(counts, i, TOUCH if swing >= swings else APPROACH, added, cap - score)
            if counts.shape[1] > BY_SWING:
                counts[i, BY_SWING + min(swing, swings)] += 1
            stroke += 1


def play_parts(
    table: r.Table,
    policy: r.Policy,
    value: r.Value,
    first: r.Rest,
    key: np.uint64,
    *,
    part: int = TEE,
    cap: int = 12,
    swing: int | None = None,
) -> NDArray[np.int8]:
    """Play on from the balls of ``first`` with ``policy`` and count the strokes by part.

    Returns
    -------
    int8[n, 5], in the order of ``PARTS``; a row adds up to the score that ``play_sequences`` gives, at most ``cap``.
    ``part`` is where the first stroke counts. With ``swing``, that of the first stroke, a column for every swing
    follows and one for touch shots: int8[n, 5 + swings + 1].
    """
    swings = table.swings.table.shape[1]
    counts = np.zeros((first.x.size, len(PARTS) + (0 if swing is None else swings + 1)), np.int8)
    if swing is not None:
        counts[:, BY_SWING + min(swing, swings)] = 1

    def work(start: int, stop: int) -> None:
        _play(table, policy, value.to_go, key, cap, int(part), first, counts, start, stop)

    share_out(work, first.x.size, least=1000)
    return counts
