"""The tracing page as a file: what it holds, where its words and kinds come from, and what the command refuses."""

from __future__ import annotations

import base64
import json
import re
import string
from pathlib import Path

import pytest
from files.samples import HOLE
from html_reader import nothing_but_itself, read
from typer.testing import CliRunner

from simcaddie.base.errors import BadFile
from simcaddie.base.surfaces import SURFACES
from simcaddie.cli import app
from simcaddie.features.trace.present import open_hole, open_picture, trace_data, trace_html
from simcaddie.io.find import demo_files
from simcaddie.io.hole import HoleFile
from simcaddie.io.hole_rules import RULES
from simcaddie.io.yaml_reader import comment_lines

PICTURE = Path(__file__).parents[2] / "examples" / "pictures" / "invented-aerial.png"
FILES = Path(__file__).parents[2] / "simcaddie" / "features" / "trace"
HOSTILE = "</script><script>alert(1)</script><b>&\u2028"


@pytest.fixture
def hole(tmp_path):
    path = tmp_path / "mine.yaml"
    path.write_text(HOLE, "utf-8")
    return path


def test_the_policy_lets_nothing_run_or_load_but_what_is_in_the_file(hole):
    nothing_but_itself(trace_html(trace_data(open_hole(hole), open_picture(PICTURE))))


def test_names_from_files_are_only_names(hole):
    hole.write_text(HOLE.replace("name: Test Hole", f"name: {json.dumps(HOSTILE[:-1])}"), "utf-8")
    html = trace_html(trace_data(open_hole(hole)))
    assert HOSTILE[:-1] not in html
    reader = read(html)
    assert json.loads(json.loads(reader.texts["script", "data"])["opened"]["text"])["name"] == HOSTILE[:-1]
    assert [tag for tag, _ in reader.tags].count("script") == 2


def test_the_same_file_gives_the_same_bytes(hole):
    first, again = (trace_html(trace_data(open_hole(hole), open_picture(PICTURE))) for _ in range(2))
    assert first == again
    assert trace_data(open_hole(hole))["id"] != trace_data()["id"]


def test_the_hole_is_what_the_file_says_and_names_keep_their_order(hole):
    hole.write_text(HOLE.replace("{white: [0, 0], red: [5, 41]}", '{"10": [0, 0], "2": [5, 41]}'), "utf-8")
    opened = trace_data(open_hole(hole))["opened"]
    assert list(json.loads(opened["text"])["tees"]) == ["10", "2"]
    assert HoleFile.model_validate(json.loads(opened["text"])).areas[1].name == "left bunker"


def test_comments_are_counted_where_they_stand():
    text = "# head\nname: a # b\nnote: 'x # y'\nurl: a#b\nlong: \"one\n  # two\"\nlist: [1, # three\n  2]\n"
    assert comment_lines(text) == [1, 2, 7]


def test_a_hole_with_faults_of_the_whole_is_opened_to_be_mended(hole):
    hole.write_text(HOLE.replace("back: [0, 370]", "back: [0, 300]"), "utf-8")
    (fault,) = open_hole(hole).faults
    assert fault.where == "pins > back"
    assert (fault.expected, fault.found) == (RULES["pin"][0], "[0, 300], which is in fairway")


def test_a_file_that_holds_something_else_is_refused(hole):
    hole.write_text(HOLE.replace("par: 4", "par: four"), "utf-8")
    with pytest.raises(BadFile, match="a whole number from 3 to 6"):
        open_hole(hole)


def test_it_says_what_to_do_without_script():
    assert "simcaddie check" in trace_html(trace_data()).split("<noscript>")[1].split("</noscript>")[0]


def test_kinds_of_ground_come_from_the_table_alone():
    data = trace_data()
    assert [kind["name"] for kind in data["kinds"]] == [surface.name for surface in SURFACES]
    scripts = "".join(path.read_text("utf-8") for path in FILES.glob("*.js"))
    named = set(re.findall(r'"([a-z_]+)"', scripts)) & {surface.name for surface in SURFACES}
    assert named <= {"path", "tee"}  # an element of a drawing, and a mark


def test_words_of_rules_stand_in_one_place():
    told = " ".join(text for rule in RULES.values() for text in rule)
    scripts = "".join(path.read_text("utf-8") for path in FILES.glob("*.js"))
    for expected, _ in RULES.values():
        assert expected not in scripts
    gaps = {name for _, name, _, _ in string.Formatter().parse(told) if name}
    assert gaps == {"count", "x", "y", "title", "kind", "place", "lie", "first", "text", "wide", "tall", "span"}


@pytest.mark.parametrize("kind", ["png", "jpeg", "webp"])
def test_pictures_that_browsers_show_are_taken(tmp_path, kind):
    from PIL import Image

    path = tmp_path / "from-above"
    Image.new("RGB", (20, 10), "green").save(path, kind)
    picture = open_picture(path)
    data = trace_data(picture=picture)["picture"]
    assert (data["file"], data["kind"]) == ("from-above", f"image/{kind}")
    assert base64.b64decode(data["content"]) == path.read_bytes()


def run(*words):
    return CliRunner().invoke(app, ["trace", *map(str, words)], standalone_mode=False)


@pytest.mark.parametrize("name", [None, *sorted(demo_files("holes"))[:2]])
def test_the_command_writes_the_page(tmp_path, name):
    target = tmp_path / "page.html"
    assert run(*([name] if name else []), "--picture", PICTURE, "-o", target).return_value == 0
    picture = open_picture(PICTURE)
    opened = open_hole(demo_files("holes")[name]) if name else None
    assert target.read_text("utf-8") == trace_html(trace_data(opened, picture))


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--picture", "none.png"), "none.png: expected a file, found none of that name"),
        (("--picture", __file__), "expected a picture as JPEG, PNG or WebP, found another kind of file"),
        (("-o", "x.pdf"), "x.pdf: a page is written as .html, not as '.pdf'"),
        (("no-such-hole",), "expected a hole file, or a demo hole by name"),
    ],
)
def test_what_can_not_be_is_refused_and_nothing_is_written(tmp_path, monkeypatch, words, told):
    monkeypatch.chdir(tmp_path)
    assert told in str(run(*words).exception)
    assert not list(tmp_path.iterdir())
