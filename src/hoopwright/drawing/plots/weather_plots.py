"""What a year of hourly weather, or a daily record of many years, holds, as plots."""

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np

from hoopwright.climate.frost import FrostYears
from hoopwright.climate.sky import sky_temperature, trusted_sky
from hoopwright.climate.summary import DailySummary, Summary
from hoopwright.climate.weather import DailyRecord, Weather
from hoopwright.drawing.plots import gauge
from hoopwright.drawing.plots.axes import (
    MONTH_MIDDLES,
    YEAR,
    Axis,
    Mark,
    Series,
    day_words,
    nice_step,
)
from hoopwright.drawing.plots.day_map import DayMap, day_map, temperature_colours, temperature_map
from hoopwright.drawing.plots.detail_plot import ClockFace, Remark, detail_plot, sun_spans
from hoopwright.drawing.plots.field import Size
from hoopwright.drawing.plots.frost_plots import frost_chances, frost_of_a_year
from hoopwright.drawing.plots.line_plot import Curve, line_plot
from hoopwright.drawing.plots.range_bars import RangeBar, range_bars
from hoopwright.drawing.plots.words import CHANGED, DASHES, DASHES_AND_DOTS
from hoopwright.drawing.scene import View
from hoopwright.tables.constants import MONTH_STARTS
from hoopwright.units import MONTH_NAMES, System

#: Known months from which on a plot of rain is worth its paper.
MOST_MONTHS = 6
EIGHT_IN_TEN = (0.1, 0.9)


def weather_plots(
    weather: Weather, held: Summary, system: System, frost: Sequence[FrostYears] = ()
) -> tuple[View, ...]:
    """Return the plots of one year of hours.

    held  : its summary, or that of several years like it
    frost : frost dates of several years, one entry a threshold, where there are several
    """
    kind = _kind(weather)
    spans = (
        frost_chances(frost, system, kind) if frost else frost_of_a_year(held.frost, system, kind)
    )
    views = [
        _temperatures(weather, system),
        _hours(weather, system),
        _sun(weather, held),
        _wind(weather, held, system),
        _coldest_night(weather, system),
    ]
    if spans is not None:
        views.insert(2, spans)
    if np.isfinite(held.precipitation).sum() >= MOST_MONTHS:
        views.append(rain_bars(held.precipitation, system, kind))
    return tuple(views)


def _kind(weather: Weather) -> str:
    """Return what kind of year it is, said on every plot."""
    if weather.invented:
        return "Invented weather, never observed."
    return "One typical year, stitched." if weather.typical_year else "One observed year."


def by_month(values: Series, per_day: int = 1) -> list[Series]:
    """Return the values of a common year month by month, one or more a day."""
    edges = [day * per_day for day in MONTH_STARTS]
    return [values[start:end] for start, end in pairwise(edges)]


def spread_curve(label: str, months: list[Series]) -> Curve:
    """Return the curve through the mean of each month's days, with the band of 8 days in 10."""
    known = [part[np.isfinite(part)] for part in months]
    mean = np.array([part.mean() if part.size else np.nan for part in known])
    low, high = (
        np.array([np.quantile(part, share) if part.size else np.nan for part in known])
        for share in EIGHT_IN_TEN
    )
    return Curve(label, mean, low, high)


def _temperatures(weather: Weather, system: System) -> View:
    days = weather.air_temperature[: YEAR * 24].reshape(YEAR, 24)
    kind = _kind(weather)
    return temperature_lines(by_month(days.max(axis=1)), by_month(days.min(axis=1)), system, kind)


def temperature_lines(
    highs: list[Series], lows: list[Series], system: System, kind: str = ""
) -> View:
    """Return highest and lowest temperatures of the days over the year, by months' means."""
    shown = gauge.temperature(system)
    high, low = spread_curve("day's high", highs), spread_curve("night's low", lows)
    warmest, coldest = int(np.nanargmax(high.values)), int(np.nanargmin(low.values))
    title = (
        f"Days reach {shown.show(float(high.values[warmest]))} in {MONTH_NAMES[warmest]}, "
        f"nights fall to {shown.show(float(low.values[coldest]))} in {MONTH_NAMES[coldest]}"
    )
    note = f"Mean of each month; bands hold 8 days in 10. {kind}".strip()
    return line_plot("temperatures", title, np.array(MONTH_MIDDLES), (high, low), shown, note=note)


def _hours(weather: Weather, system: System) -> View:
    shown = gauge.temperature(system)
    air = weather.air_temperature[: YEAR * 24]
    frosty = int((air <= 0).sum())
    days = int((air.reshape(YEAR, 24).min(axis=1) <= 0).sum())
    title = (
        f"{frosty:,} hours of the year are at or below freezing, on {days} days"
        if frosty
        else f"It never freezes; the year's lowest is {shown.show(float(air.min()))}"
    )
    note = f"Air at 2 m, local standard time. {_kind(weather)} Line: freezing, by the month's mean."
    drawn = temperature_map(air, temperature_colours([air], shown), system)
    return day_map("hours", title, drawn, shown, note=note)


def _sun(weather: Weather, held: Summary) -> View:
    shown = gauge.daily_radiation()
    daily = weather.global_horizontal[: YEAR * 24].reshape(YEAR, 24).sum(axis=1) / 1000
    bars = _bars(daily)
    least = min(bars, key=lambda bar: bar.value)
    most = max(bars, key=lambda bar: bar.value)
    title = (
        f"A day's sun: {shown.bare(least.value)} {shown.mark} in {least.label}, "
        f"{shown.bare(most.value)} in {most.label}"
    )
    note = (
        f"On level ground; strokes hold 8 days in 10. {100 * held.diffuse_share:.0f} % of it comes "
        f"from the sky and not straight from the sun. {_kind(weather)}"
    )
    return range_bars("sun", title, bars, shown, note=note)


def _bars(values: Series, per_day: int = 1) -> list[RangeBar]:
    bars = []
    for name, part in zip(MONTH_NAMES, by_month(values, per_day), strict=True):
        low, high = (float(np.quantile(part, share)) for share in EIGHT_IN_TEN)
        mean = float(part.mean())
        bars.append(RangeBar(name, mean, min(low, mean), max(high, mean)))
    return bars


def _wind(weather: Weather, held: Summary, system: System) -> View:
    shown = gauge.wind_speed(system)
    bars = _bars(weather.wind_speed[: YEAR * 24], per_day=24)
    most = max(bars, key=lambda bar: bar.value)
    title = (
        f"{most.label} is the windiest month; the year's strongest hour has "
        f"{shown.show(held.strongest_wind)}"
    )
    note = f"Means of an hour at 10 m, not gusts; strokes hold 8 hours in 10. {_kind(weather)}"
    return range_bars("wind", title, bars, shown, note=note)


def rain_bars(rain: Series, system: System, note: str = "") -> View:
    """Return the rain of each month [mm] as bars; NaN where unknown."""
    shown = gauge.rain(system)
    bars = [
        RangeBar(name, float(depth), words="" if np.isfinite(depth) else "not known")
        for name, depth in zip(MONTH_NAMES, rain, strict=True)
    ]
    wettest = int(np.nanargmax(rain))
    known = "in the year" if np.isfinite(rain).all() else "in the months known"
    title = f"{shown.show(float(np.nansum(rain)))} of rain and melted snow {known}, most in "
    return range_bars("rain", title + MONTH_NAMES[wettest], bars, shown, note=note)


def _coldest_night(weather: Weather, system: System) -> View:
    """Return the two days round the year's coldest hour: air, dew point and the sky's cold."""
    shown = gauge.temperature(system)
    coldest = int(weather.air_temperature[: YEAR * 24].argmin())
    day = min(max((coldest - 12) // 24, 0), YEAR - 2)
    rows = slice(max(24 * day - 1, 0), 24 * day + 48)
    hours = np.arange(rows.start + 1 - 24 * day, 49, dtype=float)
    sky = sky_temperature(trusted_sky(weather))
    air = weather.air_temperature
    curves = (
        Curve("air at 2 m", air[rows], look=CHANGED),
        Curve("dew point", weather.dew_point[rows], look=DASHES_AND_DOTS),
        Curve("sky, as a\nblack body", sky[rows], look=DASHES),
    )
    at = float(coldest + 1 - 24 * day)
    lowest = float(air[coldest])
    colder = float(lowest - sky[coldest])
    title = (
        f"The coldest night falls to {shown.show(lowest)}; the sky above it is "
        f"{replace(gauge.temperature_difference(system), digits=0).show(colder)} colder still"
    )
    words = (day_words(day), day_words(day + 1))
    remark = Remark(at, lowest, shown.show(lowest))
    return detail_plot(
        "coldest-night",
        title,
        hours,
        curves,
        sun_spans(weather, day, 2),
        ClockFace(system, words),
        shown,
        remarks=(remark,),
        note=f"Local standard time. {_kind(weather)}",
    )


def record_plots(
    record: DailyRecord, held: DailySummary, frost: Sequence[FrostYears], system: System
) -> tuple[View, ...]:
    """Return the plots of a daily record; frost: its dates, one entry a threshold."""
    months = record.months
    highs = [record.maximum[months == month] for month in range(12)]
    lows = [record.minimum[months == month] for month in range(12)]
    kind = f"Record of {held.first.year} to {held.last.year}."
    views = [temperature_lines(highs, lows, system, kind), _nights(record, system)]
    spans = frost_chances(frost, system, kind)
    if spans is not None:
        views.append(spans)
    if np.isfinite(held.precipitation).any():
        views.append(rain_bars(held.precipitation, system, f"Means of the months. {kind}"))
    return tuple(views)


def nights_by_year(record: DailyRecord) -> tuple[Series, int]:
    """Return lowest temperatures as rows of years and columns of days, and the first year.

    A leap year's last day is left out, so that every row has 365 days.
    """
    first = int(record.years[0])
    count = int(record.years[-1]) - first + 1
    cells = np.full((count, YEAR), np.nan)
    day = record.day_of_year - 1
    kept = day < YEAR
    cells[record.years[kept] - first, day[kept]] = record.minimum[kept]
    return cells, first


def _nights(record: DailyRecord, system: System) -> View:
    shown = gauge.temperature(system)
    cells, first = nights_by_year(record)
    count = cells.shape[0]
    step = max(1, round(nice_step(count, 6)))
    years = [year for year in range(first, first + count) if year % step == 0 or count <= 6]
    marks = tuple(Mark(year - first + 0.5, str(year)) for year in years)
    rows = Axis(0.0, float(count), marks or (Mark(0.5, str(first)),))
    # The days before the first and after the last belong to no gap, yet they are unknown too.
    missing = int((~np.isfinite(record.minimum)).sum())
    share = 100 * (1 - missing / len(record))
    title = f"{share:.1f} % of the nights are known" + (
        f"; {missing:,} are missing" if missing else ""
    )
    note = "Lowest temperature of each day, year by year. Ruled: not known."
    drawn = DayMap(cells, rows, temperature_colours([cells], shown), level=None, strip=False)
    tall = min(max(0.0016 * count, 0.03), 0.12)
    return day_map("nights", title, drawn, shown, note=note, size=Size(height=tall))
