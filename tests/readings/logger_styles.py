"""Odd logger files, written in the styles of common exports; no product is named or copied.

Every style writes the same truth: hourly or quarter-hourly temperatures in the open and under a
cover over some days of an invented April. `STYLES` maps a name to (bytes of the file, offset [h] of
its clock from local standard time, answers a person must give).
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from typing import Any

START = datetime(2026, 4, 9, 0, 0)
DAYS = 12


def truth(when: datetime) -> tuple[float, float]:
    """Return (inside, outside) [degC] at a time of local standard time."""
    hour = (when - START).total_seconds() / 3600
    outside = 6.0 + 7.5 * math.sin(2 * math.pi * (hour - 9) / 24) + 1.5 * math.sin(hour / 31)
    sun = max(0.0, math.sin(2 * math.pi * (hour - 6) / 24))
    return outside + 1.6 + 9.0 * sun, outside


def moments(minutes: int = 60, days: int = DAYS) -> list[datetime]:
    """Return times every so many minutes."""
    return [START + timedelta(minutes=minutes * n) for n in range(days * 1440 // minutes)]


@dataclass(frozen=True)
class Style:
    """One file: its bytes, and what a person must say of it."""

    data: bytes
    answers: dict[str, Any] = field(default_factory=dict)
    offset: float | None = None
    only: str = ""
    shift: float = 0.0
    asks: bool = False


def f(value: float) -> float:
    """Return degrees F."""
    return value * 1.8 + 32


def table(
    head: str,
    row: Callable[[int, datetime, float, float], str],
    *,
    before: Sequence[str] = (),
    after: Sequence[str] = (),
    times: Sequence[datetime] | None = None,
    newline: str = "\n",
    encoding: str = "utf-8",
) -> bytes:
    """Return a file of one style."""
    lines = [*before] + ([head] if head else [])
    for number, when in enumerate(times or moments(), 1):
        lines.append(row(number, when, *truth(when)))
    return (newline.join([*lines, *after]) + newline).encode(encoding)


def later(when: datetime, hours: int) -> datetime:
    """Return a time some hours on."""
    return when + timedelta(hours=hours)


def comma(value: float, places: int = 1) -> str:
    """Return a number with a decimal comma."""
    return f"{value:.{places}f}".replace(".", ",")


def styles() -> dict[str, Style]:
    """Return every style by a name that says what is odd in it."""
    plain = "Time,Inside (°C),Outside (°C)"
    return {
        "iso": Style(table(plain, lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M:%S},{i:.2f},{o:.2f}")),
        "iso-t": Style(table(plain, lambda n, t, i, o: f"{t:%Y-%m-%dT%H:%M},{i:.1f},{o:.1f}")),
        "iso-z": Style(
            table(
                plain,
                lambda n, t, i, o: f"{t + timedelta(hours=7):%Y-%m-%dT%H:%M:%SZ},{i:.2f},{o:.2f}",
            ),
            offset=0.0,
        ),
        "iso-offset": Style(
            table(plain, lambda n, t, i, o: f"{t:%Y-%m-%dT%H:%M:%S}-07:00,{i:.2f},{o:.2f}"),
            offset=-7.0,
        ),
        "iso-summer-offset": Style(
            table(
                plain,
                lambda n, t, i, o: f"{later(t, 1):%Y-%m-%dT%H:%M:%S}-06:00,{i:.2f},{o:.2f}",
            ),
            offset=-6.0,
        ),
        "us-am-pm": Style(
            table(
                '"row","local time, UTC-07:00","inside the cover, °F","outside in shade, °F"',
                lambda n, t, i, o: f"{n},{t:%m/%d/%y %I:%M:%S %p},{f(i):.3f},{f(o):.3f}",
                before=['"readings of an invented bed"'],
            ),
            offset=-7.0,
        ),
        "us-short": Style(
            table(
                "Timestamp,Indoor Temperature(F),Indoor Humidity(%),Outdoor Temperature(F)",
                lambda n, t, i, o: (
                    f"{t.month}/{t.day}/{t.year} {t.hour}:{t.minute:02d},{f(i):.1f},61,{f(o):.1f}"
                ),
            )
        ),
        "us-24h-crlf": Style(
            table(
                "Date/Time,Under Cover F,Ambient F",
                lambda n, t, i, o: f"{t:%m/%d/%Y %H:%M},{f(i):.1f},{f(o):.1f}",
                newline="\r\n",
            )
        ),
        "date-time-apart": Style(
            table(
                "Date,Time,Inside C,Outside C",
                lambda n, t, i, o: f"{t:%Y-%m-%d},{t:%H:%M:%S},{i:.1f},{o:.1f}",
            )
        ),
        "date-time-apart-am-pm": Style(
            table(
                "Date,Time,Inside F,Outside F",
                lambda n, t, i, o: f"{t:%m/%d/%Y},{t:%I:%M %p},{f(i):.1f},{f(o):.1f}",
            )
        ),
        "semicolon-comma": Style(
            table(
                "Datum;Inside °C;Outside °C",
                lambda n, t, i, o: f"{t:%d.%m.%Y %H:%M};{comma(i)};{comma(o)}",
            )
        ),
        "semicolon-comma-latin": Style(
            table(
                "Datum/Uhrzeit;Temperatur inside [°C];Temperatur outside [°C];Batterie [V]",
                lambda n, t, i, o: f"{t:%d.%m.%y %H:%M:%S};{comma(i, 2)};{comma(o, 2)};2,98",
                encoding="cp1252",
            )
        ),
        "semicolon-point": Style(
            table(
                "time;inside_c;outside_c",
                lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M:%S};{i:.3f};{o:.3f}",
            )
        ),
        "comma-quoted-decimals": Style(
            table(
                "Time,Inside °C,Outside °C",
                lambda n, t, i, o: f'{t:%d/%m/%Y %H:%M},"{comma(i)}","{comma(o)}"',
            )
        ),
        "tab": Style(
            table(
                "Time\tProbe (C)\tAmbient (C)",
                lambda n, t, i, o: f"{t:%Y/%m/%d %H:%M}\t{i:.2f}\t{o:.2f}",
            )
        ),
        "tab-utf16": Style(
            table(
                "Date\tInside °C\tOutside °C",
                lambda n, t, i, o: f"{t:%d-%m-%Y %H:%M:%S}\t{i:.2f}\t{o:.2f}",
                encoding="utf-16",
            )
        ),
        "pipe-named-month": Style(
            table(
                "When|In C|Out C",
                lambda n, t, i, o: f"{t:%d-%b-%Y %H:%M}|{i:.1f}|{o:.1f}",
            )
        ),
        "named-month-first": Style(
            table(
                "When;Inside (°F);Outside (°F)",
                lambda n, t, i, o: f"{t:%b %d, %Y %I:%M %p};{f(i):.1f};{f(o):.1f}",
            )
        ),
        "epoch": Style(
            table(
                "ts,inside_temp_c,outside_temp_c",
                lambda n, t, i, o: f"{_epoch(t)},{i:.2f},{o:.2f}",
            ),
            offset=0.0,
        ),
        "epoch-ms": Style(
            table(
                "time_ms,inside C,outside C,rssi",
                lambda n, t, i, o: f"{_epoch(t)}000,{i:.2f},{o:.2f},-71",
            ),
            offset=0.0,
        ),
        "spreadsheet-days": Style(
            table(
                "Date,Inside C,Outside C",
                lambda n, t, i, o: (
                    f"{(t - datetime(1899, 12, 30)).total_seconds() / 86400:.6f},{i:.2f},{o:.2f}"
                ),
            )
        ),
        "compact": Style(
            table(
                "stamp,inside C,outside C",
                lambda n, t, i, o: f"{t:%Y%m%d%H%M%S},{i:.2f},{o:.2f}",
            )
        ),
        "long-preamble": Style(
            table(
                "No.,Time,Temperature inside°C,Humidity%RH,Temperature outside°C",
                lambda n, t, i, o: f"{n},{t:%Y-%m-%d %H:%M:%S},{i:.1f},55.0,{o:.1f}",
                before=[
                    "Logger export",
                    "Serial;  invented 0042",
                    "Interval: 60 min",
                    "Time zone: UTC-07:00",
                    "",
                ],
            ),
            offset=-7.0,
        ),
        "footer": Style(
            table(
                plain,
                lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M:%S},{i:.2f},{o:.2f}",
                after=["", "End of record", "Minimum,-3,-4"],
            )
        ),
        "no-head": Style(
            table("", lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M:%S},{i:.2f},{o:.2f}"),
            answers={"unnamed": True},
            asks=True,
        ),
        "units-in-cells": Style(
            table(
                "Time,Inside,Outside",
                lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M},{i:.1f} °C,{o:.1f} °C",
            )
        ),
        "swapped": Style(
            table(
                "Time,Outdoor °C,Dew point °C,Tunnel °C",
                lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M},{o:.1f},{o - 3:.1f},{i:.1f}",
            )
        ),
        "quarter-hours": Style(
            table(
                plain,
                lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M:%S},{i:.2f},{o:.2f}",
                times=moments(15),
            )
        ),
        "ten-minutes-seconds": Style(
            table(
                plain,
                lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M}:37,{i:.2f},{o:.2f}",
                times=moments(10),
            )
        ),
        "inside-only": Style(
            table("Time,Inside °C", lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M},{i:.2f}"),
            only="inside",
        ),
        "outside-only": Style(
            table("Date;Shade (°F)", lambda n, t, i, o: f"{t:%d.%m.%Y %H:%M};{comma(f(o))}"),
            only="outside",
        ),
        "ambiguous-days": Style(
            table(
                "Date,Inside C,Outside C",
                lambda n, t, i, o: f"{t:%m/%d/%Y %H:%M},{i:.1f},{o:.1f}",
                # Before the 13th and on one day alone nothing tells day from month.
                times=moments(days=1),
            ),
            asks=True,
            answers={"day_first": False},
        ),
        "bare-numbers": Style(
            table(
                "Date,inside,outside",
                lambda n, t, i, o: f"{t:%Y-%m-%d %H:%M},{i + 15:.1f},{o + 15:.1f}",
            ),
            asks=True,
            answers={"unit": "C"},
            shift=15.0,
        ),
        "blank-lines": Style(
            table(
                plain,
                lambda n, t, i, o: (
                    f"{t:%Y-%m-%d %H:%M},{i:.1f},{o:.1f}" + ("\n" if n % 9 == 0 else "")
                ),
            )
        ),
    }


def _epoch(when: datetime) -> int:
    """Return seconds since 1970 of a time of local standard time, UTC-7."""
    return int((when + timedelta(hours=7) - datetime(1970, 1, 1)).total_seconds())
