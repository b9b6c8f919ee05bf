"""A made-up year as EPW and TMY3 text, to read, to break, and to read again."""

import numpy as np

from hoopwright.climate.demo import demo_weather
from hoopwright.climate.weather import Weather

MONTH_DAYS = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31]

HEADER = [
    "LOCATION,Marrow Valley,XX,INV,invented,999999,44.00,-110.00,-7.0,2050.0",
    "DESIGN CONDITIONS,0",
    "TYPICAL/EXTREME PERIODS,0",
    "GROUND TEMPERATURES,0",
    "HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0",
    "COMMENTS 1,made up",
    "COMMENTS 2,made up",
    "DATA PERIODS,1,1,Data,Sunday,1/ 1,12/31",
]
"""Eight header lines, so that data line n of the year stands in line n + 8."""


def stamps(year=2001):
    for month, days in enumerate(MONTH_DAYS, start=1):
        for day in range(1, days + 1):
            for hour in range(1, 25):
                yield year, month, day, hour


def made_up_year() -> Weather:
    return next(demo_weather(1))


def epw_lines(weather: Weather) -> list[str]:
    """Return header and 8760 rows; infrared missing, snow and rain known."""
    lines = list(HEADER)
    humidity = np.full(len(weather), 999)
    for hour, (year, month, day, clock) in enumerate(stamps()):
        cover = f"{10 * weather.sky_cover[hour]:.0f}"
        cells = [
            str(year), str(month), str(day), str(clock), "0", "?9?9?9?9E0",
            f"{weather.air_temperature[hour]:.2f}", f"{weather.dew_point[hour]:.2f}",
            str(humidity[hour]), f"{weather.pressure[hour]:.0f}", "0", "0", "9999",
            f"{weather.global_horizontal[hour]:.1f}", f"{weather.direct_normal[hour]:.1f}",
            f"{weather.diffuse_horizontal[hour]:.1f}", "0", "0", "0", "0",
            f"{weather.wind_direction[hour]:.0f}", f"{weather.wind_speed[hour]:.2f}", cover, cover,
            "16.1", "77777", "9", "999999999", "60", "0.0410",
            f"{100 * weather.snow_depth[hour]:.1f}", "88", "0.200",
            f"{weather.precipitation[hour]:.2f}", "1.0",
        ]  # fmt: skip
        lines.append(",".join(cells))
    return lines


TMY3_NAMES = [
    "Date (MM/DD/YYYY)", "Time (HH:MM)", "GHI (W/m^2)", "DNI (W/m^2)", "DHI (W/m^2)",
    "TotCld (tenths)", "OpqCld (tenths)", "Dry-bulb (C)", "Dew-point (C)", "RHum (%)",
    "Pressure (mbar)", "Wdir (degrees)", "Wspd (m/s)", "Lprecip depth (mm)",
    "Lprecip quantity (hr)",
]  # fmt: skip


def tmy3_lines(weather: Weather, width: int = 71) -> list[str]:
    """Return a TMY3 text; columns nobody reads are filled up to the format's width."""
    names = TMY3_NAMES + [f"unread {n}" for n in range(width - len(TMY3_NAMES))]
    filling = ["0"] * (width - len(TMY3_NAMES))
    lines = ['999999,"MARROW VALLEY",XX,-7.0,44.000,-110.000,2050', ",".join(names)]
    for hour, (_, month, day, clock) in enumerate(stamps()):
        cover = f"{10 * weather.sky_cover[hour]:.0f}"
        cells = [
            f"{month:02d}/{day:02d}/2001", f"{clock:02d}:00",
            f"{weather.global_horizontal[hour]:.1f}", f"{weather.direct_normal[hour]:.1f}",
            f"{weather.diffuse_horizontal[hour]:.1f}", cover, cover,
            f"{weather.air_temperature[hour]:.2f}", f"{weather.dew_point[hour]:.2f}", "-9900",
            f"{weather.pressure[hour] / 100:.2f}", f"{weather.wind_direction[hour]:.0f}",
            f"{weather.wind_speed[hour]:.2f}", "-9900", "-9900", *filling,
        ]  # fmt: skip
        lines.append(",".join(cells))
    return lines
