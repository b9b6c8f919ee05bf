"""Straps, screws, clips, rails and stakes: what holds the pipe and the film."""

from typing import Annotated

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Keyed, Named, count, counts, number, numbers, text, texts


@dataclass(frozen=True)
class Strap(Named):
    """A tube strap.

    least_outside_diameter, greatest_outside_diameter [m] : pipe it grips
    hole_spacing [m] : centre to centre across the pipe; width, thickness [m] of the metal
    hole_diameter [m]; holes [-] : screws a strap takes
    """

    least_outside_diameter: Annotated[float, number("m", 0.002, 0.08)]
    greatest_outside_diameter: Annotated[float, number("m", 0.002, 0.08)]
    holes: Annotated[int, count(1, 4)]
    hole_spacing: Annotated[float | None, number("m", 0.005, 0.15, optional=True)]
    width: Annotated[float, number("m", 0.003, 0.06)]
    thickness: Annotated[float, number("m", 0.0003, 0.006)]
    hole_diameter: Annotated[float, number("m", 0.003, 0.012)]
    screw_sizes: Annotated[tuple[str, ...], texts()]
    metal: Annotated[str, text()]


@dataclass(frozen=True)
class ScrewSize(Keyed):
    """A wood screw gauge: shank and root diameter, head [m], bending yield [Pa], pilot hole [m]."""

    diameter: Annotated[float, number("m", 0.002, 0.01)]
    root_diameter: Annotated[float, number("m", 0.0015, 0.009)]
    head_diameter: Annotated[float, number("m", 0.004, 0.02)]
    bending_yield: Annotated[float, number("Pa", 3e8, 1.2e9)]
    pilot_softwood: Annotated[float, number("m", 0.001, 0.006)]
    pilot_hardwood: Annotated[float, number("m", 0.001, 0.006)]


@dataclass(frozen=True)
class Screw(Named):
    """A screw as sold.

    length [m] : under the head for pan heads, overall for flat heads
    thread_length [m] : two thirds of the length unless the maker says otherwise
    packs [-] : pieces to a pack
    """

    gauge: Annotated[str, text()]
    length: Annotated[float, number("m", 0.01, 0.2)]
    thread_length: Annotated[float, number("m", 0.006, 0.15)]
    head: Annotated[str, text(choices=("pan", "flat", "washer"))]
    coating: Annotated[str, text()]
    outdoors: Annotated[str, text(choices=("yes", "no"))]
    packs: Annotated[tuple[int, ...], counts(1, 5000)]
    size: ScrewSize


@dataclass(frozen=True)
class Clip(Named):
    """A clip that holds film on a pipe, or a rail on a board.

    least_outside_diameter, greatest_outside_diameter [m] : pipe it grips, film between
    tube : key of the tube it is cut from ("" for a clip bought ready), inside_diameter [m] of it
    length [m] : usual length of one clip; stock_lengths [m] : tube sold
    """

    kind: Annotated[str, text(choices=("slit tube", "snap", "spring"))]
    inside_diameter: Annotated[float, number("m", 0.005, 0.06)]
    least_outside_diameter: Annotated[float, number("m", 0.005, 0.08)]
    greatest_outside_diameter: Annotated[float, number("m", 0.005, 0.08)]
    length: Annotated[float, number("m", 0.01, 0.5)]
    stock_lengths: Annotated[tuple[float, ...], numbers("m", 0.5, 400)]
    packs: Annotated[tuple[int, ...], counts(1, 1000)]


@dataclass(frozen=True)
class Cord(Named):
    """A cord, for a ridge line or laced over the film.

    diameter [m]; break_force [N] new; stock_lengths [m] : coils sold
    """

    diameter: Annotated[float, number("m", 0.001, 0.02)]
    break_force: Annotated[float, number("N", 100, 20000)]
    stock_lengths: Annotated[tuple[float, ...], numbers("m", 2, 400)]


@dataclass(frozen=True)
class Stake(Named):
    """A stake, or a rod that a hoop leg is slipped over.

    size [m] : greatest size across, ribs included; mass_per_length [kg/m]
    least_clearance [m] : how much wider a pipe's bore must be to slip over it; none for a
        stake that takes no pipe
    """

    kind: Annotated[str, text(choices=("wood", "bar", "tube"))]
    size: Annotated[float, number("m", 0.005, 0.12)]
    mass_per_length: Annotated[float, number("kg/m", 0.05, 5)]
    least_clearance: Annotated[float | None, number("m", 0.0001, 0.01, optional=True)]
    stock_lengths: Annotated[tuple[float, ...], numbers("m", 0.3, 7)]


@dataclass(frozen=True)
class Rail(Named):
    """A roll-up rail: what the film's lower edge is rolled on.

    outside_diameter [m] : of a round rail, the thickness of a square one
    mass_per_length [kg/m]; splice_length [m] : of the sleeve, dowel or lap at a joint
    bending_stiffness [N m2], bending_strength [N m] : likely, new and cool; None where not known
    """

    outside_diameter: Annotated[float, number("m", 0.01, 0.08)]
    mass_per_length: Annotated[float, number("kg/m", 0.05, 3)]
    bending_stiffness: Annotated[float | None, number("N m2", 1, 1e5, optional=True)]
    bending_strength: Annotated[float | None, number("N m", 1, 1e4, optional=True)]
    splice: Annotated[str, text()]
    splice_length: Annotated[float, number("m", 0.02, 1)]
    stock_lengths: Annotated[tuple[float, ...], numbers("m", 0.5, 8)]
