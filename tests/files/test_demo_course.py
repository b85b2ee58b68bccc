"""The demo course: its card, its customs, its ground, and how its holes are found and play."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from reference.club_golfers import LENGTH_RATING, MEAN_ABOVE_HANDICAP, SLOPE_PER_STROKE

from simcaddie.base.errors import BadFile
from simcaddie.course.route import line_of_play
from simcaddie.decision.compare import compare
from simcaddie.decision.request import Request
from simcaddie.io.course import read_course
from simcaddie.io.find import demo_courses, demo_files, find_any, find_course, find_hole, find_player
from simcaddie.io.player import read_player
from simcaddie.io.write import slug

NAME = "tansywick-heath"
OBSTACLES = {"white": (1.1, 2.4), "red": (0.9, 2.0)}  # as the course file's comment says; made up
LENGTHS = {3: (130, 215), 4: (290, 460), 5: (475, 560)}  # yd from white


@pytest.fixture(scope="module")
def course():
    return read_course(find_course(NAME))


def yards(hole, tee):
    return sum(math.dist(a, b) for a, b in pairwise(line_of_play(hole, hole.tees[tee])))


def area(hole, *kinds):
    return shapely.union_all([area.outline for area in hole.areas if area.kind in kinds])


def test_its_files_are_found_by_name_from_anywhere(course, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert demo_courses() == {NAME: find_course("Tansywick Heath")} == {NAME: find_any(NAME)}
    for number, (file, hole) in enumerate(zip(course.files, course.holes, strict=True), 1):
        short = file.removesuffix(".yaml")
        assert short == f"{number:02d}-{slug(hole.name)}"
        assert find_hole(f"{NAME}/{short}") == find_any(f"{NAME}/{short}") == find_course(NAME).parent / file
        assert short not in demo_files("holes")
    assert {path.name for path in find_course(NAME).parent.iterdir()} == {*course.files, f"{NAME}.yaml"}
    for path in find_course(NAME).parent.iterdir():
        assert path.read_text("utf-8").startswith("# Invented demo data")


def test_a_course_is_no_hole_and_a_hole_no_course():
    with pytest.raises(BadFile, match=r"expected one hole of the course, such as .*01-first-furze`, found the whole"):
        find_hole(NAME)
    with pytest.raises(BadFile, match="did you mean `tansywick-heath/07-sandpit`"):
        find_hole(f"{NAME}/sandpit")
    with pytest.raises(BadFile, match=r"a demo course by name \(tansywick-heath\), found none"):
        find_course("millpond")


def test_its_card_adds_up(course):
    assert len(course.holes) == 18
    assert sorted(hole.par for hole in course.holes) == [3] * 4 + [4] * 11 + [5] * 3
    for tee, total in (("white", 6450), ("red", 5650)):
        assert sum(yards(hole, tee) for hole in course.holes) == pytest.approx(total, abs=25)
        assert course.tees[tee].par == course.par == 71
    for hole in course.holes:
        low, high = LENGTHS[hole.par]
        assert low <= yards(hole, "white") <= high
        assert list(hole.pins) == ["front", "middle", "back"]


@pytest.mark.parametrize("tee", OBSTACLES)
def test_its_ratings_follow_from_its_length(course, tee):
    length, rated = sum(yards(hole, tee) for hole in course.holes), course.tees[tee]
    (a, b, *_), (c, d, *_) = LENGTH_RATING["scratch man"], LENGTH_RATING["bogey man"]
    scratch, bogey = length / a + b + OBSTACLES[tee][0], length / c + d + OBSTACLES[tee][1]
    assert rated.course_rating == pytest.approx(scratch, abs=0.06)
    assert rated.slope == pytest.approx(SLOPE_PER_STROKE * (bogey - scratch), abs=0.6)


def test_stroke_indexes_keep_to_the_customs(course):
    """Odd out, even home, each once; the six hardest don't stand next to each other. Common practice, no source."""
    order = [hole.stroke_index for hole in course.holes]
    assert sorted(order) == list(range(1, 19))
    assert {index % 2 for index in order[:9]} == {1}
    assert not [pair for pair in pairwise(order) if max(pair) <= 6]


def test_both_nines_come_back_to_the_clubhouse(course):
    for nine in (course.holes[:9], course.holes[9:]):
        x = y = 0.0
        for hole in nine:
            turn, (east, north) = math.radians(hole.bearing), hole.pin()
            x += east * math.cos(turn) + north * math.sin(turn)
            y += north * math.cos(turn) - east * math.sin(turn)
        assert math.hypot(x, y) < 250.0  # the walks between the holes make up the rest


def test_its_ground_is_sound(course):
    for hole in course.holes:
        (green,) = [area.outline for area in hole.areas if area.kind == "green"]
        assert 440 <= green.area <= 710
        assert area(hole, "bunker", "water", "trees", "gorse").intersection(green).area < 1.0
        assert area(hole, "trees", "gorse").intersection(area(hole, "fairway")).area < 1.0
        assert hole.boundary is not None
        assert shapely.distance(area(hole, "tee"), area(hole, "heather", "gorse", "trees", "water")) > 2.0
    assert len([hole for hole in course.holes if hole.heights is not None]) >= 12
    water = {(area.marking, hole.name) for hole in course.holes for area in hole.areas if area.kind == "water"}
    assert {marking for marking, _ in water} == {"red", "yellow"}


@pytest.mark.slow
def test_a_club_golfer_goes_round_in_about_his_handicap(course):
    """To 4 strokes: the mean of published rounds lies a little above the course handicap; sound play to follow."""
    player, white = read_player(find_player("wren")), course.tees["white"]
    ask = Request(sequences=400, then="sound", robust=False)
    scores = [compare(hole, player, ask).fewest for hole in course.holes]
    for hole, score in zip(course.holes, scores, strict=True):
        assert 0.5 < score - hole.par < 2.0
    handicap = player.handicap_index * white.slope / 113 + white.course_rating - white.par
    assert sum(scores) == pytest.approx(white.par + handicap + MEAN_ABOVE_HANDICAP, abs=4.0)
