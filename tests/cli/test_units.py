"""``--units`` on every command that tells lengths: a hole or player in metres is told in metres throughout."""

from __future__ import annotations

import re

import pytest

COMMANDS = {
    "compare": "compare curlew-inlet otto --sequences 200 --then sound --details --aim 0:0:1",
    "plan": "plan millpond otto",
    "lesson": "lesson curlew-inlet otto --options driver 5-iron --sequences 200",
    "today": "today millpond otto",
    "gaps": "gaps otto",
}


@pytest.mark.parametrize(
    "name", [pytest.param(name, marks=pytest.mark.slow) if name == "lesson" else name for name in COMMANDS]
)
def test_lengths_are_told_in_metres(simcaddie, name):
    ran = simcaddie(*COMMANDS[name].split(), "--units", "metres")
    assert ran.code == 0
    assert not re.search(r"\d yd\b|\b[Yy]ards\b", ran.out)
    assert re.search(r"\d m\b|[Mm]etres", ran.out)


def test_metres_are_so_many_yards(simcaddie):
    far = [
        float(re.search(r"From the white tee, ([\d.]+)", simcaddie("plan", "millpond", "otto", *units).out)[1])
        for units in ((), ("--units", "metres"))
    ]
    assert far[1] == pytest.approx(far[0] * 0.9144, abs=1.0)  # exact by definition; both are rounded


def test_other_units_are_refused(simcaddie):
    ran = simcaddie("plan", "millpond", "otto", "--units", "feet")
    assert (ran.code, ran.err.strip()) == (2, "--units: expected yards or metres, found 'feet'")
