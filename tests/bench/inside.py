"""What is timed inside one process: the stages of a solve, strokes, whole sequences, and how the cost grows.

``run.py`` calls this with a cache of its own; ``python tests/bench/inside.py [--quick]`` does with the usual one.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Sequence
from functools import partial
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1]))  # tests/helpers.py

import numpy as np
import numpy_strokes
from clocked import aligned, best_time, growth
from helpers import club_golfer
from scenes import (
    GUSTY,
    Position,
    coarse_scene,
    demo,
    demo_scene,
    kinds_of_hole,
    plain_bag,
    plain_scene,
    scene_of,
)
from stages import solve_stages, strokes_counted, threads

from simcaddie.base.parallel import each
from simcaddie.base.streams import Purpose, kernel_key
from simcaddie.io.find import demo_courses
from simcaddie.model import arrays as r
from simcaddie.model.batch import asked, play
from simcaddie.model.heuristics import everyday, guess_to_go
from simcaddie.simulate import first_strokes, play_sequences
from simcaddie.solve import search
from simcaddie.solve.actions import Actions, all_actions, pin_line
from simcaddie.solve.quadrature import node_sets
from simcaddie.solve.solution import QUICK, solve

NODES = 64
NORMALS = 3  # that a stroke draws: carry, side, run
FEW = 20_000  # sequences
MANY = 500_000  # strokes
Grown = tuple[str, str, Sequence[float], list[float], str]


def say(title: str, rows: Sequence[Sequence[str]]) -> None:
    print(f"\n{title}\n\n{aligned(rows)}", flush=True)


def normals() -> tuple[Callable[[], object], int]:
    """Return what draws standard normals with numpy, and how many."""
    room, rng = np.empty(1_000_000), np.random.default_rng(1)
    return lambda: rng.standard_normal(out=room), room.size


# ── a solve ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def stages(rounds: int) -> list[list[str]]:
    position = demo_scene("curlew-inlet")
    solve_stages(position)
    best = min((solve_stages(position) for _ in range(rounds)), key=lambda found: sum(stage.wall for stage in found))
    whole = ("in all", *(sum(column) for column in list(zip(*best, strict=True))[1:]))
    rows = [["stage", "wall s", "processor s", "million strokes", "processor ns a stroke"]]
    for name, wall, processor, strokes in (*best, whole):
        each_stroke = f"{1e9 * processor / strokes:.0f}" if strokes else "–"
        rows.append([name, f"{wall:.3f}", f"{processor:.3f}", f"{strokes / 1e6:.2f}", each_stroke])
    return rows


def flat_and_hilly(rounds: int) -> tuple[float, float]:
    """Return processor seconds of a solve on flat ground in still air, and on hills in gusts; both in turn."""
    hole, player = demo("curlew-inlet")
    kinds = kinds_of_hole()
    scenes = (kinds["with trees"], scene_of(hole, player, GUSTY))
    plain, windy = np.array([[best_time(lambda s=s: solve(*s), 1) for s in scenes] for _ in range(rounds)]).min(axis=0)
    return float(plain), float(windy)


# ── strokes ──────────────────────────────────────────────────────────────────────────────────────────────────────────


def strokes_of(position: Position) -> tuple[Callable[[], object], int]:
    """Return what plays best play from the states that balls reach often, and how many strokes that is."""
    found = solve(*position, effort=QUICK)
    problem, nodes = found.problem, node_sets(NODES, Purpose.LOOK)
    state = np.resize(found.reachable, MANY // NODES)
    xy, bearing = problem.states.xy[state], pin_line(problem, state) + found.policy.bearing[state]
    draw = search.block_of(problem, nodes, state)
    rows = asked(xy[:, 0], xy[:, 1], problem.states.lie[state], found.policy.swing[state], bearing, draw)
    return lambda: play(problem, found.value.to_go, rows, nodes.draws, NODES), state.size * NODES


def strokes(rounds: int) -> list[list[str]]:
    works = {"numpy draws three normals": normals()}
    works |= {name: strokes_of(position) for name, position in kinds_of_hole().items()}
    with threads(1):  # in turn, so that a busy machine slows all
        seconds = [[best_time(work, 1) / count for work, count in works.values()] for _ in range(rounds)]
    one, *each_kind = np.min(seconds, axis=0)
    rows = [["hole", "ns a stroke", "of numpy's rate"], [next(iter(works)), f"{1e9 * NORMALS * one:.0f}", "1"]]
    for name, mine in zip(list(works)[1:], each_kind, strict=True):
        rows.append([name, f"{1e9 * mine:.0f}", f"{NORMALS * one / mine:.2f}"])
    return rows


def a_choice(problem: r.Problem) -> Actions:
    """Return sensible play from everywhere with every kind of swing in it, touch shots too."""
    policy = everyday(problem, club_golfer(), "sound", (4.0, 400.0))
    return Actions(np.arange(policy.swing.size), policy.swing, policy.bearing)


def sweep_seconds(cell: float | None, rounds: int) -> float:
    """Return how long every state's stroke takes over 64 nodes, on one thread."""
    problem, _, _ = plain_scene(cell=cell)
    choice, to_go, nodes = a_choice(problem), guess_to_go(problem).to_go, node_sets(NODES, Purpose.CHOOSE)
    with threads(1):
        return best_time(lambda: search.action_values(problem, to_go, nodes, choice, NODES), rounds)


def against_numpy(rounds: int) -> tuple[float, float]:
    """Return seconds of one sweep over the plain hole: compiled on one thread, and in numpy."""
    problem, _, _ = plain_scene()
    choice, to_go, nodes = a_choice(problem), guess_to_go(problem).to_go, node_sets(NODES, Purpose.CHOOSE)
    theirs = best_time(lambda: numpy_strokes.action_values(problem, to_go, nodes, choice, NODES), 1)
    return sweep_seconds(None, rounds), theirs


# ── whole sequences ──────────────────────────────────────────────────────────────────────────────────────────────────


def player_of(position: Position) -> Callable[[int], object]:
    """Return what plays n whole sequences of best play from the tee."""
    solution, key = solve(*position, effort=QUICK), kernel_key(1)
    problem, policy, value = solution.problem, solution.policy, solution.value
    start = problem.states.start
    line = float(pin_line(problem, np.array([start]))[0] + policy.bearing[start])
    swing = int(policy.swing[start])

    def go(n: int) -> object:
        first = first_strokes(problem, value, position[2], swing, line, key, n)
        return play_sequences(problem, policy, value, first, key)

    return go


def strokes_each(go: Callable[[int], object]) -> float:
    """Return the mean number of strokes of a sequence besides putts: those that draw normals."""
    with strokes_counted() as played:
        go(FEW)
    return sum(played) / FEW


def sequences(n: int, rounds: int) -> tuple[list[list[str]], list[float]]:
    """Return a table, and for each of its rows the share of numpy's rate of drawing the normals that it uses."""
    rows = [["hole", "threads", "wall s", "million a second", "strokes without putts", "of numpy's rate"]]
    rates, (draw, drawn) = [], normals()
    for name, position in (("plain", plain_scene()), ("curlew-inlet", demo_scene("curlew-inlet"))):
        go = player_of(position)
        many = strokes_each(go)
        for count in (1, 2):
            with threads(count):
                seconds = best_time(partial(go, n), rounds, time.perf_counter)
            rates.append(NORMALS * many * n * best_time(draw, 3, time.perf_counter) / drawn / seconds)
            rows.append(
                [name, str(count), f"{seconds:.2f}", f"{n / seconds / 1e6:.2f}", f"{many:.2f}", f"{rates[-1]:.2f}"]
            )
    return rows, rates


# ── growth ───────────────────────────────────────────────────────────────────────────────────────────────────────────


def by_cells(rounds: int) -> Grown:
    sizes = [4.0, 2.0, 1.0]
    return "a sweep, 1 thread", "cell, yd", sizes, [sweep_seconds(cell, rounds) for cell in sizes], "−2 at most"


def solve_by_cells(rounds: int) -> Grown:
    sizes = [8.0, 4.0, 2.0]
    seconds = [best_time(partial(solve, *plain_scene(cell=cell)), rounds) for cell in sizes]
    return "a solve", "cell, yd", sizes, seconds, "between −2 and 0: coarse cells are the same"


def all_swings(clubs: int, lines: int) -> tuple[r.Problem, Actions]:
    """Return every club along ``lines`` lines from every 8-yd cell of the plain hole, without touch shots."""
    problem = coarse_scene(clubs)
    fan = np.radians(np.linspace(-30.0, 30.0, lines))
    return problem, all_actions(problem, np.arange(problem.states.lie.size), fan, every=True)


def every_action(clubs: int, lines: int, rounds: int, *, race: bool = False) -> float:
    """Return how long ``all_swings`` take with 64 nodes each, or a race among them."""
    problem, actions = all_swings(clubs, lines)
    nodes, to_go = node_sets(NODES, Purpose.CHOOSE), guess_to_go(problem).to_go
    most = np.full(to_go.size, NODES)
    with threads(1):
        if race:
            return best_time(lambda: search.race(problem, to_go, nodes, actions, most), rounds)
        return best_time(lambda: search.action_values(problem, to_go, nodes, actions, NODES), rounds)


def by_clubs(rounds: int, *, race: bool = False) -> Grown:
    sizes = [3, 6, 12]
    seconds = [every_action(clubs, 9, rounds, race=race) for clubs in sizes]
    return ("a race" if race else "all actions") + ", 1 thread", "clubs", sizes, seconds, "1 at most" if race else "1"


def by_aims(rounds: int, *, race: bool = False) -> Grown:
    sizes = [5, 10, 20, 40]
    seconds = [every_action(4, lines, rounds, race=race) for lines in sizes]
    return ("a race" if race else "all actions") + ", 1 thread", "aims", sizes, seconds, "1 at most" if race else "1"


def solve_by_clubs(rounds: int) -> Grown:
    sizes = [3, 6, 12]
    seconds = [best_time(partial(solve, *plain_scene(plain_bag(clubs))), rounds) for clubs in sizes]
    return "a solve", "clubs", sizes, seconds, "below 1"


def by_holes(_rounds: int) -> Grown:
    """Solve a demo course as ``round`` does, hole by hole; every number of holes begins at the first.

    Once each: that is seconds of processor already.
    """
    folder = next(iter(demo_courses().values())).parent
    names = [f"{folder.name}/{path.stem}" for path in sorted(folder.glob("[0-9]*.yaml"))]
    scenes = [demo_scene(name) for name in names[:8]]
    sizes = [2, 4, 8]
    seconds = [best_time(lambda n=n: each(lambda one: solve(*one, effort=QUICK), scenes[:n]), 1) for n in sizes]
    return "quick solves", "holes", sizes, seconds, "1"


def by_sequences(rounds: int) -> Grown:
    go, sizes = player_of(plain_scene()), [50_000, 100_000, 200_000, 400_000]
    return "whole sequences", "number", sizes, [best_time(partial(go, n), rounds) for n in sizes], "1"


def growths(rounds: int, quick: bool) -> list[list[str]]:
    made: list[Callable[[int], Grown]] = [by_cells, by_clubs, by_aims, by_holes]
    if not quick:
        raced = [partial(by_clubs, race=True), partial(by_aims, race=True)]
        made += [solve_by_cells, *raced, solve_by_clubs, by_sequences]
    rows = [["what", "by", "processor ms", "grows as size^", "expected"]]
    for what, by, sizes, seconds, theory in (make(rounds) for make in made):
        times = ", ".join(f"{size:,g}: {1e3 * t:.0f}" for size, t in zip(sizes, seconds, strict=True))
        rows.append([what, by, times, f"{growth(sizes, seconds):.2f}", theory])
    return rows


def main(quick: bool) -> None:
    rounds = 1 if quick else 3
    say("A solve of curlew-inlet for wren, in a process that has compiled:", stages(rounds))
    plain, windy = flat_and_hilly(rounds)
    print(f"\nWithout hills {plain:.2f} s of processor, with hills and gusts {windy:.2f} s: {windy / plain:.2f} times.")
    say("Strokes of best play on curlew-inlet, one thread:", strokes(rounds + 2))
    mine, theirs = against_numpy(rounds)
    print(f"\nA sweep over an invented plain hole: {mine:.2f} s; in numpy {theirs:.2f} s, {theirs / mine:.1f} times.")
    n = 200_000 if quick else 1_000_000
    say(f"{n:,} whole sequences from the tee, best play:", sequences(n, rounds)[0])
    say("Growth:", growths(rounds, quick))


if __name__ == "__main__":
    main("--quick" in sys.argv[1:])
