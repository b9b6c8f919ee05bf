"""Moist air against ASHRAE Handbook Fundamentals 2017 ch. 1 and the library psychrolib."""

import csv
from pathlib import Path

import numpy as np
import pytest

from hoopwright.climate import air

ROWS = list(csv.DictReader((Path(__file__).parent / "ashrae_saturation_pressure.csv").open()))


@pytest.fixture(scope="module")
def psychrolib():
    """The library, which takes long to load and compiles itself anew for every system of units."""
    import psychrolib as library

    library.SetUnitSystem(library.SI)
    return library


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["temperature [degC]"])
def test_saturation_pressure_table_3(row):
    """The printed table follows a later formulation than the equations: 300 ppm."""
    found = air.saturation_pressure(float(row["temperature [degC]"]))

    assert found == pytest.approx(float(row["saturation pressure [Pa]"]), rel=3e-4)


@pytest.mark.parametrize(("elevation", "pressure"), [(500, 95461), (1000, 89875), (4000, 61640)])
def test_standard_atmosphere_table_1(elevation, pressure):
    """ASHRAE ch. 1 table 1, through the tests of psychrolib; one pascal of rounding."""
    assert air.pressure_at(elevation) == pytest.approx(pressure, abs=1.0)


def test_dew_point_of_25_degrees_at_80_percent():
    """psychrolib's own test value 21.3094 degC."""
    dew = air.dew_point_from_humidity(25.0, np.array([0.80]))

    assert dew[0] == pytest.approx(21.3094, abs=1e-3)


@pytest.mark.parametrize("temperature", [-15.0, -2.0, 4.0, 18.0, 33.0])
@pytest.mark.parametrize("humidity", [0.15, 0.6, 0.97])
def test_whole_range_against_psychrolib(psychrolib, temperature, humidity):
    """Same equations, other hands; below freezing psychrolib takes humidity over ice."""
    vapour = humidity * air.saturation_pressure(temperature)
    dew = psychrolib.GetTDewPointFromRelHum(temperature, humidity)
    # A hundredth of a kelvin is 0.1 % of the vapour pressure.
    assert air.saturation_pressure(dew) == pytest.approx(vapour, rel=1e-3)
    if dew > 0.01:
        assert air.dew_point(vapour) == pytest.approx(dew, abs=0.01)


def test_saturation_slope_is_the_derivative():
    for temperature in (-12.0, 3.0, 28.0):
        step = 1e-4
        rise = air.saturation_pressure(temperature + step) - air.saturation_pressure(
            temperature - step
        )
        assert air.saturation_slope(temperature) == pytest.approx(rise / (2 * step), rel=1e-6)


def test_latent_heat_and_gamma_of_fao_56():
    """FAO-56: 2.45 MJ/kg at 20 degC; example 2, 1800 m: 81.8 kPa and 0.054 kPa/degC."""
    assert air.latent_heat(20.0) == pytest.approx(2.45e6, abs=0.005e6)
    assert air.psychrometric_constant(81.8e3) == pytest.approx(54.0, abs=0.5)
