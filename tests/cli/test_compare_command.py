"""``simcaddie compare``: the table, what is asked for, and what is refused."""

from __future__ import annotations

import io
import json
import re
from pathlib import Path

import pytest
from rich.console import Console

from simcaddie.base.cautions import ON_SCREEN
from simcaddie.console import terminal as console
from simcaddie.decision.compare import compare as compare_records
from simcaddie.decision.request import Request
from simcaddie.features.compare.present import _ranking
from simcaddie.io.find import demo_files, find_hole, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player

DRIVER = ("--club", "driver")
AT_PIN = ("--aim", "0:0:1")


def rows(out: str) -> list[str]:
    """Return the table's rows: between the rule and its caption, wrapped lines left out."""
    lines = out.split("╌\n")[1].splitlines()
    end = next(i for i, line in enumerate(lines) if line.startswith("score on average"))
    return [line for line in lines[:end] if re.search(r"\d\.\d\d", line)]


def test_the_table_says_what_a_coach_asks(compare):
    ran = compare()
    assert ran.code == 0
    lines = ran.out.splitlines()
    assert lines[0] == "Curlew Inlet, par 4, from the white tee, middle pin"
    assert lines[1] == "Wren, index 13.6: gets 1 stroke here, so net par is 5"
    titles = ("club", "aim", "score", "costs", "par", "trouble", "up", "leaves")
    found = [lines[4].find(title) for title in titles]
    assert -1 not in found
    assert found == sorted(found)
    table = rows(ran.out)
    assert len(table) <= 8
    assert " best" in table[0]
    assert all(re.search(r"(level|close|clear)( ◆)?\s*$", row) for row in table[1:])
    assert any("of the mill" in row for row in table)
    assert len({row.split("  ")[0] for row in table}) == len(table)  # one row a club
    assert " more that cost over " in ran.out
    assert re.search(r"^Play the .* strokes on average", ran.out, re.MULTILINE)
    assert ran.err == ""


def test_cautions_stand_under_the_table(compare):
    out = " ".join(compare(*DRIVER, *AT_PIN).out.split())
    assert ON_SCREEN in out
    assert "Rule 4.3" in ON_SCREEN
    assert "longest likely shot" in ON_SCREEN


@pytest.mark.parametrize("hole", [
    pytest.param(hole, marks=() if hole in ("curlew-inlet", "weir-lawn") else pytest.mark.slow)
    for hole in demo_files("holes")
])  # fmt: skip
def test_every_line_fits_80_columns_and_nothing_is_cut(compare, hole):
    out = compare("--details", *AT_PIN, hole=hole).out
    assert "…\n" not in out.replace("… and", "")
    assert not re.search(r"\w… ", out)


def test_only_the_clubs_asked_for(compare):
    out = compare("--club", "driver", "--club", "5-WOOD", *AT_PIN).out
    assert sorted(row.split("  ")[0] for row in rows(out)) == ["5 wood", "driver"]
    weir = ("--from", "hillside", "--club", "full gap wedge", "--club", "half 9 iron")
    assert {row.split("  ")[0] for row in rows(compare(*weir, hole="weir-lawn").out)} == {"gap wedge", "half 9 iron"}


def test_all_aims_gives_a_row_a_line_and_one_aim_gives_one(compare):
    out = compare(*DRIVER, "--aim", "-6:6:4", "--all-aims", "--details").out
    details = out.split("aim °")[1]
    assert sorted(re.findall(r"driver +([+-]\d+) ", details)) == ["+2", "+6", "-2", "-6"]
    assert len(rows(out)) == 4
    assert len(rows(compare(*DRIVER, *AT_PIN).out)) == 1


def test_details_add_errors_points_finishes_and_carries(compare):
    ask = (*DRIVER, "--aim", "11:11:1")
    plain, detailed = compare(*ask).out, compare(*ask, "--details").out
    for word in (
        "± SE",
        "points",
        "penalties",
        "of the pin line at ",
        ": finishes ",
        "; carries the inlet (",
    ):
        assert word in detailed
        assert word not in plain


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--tee", "red"), "from the red tee, middle pin"),
        (("--from", "over_the_corner"), "from the spot over_the_corner, middle pin"),
        (("--pin", "back"), "from the white tee, back pin"),
        (("--pin", "any"), "from the white tee, average over the pins"),
    ],
)
def test_place_and_pin_are_told(compare, words, told):
    ran = compare(*words, *AT_PIN)
    assert ran.code == 0
    assert ran.out.splitlines()[0] == f"Curlew Inlet, par 4, {told}"


def test_strokes_received_move_net_par(compare):
    assert "gets 2 strokes here, so net par is 6" in compare("--strokes", "2", *DRIVER, *AT_PIN).out
    assert "net par is 4" in compare("--strokes", "0", *DRIVER, *AT_PIN).out
    assert "net par is 4" in compare(*DRIVER, *AT_PIN, player="scratch").out


def test_from_a_spot_counts_the_strokes_played(compare):
    told = compare("--from", "hillside", "--played", "3", "--club", "half 9 iron", hole="weir-lawn").out
    assert told.splitlines()[1].endswith(", 3 played")


def test_play_to_follow_changes_the_numbers(compare):
    sound, usual = (compare(*DRIVER, *AT_PIN, "--then", then, "--json", "-").out for then in ("sound", "usual"))
    assert json.loads(usual)["then"] == "usual"
    assert json.loads(sound)["options"][0]["mean"] != json.loads(usual)["options"][0]["mean"]


def test_same_seed_same_bytes(compare):
    first, again, other = (compare("--aim", "-12:0:4", "--seed", seed).out for seed in ("7", "7", "8"))
    assert first == again
    assert first != other


def test_files_by_path_and_demo_by_name_are_the_same(compare):
    by_path = compare(*DRIVER, *AT_PIN, hole=demo_files("holes")["millpond"], player=demo_files("players")["scratch"])
    assert by_path == compare(*DRIVER, *AT_PIN, hole="Millpond", player="scratch")
    assert by_path.code == 0


def test_verbose_says_how_long_it_took(compare):
    assert re.fullmatch(r"1 rows?, 200 sequences each, in \d+\.\d s\n", compare(*DRIVER, *AT_PIN, "--verbose").err)


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--club", "cleek"), "Wren, index 13.6 has no club 'cleek'; the bag has driver, 3 wood"),
        (("--club", "half 9 irn"), "did you mean 'half 9 iron'?"),
        (("--tee", "blue"), "Curlew Inlet has no tee 'blue'; it has white, red"),
        (("--from", "moon"), "Curlew Inlet has no spot 'moon'; it has second, over_the_corner"),
        (("--from", "second", "--tee", "red"), "ask from a tee or from a spot, not from both"),
        (("--pin", "top"), "Curlew Inlet has no pin 'top'; it has front, middle, back"),
        (("--then", "wild"), "strokes that follow are played best, sound, usual, not 'wild'"),
        (("--objective", "glory"), "an aim of play is one of strokes, points, blow-up, not 'glory'"),
        (("--aim", "1:2"), "--aim: expected LOW:HIGH:STEP in degrees, as -10:10:2, found '1:2'"),
        (("--aim", "a:b:c"), "--aim: expected LOW:HIGH:STEP in degrees, as -10:10:2, found 'a:b:c'"),
        (("--aim", "5:-5:1"), "aims are LOW:HIGH:STEP in degrees, LOW at most HIGH"),
        (("--aim", "nan:5:1"), "aims are LOW:HIGH:STEP in degrees, LOW at most HIGH"),
        (("--aim", "0:inf:1"), "aims are LOW:HIGH:STEP in degrees, LOW at most HIGH"),
        (("--aim", "0:5:0"), "aims are LOW:HIGH:STEP in degrees, LOW at most HIGH"),
        (("--from", "second", "--club", "driver"), "none of driver can be used from a lie of 'fairway'"),
    ],
)
def test_questions_that_make_no_sense(compare, words, told):
    ran = compare(*words)
    assert ran.code == 2
    assert ran.out == ""
    assert told in ran.err
    assert len(ran.err.splitlines()) == 1


@pytest.mark.parametrize("words", [("--json", "no/answer.json"), ("--json", "."), ("--figure", "no/figure.png")])
def test_output_that_can_not_be_written(compare, words):
    ran = compare(*DRIVER, *AT_PIN, *words)
    assert ran.code == 2
    assert len(ran.err.splitlines()) == 1
    assert words[1] in ran.err


def test_a_player_file_for_a_hole_says_what_is_missing(compare):
    ran = compare(hole=demo_files("players")["wren"])
    assert ran.code == 2
    assert "wren.yaml:3: expected the key `areas`, found none" in ran.err


def test_a_faulty_hole_and_a_missing_player(compare):
    Path("bad.yaml").write_text("name: Bad\npar: nine\n")
    ran = compare(hole="bad.yaml")
    assert ran.code == 2
    assert "bad.yaml:2: par: expected a whole number from 3 to 6, found 'nine'" in ran.err
    ran = compare(player="wrenn")
    assert ran.code == 2
    assert "did you mean `wren`?" in ran.err


def test_best_play_follows_unless_asked_otherwise(simcaddie):
    ran = simcaddie("compare", "curlew-inlet", "wren", "--sequences", "2000", *DRIVER, "--club", "5 wood")
    assert "◆ no other choice beats it" in ran.out
    assert "wins as well" in ran.out or "would win" in ran.out
    for objective, word in (("points", "most Stableford points"), ("blow-up", "least chance of a blow-up")):
        ask = ("--sequences", "2000", *DRIVER, *AT_PIN, "--objective", objective)
        assert word in simcaddie("compare", "curlew-inlet", "wren", *ask).out


PAIR = ("--then", "sound", "--club", "driver", "--club", "5 iron")
HALT = {"hole": "signal-halt", "player": "otto"}


def test_why_and_when_stand_under_the_table_and_in_the_data(compare):
    ran = compare(*PAIR, "--why", "driver", "5-iron", "--when", "5 iron", "driver", "--json", "answer.json", **HALT)
    assert ran.code == 0
    assert max(map(len, ran.out.splitlines())) <= 100
    text = " ".join(ran.out.split())
    assert text.index("The driver against the 5 iron") < text.index("When would the driver be as good as the 5 iron?")
    assert re.search(r"In all it costs \d\.\d\d more than the 5 iron\.", text)
    assert "Trust doesn't turn it" in text
    assert text.index("Trust doesn't") < text.index(" ".join(ON_SCREEN.split()))
    data = json.loads(Path("answer.json").read_text("utf-8"))
    why, when = data["why"], data["when"]
    assert (why["a"], why["b"], when["a"], when["b"]) == ("driver", "5 iron", "5 iron", "driver")
    assert sum(part["part"] for part in why["parts"]) == pytest.approx(why["difference"], abs=1e-5)
    assert why["sentence"] in text
    assert [point["thing"] for point in when["points"]] == ["mishits", "spread", "trust", "hazard"]
    assert all(point["sentence"] in text for point in when["points"])
    found = [point for point in when["points"] if point["at"] is not None]
    assert found
    assert all(point["rerun_agrees"] for point in found)


def test_without_why_and_when_there_is_nothing_of_them(compare):
    data = json.loads(compare(*PAIR, *AT_PIN, "--json", "-", **HALT).out)
    assert not {"why", "when"} & data.keys()


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--why", "driver", "driver"), "'driver' and 'driver' are the same choice: name two different ones"),
        (("--when", "driver", "5 irn"), "did you mean '5 iron'?"),
        (("--why", "driver", "7 iron"), "'7 iron' is not among the choices compared here: "),
    ],
)
def test_two_choices_that_are_not_two_choices(compare, words, told):
    ran = compare(*PAIR, *AT_PIN, *words, **HALT)
    assert (ran.code, ran.out) == (2, "")
    assert told in ran.err


def test_colour_marks_the_best_row_and_no_other():
    request = Request(sequences=200, then="sound", clubs=("driver", "5 wood", "7 iron"))
    answer = compare_records(read_hole(find_hole("curlew-inlet")), read_player(find_player("wren")), request)
    terminal = Console(file=io.StringIO(), force_terminal=True, color_system="truecolor", width=100)
    terminal.print(console._table(_ranking(answer, answer.options)))
    lines = terminal.file.getvalue().splitlines()
    tinted = [line for line in lines if "\x1b[1;32m" in line]
    assert any(f" {answer.best.mean:.2f}" in line for line in tinted)
    assert not any(f"{other.mean:.2f}" in line for other in answer.options[1:] for line in tinted)


def test_clubs_that_nobody_measured_are_marked_and_a_hole_without_an_index_is_told(simcaddie):
    simcaddie("new-player", "--index", "18", "--driver", "200", "--clubs", "Dr, 7i, SW", "-o", "new.yaml")
    Path("hole.yaml").write_text(
        "name: Bare\npar: 3\nunits: yards\ntees: {white: [0, 0]}\npins: {p: [2, 130]}\n"
        "areas: [{kind: green, outline: [[-12, 118], [12, 118], [14, 140], [-9, 142]]}]\n"
    )
    ran = simcaddie("compare", "hole.yaml", "new.yaml", "--sequences", "500")
    lines = ran.out.splitlines()
    assert lines[1].startswith("Index 18, estimated: no strokes, for want of a stroke index, here, so net par is")
    assert any(line.startswith("~7 iron ") for line in lines)
    assert "~ estimated, not measured: what golfers of such an index do" in lines
    assert "~" not in simcaddie("compare", "millpond", "wren", "--sequences", "500").out
