"""A written player file reads back as the same player, and reads well."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import assume, given
from hypothesis import strategies as st
from samples import PLAYER

from simcaddie.base.errors import BadRequest
from simcaddie.base.surfaces import default_lies, default_touch
from simcaddie.io.find import demo_files
from simcaddie.io.player import player_of, read_player
from simcaddie.io.player_writer import player_text, write_player
from simcaddie.io.yaml_reader import parse
from simcaddie.player.defaults import make_swing, mishit_split
from simcaddie.player.swing import Club, Player, Posterior, RangeToCourse
from simcaddie.weather.reach import can_carry

POSTERIOR = Posterior(11.25, 14.0, 20.5, 21.0, 18.5)


def again(player: Player, **keys: str) -> Player:
    return player_of(parse(player_text(player, **keys), "written.yaml"))


def one_club(**keys: object) -> Player:
    return Player("One (invented)", (Club("7 iron", 33.0, (make_swing("7 iron", "full", 123.0, loft=33.0, **keys),)),))


@pytest.mark.parametrize("path", demo_files("players").values(), ids=lambda path: path.stem)
@pytest.mark.parametrize("units", ["yards", "metres"])
def test_demo_players_come_back_the_same(path, units, tmp_path):
    text = path.read_text("utf-8").replace("units: yards", f"units: {units}")
    (tmp_path / "in.yaml").write_text(text, "utf-8")
    player = read_player(tmp_path / "in.yaml")
    write_player(player, tmp_path / "out.yaml", comment="Invented.\nTwice.", source="invented")
    assert read_player(tmp_path / "out.yaml") == player
    assert (tmp_path / "out.yaml").read_text("utf-8").startswith("# Invented.\n# Twice.\nformat: 1\n")


def test_every_key_comes_back():
    player = player_of(parse(PLAYER, "f.yaml"))
    (driver, *rest) = player.bag
    swing = replace(driver.swings[0], posterior=POSTERIOR, estimated=True, launch=11.0, landing=30.0, source="course")
    putting = replace(player.putting, direction_sd=1.2, distance_sd=0.2)
    player = replace(player, bag=(replace(driver, swings=(swing,)), *rest), putting=putting, units="metres")
    assert again(player) == again(again(player))
    assert again(replace(player, units="yards")) == replace(player, units="yards")


_chance = st.floats(0, 0.4)


@given(
    carry=st.floats(1, 400), carry_sd=st.floats(0, 90), side=st.floats(-150, 150), side_sd=st.floats(0, 150),
    correlation=st.floats(-0.99, 0.99), run=st.floats(0, 150) | st.none(), run_sd=st.floats(0, 100) | st.none(),
    fat=_chance | st.none(), thin=_chance | st.none(), launch=st.floats(1, 70) | st.none(),
    landing=st.floats(5, 85) | st.none(), spin=st.floats(0, 15000) | st.none(),
    start_line=st.floats(-45, 45) | st.none(), shots=st.integers(0, 1000), trust=st.sampled_from(["low", "ok", "high"]),
)  # fmt: skip
def test_any_swing_comes_back_to_the_last_bit(carry, **keys):
    swing = make_swing("7 iron", "full", carry, loft=33.0, posterior=POSTERIOR, **keys)
    assume(swing.run <= 150)  # the longest that a file may hold
    assume(can_carry(carry, swing.launch, swing.spin))
    player = Player("Any (invented)", (Club("7 iron", 33.0, (swing,)),))
    assert again(player) == player


@given(st.floats(1, 330), st.floats(0, 90))
def test_metres_that_were_read_come_back(carry, sd):
    player = player_of(parse(f"name: M\nunits: metres\nbag: [{{club: driver, carry: [{carry!r}, {sd!r}]}}]", "f"))
    assert again(player) == player


@given(st.text(min_size=1, max_size=80).filter(lambda s: s.isprintable() and s.strip()))
@pytest.mark.parametrize("where", ["player", "club", "swing"])
def test_any_name_comes_back(where, name):
    player = one_club()
    if where == "player":
        player = replace(player, name=name)
    else:
        name = "".join(name.lower().split()) or "x"
        club = f"Own {name}"[:80] if where == "club" else "7 iron"
        swing = name if where == "swing" else "full"
        loft = 33.0
        player = replace(player, bag=(Club(club, loft, (make_swing(club, swing, 100.0, loft=loft),)),))
    assert again(player) == player


@pytest.mark.parametrize(
    "name", ["true", "Null", "12", "12 e", "1e5", "-", "yes", "a: b", "a #b", "{x}", "'q'", '"', "7 iron", "§ 1", "*a"]
)
def test_names_that_mean_something_else_in_yaml_come_back(name):
    assert again(replace(one_club(), name=name)).name == name


def test_only_what_differs_is_written():
    text = player_text(one_club(side=2.0, trust="low"))
    assert "      full: {carry: 123, side: 2, trust: low}\n" in text
    for key in ("touch", "lies", "putting", "handicap_index", "source", "#"):
        assert key not in text
    fat, thin = mishit_split(33.0, 0.2)
    assert "mishits: 0.2," in player_text(one_club(fat=fat, thin=thin, shots=3))
    assert "mishits: {fat: 0.1, thin: 0.05}" in player_text(one_club(fat=0.1, thin=0.05))


def test_lies_and_touch_are_written_as_differences():
    lies, touch = default_lies(), default_touch()
    lies["rough"] = replace(lies["rough"], carry=0.8, fail_carry=9.0, longest="7 iron")
    touch["bunker"] = replace(touch["bunker"], near=3.5)
    player = replace(one_club(), lies=lies, touch=touch, range_to_course=RangeToCourse(1.1, 1.3), handicap_index=18.0,
                     routine="look: twice, then go")  # fmt: skip
    text = player_text(player)
    assert "touch:\n  bunker: {near: 3.5}\nlies:\n  rough: {carry: 0.8, fail_carry: 9, longest: 7 iron}\n" in text
    assert again(player) == player


def test_long_swings_are_broken_into_lines():
    text = player_text(
        one_club(carry_sd=8.25, side_sd=9.125, correlation=-0.125, run=6.5, run_sd=2.25, fat=0.0625, thin=0.03125,
                 launch=20.5, landing=44.5, spin=6100.0, shots=12, posterior=POSTERIOR)
    )  # fmt: skip
    lines = [line for line in text.splitlines() if line.startswith("      ")]
    assert len(lines) == 3
    assert max(map(len, lines)) <= 118
    assert "posterior: {carry: 11.25, side: 14, spread: 20.5, mishits: 21, side_spread: 18.5}}" in lines[2]


def test_a_place_that_can_not_be_written(tmp_path):
    with pytest.raises(BadRequest, match="no such file or directory"):
        write_player(one_club(), tmp_path / "no" / "me.yaml")
