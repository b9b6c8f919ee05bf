"""What is kept between runs: where, and under which fingerprint of the program itself."""

import hashlib
import os
from functools import cache
from pathlib import Path

from platformdirs import user_cache_path

ROOT = Path(__file__).parent.parent


def folder() -> Path:
    """Return the cache folder: $HOOPWRIGHT_CACHE, else the user's cache folder."""
    own = os.environ.get("HOOPWRIGHT_CACHE")
    return Path(own) if own else user_cache_path("hoopwright", appauthor=False)


@cache
def program_print(room: Path = ROOT) -> str:
    """Return the fingerprint of all code and tables, so that no result outlives what gave it.

    room : a folder, for what rests on its files alone
    """
    state = hashlib.sha256()
    for path in sorted(room.rglob("*")):
        if path.suffix in (".py", ".csv"):
            state.update(f"{path.relative_to(room).as_posix()} {path.stat().st_size}\n".encode())
            state.update(path.read_bytes())
    return state.hexdigest()
