"""Water vapour: saturation, latent exchange with surfaces, stomata and drying soil."""

from functools import cache
from math import exp, floor
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.climate.air import saturation_over_water
from hoopwright.heat.coefficients import Coefficients
from hoopwright.heat.lanes import look_up

HEAT_AIR = 1013.0  # [J/kgK] moist air, FAO-56 eq. 8
TABLE_FROM, TABLE_STEP, TABLE_ROWS = -60.0, 0.1, 1601  # [degC] -60 to 100


@cache
def saturation_table() -> NDArray[np.float64]:
    """Saturation vapour pressure [Pa] every 0.1 K from -60 to 100 degC.

    ASHRAE 2017 eq. 6 over water also below 0 degC, as dew on a film stays liquid some kelvin
    below (over ice it is 5 % less at -5 degC). Linear between rows: within 1 part in 10^5.
    """
    temperature = TABLE_FROM + TABLE_STEP * np.arange(TABLE_ROWS, dtype=np.float64)
    return saturation_over_water(temperature)


def vapour_line(pressures: Any, temperature: Any) -> tuple[Any, Any]:
    """Saturation pressure about `temperature` [degC] as base [Pa] plus slope [Pa/K] x degC."""
    row = floor(min(max((temperature + 60.0) * 10.0, 0.0), TABLE_ROWS - 2.0))
    low = look_up(pressures, row)
    slope = (look_up(pressures, row + 1.0) - low) * 10.0
    return low - slope * (0.1 * row - 60.0), slope


def latent_conductance(
    heat: Any, resistance: Any, area: Any, heat_of_air: Any, psychro: Any, lewis: Any
) -> Any:
    """Latent heat per vapour pressure difference [W/m2 per Pa].

    heat : h [W/m2K] of the same surface; resistance : [s/m] of stomata or dry soil in series
    area : [-] exchanging area per ground area; heat_of_air : [J/m3K] of a volume of air
    Chilton & Colburn 1934: mass follows heat with Le^(2/3) = `lewis`.
    """
    return area * heat_of_air / psychro / (heat_of_air * lewis / heat + resistance)


def soil_resistance(moisture: float, c: Coefficients) -> float:
    """Resistance [s/m] of a drying surface, van de Griend & Owe 1994.

    r = 10 exp(35.63 (0.15 - theta)), theta [m3/m3] of the top centimetre; 10 s/m when wetter.
    """
    dry = max(0.0, c.soil_resistance_theta - moisture)
    return c.soil_resistance_wet * exp(c.soil_resistance_slope * dry)


def stomatal_resistance(light: NDArray[np.float64], c: Coefficients) -> NDArray[np.float64]:
    """Resistance [s/m] per leaf side against light absorbed [W/m2] per leaf area.

    Stanghellini 1987 (tomato): r = r_least (I + 4.30)/(I + 0.54); her humidity term follows in
    `drawn_shut`, her temperature and carbon dioxide terms are left out.
    """
    return np.asarray(
        c.stomatal_least * (light + c.stomatal_light_top) / (light + c.stomatal_light_bottom)
    )


def drawn_shut(short: Any, dryness: Any, most: Any) -> Any:
    """How many times more the stomata resist in air that is `short` [Pa] of the leaf's saturation.

    Stanghellini 1987 (tomato): 1 + 4.3e-6 short^2, at most 5.8, from memory. Without it leaves
    drink some third more than the FAO-56 reference in dry places, and at night five times what
    night stomata pass.
    """
    return min(1.0 + dryness * short * short, most)
