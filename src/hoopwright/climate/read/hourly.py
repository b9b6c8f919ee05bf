"""Hourly weather files, EPW and TMY3: a table of columns for each, and one way to read them.

EPW: eight header lines, then 35 columns an hour. Layout: EnergyPlus Auxiliary Programs,
'EnergyPlus Weather File (EPW) Data Dictionary' (secondary copies), with its ranges and its codes
for missing values.

TMY3, the CSV of the U.S. National Solar Radiation Data Base. Layout: Wilcox & Marion 2008, Users
Manual for TMY3 Data Sets, NREL/TP-581-43156, tables 1-1 and 1-2 (from memory; held against the
copy that pvlib carries). Missing values are -9900.
"""

from collections.abc import Mapping, Sequence
from dataclasses import replace

import numpy as np

from hoopwright.climate.read.assemble import Year, assemble
from hoopwright.climate.read.calendar import Whole, order_hours
from hoopwright.climate.read.gaps import share_out_totals
from hoopwright.climate.read.plausible import refuse_far_zone
from hoopwright.climate.read.text import Column, TextFile, figures, split_rows
from hoopwright.climate.weather import Station, Weather, series

EPW_LAYOUT = "an EPW file has 35 columns an hour (32 to 34 where the last are left out)"
TMY3_LAYOUT = "a TMY3 file has 71 columns an hour (68 in early copies)"

EPW_STAMPS = (
    Column("year", 0, 1800, 2300),
    Column("month", 1, -1e9, 1e9),
    Column("day", 2, -1e9, 1e9),
    Column("hour", 3, -1e9, 1e9),
)

EPW: Mapping[str, Column] = {
    "air_temperature": Column("dry bulb [degC]", 6, -70, 70, missing_from=99),
    "dew_point": Column("dew point [degC]", 7, -90, 70, missing_from=99),
    "relative_humidity": Column("relative humidity [%]", 8, 0, 110, missing_from=999, scale=0.01),
    "pressure": Column("pressure [Pa]", 9, 31000, 120000, missing_from=999999),
    "sky_infrared": Column("horizontal infrared [Wh/m2]", 12, 0, 700, missing_from=9999),
    "global_horizontal": Column("global horizontal [Wh/m2]", 13, 0, 1600, missing_from=9999),
    "direct_normal": Column("direct normal [Wh/m2]", 14, 0, 1500, missing_from=9999),
    "diffuse_horizontal": Column("diffuse horizontal [Wh/m2]", 15, 0, 1000, missing_from=9999),
    "wind_direction": Column("wind direction [deg]", 20, 0, 360, missing_from=999),
    "wind_speed": Column("wind speed [m/s]", 21, 0, 60, missing_from=999),
    "total_cover": Column("total sky cover [tenths]", 22, 0, 10, missing_from=99, scale=0.1),
    "opaque_cover": Column("opaque sky cover [tenths]", 23, 0, 10, missing_from=99, scale=0.1),
    "snow_depth": Column("snow depth [cm]", 30, 0, 900, missing_from=999, scale=0.01),
    "precipitation": Column("liquid precipitation [mm]", 33, 0, 2000, missing_from=999),
    "rain_hours": Column("precipitation hours [h]", 34, 0, 98, missing_from=99),
}


def _named(name: str, low: float, high: float, scale: float = 1.0, nines: float = np.inf) -> Column:
    """Return a column of a TMY3 file, whose place its heading tells."""
    missing = (-9900.0, -9999.0, -999.0, -99.0)
    return Column(name, -1, low, high, missing_from=nines, missing_codes=missing, scale=scale)


TMY3: Mapping[str, Column] = {
    "global_horizontal": _named("GHI (W/m^2)", 0, 1600),
    "direct_normal": _named("DNI (W/m^2)", 0, 1500),
    "diffuse_horizontal": _named("DHI (W/m^2)", 0, 1000),
    "total_cover": _named("TotCld (tenths)", 0, 10, scale=0.1),
    "opaque_cover": _named("OpqCld (tenths)", 0, 10, scale=0.1),
    "air_temperature": _named("Dry-bulb (C)", -70, 70),
    "dew_point": _named("Dew-point (C)", -90, 70),
    "relative_humidity": _named("RHum (%)", 0, 110, scale=0.01),
    "pressure": _named("Pressure (mbar)", 310, 1200, scale=100.0),
    "wind_direction": _named("Wdir (degrees)", 0, 360),
    "wind_speed": _named("Wspd (m/s)", 0, 60),
    "precipitation": _named("Lprecip depth (mm)", 0, 2000),
    "rain_hours": _named("Lprecip quantity (hr)", 0, 98, nines=99),
}


def is_epw(lines: list[str]) -> bool:
    """Return whether a file's first line is that of an EPW."""
    return lines[0].lstrip().upper().startswith("LOCATION")


def is_tmy3(lines: list[str]) -> bool:
    """Return whether the second line is the column line of a TMY3 file."""
    return len(lines) > 1 and lines[1].lstrip().upper().startswith("DATE (MM/DD/YYYY)")


def epw_weather(file: TextFile, longest_gap: int = 6) -> Weather:
    """Return the weather of an EPW text already loaded."""
    head = [cell.strip() for cell in file.lines[0].split(",")]
    if len(head) < 10:
        raise file.error(
            "the first line must be LOCATION with name, state, country, source, station, "
            "latitude, longitude, time zone and elevation",
            line=1,
        )
    station = _station(file, head, latitude=6, longitude=7, zone=8, elevation=9)
    first = _first_data_line(file)
    rows = split_rows(file, first, 32, 35, EPW_LAYOUT)
    columns = {name: column for name, column in EPW.items() if column.index < len(rows[0])}
    year = _year(file, station, first, rows, columns, _stamps(file, first, rows), longest_gap)
    infrared = year.raw["sky_infrared"]
    infrared[infrared <= 0] = np.nan
    label = " ".join(file.lines[:8]).upper()
    typical = year.order.stitched or any(
        word in label for word in ("TMY", "TYPICAL METEOROLOGICAL", "IWEC", "CWEC", "TRY,")
    )
    return assemble(year, f"{file.path.name} (EPW, {head[4] or 'source not named'})", typical)


def tmy3_weather(file: TextFile, longest_gap: int = 6) -> Weather:
    """Return the weather of a TMY3 text already loaded."""
    head = [cell.strip().strip('"') for cell in file.lines[0].split(",")]
    if len(head) < 7:
        raise file.error(
            "the first line must be station, name, state, time zone, latitude, longitude, "
            "elevation",
            line=1,
        )
    station = _station(file, head, latitude=4, longitude=5, zone=3, elevation=6)
    names = [cell.strip().upper() for cell in file.lines[1].split(",")]
    rows = split_rows(file, 2, 60, 80, TMY3_LAYOUT)
    if len(rows[0]) != len(names):
        raise file.error(f"{len(rows[0])} columns under a heading of {len(names)}", line=3)
    stamps = _dates(file, rows)
    columns = {}
    for field, column in TMY3.items():
        if column.name.upper() not in names:
            raise file.error(f"no column '{column.name}' in the heading", line=2)
        columns[field] = replace(column, index=names.index(column.name.upper()))
    year = _year(file, station, 2, rows, columns, stamps, longest_gap)
    return assemble(year, f"{file.path.name} (TMY3)", typical=True)


def _year(
    file: TextFile,
    station: Station,
    first: int,
    rows: list[list[str]],
    columns: Mapping[str, Column],
    stamps: Sequence[Whole],
    longest_gap: int,
) -> Year:
    """Return the columns laid out over the year in our units, NaN where a file has none."""
    order = order_hours(file, first, stamps, longest_gap)
    raw = {name: np.full(order.count, np.nan) for name in EPW}
    for name, column in columns.items():
        raw[name] = order.spread(figures(file, rows, first, column)) * column.scale
    raw["precipitation"] = share_out_totals(raw["precipitation"], raw["rain_hours"])
    line = order.spread(series(np.arange(len(rows)) + first + 1.0))
    return Year(file, station, order, raw, line, longest_gap)


def _station(
    file: TextFile, cells: list[str], latitude: int, longitude: int, zone: int, elevation: int
) -> Station:
    """Return the station whose name stands second in the first line, the rest at these places."""

    def read(column: Column) -> float:
        return float(figures(file, [cells], 0, column)[0])

    clock = Column("time zone [h]", zone, -12, 14)
    station = Station(
        cells[1] or "unnamed",
        read(Column("latitude [deg]", latitude, -90, 90)),
        read(Column("longitude [deg]", longitude, -180, 180)),
        read(Column("elevation [m]", elevation, -450, 9000)),
        read(clock),
    )
    refuse_far_zone(file, station, line=1, column=clock.place)
    return station


def _first_data_line(file: TextFile, furthest: int = 40) -> int:
    for number, line in enumerate(file.lines[:furthest], start=1):
        head, *cells = (cell.strip() for cell in line.split(","))
        if head.upper() != "DATA PERIODS":
            continue
        periods, records, *_ = [*cells, "", ""]
        if records not in ("", "1"):
            problem, column = f"{records} records an hour; one an hour", "3 (records an hour)"
        elif periods not in ("", "1"):
            problem, column = f"{periods} data periods; one whole year", "2 (data periods)"
        else:
            return number
        raise file.error(f"{problem} is wanted", line=number, column=column)
    raise file.error(
        "no DATA PERIODS line; an EPW has eight header lines that end with it",
        line=min(len(file.lines), 8),
    )


def _stamps(file: TextFile, first: int, rows: list[list[str]]) -> list[Whole]:
    """Return year, month, day and hour of each row of an EPW."""
    stamps = [figures(file, rows, first, column) for column in EPW_STAMPS]
    for values, column in zip(stamps, EPW_STAMPS, strict=True):
        broken = np.flatnonzero(values != np.round(values))
        if broken.size:
            at = int(broken[0])
            raise file.error(
                f"{rows[at][column.index].strip()} is not a whole number",
                line=first + at + 1,
                column=column.place,
            )
    return [values.astype(np.int64) for values in stamps]


def _dates(file: TextFile, rows: list[list[str]]) -> list[Whole]:
    """Return year, month, day and hour of each row of a TMY3 file."""
    stamps = np.zeros((4, len(rows)), dtype=np.int64)
    for number, row in enumerate(rows):
        date, time = row[0].strip().split("/"), row[1].strip().split(":")
        if len(date) != 3 or not all(map(_small_number, date)):
            problem, column = f"'{row[0].strip()[:20]}' is not a date MM/DD/YYYY", "1 (date)"
        elif len(time) != 2 or not _small_number(time[0]) or time[1] != "00":
            problem, column = f"'{row[1].strip()[:20]}' is not a full hour HH:00", "2 (time)"
        else:
            stamps[:, number] = int(date[2]), int(date[0]), int(date[1]), int(time[0])
            continue
        raise file.error(problem, line=number + 3, column=column)
    return list(stamps)


def _small_number(text: str) -> bool:
    return text.isascii() and text.isdecimal() and len(text) <= 4
