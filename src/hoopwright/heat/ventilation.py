"""Air that passes under the cover: through openings, holes and leaks."""

from math import sqrt
from typing import Any

from hoopwright.tables.constants import STANDARD_GRAVITY


def through_openings(
    area: Any,
    height: Any,
    discharge: Any,
    wind_pressure: Any,
    difference: Any,
    outside: Any,
    wind: Any,
) -> Any:
    """Air flow [m3/s] through openings on both sides, stack and wind together.

    Boulard & Baille 1995 (J. agric. Engng Res. 61:145); Kittas et al. 1997:
    G = S/2 Cd sqrt(2 g dT/To H/4 + Cw u^2).
    area : [m2] total open area S;  height : [m] vertical height H of the opening
    difference : [K] inside less outside (sign ignored);  outside : [K] absolute;  wind : [m/s]
    Published for tunnels over 5 m wide; none was found for a bed of 1 m.
    """
    stack = 2.0 * STANDARD_GRAVITY * abs(difference) / outside * height * 0.25
    return 0.5 * area * discharge * sqrt(stack + wind_pressure * wind * wind)


def through_one_side(area: Any, height: Any, difference: Any, wind: Any) -> Any:
    """Air flow [m3/s] where only one side is open.

    De Gids & Phaff 1982: G = A/2 sqrt(0.001 u^2 + 0.0035 H dT + 0.01), from memory.
    """
    return 0.5 * area * sqrt(0.001 * wind * wind + 0.0035 * height * abs(difference) + 0.01)


def in_series(discharge: float, screen: float) -> float:
    """Discharge of an opening with a mesh in it: 1/Cd^2 adds (Lopez et al. 2016)."""
    if screen <= 0.0:
        return discharge
    return 1.0 / sqrt(1.0 / (discharge * discharge) + 1.0 / (screen * screen))
