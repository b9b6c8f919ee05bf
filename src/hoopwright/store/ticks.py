"""What has been ticked off while a plan is bought for and built."""

from __future__ import annotations

import time
from collections.abc import Iterable

from hoopwright.store.table import StoreTable, current_revision

#: Ticks kept of one plan, the oldest forgotten first: those of earlier shapes of the plan too.
MOST_TICKS = 2000


class Ticks(StoreTable):
    """Ticks of plans, each by what it is beside: there, or not."""

    def change(self, owner: str, plan: str, on: Iterable[str], off: Iterable[str]) -> None:
        """Put ticks on and take others off. Raises NoSuchPlan."""
        now = time.time()
        with self._writing() as base:
            current_revision(base, owner, plan)
            gone = [(plan, what) for what in off]
            base.executemany("DELETE FROM tick WHERE plan = ? AND what = ?", gone)
            base.executemany(
                "INSERT OR IGNORE INTO tick (plan, what, made) VALUES (?, ?, ?)",
                [(plan, what, now) for what in on],
            )
            base.execute(
                "DELETE FROM tick WHERE plan = ? AND what IN (SELECT what FROM tick"
                " WHERE plan = ? ORDER BY made DESC, what LIMIT -1 OFFSET ?)",
                (plan, plan, MOST_TICKS),
            )

    def of(self, plan: str) -> frozenset[str]:
        """Return what is ticked."""
        return frozenset(
            str(row["what"]) for row in self._rows("SELECT what FROM tick WHERE plan = ?", plan)
        )
