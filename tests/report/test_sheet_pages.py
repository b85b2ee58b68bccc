"""The strategy sheet's pages: within the sizes of the Rules, nothing over anything else, the caution once."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from matplotlib.image import imread
from pdf_pages import filled, page_sizes, page_streams
from small_sheets import small_sheet

from simcaddie.base.cautions import ON_PAPER
from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import BY_NAME
from simcaddie.charts.labels import clipped, overlaps, shown_texts
from simcaddie.features.sheet.figure import LARGEST_SCALE, draw_sheet, green_scale, points_per_yard, sheet_pages

GREEN = BY_NAME["green"].drawing.fill
FORMS = [
    ("pocket", "a4", (306.0, 504.0)),
    ("desk", "a4", (595.28, 841.89)),
    pytest.param("desk", "letter", (612.0, 792.0), marks=pytest.mark.slow),
]


def variants():
    plain = small_sheet()
    first = plain.holes[0]
    long = replace(first.on, hole=replace(first.hole, name="The Long Walk Round the Old Kettle Works", units="metres"))
    named = replace(plain, title="The Old Kettle Works and District Golf Course",
                    holes=(replace(first, on=long), plain.holes[1]),
                    player=replace(plain.player, name="A pupil with rather a long name, Tuesdays",
                                  routine="feet together, one look at where it lands, no more thinking"))  # fmt: skip
    return {"plain": plain, "long names, metres": named, "single": replace(plain, holes=plain.holes[1:], single=True)}


@pytest.mark.parametrize("which", ["long names, metres", "single", pytest.param("plain", marks=pytest.mark.slow)])
@pytest.mark.parametrize(("form", "paper", "size"), FORMS)
def test_texts_stand_free_and_are_large_enough(which, form, paper, size):
    answer = variants()[which]
    words = ""
    for number, page in enumerate(sheet_pages(answer, form, paper)):
        assert overlaps(page) == []
        assert clipped(page) == []
        assert [72.0 * inches for inches in page.get_size_inches()] == pytest.approx(size, abs=0.01)
        shown = shown_texts(page)
        cover = number == 0 and not answer.single
        small = [text for text, _ in shown if text.get_fontsize() < 9.0 and "1:" not in text.get_text()]
        if not cover:
            assert all(text.get_text() in ON_PAPER for text in small)
            assert not any(_hits(ax, shown) for ax in page.axes if ax.axison)
        assert min(text.get_fontsize() for text, _ in shown) >= 7.5
        words += " ".join(text.get_text() for text, _ in shown) + " "
    assert words.count("Rule 4.3") == 1
    assert words.count("lightning") == 1
    if not answer.single:
        assert ("Routine: " in words) == (answer.player.routine is not None)


def _hits(ax, shown):
    frame = shapely.box(*ax.bbox.extents)
    return any(
        shapely.box(*text.get_window_extent().extents).intersects(frame) for text, owner in shown if owner is not ax
    )


@pytest.mark.parametrize(("form", "paper", "size"), FORMS)
def test_sizes_and_scales_are_those_of_the_pdf(tmp_path, form, paper, size):
    answer = small_sheet()
    for name in "ab":
        draw_sheet(answer, tmp_path / f"{name}.pdf", form, paper)
    content = (tmp_path / "a.pdf").read_bytes()
    assert content == (tmp_path / "b.pdf").read_bytes()
    assert b"CreationDate" not in content
    assert b"/FontFile2" in content
    assert b"/Type3" not in content
    assert b"/Subtype /Image" not in content
    sizes = page_sizes(content)
    assert len(sizes) == (3 if form == "pocket" else 2)
    for wide, tall in sizes:
        assert (wide, tall) == pytest.approx(size, abs=0.01)
    assert [filled(page, GREEN) for page in page_streams(content)[:1]] == [[]]
    holes = [shape for page in page_streams(content)[1:] for shape in filled(page, GREEN)]
    assert len(holes) == 2 * len(answer.holes)  # on the map and by itself
    for hole in answer.holes:
        left, low, right, high = hole.hole.green.bounds
        scales = [72.0 * 36.0 / (shape.wide / (right - left)) for shape in holes]
        assert all(scale >= LARGEST_SCALE - 0.5 for scale in scales)
        assert any(shape.tall / shape.wide == pytest.approx((high - low) / (right - left), rel=1e-3) for shape in holes)


def test_a_tiny_green_is_not_drawn_larger_than_the_rules_allow(tmp_path):
    """Five yards across would fit at 1:150: Clarification 4.3a/1 stops at 3/8 inch to 5 yards."""
    hole = small_sheet().holes[0]
    tiny = shapely.Point(0, 150).buffer(2.5)
    ground = replace(hole.hole, areas=(replace(hole.hole.areas[0], outline=tiny),), pins={"middle": (0.0, 150.0)})
    answer = replace(small_sheet(), holes=(replace(hole, on=replace(hole.on, hole=ground)),))
    draw_sheet(answer, tmp_path / "tiny.pdf")
    shapes = filled(page_streams((tmp_path / "tiny.pdf").read_bytes())[1], GREEN)
    largest = max(shape.wide for shape in shapes)
    assert largest / 72.0 == pytest.approx(3.0 / 8.0, rel=1e-3)  # inches for its five yards
    assert green_scale(answer.holes[0], 1e4, 1e4) == LARGEST_SCALE
    assert points_per_yard(LARGEST_SCALE) * 5.0 / 72.0 == pytest.approx(3.0 / 8.0)


def test_the_pocket_form_keeps_within_the_paper_of_the_rules():
    for page in sheet_pages(small_sheet(), "pocket"):
        wide, tall = page.get_size_inches()
        assert wide <= 4.25
        assert tall <= 7.0


def test_what_is_no_sheet_is_refused(tmp_path):
    with pytest.raises(BadRequest, match="expected pocket or desk, found 'wall'"):
        next(sheet_pages(small_sheet(), "wall"))
    with pytest.raises(BadRequest, match=r"a sheet is written as \.pdf"):
        draw_sheet(small_sheet(), tmp_path / "sheet.svg")
    assert list(tmp_path.iterdir()) == []


def test_a_sheet_to_look_at_shows_every_page(tmp_path):
    for name in "ab":
        assert draw_sheet(small_sheet(), tmp_path / f"{name}.png") == 3
    content = (tmp_path / "a.png").read_bytes()
    assert content == (tmp_path / "b.png").read_bytes()
    tall, wide = imread(tmp_path / "a.png").shape[:2]
    assert (wide, tall) == (3 * round(4.25 * 120) + 4 * 12, 840 + 2 * 12)
