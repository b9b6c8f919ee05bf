"""The march compiled: the same source as the plain one, for sweeps and the server.

numba is imported only when `compiled_march` is first called; importing this module costs nothing.
"""

import os
import sys
import threading
from functools import cache
from pathlib import Path
from types import FunctionType
from typing import Any

from hoopwright.caching import folder, program_print
from hoopwright.heat import (
    convection,
    kernel,
    links,
    longwave,
    soil,
    soil_column,
    surfaces,
    vapour,
    ventilation,
)

#: Modules whose functions the march is written in.
SOURCES = (
    convection,
    kernel,
    links,
    longwave,
    soil,
    soil_column,
    surfaces,
    vapour,
    ventilation,
)


#: Longest that a thread back from its march waits for the interpreter [s], in place of 5 ms.
SWITCH = 1e-4
#: Where the compiler keeps its code is one setting for all threads: set, used, put back in turn.
_TURN = threading.Lock()


def compiled_march() -> Any:
    """`kernel.march` compiled to machine code, for one lane or `lanes.WIDTH` by what it is given.

    It releases the interpreter so that threads scale. Sums may be reordered; the tests hold it to
    the plain march within 1e-9. The result is kept on disk, in a folder named after the digest of
    the sources, as numba itself looks only at the file of the outermost function; where no folder
    can be written, numba finds a place of its own.
    """
    with _TURN:
        return _compiled()


@cache
def _compiled() -> Any:
    import numba
    from numba.extending import register_jitable

    from hoopwright.heat import vectors

    sys.setswitchinterval(SWITCH)
    options: Any = {"error_model": "numpy", "fastmath": set(vectors.REORDERED)}
    for module in SOURCES:
        for function in vars(module).values():
            if isinstance(function, FunctionType) and function.__module__ == module.__name__:
                register_jitable(forceinline=True, **options)(function)
    config: Any = numba.config
    before = config.CACHE_DIR
    config.CACHE_DIR = _shelf(before)
    try:
        return numba.njit(nogil=True, cache=True, **options)(kernel.march)
    finally:
        config.CACHE_DIR = before


def compiled_before() -> bool:
    """Return whether this version's march lies compiled on this machine; else it takes a while."""
    shelf = _shelf(os.environ.get("NUMBA_CACHE_DIR", ""))
    return bool(shelf) and next(Path(shelf).rglob("*.nbi"), None) is not None


def march_at_hand() -> Any:
    """Return the march compiled where it lies so on this machine, else None for the plain one.

    For one year or less: to compile takes longer than the plain march does.
    """
    return compiled_march() if compiled_before() else None


def _shelf(asked: str) -> str:
    """Folder for compiled code, in NUMBA_CACHE_DIR or the cache folder; empty where none can be."""
    base = Path(asked) if asked else folder() / "compiled"
    shelf = base / program_print(Path(__file__).parent)[:16]
    try:
        shelf.mkdir(parents=True, exist_ok=True)
    except OSError:
        return ""
    return str(shelf) if os.access(shelf, os.W_OK) else ""
