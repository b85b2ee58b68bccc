"""``simcaddie check``: good files, bad files, both at once, and as data."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from simcaddie.io.find import demo_files

HOLE = demo_files("holes")["curlew-inlet"]
PLAYER = demo_files("players")["wren"]


def test_demo_files_have_no_mistakes(simcaddie):
    files = [*demo_files("holes").values(), *demo_files("players").values()]
    ran = simcaddie("check", *files)
    assert ran.code == 0
    assert ran.err == ""
    lines = ran.out.splitlines()
    for path in files:
        assert f"{path}: a {'hole' if path.parent.name == 'holes' else 'player'} file, no mistakes found" in lines
    assert "Look again" not in ran.out


def test_every_fault_of_every_file_at_once_with_its_line(simcaddie):
    hole, player = HOLE.read_text("utf-8"), PLAYER.read_text("utf-8")
    Path("hole.yaml").write_text(hole.replace("kind: gorse, name: far", "kind: gorze, name: far"))
    player = player.replace("carry: [172, 11.5]", "carry: [172, -11.5]").replace("loft: 15.5\n", "lofft: 15.5\n")
    Path("player.yaml").write_text(player)
    ran = simcaddie("check", "hole.yaml", PLAYER, "player.yaml")
    assert ran.code == 2
    assert ran.out.startswith(f"{PLAYER}: a player file, no mistakes found\n– Wren, index 13.6: index 13.6")
    faults = ran.err.splitlines()
    assert len(faults) == 3
    assert faults[0].startswith("hole.yaml:")
    assert "did you mean `gorse`?" in faults[0]
    assert all(line.startswith("player.yaml:") and "expected" in line for line in faults[1:])


def test_it_says_what_it_understood_of_a_hole_and_of_a_course(simcaddie):
    told = " ".join(simcaddie("check", "kettle-drain").out.split())
    assert "– Kettle Drain: par 5, stroke index 11; 507 yd from white, 462 yd from red" in told
    assert "– Fairway, yd wide: 34 at 150, 39 at 200, 32 at 250" in told
    assert "light rough 365–377, " not in told
    assert "the drain 377–387" in told
    assert "drive bunker 195–214, 19 right" in told
    course = simcaddie("check", "tansywick-heath").out
    assert " 7  Sandpit           3      9     208    29  none  none" in course
    assert "Look again" not in course


ODD = """\
name: Odd
par: 4
tees: {white: [0, 0]}
pins: {middle: [380, 10]}
boundary: [[-60, -20], [400, -20], [383, 0], [400, 60], [-60, 60]]
areas:
  - {kind: green, outline: [[370, 0], [390, 0], [390, 20], [370, 20]]}
"""


def test_what_can_not_be_meant_is_told(simcaddie):
    Path("odd.yaml").write_text(ODD)
    ran = simcaddie("check", "odd.yaml")
    told = " ".join(ran.out.split())
    assert ran.code == 0
    for words in (
        "no `units`: the lengths were read as yards",
        "the boundary cuts the green: 21% of it is out of bounds",
        "the pin lies 88° to the right of straight up the hole, seen from white: are x and y changed over?",
        "No `bearing`: no wind by the compass, no north arrow.",
    ):
        assert words in told
    Path("odd.yaml").write_text(ODD.replace("par: 4", "par: 3"))
    data = json.loads(simcaddie("check", "odd.yaml", "--json", "-").out)
    (file,) = data["files"]
    assert "380 yd from white is no length of a par 3: are the units right?" in file["look_again"]
    assert file["holes"][0]["along"][-1][0] == "green"


def test_as_data(simcaddie):
    Path("bad.yaml").write_text("par: 4\npar: 5\n")
    ran = simcaddie("check", PLAYER, "bad.yaml", "--json", "-")
    assert ran.code == 2
    data = json.loads(ran.out)
    assert data["schema"] == "check/1"
    assert {fault["file"] for fault in data["faults"]} == {"bad.yaml"}
    assert set(data["faults"][0]) == {"file", "line", "where", "expected", "found"}
    good = json.loads(simcaddie("check", HOLE, "--json", "-").out)
    assert good["faults"] == []


def test_data_in_a_file_and_where_none_can_be(simcaddie):
    assert simcaddie("check", HOLE, "--json", "faults.json").code == 0
    assert json.loads(Path("faults.json").read_text("utf-8"))["faults"] == []
    ran = simcaddie("check", HOLE, "--json", "no/faults.json")
    assert ran.code == 2
    assert ran.err == "can't write no/faults.json: no such file or directory\n"


@pytest.mark.parametrize(
    ("name", "content"),
    [
        ("missing.yaml", None),
        ("empty.yaml", b""),
        ("binary.yaml", b"\x00\xff\xfe\x00"),
        ("latin.yaml", "name: Größe\n".encode("latin-1")),
        ("list.yaml", b"- 1\n- 2\n"),
        ("bomb.yaml", b"a: &a [1, 2]\nb: [*a, *a]\n"),
        ("tabs.yaml", b"name:\t- x\n\ty: {\n"),
    ],
)
def test_what_is_no_file_of_ours_is_one_clear_message(simcaddie, name, content):
    if content is not None:
        Path(name).write_bytes(content)
    ran = simcaddie("check", name)
    assert ran.code == 2
    assert ran.out == ""
    assert ran.err.startswith(name)
    assert "expected" in ran.err


def test_a_directory(simcaddie, tmp_path):
    ran = simcaddie("check", tmp_path)
    assert (ran.code, ran.err) == (2, f"{tmp_path}: expected a file, found a directory\n")
