"""Times as loggers write them: many forms, one of which fits a whole column."""

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
_CLOCK = (
    r"(?:[T ,]*\s*(?P<hour>\d{1,2}):(?P<minute>\d{2})(?::(?P<second>\d{2})(?:[.,]\d+)?)?"
    r"\s*(?P<half>[AaPp]\.?[Mm]\.?)?)?"
    r"(?:\s*(?P<offset>Z|UTC|GMT|[ECMP][SD]T|[+-]\d{2}:?\d{2}))?$"
)
_ONE, _OTHER = r"(?P<one>\d{1,2})", r"(?P<other>\d{1,2})"
_DAY, _NAME = r"(?P<day>\d{1,2})", r"(?P<name>[A-Za-z]{3})[a-z]*"
_YEAR = r"(?P<year>\d{4}|\d{2})"
_YEAR_FIRST = re.compile(rf"^(?P<year>\d{{4}})[-/.](?P<month>\d{{1,2}})[-/.]{_DAY}{_CLOCK}")
_YEAR_LAST = re.compile(rf"^{_ONE}[-/.]{_OTHER}[-/.]{_YEAR}{_CLOCK}")
_NAMED = re.compile(rf"^{_DAY}[-/. ]{_NAME}[-/. ,]+{_YEAR}{_CLOCK}")
_NAME_FIRST = re.compile(rf"^{_NAME}[-/. ]{_DAY}[-/. ,]+{_YEAR}{_CLOCK}")
_COMPACT = re.compile(
    r"^(?P<year>\d{4})(?P<month>\d{2})(?P<day>\d{2})[T ]?(?P<hour>\d{2}):?(?P<minute>\d{2})"
    r"(?::?(?P<second>\d{2}))?(?P<offset>Z)?$"
)
#: Hours from UTC that a clock's letters mean (RFC 5322, 4.3, obs-zone; from memory).
LETTERS = {"EST": -5.0, "EDT": -4.0, "CST": -6.0, "CDT": -5.0}
LETTERS |= {"MST": -7.0, "MDT": -6.0, "PST": -8.0, "PDT": -7.0}
_NAMED_ZONE = re.compile(
    r"\b(?:Africa|America|Asia|Atlantic|Australia|Europe|Indian|Pacific)/\w+(?:/\w+)?"
)
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
    either = any(_numeric(cell, True) != _numeric(cell, False) for cell in cells[:5000])
    return Times(way.values, way.form, way.offset, ambiguous=either)


def _evenness(values: Sequence[datetime | None]) -> float:
    """Return the share of steps that are as long as the usual one."""
    known = [value for value in values if value is not None]
    steps = [(b - a).total_seconds() for a, b in itertools.pairwise(known)]
    if not steps:
        return 0.0
    usual = sorted(steps)[len(steps) // 2]
    return sum(1 for step in steps if abs(step - usual) < 2.0) / len(steps)


Found = tuple[datetime, float | None] | None


def _made(found: re.Match[str] | None, **known: str) -> Found:
    """Return the moment of a match by the names of its groups, or None where there is none."""
    if found is None:
        return None
    said = found.groupdict() | known
    year, clock, half = said["year"], int(said["hour"] or 0), said.get("half")
    month = MONTHS.get(said["name"].lower()) if "name" in said else int(said["month"])
    if half:
        clock = clock % 12 + (12 if half[0] in "pP" else 0)
    extra = timedelta(days=1) if clock == 24 else timedelta()
    minute, second = int(said["minute"] or 0), int(said["second"] or 0)
    try:
        when = datetime(
            int(year) + (2000 if len(year) == 2 else 0),
            month or 0,
            int(said["day"]),
            clock % 24,
            minute,
            second,
        )
    except ValueError:
        return None
    return when + extra, _hours(said["offset"])


def _hours(offset: str | None) -> float | None:
    if offset is None:
        return None
    if offset in ("Z", "UTC", "GMT"):
        return 0.0
    if offset in LETTERS:
        return LETTERS[offset]
    digits = offset[1:].replace(":", "")
    return (1 if offset[0] == "+" else -1) * (int(digits[:2]) + int(digits[2:]) / 60)


def _iso(cell: str) -> Found:
    return _made(_YEAR_FIRST.match(cell))


def _numeric(cell: str, day_first: bool) -> Found:
    found = _YEAR_LAST.match(cell)
    if found is None:
        return None
    one, other = found["one"], found["other"]
    day, month = (one, other) if day_first else (other, one)
    return _made(found, day=day, month=month)


def _named(cell: str) -> Found:
    return _made(_NAMED.match(cell) or _NAME_FIRST.match(cell))


def _compact(cell: str) -> Found:
    return _made(_COMPACT.match(cell))


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
    """Return an offset from UTC [h] that a head or preamble names: "GMT-07:00", "UTC+2", "MDT"."""
    m = re.search(
        r"(?:GMT|UTC|time\s*zone)(?:\s*offset)?\s*[:=(,]?\s*([+-])\s*(\d{1,2})(?::?(\d{2}))?",
        text,
        re.IGNORECASE,
    )
    if m:
        return (1 if m[1] == "+" else -1) * (int(m[2]) + int(m[3] or 0) / 60)
    letters = re.search(rf"\b({'|'.join(LETTERS)})\b", text)
    if letters:
        return LETTERS[letters[1]]
    return 0.0 if re.search(r"\b(?:UTC|GMT)\b(?!\s*offset)", text) else None


def zone_in(text: str) -> str | None:
    """Return the zone, as America/Denver, that a head or preamble names."""
    found = _NAMED_ZONE.search(text)
    return found[0] if found else None
