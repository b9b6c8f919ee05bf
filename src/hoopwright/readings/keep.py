"""Readings kept: one small SQLite file beside a plan, every import once.

The browser's store is for the server's own plans; readings belong to a plan file and travel with
it, so they have a file of their own.
"""

import sqlite3
import zlib
from collections.abc import Iterator
from contextlib import contextmanager
from datetime import datetime, timedelta
from hashlib import sha256
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.readings.hourly import Hours, hours_of
from hoopwright.readings.text import ReadingsError

Series = NDArray[np.float64]
#: Marks the file as ours (SQLite's application_id): "Hrdg" in ASCII.
APPLICATION = 0x48726467
SCHEMA = """
CREATE TABLE import (
    id INTEGER PRIMARY KEY,
    digest TEXT NOT NULL,
    file TEXT NOT NULL,
    role TEXT NOT NULL CHECK (role IN ('inside', 'outside')),
    start TEXT NOT NULL,
    seconds BLOB NOT NULL,
    degrees BLOB NOT NULL,
    faults TEXT NOT NULL,
    UNIQUE (digest, role)
) STRICT;
"""


@dataclass(frozen=True)
class KeptSeries:
    """One series of one file: times in local standard time, readings [degC], what was found."""

    file: str
    role: str
    times: tuple[datetime, ...]
    values: Series
    faults: str


def file_beside(plan: Path) -> Path:
    """Return where a plan's readings are kept."""
    return plan.with_suffix(".readings.sqlite3")


@contextmanager
def opened(path: Path) -> Iterator[sqlite3.Connection]:
    """Give the open file; what was written is kept if the block ends well, else undone."""
    connection = sqlite3.connect(path)
    try:
        _ready(connection, path)
        with connection:
            yield connection
    except sqlite3.DatabaseError as error:
        if isinstance(error, sqlite3.IntegrityError):
            raise
        raise ReadingsError(f"{path}: cannot be used ({error}); move it away") from None
    finally:
        connection.close()


def _ready(connection: sqlite3.Connection, path: Path) -> None:
    (mark,) = connection.execute("PRAGMA application_id").fetchone()
    (tables,) = connection.execute("SELECT count(*) FROM sqlite_master").fetchone()
    if mark != APPLICATION and tables:
        raise ReadingsError(f"{path}: is a database of something else; move it away")
    if not tables:
        connection.executescript(SCHEMA)
        connection.execute(f"PRAGMA application_id = {APPLICATION}")


def add(
    path: Path, file: Path, role: str, times: list[datetime], values: Series, faults: list[str]
) -> bool:
    """Keep a series; return False where this file's series is there already."""
    digest = sha256(file.read_bytes()).hexdigest()
    start = times[0]
    seconds = np.array([(when - start).total_seconds() for when in times], dtype="<f8")
    row = (
        digest,
        file.name,
        role,
        start.isoformat(),
        zlib.compress(seconds.tobytes(), 1),
        zlib.compress(values.astype("<f8").tobytes(), 1),
        "\n".join(faults),
    )
    with opened(path) as connection:
        cursor = connection.execute(
            "INSERT OR IGNORE INTO import (digest, file, role, start, seconds, degrees, faults) "
            "VALUES (?, ?, ?, ?, ?, ?, ?)",
            row,
        )
        return cursor.rowcount > 0


def kept(path: Path) -> tuple[KeptSeries, ...]:
    """Return everything kept, in the order it came."""
    if not path.exists():
        return ()
    with opened(path) as connection:
        rows = connection.execute(
            "SELECT file, role, start, seconds, degrees, faults FROM import ORDER BY id"
        ).fetchall()
    found = []
    for file, role, start, seconds, degrees, faults in rows:
        first = datetime.fromisoformat(start)
        after = np.frombuffer(zlib.decompress(seconds), dtype="<f8")
        values = np.frombuffer(zlib.decompress(degrees), dtype="<f8").astype(np.float64)
        times = tuple(first + timedelta(seconds=float(second)) for second in after)
        found.append(KeptSeries(file, role, times, values, faults))
    return tuple(found)


def hours_kept(path: Path) -> Hours:
    """Return all that is kept as hours."""
    series = [(one.role, one.times, one.values) for one in kept(path)]
    if not series:
        raise ReadingsError(f"{path}: holds no readings; add some with `hoopwright readings add`")
    return hours_of(series)
