"""Careful hands for a reply in JSON: every step says what it wanted where."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any

from hoopwright.climate.forecast.form import ForecastError


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
