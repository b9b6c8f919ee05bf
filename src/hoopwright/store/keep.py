"""The store: one file in one folder, opened once by one server."""

from __future__ import annotations

import fcntl
import os
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from types import TracebackType

from hoopwright.store.database import FILE, StoreError, connect, written
from hoopwright.store.jobs import Jobs
from hoopwright.store.lists import Lists
from hoopwright.store.plans import Plans
from hoopwright.store.results import Results
from hoopwright.store.visitors import Visitors
from hoopwright.store.weathers import Weathers


def usual_folder() -> Path:
    """Return where plans are kept unless told otherwise (XDG base directories)."""
    data = os.environ.get("XDG_DATA_HOME") or str(Path.home() / ".local" / "share")
    return Path(data) / "hoopwright"


class Store:
    """Plans, results, jobs and visitors. Safe to use from several threads of one process."""

    def __init__(self, folder: Path) -> None:
        """Open the store in a folder, made where it is missing.

        Raises StoreError where another server holds it.
        """
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        self.folder = folder
        self._lock = held_alone(folder)
        self._connection = connect(folder / FILE)
        os.chmod(folder / FILE, 0o600)
        self._turn = threading.RLock()
        self.plans = Plans(self.writing, self.reading)
        self.results = Results(self.writing, self.reading)
        self.jobs = Jobs(self.writing, self.reading)
        self.visitors = Visitors(self.writing, self.reading)
        self.weathers = Weathers(self.writing, self.reading)
        self.lists = Lists(self.writing, self.reading)

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """Hold one write transaction."""
        with self._turn, written(self._connection) as connection:
            yield connection

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """Hold the connection to read."""
        with self._turn:
            yield self._connection

    def close(self) -> None:
        """Close the file and let another server have it."""
        with self._turn:
            self._connection.close()
            os.close(self._lock)

    def __enter__(self) -> Store:
        """Return the open store."""
        return self

    def __exit__(
        self,
        kind: type[BaseException] | None,
        error: BaseException | None,
        trace: TracebackType | None,
    ) -> None:
        """Close it."""
        self.close()


def held_alone(folder: Path) -> int:
    """Return an open file that holds the folder for this process until it is closed or ends."""
    handle = os.open(folder / "in-use.lock", os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    try:
        fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except OSError:
        os.close(handle)
        raise StoreError(
            f"{folder}: is in use by a running server; stop it first, or give another folder"
        ) from None
    return handle
