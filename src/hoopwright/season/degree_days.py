"""Degree days: how much warmth a day gave a crop, by four ways of counting.

All temperatures in one unit; the result is in that unit times days. Arrays go through elementwise.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

Series = NDArray[np.float64]


def average(maximum: ArrayLike, minimum: ArrayLike, base: float) -> Series:
    """Return degree days by the mean of the day's extremes: max(0, (max + min)/2 - base).

    Source: the oldest way; McMaster & Wilhelm 1997, Agric. For. Meteorol. 87, 291-300, method 1.
    """
    high, low = _pair(maximum, minimum)
    return np.maximum((high + low) / 2 - base, 0.0)


def modified_average(maximum: ArrayLike, minimum: ArrayLike, base: float, ceiling: float) -> Series:
    """Return degree days with both extremes first drawn into base to ceiling.

    With 50 and 86 degF this is the method of the U.S. weather service for corn ("86/50").
    Source: Barger 1969, Weekly Weather and Crop Bulletin 56(18); McMaster & Wilhelm 1997,
    method 2.
    """
    high, low = _pair(maximum, minimum)
    return (np.clip(high, base, ceiling) + np.clip(low, base, ceiling)) / 2 - base


def single_sine(
    maximum: ArrayLike, minimum: ArrayLike, base: float, ceiling: float = float("inf")
) -> Series:
    """Return degree days under one sine a day from minimum to maximum, cut off flat at ceiling.

    Source: Baskerville & Emin 1969, Ecology 50, 514-517; horizontal cutoff as in Zalom et al.
    1983, University of California leaflet 21373.
    """
    high, low = _pair(maximum, minimum)
    gained = _above(high, low, base)
    return gained - _above(high, low, ceiling) if np.isfinite(ceiling) else gained


def hourly(temperature: ArrayLike, base: float, ceiling: float) -> Series:
    """Return degree days from hours: the mean of what each hour stands above base.

    temperature : shape (..., 24 n); the result has shape (..., n). Flat above ceiling. This is
    the integral that the other three approximate.
    """
    hours = np.asarray(temperature, dtype=np.float64)
    days = hours.reshape(*hours.shape[:-1], -1, 24)
    return np.asarray(np.clip(days, base, ceiling).mean(axis=-1) - base)


def _pair(maximum: ArrayLike, minimum: ArrayLike) -> tuple[Series, Series]:
    high = np.asarray(maximum, dtype=np.float64)
    low = np.asarray(minimum, dtype=np.float64)
    if np.any(high < low):
        raise ValueError("a day's maximum is below its minimum")
    return high, low


def _above(high: Series, low: Series, threshold: float) -> Series:
    """Return the mean height of the sine above a threshold."""
    middle, half = (high + low) / 2, (high - low) / 2
    safe = np.where(half > 0, half, 1.0)
    angle = np.arcsin(np.clip((threshold - middle) / safe, -1.0, 1.0))
    part = ((middle - threshold) * (np.pi / 2 - angle) + half * np.cos(angle)) / np.pi
    whole = np.maximum(middle - threshold, 0.0)
    return np.where((low >= threshold) | (high <= threshold), whole, part)
