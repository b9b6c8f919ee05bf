"""Sun, clear sky, diffuse share and the file readers against the library pvlib."""

from datetime import datetime
from pathlib import Path

import numpy as np
import pytest
from later import Later

from hoopwright.climate import daylight
from hoopwright.climate.read import read_weather
from hoopwright.climate.sun import sun_over_hours
from hoopwright.climate.weather import Station

pandas, pvlib = Later("pandas"), Later("pvlib")
pytestmark = pytest.mark.reference


@pytest.mark.parametrize("latitude", [-34.0, 0.0, 44.0, 60.0, 70.0])
def test_sun_against_the_nrel_algorithm(latitude):
    """Every whole sunlit hour of 20 days: its mean direction, from theirs minute by minute."""
    station = Station("any", latitude, -111.0, 1500.0, -7.0)
    ours = sun_over_hours(datetime(2023, 4, 1), 24 * 20, station)
    times = pandas.date_range(
        "2023-04-01 00:00:30", periods=24 * 20 * 60, freq="min", tz="Etc/GMT+7"
    )
    theirs = pvlib.solarposition.get_solarposition(
        times, latitude, -111.0, altitude=1500, method="nrel_numpy"
    )
    up, round_about = np.radians(theirs["elevation"]), np.radians(theirs["azimuth"])
    level = np.cos(up)
    parts = np.stack([np.sin(up), level * np.cos(round_about), level * np.sin(round_about)])
    lit = ours.lit_fraction == 1.0
    high, north, east = parts.reshape(3, -1, 60).mean(axis=2)[:, lit]
    elevation = np.degrees(np.arctan2(high, np.hypot(north, east)))
    across = (ours.azimuth[lit] - np.degrees(np.arctan2(east, north)) + 180) % 360 - 180

    assert np.abs(ours.elevation[lit] - elevation).max() < 0.015
    assert np.abs(across * np.cos(np.radians(elevation))).max() < 0.015
    assert np.abs(ours.sine_elevation[lit] - high).max() < 3e-4


@pytest.mark.parametrize(("elevation", "turbidity"), [(0.0, 4.0), (1829.0, 2.8), (2500.0, 2.0)])
def test_clear_sky_against_ineichen(elevation, turbidity):
    """Equal formulas at the sun of mid-hour."""
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

    assert np.abs(ours / np.asarray(theirs["ghi"]) - 1).max() < 0.003


def test_air_mass_and_diffuse_shares():
    heights = np.linspace(0.5, 90, 50)
    theirs = pvlib.atmosphere.get_relative_airmass(90 - heights, "kastenyoung1989")
    assert daylight.relative_air_mass(heights) == pytest.approx(theirs, rel=1e-6)

    clearness = np.linspace(0.02, 0.79, 60)
    normal, zenith = float(pvlib.irradiance.get_extra_radiation(1)), np.full(60, 40.0)
    level = normal * np.cos(np.radians(40.0))
    erbs = pvlib.irradiance.erbs(clearness * level, zenith, 1)
    assert daylight.erbs_diffuse_fraction(clearness) == pytest.approx(
        np.asarray(erbs["dhi"]) / (clearness * level), abs=1e-6
    )


def test_tmy3_of_sand_point_and_greensboro():
    """pvlib carries two real TMY3 files; its reader and ours must see the same figures."""
    folder = Path(pvlib.iotools.__file__).parents[1] / "data"
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
    folder = Path(pvlib.iotools.__file__).parents[1] / "data"
    ours = read_weather(folder / "723170TYA.CSV")

    assert np.isnan(ours.precipitation).all()
    assert any("8345 mm" in repair for repair in ours.repairs)
