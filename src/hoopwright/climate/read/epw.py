"""The EPW hourly weather file: eight header lines, then 35 columns an hour.

Layout: EnergyPlus Auxiliary Programs, 'EnergyPlus Weather File (EPW) Data Dictionary'
(secondary copies), with its ranges and its codes for missing values.
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

LAYOUT = "an EPW file has 35 columns an hour (32 to 34 where the last are left out)"

YEAR = Column("year", 0, 1800, 2300)
MONTH = Column("month", 1, -1e9, 1e9)
DAY = Column("day", 2, -1e9, 1e9)
HOUR = Column("hour", 3, -1e9, 1e9)
AIR = Column("dry bulb [degC]", 6, -70, 70, missing_from=99)
DEW = Column("dew point [degC]", 7, -90, 70, missing_from=99)
HUMIDITY = Column("relative humidity [%]", 8, 0, 110, missing_from=999)
PRESSURE = Column("pressure [Pa]", 9, 31000, 120000, missing_from=999999)
INFRARED = Column("horizontal infrared [Wh/m2]", 12, 0, 700, missing_from=9999)
GLOBAL = Column("global horizontal [Wh/m2]", 13, 0, 1600, missing_from=9999)
DIRECT = Column("direct normal [Wh/m2]", 14, 0, 1500, missing_from=9999)
DIFFUSE = Column("diffuse horizontal [Wh/m2]", 15, 0, 1000, missing_from=9999)
DIRECTION = Column("wind direction [deg]", 20, 0, 360, missing_from=999)
WIND = Column("wind speed [m/s]", 21, 0, 60, missing_from=999)
TOTAL_COVER = Column("total sky cover [tenths]", 22, 0, 10, missing_from=99)
OPAQUE_COVER = Column("opaque sky cover [tenths]", 23, 0, 10, missing_from=99)
SNOW = Column("snow depth [cm]", 30, 0, 900, missing_from=999)
LIQUID = Column("liquid precipitation [mm]", 33, 0, 2000, missing_from=999)
QUANTITY = Column("precipitation hours [h]", 34, 0, 98, missing_from=99)


def is_epw(lines: list[str]) -> bool:
    """Return whether a file's first line is that of an EPW."""
    return lines[0].lstrip().upper().startswith("LOCATION")


def epw_weather(file: TextFile, longest_gap: int = 6) -> Weather:
    """Return the weather of an EPW text already loaded."""
    station = _location(file)
    first = _first_data_line(file)
    rows = split_rows(file, first, 32, 35, LAYOUT)
    order = _order(file, rows, first, longest_gap)
    raw = _raw_year(file, rows, first, order)
    _, _, _, _, source, *_ = [cell.strip() for cell in file.lines[0].split(",")]
    label = " ".join(file.lines[:8]).upper()
    typical = order.stitched or any(
        word in label for word in ("TMY", "TYPICAL METEOROLOGICAL", "IWEC", "CWEC", "TRY,")
    )
    return assemble(
        file,
        station,
        order,
        raw,
        source=f"{file.path.name} (EPW, {source or 'source not named'})",
        typical=typical,
        longest_gap=longest_gap,
    )


def _location(file: TextFile) -> Station:
    cells = [cell.strip() for cell in file.lines[0].split(",")]
    if not is_epw(file.lines) or len(cells) < 10:
        raise file.error(
            "the first line must be LOCATION with name, state, country, source, station, "
            "latitude, longitude, time zone and elevation",
            line=1,
        )
    return station_of(file, cells, latitude=6, longitude=7, zone=8, elevation=9)


def _first_data_line(file: TextFile, furthest: int = 40) -> int:
    for number, line in enumerate(file.lines[:furthest]):
        cells = line.split(",")
        if cells[0].strip().upper() != "DATA PERIODS":
            continue
        if len(cells) > 2 and cells[2].strip() not in ("", "1"):
            raise file.error(
                f"{cells[2].strip()} records an hour; one an hour is wanted",
                line=number + 1,
                column="3 (records an hour)",
            )
        if len(cells) > 1 and cells[1].strip() not in ("", "1"):
            raise file.error(
                f"{cells[1].strip()} data periods; one whole year is wanted",
                line=number + 1,
                column="2 (data periods)",
            )
        return number + 1
    raise file.error(
        "no DATA PERIODS line; an EPW has eight header lines that end with it",
        line=min(len(file.lines), 8),
    )


def _order(file: TextFile, rows: list[list[str]], first: int, longest_gap: int) -> HourOrder:
    stamps = [figures(file, rows, first, column) for column in (YEAR, MONTH, DAY, HOUR)]
    for values, column in zip(stamps, (YEAR, MONTH, DAY, HOUR), strict=True):
        broken = np.flatnonzero(values != np.round(values))
        if broken.size:
            at = int(broken[0])
            raise file.error(
                f"{rows[at][column.index].strip()} is not a whole number",
                line=first + at + 1,
                column=column.place,
            )
    year, month, day, hour = (values.astype(np.int64) for values in stamps)
    return order_hours(file, first, year, month, day, hour, longest_gap)


def _raw_year(file: TextFile, rows: list[list[str]], first: int, order: HourOrder) -> RawYear:
    def column(which: Column, scale: float = 1.0) -> Series:
        return order.spread(figures(file, rows, first, which)) * scale

    infrared = column(INFRARED)
    infrared = np.where(infrared <= 0, np.nan, infrared)
    width = len(rows[0])
    unknown = np.full(order.count, np.nan)
    depth = column(LIQUID) if width > LIQUID.index else unknown
    hours = column(QUANTITY) if width > QUANTITY.index else unknown
    return RawYear(
        air_temperature=column(AIR),
        dew_point=column(DEW),
        relative_humidity=column(HUMIDITY, 0.01),
        pressure=column(PRESSURE),
        global_horizontal=column(GLOBAL),
        direct_normal=column(DIRECT),
        diffuse_horizontal=column(DIFFUSE),
        sky_infrared=infrared,
        opaque_cover=column(OPAQUE_COVER, 0.1),
        total_cover=column(TOTAL_COVER, 0.1),
        wind_speed=column(WIND),
        wind_direction=column(DIRECTION),
        precipitation=share_out_totals(depth, hours),
        snow_depth=column(SNOW, 0.01),
        line=order.spread(series(np.arange(len(rows)) + first + 1.0)),
    )
