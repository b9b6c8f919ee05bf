"""Boards by nominal size, the species they are cut from, and battens."""

from typing import Annotated

from hoopwright.frozen import dataclass
from hoopwright.tables.reader import Named, number, numbers, text


@dataclass(frozen=True)
class Board(Named):
    """Softwood lumber by its nominal size, dressed.

    thickness, width [m] : dressed dry (up to 19 % moisture)
    green_thickness, green_width [m] : dressed green, where a yard sells it unseasoned
    stock_lengths [m]
    """

    thickness: Annotated[float, number("m", 0.005, 0.15)]
    width: Annotated[float, number("m", 0.02, 0.35)]
    green_thickness: Annotated[float | None, number("m", 0.005, 0.16, optional=True)]
    green_width: Annotated[float | None, number("m", 0.02, 0.36, optional=True)]
    stock_lengths: Annotated[tuple[float, ...], numbers("m", 0.5, 8)]


@dataclass(frozen=True)
class Species(Named):
    """A species group as graded.

    specific_gravity [-] : oven-dry weight and volume, as the fastener equations want it
    modulus [Pa] : mean modulus of elasticity, grade No. 2
    bending_strength [Pa] : reference bending design value Fb, grade No. 2, before any factor
    decay : resistance of the heartwood in words
    """

    specific_gravity: Annotated[float, number("-", 0.25, 0.8)]
    modulus: Annotated[float, number("Pa", 4e9, 1.6e10)]
    bending_strength: Annotated[float, number("Pa", 2e6, 2e7)]
    decay: Annotated[str, text(choices=("low", "moderate", "high", "treated"))]
    decay_note: Annotated[str, text()]

    def density(self, moisture: float) -> float:
        """Return the density [kg/m³] at a moisture content [%] up to about 30.

        Source: NDS Supplement, section 3.1.3, from memory:
        1000 (62.4 pcf) * G / (1 + 0.009 G m) * (1 + m / 100).
        """
        gravity = self.specific_gravity
        return 1000.0 * gravity / (1 + 0.009 * gravity * moisture) * (1 + moisture / 100)


@dataclass(frozen=True)
class Batten(Named):
    """A wood strip that clamps film: thickness and width [m], lengths sold [m]."""

    thickness: Annotated[float, number("m", 0.004, 0.05)]
    width: Annotated[float, number("m", 0.015, 0.1)]
    stock_lengths: Annotated[tuple[float, ...], numbers("m", 0.5, 8)]
