"""Loggers' files of a plan, packed, each with how a person says that it is to be read."""

from __future__ import annotations

import hashlib
import time
import zlib

from hoopwright.store.lists import NoRoom
from hoopwright.store.records import LoggerFile
from hoopwright.store.table import StoreTable, current_revision

#: Loggers' files of one plan.
MOST_FILES = 12


class Readings(StoreTable):
    """Some loggers' files for each plan."""

    def put(self, owner: str, plan: str, name: str, about: str, body: bytes) -> str:
        """Keep a file for an owner's plan, once; return its fingerprint.

        Raises NoSuchPlan, or NoRoom where there are many.
        """
        digest = hashlib.sha256(body).hexdigest()
        row = (plan, name, about, digest, zlib.compress(body, 6), time.time())
        with self._writing() as base:
            current_revision(base, owner, plan)
            others = "SELECT count(*) FROM reading WHERE plan = ? AND digest <> ?"
            if base.execute(others, (plan, digest)).fetchone()[0] >= MOST_FILES:
                raise NoRoom(f"{MOST_FILES} loggers' files are kept with this plan; remove one")
            base.execute(
                "INSERT INTO reading (plan, name, about, digest, body, made)"
                " VALUES (?, ?, ?, ?, ?, ?)"
                " ON CONFLICT (plan, digest) DO UPDATE SET name = excluded.name",
                row,
            )
        return digest

    def tell(self, owner: str, plan: str, digest: str, about: str) -> None:
        """Keep how a file is to be read. Raises NoSuchPlan."""
        with self._writing() as base:
            current_revision(base, owner, plan)
            base.execute(
                "UPDATE reading SET about = ? WHERE plan = ? AND digest = ?", (about, plan, digest)
            )

    def of(self, plan: str) -> tuple[LoggerFile, ...]:
        """Return a plan's files without their bodies, in the order in which they came."""
        query = "SELECT name, about, digest FROM reading WHERE plan = ? ORDER BY made, digest"
        return tuple(LoggerFile(*row) for row in self._rows(query, plan))

    def body(self, plan: str, digest: str) -> bytes | None:
        """Return what a file holds, or None."""
        query = "SELECT body FROM reading WHERE plan = ? AND digest = ?"
        row = self._row(query, plan, digest)
        return None if row is None else zlib.decompress(row["body"])

    def forget(self, owner: str, plan: str, digest: str) -> None:
        """Forget a file; nothing happens where there is none. Raises NoSuchPlan."""
        with self._writing() as base:
            current_revision(base, owner, plan)
            base.execute("DELETE FROM reading WHERE plan = ? AND digest = ?", (plan, digest))
