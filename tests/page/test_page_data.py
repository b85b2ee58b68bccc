"""A page's data: the same figures as ``compare``, packed as said, safe to stand in HTML, small enough to send."""

from __future__ import annotations

import base64
import json
import math
import re
import sys
import warnings
from dataclasses import replace

import numpy as np
import pytest
import shapely
from helpers import box, club_golfer, lane
from html_reader import nothing_but_itself, read

from simcaddie.__main__ import main
from simcaddie.base.cautions import BEFORE
from simcaddie.base.memo import ignore_kept
from simcaddie.base.surfaces import NAMES, code
from simcaddie.course.course import Course
from simcaddie.course.hole import Area, Landmark, Spot
from simcaddie.decision.compare import compare
from simcaddie.decision.line_of_play import plan
from simcaddie.decision.pair import TWENTY, twenty
from simcaddie.decision.phrases import aim_words, trouble
from simcaddie.decision.request import Request
from simcaddie.features.compare.present import comparison_data
from simcaddie.features.lesson.analysis import lesson
from simcaddie.features.lesson.present import because
from simcaddie.features.page.analysis import FINISHES, PageRequest, course_page, hole_page
from simcaddie.features.page.present import page_data, page_html
from simcaddie.io.find import find_hole, find_player
from simcaddie.io.hole import read_hole
from simcaddie.io.player import read_player
from simcaddie.model.states import states_at
from simcaddie.weather.day import Day

WREN = read_player(find_player("wren"))
HALT = read_hole(find_hole("signal-halt"))
KINDS = {"u1": np.uint8, "i1": np.int8, "u2": "<u2", "i2": "<i2", "f4": "<f4"}
PACKED = {
    "swing": "u1", "aim": "i1", "mean": "f4", "se": "f4", "diff": "f4", "diffSe": "f4", "netPar": "f4", "blowUp": "f4",
    "points": "f4", "trouble": "f4", "leave": "f4", "finish": "u2", "pmf": "u2", "balls": "i2", "ballKind": "u1",
}  # fmt: skip


def unpacked(text, kind, *shape):
    """Return a packed array, read without the program: RFC 4648 base64 of little-endian numbers."""
    return np.frombuffer(base64.b64decode(text, validate=True), KINDS[kind]).reshape(shape or (-1,))


def options_of(question):
    told = question["options"]
    found = {name: unpacked(told[name], kind) for name, kind in PACKED.items()}
    many = told["count"]
    shapes = {"finish": (many, -1), "pmf": (many, -1), "balls": (many, TWENTY, 2), "ballKind": (many, TWENTY)}
    return {name: array.reshape(shapes.get(name, (many,))) for name, array in found.items()}


@pytest.fixture(scope="module")
def made():
    return hole_page(HALT, [WREN], PageRequest(pin="middle", seed=3))


@pytest.fixture(scope="module")
def data(made):
    return json.loads(json.dumps(page_data(made)))


@pytest.fixture(scope="module")
def question(data):
    return data["holes"][0]["players"][0]["questions"][0]


@pytest.fixture(scope="module")
def answer():
    """Return what ``compare`` says to the same question, asked as its command asks it."""
    return compare(HALT, WREN, Request(pin="middle", seed=3))


def test_every_row_of_compare_is_on_the_page_with_its_figures(data, question, answer):
    told, side = options_of(question), data["holes"][0]["players"][0]
    assert len(question["ranking"]) == len(answer.options)
    for row, m, option in zip(question["ranking"], answer.options, comparison_data(answer)["options"], strict=True):
        i = row["option"]
        assert side["swings"][told["swing"][i]]["title"] == m.title == row["club"]
        assert told["aim"][i] == round(m.option.aim)
        assert row["aim"] == option["aim"] == question["words"][unpacked(question["aimWord"], "u2")[i]]
        assert (row["verdict"], row["frontier"]) == (option["verdict"], option["frontier"])
        names = {"mean": "mean", "se": "se", "diff": "diff", "diffSe": "diff_se", "netPar": "net_par_or_better"}
        names |= {"blowUp": "blow_up", "points": "stableford", "leave": "leave_yd"}
        for mine, theirs in names.items():  # to the digits of a 32-bit number
            assert told[mine][i] == pytest.approx(option[theirs], rel=2e-7, abs=2e-7), mine
        assert told["trouble"][i] == pytest.approx(trouble(m), abs=1e-6)
        for name, share in zip(FINISHES, told["finish"][i] / 10_000, strict=True):
            assert share == pytest.approx(m.finish.get(name, 0.0), abs=1e-4)
        for strokes, share in enumerate(told["pmf"][i] / 10_000):
            assert share == pytest.approx(m.score_law.get(strokes + side["played"], 0.0), abs=1e-4)
    assert question["options"]["best"] == question["ranking"][0]["option"]
    assert side["netPar"] == answer.net_par
    assert side["strokesReceived"] == answer.strokes_received


def test_lines_that_are_nobodys_best_have_the_figures_of_compare_too(question):
    told = options_of(question)
    swing = next(s for s in np.unique(told["swing"]) if s < len(WREN.swings))
    aims = told["aim"][told["swing"] == swing]
    low, high = int(aims.min()), int(aims.max())
    assert high - low == aims.size - 1 >= 12  # a degree apart, none left out between
    title = WREN.swings[swing].title
    request = Request(
        pin="middle", seed=3, clubs=(title,), aims=(low, high, 1), all_aims=True, sequences=100, robust=False
    )
    rows = {(m.option.swing, round(m.option.aim)): m for m in compare(HALT, WREN, request).options}
    found = 0
    for i in range(told["mean"].size):
        if (m := rows.get((int(told["swing"][i]), int(told["aim"][i])))) is not None:
            found += 1
            assert told["mean"][i] == pytest.approx(m.mean, abs=1e-6)
            assert told["se"][i] == pytest.approx(m.se, abs=1e-6)
            assert told["leave"][i] == pytest.approx(m.leave, abs=1e-4)
            assert told["blowUp"][i] == pytest.approx(m.blow_up, abs=1e-6)
    assert found >= aims.size


def test_every_option_adds_up(data, question):
    told, side = options_of(question), data["holes"][0]["players"][0]
    assert (told["finish"].sum(axis=1) == 10_000).all()
    assert (told["pmf"].sum(axis=1) == 10_000).all()
    total = side["played"] + np.arange(side["cap"] + 1)
    assert told["pmf"].shape[1] == side["cap"] + 1
    pmf = told["pmf"] / 10_000
    np.testing.assert_allclose(pmf @ total, told["mean"], atol=5e-3)
    np.testing.assert_allclose(pmf[:, total <= side["netPar"]].sum(axis=1), told["netPar"], atol=1.5e-3)
    np.testing.assert_allclose(pmf[:, total >= side["netPar"] + 2].sum(axis=1), told["blowUp"], atol=1.5e-3)
    # Stableford, Rule 21.1b: 2 for net par, one more for each stroke under it, one less for each over, never below 0
    points = np.maximum(0, 2 + side["netPar"] - total) * (np.arange(total.size) < side["cap"])
    np.testing.assert_allclose(pmf @ points, told["points"], atol=5e-3)
    bad = np.array([kind["trouble"] for kind in data["kinds"]])
    np.testing.assert_allclose(told["finish"][:, bad].sum(axis=1) / 10_000, told["trouble"], atol=1.5e-3)
    keys = {tuple(pair) for pair in zip(told["swing"].tolist(), told["aim"].tolist(), strict=True)}
    assert len(keys) == told["mean"].size
    assert told["swing"].max() < len(side["swings"])


def test_kinds_are_the_table_of_ground_and_what_is_no_ground(data):
    assert [kind["name"] for kind in data["kinds"]] == [*NAMES, "lost", "unplayable", "holed"]
    assert {kind["name"] for kind in data["kinds"] if kind["good"]} == {"fairway", "green", "holed"}
    assert not any(kind["good"] and kind["trouble"] for kind in data["kinds"])
    for kind in data["kinds"]:
        assert re.fullmatch("#[0-9a-f]{6}", kind["fill"])
        assert re.fullmatch("#[0-9a-f]{6}", kind["edge"])


def test_the_twenty_balls_are_those_of_the_lesson(question, made):
    told, position = options_of(question), made.holes[0].sides[0].questions[0].answer.position
    for i in (question["options"]["best"], 0, told["mean"].size - 1):
        bearing = position.pin_line + math.radians(float(told["aim"][i]))
        for ball, at, kind in zip(
            twenty(position, int(told["swing"][i]), bearing, 3), told["balls"][i], told["ballKind"][i], strict=True
        ):
            assert (ball.x, ball.y) == pytest.approx(at / 10, abs=0.0501)
            assert ball.finish == FINISHES[kind]


def test_a_pair_is_told_as_the_lesson_tells_it(question):
    first, other = (question["ranking"][n]["club"] for n in (0, 1))
    pair = next(p for p in question["pairs"] if p["b"] == question["ranking"][1]["option"])
    request = Request(pin="middle", seed=3, sequences=100, robust=False)
    told = lesson(HALT, WREN, (first, other), request)
    assert pair["because"] == because(told)
    assert [bar["title"] for bar in pair["bars"]] == [reason.title for reason in told.reasons]
    assert sum(bar["strokes"] for bar in pair["bars"]) == pytest.approx(round(told.difference, 2))
    assert question["pairs"][0]["a"] == question["options"]["best"]


def anywhere_of(question):
    told = question["anywhere"]
    shape = len(told["lies"]), told["rows"], told["columns"]
    kinds = {"swing": "u1", "aim": "i1", "toGo": "u2"}
    return told, {name: unpacked(told[name], kind, *shape) for name, kind in kinds.items()}


def test_anywhere_is_the_solutions_own_policy(question, made):
    told, grid = anywhere_of(question)
    solution = made.holes[0].sides[0].questions[0].answer.position.solutions[0]
    states = solution.problem.states
    assert told["cell"] == states.cell
    rng, seen = np.random.default_rng(5), 0
    for number in rng.choice(states.lie.size, 400, replace=False):
        name = NAMES[states.lie[number]]
        if name not in told["lies"]:
            continue
        x, y = states.xy[number]
        row, column = int((y - told["y0"]) // told["cell"]), int((x - told["x0"]) // told["cell"])
        at = told["lies"].index(name), row, column
        assert grid["swing"][at] == min(solution.policy.swing[number], len(WREN.swings))
        assert grid["toGo"][at] == pytest.approx(100 * solution.to_go[number], abs=0.501)
        aim = math.degrees(math.remainder(float(solution.policy.bearing[number]), 2 * math.pi))
        assert grid["aim"][at] == pytest.approx(np.clip(aim, -127, 127), abs=0.501)
        seen += 1
    assert seen > 200


def test_anywhere_agrees_with_a_plan_made_from_the_place(question):
    told, grid = anywhere_of(question)
    for name, spot in HALT.spots.items():
        row = int((spot.at[1] - told["y0"]) // told["cell"])
        column = int((spot.at[0] - told["x0"]) // told["cell"])
        here = grid["toGo"][told["lies"].index(spot.lie), row, column] / 100
        # another solve, from the very place and not the middle of its cell, from other balls
        assert here == pytest.approx(plan(HALT, WREN, spot=name, pin="middle", seed=3).mean, abs=0.06)


def test_coarser_cells_hold_the_policy_of_a_cell_within():
    page = hole_page(replace(lane(), pins={"p": (0.0, 300.0), "q": (4.0, 305.0)}), [club_golfer()])
    for question, told in zip(page.holes[0].sides[0].questions, questions_of(page), strict=True):
        solution, (head, grid) = question.answer.position.solutions[0], anywhere_of(told)
        states = solution.problem.states
        assert head["cell"] == 2 * states.cell
        for lie, row, column in np.argwhere(grid["swing"] != 255)[::97]:
            corner = head["x0"] + column * head["cell"], head["y0"] + row * head["cell"]
            offsets = [(dx, dy) for dx in (2.0, 6.0) for dy in (2.0, 6.0)]
            near = [
                states_at(states, code(head["lies"][lie]), corner[0] + dx, corner[1] + dy).item() for dx, dy in offsets
            ]
            worth = [round(100 * solution.to_go[number]) for number in near if number >= 0]
            assert grid["toGo"][lie, row, column] in worth


def questions_of(page):
    return [q for hole in page_data(page)["holes"] for side in hole["players"] for q in side["questions"]]


def test_one_question_for_each_pin_on_each_day():
    hole = replace(lane(), pins={"front": (0.0, 293.0), "middle": (0.0, 300.0)}, spots={"b": Spot((1, 190), "fairway")})
    days = (("still", Day()), ("windy", Day(wind=7.0, wind_from=0.0, relative=True)))
    golfers = [club_golfer(), replace(club_golfer(), name="another (invented)")]
    page = hole_page(hole, golfers, PageRequest(spot="b", days=days, objective="points"))
    told = page_data(page)
    asked = [("middle", "still"), ("front", "still"), ("middle", "windy"), ("front", "windy")]
    for side, golfer in zip(told["holes"][0]["players"], golfers, strict=True):
        assert side["name"] == golfer.name
        assert [(q["pin"], q["day"]["name"]) for q in side["questions"]] == asked
        assert side["played"] == 1
    assert "15 mph" in told["holes"][0]["players"][0]["questions"][2]["day"]["words"] or "16 mph" in str(told)
    assert told["objective"]["name"] == "points"
    assert told["holes"][0]["place"] == {"name": "spot b", "at": [1, 190], "lie": "fairway"}
    assert [card["player"] for card in told["card"]] == [golfer.name for golfer in golfers]


HOSTILE = "</script><script>alert(1)</script><b>&\u2028"


def test_names_from_files_are_only_names():
    hole = replace(
        lane(Area("bunker", box(20, 150, 26, 158), name=HOSTILE)),
        name=HOSTILE,
        landmarks=(Landmark(HOSTILE, (0.0, 400.0)),),
        source=HOSTILE,
    )
    page = hole_page(hole, [replace(club_golfer(), name=HOSTILE)])
    html = page_html(page)
    assert HOSTILE not in html
    reader = read(html)
    told = json.loads(reader.texts["script", "data"])
    assert told == json.loads(json.dumps(page_data(page)))
    assert told["title"] == told["holes"][0]["name"] == told["attribution"] == HOSTILE
    assert told["holes"][0]["map"]["landmarks"][0]["name"] == HOSTILE
    assert told["holes"][0]["players"][0]["name"] == HOSTILE
    assert reader.texts["title", None] == HOSTILE
    assert [tag for tag, _ in reader.tags].count("script") == 2


def test_the_policy_lets_nothing_run_or_load_but_what_is_in_the_file(made):
    nothing_but_itself(page_html(made))


def test_cautions_stand_in_the_data(data):
    assert data["cautions"][0] == BEFORE
    assert "Rule 4.3" in " ".join(data["cautions"])
    assert "lightning" in " ".join(data["cautions"])


def rings(path):
    return [
        [tuple(map(float, point.split())) for point in ring.strip("MZ ").split("L")]
        for ring in re.findall("M[^M]*", path)
    ]


def test_the_map_covers_the_ground_of_the_file(data):
    told = data["holes"][0]["map"]
    frame = shapely.box(*told["view"])
    for kind in {area.kind for area in HALT.areas}:
        mine = shapely.Polygon()
        for shape in told["shapes"]:
            if NAMES[shape["kind"]] == kind:
                part = shapely.Polygon()
                for ring in rings(shape["path"]):
                    part = part.symmetric_difference(shapely.Polygon(ring).buffer(0))  # even-odd, as it is drawn
                mine = mine.union(part)
        theirs = shapely.union_all([area.outline for area in HALT.areas if area.kind == kind])
        apart = mine.symmetric_difference(theirs).intersection(frame).area
        # rounded to a tenth of a yard, a corner lies at most 0.08 yd off
        assert apart <= 0.08 * theirs.intersection(frame).length + 0.1, kind
    if HALT.boundary is not None:
        assert shapely.Polygon(rings(told["boundary"])[0]).area == pytest.approx(HALT.boundary.area, rel=0.01)
    assert [pin["name"] for pin in told["pins"]] == list(HALT.pins)
    order = [shape["kind"] for shape in told["shapes"]]
    assert order == sorted(order)


def test_same_bytes_twice_and_another_seed_other_balls(made):
    kept = hole_page(HALT, [WREN], PageRequest(pin="middle", seed=3))
    assert page_html(kept) == page_html(made)
    ignore_kept()
    try:
        anew = hole_page(HALT, [WREN], PageRequest(pin="middle", seed=3))
    finally:
        ignore_kept(ignored=False)
    assert page_html(anew) == page_html(made)
    other = questions_of(hole_page(HALT, [WREN], PageRequest(pin="middle", seed=4)))[0]
    assert other["options"]["balls"] != questions_of(made)[0]["options"]["balls"]


@pytest.fixture(scope="module")
def curlew():
    return hole_page(read_hole(find_hole("curlew-inlet")), [WREN])


@pytest.mark.slow
def test_a_hole_fits_in_a_megabyte(curlew):
    assert len(page_html(curlew).encode()) < 1_000_000
    assert [q.pin for q in curlew.holes[0].sides[0].questions] == ["middle", "front", "back"]


def position_aim(question):
    return round(question.answer.position.own_aim)


@pytest.mark.slow
def test_around_each_clubs_best_line_nothing_is_left_out(curlew):
    for question in curlew.holes[0].sides[0].questions:
        looks = question.looks
        for m in question.answer.options:
            aims = np.sort(looks.aim[looks.swing == m.option.swing])
            assert m.option.aim in aims
            np.testing.assert_allclose(np.diff(aims), 1.0, atol=1e-9)
            assert aims[0] <= round(m.option.aim) - 2
            assert aims[-1] >= round(m.option.aim) + 2
            assert aim_words(question.answer.position, m) == looks.words[looks.row(m.option)]
        best = question.answer.best.option
        tried = looks.aim[looks.swing == best.swing]
        assert 0.0 in tried  # straight at the pin, whatever is in the way
        assert tried.size >= 24
        assert position_aim(question) in tried.round()


def test_a_course_has_its_holes_numbered_with_one_pin_each():
    holes = tuple(replace(lane(), name=f"Lane {i} (invented)", stroke_index=5 + i) for i in range(2))
    course = Course("Two lanes (invented)", holes, ("a.yaml", "b.yaml"), source="Invented for a test")
    calls = []
    page = course_page(course, club_golfer(), PageRequest(), lambda: calls.append(1))
    told = page_data(page)
    assert [(hole["number"], hole["name"]) for hole in told["holes"]] == [(1, holes[0].name), (2, holes[1].name)]
    assert all(len(hole["players"][0]["questions"]) == 1 for hole in told["holes"])
    assert told["attribution"] == "Invented for a test"
    assert len(calls) == 2
    # 6 MB for 18 holes of such a bag
    assert len(json.dumps(told)) / 2 < 6_000_000 / 18


@pytest.fixture
def simcaddie(capsys, monkeypatch, tmp_path):
    """Return a function that runs ``simcaddie …`` in an empty folder and returns (code, out, err)."""
    monkeypatch.chdir(tmp_path)
    monkeypatch.setattr(warnings, "formatwarning", warnings.formatwarning)

    def run(*words):
        monkeypatch.setattr(sys, "argv", ["simcaddie", *words])
        capsys.readouterr()
        with pytest.raises(SystemExit) as left:
            main()
        told = capsys.readouterr()
        return int(left.value.code or 0), told.out, told.err

    return run


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("signal-halt", "wren", "-o", "a.pdf"), "a.pdf: a page is written as .html"),
        (("signal-halt", "nobody"), "nobody"),
        (("no-such-hole", "wren"), "no-such-hole"),
        (("signal-halt", "wren", "--pin", "any"), "one pin at a time"),
        (("signal-halt", "wren", "--pin", "left"), "no pin 'left'"),
        (("signal-halt", "wren", "--tee", "blue"), "no tee 'blue'"),
        (("signal-halt", "wren", "--objective", "glory"), "an aim of play is one of"),
        (("signal-halt", "wren", "--days", "a.yaml"), "two or more day files"),
        (("signal-halt", "wren", "--days", "a.yaml,b.yaml", "--wind", "9 mph into"), "no other day"),
        (("tansywick-heath", "wren", "otto"), "for one player, not for 2"),
        (("tansywick-heath", "wren", "--from", "second"), "asked of one hole"),
        (("tansywick-heath", "wren", "--pin", "nowhere"), "no pin 'nowhere'"),
        (("signal-halt", "wren", "-o", "no/such/folder/a.html"), "can't write"),
    ],
)
def test_bad_input_is_one_line_and_code_2(simcaddie, words, said):
    code_, out, err = simcaddie("page", *words)
    assert code_ == 2
    assert said in err
    assert len(err.strip().splitlines()) == 1
    assert "Traceback" not in err
    assert "<html" not in out


def test_the_command_writes_the_file(simcaddie, tmp_path):
    code_, out, err = simcaddie("page", "signal-halt", "wren", "--pin", "middle", "-o", "a.html", "--json", "a.json")
    assert code_ == 0
    assert "Drawn: a.html" in err
    assert "Rule 4.3" in out
    told = json.loads(read((tmp_path / "a.html").read_text(encoding="utf-8")).texts["script", "data"])
    assert told["schema"] == json.loads((tmp_path / "a.json").read_text(encoding="utf-8"))["schema"] == "page/1"
    assert told["holes"][0]["players"][0]["questions"][0]["pin"] == "middle"
