"""Daily station records of GHCN-Daily: the by-station CSV and the fixed-width .dly.

Layout: NOAA NCEI, GHCN-Daily readme.txt and readme-by_station.txt (secondary copies). Values
are tenths of a degree, tenths of a millimetre, and whole millimetres of snow.
"""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from hoopwright.climate.read.text import TextFile
from hoopwright.climate.record import DailyRecord
from hoopwright.climate.weather import Series, Station

ELEMENTS = {
    "TMAX": (0.1, -90.0, 60.0),
    "TMIN": (0.1, -90.0, 60.0),
    "PRCP": (0.1, 0.0, 1900.0),
    "SNOW": (0.001, 0.0, 2.0),
    "SNWD": (0.001, 0.0, 12.0),
}
"""Element -> factor to [degC, mm, m], least and greatest value that can be true. The limits are
a little outside the world records."""

_LONGEST_SPAN = 300 * 366


@dataclass
class _Collected:
    """What the lines held, before it is laid out day by day."""

    identifier: str
    values: dict[str, dict[int, float]]
    flagged: int = 0
    refused: int = 0
    morning: int = 0
    timed: int = 0


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
        collected = _from_dly(file)
    elif is_station_csv(file.lines):
        collected = _from_csv(file)
    else:
        raise file.error(
            "not a GHCN-Daily file: wanted the by-station CSV (ID,YYYYMMDD,ELEMENT,VALUE,M,Q,S,"
            "TIME) or the fixed-width .dly",
            line=1,
        )
    return _lay_out(file, collected, station)


def _from_csv(file: TextFile) -> _Collected:
    has_heading = file.lines[0].replace('"', "").upper().startswith("ID,")
    first = 1 if has_heading else 0
    if len(file.lines) <= first:
        raise file.error("a heading and nothing below it", line=1)
    identifier = file.lines[first].split(",")[0].strip('"')
    found = _Collected(identifier, {name: {} for name in ELEMENTS})
    days: dict[str, int] = {}
    for number, line in enumerate(file.lines[first:], start=first + 1):
        cells = line.replace('"', "").split(",")
        if len(cells) not in (7, 8):
            raise file.error(f"{len(cells)} columns; 8 are wanted", line=number)
        if cells[0] != identifier:
            raise file.error(
                f"station {cells[0][:11]} in a file of {identifier}; one station a file",
                line=number,
                column="1 (ID)",
            )
        element = cells[2]
        if element not in ELEMENTS:
            if not (len(element) == 4 and element.isalnum() and element.isascii()):
                raise file.error(
                    f"'{element[:10]}' is not an element code", line=number, column="3 (ELEMENT)"
                )
            continue
        day = days.get(cells[1])
        if day is None:
            day = days[cells[1]] = _day(file, cells[1], number)
        _take(file, found, element, day, cells[3], cells[5], number, "4 (VALUE)")
        if element == "TMIN" and len(cells) == 8 and cells[7].strip():
            found.timed += 1
            found.morning += cells[7].strip() < "1200"
    return found


def _day(file: TextFile, text: str, line: int) -> int:
    if len(text) == 8 and text.isdecimal() and text.isascii():
        try:
            return date(int(text[:4]), int(text[4:6]), int(text[6:])).toordinal()
        except ValueError:
            pass
    raise file.error(f"'{text[:12]}' is not a date YYYYMMDD", line=line, column="2 (date)")


def _from_dly(file: TextFile) -> _Collected:
    found = _Collected(file.lines[0][:11], {name: {} for name in ELEMENTS})
    for number, line in enumerate(file.lines, start=1):
        if line[:11] != found.identifier:
            raise file.error(
                f"station {line[:11]!r} in a file of {found.identifier}; one station a file",
                line=number,
                column="characters 1-11",
            )
        element = line[17:21]
        if element not in ELEMENTS:
            if not (len(element) == 4 and element.isalnum() and element.isascii()):
                raise file.error(
                    f"{element!r} is not an element code", line=number, column="characters 18-21"
                )
            continue
        if len(line.rstrip()) < 21 + 8 * 30 + 5:
            raise file.error(f"{len(line)} characters; 269 are wanted (31 days of 8)", line=number)
        _month_of_dly(file, found, element, line, number)
    return found


def _month_of_dly(file: TextFile, found: _Collected, element: str, line: str, number: int) -> None:
    stamp = line[11:17]
    if not (stamp.isdecimal() and stamp.isascii() and 1 <= int(stamp[4:]) <= 12):
        raise file.error(
            f"{stamp!r} is not a year and month", line=number, column="characters 12-17"
        )
    if int(stamp[:4]) < 1:
        raise file.error(f"year {stamp[:4]!r}", line=number, column="characters 12-15")
    month_start = date(int(stamp[:4]), int(stamp[4:]), 1)
    following = (month_start + timedelta(days=32)).replace(day=1)
    length = (following - month_start).days
    for day in range(31):
        at = 21 + 8 * day
        cell = line[at : at + 5]
        place = f"characters {at + 1}-{at + 5}"
        if day >= length:
            if cell.strip() not in ("-9999", ""):
                raise file.error(
                    f"a value on day {day + 1} of a month of {length}", line=number, column=place
                )
            continue
        _take(
            file, found, element, month_start.toordinal() + day, cell, line[at + 6 : at + 7],
            number, place,
        )  # fmt: skip


def _take(
    file: TextFile,
    found: _Collected,
    element: str,
    day: int,
    cell: str,
    quality: str,
    line: int,
    place: str,
) -> None:
    text = cell.strip()
    if not (text.lstrip("-").isdecimal() and text.isascii() and text.count("-") <= 1):
        raise file.error(f"'{text[:12]}' is not a whole number", line=line, column=place)
    if text == "-9999":
        return
    if quality.strip():
        found.flagged += 1
        return
    factor, low, high = ELEMENTS[element]
    value = int(text) * factor
    if not low <= value <= high:
        raise file.error(
            f"{element} {text} is {value:g}, outside {low:g} to {high:g}; values are tenths of a "
            "degree, tenths of a millimetre, millimetres of snow",
            line=line,
            column=place,
        )
    earlier = found.values[element].setdefault(day, value)
    if earlier != value:
        raise file.error(
            f"{element} of {date.fromordinal(day)} stands twice, {earlier:g} and {value:g}",
            line=line,
            column=place,
        )


def _lay_out(file: TextFile, found: _Collected, station: Station | None) -> DailyRecord:
    days = sorted(set().union(*(found.values[name] for name in ELEMENTS)))
    if not days or not found.values["TMIN"]:
        raise file.error("no minimum temperatures (TMIN) in the file")
    span = days[-1] - days[0] + 1
    if span > _LONGEST_SPAN:
        raise file.error(
            f"the days run from {date.fromordinal(days[0])} to {date.fromordinal(days[-1])}; "
            "is a year mistyped?"
        )
    columns = {name: np.full(span, np.nan) for name in ELEMENTS}
    for name, values in found.values.items():
        if values:
            at = np.fromiter(values.keys(), dtype=np.int64, count=len(values)) - days[0]
            columns[name][at] = np.fromiter(values.values(), dtype=float, count=len(values))
    repairs = [*file.repairs]
    if found.flagged:
        repairs.append(f"{found.flagged} values that the archive's own checks doubt were left out.")
    _drop_crossed(columns["TMAX"], columns["TMIN"], repairs)
    where = station or Station(found.identifier, np.nan, np.nan, np.nan, np.nan)
    share = found.morning / found.timed if found.timed else float("nan")
    if share > 0.5:
        repairs.append(
            f"{100 * share:.0f} % of the minima were read in the morning; one cold dawn may stand "
            "on two days."
        )
    return DailyRecord(
        station=where,
        first=date.fromordinal(days[0]),
        maximum=columns["TMAX"],
        minimum=columns["TMIN"],
        precipitation=columns["PRCP"],
        snowfall=columns["SNOW"],
        snow_depth=columns["SNWD"],
        source=f"{file.path.name} (GHCN-Daily, {found.identifier})",
        morning_share=share,
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
