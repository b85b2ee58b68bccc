"""When would the other option be as good? How far one thing would have to change, everything else as it is.

Each of these is changed alone, both options keeping their aims: how often club B is mishit, its spread to the side,
the trust given to it, the place of the hazard that makes most of the difference. ``turning`` says how a point is
found and checked.

A changed club is changed for every stroke of the hole. A hazard moves along B's aim line; what it leaves behind is
the ground that lay under it.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Final

import shapely

from simcaddie.golfer.pattern import course_pattern
from simcaddie.golfer.player import Trust
from simcaddie.ground.hole import Hole
from simcaddie.strategy.moved import dearest_area, moved, on_ground
from simcaddie.strategy.pick import pick_two
from simcaddie.strategy.request import Comparison
from simcaddie.strategy.retuned import on_patterns, with_mishits, with_spread, with_trust
from simcaddie.strategy.turning import SURE_SE, TRUST, Kind, Pair, SwitchPoint, Thing, leads, search

__all__ = ["HAZARD", "MISHITS", "SPREAD", "THINGS", "SwitchPoint", "switch_points"]

MISHITS: Final = (0.0, 0.6, 0.02)  # share of strokes on the course: lowest, highest, step
SPREAD: Final = (0.2, 3.0, 0.1)  # times what it is
HAZARD: Final = (-60.0, 60.0, 10.0)  # yd along the line
CLEARANCE: Final = 15.0  # yd that a moved hazard keeps from the place asked
SEQUENCES: Final = 60_000
_SETS: Final = 64  # of first balls: they tell which hazard matters


def _mishits(pair: Pair) -> SwitchPoint:
    scene, number, lie = pair.answer.scene, pair.b.option.swing, pair.answer.scene.place.lie
    player = scene.player
    pattern = course_pattern(player, player.swings[number], player.lies[lie])
    thing = Thing(
        "mishits",
        "mishits",
        pattern.fat.share + pattern.thin.share,
        MISHITS,
        lambda share: on_patterns(scene, with_mishits(player, number, lie, share)),
        lambda share: pair.anew(scene.hole, with_mishits(player, number, lie, share)),
    )
    return search(pair, thing)


def _spread(pair: Pair) -> SwitchPoint:
    scene, number, lie = pair.answer.scene, pair.b.option.swing, pair.answer.scene.place.lie
    player = scene.player
    thing = Thing(
        "spread",
        "side spread",
        1.0,
        SPREAD,
        lambda times: on_patterns(scene, with_spread(player, number, times)),
        lambda times: pair.anew(scene.hole, with_spread(player, number, times)),
        course_pattern(player, player.swings[number], player.lies[lie]).solid.side_sd,
    )
    return search(pair, thing)


def _leads(pair: Pair, gap: float, trust: Trust) -> bool:
    """Tell whether b stands before a where b is trusted so much."""
    return leads(gap, pair.answer.objective.level, trust, pair.a.trust)


def _trust(pair: Pair) -> SwitchPoint:
    """Try the other degrees of trust: there is no root to find among three."""
    scene, number = pair.answer.scene, pair.b.option.swing
    now = scene.player.swings[number].trust
    changed = {trust: with_trust(scene.player, number, trust) for trust in TRUST}
    gaps = {trust: pair.gap(on_patterns(scene, player)) for trust, player in changed.items()}
    point = pair.point("trust", "trust", now, gaps[now], min(gaps.values(), key=abs))
    turns = [t for t in TRUST if _leads(pair, gaps[t], t) != _leads(pair, gaps[now], now)]
    if not turns:
        return point
    at = min(turns, key=lambda t: abs(TRUST.index(t) - TRUST.index(now)))
    return pair.checked(
        point,
        at,
        pair.anew(scene.hole, changed[at]),
        lambda rerun, se: any(
            _leads(pair, rerun + by * SURE_SE * se, at) == _leads(pair, gaps[at], at) for by in (-1.0, 0.0, 1.0)
        ),
    )


def _hazard(pair: Pair) -> SwitchPoint:
    """Move the hazard that costs the option behind most more than the other."""
    scene, gap = pair.answer.scene, pair.gap(pair.answer.scene)
    back, ahead = (pair.b, pair.a) if gap > 0.0 else (pair.a, pair.b)
    balls = [scene.balls(m.option.swing, m.option.aim, _SETS) for m in (back, ahead)]
    number = dearest_area(scene.hole, *balls)
    if number is None:
        return pair.point("hazard", "", 0.0, gap, gap)
    area = scene.hole.areas[number]
    room = max(0.0, float(shapely.Point(scene.place.at).distance(area.outline)) - CLEARANCE)
    low, high, step = HAZARD

    def hole_with(far: float) -> Hole:
        return moved(scene.hole, number, pair.b.bearing, far)

    thing = Thing(
        "hazard",
        area.title,
        0.0,
        (max(low, -room), high, step),
        lambda far: on_ground(scene, hole_with(far)),
        lambda far: pair.anew(hole_with(far), scene.player),
    )
    return search(pair, thing)


_FIND: Final[dict[Kind, Callable[[Pair], SwitchPoint]]] = {
    "mishits": _mishits,
    "spread": _spread,
    "trust": _trust,
    "hazard": _hazard,
}
THINGS: Final[tuple[Kind, ...]] = tuple(_FIND)


def switch_points(
    answer: Comparison, a: str, b: str, *, things: Sequence[Kind] = THINGS, sequences: int = SEQUENCES
) -> tuple[SwitchPoint, ...]:
    """Return how far one thing at a time would have to change for ``b`` to be as good as ``a``.

    Parameters
    ----------
    answer : a comparison that holds both
    a, b : clubs or swings by name, each along its best aim; where ``b`` is ahead, the points are where it is no
        longer
    things : what may change
    sequences : played per option in a re-run

    Returns
    -------
    A point for each of ``things``; a touch shot has none but the hazard's

    Raises
    ------
    BadRequest
        A name that isn't among the options, or twice the same option.
    """
    pair = Pair(answer, *pick_two(answer, a, b), sequences)
    touch = pair.b.option.swing >= len(answer.scene.player.swings)
    return tuple(_FIND[thing](pair) for thing in things if thing == "hazard" or not touch)
