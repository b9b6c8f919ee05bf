"""Pipe, rod and wire for hoops: their sizes and what their stuff bears."""

import math
from collections.abc import Mapping
from typing import Annotated, Any

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Figure, Named, TableError, figure, number, numbers, text
from hoopwright.tables.spread import Spread

PLASTIC_BELOW = 1e10
"""Modulus [Pa] between thermoplastics and everything stiffer; see PipeMaterial.is_plastic."""


@dataclass(frozen=True)
class PipeMaterial:
    """What a pipe is made of; every figure carries its range, source and sureness.

    flexural_modulus, tensile_modulus [Pa] : short-term, near 23 °C
    strength [Pa] : tensile strength (yield for steel and plastics)
    density [kg/m³], poisson_ratio [-], thermal_expansion [1/K]
    strain_watch [-] : held outer-fibre strain above which a hoop is used with a watch on it
    strain_limit [-] : greatest held strain at 23 °C; beyond it the bend is refused
    strain_limit_cold [-] : the same at `cold_temperature`
    strain_set [-] : strain from which the pipe keeps a visible set when let go
    cold_temperature, coldest_bending, hottest_service [°C]
    bend_radius_ratio [-] : a maker's or standard's least radius over outside diameter, if any
    relaxation [-] : share of the first bending force left after seasons at constant strain
    modulus_hot [-] : modulus at 60 °C over modulus at 23 °C
    """

    key: str
    flexural_modulus: Annotated[Figure, figure("Pa", 5e7, 2.2e11)]
    tensile_modulus: Annotated[Figure, figure("Pa", 5e7, 2.2e11)]
    strength: Annotated[Figure, figure("Pa", 1e7, 2e9)]
    density: Annotated[Figure, figure("kg/m3", 800, 8000)]
    poisson_ratio: Annotated[Figure, figure("-", 0.2, 0.5)]
    thermal_expansion: Annotated[Figure, figure("1/K", 4e-6, 3e-4)]
    strain_watch: Annotated[Figure, figure("-", 0.0005, 0.2)]
    strain_limit: Annotated[Figure, figure("-", 0.0005, 0.2)]
    strain_limit_cold: Annotated[Figure, figure("-", 0.0005, 0.2)]
    strain_set: Annotated[Figure, figure("-", 0.0005, 0.2)]
    cold_temperature: Annotated[Figure, figure("degC", -30, 10)]
    coldest_bending: Annotated[Figure, figure("degC", -40, 15)]
    hottest_service: Annotated[Figure, figure("degC", 40, 400)]
    relaxation: Annotated[Figure, figure("-", 0.1, 1)]
    modulus_hot: Annotated[Figure, figure("-", 0.1, 1)]
    bend_radius_ratio: Annotated[Figure | None, figure("-", 2, 100, optional=True)]

    @property
    def is_plastic(self) -> bool:
        """Whether this is a thermoplastic: soft in the sun, brittle in the cold, cut by shears.

        Told by its modulus: thermoplastic pipe lies below 4 GPa, glass fibre rods above 20 GPa
        (common handbook values, from memory).
        """
        return self.flexural_modulus.likely < PLASTIC_BELOW

    @property
    def stiffness_under_snow(self) -> Spread:
        """Return the stiffness that bears snow over the short-term one [-].

        Low: relaxed, as after weeks at the bend and under the load; high: short-term; likely: the
        geometric mean, for snow that lies overnight (an assumption).
        """
        return Spread(self.relaxation.low, math.sqrt(self.relaxation.likely), 1.0)

    def strain_limit_at(self, temperature: float) -> Spread:
        """Return the greatest held strain [-] for a bend made at a temperature [°C].

        Straight line between the limit at `cold_temperature` and the limit at 23 °C, level
        beyond both ends. The line is an assumption; below `coldest_bending` do not bend at all.
        """
        cold = self.cold_temperature.likely
        share = min(1.0, max(0.0, (temperature - cold) / (23.0 - cold)))
        warm, chilled = self.strain_limit, self.strain_limit_cold
        return Spread(
            chilled.low + share * (warm.low - chilled.low),
            chilled.likely + share * (warm.likely - chilled.likely),
            chilled.high + share * (warm.high - chilled.high),
        )

    def warm_enough_for(self, strain: float) -> float | None:
        """Return the temperature [°C] from which the likely limit allows a strain, or None."""
        cold, warm = self.strain_limit_cold.likely, self.strain_limit.likely
        if strain > warm:
            return None
        if strain <= cold:
            return self.cold_temperature.likely
        share = (strain - cold) / (warm - cold)
        return self.cold_temperature.likely + share * (23.0 - self.cold_temperature.likely)


@dataclass(frozen=True)
class Pipe(Named):
    """One pipe, rod or wire as sold.

    outside_diameter [m] : nominal; `outside_tolerance` either way
    wall [m] : least wall the standard allows (the wall of a solid rod is its radius);
        `wall_tolerance` is how much thicker it may be
    inside_diameter [m] : average inside diameter; 0 for a rod. Where the row has none it goes with
        the least wall
    mass_per_length [kg/m] : as printed; where the row has none it follows from the wall, see
        `mass_of_tube`
    least_bend_radius [m] : centre-line radius of the usual bender, for what must be formed
    bending : "spring" by hand, or "form" on a bender or round a former
    stock_lengths [m] : straight sticks sold; coil_lengths [m] : coils sold
    material : `stuff` by its key
    """

    material: Annotated[str, text()]
    nominal_size: Annotated[str, text()]
    outside_diameter: Annotated[float, number("m", 0.002, 0.08)]
    outside_tolerance: Annotated[float, number("m", 0, 0.002)]
    wall: Annotated[float, number("m", 0.0005, 0.02)]
    wall_tolerance: Annotated[float, number("m", 0, 0.002)]
    inside_diameter: Annotated[float, number("m", 0, 0.075, optional=True)]
    mass_per_length: Annotated[float, number("kg/m", 0.01, 5, optional=True)]
    bending: Annotated[str, text(choices=("spring", "form"))]
    least_bend_radius: Annotated[float | None, number("m", 0.01, 2, optional=True)]
    stock_lengths: Annotated[tuple[float, ...], numbers("m", 0.5, 12)]
    coil_lengths: Annotated[tuple[float, ...], numbers("m", 2, 400)]
    stuff: PipeMaterial

    @property
    def springs(self) -> bool:
        """Whether it is bent by hand and presses back; what is formed stays as it was made."""
        return self.bending == "spring"

    @property
    def bend_left(self) -> Spread:
        """Share of the bend's own force [-] that is left after seasons, none where it is formed."""
        return self.stuff.relaxation if self.springs else Spread(0.0, 0.0, 0.0)

    def strain_under_load(self, temperature: float) -> Spread:
        """Return the strain [-] that loads may add up to at a temperature [°C].

        For a sprung pipe what is left of its bend counts in it. A pipe formed on a bender holds no
        bend, and folds where it yields.
        """
        if self.springs:
            return self.stuff.strain_limit_at(temperature)
        return self.stuff.strain_set

    @property
    def is_solid(self) -> bool:
        """Whether this is a rod or wire, with nothing inside."""
        return self.inside_diameter == 0

    @property
    def bore(self) -> float:
        """Inside diameter [m] that goes with the least wall: the one the stiffness uses."""
        return 0.0 if self.is_solid else self.outside_diameter - 2 * self.wall

    @property
    def least_inside_diameter(self) -> float:
        """Inside diameter [m] at the tightest of the tolerances: what a sleeve rod must pass."""
        if self.is_solid:
            return 0.0
        thickest = self.wall + self.wall_tolerance
        return self.outside_diameter - self.outside_tolerance - 2 * thickest

    @property
    def second_moment(self) -> float:
        """Second moment of area [m⁴] on the least wall: a lower bound, 5 to 6 % low for PVC 40."""
        return math.pi / 64 * (self.outside_diameter**4 - self.bore**4)

    @property
    def bending_stiffness(self) -> float:
        """Short-term bending stiffness EI [N m²], on the flexural modulus and the least wall."""
        return self.stuff.flexural_modulus.likely * self.second_moment

    def fibre_strain(self, radius: float) -> float:
        """Return the outer-fibre strain [-] of a bend to a centre-line radius [m]: OD / 2R."""
        return self.outside_diameter / (2 * radius)


def section_of(row: Mapping[str, Any], stuff: PipeMaterial, place: str) -> dict[str, float]:
    """Return the inside diameter and mass of a pipe's row, worked out where it has none.

    Raises TableError where the wall is thicker than the radius, or the bore does not go with it.
    """
    outside, wall, inside = row["outside_diameter"], row["wall"], row["inside_diameter"]
    if wall > outside / 2 * (1 + 1e-9):
        raise TableError(
            f"{place}: the wall of {wall * 1000:.3g} mm is thicker than half the outside diameter "
            f"of {outside * 1000:.3g} mm; a solid rod's wall is its radius"
        )
    bore = max(0.0, outside - 2 * wall)
    if inside is not None and not (-1e-6 <= bore - inside <= 2 * row["wall_tolerance"] + 1e-6):
        raise TableError(
            f"{place}: an inside diameter of {inside * 1000:.3g} mm does not go with a wall of "
            f"{wall * 1000:.3g} mm; give the wall, and leave the inside diameter out"
        )
    mass = row["mass_per_length"]
    return {
        "inside_diameter": bore if inside is None else inside,
        "mass_per_length": mass_of_tube(outside, bore, stuff) if mass is None else mass,
    }


def mass_of_tube(outside: float, bore: float, stuff: PipeMaterial) -> float:
    """Return the mass of a tube [kg/m]: its section on the least wall [m] times its density.

    Printed weights of the catalogue's pipes lie from 5 % below it (conduit) to 17 % above (PEX).
    """
    return stuff.density.likely * math.pi / 4 * (outside**2 - bore**2)
