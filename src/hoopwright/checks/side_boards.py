"""Whether the side boards hold back wet soil and the thrust of the hoops."""

import math

from hoopwright.checks.finding import Finding, Severity
from hoopwright.checks.standing import Standing
from hoopwright.loads.soil import board_bending, side_thrust, soil_kinds

WET_CREEP = 2.0  # [-] of wet wood under a standing load: NDS 3.5.2, from memory
#: A bulge that is seen and lets the boards gape (common practice, no source).
BULGE_SEEN = 0.0127
#: Beyond this bulge over the span the beam formula no longer holds, nor the corners (assumption).
SHARE_THAT_FAILS = 0.03
_BULGE = (
    "The side boards bulge about {bulge:length} at the middle under soaked soil and the hoops' push"
)
#: Stakes or ties along a side, at most this far apart (common practice, no source).
TIE_SPACING = 1.2192


def ties_along(length: float) -> int:
    """Return the stakes or ties wanted between the corners of a side [m]."""
    return max(0, math.ceil(length / TIE_SPACING - 1e-6) - 1)


def side_boards(standing: Standing) -> Finding:
    """Return how far a side board bulges under soaked soil and hoop thrust."""
    bed, hoop = standing.bed, standing.hoop
    soil = soil_kinds()[standing.hold_down.soil]
    thrust = side_thrust(bed.soil_depth, soil)
    hoops = max(0.0, hoop.thrust()) / standing.bay
    # The box is one course deep for each board; the lowest carries most of a tall one's thrust.
    load = (thrust.high + hoops) / bed.courses
    per_side = max(0, (standing.hold_down.stakes - 4) // 2)
    span = bed.outer_length / (per_side + 1)
    bending = board_bending(
        load, span, bed.board.width, bed.wall, bed.species.modulus, creep=WET_CREEP
    )
    tied = board_bending(
        load, min(span, TIE_SPACING), bed.board.width, bed.wall, bed.species.modulus, WET_CREEP
    )
    seen, fails = bending.bulge > BULGE_SEEN, bending.bulge > SHARE_THAT_FAILS * span
    return Finding(
        "side-boards",
        Severity.CHANGE if seen else Severity.FINE,
        ("The side boards will not hold soaked soil" if fails else _BULGE)
        + " over the {span:length} between what holds them.",
        "Drive a stake or run a cross-tie every {ties:length}: the bulge is then {left:tape}."
        if seen
        else "",
        {"bulge": bending.bulge, "span": span, "ties": TIE_SPACING, "left": tied.bulge},
        bending.bulge,
        BULGE_SEEN,
        "length",
        "Rankine thrust and beam bending; bulge limit common practice, no source",
    )
