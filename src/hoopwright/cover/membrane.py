"""Film as a membrane between hoops or cords: sag, tension, the pocket that holds water."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass
from hoopwright.tables.constants import STANDARD_GRAVITY, WATER_DENSITY

Floats = NDArray[np.float64]
_STEPS = 80  # halvings of the half angle: past the last bit of a float
#: Sags over the span that a pocket is followed to [-], and how many on the way.
_DEEPEST, _SAGS = 0.45, 75


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


def level_pull(sag_share: float, stiffness: ArrayLike, slack: ArrayLike) -> tuple[Floats, float]:
    """Return the level part of a sagging strip's tension [N/m], and its greatest tension over it.

    sag_share : [-] sag over the span; stiffness : [N/m]; slack : [-]

    A parabola, as under a load even on plan: its stretch is its mean tension over its stiffness.
    Source: geometry and Hooke's law; the shallow limit is that of `elastic_span`.
    """
    steep = 4 * sag_share
    length = 0.5 * np.sqrt(1 + steep**2) + (0.5 * np.arcsinh(steep) / steep if steep else 0.5)
    stretch = np.maximum(length / (1 + np.asarray(slack, dtype=float)) - 1, 0.0)
    level = np.asarray(stiffness) * stretch * length / (1 + steep**2 / 3)
    return np.asarray(level), float(np.sqrt(1 + steep**2))


def pocket(sag: ArrayLike, rim: ArrayLike, span: float) -> Floats:
    """Return the level pull [N/m] that water to the rim asks of a sagging strip.

    sag : [m] at mid-span; rim : [m] below the hoops, over which the water runs off

    Water stands d (t0^2 - t^2) deep, t from -1 to 1 between the hoops and t0^2 = 1 - rim / d: its
    moment at mid-span over the sag. Source: equilibrium of a parabola. Check: a rim of 0 gives
    5/48 rho g L^2.
    """
    deep = np.maximum(np.asarray(sag, dtype=float), 1e-9)
    wet = np.sqrt(np.clip(1 - np.asarray(rim) / deep, 0.0, 1.0))
    water = WATER_DENSITY * STANDARD_GRAVITY
    return np.asarray(water * span**2 / 4 * (2 / 3 * wet**3 - wet**4 / 4))


def load_that_ponds(
    rim: Floats,
    sinks: Floats,
    span: float,
    stiffness: Floats,
    slack: Floats,
    tears: Floats,
    bears: Floats,
) -> Floats:
    """Return the even load [Pa] on strips of film whose pockets, once full of water, end them.

    rim : [m] as `pocket`, unloaded; sinks : [m/Pa] by which a load brings the hoops' crown nearer
    to it; stiffness, tears : [N/m] of the film, and the tension at which it goes; slack : [-]
    bears : [Pa] load, water counted, at which the hoops go

    Followed by the sag: the load at a sag is what the film's pull bears beyond the water in it.
    Where that falls as the film sags further the pocket runs away by itself, to where it holds
    again or to the end. Infinite where film or hoops go without a pocket, or nothing does. The
    steps find a sharp peak up to a tenth too low.
    Source: equilibrium, `level_pull` and `pocket`.
    """
    most, before, used = (np.zeros(rim.shape) for _ in range(3))
    ended, filled = np.zeros(rim.shape, dtype=bool), np.zeros(rim.shape, dtype=bool)
    for share in np.linspace(0.0, _DEEPEST, _SAGS + 1)[1:]:
        sag = share * span
        level, steepest = level_pull(float(share), stiffness, slack)
        whole = level * 8 * sag / span**2
        water = pocket(sag, np.maximum(rim - sinks * whole, 0.0), span)
        load = whole - water * 8 * sag / span**2
        # Where a limit is passed on this step the load is taken where it is met.
        uses = np.maximum(level * steepest / tears, whole / bears)
        part = np.clip((1 - used) / np.maximum(uses - used, 1e-12), 0.0, 1.0)
        most = np.where(ended, most, np.maximum(most, before + part * (load - before)))
        filled = np.where(ended, filled, water > 0)
        ended = ended | (uses >= 1)
        if ended.all():
            break
        before, used = load, uses
    return np.asarray(np.where(ended & filled, most, np.inf))
