"""The gust at a bed's height over the gust 10 m up in open country."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.tables.reader import Figure, ranges_of

Floats = NDArray[np.float64]

#: Height [m], roughness length [m] and peak factor [-] of the gust that is given: three seconds
#: over open grass (Davenport's class, as `loads_roughness` has it; 2.5 as of `gust_share`).
GIVEN_HEIGHT, GIVEN_ROUGHNESS, GIVEN_PEAK = 10.0, 0.03, 2.5


def roughness() -> Mapping[str, Figure]:
    """Return the roughness lengths [m] of the ground upwind by exposure; none among houses."""
    return ranges_of("loads_roughness", "m", 0.0001, 2)


def gust_share(
    height: float,
    roughness: ArrayLike,
    peak: ArrayLike = GIVEN_PEAK,
    power: float = 0.07,
) -> Floats:
    """Return the gust at a height over a three-second gust 10 m up in open country [-].

    height : [m] above the ground; roughness : [m] roughness length z0 upwind; peak : [-] of the
    gust at the bed, standard deviations above the mean: 2.5 for three seconds, 3.0 for about one

    Mean profile 0.19 (z0 / 0.05)^0.07 ln(z / z0), whose 0.19 and 0.05 fall out of the share;
    turbulence 1 / ln(z / z0).
    Valid for: heights of some twenty roughness lengths at least; below its own obstacles no
    profile holds. Source: EN 1991-1-4 eq. 4.3 to 4.7 carried below its least height, which is
    ours; peak factors from memory (Davenport). Check: 1 m over 0.03 m gives 0.72.
    """
    rough = np.asarray(roughness, dtype=float)

    def gust(z: float, z0: Floats, peaks: ArrayLike) -> Floats:
        log = np.log(z / z0)
        mean = z0**power * log
        return np.asarray(mean * (1 + np.asarray(peaks, dtype=float) / log))

    given = gust(GIVEN_HEIGHT, np.asarray(GIVEN_ROUGHNESS), GIVEN_PEAK)
    return np.asarray(gust(height, rough, peak) / given)


def velocity_pressure(speed: ArrayLike, density: float) -> Floats:
    """Return the velocity pressure [Pa] of a wind speed at the bed [m/s] in air [kg/m3]."""
    return np.asarray(0.5 * density * np.square(np.asarray(speed, dtype=float)))
