"""Snow on the curve: how much stays, how it lies, and what each kind of snow weighs."""

from collections.abc import Mapping

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.site.standard import StandardName
from hoopwright.tables.reader import Figure, ranges_of

Floats = NDArray[np.float64]


def snow_kinds() -> Mapping[str, Figure]:
    """Return the densities [kg/m3] of the kinds of snow by name, lightest first."""
    return ranges_of("loads_snow_kind", "kg/m3", 10, 950)


def lying_share(standard: StandardName) -> float:
    """Return the snow on a flat roof over that on the ground [-], all other factors 1.

    Source: 0.7 of ASCE 7-16 eq. 7.3-1; shape coefficient 0.8 of EN 1991-1-3 5.3, as on an
    undrifted cylinder (5.3.5), from memory.
    """
    return 0.8 if standard == "EN 1991" else 0.7


def slope_factor(slope: ArrayLike, thermal: float, slippery: bool) -> Floats:
    """Return the slope factor Cs [-]: the share of snow that stays on a slope.

    slope : [rad] from level; thermal : [-] Ct; slippery : smooth and free to slide off

    Valid for: any slope; 0 from 70 degrees. Film between hoops dishes and holds snow, so
    slippery is False unless the film is taut.
    Source: ASCE 7-16 Figure 7.4-1 (slippery 5, 10, 15 degrees; other 30, 37.5, 45; each falling
    to 0 at 70), as in an open package. Check: Ct 1.1, slippery, 26.6 degrees gives 0.723.
    """
    degrees = np.degrees(np.abs(np.asarray(slope, dtype=float)))
    starts = (5.0, 10.0, 15.0) if slippery else (30.0, 37.5, 45.0)
    start = starts[0] if thermal <= 1.0 else starts[1] if thermal < 1.2 else starts[2]
    return np.asarray(np.clip((70.0 - degrees) / (70.0 - start), 0.0, 1.0))


def balanced_on_curve(
    slope: ArrayLike, flat_load: float, thermal: float = 1.2, slippery: bool = False
) -> Floats:
    """Return balanced snow [Pa of plan] at each point of a curved roof.

    slope : [rad]; flat_load : [Pa]

    Valid for: parts steeper than 70 degrees carry none.
    Source: ASCE 7-16 7.4.3 and Figure 7.4-2, from memory.
    """
    return np.asarray(flat_load * slope_factor(slope, thermal, slippery))


def unbalanced_on_curve(
    across: ArrayLike,
    slope: ArrayLike,
    flat_load: float,
    exposure: float = 1.0,
    thermal: float = 1.2,
    slippery: bool = False,
    ground_near: bool = True,
) -> Floats:
    """Return unbalanced snow [Pa of plan] at each point of a curved roof, wind from the left.

    across : [m] place across the span, rising; slope : [rad] steepness, no sign
    flat_load : [Pa] pf; ground_near : the ground lies within 3 ft of the eaves, which a bed's
    board does: the load is then not let fall between the 30 degree point and the eaves

    The windward half is bare. The lee half has half the flat load at the crown, 2 pf Cs / Ce at
    the 30 degree point (at the eaves where the roof is flatter), and at the eaves 2 pf Cs / Ce
    with the eaves' Cs, or nothing from 70 degrees on.
    Valid for: a straight line from eaves (or the 70 degree point) to crown between 10 and 60
    degrees. Steeper hoops should still be tried with it: half-span load is what fells a hoop.
    Source: ASCE 7-16 7.6.2 and Figure 7.4-2, from memory; 7.6.2's 3 ft rule is met by every bed.
    """
    place = np.asarray(across, dtype=float)
    steep = np.abs(np.asarray(slope, dtype=float))
    # The crown may lie between two points; the left one of them is then on the bare half.
    level = np.flatnonzero(steep <= steep.min() + 1e-9)
    crown = int(level[0] + level[-1] + 1) // 2
    lee = slice(crown, len(place))
    x, s = place[lee], np.degrees(steep[lee])

    def factored(degrees: float) -> float:
        share = float(slope_factor(np.radians(degrees), thermal, slippery))
        return 2 * flat_load * share / exposure

    load = np.zeros_like(place)
    eaves = float(s[-1])
    thirty = float(np.interp(30.0, s, x)) if eaves > 30.0 else float(x[-1])
    at_thirty = factored(min(eaves, 30.0))
    stops, values = [float(place[level].mean()), thirty], [0.5 * flat_load, at_thirty]
    if eaves > 30.0:
        last = float(x[-1]) if eaves <= 70.0 else float(np.interp(70.0, s, x))
        at_last = at_thirty if ground_near else factored(min(eaves, 70.0))
        if last > thirty:
            stops.append(last)
            values.append(at_last)
    load[lee] = np.interp(x, stops, values)
    return load
