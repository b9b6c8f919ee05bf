"""Sun, clear sky, diffuse share and the file readers against the library pvlib."""

from datetime import datetime
from pathlib import Path

import numpy as np
import pytest

from hoopwright.climate import daylight
from hoopwright.climate.read import read_weather
from hoopwright.climate.sun import days_since_2000, sun_over_hours, sun_position
from hoopwright.climate.weather import Station

pvlib = pytest.importorskip("pvlib")
pandas = pytest.importorskip("pandas")
pytestmark = pytest.mark.reference


@pytest.mark.parametrize("latitude", [-34.0, 0.0, 44.0, 60.0, 70.0])
def test_sun_against_the_nrel_algorithm(latitude):
    """Every hour of 2023; measured 0.012 deg in height and 0.010 deg across."""
    times = pandas.date_range("2023-01-01 00:30", periods=8760, freq="h", tz="Etc/GMT+7")
    theirs = pvlib.solarposition.get_solarposition(
        times, latitude, -111.0, altitude=1500, method="nrel_numpy"
    )
    days = days_since_2000(datetime(2023, 1, 1, 0, 30), np.arange(8760.0), -7.0)
    ours = sun_position(days, latitude, -111.0, refracted=False)
    across = (ours.azimuth - theirs["azimuth"].to_numpy() + 180) % 360 - 180

    assert np.abs(ours.elevation - theirs["elevation"].to_numpy()).max() < 0.015
    height = np.cos(np.radians(theirs["elevation"].to_numpy()))
    assert np.abs(across * height).max() < 0.015


def test_refraction_near_the_horizon():
    """Within 0.04 deg of the NREL algorithm for a sun above 1 deg."""
    times = pandas.date_range("2023-04-01 00:00", periods=600, freq="7min", tz="Etc/GMT+7")
    theirs = pvlib.solarposition.get_solarposition(
        times, 44.0, -111.0, pressure=80000.0, temperature=10.0, method="nrel_numpy"
    )
    days = days_since_2000(datetime(2023, 4, 1), np.arange(600) * 7 / 60, -7.0)
    ours = sun_position(days, 44.0, -111.0, pressure=80000.0, temperature=10.0).elevation
    seen = theirs["apparent_elevation"].to_numpy()

    assert np.abs(ours - seen)[seen > 1].max() < 0.04


@pytest.mark.parametrize(("elevation", "turbidity"), [(0.0, 4.0), (1829.0, 2.8), (2500.0, 2.0)])
def test_clear_sky_against_ineichen(elevation, turbidity):
    """Equal formulas at the sun of mid-hour; the direct ceiling included."""
    station = Station("any", 40.0, -105.0, elevation, -7.0)
    sun = sun_over_hours(datetime(2023, 6, 1), 24 * 5, station)
    high = (sun.lit_fraction > 0.999) & (sun.elevation > 3)
    mass = daylight.relative_air_mass(sun.elevation) * 0.85
    theirs = pvlib.clearsky.ineichen(
        90 - sun.elevation[high],
        mass[high],
        turbidity,
        altitude=elevation,
        dni_extra=sun.extraterrestrial_normal[high],
    )
    ours = daylight.clear_sky_global(sun, elevation, 0.85, turbidity)[high]
    beam = daylight.clear_sky_direct(sun, elevation, 0.85, turbidity)[high]

    assert np.abs(ours / np.asarray(theirs["ghi"]) - 1).max() < 0.003
    assert np.abs(beam / np.maximum(np.asarray(theirs["dni"]), 1) - 1).max() < 0.003


def test_air_mass_and_diffuse_shares():
    heights = np.linspace(0.5, 90, 50)
    theirs = pvlib.atmosphere.get_relative_airmass(90 - heights, "kastenyoung1989")
    assert daylight.relative_air_mass(heights) == pytest.approx(theirs, rel=1e-6)

    clearness = np.linspace(0.02, 0.79, 60)
    normal, zenith = float(pvlib.irradiance.get_extra_radiation(1)), np.full(60, 40.0)
    level = normal * np.cos(np.radians(40.0))
    erbs = pvlib.irradiance.erbs(clearness * level, zenith, 1)
    boland = pvlib.irradiance.boland(clearness * level, zenith, 1)
    assert daylight.erbs_diffuse_fraction(clearness) == pytest.approx(
        np.asarray(erbs["dhi"]) / (clearness * level), abs=1e-6
    )
    assert daylight.boland_diffuse_fraction(clearness) == pytest.approx(
        np.asarray(boland["dhi"]) / (clearness * level), abs=1e-6
    )


def test_tmy3_of_sand_point_and_greensboro():
    """pvlib carries two real TMY3 files; its reader and ours must see the same figures."""
    folder = Path(pvlib.__file__).parent / "data"
    for name in ("703165TY.csv", "723170TYA.CSV"):
        theirs, place = pvlib.iotools.read_tmy3(folder / name, coerce_year=2001, map_variables=True)
        ours = read_weather(folder / name)
        assert ours.station.latitude == place["latitude"]
        assert ours.station.utc_offset == place["TZ"]
        assert np.abs(ours.air_temperature - theirs["temp_air"].to_numpy()).max() < 1e-9
        assert np.abs(ours.wind_speed - theirs["wind_speed"].to_numpy()).max() < 1e-9
        assert np.abs(ours.pressure - 100 * theirs["pressure"].to_numpy()).max() < 1e-6
        assert np.abs(ours.global_horizontal - theirs["ghi"].to_numpy()).max() < 1e-9


def test_rain_in_tenths_under_a_heading_of_millimetres():
    """The Greensboro file adds up to 8345 mm in a year; about 1090 is usual there (common
    knowledge). Read as unknown, and said."""
    folder = Path(pvlib.__file__).parent / "data"
    ours = read_weather(folder / "723170TYA.CSV")

    assert np.isnan(ours.precipitation).all()
    assert any("8345 mm" in repair for repair in ours.repairs)
