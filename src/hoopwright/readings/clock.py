"""Times as loggers write them: many forms, one of which fits a whole column."""

from __future__ import annotations

import itertools
import re
from collections.abc import Sequence
from datetime import datetime, timedelta

from hoopwright.frozen import dataclass

MONTHS = {
    name: number
    for number, name in enumerate(
        ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec"), 1
    )
}
_OFFSET = r"(?:\s*(Z|UTC|[+-]\d{2}:?\d{2}))?"
_TIME = r"(?:[T ,]*\s*(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,]\d+)?)?\s*([AaPp]\.?[Mm]\.?)?)?"
_YEAR_FIRST = re.compile(rf"^(\d{{4}})[-/.](\d{{1,2}})[-/.](\d{{1,2}}){_TIME}{_OFFSET}$")
_YEAR_LAST = re.compile(rf"^(\d{{1,2}})[-/.](\d{{1,2}})[-/.](\d{{4}}|\d{{2}}){_TIME}{_OFFSET}$")
_NAMED = re.compile(
    rf"^(\d{{1,2}})[-/. ]([A-Za-z]{{3}})[a-z]*[-/. ,]+(\d{{4}}|\d{{2}}){_TIME}{_OFFSET}$"
)
_NAME_FIRST = re.compile(
    rf"^([A-Za-z]{{3}})[a-z]*[-/. ](\d{{1,2}})[-/. ,]+(\d{{4}}|\d{{2}}){_TIME}{_OFFSET}$"
)
_COMPACT = re.compile(r"^(\d{4})(\d{2})(\d{2})[T ]?(\d{2}):?(\d{2})(?::?(\d{2}))?(Z)?$")
EPOCH = datetime(1970, 1, 1)
SHEET_EPOCH = datetime(1899, 12, 30)


@dataclass(frozen=True)
class Times:
    """A column's times as the logger's clock had them, None where a cell is no time.

    form      : in words
    offset    : [h] of that clock from UTC where the cells say it, else None
    ambiguous : True where day and month could be either way round
    """

    values: tuple[datetime | None, ...]
    form: str
    offset: float | None
    ambiguous: bool = False


def times_of(cells: Sequence[str], day_first: bool | None = None) -> Times | None:
    """Return a column's times, or None where too few cells are times.

    day_first : what the person says of "03/04/2026"; None finds out from the column
    """
    sample = [cell for cell in cells[:2000] if cell]
    if not sample:
        return None
    for reader, form in ((_iso, "year first"), (_named, "month by name"), (_compact, "compact")):
        if _share(reader, sample) > 0.9:
            return _whole(cells, reader, form)
    if _share(lambda cell: _numeric(cell, True) or _numeric(cell, False), sample) > 0.9:
        return _day_or_month(cells, day_first)
    if _share(_epoch, sample) > 0.9:
        return _whole(cells, _epoch, "seconds since 1970", 0.0)
    if _share(_serial, sample) > 0.9:
        return _whole(cells, _serial, "days of a spreadsheet")
    return None


def _share(reader, cells) -> float:  # type: ignore[no-untyped-def]
    return sum(1 for cell in cells if reader(cell) is not None) / len(cells)


def _whole(cells, reader, form: str, offset: float | None = None) -> Times:  # type: ignore[no-untyped-def]
    found = [reader(cell) for cell in cells]
    values = tuple(one[0] if one else None for one in found)
    offsets = {one[1] for one in found if one and one[1] is not None}
    if offset is None and len(offsets) == 1:
        offset = offsets.pop()
    elif len(offsets) > 1:
        # Summer time written out: bring all to the winter offset.
        offset = min(offsets)
        values = tuple(
            one[0] - timedelta(hours=(one[1] or offset) - offset) if one else None for one in found
        )
        form += ", summer time written out"
    return Times(values, form, offset)


def _day_or_month(cells: Sequence[str], day_first: bool | None) -> Times:
    """Decide by what is a date at all, then by which way the times go on evenly."""
    ways = {}
    for first in (True, False):
        ways[first] = _whole(
            cells, lambda cell, f=first: _numeric(cell, f), "day first" if first else "month first"
        )
    if day_first is not None:
        return ways[day_first]
    known = {first: sum(1 for v in way.values if v is not None) for first, way in ways.items()}
    if known[True] != known[False]:
        return ways[known[True] > known[False]]
    even = {first: _evenness(way.values) for first, way in ways.items()}
    if abs(even[True] - even[False]) > 0.005:
        return ways[even[True] > even[False]]
    way = ways[True]
    return Times(way.values, way.form, way.offset, ambiguous=_month_matters(cells))


def _month_matters(cells: Sequence[str]) -> bool:
    return any(_numeric(cell, True) != _numeric(cell, False) for cell in cells[:5000])


def _evenness(values: Sequence[datetime | None]) -> float:
    """Return the share of steps that are as long as the usual one."""
    known = [value for value in values if value is not None]
    steps = [(b - a).total_seconds() for a, b in itertools.pairwise(known)]
    if not steps:
        return 0.0
    usual = sorted(steps)[len(steps) // 2]
    return sum(1 for step in steps if abs(step - usual) < 2.0) / len(steps)


Found = tuple[datetime, float | None] | None


def _made(
    year: str,
    month: int,
    day: str,
    hour: str | None,
    minute: str | None,
    second: str | None,
    half: str | None,
    offset: str | None,
) -> Found:
    whole_year = int(year) + (2000 if len(year) == 2 else 0)
    clock = int(hour or 0)
    if half:
        clock = clock % 12 + (12 if half[0] in "pP" else 0)
    extra = timedelta(days=1) if clock == 24 else timedelta()
    try:
        when = datetime(whole_year, month, int(day), clock % 24, int(minute or 0), int(second or 0))
    except ValueError:
        return None
    return when + extra, _hours(offset)


def _hours(offset: str | None) -> float | None:
    if offset is None:
        return None
    if offset in ("Z", "UTC"):
        return 0.0
    digits = offset[1:].replace(":", "")
    return (1 if offset[0] == "+" else -1) * (int(digits[:2]) + int(digits[2:]) / 60)


def _iso(cell: str) -> Found:
    m = _YEAR_FIRST.match(cell)
    return _made(m[1], int(m[2]), m[3], m[4], m[5], m[6], m[7], m[8]) if m else None


def _numeric(cell: str, day_first: bool) -> Found:
    m = _YEAR_LAST.match(cell)
    if not m:
        return None
    day, month = (m[1], m[2]) if day_first else (m[2], m[1])
    return _made(m[3], int(month), day, m[4], m[5], m[6], m[7], m[8])


def _named(cell: str) -> Found:
    m = _NAMED.match(cell)
    if m:
        month = MONTHS.get(m[2].lower())
        return _made(m[3], month, m[1], m[4], m[5], m[6], m[7], m[8]) if month else None
    m = _NAME_FIRST.match(cell)
    if m:
        month = MONTHS.get(m[1].lower())
        return _made(m[3], month, m[2], m[4], m[5], m[6], m[7], m[8]) if month else None
    return None


def _compact(cell: str) -> Found:
    m = _COMPACT.match(cell)
    if not m:
        return None
    return _made(m[1], int(m[2]), m[3], m[4], m[5], m[6], None, m[7])


def _epoch(cell: str) -> Found:
    try:
        value = float(cell)
    except ValueError:
        return None
    if 1e12 <= value <= 4.2e12:
        value /= 1000.0
    if not 9e8 <= value <= 4.2e9:
        return None
    return EPOCH + timedelta(seconds=round(value)), 0.0


def _serial(cell: str) -> Found:
    try:
        value = float(cell.replace(",", "."))
    except ValueError:
        return None
    if not 36000.0 <= value <= 60000.0:
        return None
    return SHEET_EPOCH + timedelta(seconds=round(value * 86400)), None


def offset_in(text: str) -> float | None:
    """Return an offset from UTC [h] that a head or preamble names: "GMT-07:00", "UTC+2"."""
    m = re.search(r"(?:GMT|UTC)\s*([+-])\s*(\d{1,2})(?::?(\d{2}))?", text, re.IGNORECASE)
    if not m:
        return None
    return (1 if m[1] == "+" else -1) * (int(m[2]) + int(m[3] or 0) / 60)
