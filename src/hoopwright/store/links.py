"""Links by which somebody else may read one plan, and do nothing else. No backup holds them."""

from __future__ import annotations

import secrets
import time

from hoopwright.store.table import StoreTable, current_revision


class PlanLinks(StoreTable):
    """At most one link for each plan."""

    def make(self, owner: str, plan: str) -> None:
        """Give an owner's plan a link; the one before holds no more. Raises NoSuchPlan."""
        with self._writing() as base:
            current_revision(base, owner, plan)
            base.execute(
                "INSERT OR REPLACE INTO link (plan, token, made) VALUES (?, ?, ?)",
                (plan, secrets.token_urlsafe(16), time.time()),
            )

    def of(self, plan: str) -> str | None:
        """Return a plan's link, or None."""
        row = self._row("SELECT token FROM link WHERE plan = ?", plan)
        return None if row is None else str(row["token"])

    def behind(self, token: str) -> tuple[str, str] | None:
        """Return the owner and the plan behind a link, or None."""
        query = "SELECT plan.owner, plan.id FROM link JOIN plan ON plan.id = link.plan"
        row = self._row(f"{query} WHERE link.token = ?", token)
        return None if row is None else (str(row["owner"]), str(row["id"]))

    def forget(self, owner: str, plan: str) -> None:
        """End an owner's plan's link. Raises NoSuchPlan."""
        with self._writing() as base:
            current_revision(base, owner, plan)
            base.execute("DELETE FROM link WHERE plan = ?", (plan,))
