"""The class that an owner plans from a plan: its households, as the text of a class file."""

from __future__ import annotations

import time

from hoopwright.store.plans import digest_of
from hoopwright.store.table import StoreTable, current_revision


class Classes(StoreTable):
    """At most one class for each plan."""

    def put(self, owner: str, plan: str, text: str) -> None:
        """Keep a class for an owner's plan in place of the one before. Raises NoSuchPlan."""
        with self._writing() as base:
            current_revision(base, owner, plan)
            base.execute(
                "INSERT OR REPLACE INTO class (plan, text, digest, made) VALUES (?, ?, ?, ?)",
                (plan, text, digest_of(text), time.time()),
            )

    def of(self, plan: str) -> str | None:
        """Return the text of a plan's class, or None."""
        row = self._row("SELECT text FROM class WHERE plan = ?", plan)
        return None if row is None else str(row["text"])
