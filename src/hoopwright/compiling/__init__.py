"""Compiling a plain function to machine code; the source stays as it is.

numba is imported only when something is first compiled; importing this module costs nothing.
"""

from __future__ import annotations

import os
import sys
from pathlib import Path
from types import FunctionType
from typing import Any

from hoopwright.caching import folder, program_print

#: Sums may be reordered and fused; not-a-number and infinity keep their meaning.
REORDERED = frozenset({"contract", "reassoc", "nsz", "arcp"})


def machine_code(function: Any, apart: tuple[Any, ...] = (), inline: bool = False) -> Any:
    """Compile a function with every hoopwright function it calls; it then releases the interpreter.

    Only what numba takes: numbers, arrays, named tuples of them. Called functions are written into
    their callers, but for those in `apart`: large ones, perhaps with several callers, that with all
    they call make no arrays. So nobody need count who still uses an array, which in small loops
    over many arrays takes longer than the work. Where arrays are counted throughout, `inline` still
    writes every called function into its caller: worth it for one large loop over few arrays.

    The result is kept on disk, in a folder named after the digest of the sources beside the
    function, so a changed source is never answered by an old compilation; where no folder can be
    written it is compiled anew each run.
    """
    import numba

    shelf = _shelf(Path(sys.modules[function.__module__].__file__ or "").parent)
    config: Any = numba.config
    before = config.CACHE_DIR
    if shelf is not None:
        config.CACHE_DIR = str(shelf)
    try:
        return _twin(function, numba.njit, shelf is not None, apart, inline, True, {})
    finally:
        config.CACHE_DIR = before


def _shelf(sources: Path) -> Path | None:
    """Folder for compiled code, in the cache folder."""
    shelf = folder() / "compiled" / program_print(sources)[:16]
    try:
        shelf.mkdir(parents=True, exist_ok=True)
    except OSError:
        return None
    return shelf if os.access(shelf, os.W_OK) else None


def _twin(
    function: Any,
    njit: Any,
    kept: bool,
    apart: tuple[Any, ...],
    inline: bool,
    counting: bool,
    done: dict[tuple[str, bool], Any],
) -> Any:
    """Compile `function` after every hoopwright function that it calls, each once.

    counting: whether the uses of arrays are counted, as the outermost function needs.
    """
    outermost = not done
    counting = counting and function not in apart
    name = f"{function.__module__}.{function.__qualname__}", counting
    if name in done:
        return done[name]
    done[name] = None
    names = dict(function.__globals__)
    for called in function.__code__.co_names:
        value = names.get(called)
        if isinstance(value, FunctionType) and value.__module__.startswith("hoopwright."):
            names[called] = _twin(value, njit, kept, apart, inline, counting, done)
    twin = FunctionType(
        function.__code__, names, function.__name__, function.__defaults__, function.__closure__
    )
    twin.__module__, twin.__qualname__ = function.__module__, function.__qualname__
    done[name] = njit(
        nogil=True,
        error_model="numpy",
        fastmath=set(REORDERED),
        forceinline=(not counting or (inline and not outermost)) and function not in apart,
        cache=kept and outermost,
        _nrt=counting,
    )(twin)
    return done[name]
