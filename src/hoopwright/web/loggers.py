"""Loggers' files of a plan: how a person says that each is to be read, and how it is read so."""

import json
import re
from dataclasses import asdict
from typing import Any

import numpy as np

from hoopwright.frozen import dataclass
from hoopwright.readings.adding import LoggerClock, ReadFile, place_offset, read_bytes
from hoopwright.readings.recognise import Answers
from hoopwright.readings.text import ReadingsError

#: Rows of one logger's file here: a year of readings every five minutes.
MOST_ROWS = 110_000
#: What is said of a column that is found out, and of a role that no column has.
FOUND_OUT, NO_COLUMN = "", "-"
#: Clocks that can be said besides hours from UTC.
STANDARD, SUMMER = "standard", "summer"
#: An option of the command line at the end of a sentence.
_OPTION = re.compile(r"; (say )?--.*$")


@dataclass(frozen=True)
class SaidOfFile:
    """What a person says of a logger's file, each "" where it is to be found out.

    inside, outside : a column, or "-" for none;  unit : C or F;  dates : day or month first
    clock     : standard, summer, or hours from UTC
    confirmed : "yes" once a person has looked at how it is read
    """

    inside: str = ""
    outside: str = ""
    unit: str = ""
    dates: str = ""
    clock: str = ""
    confirmed: str = ""

    @property
    def answers(self) -> Answers:
        """Return it as the reader of loggers' files takes it."""
        return Answers(
            None if self.dates not in ("day", "month") else self.dates == "day",
            self.unit if self.unit in ("C", "F") else None,  # type: ignore[arg-type]
            _column(self.inside),
            _column(self.outside),
        )

    def clock_at(self, place: float, zone: str) -> LoggerClock:
        """Return what is said of the clock; place: its standard time from UTC [h], its zone."""
        if self.clock == SUMMER:
            if not zone:
                raise ReadingsError("the plan has no latitude and longitude to tell the zone by")
            return LoggerClock(zone)
        if self.clock == STANDARD:
            return LoggerClock(utc=place)
        try:
            return LoggerClock(utc=float(self.clock) if self.clock else None)
        except ValueError:
            raise ReadingsError(f'clock: "{self.clock[:20]}" is no number of hours') from None

    def text(self) -> str:
        """Return it as it is kept."""
        return json.dumps(asdict(self))


def _column(said: str) -> str | None:
    return None if said == FOUND_OUT else "" if said == NO_COLUMN else said


def said_in(about: str) -> SaidOfFile:
    """Return what was kept; what cannot be read is to be found out."""
    try:
        held = json.loads(about)
    except ValueError:
        held = {}
    held = held if isinstance(held, dict) else {}
    return SaidOfFile(
        **{key: str(held[key])[:200] for key in SaidOfFile.__annotations__ if key in held}
    )


def read_as(
    name: str, data: bytes, about: str, latitude: float | None, longitude: float | None
) -> ReadFile:
    """Return a file read as is said. Raises ReadingsError."""
    rows = data.count(b"\n")
    if rows > MOST_ROWS:
        raise ReadingsError(f"{name}: has {rows} rows, more than {MOST_ROWS}; export it in parts")
    said, place = said_in(about), place_offset(longitude)
    zone = zone_of(latitude, longitude) if said.clock == SUMMER else ""
    return read_bytes(name, data, said.answers, said.clock_at(place, zone), place)


def zone_of(latitude: float | None, longitude: float | None) -> str:
    """Return the zone of a place, as America/Denver, or "" where none is known."""
    if latitude is None or longitude is None:
        return ""
    from hoopwright.climate.forecast.clock import zone_at
    from hoopwright.climate.forecast.form import ForecastError

    try:
        return zone_at(latitude, longitude)
    except ForecastError:
        return ""


def described(
    name: str, data: bytes, about: str, latitude: float | None, longitude: float | None
) -> dict[str, Any]:
    """Return how a file is read, in words; `problem` where it cannot be."""
    try:
        found = read_as(name, data, about, latitude, longitude)
    except ReadingsError as error:
        return {"problem": _OPTION.sub("", str(error))}
    used = {column.name: values for column, values in found.series}
    times = found.times
    return {
        "questions": [_OPTION.sub("", one) for one in found.logger.questions],
        "notes": [_OPTION.sub("", one) for one in found.notes],
        "faults": found.told,
        "columns": [
            {
                "name": column.name,
                "role": column.role,
                "unit": column.unit,
                "readings": int(np.isfinite(used.get(column.name, column.values)).sum()),
            }
            for column in found.logger.columns
        ],
        "span": f"{times[0]:%Y-%m-%d %H:%M} to {times[-1]:%Y-%m-%d %H:%M}" if times else "",
    }


def clocks(zone: str) -> tuple[tuple[str, str], ...]:
    """Return the clocks that can be said of a file, by what a form sends; zone: of the place."""
    hours = [(f"{n:g}", f"UTC{n:+g}".replace("-", "\u2212")) for n in range(-12, 15)]
    summer = ((SUMMER, f"{zone}, with its summer time"),) if zone else ()
    return (("", "as found"), (STANDARD, "local standard time"), *summer, *hours)


def columns_to_choose(names: list[str]) -> tuple[tuple[str, str], ...]:
    """Return what can be said of a role, by what a form sends."""
    return ((FOUND_OUT, "as found"), *((name, name) for name in names), (NO_COLUMN, "no column"))
