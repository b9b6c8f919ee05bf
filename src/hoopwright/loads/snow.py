"""Snow on the curve: how much stays, how it lies, and what each kind of snow weighs."""

from dataclasses import dataclass
from functools import cache
from typing import Annotated

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.site import StandardName
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.reader import number, record_of, shipped, text
from hoopwright.tables.spread import Spread

Floats = NDArray[np.float64]
_PCF = 157.08746384  # N/m3 in a pound-force a cubic foot, for a formula given in those
_PSF = 47.88025898  # Pa in a pound-force a square foot


@dataclass(frozen=True)
class SnowKind:
    """A kind of snow by its density. low, likely, high : [kg/m3]"""

    kind: Annotated[str, text()]
    low: Annotated[float, number("kg/m3", 10, 950)]
    likely: Annotated[float, number("kg/m3", 10, 950)]
    high: Annotated[float, number("kg/m3", 10, 950)]
    source: Annotated[str, text()]
    sure: Annotated[str, text()]

    def density(self) -> Spread:
        """Return the density [kg/m3] as a range."""
        return Spread(self.low, self.likely, self.high)


@cache
def snow_kinds() -> dict[str, SnowKind]:
    """Return the kinds of snow by name, lightest first."""
    rows = [record_of(row, SnowKind) for row in shipped("loads_snow_kind")]
    return {row.kind: row for row in rows}


def lying_share(standard: StandardName) -> float:
    """Return the snow on a flat roof over that on the ground [-], all other factors 1.

    Source: 0.7 of ASCE 7-16 eq. 7.3-1 (see flat_roof_load); shape coefficient 0.8 of EN 1991-1-3
    5.3, as on an undrifted cylinder (5.3.5), from memory.
    """
    return 0.8 if standard == "EN 1991" else 0.7


def flat_roof_load(
    ground_load: ArrayLike,
    exposure: float = 1.0,
    thermal: float = 1.2,
    importance: float = 0.8,
    coefficient: float = 0.7,
) -> Floats:
    """Return the flat-roof snow load pf [Pa].

    ground_load : [Pa] pg; exposure : [-] Ce 0.9 exposed, 1.0 partly, 1.2 sheltered; thermal : [-]
    Ct 1.2 unheated; importance : [-] Is 0.8 for risk category I (7-22 drops it: give 1)

    Source: ASCE 7-16 eq. 7.3-1; factors of Tables 7.3-1, 7.3-2 and 1.5-2 from memory. Check:
    pg 30 psf with all factors 1 gives 21.0 psf (open test case).
    """
    product = coefficient * exposure * thermal * importance
    return np.asarray(product * np.asarray(ground_load, dtype=float))


def slope_factor(slope: ArrayLike, thermal: float = 1.2, slippery: bool = False) -> Floats:
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
    degrees: see unbalanced_applies. Steeper hoops should still be tried with it: half-span load
    is what fells a hoop.
    Source: ASCE 7-16 7.6.2 and Figure 7.4-2, from memory; 7.6.2's 3 ft rule is met by every bed.
    """
    place = np.asarray(across, dtype=float)
    steep = np.abs(np.asarray(slope, dtype=float))
    crown = int(np.argmin(steep))
    lee = slice(crown, len(place))
    x, s = place[lee], np.degrees(steep[lee])

    def factored(degrees: float) -> float:
        share = float(slope_factor(np.radians(degrees), thermal, slippery))
        return 2 * flat_load * share / exposure

    load = np.zeros_like(place)
    eaves = float(s[-1])
    thirty = float(np.interp(30.0, s, x)) if eaves > 30.0 else float(x[-1])
    at_thirty = factored(min(eaves, 30.0))
    stops, values = [float(x[0]), thirty], [0.5 * flat_load, at_thirty]
    if eaves > 30.0:
        last = float(x[-1]) if eaves <= 70.0 else float(np.interp(70.0, s, x))
        at_last = at_thirty if ground_near else factored(min(eaves, 70.0))
        if last > thirty:
            stops.append(last)
            values.append(at_last)
    load[lee] = np.interp(x, stops, values)
    return load


def unbalanced_applies(across: ArrayLike, up: ArrayLike, slope: ArrayLike) -> bool:
    """Return whether the standard asks for unbalanced snow on this curve.

    across, up : [m]; slope : [rad] steepness

    Source: ASCE 7-16 7.6.2, from memory: not where the line from the eaves (or the 70 degree
    point) to the crown is flatter than 10 or steeper than 60 degrees.
    """
    x, y = np.asarray(across, dtype=float), np.asarray(up, dtype=float)
    steep = np.degrees(np.abs(np.asarray(slope, dtype=float)))
    crown = int(np.argmax(y))
    below = np.flatnonzero(steep[crown:] <= 70.0)[-1] + crown
    line = np.degrees(np.arctan2(y[crown] - y[below], abs(x[below] - x[crown])))
    return bool(10.0 <= line <= 60.0)


@dataclass(frozen=True)
class CylinderSnow:
    """Snow by EN 1991-1-3 on a cylindrical roof [Pa of plan], at each point given.

    undrifted, drifted : the two arrangements; shape : [-] the largest coefficient mu3
    """

    undrifted: Floats
    drifted: Floats
    shape: float


def cylindrical_eurocode(
    across: ArrayLike,
    up: ArrayLike,
    slope: ArrayLike,
    ground_load: float,
    exposure: float = 1.0,
    thermal: float = 1.0,
    largest_shape: float = 2.0,
) -> CylinderSnow:
    """Return the undrifted and drifted snow on a cylindrical roof.

    across, up : [m]; slope : [rad] steepness; ground_load : [Pa] sk

    Snow lies only where the slope is up to 60 degrees. Undrifted 0.8. Drifted: two triangles,
    each half of that width, peaks at its middle: 0.5 mu3 windward (left), mu3 lee (right), with
    mu3 = 0.2 + 10 h/b up to 2.0, so any hoop with h/b from 0.18 has 2.0.
    Source: EN 1991-1-3 5.3.5 and Figures 5.5, 5.6 (5.2 and 5.3 for the rest), from memory. A
    national annex may cap or change it.
    """
    x, y = np.asarray(across, dtype=float), np.asarray(up, dtype=float)
    steep = np.degrees(np.abs(np.asarray(slope, dtype=float)))
    holds = steep <= 60.0 + 1e-9
    base = exposure * thermal * ground_load
    shape = min(largest_shape, 0.2 + 10 * float(np.ptp(y)) / float(np.ptp(x)))
    left, right = float(x[holds].min()), float(x[holds].max())
    middle = 0.5 * (left + right)
    quarter = 0.25 * (right - left)
    stops = [left, left + quarter, middle, right - quarter, right]
    peaks = np.interp(x, stops, [0.0, 0.5 * shape, 0.0, shape, 0.0])
    return CylinderSnow(
        undrifted=np.where(holds, 0.8 * base, 0.0),
        drifted=np.where(holds, peaks * base, 0.0),
        shape=shape,
    )


def ground_snow_density(
    ground_load: ArrayLike, slope: float = 0.13, intercept: float = 14.0, most: float = 30.0
) -> Floats:
    """Return the density [kg/m3] of the snow pack a design ground load stands for.

    ground_load : [Pa]; slope [1/ft], intercept and most [lb/ft3] as printed

    Source: ASCE 7-16 eq. 7.7-1, 0.13 pg + 14 up to 30 pcf; pg 30 psf gives 17.9 pcf (read in a
    worked example). Valid for: drifts and packs of a design winter, not one snowfall.
    """
    weight = np.minimum(slope * np.asarray(ground_load) / _PSF + intercept, most) * _PCF
    return np.asarray(weight / STANDARD_GRAVITY)


def fresh_snow_density(
    air_temperature: ArrayLike, base: float = 67.92, rise: float = 51.25, scale: float = 2.59
) -> Floats:
    """Return the density [kg/m3] of snow as it falls.

    air_temperature : [degC]; base, rise [kg/m3], scale [degC]

    Valid for: -15 to 0 degC; above 0 the value at 0 is used, and snow is then wet (see
    snow_kinds). Scatter is wide: 10 to 257 kg/m3 by day (Judson and Doesken 2000, abstract read).
    Source: Hedstrom and Pomeroy 1998, Hydrol. Process. 12, 1611-1625: 67.92 + 51.25 exp(T/2.59);
    form seen in open code, coefficients from memory.
    """
    below = np.minimum(np.asarray(air_temperature, dtype=float), 0.0)
    return np.asarray(base + rise * np.exp(below / scale))


def settled_snow_density(
    depth: ArrayLike, most: float = 450.0, loss: float = 204.7, scale: float = 0.673
) -> Floats:
    """Return the mean density [kg/m3] of a settled pack of some depth [m].

    Valid for: cold packs, 0.05 to 2 m deep. Source: Pomeroy et al. 1998, 450 - (204.7/h)(1 -
    exp(-h/0.673)) with h in m (read in open code). A film over air is warmer above than soil.
    """
    h = np.maximum(np.asarray(depth, dtype=float), 1e-6)
    return np.asarray(most - loss / h * (1 - np.exp(-h / scale)))


def load_of_depth(depth: ArrayLike, density: ArrayLike) -> Floats:
    """Return the load [Pa] of snow of a depth [m] and density [kg/m3]: weight, exact."""
    return np.asarray(STANDARD_GRAVITY * np.asarray(density) * np.asarray(depth))


def ice_load(thickness: ArrayLike, density: float = 900.0) -> Floats:
    """Return the load [Pa of film] of glaze ice of a thickness [m].

    Source: ISO 12494 Table 1, glaze 900 kg/m3, from memory. It lies on the film's own area, not
    on the plan.
    """
    return load_of_depth(thickness, density)
