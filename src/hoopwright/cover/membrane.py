"""Film as a membrane between hoops or cords: sag, tension, the pocket that holds water."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.tables.constants import STANDARD_GRAVITY, WATER_DENSITY

Floats = NDArray[np.float64]
_STEPS = 80  # halvings of the half angle: past the last bit of a float


@dataclass(frozen=True)
class Membrane:
    """A strip of film that spans between two lines under an even pressure.

    sag : [m] at mid-span; tension : [N/m]; strain : [-] in the film; radius : [m]
    pull : [N/m] in the film's plane, square to the lines it spans between
    """

    sag: Floats
    tension: Floats
    strain: Floats
    radius: Floats
    pull: Floats


def elastic_span(
    pressure: ArrayLike,
    span: float,
    stiffness: float,
    pretension: float = 0.0,
    slack: float = 0.0,
) -> Membrane:
    """Return the sag and tension of elastic film between two fixed lines.

    pressure : [Pa] square to the film, either way; span : [m]; stiffness : [N/m] E times
    thickness (use a tenth to a half of E for snow that stays: film creeps)
    pretension : [N/m] it was hung with; slack : [-] extra length over the span, 0 taut

    The film is an arc of one radius; its stretch balances its tension. Solved by halving.
    Valid for: up to a half circle, film below yield, ends that do not give. Past a half circle
    (very slack or very soft) the half circle is returned and the strain tells so.
    Source: p R = T and Hooke's law on the arc length. In the shallow limit the sag is
    span (3 p span / (64 E t))^(1/3), the membrane strip of plate theory (Timoshenko and
    Woinowsky-Krieger, from memory).
    """
    p = np.abs(np.asarray(pressure, dtype=float))
    low, high = np.full(p.shape, 1e-9), np.full(p.shape, np.pi / 2)
    for _ in range(_STEPS):
        half = 0.5 * (low + high)
        stretch = half / np.sin(half) / (1 + slack) - 1
        excess = pretension + stiffness * stretch - p * span / (2 * np.sin(half))
        low, high = np.where(excess < 0, half, low), np.where(excess < 0, high, half)
    half = 0.5 * (low + high)
    radius = span / (2 * np.sin(half))
    tension = p * radius
    return Membrane(
        sag=np.asarray(radius * (1 - np.cos(half))),
        tension=np.asarray(np.where(p > 0, tension, max(pretension, 0.0))),
        strain=np.asarray(np.where(p > 0, (tension - pretension) / stiffness, 0.0)),
        radius=np.asarray(radius),
        pull=np.asarray(tension * np.cos(half)),
    )


def pocket_volume(span: ArrayLike, width: ArrayLike, sag: ArrayLike) -> Floats:
    """Return the volume [m3] of water a sagging bay holds before it spills.

    span : [m] between hoops; width : [m] of the dish along the hoop; sag : [m] at its middle

    A dish that is a parabola both ways, 4/9 of the box. An upper bound: taut film over an arch
    is a saddle, which drains to the sides; it dishes only where it is slack along the hoop too.
    Source: geometry, exact for that shape.
    """
    return np.asarray(4 / 9 * np.asarray(span) * np.asarray(width) * np.asarray(sag))


def dish_width(span_radius: float, sag: ArrayLike) -> Floats:
    """Return the width [m] over which an arched crown is lower at its sides than the sag.

    span_radius : [m] radius of the hoop at the crown; sag : [m]

    Source: chord of a circle, 2 sqrt(2 R f): water further out than this runs off whatever the
    film does. It bounds the pocket.
    """
    return np.asarray(2 * np.sqrt(2 * span_radius * np.asarray(sag, dtype=float)))


def pond_sag(span: float, stiffness: float, density: float = WATER_DENSITY) -> float:
    """Return the sag [m] at which a bay full of water to the brim stands still.

    span : [m]; stiffness : [N/m] E times thickness; density : [kg/m3]

    Each litre stretches the film and makes room for more. With two thirds of the brim depth as
    the mean load, the shallow membrane gives sag = span^2 sqrt(rho g / (32 E t)).
    Valid for: a long trough between hoops (the worst), hung taut, shallow: up to a fifth of the
    span; a larger answer means that the film bags until it tears or the hoop gives.
    Source: elastic_span in its shallow limit with the load following the sag; ours.
    """
    return float(span**2 * np.sqrt(density * STANDARD_GRAVITY / (32 * stiffness)))
