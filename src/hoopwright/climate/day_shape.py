"""The course of temperature through a day from its two extremes."""

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.sun import DaySpan
from hoopwright.climate.weather import Series, series

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
