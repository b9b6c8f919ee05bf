"""The course of a day: temperature from its two extremes, light from its clearness with the noise
of passing clouds."""

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate import daylight
from hoopwright.climate.sun import DaySpan, HourlySun
from hoopwright.climate.weather import Series, series
from hoopwright.frozen import dataclass

Grid = NDArray[np.float64]


def hourly_temperature(
    minimum: Series,
    maximum: Series,
    span: DaySpan,
    lag_of_maximum: float = 1.86,
    night_decay: float = 2.20,
    lag_of_minimum: float = -0.17,
) -> Series:
    """Return temperature [degC] at the end of each hour of each day.

    minimum, maximum : [degC] one a day; the minimum falls near sunrise
    span             : sunrise and sunset of each day
    lag_of_maximum   : [h] of the maximum behind noon (a); night_decay [-] (b);
    lag_of_minimum   : [h] of the minimum behind sunrise (c)
    Source: Parton & Logan 1981, Agricultural Meteorology 23, 205-216, coefficients for air at
    1.5 m: a sine by day, an exponential by night. Departure: the exponential is stretched so
    that it arrives at the next minimum (Goudriaan & van Laar 1994, from memory), and the hours
    nearest the two extremes take them exactly; and at midnight the curve keeps within the
    extremes of both its days, which a calendar day's extremes imply and the paper leaves open.
    A front that warms the night is not in it.
    """
    days = minimum.size
    rise = np.where(np.isfinite(span.sunrise), span.sunrise, 6.0) + lag_of_minimum
    fall = np.where(np.isfinite(span.sunset), span.sunset, 18.0)
    fall = np.maximum(fall, rise + 2.0)
    clock = series(np.arange(1, 25.0))[None, :]
    length = fall - rise
    swing = maximum - minimum
    reach = length + 2 * lag_of_maximum
    at_sunset = minimum + swing * np.sin(np.pi * length / reach)
    phase = np.clip((clock - rise[:, None]) / reach[:, None], 0, 1)
    day = minimum[:, None] + swing[:, None] * np.sin(np.pi * phase)
    night = 24 - fall + _shift(rise, -1)
    coming = _shift(minimum, -1)
    free = _night(at_sunset, coming, (24 - fall)[:, None], night, night_decay)[:, 0]
    # The temperature at midnight is no lower or higher than either day's extremes.
    low, high = np.maximum(minimum, coming), np.minimum(maximum, _shift(maximum, -1))
    midnight = series(np.where(low <= high, np.clip(free, low, high), minimum))
    evening = _night(at_sunset, coming, clock - fall[:, None], night, night_decay)
    evening = _through(evening, at_sunset, free, midnight)
    morning = _night(
        _shift(at_sunset, 1),
        minimum,
        clock + (24 - _shift(fall, 1))[:, None],
        _shift(night, 1),
        night_decay,
    )
    morning = _through(morning, minimum, _shift(free, 1), _shift(midnight, 1))
    shape = np.where(clock < rise[:, None], morning, np.where(clock > fall[:, None], evening, day))
    row = np.arange(days)
    coldest = np.clip(np.rint(rise).astype(int) - 1, 0, 23)
    warmest = np.clip(np.rint(rise + reach / 2).astype(int) - 1, 0, 23)
    shape[row, coldest] = minimum
    shape[row, warmest] = maximum
    return series(shape.ravel())


def _night(start: Series, end: Series, since: Grid, length: Series, decay: float) -> Grid:
    fade = np.exp(-decay * np.clip(since / length[:, None], 0, 1))
    last = np.exp(-decay)
    grid: Grid = end[:, None] + (start - end)[:, None] * (fade - last) / (1 - last)
    return grid


def _through(curve: Grid, anchor: Series, free: Series, midnight: Series) -> Grid:
    """Return a night curve stretched about its daylight end to pass through midnight's value."""
    reach = free - anchor
    stretch = np.where(np.abs(reach) > 1e-6, (midnight - anchor) / np.where(reach, reach, 1), 1.0)
    bent: Grid = anchor[:, None] + (curve - anchor[:, None]) * stretch[:, None]
    return bent


def _shift(values: Series, by: int) -> Series:
    """Return the row moved by one day, the edge day repeated."""
    moved = np.roll(values, by)
    if by > 0:
        moved[0] = values[0]
    else:
        moved[-1] = values[-1]
    return moved


@dataclass(frozen=True)
class HourlyLight:
    """Hourly radiation [W/m2] and the cloud cover [-] that goes with it (nights drawn across)."""

    global_horizontal: Series
    direct_normal: Series
    diffuse_horizontal: Series
    sky_cover: Series


def mean_clearness(daily: Series, sine: Series) -> Series:
    """Return the mean hourly clearness [-] on a day of clearness [-] at the sine of the height.

    Source: Aguiar & Collares-Pereira 1992, Solar Energy 49, 167-174 (from memory).
    """
    base = -0.19 + 1.12 * daily + 0.24 * np.exp(-8 * daily)
    rise = 0.32 - 1.6 * (daily - 0.5) ** 2
    bend = 0.19 + 2.27 * daily**2 - 2.51 * daily**3
    return series(base + rise * np.exp(-bend / np.maximum(sine, 0.05)))


def clearness_deviation(daily: Series, size: float = 0.16, widening: float = 1.5) -> Series:
    """Return the standard deviation [-] of hourly clearness about its mean course.

    size     : [-] Graham & Hollands 1990, Solar Energy 44, 333-341, 0.16 sin(pi K / 0.90)
    widening : [-] on top of theirs: with 1.0 the hour-to-hour changes came out at 0.79 of those
        of ten TMY3 files (part is lost in holding the daily sum), with 1.5 within 5 %
    """
    return series(widening * size * np.sin(np.pi * np.clip(daily, 0.0, 0.90) / 0.90))


def persistent_noise(noise: Series, persistence: float) -> Series:
    """Return a first-order autoregressive row of unit variance from unit white noise.

    persistence : [-] correlation of neighbours
    """
    fresh = (1 - persistence**2) ** 0.5
    state = float(noise[0])
    row = [state]
    for shock in (noise[1:] * fresh).tolist():
        state = persistence * state + shock
        row.append(state)
    return np.array(row)


def hourly_light(
    daily_clearness: Series,
    sun: HourlySun,
    clear_sky: Series,
    noise: Series,
    brightest: float = 1.05,
) -> HourlyLight:
    """Return hourly radiation whose daily sums keep the daily clearness.

    daily_clearness : [-] one a day
    clear_sky       : [W/m2] hourly clear-sky global radiation
    noise           : unit-variance persistent row, one an hour; zeros give the smooth course
    brightest       : [-] most that an hour may exceed a clear sky, sun between bright clouds;
        1.05 is an assumption
    The mean course is that of Aguiar & Collares-Pereira 1992, the noise that of Graham &
    Hollands 1990 widened; diffuse by Erbs et al. 1982 on the noisy
    hours. A smooth course overstates diffuse light.
    """
    days = daily_clearness.size
    outside = sun.extraterrestrial_horizontal.reshape(days, 24)
    clear = clear_sky.reshape(days, 24)
    lit = (outside > 1.0) & (clear > 1.0)
    sine = np.sin(np.radians(np.maximum(sun.elevation, 0.0))).reshape(days, 24)
    daily = daily_clearness[:, None] + 0 * sine
    clearness = mean_clearness(daily, sine) + clearness_deviation(daily) * noise.reshape(days, 24)
    index = np.where(lit, clearness * outside / np.where(lit, clear, 1.0), 0.0)
    index = np.clip(index, 0.0, brightest)
    total = _hold_daily_sum(index, clear, daily_clearness * outside.sum(axis=1), brightest)
    flat = np.where(lit, total, 0.0).ravel()
    direct, diffuse = daylight.split_global(flat, sun)
    cover = daylight.opaque_cover_from_clear_sky(flat, clear_sky)
    return HourlyLight(flat, direct, diffuse, daylight.across_the_night(cover))


def _hold_daily_sum(index: Grid, clear: Grid, wanted: Series, brightest: float) -> Grid:
    """Return index x clear, the index drawn towards 0 or the brightest till the sums are met."""
    ceiling = clear.sum(axis=1)
    have = (index * clear).sum(axis=1)
    safe = np.maximum(ceiling, 1e-9)
    mean, goal = have / safe, np.clip(wanted / safe, 0.0, brightest - 1e-3)
    dimmer = index * (goal / np.maximum(mean, 1e-9))[:, None]
    room = (brightest - goal) / np.maximum(brightest - mean, 1e-9)
    brighter = brightest - (brightest - index) * room[:, None]
    held: Grid = np.where((goal < mean)[:, None], dimmer, brighter) * clear
    return held
