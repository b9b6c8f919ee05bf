"""What a fence, wall or hedge upwind does to the gust at the bed."""

import math
from typing import Annotated

import numpy as np

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Sourced, number, rows_of, text
from hoopwright.tables.spread import Spread, exactly

#: Length of a barrier over its height [-] from which its figures hold whole.
LONG = 10.0
#: Heights from a barrier's end within which wind comes round it [-].
ROUND_ENDS = 2.0


@dataclass(frozen=True)
class _ShelterPoint(Sourced):
    barrier: Annotated[str, text()]
    distance_in_heights: Annotated[float, number("-", 1, 50)]
    share_of_open_speed: Annotated[float, number("-", 0.05, 1)]


def _points() -> tuple[_ShelterPoint, ...]:
    return rows_of(_ShelterPoint, "loads_shelter")


def barriers() -> tuple[str, ...]:
    """Return the names of the barriers there are figures for."""
    return tuple(dict.fromkeys(point.barrier for point in _points()))


def sheltered_share(
    barrier: str,
    barrier_height: float,
    distance: float,
    cover_height: float,
    gust_share: float = 0.5,
    cover_over_barrier: float = 0.6,
    barrier_length: float = math.inf,
) -> Spread:
    """Return the wind speed behind a barrier over that in the open [-], as a range.

    barrier : one of barriers(); barrier_height, barrier_length, distance, cover_height : [m]
    gust_share : [-] share of the reduction that a gust is granted as likely (assumption)
    cover_over_barrier : [-] cover taller than this share of the barrier gets no shelter

    Low is the published reduction of the mean wind, high is no shelter at all, likely lies
    gust_share of the way: gusts are cut less than means and shift direction. Nearer than five
    barrier heights the value at five is used; behind a solid wall that is the rolling zone, and
    no shelter is granted as likely. Of a barrier shorter than ten heights so much less is cut.
    Valid for: wind square to the barrier.
    Source: as each row of loads_shelter names it; ten heights: USDA NRCS, windbreak design
    clipboard (excerpt read), which asks that length for the full effect and names no figure for
    less, so that straight share, the grant to gusts and the height limit are assumptions.
    """
    points = [point for point in _points() if point.barrier == barrier]
    if not points:
        raise ValueError(f"no shelter figures for '{barrier}'; there are {', '.join(barriers())}")
    if barrier_height <= 0 or cover_height > cover_over_barrier * barrier_height:
        return exactly(1.0)
    heights = distance / barrier_height
    mean_share = float(
        np.interp(
            heights,
            [point.distance_in_heights for point in points],
            [point.share_of_open_speed for point in points],
            right=1.0,
        )
    )
    mean_share = 1 - min(1.0, barrier_length / LONG / barrier_height) * (1 - mean_share)
    rolling = barrier.startswith("solid") and heights < points[0].distance_in_heights
    granted = 0.0 if rolling else gust_share
    return Spread(mean_share, 1 - granted * (1 - mean_share), 1.0)


def covered_angle(length: float, distance: float, height: float) -> float:
    """Return how far to either side of its middle a barrier shelters the bed [deg].

    length, distance, height : [m]. Wind that passes its end is not sheltered, nor that which passes
    within two heights of it. Source: geometry; EN 1991-1-4 table 7.9, whose zones of flow round a
    wall's free end (A and B) reach two heights in, from memory. Check: 20 m of 1 m at 8 m cover 45
    degrees to either side.
    """
    return math.degrees(math.atan2(max(0.0, length / 2 - ROUND_ENDS * height), distance))
