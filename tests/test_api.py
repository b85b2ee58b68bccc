"""The public names: what notebooks and scripts rely on."""

from __future__ import annotations

import json
from dataclasses import replace
from html.parser import HTMLParser

import pytest
from matplotlib.figure import Figure

import simcaddie as sc
from simcaddie.cli import run
from simcaddie.io.write import json_text


@pytest.fixture(scope="module")
def answer():
    return sc.compare("millpond", "wren", clubs=["6 iron", "7 iron"], sequences=400)


def test_an_answer_has_the_command_s_own_data(answer, capsys, monkeypatch):
    command = ["simcaddie", "compare", "millpond", "wren", "--club", "6 iron", "--club", "7 iron", "--sequences", "400"]
    monkeypatch.setattr("sys.argv", [*command, "--json", "-"])
    with pytest.raises(SystemExit):
        run()
    assert json.loads(capsys.readouterr().out) == json.loads(json_text(answer.to_dict()))


def test_rows_are_mappings_best_first(answer):
    rows = answer.table()
    assert {row["club"] for row in rows} >= {"6 iron", "7 iron"}
    assert rows[0]["diff"] <= min(row["diff"] for row in rows) + 0.05


def test_it_draws_on_the_axes_that_it_is_given_and_returns_them(answer):
    ax = Figure().subplots()
    assert answer.figure(ax=ax) is ax
    assert {label.get_text() for label in ax.get_yticklabels()} == {row["club"] for row in answer.table()}
    assert answer.figure().figure is not ax.figure


def test_it_is_text_and_html_with_every_word_escaped():
    hole = replace(sc.read_hole("millpond"), name="A <b> & c")
    answer = sc.compare(hole, "wren", clubs=["6 iron"], sequences=400)
    assert "A <b> & c, par 3" in str(answer)
    page = answer._repr_html_()
    assert "A &lt;b&gt; &amp; c" in page
    assert "<b>" not in page
    opened = []
    reader = HTMLParser()
    reader.handle_starttag = lambda tag, _attributes: opened.append(tag)
    reader.handle_endtag = opened.remove
    reader.feed(page)
    assert opened == []


def test_bad_input_is_one_clear_error(tmp_path):
    with pytest.raises(sc.SimcaddieError, match="no-such-hole"):
        sc.read_hole("no-such-hole")
    bad = tmp_path / "bad.yaml"
    bad.write_text("par: 9\n")
    with pytest.raises(sc.BadFile, match=r"bad\.yaml"):
        sc.read_hole(bad)


def test_a_day_in_words_counts():
    calm = sc.compare("millpond", "wren", clubs=["6 iron"], sequences=400).table()[0]["mean"]
    wind = sc.compare("millpond", "wren", clubs=["6 iron"], sequences=400, day={"wind": "20 mph into"}).table()
    assert min(row["mean"] for row in wind) > calm


def test_a_plan_has_its_strokes_as_rows_and_a_map():
    answer = sc.plan("millpond", "wren")
    assert [row["club"] for row in answer.table()]
    ax = answer.figure()
    assert ax.has_data()
    assert "what to avoid" in str(answer).lower()
