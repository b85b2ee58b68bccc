"""Palette and files: told apart without colour and by the colour-blind; the same bytes every time."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from itertools import combinations

import matplotlib as mpl
import numpy as np
import pytest
from helpers import busy_hole

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import SURFACES
from simcaddie.charts.page import hole_figure
from simcaddie.charts.style import OPTION_COLOURS, OPTION_LINES, lightness, new_figure, save_figure

KINDS = ("png", "svg", "pdf")
PLAIN = [surface for surface in SURFACES if not surface.drawing.hatch]

# Full protanopia and deuteranopia in linear RGB: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes,
# "A physiologically-based model for simulation of color vision deficiency", IEEE TVCG 15 (2009). Numbers
# from memory; their rows sum to 1.
BLIND = {
    "none": np.eye(3),
    "protan": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deutan": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
}


def lab(colour, seen):
    """Return CIE L*a*b* (D65) of an sRGB colour as someone sees it; IEC 61966-2-1 and CIE 15."""
    rgb = np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)]) / 255
    linear = np.clip(BLIND[seen] @ np.where(rgb <= 0.04045, rgb / 12.92, ((rgb + 0.055) / 1.055) ** 2.4), 0, 1)
    to_xyz = np.array([[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]])
    xyz = to_xyz @ linear / to_xyz.sum(axis=1)
    f = np.where(xyz > 0.008856, np.cbrt(xyz), 7.787 * xyz + 16 / 116)
    return np.array([116 * f[1] - 16, 500 * (f[0] - f[1]), 200 * (f[1] - f[2])])


def difference(one, two, seen="none"):
    return float(np.linalg.norm(lab(one, seen) - lab(two, seen)))


def test_the_matrices_keep_grey_grey():
    for matrix in BLIND.values():
        np.testing.assert_allclose(matrix.sum(axis=1), 1.0, atol=2e-6)


def test_lightness_of_greys():
    for grey in ("#000000", "#404040", "#777777", "#c0c0c0", "#ffffff"):
        assert lightness(grey) == pytest.approx(lab(grey, "none")[0], abs=0.01)


def test_fills_are_distinct():
    for one, two in combinations(SURFACES, 2):
        assert difference(one.drawing.fill, two.drawing.fill) > 2.5, (one.name, two.name)


def test_kinds_differ_in_black_and_white():
    for one, two in combinations(SURFACES, 2):
        apart = abs(lightness(one.drawing.fill) - lightness(two.drawing.fill))
        assert one.drawing.hatch != two.drawing.hatch or apart >= 1.9, (one.name, two.name)


def test_textures_can_be_seen_on_their_fill():
    for surface in SURFACES:
        if surface.drawing.hatch:
            assert lightness(surface.drawing.fill) - lightness(surface.drawing.edge) > 20, surface.name


@pytest.mark.parametrize("seen", ["protan", "deutan"])
def test_kinds_without_texture_differ_for_the_colour_blind(seen):
    for one, two in combinations(PLAIN, 2):
        assert difference(one.drawing.fill, two.drawing.fill, seen) > 2.5, (one.name, two.name)


@pytest.mark.parametrize("seen", BLIND)
def test_options_differ_for_everybody(seen):
    for one, two in combinations(OPTION_COLOURS[:3], 2):
        assert difference(one, two, seen) > 15, (one, two)
    assert len(set(OPTION_LINES)) == len(OPTION_COLOURS)


@pytest.fixture(scope="module")
def figure():
    """Draw the busiest hole once, for all that only write it."""
    return hole_figure(busy_hole())


@pytest.mark.parametrize("kind", ["svg", *(pytest.param(kind, marks=pytest.mark.slow) for kind in ("png", "pdf"))])
def test_same_figure_same_bytes_and_no_date(kind, tmp_path):
    first, second = (save_figure(hole_figure(busy_hole()), tmp_path / f"{turn}.{kind}").read_bytes() for turn in "ab")
    assert first == second
    assert not re.search(rb"CreationDate|ModDate|dc:date|tIME|20[2-9]\d-\d\d-\d\d", first)
    assert sorted(path.name for path in tmp_path.iterdir()) == [f"a.{kind}", f"b.{kind}"]


@pytest.mark.parametrize("kind", KINDS)
def test_saving_twice_gives_the_same_bytes(kind, tmp_path, figure):
    assert (
        save_figure(figure, tmp_path / f"a.{kind}").read_bytes()
        == save_figure(figure, tmp_path / f"a.{kind}").read_bytes()
    )


def test_another_process_gives_the_same_bytes(tmp_path, figure):
    code = """
import sys
sys.path.insert(0, sys.argv[1])
from helpers import busy_hole
from simcaddie.charts.page import hole_figure
from simcaddie.charts.style import save_figure
figure = hole_figure(busy_hole())
for kind in ("png", "svg", "pdf"):
    save_figure(figure, f"{sys.argv[2]}.{kind}")
"""
    tests = __file__.rsplit("/report/", 1)[0]
    environment = {"PYTHONHASHSEED": "1", "PATH": "/usr/bin:/bin", "HOME": str(tmp_path), "TZ": "UTC"}
    environment["SIMCADDIE_CACHE"] = os.environ.get("SIMCADDIE_CACHE", str(tmp_path))
    command = [sys.executable, "-W", "ignore", "-c", code, tests, str(tmp_path / "1")]
    subprocess.run(command, check=True, env=environment)
    for kind in KINDS:
        here = save_figure(figure, tmp_path / f"2.{kind}")
        assert (tmp_path / f"1.{kind}").read_bytes() == here.read_bytes()


def test_the_users_own_settings_change_nothing(tmp_path, figure):
    usual = save_figure(figure, tmp_path / "a.svg").read_bytes()
    with mpl.rc_context({"font.size": 20, "lines.linewidth": 5, "svg.fonttype": "none", "axes.facecolor": "red"}):
        assert save_figure(hole_figure(busy_hole()), tmp_path / "b.svg").read_bytes() == usual


def test_pdf_embeds_fonts_as_outlines_that_can_be_searched(tmp_path, figure):
    written = save_figure(figure, tmp_path / "a.pdf").read_bytes()
    assert b"/CIDFontType2" in written or b"/TrueType" in written
    assert b"/Type3" not in written


def test_words_are_drawn_in_the_bundled_fonts(tmp_path, figure):
    text = save_figure(figure, tmp_path / "a.pdf").read_bytes()
    used = {name.rsplit(b"+", 1)[-1] for name in re.findall(rb"/BaseFont /([\w+-]+)", text)}
    assert used == {b"FiraSans-Regular", b"FiraSans-Bold", b"FiraSans-Italic"}


def test_letters_that_the_fonts_lack_are_drawn_all_the_same(tmp_path):
    """Warnings are errors here: a missing glyph would be one."""
    save_figure(hole_figure(replace(busy_hole(), name="Ⴇბილისი")), tmp_path / "a.png")


def test_other_endings_are_refused(tmp_path):
    with pytest.raises(BadRequest, match=r"written as \.png, \.svg or \.pdf, not as '\.gif'"):
        save_figure(new_figure(1, 1), tmp_path / "a.gif")


def test_a_folder_that_is_not_there(tmp_path):
    with pytest.raises(BadRequest, match="can't write"):
        save_figure(new_figure(1, 1), tmp_path / "nowhere" / "a.png")
    assert list(tmp_path.iterdir()) == []
