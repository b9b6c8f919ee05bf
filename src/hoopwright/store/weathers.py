"""The weather file of a plan, packed, so that a backup holds it too."""

from __future__ import annotations

import hashlib
import time
import zlib

from hoopwright.store.records import WeatherFile
from hoopwright.store.table import StoreTable, current_revision


class Weathers(StoreTable):
    """At most one weather file for each plan."""

    def put(self, owner: str, plan: str, name: str, about: str, body: bytes) -> None:
        """Keep a file for an owner's plan in place of the one before. Raises NoSuchPlan."""
        row = (plan, name, about, hashlib.sha256(body).hexdigest(), zlib.compress(body, 6))
        with self._writing() as base:
            current_revision(base, owner, plan)
            base.execute(
                "INSERT OR REPLACE INTO weather (plan, name, about, digest, body, made)"
                " VALUES (?, ?, ?, ?, ?, ?)",
                (*row, time.time()),
            )

    def of(self, plan: str) -> WeatherFile | None:
        """Return what is said of a plan's file, or None; its body is read apart."""
        row = self._row("SELECT name, about, digest FROM weather WHERE plan = ?", plan)
        return None if row is None else WeatherFile(*row)

    def body(self, plan: str) -> bytes | None:
        """Return a plan's file, or None."""
        row = self._row("SELECT body FROM weather WHERE plan = ?", plan)
        return None if row is None else zlib.decompress(row["body"])

    def forget(self, owner: str, plan: str) -> None:
        """Forget the file of an owner's plan; nothing happens where there is none."""
        with self._writing() as base:
            base.execute(
                "DELETE FROM weather WHERE plan = ?"
                " AND EXISTS (SELECT 1 FROM plan WHERE id = ? AND owner = ?)",
                (plan, plan, owner),
            )
