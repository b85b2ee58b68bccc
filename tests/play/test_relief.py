"""Relief under the Rules of Golf (2023): where a ball may be dropped, and where it last crossed an edge.

The strokes to go that choose between the options are drawn at random here: whichever is taken, the Rule
must hold.
"""

from __future__ import annotations

import math
from functools import cache
from typing import Any

import numpy as np
import pytest
import shapely
from helpers import box, club_golfer, draws, lawn, played
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, Polygon
from shapely import Point as GeoPoint

from simcaddie.base.compiled import compiled
from simcaddie.base.surfaces import BY_NAME, SURFACES, code
from simcaddie.course.distances import visible
from simcaddie.course.hole import Area, Hole
from simcaddie.model import arrays as r
from simcaddie.model import relief
from simcaddie.model.build import pack
from simcaddie.model.heuristics import guess_to_go
from simcaddie.model.states import states_at

TEE = (0.0, 0.0)
PIN = (5.0, 330.0)
TWO_CLUB_LENGTHS = 2.5  # yd: a driver of about 45 in (Definitions, "Club-Length")
TO_THE_CENTRE = 0.36  # yd: no point of a half-yard cell is further from its centre
NO_WORSE = 1e-6

relieved = settings(max_examples=150, deadline=None)
places = st.tuples(st.floats(-70, 70), st.floats(60, 280))


def blob(seed: int, x: float, y: float, size: float) -> Polygon:
    rng = np.random.default_rng(seed)
    angle = np.linspace(0, 2 * np.pi, 90, endpoint=False)
    radius = 1 + sum(
        rng.uniform(-0.5, 0.5) / n * np.cos(n * angle + rng.uniform(0, 6.3)) for n in range(1, 7)
    )
    radius = size * np.maximum(radius, 0.3)
    return Polygon(np.column_stack([x + radius * np.cos(angle), y + radius * np.sin(angle)]))


@cache
def ground(seed: int, marking: str, *, local_rule: bool = False) -> tuple[Hole, r.Problem]:
    """Return a hole with lopsided water, a second pond, fairway, gorse, a bunker and a boundary."""
    hole = Hole(
        "Relief (invented)",
        4,
        {"t": TEE},
        {"p": PIN},
        (
            Area("fairway", blob(seed + 50, 0, 160, 70)),
            Area("green", GeoPoint(PIN).buffer(13)),
            Area("water", blob(seed, 0, 170, 30), marking=marking, name="lake"),
            Area("water", box(-70, 215, -40, 240), marking="red", name="pond"),
            Area("gorse", blob(seed + 90, 45, 200, 16)),
            Area("bunker", box(-30, 130, -18, 142)),
        ),
        boundary=box(-95, -40, 95, 380),
        local_rules=frozenset({"E-5"} if local_rule else ()),
    )
    return hole, pack(hole, club_golfer(), hole.place(), PIN)


# The Rules as the kernel has them: put inside its own code, so each is called here from a small function of ours.


@compiled
def last_crossing(g: Any, area: int, x: float, y: float, lx: float, ly: float, ex: float, ey: float) -> Any:
    return relief.last_crossing(g, area, x, y, lx, ly, ex, ey)


@compiled
def penalty_relief(
    g: Any, s: Any, to_go: Any, x: float, y: float, lie: int, lx: float, ly: float, ex: float, ey: float
) -> Any:
    return relief.penalty_relief(g, s, to_go, x, y, lie, lx, ly, ex, ey)


@compiled
def unplayable_relief(g: Any, s: Any, to_go: Any, x: float, y: float, lie: int, ex: float, ey: float) -> Any:
    return relief.unplayable_relief(g, s, to_go, x, y, lie, ex, ey)


@compiled
def stroke_and_distance(g: Any, s: Any, to_go: Any, x: float, y: float, lie: int, px: float, py: float) -> Any:
    return relief.stroke_and_distance(g, s, to_go, x, y, lie, px, py)


@compiled
def nearest_fairway(g: Any, x: float, y: float) -> Any:
    return relief.nearest_fairway(g, x, y)


def cell_at(g: r.Ground, x: float, y: float) -> tuple[int, int]:
    iy, ix = math.floor((y - g.y0) / g.cell), math.floor((x - g.x0) / g.cell)
    return min(max(iy, 0), g.rows - 1), min(max(ix, 0), g.columns - 1)


def kinds(g: r.Ground) -> np.ndarray:
    return g.word.reshape(g.rows, g.columns) & r.WORD_KIND


def kind_at(g: r.Ground, x: float, y: float) -> int:
    return int(kinds(g)[cell_at(g, x, y)])


def area_at(g: r.Ground, x: float, y: float) -> int:
    return int(g.area[cell_at(g, x, y)])


def state_at(s: r.States, lie: int, x: float, y: float) -> int:
    return int(states_at(s, lie, x, y))


@cache
def values(seed: int, size: int) -> np.ndarray:
    return np.random.default_rng(seed).uniform(2.0, 6.0, size)


def wet(problem: r.Problem, area: int, pick: int) -> tuple[float, float]:
    """Return a place in an area: the centre of one of its cells."""
    g = problem.ground
    iy, ix = np.nonzero(g.area == area)
    n = pick % iy.size
    return g.x0 + (ix[n] + 0.5) * g.cell, g.y0 + (iy[n] + 0.5) * g.cell


def far(place: tuple[float, ...]) -> float:
    return math.dist(place[:2], PIN)


def beside_the_line(place: tuple[float, ...], through: tuple[float, float]) -> float:
    """Return how far a place lies from the line from the hole through a point, beyond it."""
    ux, uy = np.subtract(through, PIN) / far(through)
    assert (place[0] - through[0]) * ux + (place[1] - through[1]) * uy >= -NO_WORSE
    return abs((place[0] - through[0]) * uy - (place[1] - through[1]) * ux)


def first_out(path: LineString, shape: shapely.Geometry) -> float:
    """Return how far along a path its first point outside a shape is."""
    outside = path.difference(shape)
    if outside.is_empty:
        return math.inf
    return min(path.project(GeoPoint(at)) for at in shapely.get_coordinates(outside))


@relieved
@given(st.integers(0, 5), st.integers(0, 10**6), places, places, st.booleans())
def test_the_last_crossing_is_the_last(seed, pick, landing, start, carried):
    """Against shapely on the exact path: start → landing → rest, followed backward."""
    hole, problem = ground(seed, "red")
    lake = visible(hole, 2)
    rest = wet(problem, 2, pick)
    landing = rest if carried else landing
    path = LineString([rest, landing, start]) if landing != rest else LineString([rest, start])
    assume(lake.distance(GeoPoint(start)) > 2 and path.is_simple)
    assume(min(math.dist(start, landing), math.dist(start, rest)) > 1)
    found = last_crossing(problem.ground, 2, *start, *landing, *rest)
    assert area_at(problem.ground, *found) != 2
    # The grid's lake lies between the drawn one shrunk and grown; the path is looked at every half yard.
    back = path.project(GeoPoint(found))
    assert path.distance(GeoPoint(found)) < 1e-9
    assert first_out(path, lake.buffer(-TO_THE_CENTRE)) - 1e-6 <= back
    assert back <= first_out(path, lake.buffer(TO_THE_CENTRE + relief.BACK_STEP / 2)) + relief.BACK_STEP / 2 + 1e-6
    assert lake.boundary.distance(GeoPoint(found)) < 1.0


@pytest.mark.parametrize("offset", np.linspace(0, 1, 7))
def test_square_across_an_edge_the_crossing_is_within_a_yard(offset):
    _, problem = ground(0, "red")
    # The pond's near edge lies 215 yd up; the ball comes straight up the hole and stops in it.
    found = last_crossing(problem.ground, 3, -55.0, 20.0, -55.0, 200.0, -55.0, 225.0 + offset)
    assert found[0] == pytest.approx(-55.0)
    assert 214.0 < found[1] <= 215.0


def test_of_two_crossings_the_last_counts():
    _, problem = ground(0, "red")
    # Over the pond from below, pitching beyond it at 250 yd, and rolling back in over the far edge at 240 yd.
    x, y = last_crossing(problem.ground, 3, -55.0, 20.0, -55.0, 250.0, -55.0, 230.0)
    assert (x, y) == (pytest.approx(-55.0), pytest.approx(240.0, abs=1.0))


@relieved
@given(
    st.integers(0, 5),
    st.sampled_from(["red", "yellow"]),
    st.integers(0, 10**6),
    st.tuples(places, places),
    st.integers(0, 30),
)
def test_penalty_relief_is_what_rule_17_allows(seed, marking, pick, path, chance):
    landing, start = path
    _, problem = ground(seed, marking)
    g = problem.ground
    assume(SURFACES[kind_at(g, *start)].name in {"rough", "fairway", "bunker"})
    rest, lie = wet(problem, 2, pick), kind_at(g, *start)
    to_go = values(chance, problem.states.lie.size)
    x, y, surface = penalty_relief(g, problem.states, to_go, *start, lie, *landing, *rest)
    crossing = last_crossing(g, 2, *start, *landing, *rest)
    if (x, y) == start:  # 17.1d(1), stroke and distance
        assert surface == lie
        return
    assert surface == kind_at(g, x, y)
    assert not SURFACES[surface].penalty
    assert not SURFACES[surface].out
    assert area_at(g, x, y) != 2  # not in the same penalty area
    assert far((x, y)) >= far(crossing) - NO_WORSE  # not nearer the hole
    sideways = marking == "red" and math.dist((x, y), crossing) <= TWO_CLUB_LENGTHS + NO_WORSE  # 17.1d(3)
    assert sideways or beside_the_line((x, y), crossing) < NO_WORSE  # 17.1d(2)
    state = state_at(problem.states, surface, x, y)
    assert to_go[state] <= to_go[state_at(problem.states, lie, *start)]  # chosen because it is no worse


def test_each_kind_of_penalty_relief_is_taken_when_it_is_best():
    _, problem = ground(1, "red")
    g, s = problem.ground, problem.states
    rest = wet(problem, 2, 400)
    again = state_at(s, code("tee"), *TEE)
    crossing = last_crossing(g, 2, *TEE, *rest, *rest)
    near = np.hypot(s.xy[:, 0] - crossing[0], s.xy[:, 1] - crossing[1])
    for best, taken in (
        ("tee", lambda d: d > 50),
        ("beside", lambda d: d <= 2.5 + 1e-9),
        ("back", lambda d: 5 < d < 50),
    ):
        to_go = np.full(s.lie.size, 5.0)
        if best == "tee":
            to_go[again] = 2.0
        else:
            to_go[again] = 6.0
            to_go[near < 4 if best == "beside" else (near > 10) & (near < 45)] = 3.0
        x, y, _ = penalty_relief(g, s, to_go, *TEE, code("tee"), *rest, *rest)
        assert taken(math.dist((x, y), crossing)), best


@relieved
@given(st.integers(0, 5), st.integers(0, 10**6), places, st.integers(0, 30))
def test_unplayable_relief_is_what_rule_19_allows(seed, pick, start, chance):
    _, problem = ground(seed, "red")
    g = problem.ground
    assume(SURFACES[kind_at(g, *start)].name in {"rough", "fairway", "bunker"})
    ball, lie = wet(problem, 4, pick), kind_at(g, *start)
    to_go = values(chance, problem.states.lie.size)
    x, y, surface = unplayable_relief(g, problem.states, to_go, *start, lie, *ball)
    if (x, y) == start:  # 19.2a
        assert surface == lie
        return
    assert surface == kind_at(g, x, y)
    assert not SURFACES[surface].penalty
    assert not SURFACES[surface].out
    assert far((x, y)) >= far(ball) - NO_WORSE
    within = math.dist((x, y), ball) <= TWO_CLUB_LENGTHS + NO_WORSE  # 19.2c
    assert within or beside_the_line((x, y), ball) < NO_WORSE  # 19.2b


def test_lost_or_out_of_bounds_is_stroke_and_distance():
    _, problem = ground(2, "yellow")
    to_go = values(0, problem.states.lie.size)
    assert stroke_and_distance(problem.ground, problem.states, to_go, *TEE, code("tee"), 200.0, 200.0) == (
        *TEE,
        code("tee"),
        2,
    )


@settings(max_examples=40, deadline=None)
@given(st.integers(0, 5), places, st.integers(0, 30))
def test_the_nearest_fairway_of_local_rule_e5(seed, ball, chance):
    """Model Local Rule E-5: the nearest fairway no nearer the hole than the ball; two penalty strokes."""
    _, problem = ground(seed, "red", local_rule=True)
    g = problem.ground
    iy, ix = np.nonzero(kinds(g) == code("fairway"))
    x, y = g.x0 + (ix + 0.5) * g.cell, g.y0 + (iy + 0.5) * g.cell
    allowed = np.hypot(x - PIN[0], y - PIN[1]) >= far(ball)
    found, fx, fy = nearest_fairway(g, *ball)
    assert found == allowed.any()
    if found:
        assert math.dist((fx, fy), ball) == pytest.approx(np.hypot(x - ball[0], y - ball[1])[allowed].min())
        assert far((fx, fy)) >= far(ball)
    to_go = values(chance, problem.states.lie.size)
    *place, surface, added = stroke_and_distance(g, problem.states, to_go, *TEE, code("tee"), *ball)
    assert (tuple(place), surface, added) in {(TEE, code("tee"), 2), ((fx, fy), code("fairway"), 3)}


def test_local_rule_e5_is_used_only_where_adopted_and_when_it_pays():
    for local_rule in (False, True):
        _, problem = ground(2, "yellow", local_rule=local_rule)
        to_go = np.full(problem.states.lie.size, 3.0)
        for tee, wanted in ((3.9, 2), (4.1, 3 if local_rule else 2)):
            to_go[state_at(problem.states, code("tee"), *TEE)] = tee
            assert (
                stroke_and_distance(problem.ground, problem.states, to_go, *TEE, code("tee"), 80.0, 170.0)[3]
                == wanted
            )


@pytest.mark.parametrize("kind", ["gorse", "heather", "trees", "rough"])
def test_a_stroke_loses_as_many_balls_as_its_ground_does(kind):
    """Of those found some are unplayable: stroke and distance (Rule 18.2), or relief (19.2), one stroke each."""
    n, stock = 20_000, BY_NAME[kind]
    rest = played(lawn(kind)[1], 0.0, 0.0, code("tee"), 4, 0.3, draws(find=(np.arange(n) + 0.5) / n))
    assert (rest.finish == code(kind)).all()
    lost, unplayable = rest.event == r.Event.LOST, rest.event == r.Event.UNPLAYABLE
    assert lost.mean() == pytest.approx(stock.lost, abs=1.5 / n)
    assert unplayable.mean() == pytest.approx((1 - stock.lost) * stock.unplayable, abs=1.5 / n)
    assert (rest.added == 1 + (lost | unplayable)).all()
    assert (rest.x[lost] == 0.0).all()
    assert (rest.y[lost] == 0.0).all()
    assert (rest.surface[lost] == code("tee")).all()


def test_strokes_count_and_place_balls_by_the_rules():
    """Whole strokes of every kind: what the kernel's last stage makes of where the ball ended."""
    _, problem = ground(1, "red")
    rng, n = np.random.default_rng(2), 20_000
    z = np.vstack([rng.standard_normal((3, n)), rng.uniform(0, 1, (3, n)), np.zeros(n)])
    x, y, bearing = rng.uniform(-60, 60, n), rng.uniform(0, 120, n), rng.uniform(-0.9, 0.9, n)
    rest = played(problem, x, y, code("rough"), 4, bearing, z)
    drowned, out = rest.event == r.Event.PENALTY_AREA, rest.event == r.Event.OUT_OF_BOUNDS
    lost, unplayable = rest.event == r.Event.LOST, rest.event == r.Event.UNPLAYABLE
    assert min(np.sum(which) for which in (drowned, out, lost, unplayable)) > 50
    assert (drowned == (rest.finish == code("water"))).all()
    assert (out == (rest.finish == code("out_of_bounds"))).all()
    assert (rest.finish[lost | unplayable] == code("gorse")).all()
    assert (rest.added == 1 + (drowned | out | lost | unplayable)).all()
    again = (rest.x == x) & (rest.y == y)
    assert again[out | lost].all()
    assert not again[~(out | lost | drowned | unplayable)].any()
    # Where the ball ended: the same strokes on ground that no Rule looks at.
    g, s, to_go = problem.ground, problem.states, guess_to_go(problem).to_go
    lawless = problem._replace(ground=g._replace(word=g.word & ~np.uint16(r.WORD_RULES)))
    end = played(lawless, x, y, code("rough"), 4, bearing, z)
    assert np.isin(end.event, [r.Event.PLAYED, r.Event.FAILED]).all()
    assert sum((drowned | unplayable) & ~again) > 50
    for i in np.flatnonzero(drowned | unplayable)[:300]:
        start, stop = (x[i], y[i], code("rough")), (end.x[i], end.y[i])
        landing = rest.landing_x[i], rest.landing_y[i]
        if drowned[i]:
            wanted = penalty_relief(g, s, to_go, *start, *landing, *stop)
        else:
            wanted = unplayable_relief(g, s, to_go, *start, *stop)
        assert (rest.x[i], rest.y[i], rest.surface[i]) == wanted
    lies = ~(drowned | out | lost | unplayable)
    assert (rest.x[lies] == end.x[lies]).all()
    assert (rest.y[lies] == end.y[lies]).all()
