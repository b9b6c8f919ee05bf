"""Hail: how fast a stone falls, how hard it hits, and which stone a cover stops."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.spread import Spread

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
    return np.asarray(pressure / (gas_constant * (temperature + 273.15)))


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


def terminal_speed_heymsfield(
    diameter: ArrayLike,
    pressure: ArrayLike = 100000.0,
    small_factor: float = 6.35,
    small_power: float = 0.87,
    factor: float = 6.1,
    power: float = 0.72,
    turn: float = 0.005,
    pressure_power: float = 0.55,
) -> Floats:
    """Return the terminal speed [m/s] of natural stones, the best fit at present.

    diameter : [m] largest; pressure : [Pa]; turn : [m] where the fit changes

    Valid for: 1 to about 50 mm. Natural stones are lighter and rougher than spheres, so slower.
    Source: Heymsfield et al. 2018, J. Atmos. Sci. 75, 3861: 6.35 D^0.87 below and 6.1 D^0.72
    above 0.5 cm (D in cm) at 1000 hPa, times (1000/p)^0.55; read in open code.
    """
    size = np.asarray(diameter, dtype=float) * 100
    speed = np.where(size < turn * 100, small_factor * size**small_power, factor * size**power)
    return np.asarray(speed * (100000.0 / np.asarray(pressure)) ** pressure_power)


def terminal_speed_matson_huggins(diameter: ArrayLike, factor: float = 11.45) -> Floats:
    """Return the terminal speed [m/s] of natural stones measured near the ground.

    diameter : [m]. Valid for: 5 to 25 mm, at an air density of 0.993 kg/m3 (about 2 km up).
    Source: Matson and Huggins 1980, J. Atmos. Sci. 37, 1107: 11.45 D^0.5 with D in cm (form,
    range and air density read in the abstract, the factor from memory).
    """
    return np.asarray(factor * np.sqrt(np.asarray(diameter, dtype=float) * 100))


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


def stone_energy_range(diameter: float, density_of_air: float = 1.225) -> Spread:
    """Return the energy [J] of a stone of a diameter [m] by three published laws.

    Low: the speed of Heymsfield et al. 2018; likely: Matson and Huggins 1980, taken from their
    air density of 0.993 kg/m3 to this one; high: the smooth sphere. All with the sphere's mass,
    which itself is on the heavy side.
    Valid for: 5 to 50 mm. How sure: the laws differ by a factor of three in energy at one inch.
    """
    mass = stone_mass(diameter)
    pressure = 100000.0 * density_of_air / 1.225
    measured = terminal_speed_matson_huggins(diameter) * np.sqrt(0.993 / density_of_air)
    energies = sorted(
        float(kinetic_energy(mass, speed))
        for speed in (
            terminal_speed_heymsfield(diameter, pressure),
            measured,
            terminal_speed_by_drag(diameter, density_of_air=density_of_air),
        )
    )
    return Spread(*energies)


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


def film_dart_mass(thickness: ArrayLike, mass_per_thickness: float = 1650.0) -> Floats:
    """Return the dart mass [kg] plain polyethylene film of a thickness [m] stands.

    mass_per_thickness : [kg/m], 1.65 g a micrometre

    Valid for: 100 to 200 um, plain new film. Source: IS 2508 least values, 165 g at 100, 255 at
    150, 340 at 200 um (secondary copy): 1.65 to 1.7 g/um. Tough grades stand more: use the
    maker's dart rating.
    """
    return np.asarray(mass_per_thickness * np.asarray(thickness, dtype=float))


def share_left_with_age(age: float, rated_life: float, left_at_end: float = 0.5) -> float:
    """Return the share [-] of its impact energy a film has left.

    age, rated_life : in the same unit, in the sun

    Straight down to left_at_end at the rated life and on to 0.1, an assumption. Source of the
    half: the usual end of life of film is half its elongation left (a trial: 6 months plain,
    9 months layered in Algeria, secondary copy).
    """
    if rated_life <= 0:
        raise ValueError("the rated life of a film must be above zero")
    return max(0.1, 1 - (1 - left_at_end) * age / rated_life)
