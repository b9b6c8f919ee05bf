"""Wind by ASCE 7: thin air, and the coefficients of arched roofs and end walls."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass

Floats = NDArray[np.float64]


def elevation_factor(elevation: ArrayLike, decay: float = 1.19e-4) -> Floats:
    """Return the ground elevation factor Ke [-], for the thinner air of high places.

    elevation : [m] of the ground above sea level; decay : [1/m]

    Valid for: any elevation; the code also allows 1.0 always.
    Source: ASCE 7-16 Table 26.9-1 note 2, exp(-0.000119 z) (read in an open test case).
    """
    return np.asarray(np.exp(-decay * np.asarray(elevation, dtype=float)))


@dataclass(frozen=True)
class ArchCoefficients:
    """External pressure coefficients [-] of an arched roof, wind across; positive pushes in.

    windward, centre, leeward : on the quarter, the half and the quarter of the arc
    windward_other : a second windward value the standard also asks for, or None
    rise_ratio : the rise over span that was used
    clamped : True where the true ratio lies outside the standard's range
    """

    windward: float
    centre: float
    leeward: float
    windward_other: float | None
    rise_ratio: float
    clamped: bool
    source: str


ARCH_SOURCE = "ASCE 7-16 Figure 27.3-3, from memory"


def arch_from_ground(
    rise_ratio: float,
    windward_slope: float = 1.4,
    centre_at_none: float = -0.7,
    leeward: float = -0.5,
    largest_ratio: float = 0.6,
) -> ArchCoefficients:
    """Return the coefficients of an arch that springs from the ground.

    rise_ratio : [-] rise over span

    Valid for: 0 to 0.6; above it 0.6 is used and clamped is True. Nearly every hoop bent over a
    bed is steeper than 0.6.
    Source: ASCE 7-16 Figure 27.3-3, from memory: 1.4 r, -0.7 - r, -0.5.
    How sure: the figure was not found in the open; the centre half agrees with EN 1991-1-4.
    """
    used = min(max(rise_ratio, 0.0), largest_ratio)
    return ArchCoefficients(
        windward=windward_slope * used,
        centre=centre_at_none - used,
        leeward=leeward,
        windward_other=None,
        rise_ratio=used,
        clamped=used != rise_ratio,
        source=ARCH_SOURCE,
    )


def arch_on_walls(
    rise_ratio: float,
    centre_at_none: float = -0.7,
    leeward: float = -0.5,
    largest_ratio: float = 0.6,
) -> ArchCoefficients:
    """Return the coefficients of an arch on an elevated structure.

    rise_ratio : [-] rise over span

    Valid for: 0 to 0.6, clamped above as in arch_from_ground. The board box below the hoop makes
    it in principle an elevated arch; its windward push is the larger one.
    Source: ASCE 7-16 Figure 27.3-3, from memory: -0.9 below 0.2; 1.5 r - 0.3 and also 6 r - 2.1
    from 0.2 to 0.3; 2.75 r - 0.7 above.
    """
    used = min(max(rise_ratio, 0.0), largest_ratio)
    other: float | None = None
    if used < 0.2:
        windward = -0.9
    elif used < 0.3:
        windward, other = 1.5 * used - 0.3, 6 * used - 2.1
    else:
        windward = 2.75 * used - 0.7
    return ArchCoefficients(
        windward=windward,
        centre=centre_at_none - used,
        leeward=leeward,
        windward_other=other,
        rise_ratio=used,
        clamped=used != rise_ratio,
        source=ARCH_SOURCE,
    )


def along_roof_coefficients(height_over_length: float) -> tuple[tuple[float, float], ...]:
    """Return (reach in roof heights, coefficient) from the windward end, wind along the roof.

    height_over_length : [-] h / L, mean roof height over the length along the wind

    Valid for: h / L up to 0.5, and from 1; between, the reaches are those of 0.5 and the values
    are interpolated. The last zone runs to the far end.
    Source: ASCE 7-16 Figure 27.3-1 (wind parallel to ridge); the set for h / L to 0.5 (-0.9,
    -0.5, -0.3) was read in an open test case, -1.3 and -0.7 are from memory.
    """
    low = ((0.5, -0.9), (1.0, -0.9), (2.0, -0.5), (np.inf, -0.3))
    high = ((0.5, -1.3), (1.0, -0.7), (2.0, -0.7), (np.inf, -0.7))
    share = min(max((height_over_length - 0.5) / 0.5, 0.0), 1.0)
    return tuple((reach, a + share * (b - a)) for (reach, a), (_, b) in zip(low, high, strict=True))


def leeward_wall_coefficient(length_over_width: float) -> float:
    """Return the coefficient [-] of a leeward end wall.

    length_over_width : [-] L / B, along the wind over across it

    Source: ASCE 7-16 Figure 27.3-1: -0.5 to 1, -0.3 at 2, -0.2 from 4 (the first read in an open
    test case, the rest from memory).
    """
    return float(np.interp(length_over_width, [1.0, 2.0, 4.0], [-0.5, -0.3, -0.2]))
