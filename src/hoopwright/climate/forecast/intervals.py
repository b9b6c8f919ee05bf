"""ISO 8601 intervals, "2022-02-03T21:00:00+00:00/P1DT6H", as starts and lengths in hours."""

from __future__ import annotations

import re
from datetime import UTC, datetime

from hoopwright.climate.forecast.form import ForecastError
from hoopwright.climate.forecast.json_reply import instant

_DURATION = re.compile(
    r"P(?:(?P<W>\d{1,3})W)?(?:(?P<D>\d{1,4})D)?"
    r"(?:T(?:(?P<H>\d{1,5})H)?(?:(?P<M>\d{1,6})M)?(?:(?P<S>\d{1,7})S)?)?"
)
_HOURS = {"W": 168.0, "D": 24.0, "H": 1.0, "M": 1 / 60, "S": 1 / 3600}
LONGEST = 31 * 24.0


def duration(text: str, service: str) -> float:
    """Return the hours [h] of a duration of weeks, days, hours, minutes, seconds.

    Months and years have no fixed length and are refused, as are nothing and over a month.
    """
    match = _DURATION.fullmatch(text)
    hours = 0.0
    if match is not None:
        hours = sum(int(match[unit]) * size for unit, size in _HOURS.items() if match[unit])
    if not 0 < hours <= LONGEST:
        raise ForecastError(f"{service}: {text[:40]!r} is no length of time that can be read")
    return hours


def interval(text: str, service: str) -> tuple[datetime, float]:
    """Return start in universal time and length [h] of "start/duration"."""
    start, slash, length = text.partition("/")
    if not slash:
        raise ForecastError(f"{service}: {text[:60]!r} is no interval 'start/duration'")
    begun = instant(start, "an interval's start", service).astimezone(UTC)
    return begun, duration(length, service)
