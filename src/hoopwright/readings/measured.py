"""What was measured: warmer nights, frosts kept off, degree days gained, with how sure."""

import math
from collections.abc import Sequence
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.heat.compare import DEGREE_BASE, HOT, NIGHT_FROM, NIGHT_TO
from hoopwright.readings.hourly import Hours
from hoopwright.season.frost_risk import wilson

Series = NDArray[np.float64]
#: Share of an hour's night that must be there for the night to count (an assumption).
ENOUGH = 0.8


@dataclass(frozen=True)
class Estimate:
    """A mean with its 95 % interval, and how many nights or days it rests on.

    Neighbouring nights are alike, so the interval counts fewer independent ones than there were.
    """

    mean: float
    low: float
    high: float
    count: int


@dataclass(frozen=True)
class Month:
    """One month measured.

    gain        : [K] nightly minimum inside less outside
    frosts_out, frosts_in : nights with frost outside, and inside
    warmth      : [K d] a day: degree days above 10 degC, inside less outside
    hot         : hours inside above 32 degC
    """

    year: int
    month: int
    gain: Estimate
    frosts_out: int
    frosts_in: int
    warmth: Estimate
    hot: int


@dataclass(frozen=True)
class Measured:
    """All months, and the whole time."""

    months: tuple[Month, ...]
    gain: Estimate
    frosts_out: int
    frosts_in: int
    kept_off: tuple[int, float, float]
    first: datetime
    last: datetime


def estimate(values: Series) -> Estimate:
    """Return the mean of a series in time order with its 95 % interval.

    n' = n (1 - r) / (1 + r) with the lag-one correlation r, none below 0 (Wilks 2011, Statistical
    Methods in the Atmospheric Sciences, eq. 5.12, from memory), and Student's t.
    """
    known = values[np.isfinite(values)]
    count = len(known)
    if count < 2:
        only = float(known[0]) if count else math.nan
        return Estimate(only, math.nan, math.nan, count)
    apart = known - known.mean()
    spread = float((apart**2).sum())
    r = float((apart[1:] * apart[:-1]).sum()) / spread if spread > 0 else 0.0
    r = min(max(r, 0.0), 0.95)
    effective = max(2.0, count * (1 - r) / (1 + r))
    error = float(known.std(ddof=1)) / math.sqrt(effective) * student(effective - 1)
    mean = float(known.mean())
    return Estimate(mean, mean - error, mean + error, count)


def student(freedom: float) -> float:
    """Return Student's t for 95 %, two-sided, for any degrees of freedom from 1.

    Abramowitz and Stegun 1964, 26.7.5 (an expansion about the normal quantile); within 0.5 % from
    3 degrees on. Below, the exact values of 1 and 2 degrees, 12.706 and 4.303, are joined.
    """
    if freedom < 3.0:
        exact = {1: 12.706, 2: 4.303, 3: 3.182}
        low = max(1, math.floor(freedom))
        share = max(freedom, 1.0) - low
        return float(exact[low] ** (1 - share) * exact[min(low + 1, 3)] ** share)
    x = 1.959964
    g1 = (x**3 + x) / 4
    g2 = (5 * x**5 + 16 * x**3 + 3 * x) / 96
    g3 = (3 * x**7 + 19 * x**5 + 17 * x**3 - 15 * x) / 384
    g4 = (79 * x**9 + 776 * x**7 + 1482 * x**5 - 1920 * x**3 - 945 * x) / 92160
    return float(x + g1 / freedom + g2 / freedom**2 + g3 / freedom**3 + g4 / freedom**4)


def share_interval(some: int, of: int) -> tuple[float, float]:
    """Return the 95 % interval of a share, as `wilson`; NaN of nothing."""
    if of == 0:
        return math.nan, math.nan
    low, high = wilson(np.array([float(some)]), of, 1.959964)
    return float(low[0]), float(high[0])


def nights(hours: Hours) -> tuple[list[datetime], Series, Series]:
    """Return the date on which each night ends, and its minimum inside and outside [degC]."""
    first = (NIGHT_FROM - hours.start.hour - 1) % 24
    length = (NIGHT_TO - NIGHT_FROM) % 24 + 1
    count = max(0, (len(hours) - first - length) // 24 + 1)
    rows = first + 24 * np.arange(count)[:, None] + np.arange(length)[None, :]
    inside, outside = hours.inside[rows], hours.outside[rows]
    both = np.isfinite(inside) & np.isfinite(outside)
    good = both.mean(axis=1) >= ENOUGH if count else np.zeros(0, dtype=bool)
    low_in = np.where(both, inside, np.inf).min(axis=1, initial=np.inf)
    low_out = np.where(both, outside, np.inf).min(axis=1, initial=np.inf)
    ends = [
        hours.start + timedelta(hours=int(first + 24 * night + length)) for night in range(count)
    ]
    dates = [datetime(when.year, when.month, when.day) for when in ends]
    return (
        [date for date, fine in zip(dates, good, strict=True) if fine],
        low_in[good],
        low_out[good],
    )


def days(hours: Hours) -> tuple[list[datetime], Series, Series]:
    """Return whole days with degree days gained [K d] and hot hours inside."""
    lead = (24 - hours.start.hour) % 24
    count = max(0, (len(hours) - lead) // 24)
    rows = lead + np.arange(count * 24).reshape(count, 24)
    inside, outside = hours.inside[rows], hours.outside[rows]
    good = (np.isfinite(inside) & np.isfinite(outside)).mean(axis=1) >= 0.999
    with np.errstate(invalid="ignore"):
        warm = np.maximum(inside - DEGREE_BASE, 0.0) - np.maximum(outside - DEGREE_BASE, 0.0)
    first = hours.start + timedelta(hours=lead)
    dates = [datetime(first.year, first.month, first.day) + timedelta(days=n) for n in range(count)]
    hot = (inside > HOT).sum(axis=1).astype(np.float64)
    return (
        [d for d, fine in zip(dates, good, strict=True) if fine],
        warm.mean(axis=1)[good],
        hot[good],
    )


def measured(hours: Hours) -> Measured | None:
    """Return what was measured, or None where no night has both inside and outside."""
    dates, low_in, low_out = nights(hours)
    if not dates:
        return None
    gains = low_in - low_out
    day_dates, warm, hot = days(hours)
    found = []
    for year, month in dict.fromkeys((date.year, date.month) for date in dates):
        mine = np.array([(d.year, d.month) == (year, month) for d in dates])
        day = np.array([(d.year, d.month) == (year, month) for d in day_dates], dtype=bool)
        found.append(
            Month(
                year,
                month,
                estimate(gains[mine]),
                int((low_out[mine] < 0).sum()),
                int((low_in[mine] < 0).sum()),
                estimate(warm[day]),
                int(hot[day].sum()),
            )
        )
    out, inn = int((low_out < 0).sum()), int(((low_out < 0) & (low_in < 0)).sum())
    kept = out - inn
    low, high = share_interval(kept, out)
    return Measured(
        tuple(found),
        estimate(gains),
        out,
        int((low_in < 0).sum()),
        (kept, low, high),
        dates[0],
        dates[-1],
    )


def pooled(of: Sequence[Measured]) -> Estimate:
    """Return the mean gain over several beds: each bed counts once, its own error and theirs in it.

    With one bed it is that bed's. With more, the interval is that of the beds' means.
    """
    if len(of) == 1:
        return of[0].gain
    means = np.array([one.gain.mean for one in of])
    count = sum(one.gain.count for one in of)
    own = np.array([(one.gain.high - one.gain.low) / 2 for one in of])
    between = float(means.std(ddof=1)) / math.sqrt(len(of)) * student(len(of) - 1)
    within = float(np.sqrt((own**2).sum())) / len(of)
    half = max(between, within)
    mean = float(means.mean())
    return Estimate(mean, mean - half, mean + half, count)
