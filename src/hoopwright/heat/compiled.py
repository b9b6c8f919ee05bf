"""The march compiled: the same source as the plain one, for sweeps and the server.

numba is imported only when `compiled_march` is first called; importing this module costs nothing.
"""

from __future__ import annotations

from functools import cache
from typing import Any

from hoopwright.compiling import machine_code
from hoopwright.heat import kernel


@cache
def compiled_march() -> Any:
    """`kernel.march` compiled to machine code; releases the interpreter so that threads scale.

    Sums may be reordered; the tests hold it to the plain march within 1e-9.
    """
    return machine_code(kernel.march, inline=True)
