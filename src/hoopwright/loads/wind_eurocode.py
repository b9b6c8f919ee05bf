"""Wind by EN 1991-1-4: peak velocity pressure and the coefficients of vaulted roofs."""

from dataclasses import dataclass
from functools import cache
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.tables.reader import number, record_of, shipped, text

Floats = NDArray[np.float64]


@dataclass(frozen=True)
class Terrain:
    """A terrain category. roughness_length, least_height : [m]"""

    category: Annotated[str, text()]
    roughness_length: Annotated[float, number("m", 0.001, 2)]
    least_height: Annotated[float, number("m", 0.5, 20)]
    source: Annotated[str, text()]
    sure: Annotated[str, text()]


@dataclass(frozen=True)
class _VaultPoint:
    curve: Annotated[str, text()]
    rise_over_span: Annotated[float, number("-", 0, 0.6)]
    coefficient: Annotated[float, number("-", -2, 1)]
    source: Annotated[str, text()]
    sure: Annotated[str, text()]


@cache
def terrains() -> dict[str, Terrain]:
    """Return the terrain categories by name ('0', 'I', 'II', 'III', 'IV')."""
    rows = [record_of(row, Terrain) for row in shipped("loads_en_terrain")]
    return {row.category: row for row in rows}


@cache
def _vault_curves() -> dict[str, tuple[Floats, Floats]]:
    rows = [record_of(row, _VaultPoint) for row in shipped("loads_en_vault")]
    return {
        curve: (
            np.array([row.rise_over_span for row in rows if row.curve == curve]),
            np.array([row.coefficient for row in rows if row.curve == curve]),
        )
        for curve in {row.curve for row in rows}
    }


def basic_velocity_pressure(basic_velocity: ArrayLike, air_density: float = 1.25) -> Floats:
    """Return the basic velocity pressure qb [Pa].

    basic_velocity : [m/s] ten-minute mean at 10 m over open country; air_density : [kg/m3]

    Source: EN 1991-1-4 eq. 4.10. Check: 26 m/s gives 422.5 Pa (worked example, secondary copy).
    """
    return np.asarray(0.5 * air_density * np.asarray(basic_velocity, dtype=float) ** 2)


def terrain_factor(terrain: Terrain, reference_roughness: float = 0.05) -> float:
    """Return the terrain factor kr [-].

    Source: EN 1991-1-4 eq. 4.5, 0.19 (z0 / 0.05)^0.07. Check: category III gives 0.215.
    """
    return float(0.19 * (terrain.roughness_length / reference_roughness) ** 0.07)


def roughness_factor(height: ArrayLike, terrain: Terrain) -> Floats:
    """Return the roughness factor cr [-] of the mean wind at a height [m].

    Valid for: up to 200 m; below the category's least height the value there.
    Source: EN 1991-1-4 eq. 4.4. Check: category III, 8 m gives 0.706.
    """
    used = np.clip(np.asarray(height, dtype=float), terrain.least_height, 200.0)
    return np.asarray(terrain_factor(terrain) * np.log(used / terrain.roughness_length))


def turbulence_intensity(
    height: ArrayLike, terrain: Terrain, orography: float = 1.0, turbulence_factor: float = 1.0
) -> Floats:
    """Return the turbulence intensity Iv [-] at a height [m].

    Source: EN 1991-1-4 eq. 4.7, with the recommended turbulence factor of 1. Range: as
    roughness_factor.
    """
    used = np.clip(np.asarray(height, dtype=float), terrain.least_height, 200.0)
    return np.asarray(turbulence_factor / (orography * np.log(used / terrain.roughness_length)))


def peak_velocity_pressure(
    basic_velocity: ArrayLike,
    height: ArrayLike,
    terrain: Terrain,
    orography: float = 1.0,
    air_density: float = 1.25,
    peak: float = 7.0,
) -> Floats:
    """Return the peak velocity pressure qp [Pa] at a height.

    basic_velocity : [m/s]; height : [m]; orography : [-] c0; peak : [-] twice the peak factor

    Valid for: up to 200 m. A national annex rules over these recommended values.
    Source: EN 1991-1-4 eq. 4.3 and 4.8. Check: category IV, 9 m gives 1.18 times qb.
    """
    mean_factor = roughness_factor(height, terrain) * orography
    basic = basic_velocity_pressure(basic_velocity, air_density)
    gustiness = 1 + peak * turbulence_intensity(height, terrain, orography)
    return np.asarray(gustiness * basic * mean_factor**2)


@dataclass(frozen=True)
class VaultCoefficients:
    """External coefficients [-] of a vaulted roof by four equal lengths of arc: A, B, B, C.

    windward : A; windward_other : the second value of A to be tried where there is one, or None
    centre : B; leeward : C; rise_ratio : the f/d used; clamped : outside the figure's range
    """

    windward: float
    windward_other: float | None
    centre: float
    leeward: float
    rise_ratio: float
    clamped: bool
    source: str


def vault_coefficients(
    rise_ratio: float,
    wall_ratio: float,
    smallest_ratio: float = 0.05,
    largest_ratio: float = 0.5,
    lower_branch_ends: float = 0.3,
    lower_branch: float = -0.9,
) -> VaultCoefficients:
    """Return the external coefficients of a vaulted roof, wind across.

    rise_ratio : [-] f/d, rise over span; wall_ratio : [-] h/d, wall height over span

    Valid for: f/d 0.05 to 0.5; outside it the end value is used and clamped is True. Between
    h/d 0 and 0.5, A is interpolated. From f/d 0.2 to 0.3 on walls of h/d 0.5, two values of A
    are to be tried.
    Source: EN 1991-1-4 Figure 7.11. Read in one worked example at f/d 0.26 (A 0.42 and 0.16,
    B -0.96, C -0.40); the rest of the curves from memory, +-0.05.
    How sure: the curves come from low-turbulence tests of doubtful reliability (Blackmore and
    Tsokri, J. Wind Eng. Ind. Aerodyn. 94 (2006) 833).
    """
    used = min(max(rise_ratio, smallest_ratio), largest_ratio)
    curves = _vault_curves()

    def read(curve: str) -> float:
        return float(np.interp(used, *curves[curve]))

    share = min(max(wall_ratio / 0.5, 0.0), 1.0)
    other: float | None = None
    if share == 1.0 and 0.2 <= used <= lower_branch_ends:
        other = lower_branch
    return VaultCoefficients(
        windward=(1 - share) * read("A on the ground") + share * read("A on walls"),
        windward_other=other,
        centre=read("B"),
        leeward=read("C"),
        rise_ratio=used,
        clamped=used != rise_ratio,
        source="EN 1991-1-4 Figure 7.11, one point read in a worked example, the rest from memory",
    )


def internal_with_dominant_opening(external: float, area_ratio: float) -> float:
    """Return the internal coefficient [-] behind one dominant opening.

    external : [-] external coefficient at the opening; area_ratio : [-] its area over that of
    all other openings

    Valid for: area_ratio from 2 (below it there is no dominant opening; the value at 2 is used).
    Source: EN 1991-1-4 7.2.9(5), 0.75 at 2 and 0.90 from 3, from memory.
    """
    return float(np.interp(area_ratio, [2.0, 3.0], [0.75, 0.90])) * external
