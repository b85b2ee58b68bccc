"""Air density against the standard atmosphere."""

from __future__ import annotations

import math

import pytest
from reference.flight import DENSITIES, PRESSURES

from simcaddie.base.errors import BadRequest
from simcaddie.weather.flight import air_density, standard_pressure


@pytest.mark.parametrize(("temperature", "altitude", "density"), DENSITIES)
def test_published_densities(temperature, altitude, density):
    assert air_density(temperature, altitude) == pytest.approx(density, rel=4e-4)


@pytest.mark.parametrize(("altitude", "pressure"), PRESSURES)
def test_published_pressures(altitude, pressure):
    assert standard_pressure(altitude) == pytest.approx(pressure, rel=2e-4)


def test_a_measured_pressure_stands_for_the_altitude():
    assert air_density(15.0, 3000.0, 1013.25) == pytest.approx(air_density(15.0, 0.0))


@pytest.mark.parametrize(
    "bad", [(math.nan, 0.0, None), (99.0, 0.0, None), (15.0, 20000.0, None), (15.0, 0.0, 30.0), (15.0, 0.0, math.inf)]
)
def test_values_out_of_range_are_told(bad):
    with pytest.raises(BadRequest, match="found"):
        air_density(*bad)
