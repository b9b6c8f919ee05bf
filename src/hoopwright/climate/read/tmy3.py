"""The TMY3 CSV of the U.S. National Solar Radiation Data Base.

Layout: Wilcox & Marion 2008, Users Manual for TMY3 Data Sets, NREL/TP-581-43156, tables 1-1
and 1-2 (from memory; held against the copy that pvlib carries). Missing values are -9900.
"""

from __future__ import annotations

import numpy as np

from hoopwright.climate.read.assemble import RawYear, assemble
from hoopwright.climate.read.calendar import HourOrder, order_hours
from hoopwright.climate.read.columns import Column, figures, split_rows
from hoopwright.climate.read.heading import station_of
from hoopwright.climate.read.precipitation import share_out_totals
from hoopwright.climate.read.text import TextFile
from hoopwright.climate.weather import Series, Station, Weather, series

LAYOUT = "a TMY3 file has 71 columns an hour (68 in early copies)"

_MISSING = (-9900.0, -9999.0, -999.0, -99.0)
_UNKNOWN_HOURS = 99.0
_COLUMNS = {
    "global_horizontal": ("GHI (W/m^2)", 0.0, 1600.0),
    "direct_normal": ("DNI (W/m^2)", 0.0, 1500.0),
    "diffuse_horizontal": ("DHI (W/m^2)", 0.0, 1000.0),
    "total_cover": ("TotCld (tenths)", 0.0, 10.0),
    "opaque_cover": ("OpqCld (tenths)", 0.0, 10.0),
    "air_temperature": ("Dry-bulb (C)", -70.0, 70.0),
    "dew_point": ("Dew-point (C)", -90.0, 70.0),
    "relative_humidity": ("RHum (%)", 0.0, 110.0),
    "pressure": ("Pressure (mbar)", 310.0, 1200.0),
    "wind_direction": ("Wdir (degrees)", 0.0, 360.0),
    "wind_speed": ("Wspd (m/s)", 0.0, 60.0),
    "precipitation": ("Lprecip depth (mm)", 0.0, 2000.0),
    "hours": ("Lprecip quantity (hr)", 0.0, 99.0),
}


def is_tmy3(lines: list[str]) -> bool:
    """Return whether the second line is the column line of a TMY3 file."""
    return len(lines) > 1 and lines[1].lstrip().upper().startswith("DATE (MM/DD/YYYY)")


def tmy3_weather(file: TextFile, longest_gap: int = 6) -> Weather:
    """Return the weather of a TMY3 text already loaded."""
    station = _location(file)
    names = [cell.strip() for cell in file.lines[1].split(",")]
    rows = split_rows(file, 2, 60, 80, LAYOUT)
    if len(rows[0]) != len(names):
        raise file.error(f"{len(rows[0])} columns under a heading of {len(names)}", line=3)
    order = _order(file, rows, longest_gap)
    raw = _raw_year(file, rows, names, order)
    return assemble(
        file,
        station,
        order,
        raw,
        source=f"{file.path.name} (TMY3)",
        typical=True,
        longest_gap=longest_gap,
    )


def _location(file: TextFile) -> Station:
    cells = [cell.strip().strip('"') for cell in file.lines[0].split(",")]
    if len(cells) < 7:
        raise file.error(
            "the first line must be station, name, state, time zone, latitude, longitude, "
            "elevation",
            line=1,
        )
    return station_of(file, cells, latitude=4, longitude=5, zone=3, elevation=6)


def _order(file: TextFile, rows: list[list[str]], longest_gap: int) -> HourOrder:
    stamps = np.zeros((4, len(rows)), dtype=np.int64)
    for number, row in enumerate(rows):
        date, time = row[0].strip().split("/"), row[1].strip().split(":")
        if len(date) != 3 or not all(_small_number(part) for part in date):
            raise file.error(
                f"'{row[0].strip()[:20]}' is not a date MM/DD/YYYY",
                line=number + 3,
                column="1 (date)",
            )
        if len(time) != 2 or not _small_number(time[0]) or time[1] != "00":
            raise file.error(
                f"'{row[1].strip()[:20]}' is not a full hour HH:00",
                line=number + 3,
                column="2 (time)",
            )
        stamps[:, number] = int(date[2]), int(date[0]), int(date[1]), int(time[0])
    return order_hours(file, 2, stamps[0], stamps[1], stamps[2], stamps[3], longest_gap)


def _small_number(text: str) -> bool:
    return text.isascii() and text.isdecimal() and len(text) <= 4


def _raw_year(file: TextFile, rows: list[list[str]], names: list[str], order: HourOrder) -> RawYear:
    at = {name.upper(): index for index, name in enumerate(names)}

    def column(field: str, scale: float = 1.0) -> Series:
        name, low, high = _COLUMNS[field]
        if name.upper() not in at:
            raise file.error(f"no column '{name}' in the heading", line=2)
        which = Column(name, at[name.upper()], low, high, missing_codes=_MISSING)
        return order.spread(figures(file, rows, 2, which)) * scale

    unknown = np.full(order.count, np.nan)
    hours = column("hours")
    hours = np.where(hours >= _UNKNOWN_HOURS, np.nan, hours)
    return RawYear(
        air_temperature=column("air_temperature"),
        dew_point=column("dew_point"),
        relative_humidity=column("relative_humidity", 0.01),
        pressure=column("pressure", 100.0),
        global_horizontal=column("global_horizontal"),
        direct_normal=column("direct_normal"),
        diffuse_horizontal=column("diffuse_horizontal"),
        sky_infrared=unknown,
        opaque_cover=column("opaque_cover", 0.1),
        total_cover=column("total_cover", 0.1),
        wind_speed=column("wind_speed"),
        wind_direction=column("wind_direction"),
        precipitation=share_out_totals(column("precipitation"), hours),
        snow_depth=unknown,
        line=order.spread(series(np.arange(len(rows)) + 3.0)),
    )
