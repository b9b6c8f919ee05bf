"""What is kept, as it is read back."""

from __future__ import annotations

import hashlib
from collections.abc import Mapping
from typing import Any, Literal

from hoopwright.frozen import dataclass

JobState = Literal["waiting", "running", "done", "failed", "cancelled"]


@dataclass(frozen=True)
class Visitor:
    """Someone who has joined; `owner` is whose plans they see."""

    id: str
    owner: str


@dataclass(frozen=True)
class Saved:
    """A saved plan at its current revision.

    family   : plans that are variants of one another
    text     : the plan file, comments and all
    looking  : how it was last looked at: view, gust, turn
    earlier, later : whether there is a revision to undo to, or to redo
    """

    id: str
    owner: str
    family: str
    name: str
    text: str
    revision: int
    looking: Mapping[str, Any]
    earlier: bool
    later: bool
    changed: float

    @property
    def stamp(self) -> str:
        """Return what tells this revision from every other: numbers come again after an undo."""
        return stamp_of(self.revision, self.text)


def stamp_of(revision: int, text: str) -> str:
    """Return the stamp of a revision of some text."""
    return f"{revision}-{hashlib.sha256(text.encode('utf-8')).hexdigest()[:16]}"


@dataclass(frozen=True)
class WeatherFile:
    """A plan's weather file: its name, what it holds in words, and its fingerprint."""

    name: str
    about: str
    digest: str


@dataclass(frozen=True)
class LoggerFile:
    """A logger's file beside a plan: its name, how it is to be read (as JSON), its fingerprint.

    body : empty where only what is said of it was asked for
    """

    name: str
    about: str
    digest: str
    body: bytes = b""


@dataclass(frozen=True)
class OwnList:
    """A file of an owner's: its name, the plan's key that may name it, what it holds in words."""

    name: str
    kind: str
    about: str
    digest: str


@dataclass(frozen=True)
class Job:
    """Long work on one text of one plan.

    key   : of its result in the results
    share : how much is done [-]
    says  : what is being done, or why it failed
    """

    id: str
    plan: str
    owner: str
    kind: str
    key: str
    text: str
    state: JobState
    share: float
    says: str

    @property
    def over(self) -> bool:
        """Return whether nothing more will come of it."""
        return self.state in ("done", "failed", "cancelled")
