"""Careful hands for a reply in JSON: every step says what it wanted where, and units become SI."""

import json
import math
import re
from collections.abc import Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

from hoopwright.climate.forecast.form import ForecastError
from hoopwright.frozen import dataclass


def parsed(text: str, service: str) -> Mapping[str, Any]:
    """Return the reply's outermost object."""
    if not text.strip():
        raise ForecastError(f"{service}: the reply was empty; try again later")
    try:
        found = json.loads(text)
    except (ValueError, RecursionError):
        start = text.lstrip()[:1]
        kind = "a web page" if start == "<" else "cut short or damaged"
        raise ForecastError(f"{service}: the reply is no JSON ({kind}); try again later") from None
    if not isinstance(found, dict):
        raise ForecastError(f"{service}: the reply is not an object; the service has changed")
    return found


def inner(held: Mapping[str, Any], key: str, service: str) -> Mapping[str, Any]:
    """Return the object under a key."""
    found = held.get(key)
    if not isinstance(found, dict):
        raise ForecastError(f"{service}: '{key}' is missing or no object; the service has changed")
    return found


def listed(held: Mapping[str, Any], key: str, service: str) -> list[Any]:
    """Return the list under a key."""
    found = held.get(key)
    if not isinstance(found, list):
        raise ForecastError(f"{service}: '{key}' is missing or no list; the service has changed")
    return found


def worded(held: Mapping[str, Any], key: str, service: str) -> str:
    """Return the text under a key."""
    found = held.get(key)
    if not isinstance(found, str) or not found or len(found) > 2000:
        raise ForecastError(f"{service}: '{key}' is missing or no text; the service has changed")
    return found


def numbered(value: Any, what: str, service: str) -> float:
    """Return a number; null becomes NaN."""
    if value is None:
        return math.nan
    if isinstance(value, bool) or not isinstance(value, (int, float)):
        raise ForecastError(f"{service}: {what} is {str(value)[:40]!r}, not a number")
    try:
        found = float(value)
    except OverflowError:
        found = math.inf
    if not math.isfinite(found):
        raise ForecastError(f"{service}: {what} is not a finite number")
    return found


def instant(text: str, what: str, service: str) -> datetime:
    """Return an ISO 8601 moment that carries its offset from universal time."""
    try:
        found = datetime.fromisoformat(text.replace("Z", "+00:00"))
        offset = found.utcoffset()
    except (ValueError, OverflowError):
        raise ForecastError(f"{service}: {what} {text[:40]!r} is no ISO 8601 time") from None
    if offset is None:
        raise ForecastError(f"{service}: {what} {text[:40]!r} does not say its time zone")
    if not 1990 <= found.year <= 2200 or abs(offset) > timedelta(hours=15):
        raise ForecastError(f"{service}: {what} {text[:40]!r} is no time that can be meant")
    return found


_DURATION = re.compile(
    r"P(?:(?P<W>\d{1,3})W)?(?:(?P<D>\d{1,4})D)?"
    r"(?:T(?:(?P<H>\d{1,5})H)?(?:(?P<M>\d{1,6})M)?(?:(?P<S>\d{1,7})S)?)?"
)
_HOURS = {"W": 168.0, "D": 24.0, "H": 1.0, "M": 1 / 60, "S": 1 / 3600}
LONGEST = 31 * 24.0


def duration(text: str, service: str) -> float:
    """Return the hours [h] of a duration of weeks, days, hours, minutes, seconds.

    Months and years have no fixed length and are refused, as are nothing and over a month.
    """
    match = _DURATION.fullmatch(text)
    hours = 0.0
    if match is not None:
        hours = sum(int(match[unit]) * size for unit, size in _HOURS.items() if match[unit])
    if not 0 < hours <= LONGEST:
        raise ForecastError(f"{service}: {text[:40]!r} is no length of time that can be read")
    return hours


def interval(text: str, service: str) -> tuple[datetime, float]:
    """Return start in universal time and length [h] of "start/duration"."""
    start, slash, length = text.partition("/")
    if not slash:
        raise ForecastError(f"{service}: {text[:60]!r} is no interval 'start/duration'")
    begun = instant(start, "an interval's start", service).astimezone(UTC)
    return begun, duration(length, service)


KNOT = 1852.0 / 3600.0
_UNITS: dict[str, dict[str, tuple[float, float]]] = {
    "temperature": {
        "degC": (1.0, 0.0),
        "°C": (1.0, 0.0),
        "degF": (5 / 9, -160 / 9),
        "°F": (5 / 9, -160 / 9),
        "K": (1.0, -273.15),
    },
    "share": {"percent": (0.01, 0.0), "%": (0.01, 0.0)},
    "angle": {"degree_(angle)": (1.0, 0.0), "°": (1.0, 0.0)},
    "speed": {
        "km_h-1": (1 / 3.6, 0.0),
        "km/h": (1 / 3.6, 0.0),
        "m_s-1": (1.0, 0.0),
        "m/s": (1.0, 0.0),
        "kt": (KNOT, 0.0),
        "kn": (KNOT, 0.0),
        "mp/h": (0.44704, 0.0),
        "mi_h-1": (0.44704, 0.0),
    },
    "rain": {"mm": (1.0, 0.0), "inch": (25.4, 0.0), "m": (1000.0, 0.0)},
    "snow": {"mm": (0.001, 0.0), "cm": (0.01, 0.0), "m": (1.0, 0.0), "inch": (0.0254, 0.0)},
    "pressure": {"Pa": (1.0, 0.0), "hPa": (100.0, 0.0)},
    "radiation": {"W/m²": (1.0, 0.0), "W/m2": (1.0, 0.0), "W_m-2": (1.0, 0.0)},
    "length": {"m": (1.0, 0.0), "ft": (0.3048, 0.0)},
}
"""Quantity -> unit as written, without its namespace -> (factor, offset) to SI (temperatures to
degC, rain to mm). Names of the WMO Codes Registry and of Open-Meteo's documentation."""


@dataclass(frozen=True)
class Wanted:
    """A layer: its name in the service, what it is, and the SI range that can be [low, high]."""

    name: str
    quantity: str
    low: float
    high: float


def to_si(value: float, unit: object, wanted: Wanted, service: str) -> float:
    """Return a value in SI; unknown units and impossible values are refused. NaN stays."""
    factor, offset = _factor(unit, wanted, service)
    found = value * factor + offset
    if found == found and not wanted.low <= found <= wanted.high:
        raise ForecastError(
            f"{service}: {wanted.name} of {value:g} {unit} cannot be; the unit or the file is wrong"
        )
    return found


def _factor(unit: object, wanted: Wanted, service: str) -> tuple[float, float]:
    known = _UNITS[wanted.quantity]
    bare = unit.rpartition(":")[2] if isinstance(unit, str) else ""
    if bare not in known:
        raise ForecastError(
            f"{service}: {wanted.name} comes in {str(unit)[:40]!r}, which is none of "
            f"{', '.join(known)}; the service has changed"
        )
    return known[bare]
