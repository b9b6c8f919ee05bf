"""Results kept between runs, so that a second look is quick: a folder of the user's own cache."""

from __future__ import annotations

import contextlib
import hashlib
import os
import pickle
import tempfile
from typing import Any

from hoopwright.caching import folder, program_print


def key(*parts: str) -> str:
    """Return a key that changes with its parts and with the program itself."""
    return hashlib.sha256("\n".join([*parts, program_print()]).encode()).hexdigest()[:32]


def load(name: str) -> Any | None:
    """Return what was kept under a name, or None; a damaged file counts as none."""
    try:
        with (folder() / f"{name}.pickle").open("rb") as stream:
            return pickle.load(stream)
    except (OSError, EOFError, pickle.UnpicklingError, AttributeError, ImportError, ValueError):
        return None


def save(name: str, value: Any) -> None:
    """Keep a value; a cache that cannot be written is no reason to fail."""
    with contextlib.suppress(OSError):
        folder().mkdir(parents=True, exist_ok=True, mode=0o700)
        handle, part = tempfile.mkstemp(dir=folder(), suffix=".part")
        with os.fdopen(handle, "wb") as stream:
            pickle.dump(value, stream)
        os.replace(part, folder() / f"{name}.pickle")
