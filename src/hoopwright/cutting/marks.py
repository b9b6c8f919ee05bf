"""Lengths as whole numbers, so that a fit is a fit and a proof is exact.

The step is 1/80 mm: a millimetre is 80 steps and a sixteenth of an inch (1.5875 mm, the inch
being 25.4 mm exactly) is 127, so both kinds of tape are exact. Any other length is rounded to
the safe side: pieces and kerf up, stock down, by less than 1/80 mm.
"""

from __future__ import annotations

import math

STEPS = 80_000
"""Steps in a metre."""

_NEAR = 1e-4


def steps_up(length: float) -> int:
    """Length [m] in steps, upwards unless it is a whole number of steps but for float dust."""
    return math.ceil(length * STEPS - _NEAR)


def steps_down(length: float) -> int:
    """Length [m] in steps, downwards unless it is a whole number but for float dust."""
    return math.floor(length * STEPS + _NEAR)


def metres(steps: int) -> float:
    """Steps as a length [m]."""
    return steps / STEPS
