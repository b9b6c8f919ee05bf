"""Saved plans: the whole text of every revision, and where undo stands."""

import hashlib
import json
import math
import secrets
import sqlite3
import time
from collections.abc import Callable, Mapping
from typing import Any

from hoopwright.frozen import dataclass
from hoopwright.store.table import NoSuchPlan, StoreTable, cells_of, current_revision

#: Revisions kept of one plan, the oldest forgotten first.
MOST_REVISIONS = 500

_SAVED = """
SELECT plan.*, revision.text AS text,
    EXISTS (SELECT 1 FROM revision AS r WHERE r.plan = plan.id AND r.number < plan.revision)
        AS earlier,
    EXISTS (SELECT 1 FROM revision AS r WHERE r.plan = plan.id AND r.number > plan.revision)
        AS later
FROM plan JOIN revision ON revision.plan = plan.id AND revision.number = plan.revision
"""


@dataclass(frozen=True)
class Saved:
    """A saved plan at its current revision.

    family   : plans that are variants of one another
    text     : the plan file, comments and all
    looking  : how it was last looked at: view, gust, turn
    earlier, later : whether there is a revision to undo to, or to redo
    """

    id: str
    owner: str
    family: str
    name: str
    text: str
    revision: int
    looking: Mapping[str, Any]
    earlier: bool
    later: bool
    changed: float

    @property
    def stamp(self) -> str:
        """Return what tells this revision from every other: numbers come again after an undo."""
        return stamp_of(self.revision, self.text)


def stamp_of(revision: int, text: str) -> str:
    """Return the stamp of a revision of some text."""
    return f"{revision}-{digest_of(text)[:16]}"


def digest_of(text: str) -> str:
    """Return the fingerprint kept beside a text, to tell a whole one from a damaged one."""
    return hashlib.sha256(text.encode("utf-8")).hexdigest()


class Stale(ValueError):
    """A plan has changed since it was read; what was to be saved is not."""


class Plans(StoreTable):
    """Saved plans; every call names the owner, and nobody else's plan is ever found."""

    def add(self, owner: str, name: str, text: str, family: str | None = None) -> Saved:
        """Save a new plan; `family` makes it a variant of others."""
        plan = secrets.token_urlsafe(9)
        with self._writing() as base:
            now = _after_all(base)
            base.execute(
                "INSERT INTO plan (id, owner, family, name, revision, made, changed)"
                " VALUES (?, ?, ?, ?, 1, ?, ?)",
                (plan, owner, family or plan, name, now, now),
            )
            _put(base, plan, 1, text, "begun")
        return self.get(owner, plan)

    def get(self, owner: str, plan: str) -> Saved:
        """Return a plan as it stands. Raises NoSuchPlan."""
        row = self._row(_SAVED + "WHERE plan.id = ? AND plan.owner = ?", plan, owner)
        if row is None:
            raise NoSuchPlan(plan)
        return _saved(row)

    def all(self, owner: str, family: str | None = None) -> tuple[Saved, ...]:
        """Return an owner's plans, the last changed first; of one family where it is given."""
        query = (
            _SAVED
            + "WHERE plan.owner = ? AND (? IS NULL OR plan.family = ?) "
            + "ORDER BY plan.changed DESC, plan.rowid DESC"
        )
        return tuple(_saved(row) for row in self._rows(query, owner, family, family))

    def count(self, owner: str) -> int:
        """Return how many plans an owner has."""
        return int(self._cell("SELECT count(*) FROM plan WHERE owner = ?", owner) or 0)

    def text_at(self, owner: str, plan: str, stamp: str) -> str | None:
        """Return the text of the revision of a stamp, or None: forgotten, or it never was."""
        number = stamp.partition("-")[0]
        if not (number.isascii() and number.isdecimal() and len(number) < 10):
            return None
        query = (
            "SELECT revision.text FROM revision JOIN plan ON plan.id = revision.plan"
            " WHERE plan.id = ? AND plan.owner = ? AND revision.number = ?"
        )
        found = self._cell(query, plan, owner, int(number))
        return found if found is not None and stamp_of(int(number), found) == stamp else None

    def change(
        self, owner: str, plan: str, name: str, text: str, note: str, seen: str | None = None
    ) -> Saved:
        """Save a new revision after the current one; what was undone is forgotten.

        seen : stamp of the revision that it was made from. Raises Stale where the plan stands at
        another one by now: looking and saving are one step, so that none of two at once is lost.
        """
        with self._writing() as base:
            current = current_revision(base, owner, plan)
            if seen is not None and _stamp(base, plan, current) != seen:
                raise Stale("the plan was changed meanwhile, so nothing was saved; open it anew")
            base.execute("DELETE FROM revision WHERE plan = ? AND number > ?", (plan, current))
            _put(base, plan, current + 1, text, note)
            _go_to(base, plan, current + 1, name)
            base.execute(
                "DELETE FROM revision WHERE plan = ? AND number <= ?",
                (plan, current + 1 - MOST_REVISIONS),
            )
        return self.get(owner, plan)

    def step(self, owner: str, plan: str, by: int, name_of: Callable[[str], str]) -> Saved:
        """Go back (by -1) or forward (by 1) one revision; stay where there is none."""
        with self._writing() as base:
            wanted = current_revision(base, owner, plan) + by
            row = base.execute(
                "SELECT text FROM revision WHERE plan = ? AND number = ?", (plan, wanted)
            ).fetchone()
            if row is not None:
                _go_to(base, plan, wanted, name_of(row["text"]))
        return self.get(owner, plan)

    def look(self, owner: str, plan: str, looking: Mapping[str, Any]) -> None:
        """Remember how a plan is looked at, besides what is remembered; this is no revision."""
        with self._writing() as base:
            base.execute(
                "UPDATE plan SET looking = json_patch(looking, ?) WHERE id = ? AND owner = ?",
                (json.dumps(dict(looking)), plan, owner),
            )

    def looking(self, owner: str, plan: str) -> Mapping[str, Any]:
        """Return how an owner's plan was last looked at; nothing where there is no such plan."""
        held = self._cell("SELECT looking FROM plan WHERE id = ? AND owner = ?", plan, owner)
        return {} if held is None else dict(json.loads(held))

    def forget(self, owner: str, plan: str) -> None:
        """Delete a plan with its revisions and jobs. Raises NoSuchPlan."""
        self._for_plan(owner, plan, "DELETE FROM plan WHERE id = ?", plan)


def _after_all(base: sqlite3.Connection) -> float:
    """Return the time [s], later than every change there is, also where the clock went back."""
    last = base.execute("SELECT max(changed) FROM plan").fetchone()[0]
    return max(time.time(), 0.0 if last is None else math.nextafter(last, math.inf))


def _put(base: sqlite3.Connection, plan: str, number: int, text: str, note: str) -> None:
    base.execute(
        "INSERT INTO revision (plan, number, text, digest, note, made) VALUES (?, ?, ?, ?, ?, ?)",
        (plan, number, text, digest_of(text), note, time.time()),
    )


def _go_to(base: sqlite3.Connection, plan: str, number: int, name: str) -> None:
    base.execute(
        "UPDATE plan SET revision = ?, name = ?, changed = ? WHERE id = ?",
        (number, name, _after_all(base), plan),
    )


def _stamp(base: sqlite3.Connection, plan: str, number: int) -> str:
    row = base.execute(
        "SELECT text FROM revision WHERE plan = ? AND number = ?", (plan, number)
    ).fetchone()
    return stamp_of(number, row["text"])


def _saved(row: sqlite3.Row) -> Saved:
    cells = cells_of(Saved, row)
    looking, earlier, later = json.loads(row["looking"]), bool(row["earlier"]), bool(row["later"])
    return Saved(**cells | {"looking": looking, "earlier": earlier, "later": later})
