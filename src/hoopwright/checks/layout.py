"""Whether hoops stand where arms can work between them and screws do not split the boards."""

from collections.abc import Sequence

from hoopwright.bed import Bed, Legs, ReachFrom, needed_reach, widest_bed
from hoopwright.checks.finding import Finding, Severity
from hoopwright.hoop.shape import Hoop, leg_lift
from hoopwright.hoop.stations import HoopStation, widest_bay, working_bay
from hoopwright.tables.fittings import Screw, Strap
from hoopwright.tables.people import Reach

ARMS_BETWEEN_HOOPS = 0.6096
LEVEL_WITHIN = 0.0127


def spacing(hoops: Sequence[HoopStation], greatest: float) -> Finding:
    """Return whether the bays are narrow enough for the film and wide enough for arms."""
    placed = tuple(hoops)
    widest, narrowest = widest_bay(placed), working_bay(placed)
    values: dict[str, float | str] = {
        "number": float(len(placed)),
        "widest": widest,
        "narrowest": narrowest,
        "greatest": greatest,
        "arms": ARMS_BETWEEN_HOOPS,
    }
    severity, compared = Severity.FINE, (widest, greatest)
    says = "{number:count} hoops, at most {widest:length} apart (asked: {greatest:length})."
    do = ""
    if narrowest < ARMS_BETWEEN_HOOPS - 1e-6:
        severity, compared = Severity.WATCH, (narrowest, ARMS_BETWEEN_HOOPS)
        says = (
            "{number:count} hoops leave {narrowest:length} between them at the narrowest; arms "
            "want about {arms:length}."
        )
        do = "Allow a wider spacing (hoops.spacing), if wind and snow let you."
    source = "About 2 ft between hoops is the least to work in: common practice, no source"
    return Finding("hoop-spacing", severity, says, do, values, *compared, "length", source)


def end_distance(bed: Bed, hoops: Sequence[HoopStation], strap: Strap, screw: Screw) -> Finding:
    """Return whether the outermost strap screws keep far enough from the board ends.

    Ten diameters from the end in a pre-drilled hole, fifteen in one that is not: NDS 2018
    commentary table C12.1.6-1 for wood screws, from memory.
    """
    half = (strap.hole_spacing or 0.0) / 2
    marks = [station.mark for station in hoops]
    nearest_end = min(min(marks), bed.outer_length - max(marks)) - half
    drilled, undrilled = 10 * screw.size.diameter, 15 * screw.size.diameter
    values: dict[str, float | str] = {
        "distance": nearest_end,
        "drilled": drilled,
        "undrilled": undrilled,
        "screw": screw.name,
        "offset": drilled + half,
    }
    severity = Severity.CHANGE if nearest_end < drilled - 1e-6 else Severity.FINE
    says = "The outermost strap screws stand {distance:length} from the board end"
    if nearest_end < 0:
        says = "The outermost strap would reach past the board end: its screws find no wood."
    elif severity:
        says += " and will split it; even pre-drilled they want {drilled:length}."
    else:
        says += "; pre-drill them." if nearest_end < undrilled else "."
    do = "Set hoops.first_offset and hoops.last_offset to at least {offset:length}."
    return Finding(
        "end-distance",
        severity,
        says,
        do if severity else "",
        values,
        nearest_end,
        drilled,
        "length",
        "NDS 2018 commentary table C12.1.6-1, from memory",
    )


def legs_clear_of_ends(
    bed: Bed, hoops: Sequence[HoopStation], strap: Strap, legs: Legs
) -> Finding | None:
    """Return whether straps on the inside of the boards run into the end boards."""
    if legs == "outside":
        return None
    needed = bed.wall + (strap.hole_spacing or 0.0) / 2 + strap.width / 2
    marks = [station.mark for station in hoops]
    offset = min(min(marks), bed.outer_length - max(marks))
    if offset >= needed - 1e-6:
        return None
    return Finding(
        "strap-room",
        Severity.CHANGE,
        "Inside the boards the first strap would run into the end board: the hoop stands "
        "{offset:length} from the board end and needs {needed:length}.",
        "Set hoops.first_offset and hoops.last_offset to at least {needed:length}.",
        {"offset": offset, "needed": needed},
        offset,
        needed,
        "length",
        "Geometry",
    )


def reach(bed: Bed, reach_from: ReachFrom, worker: Reach) -> Finding:
    """Return whether this person reaches every plant."""
    needed = needed_reach(bed.outer_width, reach_from)
    values: dict[str, float | str] = {
        "who": worker.name[:1].lower() + worker.name[1:],
        "needed": needed,
        "reach": worker.from_one_side,
        "widest": widest_bed(worker.from_one_side, reach_from),
        "sides": "both sides" if reach_from == "both" else "one side",
    }
    if needed <= worker.from_one_side + 1e-6:
        severity = Severity.FINE
        says = "Reach for {who}: {needed:length} in from {sides}; they reach {reach:length}."
        do = ""
    else:
        within = needed <= worker.high
        severity = Severity.WATCH if within else Severity.CHANGE
        says = "Reach for {who}: {needed:length} in from {sides}, but they reach {reach:length}."
        do = "A bed {widest:length} wide suits them" + (
            "." if reach_from == "both" else ", or a path on both sides."
        )
    return Finding(
        "reach", severity, says, do, values, needed, worker.from_one_side, "length", worker.source
    )


def levelling(hoop: Hoop) -> Finding:
    """Return how far to raise the legs of a hoop that sights low among its neighbours."""
    curve = hoop.curve
    lift = leg_lift(curve.length, curve.span, curve.hold, LEVEL_WITHIN)
    return Finding(
        "levelling",
        Severity.FINE,
        "A crown that sights {low:length} low comes level when both its legs are raised "
        "{lift:length}.",
        "",
        {"low": LEVEL_WITHIN, "lift": lift},
        source="Elastica: slope of the rise against the free length, computed",
    )
