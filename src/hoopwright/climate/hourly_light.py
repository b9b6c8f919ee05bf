"""From one day's clearness to its hours: a mean course and the noise of passing clouds."""

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate import daylight
from hoopwright.climate.sun import HourlySun
from hoopwright.climate.weather import Series, series
from hoopwright.frozen import dataclass

Grid = NDArray[np.float64]


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
