"""Hours out of a daily record: each known day drawn as a course through the day."""

from collections.abc import Iterator
from datetime import datetime

import numpy as np
from numpy.random import Generator

from hoopwright.climate import air, daylight
from hoopwright.climate.day_shape import hourly_light, hourly_temperature, persistent_noise
from hoopwright.climate.read.gaps import draw_across, runs_of_missing
from hoopwright.climate.reference_evapotranspiration import daily_extraterrestrial
from hoopwright.climate.sun import day_spans, sun_over_hours
from hoopwright.climate.weather import DailyRecord, Series, Weather, series
from hoopwright.frozen import dataclass
from hoopwright.tables.constants import KELVIN


@dataclass(frozen=True)
class UsableYears:
    """Which calendar years of a record can become hours, and why others cannot."""

    years: tuple[int, ...]
    dropped: tuple[str, ...]


@dataclass(frozen=True)
class Assumed:
    """What a daily record does not hold.

    wind_speed  : [m/s] yearly mean at 10 m; 2.5 is an assumption, the user should give his own
    wind_swing  : [-] afternoon over mean, less one
    seed        : of the hourly cloud noise
    """

    wind_speed: float = 2.5
    wind_swing: float = 0.4
    seed: int = 1


def bristow_campbell_clearness(
    spread: Series, wet: Series, monthly_spread: Series, ceiling: float = 0.70, power: float = 2.4
) -> Series:
    """Return daily global radiation over that above the air [-] from the day's spread.

    spread         : [K] maximum less the mean of this and the next minimum
    wet            : [-] 1 on wet days: their spread is multiplied by 0.75, as in the source
    monthly_spread : [K] mean of the month, sets b = 0.036 exp(-0.154 mean)
    ceiling        : [-] clear-sky transmittance. 0.70 is theirs; raising it with altitude was
                     tried on ten TMY3 files and made the bias worse (+0.06 against +0.02)
    Source: Bristow & Campbell 1984, Agric. Forest Meteorol. 31, 159-166, eqs. 3 and 5.
    """
    used = np.maximum(spread, 0.0) * np.where(wet > 0, 0.75, 1.0)
    b = 0.036 * np.exp(-0.154 * np.maximum(monthly_spread, 1.0))
    return series(ceiling * (1 - np.exp(-b * used**power)))


def kimball_dew_point(
    minimum: Series, maximum: Series, daily_evaporation: Series, yearly_rain: float
) -> Series:
    """Return the daily dew point [degC] from the minimum, drier where the climate is dry.

    daily_evaporation : [mm] potential evaporation in the day; yearly_rain : [mm]
    Source: Kimball, Running & Nemani 1997, Agric. Forest Meteorol. 85, 87-98, eq. 4 (from
    memory). Their ratio EF is daily potential evaporation over yearly rain.
    """
    ratio = np.clip(daily_evaporation / max(yearly_rain, 50.0), 0.0, 0.015)
    swing = np.maximum(maximum - minimum, 0.0)
    factor = (
        -0.127
        + 1.121 * (1.003 - 1.444 * ratio + 12.312 * ratio**2 - 32.766 * ratio**3)
        + 0.0006 * swing
    )
    return series(np.minimum((minimum + KELVIN) * factor - KELVIN, minimum))


def priestley_taylor_evaporation(
    temperature: Series, shortwave: Series, pressure: float, albedo: float = 0.23
) -> Series:
    """Return potential evaporation [mm/d] from temperature [degC] and global radiation [MJ/m2 d].

    Source: Priestley & Taylor 1972, Monthly Weather Review 100, 81-92, 1.26 s/(s + gamma); net
    radiation taken as 0.63 of absorbed short-wave (a plain share, an assumption).
    """
    slope = air.saturation_slope(temperature)
    gamma = air.psychrometric_constant(pressure)
    net = 0.63 * (1 - albedo) * shortwave
    return series(1.26 * slope / (slope + gamma) * net / 2.45)


def usable_years(record: DailyRecord, longest_gap: int = 3, most_missing: int = 18) -> UsableYears:
    """Return the calendar years whose temperatures are nearly whole.

    longest_gap : [d] at a stretch, most_missing : [d] in the year, that may be drawn across
    """
    years, dropped = [], []
    for year in np.unique(record.years):
        here = record.years == year
        if here.sum() < 365:
            dropped.append(f"{year} was left out: the record holds only {int(here.sum())} days.")
            continue
        both = np.where(
            np.isfinite(record.minimum[here]) & np.isfinite(record.maximum[here]), 1.0, np.nan
        )
        gaps = runs_of_missing(series(both))
        missing = sum(b - a for a, b in gaps)
        longest = max((b - a for a, b in gaps), default=0)
        if missing > most_missing or longest > longest_gap:
            dropped.append(
                f"{year} was left out: {missing} days lack an extreme, {longest} at a stretch."
            )
            continue
        years.append(int(year))
    return UsableYears(tuple(years), tuple(dropped))


def hourly_years(
    record: DailyRecord,
    years: tuple[int, ...] | None = None,
    assumed: Assumed | None = None,
) -> Iterator[Weather]:
    """Yield hourly weather for each usable year (or those asked for) of a daily record.

    Sources: temperature Parton & Logan 1981; radiation Bristow & Campbell 1984 with noise by
    Graham & Hollands 1990; dew point Kimball et al. 1997. The record has no wind, so a steady
    mean with an afternoon swing stands in. Temperatures are the station's; the rest is a
    model: radiation of a single day is right within about 20 %.
    """
    if not np.isfinite([record.station.latitude, record.station.elevation]).all():
        raise ValueError("the station's latitude, longitude and elevation are needed for hours")
    chosen = usable_years(record).years if years is None else years
    for year in chosen:
        yield _year(record, year, assumed or Assumed())


def _year(record: DailyRecord, year: int, assumed: Assumed) -> Weather:
    station = record.station
    here = record.years == year
    count = int(here.sum())
    repairs = [*record.repairs]
    low, high = draw_across(record.minimum[here]), draw_across(record.maximum[here])
    holes = int((~np.isfinite(record.minimum[here]) | ~np.isfinite(record.maximum[here])).sum())
    if holes:
        repairs.append(f"{year}: {holes} days without both extremes were drawn across.")
    high = np.maximum(high, low + 0.5)
    start = datetime(year, 1, 1)
    sun = sun_over_hours(start, count * 24, station)
    pressure = air.pressure_at(station.elevation)
    rng = np.random.default_rng([assumed.seed, year])
    rain = record.precipitation[here]
    clearness = daily_clearness(low, high, rain, record, here)
    dew = _dew_points(record, here, low, high, clearness, pressure)
    temperature = hourly_temperature(low, high, day_spans(start, count, station))
    clear = daylight.clear_sky_global(sun, station.elevation, pressure / 101325.0)
    noise = persistent_noise(rng.standard_normal(count * 24), 0.54)
    light = hourly_light(clearness, sun, clear, noise)
    hours = series(np.arange(count * 24) + 1.0)
    course = np.interp(hours, np.arange(count) * 24 + 12.0, dew)
    return Weather(
        station=station,
        start=start,
        air_temperature=temperature,
        dew_point=series(np.minimum(course, temperature)),
        pressure=np.full(count * 24, pressure),
        global_horizontal=light.global_horizontal,
        direct_normal=light.direct_normal,
        diffuse_horizontal=light.diffuse_horizontal,
        sky_infrared=np.full(count * 24, np.nan),
        sky_cover=light.sky_cover,
        wind_speed=_wind(count, assumed),
        wind_direction=np.full(count * 24, 270.0),
        precipitation=_rain(rain, rng),
        snow_depth=np.repeat(record.snow_depth[here], 24),
        source=f"{record.source}, {year}, made hourly",
        invented=record.invented,
        repairs=(*repairs, "Radiation, humidity, cloud and wind are models, not observations."),
    )


def daily_clearness(
    low: Series, high: Series, rain: Series, record: DailyRecord, here: Series
) -> Series:
    """Return the clearness [-] of each day by Bristow & Campbell 1984."""
    following = np.append(low[1:], low[-1])
    spread = high - (low + following) / 2
    month = record.months[here]
    means = np.bincount(month, weights=spread, minlength=12) / np.maximum(
        np.bincount(month, minlength=12), 1
    )
    wet = np.where(np.nan_to_num(rain) >= 0.3, 1.0, 0.0)
    found = bristow_campbell_clearness(spread, series(wet), series(means[month]))
    return series(np.clip(found, 0.05, None))


def _dew_points(
    record: DailyRecord, here: Series, low: Series, high: Series, clearness: Series, pressure: float
) -> Series:
    rain = record.precipitation[np.isfinite(record.precipitation)]
    yearly = float(rain.mean() * 365) if rain.size > 300 else 500.0
    outside = daily_extraterrestrial(record.station.latitude, series(record.day_of_year[here]))
    evaporation = priestley_taylor_evaporation((low + high) / 2, clearness * outside, pressure)
    return kimball_dew_point(low, high, evaporation, yearly)


def _wind(count: int, assumed: Assumed) -> Series:
    clock = np.arange(count * 24) % 24 + 0.5
    return series(
        assumed.wind_speed * (1 + assumed.wind_swing * np.cos(2 * np.pi * (clock - 15) / 24))
    )


def _rain(daily: Series, rng: Generator) -> Series:
    """Share rain over 4 hours placed at random in the day (an assumption)."""
    first = rng.integers(0, 21, daily.size)
    hour = np.arange(24)[None, :]
    falls = (hour >= first[:, None]) & (hour < first[:, None] + 4)
    return series((np.where(falls, daily[:, None] / 4, 0.0) + 0 * daily[:, None]).ravel())
