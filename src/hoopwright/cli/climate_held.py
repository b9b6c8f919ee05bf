"""What a weather file turned out to hold: hours, or days of many years, with their summaries."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from hoopwright.climate.demo import demo_weather
from hoopwright.climate.frost import FrostYears, frost_years, frost_years_of
from hoopwright.climate.read.recognise import is_daily, read_daily, read_weather
from hoopwright.climate.record import DailyRecord
from hoopwright.climate.summary import THRESHOLDS, DailySummary, Summary, daily_summary, summary
from hoopwright.climate.weather import Series, Weather, series
from hoopwright.frozen import dataclass

if TYPE_CHECKING:
    from hoopwright.drawing.scene import View
    from hoopwright.units import System

DEMO = "demo"
DEMO_YEARS = 30


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
        from hoopwright.drawing.plots.record_plots import record_plots

        return record_plots(held.record, held.summary, held.frost, system)
    from hoopwright.drawing.plots.weather_plots import weather_plots

    return weather_plots(held.weather, held.summary, system, held.frost)
