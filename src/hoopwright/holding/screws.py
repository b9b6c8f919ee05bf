"""Wood screws by the NDS: withdrawal, lateral yield, and their factors."""

from collections.abc import Mapping

import numpy as np

from hoopwright.frozen import dataclass
from hoopwright.tables.constants import INCH, PSI
from hoopwright.tables.spread import Spread


@dataclass(frozen=True)
class Service:
    """How a screw is used.

    duration : [-] CD, 1.6 wind, 1.15 snow, 0.9 always (NDS 2018 table 2.3.2, copy read 2026-11)
    wet : [-] CM, 0.7 where the board gets wet, as bed boards do; temperature : [-] Ct, 1 up to
    100 F (tables 11.3.3 and 11.3.4, the same copy)
    """

    duration: float = 1.6
    wet: float = 0.7
    temperature: float = 1.0

    @property
    def factor(self) -> float:
        """Return the product of the factors [-]."""
        return self.duration * self.wet * self.temperature


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
    Valid for: side grain, G 0.3 to 0.73, #6 to #24; in end grain nothing is granted. Threads
    only: the plain shank holds nothing.
    Source: NDS 2018 12.2-2; USDA Wood Handbook, chapter 8, eq. for wood screws (108.25 N/mm2 in
    its metric form), from memory. Check: #10 at G 0.45 gives 109.7 lb/in against a printed 109
    (secondary copy).
    """
    per_unit = PSI * specific_gravity**2 * diameter * thread
    likely = ultimate_coefficient * per_unit * service.wet * service.temperature
    likely *= service.duration / 1.6
    return Spread(coefficient * per_unit * service.factor, likely, scatter * likely)


def dowel_bearing(specific_gravity: float, coefficient: float = 16600.0) -> float:
    """Return the dowel bearing strength Fe [Pa] of wood under a screw thinner than 1/4 in.

    Source: NDS 2018 Table 12.3.3 note, 16 600 G^1.84 psi; G 0.50 gives 4637 (printed 4650).
    """
    return float(coefficient * PSI * specific_gravity**1.84)


def reduction_term(diameter: float) -> float:
    """Return the reduction term Rd [-] for a dowel of a diameter [m] under 1/4 in.

    Source: NDS 2018 Table 12.3.1B, KD 2.2 up to 0.17 in, then 10 D + 0.5 (copy read 2026-11).
    """
    inches = diameter / INCH
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
    side_bearing : [Pa] of the strap, 61 850 psi for sheet steel (NDS 2018 table 12P, copy read)

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
