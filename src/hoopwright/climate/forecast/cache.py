"""Replies kept in a folder: a service is asked once an hour and may be down half a day."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from hashlib import sha256
from pathlib import Path

from hoopwright import writing
from hoopwright.climate.forecast.form import ForecastError
from hoopwright.climate.forecast.http import Get

FRESH = timedelta(hours=1)
USABLE = timedelta(hours=12)


def _now() -> datetime:
    return datetime.now(UTC)


@dataclass
class KeptReplies:
    """A `get` that keeps replies. Call it like one; `notes` then says what copies were used.

    fresh  : a copy younger than this is used without asking
    usable : a copy younger than this stands in when the service fails
    """

    get: Get
    folder: Path
    fresh: timedelta = FRESH
    usable: timedelta = USABLE
    now: Callable[[], datetime] = _now
    notes: tuple[str, ...] = ()

    def __call__(self, address: str) -> str:
        """Return the text at an address, kept or new."""
        at = self.now()
        copy = self._copy(address)
        if copy is not None and timedelta(0) <= at - copy[0] < self.fresh:
            return copy[1]
        try:
            text = self.get(address)
        except ForecastError as error:
            if copy is None or not timedelta(0) <= at - copy[0] < self.usable:
                raise
            hours = (at - copy[0]).total_seconds() / 3600
            self.notes = (*self.notes, f"{error}. A copy {hours:.0f} h old was used.")
            return copy[1]
        self._keep(address, at, text)
        return text

    def _path(self, address: str) -> Path:
        return self.folder / f"{sha256(address.encode()).hexdigest()[:24]}.json"

    def _copy(self, address: str) -> tuple[datetime, str] | None:
        """Return when and what was kept; a damaged copy counts as none."""
        try:
            held = json.loads(self._path(address).read_text(encoding="utf-8"))
            at = datetime.fromisoformat(held["at"])
            text = held["text"]
        except (OSError, ValueError, KeyError, TypeError):
            return None
        if not isinstance(text, str) or at.tzinfo is None:
            return None
        return at, text

    def _keep(self, address: str, at: datetime, text: str) -> None:
        """Keep a reply; a full disk is no matter."""
        path = self._path(address)
        try:
            self.folder.mkdir(parents=True, exist_ok=True)
            held = {"at": at.isoformat(), "address": address, "text": text}
            writing.write(path, json.dumps(held))
        except OSError:
            self.notes = (*self.notes, f"The reply could not be kept in {self.folder}.")
