"""Daily station records of GHCN-Daily: the by-station CSV and the fixed-width .dly.

Layout: NOAA NCEI, GHCN-Daily readme.txt and readme-by_station.txt (secondary copies). Values
are tenths of a degree, tenths of a millimetre, and whole millimetres of snow.
"""

from calendar import monthrange
from collections.abc import Iterator
from datetime import date
from typing import NamedTuple

import numpy as np

from hoopwright.climate.read.text import TextFile
from hoopwright.climate.weather import DailyRecord, Series, Station

ELEMENTS = {
    "TMAX": (0.1, -90.0, 60.0),
    "TMIN": (0.1, -90.0, 60.0),
    "PRCP": (0.1, 0.0, 1900.0),
    "SNOW": (0.001, 0.0, 2.0),
    "SNWD": (0.001, 0.0, 12.0),
    "WSFG": (0.1, 0.0, 130.0),
}
"""Element -> factor to [degC, mm, m, m/s], least and greatest value that can be true. The limits
are a little outside the world records."""

_LONGEST_SPAN = 300 * 366


class _Value(NamedTuple):
    """One value as it stands in a file: its day as an ordinal, its quality flag, its place."""

    element: str
    day: int
    text: str
    quality: str
    line: int
    place: str
    hour: str = ""


def is_dly(lines: list[str]) -> bool:
    """Return whether the first line is one of a .dly file."""
    line = lines[0]
    return (
        len(line) >= 21
        and "," not in line[:21]
        and line[11:17].isdecimal()
        and line[17:21].strip().isalnum()
    )


def is_station_csv(lines: list[str]) -> bool:
    """Return whether the first line is one of a by-station CSV."""
    head = lines[0].replace('"', "").split(",")
    if head[:4] in (["ID", "DATE", "ELEMENT", "DATA_VALUE"], ["ID", "YEAR/MONTH/DAY", "ELEMENT"]):
        return True
    return len(head) in (7, 8) and len(head[0]) == 11 and len(head[1]) == 8 and len(head[2]) == 4


def ghcn_record(file: TextFile, station: Station | None = None) -> DailyRecord:
    """Return the record of a GHCN-Daily text already loaded."""
    if is_dly(file.lines):
        identifier, values = file.lines[0][:11], _from_dly(file)
    elif is_station_csv(file.lines):
        identifier, values = _first_station(file), _from_csv(file)
    else:
        raise file.error(
            "not a GHCN-Daily file: wanted the by-station CSV (ID,YYYYMMDD,ELEMENT,VALUE,M,Q,S,"
            "TIME) or the fixed-width .dly",
            line=1,
        )
    found: dict[str, dict[int, float]] = {name: {} for name in ELEMENTS}
    flagged, hours = 0, []
    for value in values:
        if value.element == "TMIN" and value.hour:
            hours.append(value.hour < "1200")
        number = _number(file, value)
        if number is not None and value.quality.strip():
            flagged += 1
        elif number is not None:
            _keep(file, found[value.element], value, number)
    where = station or Station(identifier, np.nan, np.nan, np.nan, np.nan)
    morning = sum(hours) / len(hours) if hours else float("nan")
    return _lay_out(file, found, where, f"(GHCN-Daily, {identifier})", flagged, morning)


def _has_heading(file: TextFile) -> bool:
    return file.lines[0].replace('"', "").upper().startswith("ID,")


def _first_station(file: TextFile) -> str:
    first = int(_has_heading(file))
    if len(file.lines) <= first:
        raise file.error("a heading and nothing below it", line=1)
    return file.lines[first].split(",")[0].strip('"')


def _refuse_other(file: TextFile, found: str, identifier: str, line: int, column: str) -> None:
    if found != identifier:
        says = f"station {found[:11]} in a file of {identifier}; one station a file"
        raise file.error(says, line=line, column=column)


def _is_ours(file: TextFile, element: str, line: int, column: str) -> bool:
    """Return whether an element is one of those read; refuse what is none at all."""
    if element not in ELEMENTS and not (
        len(element) == 4 and element.isalnum() and element.isascii()
    ):
        raise file.error(f"'{element[:10]}' is not an element code", line=line, column=column)
    return element in ELEMENTS


def _from_csv(file: TextFile) -> Iterator[_Value]:
    first, identifier = int(_has_heading(file)), _first_station(file)
    days: dict[str, int] = {}
    for number, line in enumerate(file.lines[first:], start=first + 1):
        cells = line.replace('"', "").split(",")
        if len(cells) not in (7, 8):
            raise file.error(f"{len(cells)} columns; 8 are wanted", line=number)
        _refuse_other(file, cells[0], identifier, number, "1 (ID)")
        if not _is_ours(file, cells[2], number, "3 (ELEMENT)"):
            continue
        day = days.get(cells[1])
        if day is None:
            day = days[cells[1]] = _day(file, cells[1], number)
        hour = cells[7].strip() if len(cells) == 8 else ""
        yield _Value(cells[2], day, cells[3], cells[5], number, "4 (VALUE)", hour)


def _day(file: TextFile, text: str, line: int) -> int:
    if len(text) == 8 and text.isdecimal() and text.isascii():
        try:
            return date(int(text[:4]), int(text[4:6]), int(text[6:])).toordinal()
        except ValueError:
            pass
    raise file.error(f"'{text[:12]}' is not a date YYYYMMDD", line=line, column="2 (date)")


def _from_dly(file: TextFile) -> Iterator[_Value]:
    for number, line in enumerate(file.lines, start=1):
        _refuse_other(file, line[:11], file.lines[0][:11], number, "characters 1-11")
        element = line[17:21]
        if not _is_ours(file, element, number, "characters 18-21"):
            continue
        if len(line.rstrip()) < 21 + 8 * 30 + 5:
            raise file.error(f"{len(line)} characters; 269 are wanted (31 days of 8)", line=number)
        start, length = _month(file, line[11:17], number)
        for day in range(31):
            at = 21 + 8 * day
            cell, place = line[at : at + 5], f"characters {at + 1}-{at + 5}"
            if day < length:
                yield _Value(element, start + day, cell, line[at + 6 : at + 7], number, place)
            elif cell.strip() not in ("-9999", ""):
                says = f"a value on day {day + 1} of a month of {length}"
                raise file.error(says, line=number, column=place)


def _month(file: TextFile, stamp: str, number: int) -> tuple[int, int]:
    """Return the ordinal of a month's first day and its length [d]."""
    if not (stamp.isdecimal() and stamp.isascii() and 1 <= int(stamp[4:]) <= 12):
        says = f"{stamp!r} is not a year and month"
        raise file.error(says, line=number, column="characters 12-17")
    year, month = int(stamp[:4]), int(stamp[4:])
    if year < 1:
        raise file.error(f"year {stamp[:4]!r}", line=number, column="characters 12-15")
    return date(year, month, 1).toordinal(), monthrange(year, month)[1]


def _number(file: TextFile, value: _Value) -> int | None:
    """Return a value as written, or None where it is the code for a missing one."""
    text = value.text.strip()
    if not (text.lstrip("-").isdecimal() and text.isascii() and text.count("-") <= 1):
        says = f"'{text[:12]}' is not a whole number"
        raise file.error(says, line=value.line, column=value.place)
    return None if text == "-9999" else int(text)


def _keep(file: TextFile, kept: dict[int, float], value: _Value, number: int) -> None:
    factor, low, high = ELEMENTS[value.element]
    ours = number * factor
    problem = ""
    if not low <= ours <= high:
        problem = (
            f"{value.element} {number} is {ours:g}, outside {low:g} to {high:g}; values are tenths "
            "of a degree, tenths of a millimetre, millimetres of snow"
        )
    elif kept.setdefault(value.day, ours) != ours:
        day, earlier = date.fromordinal(value.day), kept[value.day]
        problem = f"{value.element} of {day} stands twice, {earlier:g} and {ours:g}"
    if problem:
        raise file.error(problem, line=value.line, column=value.place)


def _lay_out(
    file: TextFile,
    found: dict[str, dict[int, float]],
    station: Station,
    source: str,
    flagged: int,
    morning: float,
) -> DailyRecord:
    """Return the days in order. morning : [-] share of the minima read before noon."""
    days = sorted(set().union(*found.values()))
    if not days or not found["TMIN"]:
        raise file.error("no minimum temperatures (TMIN) in the file")
    first, last = date.fromordinal(days[0]), date.fromordinal(days[-1])
    span = days[-1] - days[0] + 1
    if span > _LONGEST_SPAN:
        raise file.error(f"the days run from {first} to {last}; is a year mistyped?")
    columns = {name: np.full(span, np.nan) for name in ELEMENTS}
    for name, values in found.items():
        columns[name][np.array(list(values), dtype=np.int64) - days[0]] = list(values.values())
    repairs = [*file.repairs]
    if flagged:
        repairs.append(f"{flagged} values that the archive's own checks doubt were left out.")
    _drop_crossed(columns["TMAX"], columns["TMIN"], repairs)
    if morning > 0.5:
        repairs.append(
            f"{100 * morning:.0f} % of the minima were read in the morning; one cold dawn may "
            "stand on two days."
        )
    return DailyRecord(
        station=station,
        first=first,
        maximum=columns["TMAX"],
        minimum=columns["TMIN"],
        precipitation=columns["PRCP"],
        snowfall=columns["SNOW"],
        snow_depth=columns["SNWD"],
        peak_gust=columns["WSFG"] if found["WSFG"] else None,
        source=f"{file.path.name} {source}",
        morning_share=morning,
        repairs=tuple(repairs),
    )


def _drop_crossed(maximum: Series, minimum: Series, repairs: list[str]) -> None:
    with np.errstate(invalid="ignore"):
        crossed = maximum < minimum
    if crossed.any():
        maximum[crossed] = np.nan
        minimum[crossed] = np.nan
        repairs.append(
            f"{int(crossed.sum())} days with the maximum below the minimum were left out."
        )
