"""A field: orders known by construction, paired luck, standard errors, lattice against direct play, same bytes."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import numpy as np
import pytest
from small_groups import hole, three, write_course

from simcaddie.base.errors import BadRequest
from simcaddie.base.executors import place_of
from simcaddie.base.memo import ignore_kept
from simcaddie.base.pieces import run_pieces, unpacked
from simcaddie.course.course import CourseTee
from simcaddie.decision.rounds import play_course
from simcaddie.features.field.analysis import FieldRequest, field_of, hole_piece, pieces_of, plan_of
from simcaddie.features.field.golfers import DRIVER_STEP, INDEX_STEP, golfers_for
from simcaddie.features.field.present import field_csv, field_data, present
from simcaddie.io.course import read_course
from simcaddie.io.find import find_course
from simcaddie.io.members import FieldMember
from simcaddie.io.sent import day_sent, holes_sent
from simcaddie.io.write import json_text
from simcaddie.player.reference import golfer

DAY = day_sent(None)
NOTHING = pytest.approx(0.0, abs=1e-9)
TWO = (FieldMember("1", 12.0, 180.0), FieldMember("2", 30.0, 130.0))


def field(path, members=TWO, where=None, **keys):
    course, request = read_course(path), FieldRequest(**{"day": DAY, "sequences": 1000, **keys})
    plan = plan_of(course, members, request)
    pieces = pieces_of(course, holes_sent(course, str(path)), plan, request)
    with place_of(where) as place:
        return field_of(course, members, request, plan, run_pieces(pieces, place))


@pytest.fixture(scope="module")
def small(tmp_path_factory):
    """Return a course file: the second tee stands where the first does, the third forward; likewise the pins."""
    holes = tuple(
        replace(
            one,
            tees={"back": (0.0, 0.0), "same": (0.0, 0.0), "front": one.tees["front"]},
            pins={"middle": one.pins["middle"], "twin": one.pins["middle"], "edge": one.pins["edge"]},
        )
        for one in three()[:2]
    )
    return write_course(tmp_path_factory.mktemp("small"), holes)


@pytest.fixture(scope="module")
def answer(small):
    return field(small, tees=("back", "same", "front"), pins=("middle", "twin", "edge"))


def test_set_ups_that_are_the_same_differ_by_nothing_at_all(answer):
    """Paired luck: the same sequences, so that the difference is 0 to the last ball and its interval has no width."""
    same, front, twin, edge = answer.differences
    for one in (same, twin):
        told = [e for pair in (*one.by_group, *one.by_hole) for e in pair]
        assert [(e.value, e.se, e.sure) for e in told] == [(NOTHING, NOTHING, False)] * len(told)
    assert front.by_group[-1][0].value < 0.0 < edge.by_group[-1][0].value
    assert front.by_group[-1][0].sure
    assert edge.by_group[-1][0].sure


def test_groups_holes_and_differences_add_up(answer):
    *parts, _ = answer.groups
    assert [group.title for group in parts] == ["10 to 20", "30 and over"]
    for one in answer.holes:
        assert one.scores[-1].value == pytest.approx(np.mean([e.value for e in one.scores[:-1]]))
        assert one.scores[-1].se == pytest.approx(math.hypot(*(e.se for e in one.scores[:-1])) / 2)
    for one in answer.differences:
        assert one.by_group[-1][0].value == pytest.approx(sum(strokes.value for strokes, _ in one.by_hole))
        assert one.by_group[-1][0].se == pytest.approx(
            math.hypot(*(strokes.se for strokes, _ in one.by_hole)), abs=1e-9
        )


def test_scores_are_those_of_the_golfers_rounds(answer, small):
    """Against ``play_course`` of the same neutral golfers, with luck of its own."""
    course = read_course(small)
    for number, member in enumerate(TWO):
        player = golfer(member.index, member.driver)
        played = play_course(course, player, tee="back", pin="middle", then="best", sequences=20_000, seed=9)
        for one, scores in zip(answer.holes, played.holes, strict=True):
            mean = float(played.weights @ scores.days @ np.arange(13))
            error = math.hypot(one.scores[number].se, scores.se)
            assert one.scores[number].value == pytest.approx(mean, abs=4 * error)


def test_standard_errors_are_those_of_repeated_runs(small):
    """A mean, and a paired difference, over 25 seeds: sd over the quoted error, its own error about 0.14."""
    course = read_course(small)
    sent = holes_sent(course, str(small))[0]
    setups, means, told = [["back", "middle"], ["back", "edge"]], [], []
    turn = np.zeros((2, 2, 13))
    turn[0, 0] = turn[1, 1] = np.arange(13)
    turn[1, 0] = -np.arange(13)
    for seed in range(25):
        asked = {"sequences": 1000, "seed": seed, "day": DAY}
        law, covariance = map(unpacked, hole_piece(sent, [12.0, 180.0], setups, 0, asked))
        flat = turn.reshape(2, -1)
        means.append(flat @ law.ravel())
        told.append(np.diag(flat @ covariance @ flat.T))
    ratio = np.std(means, axis=0, ddof=1) / np.sqrt(np.mean(told, axis=0))
    assert ratio == pytest.approx([1.0, 1.0], abs=0.4)
    (mean, _), both = np.mean(told, axis=0), np.mean(told, axis=0)
    assert both[1] < 2 * mean  # less than two runs with luck of their own


def test_a_course_ordered_by_construction_gets_that_order(tmp_path):
    """One hole four times, longer each time: no golfer takes fewer strokes on a longer one."""
    lengths = (105.0, 75.0, 165.0, 135.0)
    path = write_course(tmp_path, tuple(hole(n + 1, length, 3) for n, length in enumerate(lengths)))
    found = field(path).allocation
    assert found.proposed == found.rank == (3, 4, 1, 2)
    assert found.today == (1, 2, 3, 4)
    assert found.off == pytest.approx(2.0)
    assert found.may == ((3, 3), (4, 4), (1, 1), (2, 2))


def test_a_failed_piece_leaves_its_members_out_on_that_hole_and_the_rest_is_told(small):
    course, request = read_course(small), FieldRequest(DAY, pins=("middle", "edge"), sequences=1000)
    plan = plan_of(course, TWO, request)
    pieces = pieces_of(course, holes_sent(course, str(small)), plan, request)
    with place_of(None) as place:
        delivered = run_pieces(pieces, place)
    whole = field_of(course, TWO, request, plan, delivered)
    found = field_of(course, TWO, request, plan, replace(delivered, results=(None, *delivered.results[1:])))
    first, second = found.holes
    assert math.isnan(first.scores[0].value)
    assert first.scores[1] == whole.holes[0].scores[1]
    assert first.scores[2].value == pytest.approx(first.scores[1].value)
    assert second == whole.holes[1]
    assert math.isnan(found.differences[0].by_group[0][0].value)
    assert found.differences[0].by_group[1] != ()
    assert "nan" not in field_csv(found) + " ".join(map(str, present(found)))
    assert '"value": null' in json_text(field_data(found))
    with pytest.raises(BadRequest, match="too many pieces"):
        field_of(course, TWO, request, plan, replace(delivered, results=(None, None, *delivered.results[2:])))


# ─── golfers of a lattice ───────────────────────────────────────────────────────────────────────────────────────────


def test_members_stand_between_golfers_that_average_to_them():
    rng = np.random.default_rng(3)
    members = [FieldMember(str(n), float(rng.uniform(-5, 54)), float(rng.uniform(60, 350))) for n in range(2000)]
    found = golfers_for(members)
    assert len(found.golfers) < len(members)
    for member, shares in zip(members, found.shares, strict=True):
        weights = np.array([share for _, share in shares])
        corners = np.array([found.golfers[number] for number, _ in shares])
        assert weights.sum() == pytest.approx(1.0)
        assert weights @ corners == pytest.approx([member.index, member.driver])
        assert (np.abs(corners - [member.index, member.driver]) < [INDEX_STEP, DRIVER_STEP]).all()


def test_few_members_are_played_themselves():
    assert golfers_for(TWO).golfers == ((12.0, 180.0), (30.0, 130.0))
    many = [FieldMember(str(n), 6.1 + 0.1 * n, 200.1 + 0.1 * n) for n in range(30)]
    assert len(golfers_for(many).golfers) == 4
    assert len(golfers_for(many, each=True).golfers) == 30


def against_direct(sent, index, driver, number, sequences, tee, pin):
    """Return (between golfers of the lattice − direct) strokes and chance of par + 2 or more, and both errors."""
    shares = golfers_for([FieldMember(str(n), index, driver + 1e-6 * n) for n in range(9)])
    asked = {"sequences": sequences, "seed": 4, "day": DAY}

    def law(who):
        return map(unpacked, hole_piece(sent, list(who), [[tee, pin]], number, asked))

    turn = np.array([np.arange(13.0), np.arange(13) >= sent[2] + 2])
    (own, covariance) = law((index, driver))
    gap, error = -turn @ own[0], np.diag(turn @ covariance @ turn.T)
    for who, share in ((shares.golfers[number], share) for number, share in shares.shares[0]):
        corner, spread = law(who)
        gap, error = gap + share * (turn @ corner[0]), error + share**2 * np.diag(turn @ spread @ turn.T)
    return gap, np.sqrt(error)


def test_a_member_between_golfers_scores_as_played_directly(small):
    """The middle of a lattice square, the farthest from its corners: within 3 standard errors."""
    sent = holes_sent(read_course(small), str(small))[0]
    gap, error = against_direct(sent, 15.0, 145.0, 0, 1000, "back", "middle")
    assert np.abs(gap) == pytest.approx([0.0, 0.0], abs=float(3 * error.max()))
    assert (np.abs(gap) <= 3 * error).all()


@pytest.mark.slow
@pytest.mark.parametrize("number", [3, 5])
@pytest.mark.parametrize(("index", "driver"), [(9.0, 215.0), (27.0, 155.0)])
def test_the_same_on_a_demo_course(number, index, driver):
    path = find_course("tansywick-heath")
    sent = holes_sent(read_course(path), str(path))[number]
    gap, error = against_direct(sent, index, driver, number, 6000, "white", "middle")
    assert (np.abs(gap) <= 3 * error).all()


# ─── tees ───────────────────────────────────────────────────────────────────────────────────────────────────────────


def test_tees_are_fair_where_ratings_say_what_play_does(tmp_path):
    """Nine holes; the front tees rated by as much less as they play, then by nothing less."""
    nine = tuple(replace(three()[0], name=f"Small {n} (invented)", stroke_index=n + 1) for n in range(9))

    def cards(rating):
        return {"back": CourseTee(27, 27.0, 113), "front": CourseTee(27, rating, 113)}

    path = write_course(tmp_path, nine, cards(27.0))
    members = (FieldMember("1", 12.0, 180.0),)
    easier = field(path, members, tees=("back", "front"))
    (tee,) = easier.tees
    strokes = easier.differences[0].by_group[-1][0]
    assert tee.by_group[-1].value == pytest.approx(strokes.value)
    assert tee.rated
    assert tee.by_group[-1].sure
    path = write_course(tmp_path, nine, cards(round(27.0 + strokes.value, 1)))  # ratings are in tenths
    (fair,) = field(path, members, tees=("back", "front")).tees
    assert fair.by_group[-1].value == pytest.approx(strokes.value - round(strokes.value, 1), abs=1e-6)
    assert abs(fair.by_group[-1].value) <= 0.05


def test_members_play_from_their_own_tee_their_sexs_or_the_first(small):
    course = read_course(small)
    members = (
        FieldMember("1", 9.0, 200.0, "same"),
        FieldMember("2", 9.0, 200.0, None, "w"),
        FieldMember("3", 9.0, 200.0),
    )
    plan = plan_of(course, members, FieldRequest(DAY, women="front", tees=("back",)))
    assert plan.own == ("same", "front", "back")
    with pytest.raises(BadRequest, match="no pin 'nowhere'"):
        plan_of(course, members, FieldRequest(DAY, pins=("middle", "nowhere")))


# ─── anywhere ───────────────────────────────────────────────────────────────────────────────────────────────────────


@pytest.mark.slow
def test_bytes_are_the_same_in_process_and_in_two(small):
    """The engine alone, and a cluster, are held to that in the fast form."""
    ignore_kept()  # each works the holes out for itself
    try:
        texts = [field(small, where=where, pins=("middle", "edge")) for where in (None, "processes:2")]
    finally:
        ignore_kept(ignored=False)
    assert field_csv(texts[0]) == field_csv(texts[1])
    assert json.dumps(field_data(texts[0])) == json.dumps(field_data(texts[1]))
