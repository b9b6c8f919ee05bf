"""Years of invented hourly weather from twelve monthly rows, the same for the same seed."""

from collections.abc import Iterator
from datetime import datetime
from math import gamma

import numpy as np
from numpy.random import Generator
from numpy.typing import NDArray

from hoopwright.climate import air, daylight
from hoopwright.climate.day_shape import hourly_light, hourly_temperature, persistent_noise
from hoopwright.climate.normals import (
    MONTH_LENGTHS,
    MONTH_OF_DAY,
    MonthlyNormals,
    clear_clearness,
    daily_course,
    usual_deviations,
)
from hoopwright.climate.snow_cover import snow_depths
from hoopwright.climate.stochastic import (
    ClearnessTable,
    clearness_table,
    linked_residuals,
    normal_rank,
    rain_amounts,
    wet_days,
)
from hoopwright.climate.sun import DaySpan, HourlySun, day_spans, sun_over_hours
from hoopwright.climate.weather import Series, Weather, series
from hoopwright.frozen import dataclass

FIRST_YEAR = 2001
"""Generated years have 365 days, so they are called by common years from here on."""


@dataclass(frozen=True)
class WeatherHabits:
    """How the weather of the generator behaves where the normals are silent.

    Measured means measured on ten TMY3 files of U.S. cities (2 to 1867 m); see the docs.

    holding          : [-] memory from day to day over that of Richardson's matrices; with 1 the
        daily means of the files, 0.63 from day to day, came out at 0.74
    wet_maximum, wet_minimum : [-] how many deviations a wet day's extremes stand off a dry
        day's; measured -0.2 to -1.0 and -0.4 to +1.1
    wet_clearness    : [-] the same for the score of clearness; measured -0.9 to -1.3
    wet_share        : [-] share of wet days where the normals do not know it; an assumption
    clearest         : [-] daily sum of the clearest days over the modelled clear sky; measured
    clearness_spread : [-] see clearness_table; measured 0.39 to 0.54
    cloud_persistence: [-] hour to hour; Graham & Hollands 1990, Solar Energy 44, 333-341: 0.54
    dew_with_minimum : [-] correlation of daily dew point and minimum; measured 0.47 to 0.90
    dew_persistence  : [-] day to day, of the rest; measured 0.52 to 0.72
    dew_within_day   : [K] deviation within a day; measured 1.2 to 2.5
    wind_shape       : [-] Weibull shape of hourly wind; measured 1.3 to 2.1
    wind_day_share   : [-] variance of the score that lasts from day to day; measured
    wind_day, wind_hour : [-] persistence of the two parts; measured
    wind_swing       : [-] afternoon over mean, less one; measured 0.2 to 0.5
    pressure_deviation : [Pa] of the daily mean; measured 400 to 820
    """

    holding: float = 0.88
    wet_maximum: float = -0.4
    wet_minimum: float = 0.3
    wet_clearness: float = -1.1
    wet_share: float = 0.25
    clearest: float = 1.04
    clearness_spread: float = 0.47
    cloud_persistence: float = 0.54
    dew_with_minimum: float = 0.8
    dew_persistence: float = 0.55
    dew_within_day: float = 2.0
    wind_shape: float = 1.85
    wind_day_share: float = 0.25
    wind_day: float = 0.5
    wind_hour: float = 0.78
    wind_swing: float = 0.27
    pressure_deviation: float = 600.0


@dataclass(frozen=True)
class _Year:
    """What is the same in every generated year of one place."""

    normals: MonthlyNormals
    habits: WeatherHabits
    sun: HourlySun
    span: DaySpan
    clear_sky: Series
    wet_chance: Series
    rain_mean: Series
    clearness: ClearnessTable
    maximum: Series
    minimum: Series
    maximum_deviation: Series
    minimum_deviation: Series
    dew_point: Series
    wind: Series
    pressure: float


@dataclass(frozen=True)
class _Days:
    """One drawn year of days."""

    wet: NDArray[np.bool_]
    rain: Series
    clearness: Series
    maximum: Series
    minimum: Series
    dew_point: Series


def generate(
    normals: MonthlyNormals, years: int, seed: int, habits: WeatherHabits | None = None
) -> Iterator[Weather]:
    """Yield `years` years of hourly weather that share the monthly means of the normals.

    seed : any whole number; the same normals, habits and seed give the same years, and year k
        does not depend on how many are asked for
    Sources: wet days Geng et al. 1986; linked temperatures and radiation Richardson 1981;
    hours of light Aguiar & Collares-Pereira 1992; day's temperature Parton & Logan 1981.
    Every year is marked as invented. Sky long-wave is left unknown (NaN) for the sky model.
    Not in it: fronts within a day, spells longer than a week or two, hail, gusts.
    """
    fixed = _prepare(normals, habits or WeatherHabits())
    for number in range(years):
        rng = np.random.default_rng([seed, number])
        label = FIRST_YEAR + 4 * (number // 3) + number % 3
        yield _weather(fixed, _draw_days(fixed, rng), rng, label)


def _prepare(normals: MonthlyNormals, habits: WeatherHabits) -> _Year:
    station = normals.station
    start = datetime(FIRST_YEAR, 1, 1)
    sun = sun_over_hours(start, 8760, station)
    pressure = air.pressure_at(station.elevation)
    clear_sky = daylight.clear_sky_global(sun, station.elevation, pressure / 101325.0)
    ceiling = habits.clearest * clear_clearness(station, pressure / 101325.0)
    clearest = np.bincount(MONTH_OF_DAY, weights=ceiling) / MONTH_LENGTHS
    clearest = _lifted_where_dark(clearest, sun, normals.clearness)
    usual = usual_deviations(normals.maximum, normals.minimum)
    given = (normals.maximum_deviation, normals.minimum_deviation)
    high, low = (
        np.where(np.isfinite(own), own, rule) for own, rule in zip(given, usual, strict=True)
    )
    share = np.where(
        np.isfinite(normals.wet_days), normals.wet_days / MONTH_LENGTHS, habits.wet_share
    )
    per_wet_day = normals.precipitation / np.maximum(share * MONTH_LENGTHS, 0.5)
    return _Year(
        normals=normals,
        habits=habits,
        sun=sun,
        span=day_spans(start, 365, station),
        clear_sky=clear_sky,
        wet_chance=np.clip(daily_course(share), 0.0, 1.0),
        rain_mean=series(per_wet_day[MONTH_OF_DAY]),
        clearness=clearness_table(normals.clearness, series(clearest), habits.clearness_spread),
        maximum=daily_course(normals.maximum),
        minimum=daily_course(normals.minimum),
        maximum_deviation=series(high[MONTH_OF_DAY]),
        minimum_deviation=series(low[MONTH_OF_DAY]),
        dew_point=daily_course(normals.dew_point),
        wind=np.maximum(daily_course(normals.wind_speed), 0.05),
        pressure=pressure,
    )


def _lifted_where_dark(
    clearest: Series, sun: HourlySun, clearness: Series, dark: float = 50.0, room: float = 0.15
) -> Series:
    """Return the clearest days' clearness [-], `room` above the mean in months nearly without sun.

    dark : [W/m2] mean above the air, as north of 60 deg in December. There the clear sky's model
        passes too little of a sun on the horizon, and in polar night there is none, so that true
        normals would look impossible. Hours stay capped by the modelled clear sky: such months
        come out duller than stated, by a light that hardly warms (both figures ours).
    """
    above = sun.extraterrestrial_horizontal.reshape(365, 24).mean(axis=1)
    monthly = np.bincount(MONTH_OF_DAY, weights=above) / MONTH_LENGTHS
    return np.where(monthly < dark, np.maximum(clearest, clearness + room), clearest)


def _draw_days(fixed: _Year, rng: Generator) -> _Days:
    habits = fixed.habits
    wet = wet_days(fixed.wet_chance, rng)
    off = wet - fixed.wet_chance
    scores = linked_residuals(365, rng, habits.holding)
    spread = fixed.wet_chance * (1 - fixed.wet_chance)

    def extreme(column: int, shift: float) -> Series:
        """Shift by wet or dry and bring the variance back to one."""
        score = scores[:, column] + shift * off
        return series(score / np.sqrt(1 + shift**2 * spread))

    high, low = extreme(0, habits.wet_maximum), extreme(1, habits.wet_minimum)
    maximum = fixed.maximum + fixed.maximum_deviation * high
    minimum = fixed.minimum + fixed.minimum_deviation * low
    middle, half = (maximum + minimum) / 2, np.maximum((maximum - minimum) / 2, 0.75)
    rest = persistent_noise(rng.standard_normal(365), habits.dew_persistence)
    link = habits.dew_with_minimum
    dew = fixed.dew_point + fixed.minimum_deviation * (link * low + (1 - link**2) ** 0.5 * rest)
    rain = np.where(np.isfinite(fixed.rain_mean), 0.0, np.nan)
    falls = wet & (fixed.rain_mean > 0)
    rain[falls] = rain_amounts(fixed.rain_mean[falls], rng)
    return _Days(
        wet=wet,
        rain=rain,
        clearness=_clearness(fixed, wet, series(scores[:, 2])),
        maximum=middle + half,
        minimum=middle - half,
        dew_point=dew,
    )


def _clearness(fixed: _Year, wet: NDArray[np.bool_], score: Series) -> Series:
    """Rank each day within the mixture of wet and dry days, so the month's curve is kept."""
    chance, shift = fixed.wet_chance, fixed.habits.wet_clearness
    shifted = score + shift * wet
    rank = chance * normal_rank(shifted - shift) + (1 - chance) * normal_rank(shifted)
    return fixed.clearness.draw(series(rank), MONTH_OF_DAY)


def _weather(fixed: _Year, days: _Days, rng: Generator, label: int) -> Weather:
    habits, normals = fixed.habits, fixed.normals
    temperature = hourly_temperature(days.minimum, days.maximum, fixed.span)
    noise = persistent_noise(rng.standard_normal(8760), habits.cloud_persistence)
    light = hourly_light(days.clearness, fixed.sun, fixed.clear_sky, noise)
    slow = persistent_noise(rng.standard_normal(365), 0.5) * habits.pressure_deviation
    noon = np.arange(365) * 24 + 12.0
    hours = series(np.arange(8760) + 1.0)
    snow = snow_depths((days.maximum + days.minimum) / 2, days.rain)
    return Weather(
        station=normals.station,
        start=datetime(label, 1, 1),
        air_temperature=temperature,
        dew_point=_hourly_dew_point(fixed, days, temperature, rng),
        pressure=fixed.pressure + np.interp(hours, noon, slow),
        global_horizontal=light.global_horizontal,
        direct_normal=light.direct_normal,
        diffuse_horizontal=light.diffuse_horizontal,
        sky_infrared=np.full(8760, np.nan),
        sky_cover=light.sky_cover,
        wind_speed=_wind_speed(fixed, rng),
        wind_direction=_wind_direction(rng),
        precipitation=_hourly_rain(days.rain, rng),
        snow_depth=np.repeat(np.where(np.isfinite(days.rain), snow, np.nan), 24),
        source=f"generated from {normals.source}",
        invented=True,
    )


def _hourly_dew_point(fixed: _Year, days: _Days, temperature: Series, rng: Generator) -> Series:
    noon = np.arange(365) * 24 + 12.0
    course = np.interp(np.arange(8760) + 1.0, noon, days.dew_point)
    wander = persistent_noise(rng.standard_normal(8760), 0.95) * fixed.habits.dew_within_day
    return series(np.minimum(course + wander, temperature))


def _wind_speed(fixed: _Year, rng: Generator) -> Series:
    """Weibull wind with two persistences and an afternoon peak (15 h, an assumption)."""
    habits = fixed.habits
    noon = np.arange(365) * 24 + 12.0
    slow = persistent_noise(rng.standard_normal(365), habits.wind_day)
    slow = np.interp(np.arange(8760) + 0.5, noon, slow)
    fast = persistent_noise(rng.standard_normal(8760), habits.wind_hour)
    share = habits.wind_day_share
    slow = slow / slow.std()
    rank = normal_rank(series(share**0.5 * slow + (1 - share) ** 0.5 * fast))
    weibull = (-np.log(np.maximum(1 - rank, 1e-12))) ** (1 / habits.wind_shape)
    swing = 1 + habits.wind_swing * np.cos(2 * np.pi * (np.arange(8760) % 24 + 0.5 - 15) / 24)
    return series(weibull / gamma(1 + 1 / habits.wind_shape) * np.repeat(fixed.wind, 24) * swing)


def _wind_direction(rng: Generator, prevailing: float = 270.0, spread: float = 60.0) -> Series:
    """Wandering about one direction; prevailing and spread [deg] are assumptions."""
    noise = persistent_noise(rng.standard_normal(8760), 0.9)
    return series((prevailing + spread * noise) % 360)


def _hourly_rain(daily: Series, rng: Generator) -> Series:
    """Share each wet day's rain evenly over 1 to 8 hours of it, any hours alike (assumption)."""
    length = rng.integers(1, 9, daily.size)
    first = np.floor(rng.random(daily.size) * (25 - length)).astype(int)
    hour = np.arange(24)[None, :]
    falls = (hour >= first[:, None]) & (hour < (first + length)[:, None])
    return series((np.where(falls, (daily / length)[:, None], 0.0) + 0 * daily[:, None]).ravel())
