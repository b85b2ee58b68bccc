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
    assert ran.out.splitlines() == [
        f"{path}: a {'hole' if path.parent.name == 'holes' else 'player'} file, no mistakes found" for path in files
    ]


def test_every_fault_of_every_file_at_once_with_its_line(simcaddie):
    hole, player = HOLE.read_text("utf-8"), PLAYER.read_text("utf-8")
    Path("hole.yaml").write_text(hole.replace("kind: gorse, name: far", "kind: gorze, name: far"))
    player = player.replace("carry: [172, 11.5]", "carry: [172, -11.5]").replace("loft: 15.5\n", "lofft: 15.5\n")
    Path("player.yaml").write_text(player)
    ran = simcaddie("check", "hole.yaml", PLAYER, "player.yaml")
    assert ran.code == 2
    assert ran.out == f"{PLAYER}: a player file, no mistakes found\n"
    faults = ran.err.splitlines()
    assert len(faults) == 3
    assert faults[0].startswith("hole.yaml:")
    assert "did you mean `gorse`?" in faults[0]
    assert all(line.startswith("player.yaml:") and "expected" in line for line in faults[1:])


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
