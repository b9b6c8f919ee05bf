"""Opening advice for one day in the reader's units and clock."""

from datetime import date, datetime

from hoopwright.climate.forecast.clock import wall_clock
from hoopwright.climate.forecast.form import Forecast
from hoopwright.design.flow import Design
from hoopwright.season.tomorrow import Tomorrow, three_lines
from hoopwright.units import MONTH_NAMES, show


def off_words(design: Design, day: date) -> list[str]:
    """Return that the plan has the cover off on a day, where it has."""
    on, until = design.plan.season.cover_from, design.plan.season.cover_until
    at = (day.month, day.day)
    if (on <= at <= until) if on <= until else (at >= on or at <= until):
        return []
    first, last = (f"{which} {MONTH_NAMES[month - 1]}" for month, which in (on, until))
    return [
        f"The plan has the cover off on this day (on from {first} to {last}): what follows is for "
        "a cover that is on."
    ]


def day_lines(found: Tomorrow, forecast: Forecast, design: Design) -> list[str]:
    """Return that the cover is off, if it is, three lines of advice, and any warning."""
    offset, system = forecast.weather.station.utc_offset, design.system

    def clock(standard: datetime) -> str:
        at = wall_clock(standard, offset, forecast.time_zone)
        return show(at.hour + at.minute / 60, "clock", system)

    def moment(standard: datetime) -> str:
        """Return a day and an hour: what is warned of is known by the hour alone."""
        at = wall_clock(standard, offset, forecast.time_zone)
        return f"{at:%A} about {clock(standard)}"

    lines = three_lines(
        found,
        lambda value: show(value, "temperature", system),
        lambda value: show(value, "temperature difference", system),
        lambda value: show(value, "depth", system),
        clock,
    )
    warnings = [
        warning.sentence(
            lambda value: show(value, "speed", system),
            lambda value: show(value, "depth", system),
            moment,
        )
        for warning in found.warnings
    ]
    return [*off_words(design, found.day), *lines, *warnings]
