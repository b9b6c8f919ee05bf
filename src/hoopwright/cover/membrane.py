"""Film as a membrane between hoops or cords: sag, tension, the pocket that holds water."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass

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
