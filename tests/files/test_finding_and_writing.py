"""Finding files by what was typed, writing files whole, and the shipped schemas."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from simcaddie.base.errors import BadFile, BadRequest
from simcaddie.io.find import demo_files, find_hole, find_player
from simcaddie.io.schema import FORMATS, schema_path, schema_text
from simcaddie.io.write import json_text, slug, write_json, write_text


def test_a_path_is_itself(tmp_path):
    path = tmp_path / "mine.txt"
    path.write_text("x")
    assert find_hole(path) == path
    assert find_player(str(path)) == path


def test_a_demo_by_name_from_anywhere(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert find_hole("curlew-inlet").is_file()
    assert find_hole("Curlew Inlet") == find_hole("curlew-inlet") == demo_files("holes")["curlew-inlet"]
    assert find_player("wren").is_file()


def test_an_own_file_goes_before_a_demo_and_a_folder_does_not(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    Path("curlew-inlet").mkdir()
    assert find_hole("curlew-inlet").suffix == ".yaml"
    Path("wren").write_text("x")
    assert find_player("wren") == Path("wren")


def _told(find, name) -> str:
    with pytest.raises(BadFile) as caught:
        find(name)
    return str(caught.value)


def test_near_names_are_suggested(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    holes, players = ", ".join(demo_files("holes")), ", ".join(demo_files("players"))
    holes += ", tansywick-heath/01-first-furze … 18-weathercock"
    Path("my-ninth.yaml").write_text("x")
    Path("folder").mkdir()
    hole = f"expected a hole file, or a demo hole by name ({holes}), found"
    player = f"expected a player file, or a demo player by name ({players}), found"
    assert _told(find_hole, "curlew") == f"curlew: {hole} none of that name; did you mean `curlew-inlet`?"
    assert _told(find_hole, "my-nineth.yaml") == (
        f"my-nineth.yaml: {hole} none of that name; did you mean `my-ninth.yaml`?"
    )
    assert _told(find_hole, "folder") == f"folder: {hole} a directory"
    assert _told(find_hole, "nowhere/zzz.yaml") == f"nowhere/zzz.yaml: {hole} none of that name"
    assert _told(find_player, "qqq") == f"qqq: {player} none of that name"
    assert _told(find_player, "a\0") == f"a?: {player} none of that name"
    assert _told(find_player, "") == f"{player} a directory".replace("expected", ": expected", 1)


@pytest.mark.parametrize(
    ("name", "slugged"),
    [
        ("Curlew Inlet", "curlew-inlet"), ("Pupil, index 20", "pupil-index-20"), ("../../etc", "etc"),
        ("  ", "unnamed"), ("Ærø Brú", "ærø-bru"), ("第三", "第三"), ("x" * 99, "x" * 60),
    ],
)  # fmt: skip
def test_slugs(name, slugged):
    assert slug(name) == slugged


@given(st.text())
def test_a_slug_is_one_plain_file_name_and_its_own_slug(name):
    made = slug(name)
    assert made
    assert slug(made) == made
    assert not set(made) & set("/\\. :\0")


def test_text_is_replaced_whole(tmp_path):
    path = tmp_path / "out.txt"
    write_text(path, "old")
    write_text(path, "Grüße\n")
    assert path.read_bytes() == "Grüße\n".encode()
    assert [other.name for other in tmp_path.iterdir()] == ["out.txt"]


def test_a_failed_write_leaves_the_old_file_and_no_draft(tmp_path, monkeypatch):
    path = tmp_path / "out.txt"
    write_text(path, "old")

    def refuse(*_args: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(Path, "replace", refuse)
    with pytest.raises(BadRequest, match=r"out.txt: no space left on device$"):
        write_text(path, "new")
    assert path.read_text() == "old"
    assert [other.name for other in tmp_path.iterdir()] == ["out.txt"]


def test_places_that_can_not_be_written(tmp_path):
    with pytest.raises(BadRequest, match="no such file or directory"):
        write_text(tmp_path / "no" / "out.txt", "x")
    with pytest.raises(BadRequest, match="is a directory"):
        write_text(tmp_path, "x")
    with pytest.raises(BadRequest, match="not a name that a file can have"):
        write_text("a\0b", "x")


def test_json_is_rounded_and_holds_only_json(tmp_path, capsys):
    data = {
        "a": 1 / 3,
        "b": np.float64(2.00000004),
        "c": np.arange(2),
        4: (np.nan, -np.inf, -0.0),
        "d": np.bool_(True),
    }
    expected = {"a": 0.333333, "b": 2.0, "c": [0, 1], "4": [None, None, 0.0], "d": True}
    assert json.loads(json_text(data)) == expected
    assert "-0.0" not in json_text(data)
    write_json(data, tmp_path / "x.json")
    assert json.loads((tmp_path / "x.json").read_text("utf-8")) == expected
    write_json(data, "-", digits=2)
    assert json.loads(capsys.readouterr().out)["a"] == 0.33


@pytest.mark.parametrize("name", FORMATS)
def test_shipped_schemas_are_those_of_the_models(name):
    assert schema_path(name).read_text("utf-8") == schema_text(name), "run python -m simcaddie.io.schema"


def test_the_schema_knows_the_short_forms():
    schema = json.loads(schema_text("player"))
    club = schema["$defs"]["ClubFile"]
    assert club["required"] == ["club"]
    assert {"carry", "swings", "from"} <= club["properties"].keys()
    assert [form["type"] for form in schema["$defs"]["SwingFile"]["properties"]["carry"]["anyOf"]] == [
        "number",
        "array",
    ]
    assert schema["additionalProperties"] is False
