"""The weather file of a plan, packed, so that a backup holds it too."""

from __future__ import annotations

import hashlib
import time
import zlib

from hoopwright.store.plans import Hold, NoSuchPlan
from hoopwright.store.records import WeatherFile


class Weathers:
    """At most one weather file for each plan."""

    def __init__(self, writing: Hold, reading: Hold) -> None:
        """Take the ways to write and to read."""
        self._writing, self._reading = writing, reading

    def put(self, owner: str, plan: str, name: str, about: str, body: bytes) -> None:
        """Keep a file for an owner's plan in place of the one before. Raises NoSuchPlan."""
        row = (plan, name, about, hashlib.sha256(body).hexdigest(), zlib.compress(body, 6))
        with self._writing() as base:
            owned = base.execute("SELECT 1 FROM plan WHERE id = ? AND owner = ?", (plan, owner))
            if owned.fetchone() is None:
                raise NoSuchPlan(plan)
            base.execute(
                "INSERT OR REPLACE INTO weather (plan, name, about, digest, body, made)"
                " VALUES (?, ?, ?, ?, ?, ?)",
                (*row, time.time()),
            )

    def of(self, plan: str) -> WeatherFile | None:
        """Return what is said of a plan's file, or None; its body is read apart."""
        with self._reading() as base:
            row = base.execute(
                "SELECT name, about, digest FROM weather WHERE plan = ?", (plan,)
            ).fetchone()
        return None if row is None else WeatherFile(row["name"], row["about"], row["digest"])

    def body(self, plan: str) -> bytes | None:
        """Return a plan's file, or None."""
        with self._reading() as base:
            row = base.execute("SELECT body FROM weather WHERE plan = ?", (plan,)).fetchone()
        return None if row is None else zlib.decompress(row["body"])

    def forget(self, owner: str, plan: str) -> None:
        """Forget the file of an owner's plan; nothing happens where there is none."""
        with self._writing() as base:
            base.execute(
                "DELETE FROM weather WHERE plan = ?"
                " AND EXISTS (SELECT 1 FROM plan WHERE id = ? AND owner = ?)",
                (plan, plan, owner),
            )
