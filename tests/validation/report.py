"""The tables of DEVELOPERS.md, "Golfers", measured anew: ``PYTHONPATH=tests python -m validation.report``.

Takes some minutes. Prints what 20 yd more are worth, how far rounds spread with and without day form, and which of the
defaults move the answers most.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from validation.neutral import played
from validation.rounds import LENGTHS, better_half, by_length, lengths, mean

from simcaddie.base.surfaces import code
from simcaddie.course.hole import Hole
from simcaddie.decision.position import set_position
from simcaddie.io.find import find_hole
from simcaddie.io.hole import read_hole
from simcaddie.model.build import pack
from simcaddie.player.day_form import day_form, in_form
from simcaddie.player.reference import REFERENCES, golfer
from simcaddie.player.swing import Player, Swing
from simcaddie.simulate import first_strokes, play_sequences

KEY = np.uint64(77)
YARDS = {"tour": 7000.0, "scratch man": 6500.0, "bogey man": 6250.0, "scratch woman": 5700.0, "bogey woman": 5300.0}


def round_of(player: Player, total: float) -> np.ndarray:
    """Return the law of a round on a neutral course."""
    return by_length(player, lengths(total).min() - 1, lengths(total).max() + 1, 6).round(total)


def twenty_yards_more() -> None:
    """Print what 20 yd more with the driver, and as much in proportion with the rest, save a round."""
    for name, (index, driver) in REFERENCES.items():
        now, more = (mean(round_of(golfer(index, driver + by), YARDS[name])) for by in (0.0, 20.0))
        print(f"20 yd more, {name}: {now - more:.2f} strokes a round")


def spread_of_rounds() -> None:
    """Print mean less better half, and the sd, of independent strokes and with day form."""
    rng = np.random.default_rng(5)
    for index, driver in ((0.0, 230.0), (15.5, 192.0), (25.0, 170.0)):
        player = golfer(index, driver)
        pmf = round_of(player, 6250.0)
        sd = float(np.sqrt(pmf @ (np.arange(pmf.size) - mean(pmf)) ** 2))
        form = sd_of_form(player, rng)
        print(
            f"index {index:g}: mean {mean(pmf):.1f}, above the better half {mean(pmf) - better_half(pmf):.2f}, "
            f"sd {sd:.2f}; day form alone {form:.2f}, together {np.hypot(sd, form):.2f}"
        )


def sd_of_form(player: Player, rng: np.random.Generator, days: int = 24, n: int = 20_000) -> float:
    """Return the sd of a round's mean over ``days`` draws of day form, played on with the usual policy."""
    there = played(player, 380.0)
    solution, start = there.solution, (0.0, 0.0, code("tee"))
    place, pin = there.hole.place(), there.hole.pins["pin"]
    state = solution.problem.states.start
    swing, bearing = int(solution.policy.swing[state]), float(solution.policy.bearing[state])
    means = []
    for _ in range(days):
        problem = pack(there.hole, in_form(player, day_form(player.handicap_index), rng), place, pin, grid=there.grid)
        first = first_strokes(problem, solution.value, start, swing, bearing, KEY, n)
        means.append(play_sequences(problem, solution.policy, solution.value, first, KEY).score.mean())
    return float(np.std(means, ddof=1)) * LENGTHS.size


def _swings(player: Player, change: dict[str, float]) -> Player:
    def changed(swing: Swing) -> Swing:
        return replace(swing, **{key: getattr(swing, key) * by for key, by in change.items()})

    return player.with_swings(changed)


def sensitivity() -> None:
    """Print how much a doubt in each default moves the mean score and the choice of club on a demo hole."""
    player = golfer(13.6, 172.0)
    variants = {
        "as it is": player,
        "spread of direction + 20 %": _swings(player, {"side_sd": 1.2}),
        "spread of carry + 20 %": _swings(player, {"carry_sd": 1.2}),
        "mishits + 30 %": _swings(player, {"fat": 1.3, "thin": 1.3}),
        "carries + 5 %": _swings(player, {"carry": 1.05}),
        "run + 50 %": _swings(player, {"run": 1.5, "run_sd": 1.5}),
        "touch + 25 %": replace(
            player,
            touch={k: replace(t, near=t.near * 1.25, far=t.far * 1.25) for k, t in player.touch.items()},
        ),
        "putting + 15 %": replace(
            player,
            putting=replace(
                player.putting,
                direction_sd=player.putting.direction_sd * 1.15,
                distance_sd=player.putting.distance_sd * 1.15,
            ),
        ),
        "rough costs half as much again": _lie(player, "rough", spread=1.69, mishits=2.5, carry=0.955),
        "trees twice as thick": _lie(player, "trees", gap=0.25),
    }
    hole = read_hole(find_hole("curlew-inlet"))
    worth = {name: _driver_and_wood(hole, who) for name, who in variants.items()}
    best, apart = worth["as it is"]
    for name, (mine, mine_apart) in worth.items():
        moved = f"driver behind the 5 wood {mine_apart:+.2f} ({mine_apart - apart:+.2f})"
        print(f"{name}: score {mine - best:+.2f}, {moved}")


def _lie(player: Player, kind: str, **changes: float) -> Player:
    return replace(player, lies={**player.lies, kind: replace(player.lies[kind], **changes)})


def _driver_and_wood(hole: Hole, player: Player) -> tuple[float, float]:
    position = set_position(hole, player)
    aims = range(10, 36)
    clubs = {swing.title: number for number, swing in enumerate(player.swings)}
    worth = {
        club: min(position.ahead(clubs[club], aim, 4096) for aim in aims) for club in ("driver", "5 wood", "4 hybrid")
    }
    return min(worth.values()), worth["driver"] - worth["5 wood"]


if __name__ == "__main__":
    sensitivity()
    spread_of_rounds()
    twenty_yards_more()
