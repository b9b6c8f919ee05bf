"""What is wrong in a record of readings: clock errors, error codes, spikes, stuck sensors."""

import itertools
from collections.abc import Sequence
from datetime import datetime, timedelta

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass

Series = NDArray[np.float64]

#: Values that cheap sensors give for "no reading" [degC]: an open one-wire probe, its value after
#: power-up, and common fill values (common practice, no source).
CODES = (-127.0, 85.0, -999.0, 999.0, -9999.0, 9999.0, -99.9, -196.6)
#: No garden air is colder or hotter than this [degC].
COLDEST, HOTTEST = -60.0, 75.0
#: A single reading this far [K] from its neighbours on both sides is a spike, where they agree.
SPIKE = 8.0
#: Readings the same to the last digit for so long [h] are a stuck sensor, unless it is freezing.
STUCK = 24.0
OLDEST = datetime(2005, 1, 1)


@dataclass(frozen=True)
class Fault:
    """One thing found: the row in the file, when the clock said it was, and what was done."""

    kind: str
    row: int
    when: datetime | None
    says: str


@dataclass(frozen=True)
class Clean:
    """Times in order and their readings [degC], one row for each series; and what was left out."""

    times: tuple[datetime, ...]
    values: Series
    faults: tuple[Fault, ...]


def clean(times: Sequence[datetime | None], columns: Sequence[Series], first_row: int) -> Clean:
    """Return the readings without what cannot be.

    columns : readings of each series [degC];  first_row : of the first reading in the file
    """
    faults: list[Fault] = []
    kept = _in_order(times, first_row, faults)
    chosen = [times[at] for at in kept]
    clock = [when for when in chosen if when is not None]
    record = _Record([first_row + at for at in kept], clock, faults)
    values = np.array([column[kept] for column in columns])
    for series in values:
        _codes(series, record)
        _spikes(series, record)
        _stuck(series, record)
    _gaps(record)
    return Clean(tuple(clock), values, tuple(faults))


def _in_order(times: Sequence[datetime | None], first_row: int, faults: list[Fault]) -> list[int]:
    """Return the rows to keep: a clock reset, a step back and a repeat are left out."""
    usual = _usual_step(times)
    kept: list[int] = []
    last: datetime | None = None
    for at, when in enumerate(times):
        row = first_row + at
        if when is None:
            faults.append(Fault("no time", row, None, f"row {row}: no time; left out"))
        elif when < OLDEST:
            says = f"row {row}: the clock fell back to {when:%Y-%m-%d %H:%M}; left out"
            faults.append(Fault("clock reset", row, when, says))
        elif last is not None and when == last:
            faults.append(Fault("repeat", row, when, f"row {row}: {when} stands twice; once kept"))
        elif last is not None and when < last:
            back = last - when
            says = f"row {row}: the clock went back {_span(back)} to {when:%Y-%m-%d %H:%M}"
            hour = abs(back + usual - timedelta(hours=1)) < usual / 2
            why = ", as at the end of summer time" if hour else ""
            faults.append(Fault("clock back", row, when, f"{says}{why}; left out until caught up"))
        else:
            kept.append(at)
            last = when
    return kept


def _usual_step(times: Sequence[datetime | None]) -> timedelta:
    known = [when for when in times if when is not None]
    steps = sorted(b - a for a, b in itertools.pairwise(known) if b > a)
    return steps[len(steps) // 2] if steps else timedelta(hours=1)


@dataclass(frozen=True)
class _Record:
    """The rows kept: their numbers in the file, their times in order, and what is found."""

    rows: list[int]
    clock: list[datetime]
    faults: list[Fault]

    def fault(self, kind: str, at: int, says: str) -> None:
        """Tell what is wrong with a reading."""
        row = self.rows[at]
        self.faults.append(Fault(kind, row, self.clock[at], f"row {row}: {says}"))


def _gaps(record: _Record) -> None:
    usual = _usual_step(record.clock)
    for at, (before, when) in enumerate(itertools.pairwise(record.clock), start=1):
        if when - before > max(2.5 * usual, timedelta(hours=1.5)):
            says = f"nothing for {_span(when - before)} before {when:%Y-%m-%d %H:%M}"
            record.fault("gap", at, says)


def _span(length: timedelta) -> str:
    hours = length.total_seconds() / 3600
    return f"{hours / 24:.1f} days" if hours >= 48 else f"{hours:.2g} h"


def _codes(series: Series, record: _Record) -> None:
    with np.errstate(invalid="ignore"):
        wrong = np.isin(np.round(series, 1), CODES) | (series < COLDEST) | (series > HOTTEST)
    # The files' own figure may be in degrees F; what is impossible in C is impossible.
    for at in np.flatnonzero(wrong).tolist():
        record.fault("code", at, f"{series[at]:.1f} °C is no air temperature; left out")
    series[wrong] = np.nan


def _spikes(series: Series, record: _Record) -> None:
    """Leave out up to two readings on end that stand far from both neighbours, which agree."""
    known = np.flatnonzero(np.isfinite(series))
    for width in (1, 2):
        for n in range(1, len(known) - width):
            before, after = known[n - 1], known[n + width]
            inside = known[n : n + width]
            if (record.clock[after] - record.clock[before]) > timedelta(hours=4):
                continue
            low, high = sorted((series[before], series[after]))
            far = np.minimum(np.abs(series[inside] - low), np.abs(series[inside] - high))
            if np.all(far > SPIKE + 2.0 * (high - low)):
                for at in inside.tolist():
                    says = f"{series[at]:.1f} °C between {series[before]:.1f} and "
                    record.fault("spike", at, f"{says}{series[after]:.1f}; a spike, left out")
                series[inside] = np.nan
        known = np.flatnonzero(np.isfinite(series))


def _stuck(series: Series, record: _Record) -> None:
    start = 0
    for at in range(1, len(series) + 1):
        if at < len(series) and series[at] == series[start]:
            continue
        clock = record.clock
        long = (clock[at - 1] - clock[start]).total_seconds() / 3600 if clock else 0.0
        # Ice and snow hold a probe at 0 degC for days; that is no fault.
        if long >= STUCK and abs(series[start]) > 0.6:
            says = f"{series[start]:.1f} °C without change for {long:.0f} h"
            record.fault("stuck", start, f"{says}; a stuck sensor, left out")
            series[start:at] = np.nan
        start = at
