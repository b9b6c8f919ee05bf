"""The march compiled: the same source as the plain one, for sweeps and the server.

numba is imported only when `compiled_march` is first called; importing this module costs nothing.
"""

from __future__ import annotations

import os
from functools import cache
from hashlib import sha256
from pathlib import Path
from types import FunctionType
from typing import Any


def _shelf() -> Path | None:
    """Folder for the compiled march, named after the source's digest; None if unwritable.

    HOOPWRIGHT_CACHE, else XDG_CACHE_HOME, else ~/.cache. A changed source gets a new folder, so a
    stale compilation can never be picked up.
    """
    here = Path(__file__).parent
    text = b"".join(path.read_bytes() for path in sorted(here.glob("*.py")))
    base = os.environ.get("HOOPWRIGHT_CACHE") or os.environ.get("XDG_CACHE_HOME") or "~/.cache"
    shelf = Path(base).expanduser() / "hoopwright" / "compiled" / sha256(text).hexdigest()[:16]
    try:
        shelf.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return shelf if os.access(shelf, os.W_OK) else None


def _with_callees(function: Any, jit: Any, done: dict[str, Any], depth: int = 0) -> Any:
    """Compile `function` after every hoopwright function that it calls; the source stays."""
    name = f"{function.__module__}.{function.__qualname__}"
    if name in done:
        return done[name]
    names = dict(function.__globals__)
    for called in function.__code__.co_names:
        value = names.get(called)
        if isinstance(value, FunctionType) and value.__module__.startswith("hoopwright."):
            names[called] = _with_callees(value, jit, done, depth + 1)
    twin = FunctionType(
        function.__code__, names, function.__name__, function.__defaults__, function.__closure__
    )
    twin.__module__ = function.__module__
    twin.__qualname__ = function.__qualname__
    done[name] = jit(twin, forceinline=depth > 0)
    return done[name]


@cache
def compiled_march() -> Any:
    """`kernel.march` compiled to machine code; releases the interpreter so that threads scale.

    `fastmath` lets sums be reordered; the tests hold it to the plain march within 1e-9.
    """
    import numba

    from hoopwright.heat import kernel

    shelf = _shelf()
    if shelf is not None:
        config: Any = numba.config
        config.CACHE_DIR = str(shelf)

    def jit(function: Any, forceinline: bool) -> Any:
        return numba.njit(
            nogil=True,
            error_model="numpy",
            fastmath={"contract", "reassoc", "nsz", "arcp"},
            forceinline=forceinline,
            cache=shelf is not None and not forceinline,
        )(function)

    return _with_callees(kernel.march, jit, {})
