"""Wind by ASCE 7: velocity pressure, its factors, and the coefficients of arched roofs."""

from dataclasses import dataclass
from functools import cache
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.tables.reader import number, record_of, shipped, text

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Exposure:
    """The roughness of the country round the bed.

    coefficient [-], power [-], gradient_height [m] : of the exposure factor's power law
    """

    edition: Annotated[str, text()]
    exposure: Annotated[str, text(choices=("B", "C", "D"))]
    coefficient: Annotated[float, number("-", 1.5, 3)]
    power: Annotated[float, number("-", 5, 14)]
    gradient_height: Annotated[float, number("m", 100, 1500)]
    source: Annotated[str, text()]
    sure: Annotated[str, text()]


@dataclass(frozen=True)
class Landform:
    """A ridge, escarpment or hill that speeds the wind up; all fields [-]."""

    landform: Annotated[str, text()]
    speed_up_in_B: Annotated[float, number("-", 0, 2)]  # noqa: N815
    speed_up_in_C: Annotated[float, number("-", 0, 2)]  # noqa: N815
    speed_up_in_D: Annotated[float, number("-", 0, 2)]  # noqa: N815
    decay_with_height: Annotated[float, number("-", 1, 6)]
    reach_upwind: Annotated[float, number("-", 1, 5)]
    reach_downwind: Annotated[float, number("-", 1, 5)]
    source: Annotated[str, text()]
    sure: Annotated[str, text()]


@dataclass(frozen=True)
class _Averaging:
    averaging_time: Annotated[float, number("s", 0.5, 4000)]
    speed_over_hourly_mean: Annotated[float, number("-", 0.9, 2)]
    source: Annotated[str, text()]
    sure: Annotated[str, text()]


@cache
def exposures() -> dict[tuple[str, str], Exposure]:
    """Return the exposures by edition ('7-16', '7-22') and letter ('B', 'C', 'D')."""
    rows = [record_of(row, Exposure) for row in shipped("loads_asce_exposure")]
    return {(row.edition, row.exposure): row for row in rows}


@cache
def landforms() -> dict[str, Landform]:
    """Return the landforms of the topographic factor by name."""
    rows = [record_of(row, Landform) for row in shipped("loads_asce_landform")]
    return {row.landform: row for row in rows}


@cache
def _averaging() -> tuple[Floats, Floats]:
    rows = [record_of(row, _Averaging) for row in shipped("loads_gust_averaging")]
    return (
        np.log([row.averaging_time for row in rows]),
        np.array([row.speed_over_hourly_mean for row in rows]),
    )


def velocity_pressure(
    gust: ArrayLike,
    exposure_factor: ArrayLike = 0.85,
    topographic_factor: float = 1.0,
    directionality: float = 0.85,
    elevation_factor: float = 1.0,
    coefficient: float = 0.613,
) -> Floats:
    """Return the velocity pressure [Pa] of a gust.

    gust : [m/s] three-second gust at 10 m over open country (exposure C)
    exposure_factor : [-] Kz, 0.85 at and below 15 ft in exposure C
    topographic_factor, directionality, elevation_factor : [-] Kzt, Kd, Ke

    Valid for: gust at or above 0.
    Source: ASCE 7-16 eq. 26.10-1 (SI form confirmed by an open test case). ASCE 7-22 moves Kd to
    the pressure equation; the product is the same. Kd 0.85: Table 26.6-1, from memory.
    How sure: read in a secondary copy; the check value of that copy is met to 1e-5.
    """
    speed = np.asarray(gust, dtype=float)
    factors = topographic_factor * directionality * elevation_factor
    return np.asarray(coefficient * np.asarray(exposure_factor) * factors * speed**2)


def gust_at_pressure(
    pressure: ArrayLike,
    exposure_factor: float = 0.85,
    topographic_factor: float = 1.0,
    directionality: float = 0.85,
    elevation_factor: float = 1.0,
    coefficient: float = 0.613,
) -> Floats:
    """Return the gust [m/s] whose velocity pressure [Pa] is given: eq. 26.10-1 turned round.

    Source, range and sureness: as velocity_pressure.
    """
    factors = exposure_factor * topographic_factor * directionality * elevation_factor
    return np.asarray(np.sqrt(np.asarray(pressure, dtype=float) / (coefficient * factors)))


def exposure_factor(height: ArrayLike, exposure: Exposure, least_height: float = 4.572) -> Floats:
    """Return the velocity pressure exposure factor Kz [-].

    height : [m] above the ground
    least_height : [m] below which the code freezes the profile (15 ft)

    Valid for: any height up to the gradient height; below least_height the value is that at
    least_height, so a bed's hoop gets more wind than the profile would give it.
    Source: ASCE 7-16 / 7-22 Table 26.10-1 note 1 (exposure C of 7-16 confirmed by an open test
    case to 1e-6; the others from memory).
    """
    used = np.clip(np.asarray(height, dtype=float), least_height, exposure.gradient_height)
    return np.asarray(
        exposure.coefficient * (used / exposure.gradient_height) ** (2 / exposure.power)
    )


def elevation_factor(elevation: ArrayLike, decay: float = 1.19e-4) -> Floats:
    """Return the ground elevation factor Ke [-], for the thinner air of high places.

    elevation : [m] of the ground above sea level; decay : [1/m]

    Valid for: any elevation; the code also allows 1.0 always.
    Source: ASCE 7-16 Table 26.9-1 note 2, exp(-0.000119 z) (read in an open test case).
    """
    return np.asarray(np.exp(-decay * np.asarray(elevation, dtype=float)))


def topographic_factor(
    landform: Landform,
    exposure: Exposure,
    rise: float,
    half_length: float,
    distance: float,
    height: float,
    downwind: bool = True,
) -> float:
    """Return the topographic factor Kzt [-] on a ridge, escarpment or hill.

    rise : [m] H of the landform; half_length : [m] Lh upwind of the crest where it is half as
    high; distance : [m] of the bed from the crest; height : [m] of the cover above the ground;
    downwind : the bed stands downwind of the crest

    Valid for: rise / half_length from 0.2; below it the factor is 1. Above 0.5 the code takes
    0.5 and a half_length of 2 H. The further conditions of 26.8.1 (isolated, tall enough) are
    not tested here, which errs to the safe side.
    Source: ASCE 7-16 eq. 26.8-1 and Figure 26.8-1, from memory.
    """
    slope = rise / half_length
    if slope < 0.2:
        return 1.0
    if slope > 0.5:
        slope, half_length = 0.5, 2 * rise
    speed_up = {
        "B": landform.speed_up_in_B,
        "C": landform.speed_up_in_C,
        "D": landform.speed_up_in_D,
    }[exposure.exposure]
    reach = landform.reach_downwind if downwind else landform.reach_upwind
    first = speed_up * slope
    second = max(0.0, 1 - abs(distance) / (reach * half_length))
    third = float(np.exp(-landform.decay_with_height * height / half_length))
    return (1 + first * second * third) ** 2


def averaging_factor(seconds: ArrayLike) -> Floats:
    """Return the fastest speed over some seconds over the hourly mean [-].

    seconds : [s] averaging time, 1 to 3600; straight between table rows on the log of time

    Source: Durst 1960 as in ASCE 7-16 Figure C26.5-1; 1, 3 and 45 s read in secondary copies,
    the rest from memory.
    How sure: open country, strong wind; tropical storms are 10 to 15 % gustier (secondary copy).
    """
    time, factor = _averaging()
    return np.asarray(np.interp(np.log(np.asarray(seconds, dtype=float)), time, factor))


def gust_of_mean(speed: ArrayLike, seconds: ArrayLike) -> Floats:
    """Return the three-second gust [m/s] that goes with a speed meaned over some seconds.

    speed : [m/s]; seconds : [s] (600 for a European mean, 60 for a 'sustained' wind)

    Source and range: as averaging_factor.
    """
    return np.asarray(np.asarray(speed) * averaging_factor(3.0) / averaging_factor(seconds))


def gust_of_fastest_mile(speed: ArrayLike, mile: float = 1609.344) -> Floats:
    """Return the three-second gust [m/s] that goes with an old fastest-mile speed [m/s].

    Valid for: 20 to 55 m/s. Source: a fastest-mile wind is the mean over the time a mile takes;
    Durst's curve then, as in ASCE 7-16 C26.5. Check: 80 mph gives 95.6 mph (secondary copy).
    """
    pace = np.asarray(speed, dtype=float)
    return gust_of_mean(pace, mile / pace)


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
