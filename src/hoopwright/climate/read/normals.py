"""Frost-date normals of the U.S. climate normals: annual and seasonal CSV, 1991 to 2020.

Layout: NOAA NCEI normals-annualseasonal by-station CSV (secondary copies). A column such as
ANN-TMIN-PRBLST-T32FP10 is the date on or AFTER which the last minimum at or below 32 F falls in
1 year of 10; PRBFST the date on or BEFORE which the first does; PRBGSL the season's length.
"""

from __future__ import annotations

import csv
import re
from dataclasses import dataclass
from pathlib import Path

from hoopwright import units
from hoopwright.climate.read.text import TextFile, load_text
from hoopwright.climate.weather import Station

_COLUMN = re.compile(r"ANN-TMIN-PRB(LST|FST|GSL)-T(\d\d)FP(\d\d)")
_CODES = ("9999", "8888", "7777", "6666", "5555", "4444")
_DATE = re.compile(r"(\d{1,2})/(\d{1,2})")


@dataclass(frozen=True)
class FrostNormals:
    """Published frost probabilities of a station.

    threshold          : [degC] key of each mapping, as converted from the whole degrees F
    last_spring        : threshold -> {probability [-] of that date or later: (month, day)}
    first_autumn       : threshold -> {probability [-] of that date or earlier: (month, day)}
    season_length      : threshold -> {probability [-] of that length or longer: [d]}
    left_out           : columns that hold a code instead of a date
    """

    station: Station
    last_spring: dict[float, dict[float, tuple[int, int]]]
    first_autumn: dict[float, dict[float, tuple[int, int]]]
    season_length: dict[float, dict[float, float]]
    left_out: tuple[str, ...]
    source: str


def read_frost_normals(path: Path) -> FrostNormals:
    """Return the frost dates of an annual normals file, or raise WeatherFileError."""
    file = load_text(path)
    table = list(csv.reader(file.lines))
    heading = [cell.strip() for cell in table[0]]
    if "STATION" not in heading:
        raise file.error("no column STATION; wanted an annual/seasonal normals CSV", line=1)
    if len(table) < 2:
        raise file.error("a heading and no station below it", line=1)
    if len(table) > 2:
        raise file.error("more than one station; one station a file", line=3)
    if len(table[1]) != len(heading):
        raise file.error(f"{len(table[1])} columns under a heading of {len(heading)}", line=2)
    cells = dict(zip(heading, table[1], strict=True))
    return _collect(file, cells)


def _collect(file: TextFile, cells: dict[str, str]) -> FrostNormals:
    last: dict[float, dict[float, tuple[int, int]]] = {}
    first: dict[float, dict[float, tuple[int, int]]] = {}
    length: dict[float, dict[float, float]] = {}
    left_out: list[str] = []
    for name, cell in cells.items():
        match = _COLUMN.fullmatch(name)
        if match is None:
            continue
        kind, degrees, chance = match.groups()
        threshold = round(units.to_si(float(degrees), "degF"), 4)
        probability = int(chance) / 100
        text = cell.strip()
        if not text or text.lstrip("-").startswith(
            ("9999", "8888", "7777", "6666", "5555", "4444")
        ):
            left_out.append(name)
        elif kind == "GSL":
            length.setdefault(threshold, {})[probability] = _length(file, text, name)
        else:
            into = last if kind == "LST" else first
            into.setdefault(threshold, {})[probability] = _date(file, text, name)
    if not last and not first:
        raise file.error("no frost dates (columns ANN-TMIN-PRBLST-...) in this file", line=1)
    return FrostNormals(
        station=_station(file, cells),
        last_spring=last,
        first_autumn=first,
        season_length=length,
        left_out=tuple(left_out),
        source=f"{file.path.name} (NOAA annual normals)",
    )


def _date(file: TextFile, text: str, column: str) -> tuple[int, int]:
    match = _DATE.fullmatch(text)
    if match:
        month, day = int(match.group(1)), int(match.group(2))
        if 1 <= month <= 12 and 1 <= day <= 31:
            return month, day
    raise file.error(f"'{text[:12]}' is not a date MM/DD", line=2, column=column)


def _length(file: TextFile, text: str, column: str) -> float:
    try:
        value = float(text)
    except ValueError:
        value = -1.0
    if not 0 <= value <= 366:
        raise file.error(f"'{text[:12]}' is not a number of days", line=2, column=column)
    return value


def _station(file: TextFile, cells: dict[str, str]) -> Station:
    values = []
    for column, limit in (("LATITUDE", 90.0), ("LONGITUDE", 180.0), ("ELEVATION", 9000.0)):
        text = cells.get(column, "").strip()
        try:
            value = float(text)
        except ValueError:
            value = float("inf")
        if not abs(value) <= limit:
            raise file.error(f"'{text[:12]}' cannot be a {column.lower()}", line=2, column=column)
        values.append(value)
    name = cells.get("NAME", "").strip() or cells["STATION"].strip()
    return Station(name, values[0], values[1], values[2], float(round(values[1] / 15)))
