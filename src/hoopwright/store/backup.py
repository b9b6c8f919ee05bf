"""A copy of the whole store in one file, and back again."""

from __future__ import annotations

import os
import shutil
import sqlite3
import tempfile
import time
from pathlib import Path

from hoopwright.store.database import FILE, StoreError, connect, refuse_foreign
from hoopwright.store.keep import held_alone
from hoopwright.writing import folder_on_disk, on_disk


def backup(folder: Path, to: Path) -> Path:
    """Copy the store in a folder to one file, also while a server runs; return the file.

    The file appears under its name only when it is whole and on the disk.
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
        on_disk(copy)
        os.replace(copy, to)
    folder_on_disk(to.parent)
    return to


def restore(folder: Path, backup_file: Path) -> Path | None:
    """Put a backup in the place of a folder's store; return where the old one was put.

    Raises StoreError where the backup is not whole, or a server holds the folder.
    """
    if not backup_file.is_file():
        raise StoreError(f"{backup_file}: no such file; give the file that `store backup` wrote")
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    lock = held_alone(folder)
    try:
        with tempfile.TemporaryDirectory(dir=folder, prefix=".restore-") as aside:
            copy = Path(aside) / FILE
            shutil.copyfile(backup_file, copy)
            _whole(copy, backup_file)
            on_disk(copy)
            kept = _set_aside(folder)
            os.replace(copy, folder / FILE)
        folder_on_disk(folder)
    finally:
        lock.release()
    return kept


def _copied(source: Path, copy: Path) -> None:
    try:
        origin, target = sqlite3.connect(source), sqlite3.connect(copy)
        try:
            origin.backup(target)
            target.execute("PRAGMA journal_mode = DELETE")
        finally:
            target.close()
            origin.close()
    except sqlite3.DatabaseError as error:
        raise StoreError(f"{source}: cannot be copied ({error})") from None


def _whole(copy: Path, named: Path) -> None:
    """Raise StoreError unless the file is a whole store of ours."""
    try:
        found = sqlite3.connect(copy)
        try:
            refuse_foreign(found, named)
            answer = found.execute("PRAGMA integrity_check").fetchone()[0]
            found.execute("SELECT count(*) FROM revision").fetchone()
        finally:
            found.close()
    except sqlite3.DatabaseError as error:
        raise StoreError(f"{named}: is no backup of a store ({error}); nothing changed") from None
    if answer != "ok":
        raise StoreError(f"{named}: is damaged ({answer}); nothing was changed")
    connect(copy).close()


def _set_aside(folder: Path) -> Path | None:
    """Copy the present store aside and return where; it stays until the new one takes its name.

    Its log is folded into it first: a log left behind would be read into the new file.
    """
    present = folder / FILE
    if not present.exists():
        return None
    kept = folder / f"before-restore-{time.strftime('%Y%m%d-%H%M%S')}-{os.getpid()}.sqlite3"
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
        base = sqlite3.connect(path)
        try:
            base.execute("PRAGMA wal_checkpoint(TRUNCATE)")
        finally:
            base.close()
    except sqlite3.DatabaseError as error:
        raise StoreError(f"{path}: cannot be read ({error})") from None
