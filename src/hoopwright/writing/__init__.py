"""The one way to write a file: whole or not at all, and never over what was read.

A file appears under its name only once it is whole and on the disk; a crash or a full disk leaves
what was there before.
"""

import os
import secrets
from collections.abc import Iterable, Iterator
from contextlib import contextmanager
from pathlib import Path


class WouldOverwrite(ValueError):
    """An output that is the very file something was read from."""


def spare_inputs(outputs: Iterable[Path | None], inputs: Iterable[Path | None]) -> None:
    """Raise WouldOverwrite where an output is one of the inputs; asked before anything is done."""
    read = [path for path in inputs if path is not None and path.exists()]
    for path in outputs:
        if path is not None and path.exists() and any(path.samefile(one) for one in read):
            raise WouldOverwrite(
                f"{path}: was just read; writing there would destroy it, so give another name"
            )


@contextmanager
def whole(path: Path) -> Iterator[Path]:
    """Yield a place beside a file to write to; it takes the file's name once all is written."""
    # The ending stays, since some writers choose their format by it.
    part = path.with_name(f".{path.stem[:60]}-{secrets.token_hex(4)}{path.suffix}")
    try:
        yield part
        on_disk(part)
        os.replace(part, path)
    except OSError as error:
        # The name that the person gave says more than that of the part.
        error.filename, error.filename2 = str(path), None
        raise
    finally:
        part.unlink(missing_ok=True)
    folder_on_disk(path.parent)


def write(path: Path, held: str | bytes) -> Path:
    """Write text (as UTF-8, line ends as they stand) or bytes; return the file."""
    with whole(path) as part:
        part.write_bytes(held.encode("utf-8") if isinstance(held, str) else held)
    return path


def on_disk(path: Path) -> None:
    """Wait until a file's content is on the disk."""
    with path.open("r+b") as file:
        os.fsync(file.fileno())


def folder_on_disk(folder: Path) -> None:
    """Wait until a folder's names are on the disk, where the system can say so."""
    try:
        handle = os.open(folder, os.O_RDONLY)
    except OSError:  # Windows opens no folder.
        return
    try:
        os.fsync(handle)
    except OSError:  # Nor do some network file systems.
        pass
    finally:
        os.close(handle)
