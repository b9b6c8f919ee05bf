"""Long work on the books, so that a restarted server takes it up again."""

from __future__ import annotations

import secrets
import sqlite3
import time

from hoopwright.store.plans import Hold, NoSuchPlan
from hoopwright.store.records import Job, JobState

#: Finished jobs older than this [s] are forgotten: a week.
MEMORY = 7 * 86400.0


class Jobs:
    """Jobs, each on one text of one plan."""

    def __init__(self, writing: Hold, reading: Hold) -> None:
        """Take the ways to write and to read."""
        self._writing, self._reading = writing, reading

    def add(self, owner: str, plan: str, kind: str, key: str, text: str) -> Job:
        """Put work on the books as waiting."""
        job, now = secrets.token_urlsafe(9), time.time()
        with self._writing() as base:
            owned = base.execute("SELECT 1 FROM plan WHERE id = ? AND owner = ?", (plan, owner))
            if owned.fetchone() is None:
                raise NoSuchPlan(plan)
            base.execute(
                "INSERT INTO job (id, plan, owner, kind, key, text, state, made, changed)"
                " VALUES (?, ?, ?, ?, ?, ?, 'waiting', ?, ?)",
                (job, plan, owner, kind, key, text, now, now),
            )
            base.execute(
                "DELETE FROM job WHERE state IN ('done', 'failed', 'cancelled') AND changed < ?",
                (now - MEMORY,),
            )
        found = self.get(owner, job)
        assert found is not None
        return found

    def get(self, owner: str, job: str) -> Job | None:
        """Return an owner's job, or None."""
        with self._reading() as base:
            row = base.execute(
                "SELECT * FROM job WHERE id = ? AND owner = ?", (job, owner)
            ).fetchone()
        return None if row is None else _job(row)

    def latest(self, owner: str, plan: str, kind: str) -> Job | None:
        """Return the last job of a kind on a plan, or None."""
        with self._reading() as base:
            row = base.execute(
                "SELECT * FROM job WHERE owner = ? AND plan = ? AND kind = ?"
                " ORDER BY made DESC, rowid DESC LIMIT 1",
                (owner, plan, kind),
            ).fetchone()
        return None if row is None else _job(row)

    def open_jobs(self, owner: str | None = None) -> tuple[Job, ...]:
        """Return what is not over, oldest first."""
        with self._reading() as base:
            rows = base.execute(
                "SELECT * FROM job WHERE state IN ('waiting', 'running')"
                " AND (? IS NULL OR owner = ?) ORDER BY made, rowid",
                (owner, owner),
            ).fetchall()
        return tuple(_job(row) for row in rows)

    def rename(self, job: str, key: str) -> None:
        """Give a job another key for its result, where the program that runs it is another."""
        with self._writing() as base:
            base.execute("UPDATE job SET key = ? WHERE id = ?", (key, job))

    def tell(self, job: str, state: JobState, share: float, says: str) -> bool:
        """Write down how far a job is; return False where it is over already (cancelled)."""
        with self._writing() as base:
            done = base.execute(
                "UPDATE job SET state = ?, share = ?, says = ?, changed = ?"
                " WHERE id = ? AND state IN ('waiting', 'running')",
                (state, share, says, time.time(), job),
            )
            return done.rowcount == 1


def _job(row: sqlite3.Row) -> Job:
    return Job(
        row["id"],
        row["plan"],
        row["owner"],
        row["kind"],
        row["key"],
        row["text"],
        row["state"],
        row["share"],
        row["says"],
    )
