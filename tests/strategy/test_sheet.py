"""A strategy sheet's decisions, held against the geometry of small holes and against each other."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from helpers import club_golfer, mirrored_hole, mirrored_player
from small_courses import golfer, nine
from small_sheets import four, pair, small_sheet, three

from simcaddie.base.errors import BadRequest
from simcaddie.decision.dangers import in_trouble
from simcaddie.decision.line_of_play import plan, solved_hole
from simcaddie.decision.measure import ball_places
from simcaddie.features.sheet.analysis import HEAD_WIND, sheet, sheet_hole
from simcaddie.features.sheet.present import decisions, flip_words, sheet_data, target
from simcaddie.player.pattern import course_pattern
from simcaddie.weather.day import STANDARD, Day


def test_every_hole_has_at_most_three_decisions_and_a_word_on_the_wind():
    for hole in small_sheet().holes:
        found = decisions(hole)
        assert 1 <= len(found) <= 3
        assert [each.number for each in found] == list(range(1, len(found) + 1))
        assert found[0].name == "Tee"
        assert sum("wind" in words for words in flip_words(hole)) == 1


def test_net_par_is_par_and_the_strokes_of_the_card():
    for hole in small_sheet().holes:
        assert hole.net_par == hole.hole.par + hole.strokes
        assert hole.strokes == 1  # index 18 on holes of index 2 and 5, slope 113
    course = nine()
    drawn = sheet(course, golfer(handicap_index=30.0), holes=[1, 3])
    assert [hole.number for hole in drawn.holes] == [1, 3]
    assert drawn.handicap is not None
    assert drawn.holes[1].strokes == -(-drawn.handicap // 9)  # the hardest hole gets the first of each nine


def number(hole, order, say):
    return next((hazard for hazard in hole.hazards[order] if hazard.say == say), None)


def test_the_two_numbers_are_those_of_the_ground():
    hole = small_sheet().holes[0]
    carry, short = number(hole, 0, "carry"), number(hole, 0, "short")
    assert (carry.title, carry.yards) == ("drain", pytest.approx(80.0, abs=1.0))
    assert (short.title, short.yards) == ("back bunker", pytest.approx(172.0, abs=1.5))
    assert [hazard.title for hazard in small_sheet().holes[1].hazards[1]] == ["cross ditch"]  # between the two strokes


def test_numbers_hold_for_eight_balls_in_ten_and_the_dearest_hazard_is_named():
    for hole in small_sheet().holes:
        for leg, hazards in zip(hole.line, hole.hazards, strict=True):
            along = np.array([np.sin(leg.bearing), np.cos(leg.bearing)])
            flown = (np.column_stack([leg.rest.landing_x, leg.rest.landing_y]) - leg.start) @ along
            rolled = (np.column_stack(ball_places(leg.rest)) - leg.start) @ along
            for hazard in hazards:
                if hazard.say == "carry":
                    assert (flown > hazard.yards).mean() >= 0.8
                elif hazard.say == "short":
                    assert (rolled < hazard.yards).mean() >= 0.8
                    assert rolled.max() > hazard.yards - 10.0
        dearest = plan(hole.hole, hole.on.player).avoid[:1]
        assert {d.title for d in dearest} <= {h.title for hazards in hole.hazards for h in hazards}


def test_no_hazard_is_missing_that_costs_much_and_is_met_often():
    """A pond right across the way of a short hitter's second shot, a wood all along: what costs 0.3 is named."""
    for hole in small_sheet().holes:
        told = " ".join(line for decision in decisions(hole) for line in (decision.name, *decision.lines))
        for danger in plan(hole.hole, hole.on.player).avoid:
            if danger.cost >= 0.3 and danger.often >= 0.1:
                assert danger.title in told


def test_a_way_out_is_told_only_where_most_balls_in_trouble_have_it():
    for hole in small_sheet().holes:
        if hole.trouble and hole.trouble.play is not None:
            assert hole.trouble.leaves > 45.0
            assert hole.trouble.often <= in_trouble(hole.line[0].rest).mean() + 1e-12


def test_the_side_to_miss_on_is_away_from_the_pond_and_turns_over_with_the_hole():
    hole = small_sheet().holes[0]
    assert hole.miss.worst == "left"
    over = sheet_hole(mirrored_hole(three()), mirrored_player(club_golfer()), None, 1, 1, seed=1, day=STANDARD)
    assert over.miss.worst == "right"
    assert over.line[0].title == hole.line[0].title


def test_a_head_wind_asks_for_a_longer_club_and_no_wind_for_none():
    hole = small_sheet().holes[0]
    (flip,) = [flip for flip in hole.flips if flip.when == "wind"]
    swings = hole.on.player.swings
    assert swings[flip.instead.swing].carry > swings[hole.line[0].swing].carry
    assert flip.saves >= 0.05
    assert pytest.approx(5.36, abs=0.01) == HEAD_WIND
    calm = solved_hole(three(), club_golfer(), pin="any")
    blown = solved_hole(three(), club_golfer(), pin="any", day=Day(wind=HEAD_WIND))
    first = hole.line[0]
    ask = (hole.on.place, first.swing, first.bearing)
    assert blown.look(*ask)[0] > calm.look(*ask)[0]


def test_figures_are_averages_over_the_pins():
    on = small_sheet().holes[0].on
    first = small_sheet().holes[0].line[0]
    ask = (on.place, first.swing, first.bearing)
    alone = [on.look(*ask, (name,))[0] for name in on.pins]
    assert len(set(alone)) == 3
    assert on.look(*ask)[0] == pytest.approx(sum(alone) / 3)


def test_a_pin_is_told_where_it_changes_the_approach():
    """Two pins a club apart, on a green as deep as that: each calls for a club of its own."""
    hole = three()
    deep = replace(hole.areas[0], outline=shapely.Point(0, 150).buffer(34))
    far = replace(hole, areas=(deep,), pins={"front": (0.0, 120.0), "back": (0.0, 180.0)})
    told = sheet_hole(far, club_golfer(), None, 1, 1, seed=1, day=STANDARD)
    flips = {flip.when: flip for flip in told.flips if flip.when != "wind"}
    assert len(flips) == 1
    (name,) = flips
    swings = told.on.player.swings
    longer = swings[flips[name].instead.swing].carry > swings[told.line[0].swing].carry
    assert longer == (name == "back")
    assert f"Pin {name}: {flips[name].instead.title}" in " ".join(flip_words(told))


def test_targets_go_by_landmarks_and_the_approach_by_the_green():
    short, long = small_sheet().holes
    assert "green" in target(short, short.line[0])
    assert target(long, long.line[0]) in ("at the mast", "at the flag")
    approach = long.line[long.approach]
    assert "green" in target(long, approach) or "middle" in target(long, approach)


def test_trouble_is_what_the_tee_shot_finds_most():
    trouble = small_sheet().holes[1].trouble
    assert trouble is not None
    assert "heather" in trouble.title
    assert 0.02 < trouble.often < 0.5
    hole = small_sheet().holes[1]
    pattern = course_pattern(hole.on.player, hole.on.player.swings[hole.line[0].swing], hole.on.player.lies["tee"])
    assert pattern.solid.side_sd > 8.0  # heather lies from 18 yd off the line


def test_nothing_depends_on_the_number_of_threads(monkeypatch):
    monkeypatch.setenv("SIMCADDIE_THREADS", "1")
    alone = sheet_data(sheet(pair(), club_golfer()))
    assert alone == sheet_data(small_sheet())


def test_holes_and_tees_that_are_not_there_are_refused():
    with pytest.raises(BadRequest, match="has 2 holes, none numbered 3"):
        sheet(pair(), club_golfer(), holes=[3])
    with pytest.raises(BadRequest, match="no tee 'gold'"):
        sheet(pair(), club_golfer(), tee="gold")


def test_a_hole_of_its_own_may_be_asked_for():
    alone = replace(pair(), holes=(four(),), files=("4.yaml",))
    answer = sheet(alone, club_golfer(), tee="red")
    assert answer.single
    assert answer.holes[0].number == 0
