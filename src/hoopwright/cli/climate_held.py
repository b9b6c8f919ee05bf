"""What a weather file turned out to hold: hours, or days of many years, with their summaries; as
plain data for machines in SI units, the unit in each name.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np

from hoopwright.climate.demo import demo_weather
from hoopwright.climate.frost import (
    FrostChance,
    FrostYears,
    first_frost,
    frost_years,
    frost_years_of,
    last_frost,
    season_length,
)
from hoopwright.climate.read import is_daily, read_daily, read_weather
from hoopwright.climate.summary import THRESHOLDS, DailySummary, Summary, daily_summary, summary
from hoopwright.climate.weather import DailyRecord, Series, Station, Weather, series
from hoopwright.frozen import dataclass

if TYPE_CHECKING:
    from hoopwright.drawing.scene import View
    from hoopwright.units import System

DEMO = "demo"
DEMO_YEARS = 30
#: Chances of a frost that are told as data [-].
CHANCES = (0.5, 0.2, 0.1)


@dataclass(frozen=True)
class Hourly:
    """One year of hours, or several like it of which the first is shown.

    frost : dates of the several years, one entry a threshold; none of one year
    years : how many
    """

    weather: Weather
    summary: Summary
    frost: tuple[FrostYears, ...]
    years: int


@dataclass(frozen=True)
class Daily:
    """A daily record with its frost dates, one entry a threshold."""

    record: DailyRecord
    summary: DailySummary
    frost: tuple[FrostYears, ...]


def held_in(file: str) -> Hourly | Daily:
    """Return what a file holds, or what the invented valley does; raise WeatherFileError."""
    if file == DEMO:
        return demo()
    path = Path(file)
    if is_daily(path):
        record = read_daily(path)
        frost = tuple(frost_years(record, threshold) for threshold in THRESHOLDS)
        return Daily(record, daily_summary(record), frost)
    weather = read_weather(path)
    return Hourly(weather, summary(weather), (), 1)


def demo(years: int = DEMO_YEARS) -> Hourly:
    """Return generated years of the invented valley."""
    all_years = list(demo_weather(years))
    frost = tuple(frost_years_of(all_years, threshold) for threshold in THRESHOLDS)
    return Hourly(all_years[0], together([summary(year) for year in all_years]), frost, years)


def together(years: Sequence[Summary]) -> Summary:
    """Return the summary of several years of one place: means of means, ends of extremes.

    The frost dates of single years are left out; chances take their place.
    """

    def mean(of: Callable[[Summary], Series]) -> Series:
        return series(np.mean([of(year) for year in years], axis=0))

    def single(of: Callable[[Summary], float]) -> float:
        return float(np.mean([of(year) for year in years]))

    return replace(
        years[0],
        hours=sum(year.hours for year in years),
        mean=mean(lambda year: year.mean),
        mean_maximum=mean(lambda year: year.mean_maximum),
        mean_minimum=mean(lambda year: year.mean_minimum),
        lowest=min(year.lowest for year in years),
        highest=max(year.highest for year in years),
        radiation=mean(lambda year: year.radiation),
        yearly_radiation=single(lambda year: year.yearly_radiation),
        diffuse_share=single(lambda year: year.diffuse_share),
        clearness=single(lambda year: year.clearness),
        wind=mean(lambda year: year.wind),
        strongest_wind=max(year.strongest_wind for year in years),
        humidity=mean(lambda year: year.humidity),
        precipitation=mean(lambda year: year.precipitation),
        sky_depression=single(lambda year: year.sky_depression),
        frost=(),
        unknown={
            name: sum(year.unknown.get(name, 0) for year in years) for name in years[0].unknown
        },
    )


def plots_of(held: Hourly | Daily, system: System) -> tuple[View, ...]:
    """Return the plots of what a file holds."""
    if isinstance(held, Daily):
        from hoopwright.drawing.plots.weather_plots import record_plots

        return record_plots(held.record, held.summary, held.frost, system)
    from hoopwright.drawing.plots.weather_plots import weather_plots

    return weather_plots(held.weather, held.summary, system, held.frost)


def held_data(held: Hourly | Daily) -> dict[str, Any]:
    """Return everything that is told of a file."""
    return _daily_data(held) if isinstance(held, Daily) else _hourly_data(held)


def _number(value: float, digits: int = 4) -> float | None:
    return round(float(value), digits) if math.isfinite(value) else None


def _months(values: Iterable[float], digits: int = 3) -> list[float | None]:
    return [_number(value, digits) for value in values]


def _station(station: Station) -> dict[str, Any]:
    return {
        "name": station.name,
        "latitude_deg": _number(station.latitude),
        "longitude_deg": _number(station.longitude),
        "elevation_m": _number(station.elevation),
        "utc_offset_h": _number(station.utc_offset),
    }


def _hourly_data(held: Hourly) -> dict[str, Any]:
    weather, told = held.weather, held.summary
    north = told.station.latitude >= 0
    return {
        "kind": "hourly",
        "units": "SI",
        "station": _station(told.station),
        "source": told.source,
        "start": weather.start.isoformat(),
        "years": held.years,
        "hours": told.hours,
        "typical_year": weather.typical_year,
        "invented": weather.invented,
        "months": {
            "mean_degC": _months(told.mean),
            "mean_maximum_degC": _months(told.mean_maximum),
            "mean_minimum_degC": _months(told.mean_minimum),
            "radiation_kWh_m2_d": _months(told.radiation),
            "wind_m_s": _months(told.wind),
            "relative_humidity": _months(told.humidity),
            "precipitation_mm": _months(told.precipitation),
        },
        "lowest_degC": _number(told.lowest),
        "highest_degC": _number(told.highest),
        "radiation_kWh_m2_a": _number(told.yearly_radiation),
        "diffuse_share": _number(told.diffuse_share),
        "clearness": _number(told.clearness),
        "strongest_hourly_wind_m_s": _number(told.strongest_wind),
        "sky_depression_K": _number(told.sky_depression),
        "frost_of_the_year": [
            {
                "threshold_degC": span.threshold,
                "last_in_spring": span.last.strftime("%m-%d") if span.last else None,
                "first_in_autumn": span.first.strftime("%m-%d") if span.first else None,
                "days_between": span.season,
            }
            for span in told.frost
            if north
        ],
        "frost_chances": [_chances(frost) for frost in held.frost],
        "unknown_hours": dict(told.unknown),
        "repairs": list(told.repairs),
        "cautions": list(told.cautions),
    }


def _daily_data(held: Daily) -> dict[str, Any]:
    told = held.summary
    return {
        "kind": "daily",
        "units": "SI",
        "station": _station(told.station),
        "source": told.source,
        "first": told.first.isoformat(),
        "last": told.last.isoformat(),
        "invented": held.record.invented,
        "complete_share": _number(told.complete),
        "months": {
            "mean_maximum_degC": _months(told.mean_maximum),
            "mean_minimum_degC": _months(told.mean_minimum),
            "precipitation_mm": _months(told.precipitation),
        },
        "lowest_degC": _number(told.lowest),
        "highest_degC": _number(told.highest),
        "frost_chances": [_chances(frost) for frost in held.frost],
        "repairs": list(told.repairs),
        "cautions": list(told.cautions),
    }


def _chances(frost: FrostYears) -> dict[str, Any]:
    return {
        "threshold_degC": frost.threshold,
        "years": len(frost.years),
        "last_in_spring": [_chance(last_frost(frost, chance)) for chance in CHANCES],
        "first_in_autumn": [_chance(first_frost(frost, chance)) for chance in CHANCES],
        "days_between_fewer_than": [
            {**_chance(season_length(frost, 1 - chance), "days"), "probability": chance}
            for chance in CHANCES
        ],
    }


def _chance(chance: FrostChance, what: str = "day_of_year") -> dict[str, float | None]:
    return {
        "probability": chance.probability,
        what: _number(chance.day, 1),
        "low": _number(chance.low, 1),
        "high": _number(chance.high, 1),
    }
