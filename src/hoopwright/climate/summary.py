"""What a weather record holds, at a glance: means, extremes, frost, sun, wind, repairs."""

from datetime import date, timedelta

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.air import relative_humidity
from hoopwright.climate.frost import MIDSUMMER, frost_years
from hoopwright.climate.sky import infrared_is_modelled, sky_temperature, trusted_sky
from hoopwright.climate.sun import sun_of
from hoopwright.climate.weather import DailyRecord, Series, Station, Weather, series
from hoopwright.frozen import dataclass

THRESHOLDS = (0.0, -2.2, -4.4)
"""[degC] shown in every summary: 32, 28 and 24 degF, the usual killing steps."""


#: Days of each month in the mean of years.
LENGTHS = np.array([31, 28.25, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])


@dataclass(frozen=True)
class FrostSpan:
    """Last spring and first autumn day at or below a threshold in one year; None where none.

    threshold : [degC]; season : [d] between them
    """

    threshold: float
    last: date | None
    first: date | None
    season: int


@dataclass(frozen=True)
class Summary:
    """One record of hourly weather in figures; arrays of 12 are months.

    mean, mean_maximum, mean_minimum : [degC]
    lowest, highest                  : [degC] of the record
    radiation                        : [kWh/m2 d] global, monthly mean
    yearly_radiation                 : [kWh/m2 a]; diffuse_share, clearness [-]
    wind                             : [m/s] monthly mean; strongest hourly mean strongest_wind
    humidity                         : [-] monthly mean relative
    precipitation                    : [mm] in the month, NaN where under half is known
    sky_depression                   : [K] mean by which the sky is colder than the air at night
    frost                            : one span a threshold; none south of the equator
    hours                            : [h] in the record
    unknown                          : column -> [h] not known
    cautions                         : what this record cannot tell
    """

    station: Station
    source: str
    hours: int
    mean: Series
    mean_maximum: Series
    mean_minimum: Series
    lowest: float
    highest: float
    radiation: Series
    yearly_radiation: float
    diffuse_share: float
    clearness: float
    wind: Series
    strongest_wind: float
    humidity: Series
    precipitation: Series
    sky_depression: float
    frost: tuple[FrostSpan, ...]
    unknown: dict[str, int]
    repairs: tuple[str, ...]
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class DailySummary:
    """A daily record in figures; arrays of 12 are months.

    mean_maximum, mean_minimum : [degC]; precipitation : [mm] in the month
    complete                   : [-] share of days with both extremes
    """

    station: Station
    source: str
    first: date
    last: date
    mean_maximum: Series
    mean_minimum: Series
    precipitation: Series
    lowest: float
    highest: float
    complete: float
    frost_years: int
    repairs: tuple[str, ...]
    cautions: tuple[str, ...]


def summary(weather: Weather) -> Summary:
    """Return what a year of hours (or several) amounts to."""
    months = weather.months
    day_month = months[::24]
    temperature = weather.air_temperature.reshape(-1, 24)
    sun = sun_of(weather)
    dark = sun.elevation < -3
    drop = weather.air_temperature - sky_temperature(trusted_sky(weather))
    total = float(weather.global_horizontal.sum())
    days = len(weather) / 24
    return Summary(
        station=weather.station,
        source=weather.source,
        hours=len(weather),
        mean=_by_month(weather.air_temperature, months),
        mean_maximum=_by_month(temperature.max(axis=1), day_month),
        mean_minimum=_by_month(temperature.min(axis=1), day_month),
        lowest=float(temperature.min()),
        highest=float(temperature.max()),
        radiation=_by_month(weather.global_horizontal, months) * 24 / 1000,
        yearly_radiation=total / 1000 * 365 / days,
        diffuse_share=float(weather.diffuse_horizontal.sum()) / max(total, 1e-9),
        clearness=total / float(sun.extraterrestrial_horizontal.sum()),
        wind=_by_month(weather.wind_speed, months),
        strongest_wind=float(weather.wind_speed.max()),
        humidity=_by_month(relative_humidity(weather.air_temperature, weather.dew_point), months),
        precipitation=_rain_by_month(weather.precipitation, months),
        sky_depression=float(drop[dark].mean()) if dark.any() else float("nan"),
        frost=()
        if weather.station.latitude < 0
        else tuple(_frost_span(weather, threshold) for threshold in THRESHOLDS),
        unknown=_unknown(weather),
        repairs=weather.repairs,
        cautions=_cautions(weather),
    )


def _by_month(values: Series, month: NDArray[np.int64]) -> Series:
    found = [values[month == m] for m in range(12)]
    return np.array([part.mean() if part.size else np.nan for part in found])


def _rain_by_month(rain: Series, month: NDArray[np.int64], least_known: float = 0.5) -> Series:
    known = _by_month(series(np.where(np.isfinite(rain), 1.0, 0.0)), month)
    mean = _by_month(np.nan_to_num(rain), month) / np.maximum(known, 1e-9)
    return series(np.where(known >= least_known, mean * 24 * LENGTHS, np.nan))


def _frost_span(weather: Weather, threshold: float) -> FrostSpan:
    low = weather.air_temperature[: 366 * 24].reshape(-1, 24).min(axis=1)
    cold = np.flatnonzero(low <= threshold)
    spring, autumn = cold[cold < MIDSUMMER], cold[cold >= MIDSUMMER]
    first_day = weather.start.date()
    last = first_day + timedelta(days=int(spring[-1])) if spring.size else None
    first = first_day + timedelta(days=int(autumn[0])) if autumn.size else None
    begin = int(spring[-1]) if spring.size else -1
    end = int(autumn[0]) if autumn.size else low.size
    return FrostSpan(threshold, last, first, end - begin - 1)


def _unknown(weather: Weather) -> dict[str, int]:
    columns = {
        "sky infrared": weather.sky_infrared,
        "precipitation": weather.precipitation,
        "snow depth": weather.snow_depth,
    }
    missing = {name: int((~np.isfinite(values)).sum()) for name, values in columns.items()}
    return {name: hours for name, hours in missing.items() if hours}


def _cautions(weather: Weather) -> tuple[str, ...]:
    said = []
    if weather.station.latitude < 0:
        said.append(
            "Frost dates are counted from a northern winter to the next; none are given south of "
            "the equator."
        )
    if weather.typical_year:
        said.append(
            "A typical year is stitched from months of several years; its frost dates are one "
            "sample and carry no probability. Give a daily record or use the generator for risk."
        )
    if weather.invented:
        said.append("This weather is invented; it was never observed.")
    if infrared_is_modelled(weather):
        said.append(
            "The sky infrared in this file is a sea-level formula (Clark & Allen 1978), not an "
            "observation; Martin & Berdahl 1984 with the air pressure is used in its place."
        )
    said.append("Wind is the mean of an hour, not a gust; the air is that of a screen at 2 m.")
    return tuple(said)


def daily_summary(record: DailyRecord) -> DailySummary:
    """Return what a daily record amounts to."""
    month = record.months

    def known_mean(values: Series) -> Series:
        kept = np.isfinite(values)
        return _by_month(values[kept], month[kept])

    both = np.isfinite(record.minimum) & np.isfinite(record.maximum)
    frost = frost_years(record)
    cautions = list(frost.dropped)
    if len(frost.years) < 20:
        cautions.append(
            f"{len(frost.years)} years with frost dates: a 1 in 10 chance from so few is loose; "
            "see its interval."
        )
    return DailySummary(
        station=record.station,
        source=record.source,
        first=record.first,
        last=record.first + timedelta(days=len(record) - 1),
        mean_maximum=known_mean(record.maximum),
        mean_minimum=known_mean(record.minimum),
        precipitation=known_mean(record.precipitation) * LENGTHS,
        lowest=float(np.nanmin(record.minimum)),
        highest=float(np.nanmax(np.append(record.maximum, -np.inf))),
        complete=float(both.mean()),
        frost_years=len(frost.years),
        repairs=record.repairs,
        cautions=tuple(cautions),
    )
