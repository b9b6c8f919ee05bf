"""One kind of thing in the store: how its rows are read and written."""

import sqlite3
from collections.abc import Callable
from contextlib import AbstractContextManager
from dataclasses import fields
from typing import Any

Hold = Callable[[], AbstractContextManager[sqlite3.Connection]]


class NoSuchPlan(LookupError):
    """No plan of that name is this owner's."""


class StoreTable:
    """What the tables of the store share: the ways to write and to read."""

    def __init__(self, writing: Hold, reading: Hold) -> None:
        """Take the ways to write and to read."""
        self._writing, self._reading = writing, reading

    def _row(self, query: str, *values: object) -> sqlite3.Row | None:
        """Return the first row found, or None."""
        with self._reading() as base:
            row: sqlite3.Row | None = base.execute(query, values).fetchone()
        return row

    def _cell(self, query: str, *values: object) -> Any | None:
        """Return the first cell of the first row found, or None."""
        row = self._row(query, *values)
        return None if row is None else row[0]

    def _rows(self, query: str, *values: object) -> list[sqlite3.Row]:
        """Return every row found."""
        with self._reading() as base:
            return base.execute(query, values).fetchall()

    def _for_plan(self, owner: str, plan: str, statement: str, *values: object) -> None:
        """Run one statement for an owner's plan. Raises NoSuchPlan."""
        with self._writing() as base:
            current_revision(base, owner, plan)
            base.execute(statement, values)


def current_revision(base: sqlite3.Connection, owner: str, plan: str) -> int:
    """Return the revision at which an owner's plan stands. Raises NoSuchPlan."""
    row = base.execute(
        "SELECT revision FROM plan WHERE id = ? AND owner = ?", (plan, owner)
    ).fetchone()
    if row is None:
        raise NoSuchPlan(plan)
    return int(row["revision"])


def cells_of(record: type[Any], row: sqlite3.Row) -> dict[str, Any]:
    """Return the cells of a row that a record is made of, by its fields."""
    return {field.name: row[field.name] for field in fields(record)}
