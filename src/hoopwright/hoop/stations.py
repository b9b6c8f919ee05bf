"""Where the hoops stand along the bed, as marks on a tape from one board end."""

import itertools
import math
from typing import Literal

from hoopwright.frozen import dataclass

Role = Literal["end", "inner", "panel"]


@dataclass(frozen=True)
class HoopStation:
    """One hoop's place.

    mark : [m] from the outer end of the side board
    role : "panel" carries an end panel, "end" the end of the body sheet, "inner" a full bay
    """

    mark: float
    role: Role


def bays(length: float, first_offset: float, last_offset: float, greatest: float) -> int:
    """Return the least number of equal bays none of which is wider than `greatest` [m]."""
    run = length - first_offset - last_offset
    return max(1, math.ceil(run / greatest - 1e-6))


def stations(
    length: float,
    *,
    first_offset: float,
    last_offset: float,
    greatest: float,
    framed: bool,
    pair_gap: float,
) -> tuple[HoopStation, ...]:
    """Return the hoops of a bed in order along it.

    length                    : [m] of the side boards
    first_offset, last_offset : [m] from each board end to the nearest hoop
    greatest                  : [m] the widest bay allowed
    framed                    : True adds, inside each end hoop, a second one at `pair_gap` [m]:
                                the outermost carries the end panel, its neighbour the body sheet
    """
    run = length - first_offset - last_offset
    number = bays(length, first_offset, last_offset, greatest)
    even = [first_offset + run * index / number for index in range(number + 1)]
    outer: Role = "panel" if framed else "end"
    placed = [HoopStation(even[0], outer), HoopStation(even[-1], outer)]
    placed += [HoopStation(mark, "inner") for mark in even[1:-1]]
    if framed:
        placed += [HoopStation(even[0] + pair_gap, "end"), HoopStation(even[-1] - pair_gap, "end")]
    return tuple(sorted(placed, key=lambda station: station.mark))


def widest_bay(hoops: tuple[HoopStation, ...]) -> float:
    """Return the widest clear distance between neighbouring hoops [m]."""
    return max(b.mark - a.mark for a, b in itertools.pairwise(hoops))


def working_bay(hoops: tuple[HoopStation, ...]) -> float:
    """Return the narrowest bay one works in [m]: pairs at the ends do not count."""
    worked = [hoop.mark for hoop in hoops if hoop.role != "panel"]
    if len(worked) < 2:
        worked = [hoop.mark for hoop in hoops]
    return min(b - a for a, b in itertools.pairwise(worked))
