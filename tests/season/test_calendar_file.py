"""The calendar file, written and read back by the general-purpose library icalendar."""

from datetime import UTC, date, datetime
from zoneinfo import ZoneInfo

import icalendar
import numpy as np
import pytest

from hoopwright.climate.forecast.clock import standard_offset
from hoopwright.season.bed_years import BedYears, Digest
from hoopwright.season.calendar_file import (
    Clock,
    Event,
    calendar_text,
    day_of,
    inspection_events,
    opening_events,
    window_events,
)
from hoopwright.season.crops import crop
from hoopwright.season.opening import HalfMonth
from hoopwright.season.opening_options import Opening
from hoopwright.season.windows import window

DENVER = Clock("America/Denver", standard_offset("America/Denver", 2026))
MADE = datetime(2026, 1, 2, 3, 4, 5, tzinfo=UTC)


def read(text: bytes):
    return icalendar.Calendar.from_ical(text)


def test_every_event_comes_back_as_it_was_given() -> None:
    events = [
        Event("sow", date(2026, 4, 20), "Sow peas; first safe day", "A line\nand, another; one"),
        Event("film", date(2026, 6, 1), "Take the film off — mesh on"),
        Event("open", date(2026, 5, 1), "Open the cover", hour=7.5),
        Event("inspect", date(2026, 12, 31), "Inspect"),
    ]
    back = read(calendar_text(events, DENVER, "the long bed", MADE)).walk("VEVENT")
    assert len(back) == len(events)
    for event in events:
        found = next(e for e in back if str(e["summary"]) == event.summary)
        assert str(found.get("description", "")) == event.description
        assert found["categories"].to_ical().decode() == event.deed
        start = found.decoded("dtstart")
        if event.hour is None:
            assert start == event.day
            assert (found.decoded("dtend") - start).days == 1
        else:
            assert start.date() == event.day


@pytest.mark.parametrize(
    ("zone", "before", "after"),
    [
        ("America/Denver", date(2026, 3, 7), date(2026, 3, 9)),
        ("Europe/Berlin", date(2026, 3, 28), date(2026, 3, 30)),
    ],
)
def test_visits_keep_the_sun_across_the_change_to_summer_time(zone, before, after) -> None:
    """7:30 standard time is 7:30 on the wall before the change and 8:30 after it.

    Dates of the change: the U.S. Energy Policy Act of 2005 (second Sunday of March) and EU
    directive 2000/84/EC (last Sunday of March).
    """
    clock = Clock(zone, standard_offset(zone, 2026))
    days = (before, after)
    events = [Event("open", day, "Open the cover", hour=7.5) for day in days]
    back = read(calendar_text(events, clock, "bed", MADE))
    opens = {
        e.decoded("dtstart").date(): e.decoded("dtstart")
        for e in back.walk("VEVENT")
        if str(e["summary"]).startswith("Open")
    }
    assert (opens[before].hour, opens[before].minute) == (7, 30)
    assert (opens[after].hour, opens[after].minute) == (8, 30)
    apart = opens[after].astimezone(UTC) - opens[before].astimezone(UTC)
    assert apart.total_seconds() == 2 * 86400
    assert opens[before].utcoffset() != opens[after].utcoffset()
    assert back.walk("VTIMEZONE")
    expected = datetime(after.year, after.month, after.day, 8, 30, tzinfo=ZoneInfo(zone))
    assert opens[after].astimezone(UTC) == expected.astimezone(UTC)


def test_lines_and_identities_follow_rfc_5545() -> None:
    """RFC 5545, 3.1: CRLF ends, lines of at most 75 octets; 3.8.4.7: identities unique."""
    events = [
        Event("sow", date(2026, 4, day), "Sow " + "very long words " * 12) for day in range(1, 29)
    ]
    text = calendar_text(events, DENVER, "bed", MADE)
    assert text.endswith(b"END:VCALENDAR\r\n")
    lines = text.split(b"\r\n")
    assert max(len(line) for line in lines) <= 75
    assert b"\n" not in text.replace(b"\r\n", b"")
    identities = [str(e["uid"]) for e in read(text).walk("VEVENT")]
    assert len(set(identities)) == len(events)
    assert read(text).errors == []


def test_the_same_season_gives_the_same_file() -> None:
    events = inspection_events(2026)
    assert calendar_text(events, DENVER, "bed", MADE) == calendar_text(
        list(reversed(events)), DENVER, "bed", MADE
    )
    later = calendar_text(events, DENVER, "bed", MADE.replace(year=2027))
    first = {str(e["uid"]) for e in read(calendar_text(events, DENVER, "bed", MADE)).walk("VEVENT")}
    assert first == {str(e["uid"]) for e in read(later).walk("VEVENT")}


def test_windows_become_sowing_and_planting_days() -> None:
    days = np.arange(365)
    mean = 12.0 - 12.0 * np.cos(2 * np.pi * (days - 20) / 365)
    hours = np.broadcast_to(np.repeat(mean, 24), (12, 8760))
    digest = Digest(BedYears("film", hours, hours, hours))
    found = window(crop("lettuce-leaf"), digest)
    assert found.earliest is not None
    events = window_events(found, "leaf lettuce", planted=False, year=2027)
    assert events[0].day == day_of(2027, found.earliest.day)
    assert events[0].deed == "sow"
    assert "First harvest about" in events[0].description
    assert "1 year of 10" in events[0].description


def test_days_of_the_year_skip_the_leap_day() -> None:
    assert day_of(2028, 58) == date(2028, 2, 28)
    assert day_of(2028, 59) == date(2028, 3, 1)
    assert day_of(2027, 365) == date(2028, 1, 1)


def half(number: int, opening: Opening) -> HalfMonth:
    return HalfMonth(number // 2 + 1, number % 2 + 1, opening, opening.way == "off", 0, 0, 0, 0, "")


def test_the_opening_calendar_becomes_events_where_it_changes() -> None:
    shut, days, off = Opening("closed"), Opening("days", 0.2), Opening("off")
    calendar = [
        half(n, off if 11 <= n <= 15 else days if 6 <= n <= 19 else shut) for n in range(24)
    ]
    events = opening_events(calendar, 2026)
    assert [(e.deed, e.day) for e in sorted(events, key=lambda e: e.day)] == [
        ("open", date(2026, 4, 1)),
        ("film", date(2026, 6, 16)),
        ("film", date(2026, 9, 1)),
        ("close", date(2026, 11, 1)),
    ]
