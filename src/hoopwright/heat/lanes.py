"""The few operations the march needs beyond arithmetic, for one bed or for several side by side.

A lane is one bed under one cover. The march is written once, without branches on what may differ
between lanes; run as it stands these functions act on plain numbers, and `compiled` gives each of
them a second meaning on vectors of processor registers, a number a lane.
"""

from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass

WIDTH = 4  # lanes of a block: what one register of most processors of today holds


def where(condition: Any, yes: Any, no: Any) -> Any:
    """`yes` in the lanes where the condition holds, else `no`; both have been worked out."""
    return yes if condition else no


def in_any(condition: Any) -> bool:
    """True where the condition holds in any lane."""
    return bool(condition)


def take(values: Any, place: int) -> Any:
    """The number at `place` of a row, one a lane."""
    return values[place]


def put(values: Any, place: int, value: Any) -> None:
    """Write the number at `place` of a row, one a lane."""
    values[place] = value


def look_up(table: Any, row: Any) -> Any:
    """The entry of a plain table at `row` [a whole number as float], one a lane."""
    return table[int(row)]


@dataclass(frozen=True)
class Lanes:
    """A number a lane, as handed to the compiled march: an array of `WIDTH` floats."""

    values: NDArray[np.float64]
