"""Long work on the books, so that a restarted server takes it up again."""

import secrets
import sqlite3
import time
from typing import Literal

from hoopwright.frozen import dataclass
from hoopwright.store.table import StoreTable, cells_of, current_revision

#: Finished jobs older than this [s] are forgotten: a week.
MEMORY = 7 * 86400.0
JobState = Literal["waiting", "running", "done", "failed", "cancelled"]


@dataclass(frozen=True)
class Job:
    """Long work on one text of one plan.

    key   : of its result in the results
    share : how much is done [-]
    says  : what is being done, or why it failed
    """

    id: str
    plan: str
    owner: str
    kind: str
    key: str
    text: str
    state: JobState
    share: float
    says: str

    @property
    def over(self) -> bool:
        """Return whether nothing more will come of it."""
        return self.state in ("done", "failed", "cancelled")


class Jobs(StoreTable):
    """Jobs, each on one text of one plan."""

    def add(self, owner: str, plan: str, kind: str, key: str, text: str) -> Job:
        """Put work on the books as waiting."""
        job, now = secrets.token_urlsafe(9), time.time()
        with self._writing() as base:
            current_revision(base, owner, plan)
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
        return _job(self._row("SELECT * FROM job WHERE id = ? AND owner = ?", job, owner))

    def latest(self, owner: str, plan: str, kind: str) -> Job | None:
        """Return the last job of a kind on a plan, or None."""
        query = (
            "SELECT * FROM job WHERE owner = ? AND plan = ? AND kind = ?"
            " ORDER BY rowid DESC LIMIT 1"
        )
        return _job(self._row(query, owner, plan, kind))

    def open_jobs(self, owner: str | None = None) -> tuple[Job, ...]:
        """Return what is not over, oldest first."""
        query = (
            "SELECT * FROM job WHERE state IN ('waiting', 'running')"
            " AND (? IS NULL OR owner = ?) ORDER BY rowid"
        )
        return tuple(Job(**cells_of(Job, row)) for row in self._rows(query, owner, owner))

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


def _job(row: sqlite3.Row | None) -> Job | None:
    return None if row is None else Job(**cells_of(Job, row))
