"""Wood screws by the NDS: withdrawal, lateral yield, pull-through, and their factors."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from typing import Annotated

import numpy as np

from hoopwright.tables.reader import SURENESS, number, record_of, shipped, text
from hoopwright.tables.spread import Spread

_PSI = 6894.757293168  # Pa; the standard's coefficients are in pounds and inches
_INCH = 0.0254


@dataclass(frozen=True)
class _Duration:
    load: Annotated[str, text()]
    factor: Annotated[float, number("-", 0.5, 2)]
    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]


@dataclass(frozen=True)
class Caution:
    """A warning a person should read: what about, what to do, why, and where it comes from."""

    about: Annotated[str, text()]
    severity: Annotated[str, text()]
    text: Annotated[str, text()]
    source: Annotated[str, text()]
    sure: Annotated[str, text(choices=SURENESS)]


@cache
def load_durations() -> dict[str, float]:
    """Return the load duration factors CD [-] by the load that governs."""
    rows = [record_of(row, _Duration) for row in shipped("holding_load_duration")]
    return {row.load: row.factor for row in rows}


@cache
def cautions() -> dict[str, Caution]:
    """Return the cautions on screws, corrosion, end grain and pull tests by subject."""
    rows = [record_of(row, Caution) for row in shipped("holding_cautions")]
    return {row.about: row for row in rows}


@dataclass(frozen=True)
class Service:
    """How a screw is used.

    duration : [-] CD, 1.6 wind, 1.15 snow, 0.9 always; wet : [-] CM, 0.7 where the board gets
    wet, as bed boards do; temperature : [-] Ct
    """

    duration: float = 1.6
    wet: float = 0.7
    temperature: float = 1.0

    @property
    def factor(self) -> float:
        """Return the product of the factors [-]."""
        return self.duration * self.wet * self.temperature


def withdrawal_per_length(
    specific_gravity: float, diameter: float, coefficient: float = 2850.0
) -> float:
    """Return the reference withdrawal value W [N/m of thread in the wood] of a wood screw.

    specific_gravity : [-] G; diameter : [m] shank; coefficient : [psi] as printed

    Valid for: side grain, G 0.3 to 0.73, #6 to #24; in end grain nothing is granted. Threads
    only: the plain shank holds nothing.
    Source: NDS 2018 eq. 12.2-2, 2850 G^2 D lb/in. Check: #10 at G 0.45 gives 109.7 lb/in against
    a printed 109 (secondary copy).
    """
    return coefficient * _PSI * specific_gravity**2 * diameter


def nail_withdrawal_per_length(
    specific_gravity: float, diameter: float, coefficient: float = 1380.0
) -> float:
    """Return the reference withdrawal value [N/m] of a smooth nail in side grain.

    Given so that nails can be seen to hold a quarter of a screw. Source: NDS 2018 eq. 12.2-3,
    1380 G^2.5 D (read). Check: AWC solved example E2.1a, 0.131 in at G 0.42.
    """
    return float(coefficient * _PSI * specific_gravity**2.5 * diameter)


def withdrawal(
    specific_gravity: float,
    diameter: float,
    thread: float,
    service: Service,
    coefficient: float = 2850.0,
    ultimate_coefficient: float = 15700.0,
    scatter: float = 1.25,
) -> Spread:
    """Return what one screw bears straight out of side grain [N].

    thread : [m] of thread in the wood; scatter : [-] high over likely (assumption)

    Low is the allowable value of the NDS with its factors. Likely is the mean of tests, 15 700
    G^2 D lb/in, cut for wet wood and for longer loads (the factor of duration over 1.6); high is
    scatter above it.
    Valid for: as withdrawal_per_length. Source: NDS 2018 12.2-2; USDA Wood Handbook, chapter 8,
    eq. for wood screws (108.25 N/mm2 in its metric form), from memory.
    """
    per_unit = _PSI * specific_gravity**2 * diameter * thread
    likely = ultimate_coefficient * per_unit * service.wet * service.temperature
    likely *= service.duration / 1.6
    return Spread(coefficient * per_unit * service.factor, likely, scatter * likely)


def dowel_bearing(specific_gravity: float, coefficient: float = 16600.0) -> float:
    """Return the dowel bearing strength Fe [Pa] of wood under a screw thinner than 1/4 in.

    Source: NDS 2018 Table 12.3.3 note, 16 600 G^1.84 psi; G 0.50 gives 4637 (printed 4650).
    """
    return float(coefficient * _PSI * specific_gravity**1.84)


def reduction_term(diameter: float) -> float:
    """Return the reduction term Rd [-] for a dowel of a diameter [m] under 1/4 in.

    Source: NDS 2018 Table 12.3.1B, KD 2.2 up to 0.17 in, then 10 D + 0.5, from memory.
    """
    inches = diameter / _INCH
    return 2.2 if inches <= 0.17 else 10 * inches + 0.5


@dataclass(frozen=True)
class YieldModes:
    """The six yield modes of a dowel in single shear [N], the reduction term taken off."""

    bearing_main: float
    bearing_side: float
    rigid_turn: float
    hinge_main: float
    hinge_side: float
    two_hinges: float

    @property
    def by_name(self) -> Mapping[str, float]:
        """Return the modes by the names of the standard."""
        return {
            "Im": self.bearing_main,
            "Is": self.bearing_side,
            "II": self.rigid_turn,
            "IIIm": self.hinge_main,
            "IIIs": self.hinge_side,
            "IV": self.two_hinges,
        }

    @property
    def governing(self) -> tuple[str, float]:
        """Return the weakest mode and its value [N]."""
        return min(self.by_name.items(), key=lambda item: item[1])


def yield_modes(
    diameter: float,
    bending_yield: float,
    main_length: float,
    side_length: float,
    main_bearing: float,
    side_bearing: float,
    reduction: float | None = None,
) -> YieldModes:
    """Return the yield modes of a screw or nail in single shear.

    diameter : [m] root where threads cross the joint; bending_yield : [Pa] Fyb
    main_length, side_length : [m] bearing in the board and in the strap; main_bearing,
    side_bearing : [Pa] Fe; reduction : [-] Rd, from the diameter where None

    Valid for: diameter under 1/4 in, at least 6 diameters in the main member, edge and end
    distances kept. Source: NDS 2018 Table 12.3.1A. Check: AWC solved example, 10d nail in
    Douglas fir, 467.5 N.
    """
    d, lm, ls = diameter, main_length, side_length
    fem, fes, fyb = main_bearing, side_bearing, bending_yield
    re, rt = fem / fes, lm / ls
    rd = reduction_term(diameter) if reduction is None else reduction
    k1 = (np.sqrt(re + 2 * re**2 * (1 + rt + rt**2) + rt**2 * re**3) - re * (1 + rt)) / (1 + re)
    k2 = -1 + np.sqrt(2 * (1 + re) + 2 * fyb * (1 + 2 * re) * d**2 / (3 * fem * lm**2))
    k3 = -1 + np.sqrt(2 * (1 + re) / re + 2 * fyb * (2 + re) * d**2 / (3 * fem * ls**2))
    return YieldModes(
        bearing_main=d * lm * fem / rd,
        bearing_side=d * ls * fes / rd,
        rigid_turn=float(k1 * d * ls * fes / rd),
        hinge_main=float(k2 * d * lm * fem / ((1 + 2 * re) * rd)),
        hinge_side=float(k3 * d * ls * fem / ((2 + re) * rd)),
        two_hinges=float(d**2 / rd * np.sqrt(2 * fem * fyb / (3 * (1 + re)))),
    )


def lateral(
    diameter: float,
    bending_yield: float,
    penetration: float,
    specific_gravity: float,
    side_length: float,
    side_bearing: float,
    service: Service,
    scatter: float = 1.5,
) -> Spread:
    """Return what one screw bears sideways through a strap into a board [N].

    diameter : [m] root; penetration : [m] into the board; side_length : [m] strap thickness
    side_bearing : [Pa] of the strap, 61 850 psi for sheet steel (NDS, from memory)

    Low is the allowable value with its factors. Likely is the yield itself (the reduction term
    given back, duration over 1.6, wet); high is scatter above, for screws hang on past yield
    (assumption).
    Valid for: penetration of 6 diameters at least; between 6 and nothing the true value falls
    faster than this one. Source: yield_modes.
    """
    bearing = dowel_bearing(specific_gravity)
    _, value = yield_modes(
        diameter, bending_yield, penetration, side_length, bearing, side_bearing
    ).governing
    likely = value * reduction_term(diameter) * service.wet * service.temperature
    likely *= service.duration / 1.6
    return Spread(min(value * service.factor, likely), likely, scatter * likely)


def head_pull_through(
    head_diameter: float,
    side_gravity: float,
    side_thickness: float,
    service: Service,
    thin: float = 690.0,
    thick: float = 1725.0,
    safety: float = 5.0,
) -> Spread:
    """Return what one round head bears against pulling through a wooden batten [N].

    head_diameter, side_thickness : [m]; thin, thick : [psi] as printed
    safety : [-] likely over low, as for withdrawal (assumption)

    Valid for: round heads without washer, wood or structural panel side member.
    Source: NDS 2018 eq. 12.2-6a and b, 690 pi DH G^2 t up to t = 2.5 DH and 1725 pi DH^2 G^2
    beyond, from memory; the two meet at 2.5, as they must.
    """
    if side_thickness <= 2.5 * head_diameter:
        value = thin * np.pi * head_diameter * side_gravity**2 * side_thickness
    else:
        value = thick * np.pi * head_diameter**2 * side_gravity**2
    low = float(value) * _PSI * service.factor
    return Spread(low, safety * low / 1.6, 1.25 * safety * low / 1.6)


def strap_pull_over(
    head_diameter: float, strap_thickness: float, strap_strength: float, safety: float = 3.0
) -> Spread:
    """Return what a sheet strap bears against being pulled over a screw's head [N].

    head_diameter, strap_thickness : [m]; strap_strength : [Pa] tensile Fu, 310 MPa usual

    Low is the allowable load, likely the nominal one. Valid for: flat sheet steel 0.35 to 3 mm
    round the head; a strap pulled at an angle bears less. Plastic straps: only their maker knows.
    Source: AISI S100, 1.5 t d Fu with a safety factor of 3.0, from memory.
    """
    nominal = 1.5 * strap_thickness * head_diameter * strap_strength
    return Spread(nominal / safety, nominal, 1.2 * nominal)


@dataclass(frozen=True)
class Distances:
    """Least distances of a screw [m]: to a loaded end, to an edge, between screws along grain."""

    end: float
    edge: float
    spacing: float


def least_distances(
    diameter: float,
    pre_drilled: bool,
    end: float = 15.0,
    end_drilled: float = 10.0,
    edge: float = 2.5,
) -> Distances:
    """Return the least distances that keep a board from splitting.

    diameter : [m] shank; the rest in diameters, 5 less at an end where pre-drilled

    Source: NDS commentary for wood screws (15 D and 10 D, 2.5 D), from memory; not mandatory.
    """
    along = end_drilled if pre_drilled else end
    return Distances(end=along * diameter, edge=edge * diameter, spacing=along * diameter)


@dataclass(frozen=True)
class PilotHole:
    """Lead holes [m]: for the plain shank and for the threaded root."""

    shank: float
    root: float


def pilot_hole(
    specific_gravity: float,
    diameter: float,
    root: float,
    dense: float = 0.6,
    middling: float = 0.5,
) -> PilotHole | None:
    """Return the lead hole for a screw in withdrawal, or None where none is needed.

    specific_gravity : [-]; diameter, root : [m]; dense, middling : [-] limits of gravity

    Source: NDS 2018 12.1.5.2, from memory: above G 0.6 about 90 % of the root, above 0.5 to 0.6
    about 70 %, up to 0.5 none; the same shares stand in the commentary (read in a secondary copy:
    90 % hardwood, 70 % softwood). A hole is still wise near an end.
    """
    if specific_gravity <= middling:
        return None
    share = 0.9 if specific_gravity > dense else 0.7
    return PilotHole(shank=share * diameter, root=share * root)
