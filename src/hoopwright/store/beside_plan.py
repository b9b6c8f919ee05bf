"""What is kept beside a plan: its weather and loggers' files, its class, its ticks, its link.

Files are packed, so that a backup holds them too. No backup holds a link.
"""

import hashlib
import secrets
import time
import zlib
from collections.abc import Iterable

from hoopwright.frozen import dataclass
from hoopwright.store.lists import NoRoom
from hoopwright.store.plans import digest_of
from hoopwright.store.table import StoreTable, current_revision

#: Loggers' files of one plan.
MOST_FILES = 12
#: Ticks kept of one plan, the oldest forgotten first: those of earlier shapes of the plan too.
MOST_TICKS = 2000


@dataclass(frozen=True)
class WeatherFile:
    """A plan's weather file: its name, what it holds in words, and its fingerprint."""

    name: str
    about: str
    digest: str


@dataclass(frozen=True)
class LoggerFile:
    """A logger's file beside a plan: its name, how it is to be read (as JSON), its fingerprint.

    body : empty where only what is said of it was asked for
    """

    name: str
    about: str
    digest: str
    body: bytes = b""


class Weathers(StoreTable):
    """At most one weather file for each plan."""

    def put(self, owner: str, plan: str, name: str, about: str, body: bytes) -> None:
        """Keep a file for an owner's plan in place of the one before. Raises NoSuchPlan."""
        row = (plan, name, about, hashlib.sha256(body).hexdigest(), zlib.compress(body, 6))
        query = (
            "INSERT OR REPLACE INTO weather (plan, name, about, digest, body, made)"
            " VALUES (?, ?, ?, ?, ?, ?)"
        )
        self._for_plan(owner, plan, query, *row, time.time())

    def of(self, plan: str) -> WeatherFile | None:
        """Return what is said of a plan's file, or None; its body is read apart."""
        row = self._row("SELECT name, about, digest FROM weather WHERE plan = ?", plan)
        return None if row is None else WeatherFile(*row)

    def body(self, plan: str) -> bytes | None:
        """Return a plan's file, or None."""
        body = self._cell("SELECT body FROM weather WHERE plan = ?", plan)
        return None if body is None else zlib.decompress(body)

    def forget(self, owner: str, plan: str) -> None:
        """Forget the file of an owner's plan; nothing happens where there is none."""
        with self._writing() as base:
            base.execute(
                "DELETE FROM weather WHERE plan = ?"
                " AND EXISTS (SELECT 1 FROM plan WHERE id = ? AND owner = ?)",
                (plan, plan, owner),
            )


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
        query = "UPDATE reading SET about = ? WHERE plan = ? AND digest = ?"
        self._for_plan(owner, plan, query, about, plan, digest)

    def of(self, plan: str) -> tuple[LoggerFile, ...]:
        """Return a plan's files without their bodies, in the order in which they came."""
        query = "SELECT name, about, digest FROM reading WHERE plan = ? ORDER BY made, digest"
        return tuple(LoggerFile(*row) for row in self._rows(query, plan))

    def body(self, plan: str, digest: str) -> bytes | None:
        """Return what a file holds, or None."""
        body = self._cell("SELECT body FROM reading WHERE plan = ? AND digest = ?", plan, digest)
        return None if body is None else zlib.decompress(body)

    def forget(self, owner: str, plan: str, digest: str) -> None:
        """Forget a file; nothing happens where there is none. Raises NoSuchPlan."""
        query = "DELETE FROM reading WHERE plan = ? AND digest = ?"
        self._for_plan(owner, plan, query, plan, digest)


class Classes(StoreTable):
    """At most one class for each plan: its households, as the text of a class file."""

    def put(self, owner: str, plan: str, text: str) -> None:
        """Keep a class for an owner's plan in place of the one before. Raises NoSuchPlan."""
        query = "INSERT OR REPLACE INTO class (plan, text, digest, made) VALUES (?, ?, ?, ?)"
        self._for_plan(owner, plan, query, plan, text, digest_of(text), time.time())

    def of(self, plan: str) -> str | None:
        """Return the text of a plan's class, or None."""
        return self._cell("SELECT text FROM class WHERE plan = ?", plan)


class Ticks(StoreTable):
    """What is ticked off while a plan is bought for and built: there, or not."""

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
        rows = self._rows("SELECT what FROM tick WHERE plan = ?", plan)
        return frozenset(str(row["what"]) for row in rows)


class PlanLinks(StoreTable):
    """At most one link for each plan, by which somebody else may read it, and do nothing else."""

    def make(self, owner: str, plan: str) -> None:
        """Give an owner's plan a link; the one before holds no more. Raises NoSuchPlan."""
        query = "INSERT OR REPLACE INTO link (plan, token, made) VALUES (?, ?, ?)"
        self._for_plan(owner, plan, query, plan, secrets.token_urlsafe(16), time.time())

    def of(self, plan: str) -> str | None:
        """Return a plan's link, or None."""
        return self._cell("SELECT token FROM link WHERE plan = ?", plan)

    def behind(self, token: str) -> tuple[str, str] | None:
        """Return the owner and the plan behind a link, or None."""
        query = "SELECT plan.owner, plan.id FROM link JOIN plan ON plan.id = link.plan"
        row = self._row(f"{query} WHERE link.token = ?", token)
        return None if row is None else (str(row["owner"]), str(row["id"]))

    def forget(self, owner: str, plan: str) -> None:
        """End an owner's plan's link. Raises NoSuchPlan."""
        self._for_plan(owner, plan, "DELETE FROM link WHERE plan = ?", plan)
