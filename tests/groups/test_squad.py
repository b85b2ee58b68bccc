"""A squad: rounds and practice as single players have them, tees, who differs, what is written, runs gone on with."""

from __future__ import annotations

import csv
import json
import signal
import subprocess
import sys
import time
from dataclasses import replace

import numpy as np
import pytest
from small_groups import GROUP, player, three, write_course, write_group

from simcaddie.base.errors import BadFile, BadRequest
from simcaddie.base.executors import place_of
from simcaddie.base.pieces import JOURNAL, Delivered, run_pieces
from simcaddie.cli import app
from simcaddie.decision.practice import what_pays
from simcaddie.decision.rounds import play_course
from simcaddie.features.squad.analysis import (
    Ordered,
    SquadRequest,
    in_reach,
    pieces_of,
    squad_of,
    suited_tee,
    tees_by_length,
)
from simcaddie.features.squad.present import differs_words, file_names, overview_csv, squad_data
from simcaddie.io.course import read_course
from simcaddie.io.find import player_files
from simcaddie.io.player import read_player
from simcaddie.io.sent import course_from, course_sent, day_sent, hole_from, holes_sent

REQUEST = SquadRequest(sequences=1000, practised=1000, day=day_sent(None))


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    made = tmp_path_factory.mktemp("squad")
    write_course(made, three()[1:])
    write_group(made)
    return made


@pytest.fixture(scope="module")
def course(folder):
    return read_course(folder / "small-links.yaml")


@pytest.fixture(scope="module")
def group(folder):
    return [Ordered(read_player(p), p.read_text("utf-8"), "back") for p in player_files([folder / "group"])]


@pytest.fixture(scope="module")
def delivered(folder, course, group):
    pieces = pieces_of(course, holes_sent(course, str(folder / "small-links.yaml")), group, REQUEST)
    with place_of(None) as place:
        return run_pieces(pieces, place)


@pytest.fixture(scope="module")
def answer(course, group, delivered):
    return squad_of(course, group, REQUEST, delivered)


def test_what_is_sent_arrives_as_it_was_read(folder, course):
    path = str(folder / "small-links.yaml")
    assert [hole_from(sent) for sent in holes_sent(course, path)] == list(course.holes)
    assert course_from(json.loads(json.dumps(course_sent(course, path)))) == course


def test_rounds_and_practice_are_those_of_single_players(answer, course):
    """Put together from pieces: the same numbers, to the last bit, as the two commands' own functions give."""
    for member in answer.members:
        keys = {"tee": "back", "pin": None, "sequences": 1000, "seed": 1}
        played = play_course(course, member.player, then="best", **keys)
        for hole, scores in zip(member.holes, played.holes, strict=True):
            assert hole.pmf.chance == pytest.approx(played.weights @ scores.days, abs=1e-15)
        assert member.total.mean == pytest.approx(sum(hole.pmf.mean for hole in member.holes))
    single = what_pays(course, member.player, **keys)
    assert [(row.thing, row.gains) for row in member.rows] == [(row.thing, row.gains) for row in single.rows]


def test_the_three_that_pay_most_are_told(answer):
    for member in answer.members:
        saved = [row.gap.saved for row in member.pays]
        assert len(saved) <= 3
        assert saved == sorted((row.gap.saved for row in member.rows if row.gap.saved > 0), reverse=True)[:3]


def test_the_suited_tee_is_the_longest_with_enough_in_reach(course):
    assert tees_by_length(course) == ["back", "front"]
    long, short = player("long", (150.0, 100.0, 60.0)), player("short", (70.0, 55.0, 40.0))
    assert (suited_tee(course, long), in_reach(course, long, "back")) == ("back", 1.0)
    assert (suited_tee(course, short), in_reach(course, short, "back")) == ("front", 0.0)
    two = replace(course, holes=(replace(course.holes[1], par=5),) * 4)  # three strokes
    assert in_reach(two, short, "back") == 1.0


def test_who_plays_another_kind_of_club_than_most_is_told(course, group, delivered, answer):
    assert answer.differs == ()
    clubs = [json.loads(json.dumps(result)) for result in delivered.results]
    clubs[3]["swing"] = 1  # the second player's 8 iron on the second hole, a par 4
    changed = squad_of(course, group, REQUEST, replace(delivered, results=tuple(clubs)))
    (one,) = changed.differs
    assert (one.number, one.tee, one.most, one.many) == (2, "back", "driver", 2)
    assert one.players == (("Bo (invented)", "8 iron"),)
    assert differs_words(changed, one) == "Small 3 (invented) from back: most (2) driver; Bo (invented) 8 iron"


def test_a_failed_hole_leaves_the_rest(course, group, delivered):
    results = (None, *delivered.results[1:])
    failed = squad_of(course, group, REQUEST, Delivered(results, (("hole 1", "why"),), 0, 0, 0))
    first, second, _ = failed.members
    assert (first.total, first.rows, first.holes[0]) == (None, None, None)
    assert first.holes[1] is not None
    assert second.total is not None
    rows = list(csv.reader(overview_csv(failed).splitlines()))
    assert rows[1][4:10] == [""] * 6
    assert squad_data(failed)["players"][0]["mean"] is None
    with pytest.raises(BadRequest, match="hole 1: why"):
        squad_of(course, group, REQUEST, Delivered((None,) * 6, (("hole 1", "why"),), 0, 0, 0))


def test_overview_and_data_say_the_same(answer):
    rows = list(csv.DictReader(overview_csv(answer).splitlines()))
    data = squad_data(answer)
    assert data["schema"] == "squad/1"
    for row, one, member in zip(rows, data["players"], answer.members, strict=True):
        assert row["player"] == one["player"] == member.player.name
        assert float(row["strokes"]) == pytest.approx(one["mean"], abs=5e-4)
        assert [row["hole 1"], row["hole 2"]] == one["clubs"]
        weights = member.total.chance
        assert one["low"] <= float(np.average(member.total.values, weights=weights)) <= one["high"]


def test_players_of_one_name_have_files_of_their_own(answer):
    first, second, _ = answer.members
    alike = replace(answer, members=(first, first, replace(second, player=replace(second.player, name="Overview"))))
    assert file_names(alike) == ["ada-invented", "ada-invented-2", "overview-2"]


def test_a_folder_without_players_is_refused(tmp_path):
    with pytest.raises(BadFile, match="a folder with player files"):
        player_files([tmp_path])


# ─── the command ────────────────────────────────────────────────────────────────────────────────────────────────────


def words(folder, out, *more):
    sizes = ["--sequences", "1000", "--practised", "1000"]
    return ["squad", str(folder / "small-links.yaml"), str(folder / "group"), *out, *sizes, *more]


def test_the_command_writes_everything_and_takes_the_journal_away(folder, tmp_path, capsys):
    out = tmp_path / "out"
    code = app(
        words(folder, ["-o", str(out)], "--no-sheets", "--json", str(tmp_path / "a.json")), standalone_mode=False
    )
    assert code == 0
    players = [f"{one.name.split()[0].lower()}-invented.json" for one in GROUP]
    assert sorted(p.name for p in out.iterdir()) == [*players, "overview.csv", "overview.pdf", "overview.png"]
    assert json.loads((tmp_path / "a.json").read_text("utf-8"))["schema"] == "squad/1"
    printed = capsys.readouterr().out
    assert all(len(line.rstrip()) <= 80 for line in printed.splitlines())
    assert "Rule 4.3" in printed


@pytest.mark.parametrize(
    ("out", "told"), [([], "needs a folder"), (["-o", "a", "--resume", "b"], "names the folder already")]
)
def test_one_folder_is_needed(folder, out, told):
    with pytest.raises(BadRequest, match=told):
        app(words(folder, out), standalone_mode=False)


@pytest.mark.slow
def test_a_command_that_was_killed_goes_on_and_writes_the_same_bytes(folder, tmp_path):
    """Sheets included; the killed run in two processes, the whole one in this."""
    whole, cut = tmp_path / "whole", tmp_path / "cut"
    start = [sys.executable, "-m", "simcaddie"]
    subprocess.run([*start, *words(folder, ["-o", str(whole)])], check=True, capture_output=True)
    command = [*start, *words(folder, ["--resume", str(cut)], "--executor", "processes:2", "--fresh")]
    with subprocess.Popen(command, stderr=subprocess.PIPE) as process:
        for _ in range(600):
            if (cut / JOURNAL).exists() and (cut / JOURNAL).read_bytes().count(b"\n") >= 2:
                break
            time.sleep(0.1)
        process.send_signal(signal.SIGKILL)
    command.remove("--fresh")
    done = subprocess.run(command, check=True, capture_output=True, text=True)
    assert "were there already, 9 in all" in done.stderr
    names = sorted(path.name for path in whole.iterdir())
    assert names == sorted(path.name for path in cut.iterdir())
    assert sum(name.endswith("-sheet.pdf") for name in names) == 3
    sheet = ["sheet", str(folder / "small-links.yaml"), str(folder / "group" / "ada.yaml"), "--tee", "back"]
    subprocess.run([*start, *sheet, "-o", str(tmp_path / "ada.pdf")], check=True, capture_output=True)
    assert (whole / "ada-invented-sheet.pdf").read_bytes() == (tmp_path / "ada.pdf").read_bytes()
    for name in names:
        assert (whole / name).read_bytes() == (cut / name).read_bytes(), name
