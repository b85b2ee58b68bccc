"""The lesson's page: nothing over anything else, nothing cut off, large enough, black and white."""

from __future__ import annotations

import re
from functools import cache

import pytest
import shapely
from lessons import demo_lesson

from simcaddie.base.cautions import ON_PAPER
from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import NAMES
from simcaddie.charts.labels import clipped, overlaps, shown_texts
from simcaddie.charts.style import lightness
from simcaddie.features.lesson.figure import (
    HATCHES,
    LEAST,
    MARKS,
    draw_lesson,
    lesson_figure,
    mark_of,
    view_of,
)

SLOW = [pytest.param(name, marks=pytest.mark.slow) for name in ("halt", "par 3")]


@cache
def page_of(name, paper="a4"):
    """Draw a page once for all that only look at it."""
    return lesson_figure(demo_lesson(name), paper)


@pytest.fixture(scope="module", params=["weir", "long names", *SLOW])
def told(request):
    return request.param


@pytest.mark.parametrize("paper", ["a4", pytest.param("letter", marks=pytest.mark.slow)])
def test_texts_stand_free_and_are_large_enough(told, paper):
    figure = page_of(told, paper)
    assert overlaps(figure) == []
    assert clipped(figure) == []
    assert min(text.get_fontsize() for text, _ in shown_texts(figure)) >= LEAST == 9.0
    maps = [ax for ax in figure.axes if ax.axison]
    assert len(maps) == 2
    pixels = figure.dpi / 72.0
    for ax in maps:
        assert ax.bbox.height / pixels > 110.0
        others = [text for text, owner in shown_texts(figure) if owner is not ax]
        frame = shapely.box(*ax.bbox.extents)
        assert not any(shapely.box(*text.get_window_extent().extents).intersects(frame) for text in others)


def test_both_maps_have_one_scale_and_show_every_ball(told):
    maps = [ax for ax in page_of(told).axes if ax.axison]
    assert maps[0].get_xlim() == pytest.approx(maps[1].get_xlim())
    assert maps[0].get_ylim() == pytest.approx(maps[1].get_ylim())
    left, low, right, high = view_of(demo_lesson(told))
    for side in demo_lesson(told).sides:
        assert all(left < ball.x < right and low < ball.y < high for ball in side.balls)


def test_the_caution_stands_once(told):
    words = " ".join(text.get_text() for text, _ in shown_texts(page_of(told)))
    assert words.count("Rule 4.3") == 1
    assert ON_PAPER in words
    for word in ("reach of your longest likely shot", "shout", "lightning", "Committee", "coaches"):
        assert ON_PAPER.count(word) == 1


def test_marks_differ_in_shape_or_fill_and_every_finish_has_one():
    looks = {(marker, lightness(fill) > 50) for marker, _, fill, _ in MARKS.values()}
    assert len(looks) == len(MARKS)
    for finish in (*NAMES, "lost", "unplayable", "holed"):
        assert mark_of(finish) in MARKS
    assert mark_of("water") == mark_of("out_of_bounds") == mark_of("lost") != mark_of("bunker")
    assert HATCHES[0] != HATCHES[1]


@pytest.mark.parametrize(("paper", "size"), [
    ("letter", (612.0, 792.0)), pytest.param("a4", (595.28, 841.89), marks=pytest.mark.slow),
])  # fmt: skip
def test_the_pdf_has_the_size_of_its_paper_its_fonts_and_no_date(tmp_path, paper, size):
    told = demo_lesson("weir")
    for name in "ab":
        draw_lesson(told, tmp_path / f"{name}.pdf", paper)
    content = (tmp_path / "a.pdf").read_bytes()
    assert content == (tmp_path / "b.pdf").read_bytes()
    (box,) = re.findall(rb"/MediaBox \[ 0 0 ([\d.]+) ([\d.]+) \]", content)
    assert [float(side) for side in box] == pytest.approx(size, abs=0.01)
    assert content.count(b"/Type /Page ") == 1
    assert b"CreationDate" not in content
    assert b"/FontFile2" in content
    assert b"/Subtype /Image" not in content


def test_other_papers_are_refused():
    with pytest.raises(BadRequest, match="expected a4 or letter, found 'a5'"):
        lesson_figure(demo_lesson("weir"), "a5")
