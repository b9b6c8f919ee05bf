"""A copy of the whole store in one file, and back again."""

import os
import secrets
import shutil
import sqlite3
import tempfile
import time
from contextlib import closing
from pathlib import Path

from hoopwright.frozen import dataclass
from hoopwright.store.database import (
    BROKEN,
    FILE,
    HELD,
    PATIENCE,
    SAYS_HELD,
    StoreError,
    connect,
    refuse_foreign,
)
from hoopwright.store.keep import Store, held_alone
from hoopwright.store.whole import KEPT, damaged, rebuilt
from hoopwright.writing import folder_on_disk, on_disk


def backup(folder: Path, to: Path) -> tuple[str, ...]:
    """Copy the store in a folder to one file, also while a server runs.

    The file appears under its name only when it is whole and on the disk. Returns what in it is
    not as it was saved, in words: nothing, unless the disk lost it.
    """
    source = folder / FILE
    if not source.exists():
        raise StoreError(f"{folder}: holds no store; give the folder that `serve` uses")
    if to.exists():
        raise StoreError(f"{to}: is there already; give another name, nothing was changed")
    to.parent.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory(dir=to.parent, prefix=".backup-") as aside:
        copy = Path(aside) / "copy.sqlite3"
        _copied(source, copy)
        with closing(sqlite3.connect(copy)) as held:
            wrong = damaged(held)
        on_disk(copy)
        os.replace(copy, to)
    folder_on_disk(to.parent)
    return tuple(wrong)


@dataclass(frozen=True)
class Restored:
    """What came of a restore: where the old store was put, and what was left out, in words."""

    before: Path | None
    left_out: tuple[str, ...]


def restore(folder: Path, backup_file: Path) -> Restored:
    """Put the rows of a backup in the place of a folder's store.

    The file is not trusted: a new store is built and filled row by row with what is whole.
    Raises StoreError where it is no backup, or a server holds the folder.
    """
    if not backup_file.is_file():
        raise StoreError(f"{backup_file}: no such file; give the file that `store backup` wrote")
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    lock = held_alone(folder)
    try:
        with tempfile.TemporaryDirectory(dir=folder, prefix=".restore-") as aside:
            copy, new = Path(aside) / "copy.sqlite3", Path(aside) / FILE
            shutil.copyfile(backup_file, copy)
            left_out = _built(copy, new, backup_file)
            on_disk(new)
            kept = _set_aside(folder)
            os.replace(new, folder / FILE)
        folder_on_disk(folder)
    finally:
        lock.release()
    return Restored(kept, tuple(left_out))


def bring_back(store: Store, body: bytes, owner: str) -> tuple[int, tuple[str, ...]]:
    """Put what a backup holds of an owner's, and the store has no more, back into an open store.

    Plans that are there stand as they are. Returns how many plans came back, and what was left
    out, in words. Raises StoreError where it is no backup.
    """
    with tempfile.TemporaryDirectory(dir=store.folder, prefix=".restore-") as aside:
        copy, new = Path(aside) / "copy.sqlite3", Path(aside) / FILE
        copy.write_bytes(body)
        left_out = _built(copy, new, Path("the backup"))
        with closing(sqlite3.connect(new)) as source:
            brought = _merged(store, source, owner)
    return brought, tuple(left_out)


def _merged(store: Store, source: sqlite3.Connection, owner: str) -> int:
    """Return how many plans of an owner's went over, each with all its revisions."""
    with store.writing() as base:
        there = {row[0] for row in base.execute("SELECT id FROM plan")}
        wanted = [
            plan
            for (plan,) in source.execute("SELECT id FROM plan WHERE owner = ?", (owner,))
            if plan not in there
        ]
        for table, columns in KEPT.items():
            if table == "visitor":
                continue
            key = {"plan": "id", "own_list": "owner"}.get(table, "plan")
            names, marks = ", ".join(columns), ", ".join("?" * len(columns))
            # The names are ours, from the table of what is kept.
            for one in [owner] if key == "owner" else wanted:
                rows = source.execute(f"SELECT {names} FROM {table} WHERE {key} = ?", (one,))
                base.executemany(f"INSERT OR IGNORE INTO {table} ({names}) VALUES ({marks})", rows)
    return len(wanted)


def _copied(source: Path, copy: Path) -> None:
    end = time.monotonic() + PATIENCE

    def look(state: int, left: int, pages: int) -> None:
        # The library itself would wait for ever.
        if state in HELD and time.monotonic() > end:
            raise StoreError(f"{source}: {SAYS_HELD}")

    try:
        with (
            closing(sqlite3.connect(source, timeout=0.0)) as origin,
            closing(sqlite3.connect(copy)) as target,
        ):
            origin.backup(target, progress=look)
            target.execute("PRAGMA journal_mode = DELETE")
    except BROKEN as error:
        raise StoreError(f"{source}: cannot be copied ({error})") from None


def _built(copy: Path, new: Path, named: Path) -> list[str]:
    """Build a new store from a copied backup; return what was left out. Raises StoreError."""
    where = f"{copy.absolute().as_uri()}?mode=ro"
    with closing(connect(new)) as target:
        try:
            with closing(sqlite3.connect(where, uri=True)) as source:
                source.text_factory = lambda held: held.decode("utf-8", "replace")
                source.execute("PRAGMA trusted_schema = OFF")
                refuse_foreign(source, named)
                answer = source.execute("PRAGMA integrity_check").fetchone()[0]
                if answer != "ok":
                    raise StoreError(f"{named}: is damaged ({answer}); nothing was changed")
                source.execute("SELECT count(*) FROM revision").fetchone()
                left_out = rebuilt(source, target)
            target.execute("PRAGMA journal_mode = DELETE")
        except BROKEN as error:
            says = f"{named}: is no backup of a store ({error}); nothing changed"
            raise StoreError(says) from None
    return left_out


def _set_aside(folder: Path) -> Path | None:
    """Copy the present store aside and return where; it stays until the new one takes its name.

    Its log is folded into it first: a log left behind would be read into the new file.
    """
    present = folder / FILE
    if not present.exists():
        return None
    named = f"before-restore-{time.strftime('%Y%m%d-%H%M%S')}-{secrets.token_hex(2)}.sqlite3"
    kept = folder / named
    try:
        _copied(present, kept)
        _folded(present)
    except StoreError:
        shutil.copyfile(present, kept)
    for name in (f"{FILE}-wal", f"{FILE}-shm"):
        (folder / name).unlink(missing_ok=True)
    return kept


def _folded(path: Path) -> None:
    try:
        with closing(sqlite3.connect(path)) as base:
            base.execute("PRAGMA wal_checkpoint(TRUNCATE)")
    except BROKEN as error:
        raise StoreError(f"{path}: cannot be read ({error})") from None
