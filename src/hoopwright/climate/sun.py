"""Where the sun stands: position at a moment, over an hour, and the length of the day."""

from datetime import datetime
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.weather import Series, Station, Weather, series
from hoopwright.frozen import dataclass

SOLAR_CONSTANT = 1361.1
"""[W/m2] mean total solar irradiance at one astronomical unit.

Source: Gueymard 2018, Solar Energy 168, 373-379 (from memory); FAO-56 and older tables use 1367.
"""

_EPOCH = datetime(2000, 1, 1, 12)


@dataclass(frozen=True)
class HourlySun:
    """The sun over each of a row of hours.

    sine_elevation             : [-] mean over the whole hour of the positive part
    elevation, azimuth         : [deg] of the mean direction while the sun is up; elevation is
                                 negative, taken at the middle, where it is down all the hour
    lit_fraction               : [-] share of the hour with the sun above a level horizon
    extraterrestrial_horizontal: [W/m2] hour mean on a level plane above the air
    extraterrestrial_normal    : [W/m2] on a plane facing the sun
    """

    sine_elevation: Series
    elevation: Series
    azimuth: Series
    lit_fraction: Series
    extraterrestrial_horizontal: Series
    extraterrestrial_normal: Series


@dataclass(frozen=True)
class DaySpan:
    """Sunrise and sunset [h] of local standard time (NaN in polar day or night), length [h]."""

    sunrise: Series
    sunset: Series
    length: Series


@dataclass(frozen=True)
class _Coordinates:
    """Declination [rad], hour angle at Greenwich [rad], distance factor [-], equation [min]."""

    declination: Series
    greenwich_hour_angle: Series
    irradiance_factor: Series
    equation_of_time: Series


def days_since_2000(start: datetime, hours: Series, utc_offset: float) -> Series:
    """Return universal time in days since 2000-01-01 12:00 for moments in local standard time.

    start : local standard time; hours : [h] after start; utc_offset : [h], east positive
    """
    return ((start - _EPOCH).total_seconds() / 3600 + series(hours) - utc_offset) / 24


def _coordinates(days: Series) -> _Coordinates:
    """Low-precision solar coordinates of the Astronomical Almanac, 1950 to 2050, 0.01 deg.

    Source: Michalsky 1988, Solar Energy 40, 227-235 (from memory), with its errata.
    """
    days = series(days)
    mean_longitude = np.radians((280.460 + 0.9856474 * days) % 360)
    anomaly = np.radians((357.528 + 0.9856003 * days) % 360)
    longitude = mean_longitude + np.radians(1.915 * np.sin(anomaly) + 0.020 * np.sin(2 * anomaly))
    obliquity = np.radians(23.439 - 4e-7 * days)
    right_ascension = np.arctan2(np.cos(obliquity) * np.sin(longitude), np.cos(longitude))
    declination = np.arcsin(np.sin(obliquity) * np.sin(longitude))
    universal_hour = (days * 24 + 12) % 24
    sidereal_hour = (6.697375 + 0.0657098242 * days + universal_hour) % 24
    hour_angle = np.radians(sidereal_hour * 15) - right_ascension
    equation = _wrap(mean_longitude - right_ascension) * 720 / np.pi
    distance = 1.00014 - 0.01671 * np.cos(anomaly) - 0.00014 * np.cos(2 * anomaly)
    return _Coordinates(declination, hour_angle, 1 / distance**2, equation)


def _wrap(angle: Series) -> Series:
    return (series(angle) + np.pi) % (2 * np.pi) - np.pi


def equation_of_time(days: Series) -> Series:
    """Return apparent minus mean solar time [min] at days since 2000 (universal time)."""
    return _coordinates(days).equation_of_time


def sun_over_hours(
    start: datetime, count: int, station: Station, solar_constant: float = SOLAR_CONSTANT
) -> HourlySun:
    """Return the sun over each hour [start + i, start + i + 1) of local standard time.

    The means over the sunlit part are integrals of the exact circle with the declination held
    at mid-hour, not samples; refraction is left out (it moves an hour mean by under 0.3 %).
    """
    at = _coordinates(days_since_2000(start, series(np.arange(count) + 0.5), station.utc_offset))
    phi = np.radians(station.latitude)
    level = np.sin(phi) * np.sin(at.declination)
    swing = np.cos(phi) * np.cos(at.declination)
    middle = _wrap(at.greenwich_hour_angle + np.radians(station.longitude))
    half = np.radians(7.5)
    sunset = np.arccos(np.clip(-level / np.maximum(swing, 1e-12), -1, 1))
    never_sets = sunset > np.pi - half
    first = np.where(never_sets, middle - half, np.clip(middle - half, -sunset, sunset))
    last = np.where(never_sets, middle + half, np.clip(middle + half, -sunset, sunset))
    span = last - first
    lit = span > 1e-9
    safe = np.where(lit, span, 1.0)
    mean_cosine = np.where(lit, (np.sin(last) - np.sin(first)) / safe, np.cos(middle))
    mean_sine = np.where(lit, (np.cos(first) - np.cos(last)) / safe, np.sin(middle))
    up = level + swing * mean_cosine
    east = -np.cos(at.declination) * mean_sine
    north = np.cos(phi) * np.sin(at.declination) - np.sin(phi) * np.cos(at.declination) * (
        mean_cosine
    )
    fraction = np.where(lit, span / (2 * half), 0.0)
    sine = np.maximum(up, 0.0) * fraction
    normal = solar_constant * at.irradiance_factor
    return HourlySun(
        sine_elevation=sine,
        elevation=np.degrees(np.arctan2(up, np.hypot(east, north))),
        azimuth=np.degrees(np.arctan2(east, north)) % 360,
        lit_fraction=fraction,
        extraterrestrial_horizontal=normal * sine,
        extraterrestrial_normal=normal,
    )


def sun_of(weather: Weather) -> HourlySun:
    """Return the sun over each hour of a weather record."""
    return _sun_over(weather.start, len(weather), weather.station)


@lru_cache(maxsize=8)
def _sun_over(start: datetime, count: int, station: Station) -> HourlySun:
    found = sun_over_hours(start, count, station)
    for series_of in vars(found).values():
        series_of.setflags(write=False)
    return found


def day_spans(start: datetime, count: int, station: Station, horizon: float = -0.8333) -> DaySpan:
    """Return sunrise, sunset and day length for count days from the date of start.

    horizon : [deg] elevation of the sun's centre at rising, -0.8333 for the upper limb with
        standard refraction (the almanacs' convention); 0 gives the geometric day of FAO-56.
    Two passes, so the declination is that of the rising itself.
    """
    midnight = datetime(start.year, start.month, start.day)
    day = series(np.arange(count) * 24.0)
    noon = _noon_hour(midnight, day, np.full_like(day, 12.0), station)
    rising, setting = noon - 6.0, noon + 6.0
    for _ in range(2):
        rising = _noon_hour(midnight, day, rising, station) - _half_day(
            midnight, day + rising, station, horizon
        )
        setting = _noon_hour(midnight, day, setting, station) + _half_day(
            midnight, day + setting, station, horizon
        )
    length = setting - rising
    never = (length < 1e-6) | (length > 24 - 1e-6)
    return DaySpan(
        sunrise=np.where(never, np.nan, rising),
        sunset=np.where(never, np.nan, setting),
        length=length,
    )


def _noon_hour(midnight: datetime, day: Series, hour: Series, station: Station) -> Series:
    equation = equation_of_time(days_since_2000(midnight, day + hour, station.utc_offset))
    return 12.0 + station.utc_offset - station.longitude / 15 - equation / 60


def _half_day(midnight: datetime, hours: Series, station: Station, horizon: float) -> Series:
    declination = _coordinates(days_since_2000(midnight, hours, station.utc_offset)).declination
    phi = np.radians(station.latitude)
    cosine = (np.sin(np.radians(horizon)) - np.sin(phi) * np.sin(declination)) / (
        np.cos(phi) * np.cos(declination)
    )
    half: NDArray[np.float64] = np.degrees(np.arccos(np.clip(cosine, -1, 1))) / 15
    return half
