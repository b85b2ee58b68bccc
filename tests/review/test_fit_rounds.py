"""What rounds say of the player's patterns: the likelihood against counting, a known truth, and the command."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from helpers import busy_hole, club_golfer, lane, mirrored_hole
from rounds_played import finish_words
from typing_in import runner

from simcaddie.course.course import Course
from simcaddie.decision.finishes import Observer, finish_of, fitting, own_balls
from simcaddie.decision.ledger import Entry
from simcaddie.decision.options import Option
from simcaddie.decision.walk import Walk
from simcaddie.fitting import rounds
from simcaddie.fitting.rounds import RoundsFit, Strikes, fit_rounds
from simcaddie.io.player import read_player
from simcaddie.model import arrays as r
from simcaddie.model.batch import play
from simcaddie.model.build import pack_swings
from simcaddie.player.swing import Player

COURSE = Course("Three (invented)", (busy_hole(), lane(), mirrored_hole(busy_hole())), ("1.yaml", "2.yaml", "3.yaml"))
ROUNDS, DRIVES = 10, 14
WILDER = 1.1
DRIVE = Option(0, 0.0)


@cache
def walk() -> Walk:
    return Walk(COURSE, club_golfer())


@cache
def observer() -> Observer:
    return Observer(walk().player)


def wilder(times: float, **keys: float) -> Player:
    """Return the player with the driver's spreads so many times as wide."""
    first = club_golfer().bag[0]
    swing = first.swings[0]
    swing = replace(swing, carry_sd=times * swing.carry_sd, side_sd=times * swing.side_sd, **keys)
    return replace(club_golfer(), bag=(replace(first, swings=(swing,)), *club_golfer().bag[1:]))


def entry(number: int, words: str) -> Entry:
    start, hole = walk().reckoner(number).start, COURSE.holes[number - 1]
    finish = finish_of(words, hole, "yards")
    return Entry(start, DRIVE, DRIVE, None, 1, 0.0, 0.0, 0.0, 0.0, finish=finish)


def drives(player: Player, count: int, rng: np.random.Generator) -> list[Strikes]:
    """Return what is seen of ``count`` drives of a player, told in words, shared out over the holes.

    Distances are off by as much as the program grants people, one as likely as another.
    """
    found = []
    for number in (1, 2, 3):
        reckoner = walk().reckoner(number)
        problem, many = reckoner.ahead.problem._replace(swings=pack_swings(player)), -(-count // 3)
        z = np.vstack([rng.standard_normal((3, many)), rng.random((3, many)), rng.standard_normal((1, many))])
        rows = reckoner.rows(reckoner.start, np.zeros(many, int), reckoner.position.pin_line)
        rest = play(problem, reckoner.ahead.to_go, rows._replace(draw=np.arange(many)), z, 1)
        for i in range(many):
            ball = r.Rest._make(column[i : i + 1] for column in rest)
            off, pin = float(rng.uniform(-1.0, 1.0)), reckoner.position.pins[0]
            words = finish_words(COURSE.holes[number - 1], ball, pin, 1.0, step=1.0, off=off)
            strikes = observer().strikes(number, reckoner, entry(number, words))
            found += [strikes] if strikes is not None else []
    return found[:count]


def learnt(player: Player, rng: np.random.Generator, count: int = ROUNDS * DRIVES) -> RoundsFit:
    return fit_rounds(walk().player, {0: drives(player, count, rng)}, rng)


@pytest.mark.parametrize("words", ["fairway 180", "right rough 175", "fairway 210"])
@pytest.mark.parametrize("times", [0.8, 1.3])
def test_the_likelihood_is_the_chance_of_such_a_finish(words, times):
    """Against counting how often another player's balls finish so, on the same hole."""
    reckoner, told = walk().reckoner(1), entry(1, words)
    strikes = observer().strikes(1, reckoner, told)
    swing = walk().player.swings[0]
    data = rounds._data(swing, [strikes])
    numbers = np.zeros((2, 5))
    numbers[1, 2:4] = math.log(times)
    plain, other = rounds._likelihood(data, numbers)
    chances = []
    for player in (walk().player, wilder(times)):
        problem = reckoner.ahead.problem._replace(swings=pack_swings(player))
        balls = own_balls(reckoner, told.place, told.option, problem)
        chances.append(int(fitting(reckoner, told.finish, balls.rest).sum()))
    error = math.hypot(*(1.0 / math.sqrt(count) for count in (*chances, strikes.carry.size)))
    assert error < 0.35
    assert other - plain == pytest.approx(math.log(chances[1] / chances[0]), abs=2.5 * error)


def test_a_strike_is_as_likely_as_the_closed_form_says():
    """One strike alone, seen exactly: the bivariate normal density of solid strikes, its share, over the wide one."""
    swing = walk().player.swings[0]
    one = Strikes(*(np.array([value]) for value in (
        185.0, 6.0, rounds.SOLID, 190.0, 12.0, 3.0, -2.0, 9.0, 0.9, 0.1, 1.0, -3.0
    )))  # fmt: skip
    data = rounds._data(swing, [one])
    numbers = np.array([[2.0, -1.0, 0.1, 0.2, 0.3]])
    far = 190.0 * (1 + 2.0 / swing.carry)
    x = (185.0 - far) / (12.0 * math.exp(0.1))
    y = (6.0 - 3.0 + 1.0 + 2.0 * math.exp(0.2) * x) / (9.0 * math.exp(0.2))
    share = 1.0 - 0.1 * math.exp(0.3)
    expected = math.log(share / (12.0 * math.exp(0.1) * 9.0 * math.exp(0.2))) - 0.5 * (x * x + y * y) + 3.0
    assert rounds._likelihood(data, numbers)[0] == pytest.approx(expected, abs=1e-12)


def test_no_rounds_leave_the_player_as_he_was_and_one_hardly_moves_him():
    nothing = fit_rounds(walk().player, {}, np.random.default_rng(1))
    assert nothing.player == walk().player
    one = learnt(walk().player, np.random.default_rng(2), count=3).moved[0]
    many = learnt(walk().player, np.random.default_rng(2), count=60).moved[0]
    assert one.strokes == 3
    width = [moved.side_spread.high - moved.side_spread.low for moved in (one, many)]
    assert width[1] < 0.7 * width[0]
    assert abs(one.after.carry / one.before.carry - 1.0) < 0.05
    assert many.after.posterior.side_spread > one.after.posterior.side_spread


def test_a_wild_driver_is_found_out_and_only_he():
    fit = learnt(wilder(1.6), np.random.default_rng(3), count=75)
    (moved,) = fit.moved
    transfer = walk().player.range_to_course.spread
    assert moved.side_spread.low > moved.before.side_sd * transfer
    assert moved.side_spread.low < 1.6 * moved.before.side_sd * transfer < moved.side_spread.high * 1.1
    assert fit.player.swings[1:] == walk().player.swings[1:]
    assert fit.player.range_to_course.spread > transfer


def test_the_same_generator_gives_the_same_numbers():
    one, other = (learnt(walk().player, np.random.default_rng(6), count=12) for _ in range(2))
    assert one == other


@pytest.mark.slow
def test_nine_in_ten_intervals_hold_a_driver_a_tenth_wilder_nine_times_in_ten():
    """Ten rounds of 14 drives; truth known; 300 repetitions."""
    swing, transfer = walk().player.swings[0], walk().player.range_to_course.spread
    rng, inside = np.random.default_rng(10), np.zeros(2)
    for _ in range(300):
        (moved,) = learnt(wilder(WILDER), rng).moved
        for i, (told, sd) in enumerate(((moved.side_spread, swing.side_sd), (moved.carry_spread, swing.carry_sd))):
            inside[i] += told.low <= WILDER * transfer * sd <= told.high
    assert inside / 300 == pytest.approx([0.9, 0.9], abs=0.04)


# ─── The command ────────────────────────────────────────────────────────────────────────────────────────────────────


ROUND = """# invented
hole,club,aim,finish
1,6 iron,pin,left rough 20
,touch,,green 8 ft
,putter,,2 putts
"""


@pytest.fixture
def simcaddie(capsys, monkeypatch, tmp_path):
    return runner(capsys, monkeypatch, tmp_path)


def test_fit_takes_rounds_in(simcaddie):
    for number in range(6):
        Path(f"r{number}.csv").write_text(ROUND, "utf-8")
    files = [word for number in range(6) for word in ("--rounds", f"r{number}.csv")]
    options = ("--player", "wren", "--course", "millpond", *files, "--trust")
    ran = simcaddie("fit", *options, "-o", "me.yaml", "--json", "a.json")
    assert (ran.code, "Written: me.yaml" in ran.err) == (0, True)
    assert max(map(len, ran.out.splitlines())) <= 80
    data = json.loads(Path("a.json").read_text())["rounds"]
    assert (data["strokes"], data["left_out"]) == (6, 0)
    (moved,) = data["moved"]
    assert moved["club"] == "6 iron"
    player = read_player("me.yaml")
    after = next(swing for swing in player.swings if swing.title == "6 iron")
    assert after.carry == pytest.approx(moved["carry"]["mean"], abs=0.06)
    assert player.range_to_course.spread == pytest.approx(data["range_to_course"]["spread"]["mean"], abs=0.006)
    assert "Fitted by simcaddie from r0.csv" in Path("me.yaml").read_text()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        ((), "give sessions, or rounds"),
        (("--rounds", "r.csv", "--player", "wren"), "say with --course"),
        (("--rounds", "r.csv", "--course", "millpond"), "name one with --player"),
        (("--player", "wren", "--course", "millpond", "--rounds", "none.csv"), "none.csv: expected a file"),
        (("--player", "wren", "--course", "millpond", "--rounds", "bad.csv"), "bad.csv:2: finish: expected a place"),
    ],
)
def test_what_makes_no_sense_is_one_clear_error(simcaddie, words, told):
    Path("r.csv").write_text(ROUND, "utf-8")
    Path("bad.csv").write_text("hole,club,finish\n1,6 iron,nowhere\n", "utf-8")
    ran = simcaddie("fit", *words)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err


def test_review_is_a_command_too(simcaddie):
    Path("r.csv").write_text(ROUND, "utf-8")
    ran = simcaddie(
        "review", "millpond", "wren", "r.csv", "--json", "a.json", "--figure", "a.png", "--against", "scratch-man"
    )
    assert ran.code == 0
    assert max(map(len, ran.out.splitlines())) <= 80
    data = json.loads(Path("a.json").read_text())
    assert sum(data["parts"].values()) == pytest.approx(4 - data["rounds"][0]["holes"][0]["expected"], abs=1e-4)
    assert data["gained"]["golfer"]
    assert Path("a.png").read_bytes().startswith(b"\x89PNG")
    Path("bad.csv").write_text("hole,club,finish\n1,6 iron,nowhere\n", "utf-8")
    ran = simcaddie("review", "millpond", "wren", "bad.csv")
    assert (ran.code, ran.out) == (2, "")
    assert ran.err.startswith("bad.csv:2: finish: expected a place such as")
