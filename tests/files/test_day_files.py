"""Day files and the words of a day."""

from __future__ import annotations

from pathlib import Path

import pytest

from simcaddie.base.errors import BadFile, BadRequest
from simcaddie.decision.phrases import day_words
from simcaddie.io.check import check_file
from simcaddie.io.day import READERS, Wind, day_of_words, read_day
from simcaddie.weather.day import STANDARD, Day

DAYS = Path(__file__).parents[2] / "examples" / "days"


@pytest.mark.parametrize(
    ("words", "meant"),
    [
        ("12 mph from 240", Wind(12 * 0.44704, 240.0, False)),
        ("5 m/s from the NW", Wind(5.0, 315.0, False)),
        ("36 km/h from north", Wind(10.0, 0.0, False)),
        ("10 knots into", Wind(10 * 1852 / 3600, 0.0, True)),
        ("8,5 mph from the left", Wind(8.5 * 0.44704, 270.0, True)),
        ("12 mph helping", Wind(12 * 0.44704, 180.0, True)),
        ("calm", Wind(0.0, 0.0, True)),
    ],
)
def test_winds(words, meant):
    found = READERS["wind"](words)
    assert found == pytest.approx(meant)
    assert found.relative is meant.relative


@pytest.mark.parametrize("words", ["12", "12 mph", "mph from 240", "12 mph from 400", "70 mph into", "-3 mph into", ""])
def test_winds_that_mean_nothing(words):
    assert READERS["wind"](words) is None
    with pytest.raises(BadRequest, match=r"--wind: expected a wind up to 60 mph such as .* found"):
        day_of_words({"wind": words or "?"})


@pytest.mark.parametrize(
    ("key", "words", "value"),
    [
        ("temperature", "8 C", 8.0),
        ("temperature", "-4 °C", -4.0),
        ("temperature", "50 F", 10.0),
        ("temperature", "8", None),
        ("temperature", "-60 C", None),
        ("altitude", "500 ft", 152.4),
        ("altitude", "9100 m", None),
        ("firmness", "Firm", 1.0),
        ("firmness", 0.25, 0.25),
        ("firmness", 7, None),
        ("greens", 9.5, 9.5),
        ("greens", "10 ft", 10.0),
        ("greens", 40, None),
        ("gust", "20 mph", 20 * 0.44704),
        ("gust", "20 mph from 3", None),
    ],
)
def test_other_words(key, words, value):
    assert READERS[key](words) == (None if value is None else pytest.approx(value))


def test_example_days_are_read_and_checked():
    assert read_day(DAYS / "calm.yaml") == ("calm", STANDARD)
    name, winter = read_day(DAYS / "winter.yaml")
    assert (name, winter.firmness, winter.greens, winter.temperature) == ("winter", 0.0, 7.5, 5.0)
    assert isinstance(check_file(DAYS / "breeze.yaml"), Day)


def test_options_change_what_a_file_says():
    _, winter = read_day(DAYS / "winter.yaml")
    day = day_of_words({"wind": "10 mph into", "greens": None}, winter)
    assert (day.relative, day.greens, day.temperature) == (True, 7.5, 5.0)


def test_a_gust_below_the_wind_is_refused():
    with pytest.raises(BadRequest, match="--gust: expected"):
        day_of_words({"wind": "12 mph into", "gust": "10 mph"})


def test_faults_of_a_day_file_all_come_with_their_lines(tmp_path):
    path = tmp_path / "day.yaml"
    path.write_text("day:\n  wind: 12 furlongs\n  firmness: 7\n  snow: deep\n", "utf-8")
    with pytest.raises(BadFile) as raised:
        read_day(path)
    told = [(fault.line, fault.expected.split(" ")[0]) for fault in raised.value.faults]
    assert [line for line, _ in told] == [2, 3, 4]


@pytest.mark.parametrize(
    ("day", "words"),
    [
        (STANDARD, "calm"),
        (Day(wind=5.36448, wind_from=90.0), "12 mph from the right"),
        (Day(wind=5.36448, gust=8.9408, wind_from=240.0, relative=False), "12 mph from 240°, gusts 20 mph"),
        (Day(temperature=-3.0, altitude=400.0, firmness=0.3, greens=11.0),
         "calm, -3 °C, 400 m above the sea, firmness 0.3, greens 11 ft"),
    ],
)  # fmt: skip
def test_a_day_in_words(day, words):
    assert day_words(day) == words
