"""Whether a store is whole, and a store built anew from a file that nobody vouches for."""

import hashlib
import sqlite3
import zlib
from collections.abc import Iterator

from hoopwright.climate.read.text import LARGEST
from hoopwright.store.plans import digest_of
from hoopwright.tables.toml_text import hold_to_bounds

#: Table -> its columns, in the order in which rows may be put in. Results and jobs are not among
#: them: they are worked out anew, and never taken from a file.
KEPT = {
    "visitor": ("id", "token", "owner", "made"),
    "plan": ("id", "owner", "family", "name", "revision", "looking", "made", "changed"),
    "revision": ("plan", "number", "text", "digest", "note", "made"),
    "weather": ("plan", "name", "about", "digest", "body", "made"),
    "class": ("plan", "text", "digest", "made"),
    "tick": ("plan", "what", "made"),
    "reading": ("plan", "name", "about", "digest", "body", "made"),
    "own_list": ("owner", "name", "kind", "about", "digest", "body", "made"),
}


def damaged(base: sqlite3.Connection) -> list[str]:
    """Return what is not whole: rows unlike their fingerprint, plans without their text.

    Empty for a store that lost nothing.
    """
    wrong = [str(row[0]) for row in base.execute("PRAGMA integrity_check")]
    wrong = [words for words in wrong if words != "ok"]
    for table in KEPT:
        wrong += [why for _, why in _looked_at(base, table) if why]
    for (plan,) in base.execute(
        "SELECT id FROM plan WHERE NOT EXISTS (SELECT 1 FROM revision"
        " WHERE revision.plan = plan.id AND revision.number = plan.revision)"
    ):
        wrong.append(f"plan {plan}: its revision is missing")
    return wrong


def rebuilt(source: sqlite3.Connection, target: sqlite3.Connection) -> list[str]:
    """Put the rows of one store into a new one, row by row; return what was left out, in words.

    Only plain rows of our own tables go over: no trigger, view or index, no row unlike its
    fingerprint or of other types than ours. A plan stands at its last whole revision.
    """
    left_out = []
    tables = {
        name for (name,) in source.execute("SELECT name FROM sqlite_schema WHERE type = 'table'")
    }
    target.execute("BEGIN IMMEDIATE")
    for table, columns in KEPT.items():
        if table not in tables:
            continue
        marks = ", ".join("?" * len(columns))
        # The names are ours, from the table above.
        put = f"INSERT INTO {table} ({', '.join(columns)}) VALUES ({marks})"
        for row, why in _looked_at(source, table):
            try:
                if not why:
                    if table == "revision":
                        hold_to_bounds(str(row[2]))
                    target.execute(put, row)
            except (sqlite3.Error, ValueError) as error:
                why = f"{table} {row[0]!r:.60}: {error}"
            if why:
                left_out.append(why)
    for (plan,) in target.execute("SELECT id FROM plan").fetchall():
        left_out += _stood(target, plan)
    target.execute("COMMIT")
    return left_out


def _stood(target: sqlite3.Connection, plan: str) -> Iterator[str]:
    """Let a plan stand at a revision that is there; yield what that loses."""
    wanted = target.execute("SELECT revision FROM plan WHERE id = ?", (plan,)).fetchone()[0]
    found = target.execute(
        "SELECT number FROM revision WHERE plan = ? ORDER BY number > ?, abs(number - ?) LIMIT 1",
        (plan, wanted, wanted),
    ).fetchone()
    if found is None:
        target.execute("DELETE FROM plan WHERE id = ?", (plan,))
        yield f"plan {plan!r:.60}: no revision of it is whole"
    elif found[0] != wanted:
        target.execute("UPDATE plan SET revision = ? WHERE id = ?", (found[0], plan))
        yield f"plan {plan!r:.60}: stands at revision {found[0]}, since {wanted} is not whole"


def _looked_at(source: sqlite3.Connection, table: str) -> Iterator[tuple[tuple[object, ...], str]]:
    """Yield each row of a table, and why it is not whole, "" where it is."""
    columns = KEPT[table]
    for row in source.execute(f"SELECT {', '.join(columns)} FROM {table}"):
        values, cells = tuple(row), dict(zip(columns, row, strict=True))
        why = ""
        if "digest" in cells and not _as_printed(cells):
            named = f"{table} {values[0]!r:.60}, {values[1]!r:.60}"
            why = f"{named}: what it says is not what was saved"
        yield values, why


def _as_printed(cells: dict[str, object]) -> bool:
    """Return whether a row's content agrees with the fingerprint that was kept beside it."""
    text, body = cells.get("text"), cells.get("body")
    if isinstance(text, str):
        return digest_of(text) == cells["digest"]
    if not isinstance(body, bytes):
        return False
    unpacking = zlib.decompressobj()
    try:
        held = unpacking.decompress(body, LARGEST)
    except zlib.error:
        return False
    return unpacking.eof and hashlib.sha256(held).hexdigest() == cells["digest"]
