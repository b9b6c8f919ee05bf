"""Wind and turbulent exchange close to the ground."""

from math import log
from typing import Any

from hoopwright.heat.lanes import where
from hoopwright.tables.constants import STANDARD_GRAVITY

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
