"""The day's table: nothing changes on a standard day; what changes goes the right way, as far as the flights say."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from simcaddie.base.compiled import compiled
from simcaddie.base.units import METRES_PER_YARD
from simcaddie.io.find import find_player
from simcaddie.io.player import read_player
from simcaddie.model.flight import falls_on
from simcaddie.player.defaults import CLUBS, make_swing
from simcaddie.weather.day import STANDARD, Day
from simcaddie.weather.flight import air_density, ball_speed, fly
from simcaddie.weather.table import ANGLES, DAY_ARCH, DAY_CARRY, DAY_DRIFT, DAY_LANDING, DAY_RUN, Struck, day_table

MPH = 0.44704


@compiled
def _lowest(launch: float, landing: float, arch: float, shares: Any) -> float:
    """Return how low the kernel's flight comes at ``shares`` of its carry."""
    low = math.inf
    for t in shares:
        low = min(low, falls_on(t, launch, landing, arch))
    return low


def struck(club: str, carry: float | None = None) -> Struck:
    swing = make_swing(club, "full", carry or CLUBS[club].carry, loft=CLUBS[club].loft)
    return Struck(swing.carry, swing.launch, swing.spin, swing.landing)


BAG = [struck(name) for name in ("driver", "5 wood", "7 iron", "sand wedge")]


def test_a_standard_day_changes_nothing_to_the_last_bit():
    table = day_table(BAG, STANDARD)
    assert table.shape == (4, 1, 1, 5)
    assert (table[..., [DAY_CARRY, DAY_RUN]] == 1.0).all()
    assert (table[..., [DAY_DRIFT, DAY_ARCH]] == 0.0).all()
    assert table[:, 0, 0, DAY_LANDING] == pytest.approx([math.tan(math.radians(each.landing)) for each in BAG])


def test_head_and_tail_winds_against_the_published_6_iron():
    """A radar-measured 6 iron of 184 yd (tests/reference/flight.py): its carries in wind over its calm one, to 2 %.

    In the air the model was fitted in, 25 °C.
    """
    iron = [Struck(184.0, 14.7, 6088.0, 48.0)]
    calm = day_table(iron, Day(temperature=25.0))[0, 0, 0, DAY_CARRY]
    for wind, published in ((-20, 143), (-10, 166), (10, 198), (20, 207)):
        day = Day(wind=abs(wind) * MPH, wind_from=0.0 if wind < 0 else 180.0, temperature=25.0)
        table = day_table(iron, day)[0, :, 0, DAY_CARRY] / calm
        factor = table[ANGLES // 2] if wind < 0 else table[0]
        assert factor == pytest.approx(published / 184, abs=0.02)


def test_a_crosswind_drifts_the_ball_the_way_it_blows_and_mirrored_the_same_way_back():
    table = day_table(BAG, Day(wind=5.0))[:, :, 0]
    right, left = table[:, ANGLES * 3 // 4, DAY_DRIFT], table[:, ANGLES // 4, DAY_DRIFT]
    assert (right > 0.01).all()  # a shot 270° clockwise from the way it blows has the wind from its left
    assert right == pytest.approx(-left, abs=1e-12)


@pytest.mark.parametrize(
    ("day", "longer"),
    [(Day(temperature=30.0), 1), (Day(temperature=0.0), -1), (Day(altitude=1500.0), 1), (Day(pressure=1040.0), -1)],
)
def test_thin_air_carries_farther(day, longer):
    change = day_table(BAG, day)[:3, 0, 0, DAY_CARRY] - 1.0
    assert (longer * change > 0.0).all()


def test_angles_in_between_are_good_to_two_thousandths_of_the_carry():
    driver, day = struck("driver"), Day(wind=8.0)
    table, usual = day_table([driver], day)[0, :, 0, DAY_CARRY], air_density(15.0, 0.0)
    speed = ball_speed(driver.carry * METRES_PER_YARD, driver.launch, driver.spin, density=usual)
    for at in (0.5, 4.5, 9.5, 17.5):
        turn = 2 * math.pi * at / ANGLES
        flight = fly(
            speed, driver.launch, driver.spin, density=usual, tail=8 * math.cos(turn), across=-8 * math.sin(turn)
        )
        exact = float(flight.carry[0]) / METRES_PER_YARD / driver.carry
        low = int(at)
        assert (table[low] + table[low + 1]) / 2 == pytest.approx(exact, abs=0.002)


def test_runs_on_soft_ordinary_and_firm_turf():
    """A long hitter's driver about 4, 8 and 15 % of the carry, a short iron nearly none: common practice, no source.

    The tour player's measured run on ordinary turf is one of the model's defaults; soft and firm follow from it.
    """
    player = read_player(find_player("tour"))
    by_title = {swing.title: swing for swing in player.swings}
    for title, shares, within in (
        ("driver", (0.04, 0.08, 0.15), 0.02),
        ("9 iron", (0.0, 0.02, 0.04), 0.025),
    ):
        swing = by_title[title]
        one = [Struck(swing.carry, swing.launch, swing.spin, swing.landing)]
        for firmness, share in zip((0.0, 0.5, 1.0), shares, strict=True):
            factor = day_table(one, replace(STANDARD, firmness=firmness))[0, 0, 0, DAY_RUN]
            assert swing.run * factor / swing.carry == pytest.approx(share, abs=within), (title, firmness)


def test_a_slow_swing_gains_mostly_run_downwind():
    """A driver of 150 yd with 12 mph behind it: more of its gain is run than carry (design of the model)."""
    swing = make_swing("driver", "full", 150.0, loft=10.5)
    one = [Struck(swing.carry, swing.launch, swing.spin, swing.landing)]
    row = day_table(one, Day(wind=12 * MPH, wind_from=180.0))[0, 0, 0]
    carried, ran = swing.carry * (row[DAY_CARRY] - 1.0), swing.run * (row[DAY_RUN] - 1.0)
    assert carried < 8.0
    assert ran > 0.0


@settings(max_examples=25, deadline=None)
@given(
    st.floats(0, 27), st.floats(-40, 50), st.floats(-400, 9000), st.floats(0, 1), st.floats(20, 330), st.floats(0, 27)
)
def test_no_day_makes_nonsense(wind, temperature, altitude, firmness, carry, gust):
    day = Day(wind=wind, temperature=temperature, altitude=altitude, firmness=firmness, gust=max(wind, gust))
    clubs = [struck("driver", carry), struck("lob wedge", min(carry, 110.0)), Struck(20.0, 27.0, 4000.0, 45.0)]
    table = day_table(clubs, day)
    assert np.isfinite(table).all()
    assert (table[..., DAY_CARRY] > 0.0).all()
    assert (table[..., DAY_RUN] >= 0.0).all()
    shares = np.linspace(0.0, 1.0, 21)
    for number, club in enumerate(clubs):
        launch = math.tan(math.radians(club.launch))
        for landing, arch in table[number][..., [DAY_LANDING, DAY_ARCH]].reshape(-1, 2)[::5]:
            assert _lowest(launch, landing, arch, shares) > -1e-9
