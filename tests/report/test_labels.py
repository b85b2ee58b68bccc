"""The placer and the overlap check on small figures, where the answer is known."""

from __future__ import annotations

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from simcaddie.charts.labels import Label, LabelPlacer, clipped, overlaps
from simcaddie.charts.style import new_figure, styled


@pytest.fixture(autouse=True)
def _style():
    with styled():
        yield


def square():
    figure = new_figure(3.0, 3.0)
    ax = figure.add_axes((0.0, 0.0, 1.0, 1.0))
    ax.set_xlim(0.0, 100.0)
    ax.set_ylim(0.0, 100.0)
    ax.set_axis_off()
    return figure, ax


def test_the_check_sees_an_overlap():
    figure, ax = square()
    ax.text(50, 50, "one")
    ax.text(52, 50, "two")
    ax.text(10, 90, "three")
    assert overlaps(figure) == [("one", "two")]


def test_the_check_sees_what_is_cut_off():
    figure, ax = square()
    ax.text(50, 50, "inside")
    ax.text(98, 50, "sticks out")
    figure.text(0.5, 0.999, "too high", va="center")
    assert sorted(clipped(figure)) == ["sticks out", "too high"]


def test_the_check_skips_what_is_not_drawn():
    figure, ax = square()
    ax.text(50, 50, "one")
    ax.text(50, 50, "two").set_visible(False)
    assert overlaps(figure) == []


def test_a_lone_label_stands_beside_what_it_names():
    _, ax = square()
    labels = LabelPlacer(ax)
    labels.add(Label("oak", shapely.Point(50, 50)))
    assert labels.place() == []
    (text,) = ax.texts
    x, y = text.get_position()
    assert 0.0 < abs(x - 50) + abs(y - 50) < 12.0
    assert len(ax.lines) == 0  # near enough to need no leader


def test_a_label_that_must_go_far_gets_a_leader():
    _, ax = square()
    labels = LabelPlacer(ax)
    labels.block(shapely.Point(50, 50).buffer(14.0))
    labels.add(Label("oak", shapely.Point(50, 50)))
    assert labels.place() == []
    (leader,) = ax.lines
    assert min(abs(leader.get_xdata() - 50) + abs(leader.get_ydata() - 50)) < 1e-6


def test_a_label_without_room_is_dropped_and_told():
    _, ax = square()
    labels = LabelPlacer(ax)
    labels.block(shapely.box(0, 0, 100, 100))
    labels.add(Label("oak", shapely.Point(50, 50)))
    assert [label.text for label in labels.place()] == ["oak"]
    assert ax.texts[:] == []


def test_the_more_important_label_goes_first():
    _, ax = square()
    labels = LabelPlacer(ax)
    room = shapely.box(40, 45, 60, 55)  # for one label
    labels.block(shapely.box(0, 0, 100, 100).difference(room))
    for text, priority in (("last", 9), ("first", 0)):
        labels.add(Label(text, room, priority=priority, inside=True))
    assert [label.text for label in labels.place()] == ["last"]
    assert [text.get_text() for text in ax.texts] == ["first"]


def test_a_roomy_area_takes_its_label_inside():
    _, ax = square()
    area = shapely.box(20, 30, 80, 70)
    labels = LabelPlacer(ax)
    labels.add(Label("old wood", area, inside=True))
    labels.place()
    assert area.contains(shapely.Point(ax.texts[0].get_position()))


def test_labels_keep_off_what_costs():
    _, ax = square()
    labels = LabelPlacer(ax)
    labels.keep_clear(shapely.box(50, 0, 100, 100), 500.0)
    labels.keep_off_line(shapely.LineString([(0, 52), (48, 52)]), 500.0)
    labels.add(Label("oak", shapely.Point(50, 50)))
    labels.place()
    x, y = ax.texts[0].get_position()
    assert x < 50.0
    assert y < 52.0


places = st.lists(st.tuples(st.floats(2, 98), st.floats(2, 98)), min_size=1, max_size=25)


@settings(max_examples=20, deadline=None)
@given(places)
def test_no_crowd_makes_labels_overlap(points):
    with styled():
        figure, ax = square()
        labels = LabelPlacer(ax)
        for number, point in enumerate(points):
            labels.add(Label(f"tree {number}\n{number * 7}", shapely.Point(point)))
        dropped = labels.place()
        assert overlaps(figure) == []
        assert clipped(figure) == []
    assert len(ax.texts) + len(dropped) == len(points)
