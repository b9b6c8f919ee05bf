"""The station as a weather file's first line gives it."""

from __future__ import annotations

from hoopwright.climate.read.columns import Column, figures
from hoopwright.climate.read.plausible import refuse_far_zone
from hoopwright.climate.read.text import TextFile
from hoopwright.climate.weather import Station


def station_of(
    file: TextFile, cells: list[str], latitude: int, longitude: int, zone: int, elevation: int
) -> Station:
    """Return the station whose name stands second in `cells`, and the rest at these places."""

    def read(name: str, place: int, low: float, high: float) -> float:
        return float(figures(file, [cells], 0, Column(name, place, low, high))[0])

    station = Station(
        cells[1] or "unnamed",
        read("latitude [deg]", latitude, -90, 90),
        read("longitude [deg]", longitude, -180, 180),
        read("elevation [m]", elevation, -450, 9000),
        read("time zone [h]", zone, -12, 14),
    )
    refuse_far_zone(file, station, line=1, column=Column("time zone [h]", zone, -12, 14).place)
    return station
