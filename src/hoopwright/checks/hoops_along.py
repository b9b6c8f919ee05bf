"""What wind along the bed does to all hoops together: it leans them the way it blows."""

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.out_of_plane import CROWN, gauss_shares, push_aside
from hoopwright.checks.end_hoop import foot_turn
from hoopwright.checks.end_sheet import LEAN_TOO_FAR, lean_too_far, sheet_area
from hoopwright.checks.hoop_in_snow import SPIN_FREE, crown_held
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.loads.wind_cases import end_wall_coefficients

DRAG = "drag of wind along a cover"


def given_way(standing: Standing) -> tuple[float, float]:
    """Return a hoop's lean at the crown [m] for 1 N/m all along it, and for 1 N at its crown.

    For the pipe's nominal stiffness; suction, which stretches the hoop upright, is left out.
    """
    pipe, curve = standing.hoop.pipe, standing.hoop.curve
    count = gauss_shares()[0].size
    aside = push_aside(
        curve,
        pipe.bending_stiffness,
        np.stack([np.ones(count), np.zeros(count)]),
        np.array([0.0, 1.0]),
        foot_turn=foot_turn(standing),
        foot_twist=SPIN_FREE * pipe.bending_stiffness / curve.length,
        torsion_share=1 / (1 + pipe.stuff.poisson_ratio.likely),
        bend_left=pipe.bend_left.likely,
    )
    spread, crown = aside.lean[:, CROWN]
    return float(spread), float(crown)


def leans_along(standing: Standing, inputs: Inputs) -> NDArray[np.float64]:
    """Return the velocity pressure [Pa] at which all hoops lean too far along the bed together.

    Both end sheets' pressure and the drag on the cover, spread evenly over all hoops, against
    their own stiffness and what keeps a crown in place along the bed. Infinite with a braced ridge.
    Source: ours; end walls ASCE 7-16 Figure 27.3-1; the drag all along the cover, where EN 1991-1-4
    7.5 counts it from two widths on: the safe side.
    """
    if standing.braced and standing.ridge_strut > 0:
        return np.full(inputs.draws.count, np.inf)
    bed, curve = standing.bed, standing.hoop.curve
    windward, lee = (
        one.likely for one in end_wall_coefficients(bed.outer_length / bed.outer_width)
    )
    on_hoops = sheet_area(standing) * curve.length / (curve.length + curve.span)
    area = (windward - lee) * on_hoops + inputs.doubt(DRAG) * curve.length * bed.outer_length
    spread, crown = given_way(standing)
    lean = lean_too_far(inputs) * standing.hoop.crown_over_board
    each = lean * (inputs.stiffness + crown_held(standing, inputs) * crown) / spread
    bears = len(standing.hoops) * curve.length * each
    return np.asarray(bears / area / inputs.pressure)


def leans_along_rung(standing: Standing, inputs: Inputs) -> Rung:
    """Return the rung of hoops that wind along the bed leans over together."""
    return Rung(
        name="hoops-lean-along",
        hazard="wind",
        at=inputs.gust(leans_along(standing, inputs)),
        happens="The push on the end sheets and the drag on the cover lean all hoops {far:length} "
        "along the bed; they fold together and the slack sheet flogs itself loose.",
        harm="repair",
        case="wind along, closed",
        do="Run a ridge pipe and tie it back to the boards at both ends (hoops.brace = true).",
        sources=(
            "Hoop out of its plane (computed); how far film holds it is an assumption",
            "End walls ASCE 7-16 Figure 27.3-1; drag along EN 1991-1-4 table 7.10, from memory",
        ),
        values={"far": LEAN_TOO_FAR.likely * standing.hoop.crown_over_board},
        brings="lost",
    )
