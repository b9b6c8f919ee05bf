"""The store: one file in one folder, opened once by one server."""

from __future__ import annotations

import os
import sqlite3
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from filelock import FileLock, Timeout
from platformdirs import user_data_path

from hoopwright.store.beside_plan import Classes, PlanLinks, Readings, Ticks, Weathers
from hoopwright.store.database import FILE, StoreError, connect, written
from hoopwright.store.jobs import Jobs
from hoopwright.store.lists import Lists
from hoopwright.store.plans import Plans
from hoopwright.store.results import Results
from hoopwright.store.visitors import Visitors


def usual_folder() -> Path:
    """Return where plans are kept unless told otherwise: the user's data folder."""
    return user_data_path("hoopwright", appauthor=False)


class Store:
    """Plans, results, jobs and visitors. Safe to use from several threads of one process."""

    def __init__(self, folder: Path) -> None:
        """Open the store in a folder, made where it is missing.

        Raises StoreError where another server holds it.
        """
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
        self.folder = folder
        self._lock = held_alone(folder)
        try:
            self._connection = connect(folder / FILE)
        except StoreError:
            self._lock.release()
            raise
        os.chmod(folder / FILE, 0o600)
        self._turn = threading.RLock()
        self.plans = Plans(self.writing, self.reading)
        self.results = Results(self.writing, self.reading)
        self.jobs = Jobs(self.writing, self.reading)
        self.visitors = Visitors(self.writing, self.reading)
        self.weathers = Weathers(self.writing, self.reading)
        self.lists = Lists(self.writing, self.reading)
        self.links = PlanLinks(self.writing, self.reading)
        self.classes = Classes(self.writing, self.reading)
        self.ticks = Ticks(self.writing, self.reading)
        self.readings = Readings(self.writing, self.reading)

    @contextmanager
    def writing(self) -> Iterator[sqlite3.Connection]:
        """Hold one write transaction."""
        with self._turn, _told(), written(self._connection) as connection:
            yield connection

    @contextmanager
    def reading(self) -> Iterator[sqlite3.Connection]:
        """Hold the connection to read."""
        with self._turn, _told():
            yield self._connection

    def close(self) -> None:
        """Close the file and let another server have it."""
        with self._turn:
            self._connection.close()
            self._lock.release()

    def __enter__(self) -> Store:
        """Return the open store."""
        return self

    def __exit__(self, *_error: object) -> None:
        """Close it."""
        self.close()


@contextmanager
def _told() -> Iterator[None]:
    """Say in words what the file could not do now: it is locked, or the disk is full."""
    try:
        yield
    except sqlite3.OperationalError as error:
        raise StoreError(f"the saved plans cannot be reached now ({error}); try again") from None


def held_alone(folder: Path) -> FileLock:
    """Return a lock that holds the folder for this process until it is released or ends."""
    # A moment's patience: what a server was starting when it was killed holds on until it runs.
    lock = FileLock(folder / "in-use.lock", timeout=1, mode=0o600, thread_local=False)
    try:
        lock.acquire()
    except Timeout:
        raise StoreError(
            f"{folder}: is in use by a running server; stop it first, or give another folder"
        ) from None
    return lock
