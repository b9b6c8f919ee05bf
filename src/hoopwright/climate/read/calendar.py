"""The hours of a year in order: gaps, doubles, leap days, and which year it is called."""

from calendar import isleap
from collections.abc import Sequence
from datetime import datetime

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.read.text import TextFile
from hoopwright.climate.weather import Series
from hoopwright.frozen import dataclass

Whole = NDArray[np.int64]

COMMON_YEAR = 2001
"""The year by which a stitched or relabelled 365-day record is called."""

_DAYS = np.array([31, 29, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31])
_BEFORE = np.concatenate([[0], np.cumsum(_DAYS)])[:12]
_LEAP_DAY = range(59 * 24, 60 * 24)


@dataclass(frozen=True)
class HourOrder:
    """Where each row belongs in the year.

    start   : first hour's beginning
    count   : 8760 or 8784
    rows    : row numbers that are kept
    places  : hour of the year of each kept row
    stitched: rows come from more than one calendar year
    repairs : sentences
    """

    start: datetime
    count: int
    rows: Whole
    places: Whole
    stitched: bool
    repairs: tuple[str, ...]

    def spread(self, values: Series) -> Series:
        """Return a column laid out over the whole year, NaN where no row was."""
        full = np.full(self.count, np.nan)
        full[self.places] = values[self.rows]
        return full


def order_hours(file: TextFile, first: int, stamps: Sequence[Whole], longest_gap: int) -> HourOrder:
    """Return the order of hour-ending rows (hour 1 to 24), or refuse them.

    first : index of the first data line; stamps : year, month, day and hour of each row
    longest_gap : [h] that may be missing at a stretch
    """
    repairs: list[str] = []
    year, month, day, hour = stamps
    _refuse_impossible_dates(file, first, month, day, hour)
    place = (_BEFORE[month - 1] + day - 1) * 24 + hour - 1
    is_leap_day = (month == 2) & (day == 29)
    stitched = bool(np.unique(year).size > 1)
    leap_year = ((year % 4 == 0) & (year % 100 != 0)) | (year % 400 == 0)
    keep = np.ones(place.size, dtype=bool)
    if is_leap_day.any() and (stitched or not leap_year[is_leap_day].all()):
        keep &= ~is_leap_day
        reason = (
            "a typical year has 365 days"
            if stitched
            else f"{int(year[is_leap_day][0])} is not a leap year"
        )
        repairs.append(f"29 February ({int(is_leap_day.sum())} rows) was left out: {reason}.")
    leap = bool((is_leap_day & keep).any())
    rows = np.flatnonzero(keep)
    place = place[rows]
    if not leap:
        place = np.where(place >= _LEAP_DAY.stop, place - 24, place)
    count = 8784 if leap else 8760
    rows, place = _drop_doubles(file, first, rows, place, repairs)
    _refuse_disorder(file, first, rows, place, count, longest_gap)
    missing = count - place.size
    if missing:
        hole = int(np.flatnonzero(np.diff(place) > 1)[0])
        repairs.append(
            f"{missing} hours are not in the file (first after line {first + int(rows[hole]) + 1});"
            " they were filled as the sentences below say."
        )
    label = COMMON_YEAR if stitched else int(year[rows[0]])
    if not stitched and not leap and isleap(label):
        repairs.append(
            f"The file calls its year {label} but has no 29 February; "
            f"its dates are called {COMMON_YEAR}."
        )
        label = COMMON_YEAR
    return HourOrder(datetime(label, 1, 1), count, rows, place, stitched, tuple(repairs))


def _refuse_impossible_dates(
    file: TextFile, first: int, month: Whole, day: Whole, hour: Whole
) -> None:
    wrong_month = (month < 1) | (month > 12)
    limit = _DAYS[np.clip(month, 1, 12) - 1]
    wrong_day = (day < 1) | (day > limit)
    wrong_hour = (hour < 1) | (hour > 24)
    bad = wrong_month | wrong_day | wrong_hour
    if not bad.any():
        return
    at = int(np.flatnonzero(bad)[0])
    if wrong_month[at]:
        problem, name = f"month {month[at]} does not exist", "month"
    elif wrong_day[at]:
        problem, name = f"month {month[at]} has no day {day[at]}", "day"
    else:
        problem, name = f"hour {hour[at]}; hours are counted 1 to 24, by their end", "hour"
    raise file.error(problem, line=first + at + 1, column=name)


def _drop_doubles(
    file: TextFile, first: int, rows: Whole, place: Whole, repairs: list[str]
) -> tuple[Whole, Whole]:
    double = np.flatnonzero(np.diff(place) == 0) + 1
    if double.size == 0:
        return rows, place
    for at in double:
        here, before = first + int(rows[at]), first + int(rows[at - 1])
        if file.lines[here] != file.lines[before]:
            raise file.error(
                f"the same hour as line {before + 1}, with other figures", line=here + 1
            )
    line = first + int(rows[double[0]]) + 1
    repairs.append(
        f"{double.size} rows that repeat the row before (first: line {line}) were left out."
    )
    keep = np.ones(rows.size, dtype=bool)
    keep[double] = False
    return rows[keep], place[keep]


def _refuse_disorder(
    file: TextFile, first: int, rows: Whole, place: Whole, count: int, longest_gap: int
) -> None:
    if place.size == 0 or place[0] != 0:
        raise file.error("the data must begin with the first hour of 1 January", line=first + 1)
    step = np.diff(place)
    bad = np.flatnonzero((step < 1) | (step > longest_gap + 1))
    if bad.size:
        at = int(bad[0])
        line = first + int(rows[at + 1]) + 1
        if step[at] < 1:
            raise file.error("this hour comes before the one in the line above", line=line)
        raise file.error(
            f"{int(step[at]) - 1} hours are missing before this line; "
            f"at most {longest_gap} at a stretch can be filled",
            line=line,
        )
    if place[-1] != count - 1:
        last = first + int(rows[-1]) + 1
        raise file.error(
            f"the file ends {count - 1 - int(place[-1])} hours before the end of the year; "
            f"a whole year of {count} hours is wanted",
            line=last,
        )
