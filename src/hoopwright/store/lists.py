"""The files of an owner's own that plans name: price lists, catalogue rows, varieties.

They belong to the owner and not to one plan, as files in a folder do: several plans may name the
same price list.
"""

import time
import zlib

from hoopwright.frozen import dataclass
from hoopwright.store.plans import digest_of
from hoopwright.store.table import StoreTable

#: Files of one owner.
MOST_LISTS = 40


@dataclass(frozen=True)
class OwnList:
    """A file of an owner's: its name, the plan's key that may name it, what it holds in words."""

    name: str
    kind: str
    about: str
    digest: str


class NoRoom(ValueError):
    """An owner has as many files as they may."""


class Lists(StoreTable):
    """Files of each owner by their names."""

    def put(self, owner: str, kind: str, about: str, name: str, text: str) -> None:
        """Keep a file in place of the one of that name. Raises NoRoom."""
        body = zlib.compress(text.encode("utf-8"), 6)
        with self._writing() as base:
            others = base.execute(
                "SELECT count(*) FROM own_list WHERE owner = ? AND name <> ?", (owner, name)
            ).fetchone()[0]
            if others >= MOST_LISTS:
                raise NoRoom(f"{MOST_LISTS} lists are kept already; delete one first")
            base.execute(
                "INSERT OR REPLACE INTO own_list (owner, name, kind, about, digest, body, made)"
                " VALUES (?, ?, ?, ?, ?, ?, ?)",
                (owner, name, kind, about, digest_of(text), body, time.time()),
            )

    def all(self, owner: str) -> tuple[OwnList, ...]:
        """Return what is said of an owner's files, by name; their texts are read apart."""
        query = "SELECT name, kind, about, digest FROM own_list WHERE owner = ? ORDER BY name"
        return tuple(OwnList(*row) for row in self._rows(query, owner))

    def text(self, owner: str, name: str) -> str | None:
        """Return a file's text, or None."""
        body = self._cell("SELECT body FROM own_list WHERE owner = ? AND name = ?", owner, name)
        return None if body is None else _text(body)

    def named_in(self, owner: str, plan: str) -> tuple[tuple[str, str], ...]:
        """Return name and text of each of an owner's files whose name stands in a plan's text."""
        query = (
            "SELECT name, body FROM own_list WHERE owner = ? AND instr(?, name) > 0 ORDER BY name"
        )
        return tuple((row["name"], _text(row["body"])) for row in self._rows(query, owner, plan))

    def forget(self, owner: str, name: str) -> None:
        """Delete a file; nothing happens where there is none."""
        with self._writing() as base:
            base.execute("DELETE FROM own_list WHERE owner = ? AND name = ?", (owner, name))


def _text(body: bytes) -> str:
    return zlib.decompress(body).decode("utf-8")
