"""Real courses, where open maps of them stand beside the checkout: outlines that nobody here drew.

They are read where they are and copied nowhere; see ``reference/open_maps.py`` for their source and licence.
"""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest
import shapely
from pyproj import Geod
from reference.open_maps import LINE_6, SHARES_6, open_map
from scipy.stats import multivariate_normal

from simcaddie.base.surfaces import code
from simcaddie.course.grid import area_grid
from simcaddie.decision.compare import compare
from simcaddie.decision.request import Request
from simcaddie.features.open_map.analysis import ImportedMap, import_map
from simcaddie.io.find import find_player
from simcaddie.io.hole import hole_of
from simcaddie.io.player import read_player
from simcaddie.io.yaml_reader import parse

YARD = 0.9144
WITHIN = 0.003

ISLAND, SOUTH = open_map("rowany"), open_map("malta")
needs_island = pytest.mark.skipif(ISLAND is None, reason="no open map of the Isle of Man next to the checkout")
needs_south = pytest.mark.skipif(SOUTH is None, reason="no open map of Malta next to the checkout")


@pytest.fixture(scope="module")
def island() -> ImportedMap:
    return import_map(ISLAND)


def holes_of(imported: ImportedMap) -> dict:
    return {n: hole_of(parse(text, n)) for n, text in imported.texts.items() if n.startswith("hole-")}


@needs_island
def test_eighteen_holes_are_made_and_read(island):
    assert [*holes_of(island)] == [f"hole-{n:02d}.yaml" for n in range(1, 19)]
    pars = {f"hole-{int(t['ref']):02d}.yaml": int(t["par"]) for t in tags_of(ISLAND) if t.get("golf") == "hole"}
    assert {name: hole.par for name, hole in holes_of(island).items()} == pars
    assert all("ODbL" in text for text in island.texts.values())


def tags_of(path: Path) -> list[dict]:
    return [feature["properties"] for feature in json.loads(path.read_text("utf-8"))["features"]]


@needs_island
def test_each_line_is_as_long_as_its_geodesic(island):
    """Within 0.1 per cent of pyproj's Geod, from the coordinates in the file."""
    features = json.loads(ISLAND.read_text("utf-8"))["features"]
    lines = {f["properties"]["ref"]: f["geometry"]["coordinates"] for f in features
             if f["properties"].get("golf") == "hole"}  # fmt: skip
    for name, hole in holes_of(island).items():
        lon, lat = np.array(lines[str(int(name[5:7]))]).T
        geodesic = Geod(ellps="WGS84").line_length(lon, lat) / YARD
        assert shapely.LineString(hole.line).length == pytest.approx(geodesic, rel=1e-3)


@needs_island
def test_hole_six_lies_as_others_measured_it(island):
    line = np.array(holes_of(island)["hole-06.yaml"].line) * YARD
    assert line == pytest.approx(np.array(LINE_6), abs=0.06)


@needs_island
@pytest.mark.parametrize(("mean", "sd", "rho", "fairway", "bunker"), SHARES_6)
def test_shares_on_hole_six_are_the_exact_ones(island, mean, sd, rho, fairway, bunker):
    grid = area_grid(holes_of(island)["hole-06.yaml"])
    cov = np.array([[sd[0] ** 2, rho * sd[0] * sd[1]], [rho * sd[0] * sd[1], sd[1] ** 2]]) / YARD**2
    for kind, exact in (("fairway", fairway), ("bunker", bunker)):
        iy, ix = np.nonzero(grid.surface == code(kind))
        places = np.column_stack([grid.x0 + (ix + 0.5) * grid.cell, grid.y0 + (iy + 0.5) * grid.cell])
        share = multivariate_normal(np.array(mean) / YARD, cov).pdf(places).sum() * grid.cell**2
        assert share == pytest.approx(exact, abs=WITHIN)


@needs_island
@pytest.mark.slow
def test_every_hole_can_be_compared(island):
    player = read_player(find_player("wren"))
    for hole in holes_of(island).values():
        answer = compare(hole, player, Request(sequences=400, then="sound"))
        assert hole.par - 0.5 < answer.options[0].mean < hole.par + 3


@needs_south
def test_a_map_with_one_hole_line_says_what_can_not_be_made():
    imported = import_map(SOUTH)
    ((name, hole),) = holes_of(imported).items()
    assert name == "hole-01.yaml"
    assert sum(len(area.outline.interiors) for area in hole.areas if area.kind == "fairway") > 0
    assert any("17 greens at no hole line's end" in note for note in imported.draft.said)
    assert "assumed: 4, by the length" in imported.texts[name]
