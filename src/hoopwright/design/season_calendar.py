"""What to do when, as a calendar file: sow, plant, open, close, change the film, inspect."""

from hoopwright.climate.demo import DEMO_STATION
from hoopwright.climate.forecast.clock import standard_offset, zone_at
from hoopwright.design.season_report import SeasonReport
from hoopwright.plan.model import Plan
from hoopwright.season.calendar_file import (
    Clock,
    calendar_text,
    inspection_events,
    opening_events,
    window_events,
)


def season_calendar(plan: Plan, report: SeasonReport, year: int) -> bytes:
    """Return the season of a plan in a year as iCalendar (RFC 5545), by the clock of the place."""
    site, own = plan.site, report.covers[1].name
    latitude = DEMO_STATION.latitude if site.latitude is None else site.latitude
    longitude = DEMO_STATION.longitude if site.longitude is None else site.longitude
    zone = zone_at(latitude, longitude)
    events = [
        event
        for key, row in report.windows.items()
        for event in window_events(
            row[own], report.crops[key].name, report.crops[key].planted, year
        )
    ]
    events += [*opening_events(report.calendar, year), *inspection_events(year)]
    return calendar_text(events, Clock(zone, standard_offset(zone, year)), plan.name)
