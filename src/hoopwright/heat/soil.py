"""Heat in the soil: its properties, its layers, and its freezing."""

from math import exp, log10, pi, sqrt
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.heat.coefficients import Coefficients
from hoopwright.heat.enclosure import Soil
from hoopwright.heat.lanes import where

THAWED, MIXED, FROZEN = 0.0, 1.0, 2.0  # numbers like all others, one a lane
DENSITY_WATER = 1000.0  # [kg/m3]
SOLID_DENSITY = 2700.0  # [kg/m3], Johansen 1975


def conductivity(
    porosity: float, moisture: float, quartz: float, frozen: bool, c: Coefficients
) -> float:
    """Thermal conductivity [W/mK] by Johansen 1975 (in Farouki 1981), fine-soil branch.

    porosity, moisture [m3/m3], quartz [-] share of the solids. Thawed: Kersten = log10(Sr) + 1;
    frozen: Kersten = Sr. Good to 25 % (Farouki). Peat-like mixes lie below the fitted range.
    """
    solid = 1.0 - porosity
    bulk = solid * SOLID_DENSITY
    dry = (0.135 * bulk + 64.7) / (SOLID_DENSITY - 0.947 * bulk)
    solids = c.quartz_conductivity**quartz * c.mineral_conductivity ** (1.0 - quartz)
    saturation = min(1.0, moisture / porosity)
    if frozen:
        wet = solids**solid * c.ice_conductivity**porosity
        kersten = saturation
    else:
        wet = solids**solid * c.water_conductivity**porosity
        kersten = max(0.0, log10(max(saturation, 0.1)) + 1.0)
    return float(c.conductivity_scale * (kersten * (wet - dry) + dry))


def heat_capacity(porosity: float, moisture: float, frozen: bool, c: Coefficients) -> float:
    """Volumetric heat capacity [J/m3K]: solids and water (or ice) by volume, de Vries 1963."""
    water = c.ice_heat if frozen else c.water_heat
    return (1.0 - porosity) * c.solids_heat + moisture * water


def layer_thicknesses(above_grade: float, deep: float = 2.0) -> tuple[list[float], int]:
    """Layers [m] from the surface down, and how many of them stand within the boards.

    Thin at the top for the day's wave (damping depth 0.12 m), wide below for the year's (2.2 m).
    """
    shares = [0.036, 0.072, 0.142, 0.22, 0.24, 0.29]
    bed = [share * max(above_grade, 0.12) for share in shares]
    native = [0.15, 0.42, max(0.3, deep - sum(bed) - 0.57)]
    return bed + native, len(bed)


@dataclass(frozen=True)
class SoilColumn:
    """A soil column ready for stepping, all per ground area.

    thickness       : [m] of each layer
    capacity        : [J/m2K] per layer, rows thawed, freezing, frozen
    half_resistance : [m2K/W] from a layer's middle to its edge, same rows
    latent          : [J/m2] of fusion in a layer
    side            : [W/m2K] of each layer through the boards to the air outside
    band            : [K] width of freezing, from -band to 0 degC
    """

    thickness: NDArray[np.float64]
    capacity: NDArray[np.float64]
    half_resistance: NDArray[np.float64]
    latent: NDArray[np.float64]
    side: NDArray[np.float64]
    band: float


def column(
    thickness: list[float],
    in_bed: int,
    soil: Soil,
    side: list[float],
    c: Coefficients,
) -> SoilColumn:
    """The column of a bed: bed soil in the first `in_bed` layers, native ground below."""
    capacity, resistance, latent = [], [], []
    for index, deep in enumerate(thickness):
        bed = index < in_bed
        porosity = soil.porosity if bed else soil.native_porosity
        moisture = soil.moisture if bed else soil.native_moisture
        quartz = soil.quartz if bed else soil.native_quartz
        thawed = heat_capacity(porosity, moisture, False, c) * deep
        frozen = heat_capacity(porosity, moisture, True, c) * deep
        fusion = moisture * DENSITY_WATER * c.fusion_heat * deep
        warm = conductivity(porosity, moisture, quartz, False, c)
        cold = conductivity(porosity, moisture, quartz, True, c)
        capacity.append([thawed, 0.5 * (thawed + frozen) + fusion / c.freezing_band, frozen])
        resistance.append([deep / 2.0 / k for k in (warm, 0.5 * (warm + cold), cold)])
        latent.append(fusion)
    return SoilColumn(
        np.array(thickness),
        np.array(capacity).T.copy(),
        np.array(resistance).T.copy(),
        np.array(latent),
        np.array(side),
        c.freezing_band,
    )


def annual_wave(
    depth: float,
    day: NDArray[np.float64],
    mean: float,
    swing: float,
    coldest: float,
    diffusivity: float,
) -> NDArray[np.float64]:
    """Undisturbed ground temperature [degC], Kusuda & Achenbach 1965.

    T = Tm - A exp(-z sqrt(pi/(365 a))) cos(2 pi/365 (t - t0 - z/2 sqrt(365/(pi a)))), with depth z
    [m], day t of the year, coldest day t0 of the surface, diffusivity a [m2/day].
    """
    damping = exp(-depth * sqrt(pi / (365.0 * diffusivity)))
    lag = depth / 2.0 * sqrt(365.0 / (pi * diffusivity))
    wave = np.cos(2.0 * pi / 365.0 * (np.asarray(day) - coldest - lag))
    return np.asarray(mean - swing * damping * wave)


def fit_annual_wave(
    days: NDArray[np.float64], surface: NDArray[np.float64]
) -> tuple[float, float, float]:
    """Mean [degC], swing [K] and coldest day of the surface wave that fits a year of air.

    First harmonic by projection (least squares on an evenly sampled year).
    """
    angle = 2.0 * np.pi / 365.0 * days
    mean = float(surface.mean())
    along = 2.0 * float(((surface - mean) * np.cos(angle)).mean())
    across = 2.0 * float(((surface - mean) * np.sin(angle)).mean())
    swing = float(np.hypot(along, across))
    coldest = float(np.arctan2(-across, -along)) * 365.0 / (2.0 * np.pi)
    return mean, swing, coldest % 365.0


def enthalpy(temperature: Any, thawed: Any, frozen: Any, latent: Any, band: Any) -> Any:
    """Heat held [J/m2] against soil all frozen at the foot of the freezing band, -band [degC]."""
    mixed = 0.5 * (thawed + frozen) * band + latent
    over = temperature + band
    below = where(over <= 0.0, frozen * over, mixed * over / band)
    return where(temperature >= 0.0, mixed + thawed * temperature, below)


def phase_of(temperature: Any, band: Any) -> Any:
    """THAWED, MIXED or FROZEN at `temperature` [degC]."""
    return where(temperature >= 0.0, THAWED, where(temperature <= -band, FROZEN, MIXED))


def temperature_of(heat: Any, thawed: Any, frozen: Any, latent: Any, band: Any) -> Any:
    """Temperature [degC] that goes with the heat held [J/m2]; the inverse of `enthalpy`."""
    mixed = 0.5 * (thawed + frozen) * band + latent
    below = where(heat <= 0.0, heat / frozen, heat * band / mixed) - band
    return where(heat >= mixed, (heat - mixed) / thawed, below)
