"""``simcaddie new-player``: a whole file from an index and one carry."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from simcaddie.base.units import METRES_PER_YARD
from simcaddie.io.player import read_player
from simcaddie.player.skill import skill_of


def test_a_file_for_somebody_without_data(simcaddie):
    ran = simcaddie("new-player", "--index", "18", "--driver", "200", "-o", "me.yaml")
    assert (ran.code, ran.out) == (0, "")
    assert "13 clubs, all estimated" in ran.err
    player = read_player(Path("me.yaml"))
    assert player.handicap_index == 18
    assert player.swings[0].carry == 200
    assert all(swing.estimated and swing.source == "course" for swing in player.swings)
    usual = skill_of(18.0).putting
    assert player.putting == replace(usual, distance_sd=round(usual.distance_sd, 3))
    text = Path("me.yaml").read_text("utf-8")
    assert text.startswith("# Estimated, not measured")
    assert "laddered from the driver's by" in text
    assert simcaddie("check", "me.yaml").code == 0


def test_printed_where_no_file_is_named(simcaddie):
    ran = simcaddie("new-player", "--index", "5", "--driver", "230", "--name", "Pat (invented)")
    assert ran.code == 0
    Path("same.yaml").write_text(ran.out, "utf-8")
    assert read_player(Path("same.yaml")).name == "Pat (invented)"


def test_metres_are_whole_metres(simcaddie):
    assert simcaddie("new-player", "--index", "18", "--driver", "180", "--units", "metres", "-o", "m.yaml").code == 0
    carries = [swing.carry * METRES_PER_YARD for swing in read_player(Path("m.yaml")).swings]
    assert carries == pytest.approx([round(carry) for carry in carries])
    assert carries[0] == pytest.approx(180)


def test_a_better_index_is_narrower(simcaddie):
    for index in ("0", "28"):
        assert simcaddie("new-player", "--index", index, "--driver", "200", "-o", f"{index}.yaml").code == 0
    good, bad = (read_player(Path(f"{index}.yaml")).swings[0] for index in (0, 28))
    assert good.side_sd < bad.side_sd
    assert good.fat < bad.fat


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (("--index", "18", "--driver", "20"), "--driver: expected a carry from 60 to 350 yards, found 20"),
        (("--index", "18", "--driver", "nan"), "--driver: expected a carry from 60 to 350 yards, found nan"),
        (("--index", "18", "--driver", "200", "--units", "feet"), "--units: expected yards or metres, found 'feet'"),
    ],
)
def test_numbers_that_make_no_sense(simcaddie, words, told):
    ran = simcaddie("new-player", *words, "-o", "me.yaml")
    assert (ran.code, ran.err.strip()) == (2, told)
    assert not Path("me.yaml").exists()


def test_a_file_that_is_there_stays(simcaddie):
    Path("me.yaml").write_text("mine", "utf-8")
    ran = simcaddie("new-player", "--index", "18", "--driver", "200", "-o", "me.yaml")
    assert ran.code == 2
    assert "is there already" in ran.err
    assert Path("me.yaml").read_text("utf-8") == "mine"
