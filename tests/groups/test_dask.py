"""The same on a dask cluster of two workers, one of them killed on the way."""

from __future__ import annotations

import warnings

import pytest
import small_pieces
from small_groups import three, write_course
from test_pieces import MANY, ran, run, some

from simcaddie.base import executors
from simcaddie.base.errors import BadRequest
from simcaddie.base.executors import place_of
from simcaddie.base.memo import ignore_kept
from simcaddie.features.field.analysis import FieldRequest, field_of, pieces_of, plan_of
from simcaddie.features.field.present import field_csv
from simcaddie.io.course import read_course
from simcaddie.io.members import FieldMember
from simcaddie.io.sent import day_sent, holes_sent

distributed = pytest.importorskip("distributed", reason="dask.distributed isn't installed: pip install simcaddie[dask]")
pytestmark = pytest.mark.filterwarnings("ignore")  # of the cluster's own


@pytest.fixture(scope="module")
def cluster():
    with warnings.catch_warnings():
        warnings.simplefilter("ignore")
        with distributed.LocalCluster(
            n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None, silence_logs=50
        ) as started:
            yield f"dask:{started.scheduler_address}"


def test_results_are_those_in_process(cluster, tmp_path):
    here, there = (tmp_path / name for name in ("here", "there"))
    for folder in (here, there):
        folder.mkdir()
    found = run(some(small_pieces.root, there), cluster)
    assert found.results == run(some(small_pieces.root, here)).results
    assert [ran(there, n) for n in range(MANY)] == [1] * MANY


def test_a_worker_killed_in_the_middle_changes_nothing(cluster, tmp_path):
    found = run(some(small_pieces.dies_once, tmp_path, 4), cluster)
    assert found.results == tuple([n**0.5, 1 / (n + 3)] for n in range(MANY))
    assert found.failed == ()
    assert ran(tmp_path, 4) >= 2


def test_a_failing_piece_is_told_by_name(cluster, tmp_path):
    found = run(some(small_pieces.fails, tmp_path, 5), cluster)
    assert found.failed == (("piece 5", "ValueError: no root of 5"),)
    assert ran(tmp_path, 5) == 3


def test_a_field_has_the_same_bytes(cluster, tmp_path):
    path = write_course(tmp_path, three()[:1])
    course, request = read_course(path), FieldRequest(day_sent(None), pins=("middle", "edge"), sequences=1000)
    members = [FieldMember("1", 12.0, 180.0)]
    plan = plan_of(course, members, request)
    pieces = pieces_of(course, holes_sent(course, str(path)), plan, request)
    ignore_kept()  # each works the holes out for itself
    try:
        texts = [field_csv(field_of(course, members, request, plan, run(pieces, where))) for where in (None, cluster)]
    finally:
        ignore_kept(ignored=False)
    assert texts[0] == texts[1]


def test_a_scheduler_that_isnt_there_is_told(monkeypatch):
    monkeypatch.setattr(executors, "PATIENCE", 1.0)
    with (
        pytest.raises(BadRequest, match="no dask scheduler answers at"),
        place_of("dask:tcp://127.0.0.1:9"),
    ):
        pass
