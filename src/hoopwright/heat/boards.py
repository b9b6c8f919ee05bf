"""Heat through the boards: from the bed soil sideways, and from the air above the soil."""

from __future__ import annotations

from hoopwright.heat.coefficients import Coefficients
from hoopwright.heat.enclosure import Enclosure


def side_conductance(
    enclosure: Enclosure,
    thickness: list[float],
    in_bed: int,
    soil_conductivity: float,
    c: Coefficients,
) -> list[float]:
    """[W/m2K] per ground area of each layer through the boards.

    In series: soil from the mean of the bed to its face, board, outside film. The soil's part is
    L/(3k) for a slab of half-width L with heat drawn evenly along it (exact for a parabola of
    temperature; Carslaw & Jaeger sec. 3.14 order; an assumption for the bed's short sides too).
    Layers below grade lose nothing sideways.
    """
    perimeter = 2.0 * (enclosure.length + enclosure.width)
    resistance = (
        enclosure.width / 6.0 / soil_conductivity
        + enclosure.board_thickness / enclosure.board_conductivity
        + c.board_outside_resistance
    )
    stands = enclosure.soil_above_grade > 0.0
    return [
        perimeter * deep / enclosure.ground_area / resistance if stands and i < in_bed else 0.0
        for i, deep in enumerate(thickness)
    ]


def rim_conductance(enclosure: Enclosure, c: Coefficients) -> float:
    """[W/m2K] per ground area from the inside air through the bare rim above the soil.

    Inside film 0.12 m2K/W (ASHRAE Fundamentals, still air on a wall, from memory).
    """
    perimeter = 2.0 * (enclosure.length + enclosure.width)
    area = perimeter * enclosure.rim_above_soil
    resistance = (
        0.12 + enclosure.board_thickness / enclosure.board_conductivity + c.board_outside_resistance
    )
    return area / enclosure.ground_area / resistance
