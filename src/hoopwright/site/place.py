"""The place of the bed and the ground around it."""

from typing import Literal

from hoopwright.frozen import dataclass
from hoopwright.site.standard import UNPLACED, Standard

Exposure = Literal["town", "open", "shore"]


@dataclass(frozen=True)
class Site:
    """Where the bed stands.

    latitude, longitude : [deg], north and east positive; None where the plan leaves them open
    elevation           : [m] above sea level, or None
    exposure            : "town" (close obstacles), "open" (scattered obstacles) or "shore" (open
                          water or flats upwind): the B, C and D of the American wind standard
    gust                : [m/s] 3-second gust at 10 m in open country to design for, or None
    gust_years          : [yr] between gusts as strong as that on average
    ground_snow         : [Pa] snow load on the ground to design for, or None
    snow_years          : [yr] between winters with as much on average
    barrier             : what shelters the bed, a name of loads.shelter, or None
    barrier_height, barrier_distance, barrier_length : [m] of that barrier
    barrier_direction   : [deg] of its middle from the bed, clockwise from north, or None
    standard            : the standard that wind and snow follow, and why
    """

    name: str = ""
    latitude: float | None = None
    longitude: float | None = None
    elevation: float | None = None
    exposure: Exposure = "open"
    gust: float | None = None
    gust_years: float = 50.0
    ground_snow: float | None = None
    snow_years: float = 50.0
    barrier: str | None = None
    barrier_height: float = 0.0
    barrier_distance: float = 0.0
    barrier_length: float = 0.0
    barrier_direction: float | None = None
    standard: Standard = UNPLACED
