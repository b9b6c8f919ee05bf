"""Opening advice for one day in the reader's units and clock."""

from __future__ import annotations

from datetime import datetime

from hoopwright.climate.forecast.clock import wall_clock
from hoopwright.climate.forecast.form import Forecast
from hoopwright.season.tomorrow import Tomorrow, three_lines
from hoopwright.units import System, show


def day_lines(found: Tomorrow, forecast: Forecast, system: System) -> list[str]:
    """Return the three lines of advice, then any warning of storm, snow or hail."""
    offset = forecast.weather.station.utc_offset

    def clock(standard: datetime) -> str:
        at = wall_clock(standard, offset, forecast.time_zone)
        if system.name == "us":
            hour = at.hour % 12 or 12
            return f"{hour}:{at.minute:02d} {'am' if at.hour < 12 else 'pm'}"
        return f"{at.hour}:{at.minute:02d}"

    lines = three_lines(
        found,
        lambda value: show(value, "temperature", system),
        lambda value: show(value, "temperature difference", system),
        lambda value: show(value, "tape", system),
        clock,
    )
    warnings = [
        warning.sentence(
            lambda value: show(value, "speed", system), lambda value: show(value, "depth", system)
        )
        for warning in found.warnings
    ]
    return [*lines, *warnings]
