"""Twelve monthly rows that describe a climate: typed in, or taken from a weather file."""

from dataclasses import fields
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate import daylight
from hoopwright.climate.sun import sun_of, sun_over_hours
from hoopwright.climate.weather import Series, Station, Weather, series
from hoopwright.frozen import dataclass
from hoopwright.tables.constants import MONTH_STARTS

MONTH_LENGTHS = np.diff(MONTH_STARTS)
MONTH_OF_DAY = np.repeat(np.arange(12), MONTH_LENGTHS)


@dataclass(frozen=True)
class MonthlyNormals:
    """A climate as monthly means, January first; arrays of 12.

    maximum, minimum  : [degC] mean of the daily extremes
    precipitation     : [mm] in the month; NaN where unknown
    wet_days          : [d] in the month with 0.3 mm or more; NaN where unknown
    clearness         : [-] global radiation over that above the air, monthly sums
    wind_speed        : [m/s] mean at 10 m
    dew_point         : [degC] mean
    maximum_deviation,
    minimum_deviation : [K] standard deviation of the daily extremes about the season's course;
                        NaN for the rule of thumb in `usual_deviations`
    """

    station: Station
    maximum: Series
    minimum: Series
    precipitation: Series
    wet_days: Series
    clearness: Series
    wind_speed: Series
    dew_point: Series
    maximum_deviation: Series
    minimum_deviation: Series
    source: str
    invented: bool = False

    def __post_init__(self) -> None:
        for item in fields(self):
            value = getattr(self, item.name)
            if isinstance(value, np.ndarray) and value.shape != (12,):
                raise ValueError(f"{item.name}: twelve monthly values are wanted, got {value.size}")
        self._refuse(self.minimum >= self.maximum, "mean minimum is not below the mean maximum")
        self._refuse(self.dew_point > self.maximum, "mean dew point is above the mean maximum")
        self._refuse((self.clearness < 0.1) | (self.clearness > 0.85), "clearness outside 0.1-0.85")
        self._refuse((self.wind_speed < 0) | (self.wind_speed > 25), "wind speed outside 0-25 m/s")
        self._refuse(self.precipitation < 0, "precipitation below nil")
        self._refuse((self.wet_days < 0) | (self.wet_days > MONTH_LENGTHS), "wet days")

    def _refuse(self, wrong: NDArray[np.bool_], problem: str) -> None:
        if wrong.any():
            month = int(np.flatnonzero(wrong)[0]) + 1
            raise ValueError(f"monthly normals, month {month}: {problem}")


def usual_deviations(
    maximum: Series,
    minimum: Series,
    high_terms: tuple[float, float, float] = (2.10, -0.069, 0.102),
    low_terms: tuple[float, float, float] = (0.83, -0.134, 0.133),
) -> tuple[Series, Series]:
    """Return standard deviations [K] of daily maximum and minimum where none are known.

    Straight lines in how far the month is from the year's mean, and in the year's range, fitted
    by least squares to 120 months of ten TMY3 files (10 U.S. cities, 2 to 1867 m); they miss
    single months by 1.2 K (maximum) and 1.0 K (minimum) root-mean-square. No publication.
    """
    middle = (maximum + minimum) / 2
    off = middle - middle.mean()
    yearly = middle.max() - middle.min()
    high = high_terms[0] + high_terms[1] * off + high_terms[2] * yearly
    low = low_terms[0] + low_terms[1] * off + low_terms[2] * yearly
    return np.clip(high, 1.0, 9.0), np.clip(low, 1.0, 9.0)


def clearness_from_sun_hours(
    station: Station, sun_hours: Series, intercept: float = 0.25, slope: float = 0.50
) -> Series:
    """Return monthly clearness [-] from mean hours of bright sun a day.

    Source: FAO-56 eq. 35 (Angstrom), the coefficients it recommends without calibration.
    """
    sun = sun_over_hours(_reference_year(), 8760, station)
    daylight_hours = _monthly(series(sun.lit_fraction.reshape(365, 24).sum(axis=1)))
    share = series(sun_hours) / daylight_hours
    if (share > 1).any():
        month = int(np.flatnonzero(share > 1)[0]) + 1
        raise ValueError(f"month {month}: more hours of sun than the day has")
    return intercept + slope * share


def _monthly(daily: Series) -> Series:
    return series(np.bincount(MONTH_OF_DAY, weights=daily) / MONTH_LENGTHS)


def daily_course(monthly: Series) -> Series:
    """Return 365 daily values on straight lines between months, monthly means kept exactly."""
    return series(_COURSE @ series(monthly))


def _course_matrix() -> Series:
    middle = np.cumsum(MONTH_LENGTHS) - MONTH_LENGTHS / 2
    knots = np.concatenate([[middle[-1] - 365], middle, [middle[0] + 365]])
    days = np.arange(365) + 0.5
    lines = np.stack(
        [np.interp(days, knots, np.eye(12)[k][np.r_[11, 0:12, 0]]) for k in range(12)], axis=1
    )
    means = np.stack([_monthly(lines[:, k]) for k in range(12)], axis=1)
    return series(lines @ np.linalg.inv(means))


_COURSE = _course_matrix()


def monthly_normals(weather: Weather, wet_from: float = 0.3) -> MonthlyNormals:
    """Return the twelve rows that a weather record of whole years amounts to.

    wet_from : [mm] that makes a wet day
    Precipitation and wet days are NaN in months where more than a third of the hours are
    unknown; typical-year files often are. A 29 February is left out.
    """
    days = _common_days(weather)
    month = np.tile(MONTH_OF_DAY, days.years)

    def mean(daily: Series) -> Series:
        return series(np.array([daily[month == m].mean() for m in range(12)]))

    temperature = days.grid(weather.air_temperature)
    high, low = temperature.max(axis=1), temperature.min(axis=1)
    outside = days.grid(sun_of(weather).extraterrestrial_horizontal).sum(axis=1)
    rain = days.grid(weather.precipitation)
    known = mean(np.isfinite(rain).mean(axis=1)) > 2 / 3
    daily_rain = np.nansum(rain, axis=1)
    return MonthlyNormals(
        station=weather.station,
        maximum=mean(high),
        minimum=mean(low),
        precipitation=np.where(known, mean(daily_rain) * MONTH_LENGTHS, np.nan),
        wet_days=np.where(known, mean(series(daily_rain >= wet_from)) * MONTH_LENGTHS, np.nan),
        clearness=_clearness(mean(days.grid(weather.global_horizontal).sum(axis=1)), mean(outside)),
        wind_speed=mean(days.grid(weather.wind_speed).mean(axis=1)),
        dew_point=mean(days.grid(weather.dew_point).mean(axis=1)),
        maximum_deviation=_deviation(high, month, days.years),
        minimum_deviation=_deviation(low, month, days.years),
        source=f"monthly means of {weather.source}",
        invented=weather.invented,
    )


def _clearness(below: Series, above: Series, dark: float = 1200.0) -> Series:
    """Return monthly clearness [-] from daily sums [Wh/m2] below and above the air.

    dark : [Wh/m2 d] above the air, under which the quotient of two small sums means little and is
        drawn into what normals accept (north of 60 deg in midwinter)
    """
    quotient = below / np.maximum(above, 1.0)
    return np.where(above < dark, np.clip(quotient, 0.1, 0.85), quotient)


@dataclass(frozen=True)
class _CommonDays:
    years: int
    keep: Series

    def grid(self, hourly: Series) -> Series:
        """Return the hours as (days, 24) without 29 February."""
        return series(hourly.reshape(-1, 24)[self.keep.astype(bool)])


def _common_days(weather: Weather) -> _CommonDays:
    if len(weather) % 24:
        raise ValueError("whole days are wanted")
    first = np.datetime64(weather.start.date(), "D")
    dates = (first + np.arange(len(weather) // 24)).astype(object)
    keep = np.array([not (d.month == 2 and d.day == 29) for d in dates])
    if (weather.start.month, weather.start.day) != (1, 1) or keep.sum() % 365:
        raise ValueError("whole years from 1 January are wanted")
    return _CommonDays(int(keep.sum()) // 365, series(keep))


def _deviation(daily: Series, month: NDArray[np.int_], years: int) -> Series:
    """Return monthly standard deviations about three harmonics of the year."""
    angle = np.tile(np.arange(365), years) * 2 * np.pi / 365
    terms = [np.ones(daily.size)]
    for order in (1, 2, 3):
        terms += [np.cos(order * angle), np.sin(order * angle)]
    design = np.stack(terms, axis=1)
    rest = daily - design @ np.linalg.lstsq(design, daily, rcond=None)[0]
    return series(np.array([rest[month == m].std() for m in range(12)]))


def clear_clearness(station: Station, pressure_ratio: float) -> Series:
    """Return the clearness [-] of a cloudless day, each day of a common year."""
    sun = sun_over_hours(_reference_year(), 8760, station)
    clear = daylight.clear_sky_global(sun, station.elevation, pressure_ratio)
    outside = sun.extraterrestrial_horizontal.reshape(365, 24).sum(axis=1)
    return series(clear.reshape(365, 24).sum(axis=1) / np.maximum(outside, 1e-6))


def _reference_year() -> datetime:
    return datetime(2001, 1, 1)
