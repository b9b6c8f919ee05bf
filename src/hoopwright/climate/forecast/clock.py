"""The clock of a place: its zone, its standard time, and the wall clock over summer time."""

from datetime import datetime, timedelta, timezone
from zoneinfo import ZoneInfo, ZoneInfoNotFoundError

from hoopwright.climate.forecast.form import ForecastError
from hoopwright.site.zone import zone_name


def zone_at(latitude: float, longitude: float) -> str:
    """Return the IANA name of the zone at a place [deg], or raise where none is known."""
    found = zone_name(latitude, longitude)
    if not found:
        raise ForecastError(f"no time zone is known at {latitude:g}, {longitude:g}; name one")
    return found


def zone(name: str) -> ZoneInfo:
    """Return a zone by its IANA name."""
    try:
        return ZoneInfo(name)
    except (ZoneInfoNotFoundError, ValueError, OSError):
        raise ForecastError(f"no time zone is called {name[:60]!r}") from None


def standard_offset(name: str, year: int) -> float:
    """Return the offset [h] of standard time from universal time in a year.

    The lesser of January's and July's offset, so that it holds on both halves of the globe and
    where summer time is law and winter time the exception.
    """
    place = zone(name)
    offsets = [datetime(year, month, 1, 12, tzinfo=place).utcoffset() for month in (1, 7)]
    return min(offset.total_seconds() / 3600 for offset in offsets if offset is not None)


def wall_clock(standard: datetime, offset: float, name: str) -> datetime:
    """Return a moment of local standard time (naive) as the wall clock shows it, zone attached."""
    moment = standard.replace(tzinfo=timezone(timedelta(hours=offset)))
    return moment.astimezone(zone(name))
