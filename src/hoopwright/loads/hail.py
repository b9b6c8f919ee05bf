"""Hail: how fast a stone falls, how hard it hits, and which stone a cover stops."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.tables.constants import KELVIN, STANDARD_GRAVITY

Floats = NDArray[np.float64]
STONE_DENSITY = 915.0
"""Density of a hard hailstone [kg/m3]: solid ice 915 to 917; measured means 820 to 870 are
lighter (Prodi 1970, as told in Heymsfield et al. 2018, read)."""


def stone_mass(diameter: ArrayLike, density: float = STONE_DENSITY) -> Floats:
    """Return the mass [kg] of a round stone of a diameter [m]. Geometry, exact."""
    return np.asarray(density * np.pi / 6 * np.asarray(diameter, dtype=float) ** 3)


def air_density(
    elevation: ArrayLike,
    temperature: float = 15.0,
    sea_level_pressure: float = 101325.0,
    gas_constant: float = 287.05,
) -> Floats:
    """Return the density of air [kg/m3] at an elevation [m] and temperature [degC].

    Valid for: up to 5 km. Source: ISO 2533 pressure, 101325 (1 - 2.25577e-5 z)^5.25588, and the
    gas law. Check: 1.225 at sea level and 15 degC.
    """
    height = np.asarray(elevation, dtype=float)
    pressure = sea_level_pressure * (1 - 2.25577e-5 * height) ** 5.25588
    return np.asarray(pressure / (gas_constant * (temperature + KELVIN)))


def terminal_speed_by_drag(
    diameter: ArrayLike,
    drag: float = 0.5,
    density: float = STONE_DENSITY,
    density_of_air: ArrayLike = 1.225,
) -> Floats:
    """Return the terminal speed [m/s] of a round stone from weight against drag.

    diameter : [m]; drag : [-] 0.5 smooth to 0.6 and above rough; density_of_air : [kg/m3]

    Valid for: 5 to 50 mm. Source: the balance of forces. A drag of 0.5 meets Marshall's table
    (49.8 mph at 1 in, secondary copy) within 0.5 %. An upper bound: natural stones are lighter,
    flatter and lobed, and fall slower.
    """
    size = np.asarray(diameter, dtype=float)
    return np.asarray(
        np.sqrt(4 * STANDARD_GRAVITY * density * size / (3 * drag * np.asarray(density_of_air)))
    )


def kinetic_energy(mass: ArrayLike, speed: ArrayLike) -> Floats:
    """Return the kinetic energy [J] of a mass [kg] at a speed [m/s]. Exact."""
    return np.asarray(0.5 * np.asarray(mass) * np.asarray(speed) ** 2)


def stone_energy(
    diameter: ArrayLike,
    drag: float = 0.5,
    density: float = STONE_DENSITY,
    density_of_air: ArrayLike = 1.225,
    wind: float = 0.0,
) -> Floats:
    """Return the energy [J] a stone of a diameter [m] brings, falling in a side wind [m/s].

    Source and range: terminal_speed_by_drag; the wind is added at right angles, an upper bound,
    for a large stone does not reach the wind's own speed in a gust.
    """
    fall = terminal_speed_by_drag(diameter, drag, density, density_of_air)
    return kinetic_energy(stone_mass(diameter, density), np.hypot(fall, wind))


def diameter_of_energy(
    energy: ArrayLike,
    drag: float = 0.5,
    density: float = STONE_DENSITY,
    density_of_air: ArrayLike = 1.225,
) -> Floats:
    """Return the diameter [m] of the stone that brings an energy [J] in still air.

    Source: stone_energy turned round: energy goes with the fourth power of the diameter.
    """
    of_one_metre = stone_energy(1.0, drag, density, density_of_air)
    return np.asarray((np.asarray(energy, dtype=float) / of_one_metre) ** 0.25)


def dart_energy(dart_mass: ArrayLike, drop: float = 0.66) -> Floats:
    """Return the energy [J] of a falling dart [kg]: what half the film samples stood.

    drop : [m] 0.66 for method A of ASTM D1709 (secondary copy). Half the samples fail at it.
    """
    return np.asarray(STANDARD_GRAVITY * np.asarray(dart_mass) * drop)
