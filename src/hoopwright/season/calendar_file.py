"""The season as an iCalendar file (RFC 5545) for any calendar program.

The general-purpose library `icalendar` writes it, imported only when asked for. Days are
whole-day events; visits at an hour carry the wall clock's zone, so that they stay right across
the change to summer time.
"""

from collections.abc import Iterable, Sequence
from datetime import UTC, date, datetime, timedelta
from typing import Literal
from uuid import NAMESPACE_URL, uuid5

from hoopwright.climate.forecast.clock import wall_clock
from hoopwright.frozen import dataclass
from hoopwright.season.bed_years import YEAR, SeasonError
from hoopwright.season.opening import HalfMonth, film_changes
from hoopwright.season.windows import Window

Deed = Literal["sow", "plant", "open", "close", "film", "inspect"]


@dataclass(frozen=True)
class Event:
    """One thing to do.

    day    : the date
    hour   : [h] local STANDARD time, or None for the whole day
    length : [min] it takes, where it has an hour
    """

    deed: Deed
    day: date
    summary: str
    description: str = ""
    hour: float | None = None
    length: int = 15


@dataclass(frozen=True)
class Clock:
    """The place's clock: IANA zone and offset of its standard time from universal time [h]."""

    zone: str
    offset: float


def calendar_text(
    events: Iterable[Event], clock: Clock, bed: str, made: datetime | None = None
) -> bytes:
    """Return the iCalendar file of events, sorted by date.

    bed  : names the calendar and keeps the events' identities apart
    made : time stamp with its zone; the events' identities do not depend on it, so a file read
           again replaces its events and does not double them
    """
    import icalendar  # wanted by this file alone

    stamp = made or datetime.now(UTC)
    held = icalendar.Calendar()
    held.add("prodid", "-//Hoopwright//season//EN")
    held.add("version", "2.0")
    held.add("name", bed)  # RFC 7986, 5.1
    zoned = False
    for event in sorted(events, key=lambda one: (one.day, one.hour or 0.0, one.summary)):
        entry = icalendar.Event()
        named = (
            f"hoopwright:{bed}:{event.deed}:{event.day.isoformat()}:{event.hour}:{event.summary}"
        )
        entry.add("uid", f"{uuid5(NAMESPACE_URL, named)}@hoopwright")
        entry.add("dtstamp", stamp.astimezone(UTC))
        entry.add("summary", event.summary)
        entry.add("categories", [event.deed])
        if event.description:
            entry.add("description", event.description)
        if event.hour is None:
            entry.add("dtstart", event.day)
            entry.add("dtend", event.day + timedelta(days=1))
            entry.add("transp", "TRANSPARENT")
        else:
            begins = begins_at(event, clock)
            entry.add("dtstart", begins)
            entry.add("dtend", begins + timedelta(minutes=event.length))
            zoned = True
        held.add_component(entry)
    if zoned:
        held.add_missing_timezones()
    found = held.to_ical()
    assert isinstance(found, bytes)
    return found


def begins_at(event: Event, clock: Clock) -> datetime:
    """Return the wall-clock time of an event with an hour, its zone attached."""
    if event.hour is None:
        raise SeasonError("a whole-day event has no hour")
    midnight = datetime(event.day.year, event.day.month, event.day.day)
    standard = midnight + timedelta(minutes=round(60 * event.hour))
    return wall_clock(standard, clock.offset, clock.zone)


def day_of(year: int, day: int) -> date:
    """Return the date of a day counted from 1 January (0) of a common year, 29 February skipped."""
    turns, rest = divmod(day, YEAR)
    common = date(2001, 1, 1) + timedelta(days=rest)
    return date(year + turns, common.month, common.day)


def window_events(found: Window, name: str, planted: bool, year: int) -> list[Event]:
    """Return an event on the first and on the last safe day to start a crop.

    name : of the crop; planted : it is planted, not sown
    """
    if found.earliest is None or found.latest is None:
        return []
    deed: Deed = "plant" if planted else "sow"
    verb = deed.capitalize()
    odds = f"Lost in about 1 year of {1 / found.risk:.0f} or fewer." if found.risk > 0 else ""
    ripe = found.harvest.middle
    harvest = f" First harvest about {day_of(year, round(ripe)):%d %B %Y}." if ripe == ripe else ""
    where = f"Under: {found.cover}. {odds}"
    said = [
        Event(
            deed,
            day_of(year, found.earliest.day),
            f"{verb} {name}: first safe day",
            where + harvest,
        )
    ]
    if found.latest.day > found.earliest.day:
        last = day_of(year, found.latest.day)
        said.append(Event(deed, last, f"{verb} {name}: last safe day", where))
    return said


def opening_events(calendar: Sequence[HalfMonth], year: int) -> list[Event]:
    """Return an event wherever the way to run the cover changes, and each film change."""
    found = []
    for before, now in zip([calendar[-1], *calendar[:-1]], calendar, strict=True):
        if now.opening == before.opening:
            continue
        deed: Deed = "close" if now.opening.way == "closed" else "open"
        if "off" in (now.opening.way, before.opening.way):
            continue
        found.append(Event(deed, date(year, *now.first), _way_words(now), now.sentence))
    for day, change in film_changes(calendar):
        words = "Take the film off, mesh or shade on" if change == "off" else "Put the film on"
        found.append(Event("film", date(year, *day), words))
    return found


def _way_words(half: HalfMonth) -> str:
    return {
        "closed": "From now keep the cover shut",
        "days": "From now open the cover by day",
        "visits": "From now open the cover on warm days",
        "opener": "From now the opener works the cover",
        "always": "From now leave the cover open",
        "off": "Take the film off",
    }[half.opening.way]


def inspection_events(year: int, months: Sequence[int] = (3, 6, 9, 12)) -> list[Event]:
    """Return an inspection on the first of each month named; four a year is common practice."""
    said = "Film, straps, screws, rails and hold-down; see the care page of the build sheet."
    return [Event("inspect", date(year, month, 1), "Inspect the bed", said) for month in months]
