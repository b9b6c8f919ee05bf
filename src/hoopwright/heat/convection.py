"""Heat carried between air and the cover, the soil and the leaves; wind close to the ground."""

from math import log, sqrt
from typing import Any

from hoopwright.heat.lanes import where
from hoopwright.tables.constants import STANDARD_GRAVITY

LEAST_DIFFERENCE = 0.05  # [K] keeps natural convection from vanishing at equal temperatures
# [1/m3K] g / (T nu^2) at 10 degC, sea level
GRASHOF_AIR = STANDARD_GRAVITY / 283.0 / (1.4e-5 * 1.4e-5)
REYNOLDS_AIR = 1.0 / 1.4e-5  # [s/m2] 1 / nu at 10 degC; nu from memory of handbooks
CONDUCTIVITY_AIR = 0.0248  # [W/mK] at 10 degC, handbook
SEA_LEVEL = 101325.0  # [Pa] at which, or near which, the laws below were measured


def in_thin_air(pressure: float, power: float) -> float:
    """What a convection law measured near sea level is worth at `pressure` [Pa], as a factor [-].

    Kinematic viscosity and thermal diffusivity go as 1/density, conductivity hardly changes: Re
    goes as density, Gr and Ra as its square. So h follows density to the power of Re, or twice
    the power of Gr (similarity; e.g. Incropera & DeWitt ch. 6 and 9). 0.78 of sea level at 2050 m.
    power : [-] of density, so twice the exponent of a law in dT
    """
    return float((pressure / SEA_LEVEL) ** power)


def inside_cover(difference: Any, factor: Any, exponent: Any) -> Any:
    """h [W/m2K] between inside air and film, `difference` [K] either sign.

    Papadakis et al. 1992 (plastic greenhouse): 1.95 |dT|^0.30. Range 1-12 K; measured on houses
    larger than a bed.
    """
    return factor * max(LEAST_DIFFERENCE, abs(difference)) ** exponent


def over_soil(difference: Any, warm: Any, warm_exponent: Any, cool: Any, cool_exponent: Any) -> Any:
    """h [W/m2K] over level soil; `difference` [K] is soil less air.

    De Zwart 1996: 1.7 dT^(1/3) where the floor is warmer, 1.3 |dT|^(1/4) where it is cooler.
    """
    rises = difference > LEAST_DIFFERENCE
    apart = max(LEAST_DIFFERENCE, abs(difference))
    return where(rises, warm, cool) * apart ** where(rises, warm_exponent, cool_exponent)


def over_leaf(difference: Any, speed: Any, length: Any, factor: Any, forced: Any) -> Any:
    """h [W/m2K] of one side of a leaf in mixed convection.

    Stanghellini 1987: Nu = 0.37 (Gr + 6.92 Re^2)^0.25, with leaf `length` [m], air `speed` [m/s]
    and leaf-air `difference` [K]. Air properties at 10 degC and sea level; Gr^0.25 and Re^0.5 both
    go as the root of density, which the caller puts into `factor` (`in_thin_air`).
    """
    apart = max(LEAST_DIFFERENCE, abs(difference))
    grashof = GRASHOF_AIR * length * length * length * apart
    reynolds = REYNOLDS_AIR * speed * length
    nusselt = factor * sqrt(sqrt(grashof + forced * reynolds * reynolds))
    return nusselt * CONDUCTIVITY_AIR / length


def forced(speed: Any, length: Any, factor: Any) -> Any:
    """h [W/m2K] of a flat surface of `length` [m] in a draught of `speed` [m/s], laminar form."""
    return factor * sqrt(speed / length)


KARMAN = 0.41  # [-], FAO-56


def wind_share(height: float, measured: float = 10.0) -> float:
    """Wind at `height` [m] over wind at `measured` [m]; FAO-56 eq. 47 profile over short grass.

    u2 = uz 4.87 / ln(67.8 z - 5.42). Valid over open grass; below 0.1 m held at its value there.
    """
    z = max(height, 0.1)
    return log(67.8 * z - 5.42) / log(67.8 * measured - 5.42)


def neutral_conductance(low: float, high: float, roughness: float) -> float:
    """Air exchange [m/s] per wind speed [m/s] at `high`, between heights `low` and `high` [m].

    Logarithmic profile (as in FAO-56 eq. 4): k^2 / (ln(high/z0) ln(high/low)).
    """
    return KARMAN * KARMAN / (log(high / roughness) * log(high / low))


def stability_factor(
    difference: Any,
    kelvin: Any,
    height: Any,
    wind: Any,
    slope: Any,
    unstable: Any,
    stable: Any,
) -> Any:
    """How much stratification changes the neutral exchange [-].

    Choudhury, Reginato & Idso 1986: delta = 5 g z (Ts - Ta)/(Ta u^2); (1 + delta)^0.75 where the
    surface is warmer, (1 + delta)^2 where colder, nil where delta < -1. Their rule dies too early
    on calm nights; the caller keeps a least exchange.
    difference : Ts - Ta [K]; kelvin : Ta [K]; height [m]; wind [m/s].
    """
    delta = slope * STANDARD_GRAVITY * height * difference / (kelvin * wind * wind)
    return max(0.0, 1.0 + delta) ** where(delta >= 0.0, unstable, stable)
