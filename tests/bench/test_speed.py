"""How fast, against plain numpy in the same run, and how the cost grows.

``pytest tests/bench -m bench`` prints the table; without the mark only the check that both sweeps agree is run.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial

import numpy as np
import numpy_sweep
import pytest
from clocked import ROWS, best_time, growth
from helpers import CARRIES, box, busy_hole, club, club_golfer

from simcaddie.air.day import Day
from simcaddie.files import find_hole, find_player, read_hole, read_player
from simcaddie.golfer.player import Player
from simcaddie.ground.grid import AreaGrid, area_grid
from simcaddie.ground.hole import Area, Hole
from simcaddie.play import records as r
from simcaddie.play.everyday import everyday, guess_to_go
from simcaddie.play.pack import pack
from simcaddie.play.states import build_states
from simcaddie.simulate import first_strokes, play_sequences
from simcaddie.solve import search, solve, sweep
from simcaddie.solve.nodes import CHOOSE, stroke_nodes
from simcaddie.streams import kernel_key
from simcaddie.surfaces import NAMES, Lie, code

PLACE = (0.0, 0.0, code("tee"))
NODES = stroke_nodes(64, CHOOSE)
N = 1_000_000


def plain_hole() -> Hole:
    """Return 400 yd of fairway, rough, bunkers and green: all that the numpy version knows."""
    return Hole(
        "Plain (invented)",
        4,
        {"t": (0.0, 0.0)},
        {"p": (4.0, 400.0)},
        (
            Area("fairway", box(-18, 120, 16, 375)),
            Area("light_rough", box(-26, 110, 25, 385)),
            Area("green", box(-9, 387, 18, 414)),
            Area("bunker", box(18, 215, 30, 235)),
            Area("bunker", box(-20, 380, -9, 398)),
        ),
    )


def scene(player: Player) -> tuple[r.Table, AreaGrid]:
    hole = plain_hole()
    grid = area_grid(hole)
    return pack(hole, player, hole.place(), hole.pin(), grid=grid), grid


def plain_bag(clubs: int) -> Player:
    """Return a golfer with ``clubs`` full swings, usable from every lie."""
    bag = tuple(club(name, carry) for name, carry in list(CARRIES.items())[:6] for _ in range(2))[:clubs]
    return club_golfer(bag=bag, lies={name: Lie() for name in NAMES})


def a_choice(table: r.Table, player: Player) -> search.Choice:
    """Return sensible play with every kind of swing in it, touch shots too."""
    policy = everyday(table, player, "sound", (4.0, 400.0))
    value = guess_to_go(table).to_go
    return search.Choice(policy.swing, policy.bearing, value, value.copy())


def compiled_sweep(table: r.Table, choice: search.Choice, which: np.ndarray) -> None:
    sweep.sweep_values(table, choice.value, NODES[None], choice, which, 0, which.size)


def test_the_compiled_sweep_and_the_numpy_one_agree():
    table, grid = scene(club_golfer())
    table = table._replace(states=build_states(grid, PLACE, 4.0))
    assert numpy_sweep.plain(table)
    choice, which = a_choice(table, club_golfer()), search.every(table)
    assert (choice.swing >= table.swings.table.shape[1]).any()
    compiled_sweep(table, choice, which)
    mine = numpy_sweep.sweep(table, choice.value, NODES[None], r.Policy(choice.swing, choice.bearing), which)
    assert np.abs(mine - choice.new).max() < 1e-9


def test_the_numpy_sweep_knows_its_limits():
    hole = busy_hole()
    assert not numpy_sweep.plain(pack(hole, club_golfer(), hole.place(), hole.pin()))


@pytest.mark.bench
def test_a_sweep_against_numpy(benchmark):
    table, _ = scene(club_golfer())
    choice, which = a_choice(table, club_golfer()), search.every(table)
    policy = r.Policy(choice.swing, choice.bearing)
    theirs = best_time(lambda: numpy_sweep.sweep(table, choice.value, NODES[None], policy, which), rounds=2)
    benchmark.pedantic(compiled_sweep, (table, choice, which), rounds=5, warmup_rounds=1)
    mine = benchmark.stats.stats.min
    strokes = which.size * len(NODES)
    ROWS.append(
        (
            f"one sweep, {which.size:,} states × {len(NODES)} nodes, one thread",
            f"{mine:.3f} s, {1e9 * mine / strokes:.0f} ns a stroke",
            f"numpy {theirs:.2f} s: {theirs / mine:.0f} times as fast",
        )
    )
    assert theirs > 1.5 * mine


def strokes_played(table: r.Table, policy: r.Policy, value: r.Value, first: r.Rest, key: np.uint64) -> float:
    """Return the mean number of strokes that draw normals: those of the same sequences if every first putt dropped.

    A stroke that holes out stands for a putt here: fewer than one in a hundred.
    """
    sure = table.putting._replace(cumulative=np.ones_like(table.putting.cumulative))
    out = play_sequences(table._replace(putting=sure), policy, value, first, key)
    return float(np.mean(out.score - out.penalties - 1))


@pytest.mark.bench
@pytest.mark.parametrize("threads", [1, 2])
def test_sequences_against_the_normals_they_use(benchmark, monkeypatch, threads):
    table, grid = scene(club_golfer())
    solution, key = solve(table, grid, PLACE), kernel_key(1)
    line = math.atan2(table.ground.pin_x, table.ground.pin_y)
    policy, value = solution.policy, solution.value
    monkeypatch.setenv("SIMCADDIE_THREADS", str(threads))

    def play(n: int = N) -> None:
        play_sequences(table, policy, value, first_strokes(table, value, PLACE, 0, line, key, n), key)

    benchmark.pedantic(play, rounds=3, warmup_rounds=1)
    mine = benchmark.stats.stats.min
    few = first_strokes(table, value, PLACE, 0, line, key, 20_000)
    strokes = strokes_played(table, policy, value, few, key)
    normals = round(3 * strokes * N)  # carry, side and run of every stroke; putts take uniforms
    room, rng = np.empty(1_000_000), np.random.default_rng(1)

    def draw() -> None:
        for _ in range(normals // room.size):
            rng.standard_normal(out=room)

    theirs = best_time(draw) * normals / (normals // room.size * room.size)
    ROWS.append(
        (
            f"1,000,000 whole sequences, {threads} thread{'s' * (threads > 1)}",
            f"{mine:.2f} s, {N / mine / 1e6:.2f} million a second",
            f"numpy draws their {normals / 1e6:.1f} million normals in {theirs:.2f} s: {theirs / mine:.2f} of its rate",
        )
    )
    assert theirs / mine > 1.0 / 25.0  # the stroke itself takes several times as long as its three normals
    assert 2.0 < strokes < 6.0


def grown(what: str, sizes: list[float], seconds: list[float], theory: str) -> float:
    """Add a row about the growth of a cost; return the exponent."""
    exponent = growth(sizes, seconds)
    measured = ", ".join(f"{size:,.4g}: {1e3 * t:.0f} ms" for size, t in zip(sizes, seconds, strict=True))
    ROWS.append((f"{what}: {measured}", f"size^{exponent:.2f}", f"theory: {theory}"))
    return exponent


@pytest.mark.bench
def test_the_cost_of_smaller_cells(benchmark):
    table, grid = scene(club_golfer())
    sizes, seconds = [4.0, 2.0, 1.0], []
    for cell in sizes:
        finer = table._replace(states=build_states(grid, PLACE, cell))
        work = partial(compiled_sweep, finer, a_choice(finer, club_golfer()), search.every(finer))
        seconds.append(best_time(work))
    benchmark.pedantic(work, rounds=1)
    exponent = grown("one sweep by cell, yd", sizes, seconds, "cells ∝ size^−2, fewer where lies share cells")
    assert exponent == pytest.approx(-2.0, abs=0.5)


def choosing_time(clubs: int, lines: int) -> float:
    """Return the time of one exhaustive sweep on 8 yd cells, one thread, without touch shots."""
    table, grid = scene(plain_bag(clubs))
    few = replace_states(table, grid)
    plan = search.every_plan(NODES[None], np.radians(np.linspace(-30.0, 30.0, lines)))
    return best_time(lambda: search.choose_all(few, search.Choice.unmade(guess_to_go(few).to_go), plan))


def replace_states(table: r.Table, grid: AreaGrid) -> r.Table:
    """Return the table with few states, and without touch actions, which would be a constant share of the cost."""
    touch = table.touch._replace(reach=np.zeros(0))
    return table._replace(states=build_states(grid, PLACE, 8.0), touch=touch)


@pytest.mark.bench
def test_the_cost_of_more_clubs(benchmark):
    sizes = [3, 6, 12]
    seconds = [choosing_time(number, 9) for number in sizes]
    benchmark.pedantic(choosing_time, (3, 9), rounds=1)
    assert grown("one exhaustive sweep by clubs", sizes, seconds, "size^1") == pytest.approx(1.0, abs=0.25)


@pytest.mark.bench
def test_the_cost_of_more_aim_lines(benchmark):
    sizes = [5, 10, 20, 40]
    seconds = [choosing_time(4, number) for number in sizes]
    benchmark.pedantic(choosing_time, (4, 5), rounds=1)
    assert grown("one exhaustive sweep by aim lines", sizes, seconds, "size^1") == pytest.approx(1.0, abs=0.25)


@pytest.mark.bench
def test_the_cost_of_more_sequences(benchmark):
    player = replace(club_golfer())
    table, _ = scene(player)
    policy, value, key = everyday(table, player, "sound", (4.0, 400.0)), guess_to_go(table), kernel_key(2)

    def play(n: int) -> None:
        play_sequences(table, policy, value, first_strokes(table, value, PLACE, 0, 0.01, key, n), key)

    sizes = [50_000, 100_000, 200_000, 400_000, 800_000]
    seconds = [best_time(partial(play, number)) for number in sizes]
    benchmark.pedantic(play, (sizes[0],), rounds=1)
    assert grown("whole sequences by number", sizes, seconds, "size^1") == pytest.approx(1.0, abs=0.2)


@pytest.mark.bench
def test_wind_and_heights_cost_at_most_half_as_much_again(benchmark):
    """Both solved in turn, so that a busy machine slows both."""
    hole, player = read_hole(find_hole("curlew-inlet")), read_player(find_player("wren"))
    grid, place = area_grid(hole), hole.place()
    flat = pack(replace(hole, heights=None), player, place, hole.pin(), grid=grid)
    hilly = pack(hole, player, place, hole.pin(), grid=grid, day=Day(wind=5.0, gust=8.0, wind_from=240.0))
    start = (*place.at, code(place.lie))
    seconds = np.array([[best_time(partial(solve, t, grid, start), 1) for t in (flat, hilly)] for _ in range(3)])
    benchmark.pedantic(solve, (flat, grid, start), rounds=1)
    plain, windy = seconds.min(axis=0)
    row = f"flat and calm {plain:.1f} s: {windy / plain:.2f} times"
    ROWS.append(("solve on hills in gusts", f"{windy:.1f} s", row))
    assert windy < 1.5 * plain
