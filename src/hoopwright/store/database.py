"""Opening the file: its schema step by step, and how it is made to survive a kill.

Write-ahead logging with synchronous=FULL: a commit that has returned is on the disk, and a
process killed at any moment leaves either all of a transaction or none of it (SQLite
documentation, "Atomic Commit in SQLite" and "Write-Ahead Logging").
"""

import sqlite3
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import resources
from pathlib import Path

FILE = "hoopwright.sqlite3"
#: Marks the file as ours (SQLite's application_id): "Hoop" in ASCII.
APPLICATION = 0x486F6F70
#: Seconds a request waits where another program holds the file; its pages then say so.
PATIENCE = 2.0

MIGRATIONS = tuple(
    file.read_text("utf-8")
    for file in sorted(
        resources.files("hoopwright.store").joinpath("migrations").iterdir(),
        key=lambda file: file.name,
    )
    # An editor may leave a copy of its own beside them.
    if file.name.endswith(".sql")
)
"""Each brings the file from one version (user_version) to the next; none is ever changed."""

BROKEN = (sqlite3.DatabaseError, UnicodeDecodeError)
"""What a damaged file ends in; the second where SQLite's own message quotes its letters."""

HELD = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
SAYS_HELD = "is held by another program; close that and try again"


class StoreError(ValueError):
    """A store that cannot be used; the message says what to do."""


def connect(path: Path) -> sqlite3.Connection:
    """Return an open, migrated store.

    Raises StoreError where the file is another program's, newer than this version, or broken.
    """
    try:
        connection = sqlite3.connect(
            path, timeout=PATIENCE, isolation_level=None, check_same_thread=False
        )
        connection.row_factory = sqlite3.Row
        connection.execute("PRAGMA journal_mode = WAL")
        connection.execute("PRAGMA synchronous = FULL")
        connection.execute("PRAGMA foreign_keys = ON")
        connection.execute("PRAGMA trusted_schema = OFF")
        migrate(connection, path)
    except BROKEN as error:
        if getattr(error, "sqlite_errorcode", 0) in HELD:
            raise StoreError(f"{path}: {SAYS_HELD}") from None
        raise StoreError(
            f"{path}: cannot be used as a store ({error}); move it aside, or restore a backup"
        ) from None
    return connection


def migrate(connection: sqlite3.Connection, path: Path) -> None:
    """Bring the schema up to date, one version a transaction."""
    refuse_foreign(connection, path)
    while (version := _pragma(connection, "user_version")) < len(MIGRATIONS):
        with written(connection):
            if _pragma(connection, "user_version") != version:
                continue
            for statement in statements(MIGRATIONS[version]):
                connection.execute(statement)
            connection.execute(f"PRAGMA application_id = {APPLICATION}")
            connection.execute(f"PRAGMA user_version = {version + 1}")


def refuse_foreign(connection: sqlite3.Connection, path: Path) -> None:
    """Raise StoreError for a file that is not ours or is from a later version."""
    version, owner = _pragma(connection, "user_version"), _pragma(connection, "application_id")
    if owner not in (0, APPLICATION) or (owner == 0 and version != 0):
        raise StoreError(f"{path}: is another program's file; give another folder")
    if version > len(MIGRATIONS):
        raise StoreError(
            f"{path}: was written by a later version (schema {version}, this one knows "
            f"{len(MIGRATIONS)}); update hoopwright"
        )


def statements(script: str) -> list[str]:
    """Return the statements of a script, so that all run within one transaction."""
    found, held = [], ""
    for part in script.split(";"):
        held += part + ";"
        if sqlite3.complete_statement(held) and held.strip("; \n"):
            found.append(held.strip())
            held = ""
    return found


@contextmanager
def written(connection: sqlite3.Connection) -> Iterator[sqlite3.Connection]:
    """Hold one write transaction: all of it or none."""
    connection.execute("BEGIN IMMEDIATE")
    try:
        yield connection
        connection.execute("COMMIT")
    except BaseException:
        # Where the disk was full, SQLite has gone back by itself.
        if connection.in_transaction:
            connection.execute("ROLLBACK")
        raise


def _pragma(connection: sqlite3.Connection, name: str) -> int:
    return int(connection.execute(f"PRAGMA {name}").fetchone()[0])
