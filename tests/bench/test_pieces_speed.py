"""How well pieces of work scale: two processes over one, and how a field grows with golfers and holes."""

from __future__ import annotations

import resource
import time

import pytest

from simcaddie.base.executors import place_of
from simcaddie.base.memo import ignore_kept
from simcaddie.base.pieces import Delivered, Piece, run_pieces
from simcaddie.features.field.analysis import hole_piece
from simcaddie.io.course import read_course
from simcaddie.io.find import find_course
from simcaddie.io.sent import day_sent, holes_sent

GOLFERS = [(index, driver) for index in (6.0, 12.0, 18.0) for driver in (180.0, 190.0, 200.0, 210.0)]


def pieces(golfers: int, holes: int) -> list[Piece]:
    """Return one piece for each of some golfers on each of the first holes of the demo course."""
    path = find_course("tansywick-heath")
    sent = holes_sent(read_course(path), str(path))[:holes]
    asked = {"sequences": 6000, "seed": 1, "day": day_sent(None)}
    return [
        Piece(f"{number} {who}", hole_piece, (list(hole), list(who), [["white", "middle"]], number, asked))
        for number, hole in enumerate(sent)
        for who in GOLFERS[:golfers]
    ]


def timed(work: list[Piece], where: str) -> tuple[float, float, Delivered]:
    """Return wall seconds, processor seconds of the workers, and what came back; nothing kept is used."""
    ignore_kept()
    before, started = resource.getrusage(resource.RUSAGE_CHILDREN), time.perf_counter()
    try:
        with place_of(where) as place:
            found = run_pieces(work, place)
            took = time.perf_counter() - started
            place.executor.shutdown(wait=True)  # so that the workers' time is known
    finally:
        ignore_kept(ignored=False)
    after = resource.getrusage(resource.RUSAGE_CHILDREN)
    return took, after.ru_utime + after.ru_stime - before.ru_utime - before.ru_stime, found


@pytest.mark.bench
def test_two_processes_do_nearly_twice_as_much_as_one():
    """36 pieces, start-up of the workers included; believe it on an idle machine only."""
    work = pieces(12, 3)
    one, one_cpu, first = timed(work, "processes:1")
    two, two_cpu, second = timed(work, "processes:2")
    sent, back = (round(total / len(work)) for total in (second.sent, second.back))
    print(
        f"\n1: {one:.1f} s ({one_cpu:.1f} of processor), 2: {two:.1f} s ({two_cpu:.1f}); {sent} bytes out, {back} back"
    )
    assert first.results == second.results
    assert one / (2.0 * two) >= 0.85


@pytest.mark.bench
def test_time_grows_with_golfers_and_holes():
    """Processor seconds of one worker for twice the golfers, and for twice the holes: within 40 % of twice."""
    times = {size: timed(pieces(*size), "processes:1")[1] for size in ((4, 1), (8, 1), (4, 2))}
    print("\n" + ", ".join(f"{g} × {h}: {t:.1f} s" for (g, h), t in times.items()))
    for size in ((8, 1), (4, 2)):
        assert 1.2 <= times[size] / times[4, 1] <= 2.8
