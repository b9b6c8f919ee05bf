"""Whether the pipe survives being bent, on the coldest day it is to be bent."""

from collections.abc import Sequence

from hoopwright.checks.finding import Finding, Severity
from hoopwright.hoop.shape import Hoop, narrowest_span
from hoopwright.tables.pipes import Pipe

MEANING = (
    "Strain is how much the outside of the pipe is stretched. It is compared with what pipe of "
    "this stuff has borne when held at a fixed bend for years, not with its rating for pressure."
)


def bend_strain(hoop: Hoop, coldest: float, others: Sequence[Pipe]) -> Finding:
    """Return whether the bend stays within the pipe's own strain limit at `coldest` [degC].

    others : other pipes, to name one that would do
    """
    pipe, strain = hoop.pipe, hoop.strain
    limit = pipe.stuff.strain_limit_at(coldest)
    watch = min(pipe.stuff.strain_watch.likely, limit.low)
    values: dict[str, float | str] = {
        "pipe": pipe.name,
        "strain": strain,
        "limit": limit.likely,
        "low": limit.low,
        "high": limit.high,
        "watch": watch,
        "radius": hoop.curve.least_radius,
        "coldest": coldest,
        "span": hoop.span,
    }
    if not pipe.springs:
        return _must_be_formed(hoop, values)
    if coldest < pipe.stuff.coldest_bending.likely:
        values["least"] = pipe.stuff.coldest_bending.likely
        severity = Severity.STOP
        says = (
            "{pipe} is not to be bent at {coldest:temperature}: below {least:temperature} it may "
            "crack."
        )
        do = (
            "Wait for a warmer day or keep the pipe indoors overnight; set hoops.coldest_bend to "
            "match."
        )
    elif strain > limit.high:
        severity = Severity.STOP
        says = (
            "{pipe} will not make this bend: its outside would stretch {strain:strain}, and at "
            "{coldest:temperature} it bears about {low:strain} to {high:strain}."
        )
        do = _what_would_do(hoop, limit.likely, others, values)
    elif strain > limit.likely:
        severity = Severity.CHANGE
        says = (
            "{pipe} may crack in this bend at {coldest:temperature}: its outside stretches "
            "{strain:strain}, and it bears about {low:strain} to {high:strain}."
        )
        do = _warmer(pipe, strain, values) + _what_would_do(hoop, limit.likely, others, values)
    elif strain > watch:
        severity = Severity.WATCH
        says = (
            "{pipe} makes the bend, stretched {strain:strain} at the tightest place (radius "
            "{radius:length}); at {coldest:temperature} it bears about {low:strain} to "
            "{high:strain}."
        )
        do = (
            "Bend it slowly and on a warm day, keep faces clear of the ends, and look for white "
            "marks or cracks on the outside of the crown each spring."
        )
    else:
        severity = Severity.FINE
        says = (
            "{pipe} makes the bend with room to spare: stretched {strain:strain} of about "
            "{low:strain} to {high:strain} at {coldest:temperature}."
        )
        do = ""
    source = f"{pipe.stuff.strain_limit.source}. {MEANING}"
    return Finding(
        "bend-strain", severity, says, do, values, strain, limit.likely, "strain", source
    )


def _warmer(pipe: Pipe, strain: float, values: dict[str, float | str]) -> str:
    """Return the advice to bend it warmer, where warmth is enough."""
    enough = pipe.stuff.warm_enough_for(strain)
    if enough is None:
        return ""
    values["enough"] = enough
    return "Bend it at {enough:temperature} or warmer (hoops.coldest_bend). Else: "


def _must_be_formed(hoop: Hoop, values: dict[str, float | str]) -> Finding:
    least = hoop.pipe.least_bend_radius or 0.0
    values["least"] = least
    return Finding(
        "bend-strain",
        Severity.STOP if least > hoop.curve.least_radius else Severity.CHANGE,
        "{pipe} does not spring into a hoop: it is formed on a bender and keeps the bender's "
        "shape, so the curve drawn here is not the one you will get.",
        "Take a pipe that is bent by hand (PVC, PEX or fibreglass rod), or have arches formed to "
        "no tighter than {least:length} and measure from them.",
        values,
        hoop.curve.least_radius,
        least,
        "length",
        hoop.pipe.source,
    )


def _what_would_do(
    hoop: Hoop, limit: float, others: Sequence[Pipe], values: dict[str, float | str]
) -> str:
    """Return the advice, naming the narrowest bed and a pipe that does make the bend."""
    curve = hoop.curve
    narrowest = narrowest_span(hoop.pipe, curve.length, curve.hold, limit)
    advice = []
    if narrowest is not None:
        values["narrowest"] = narrowest
        advice.append(
            "this length of pipe wants legs at least {narrowest:length} apart (they are "
            "{span:length})"
        )
    makes_it = [
        pipe for pipe in others if pipe.springs and pipe.fibre_strain(curve.least_radius) <= limit
    ]
    if makes_it:
        stoutest = max(makes_it, key=lambda pipe: pipe.bending_stiffness)
        values["other"] = stoutest.name
        values["other_strain"] = stoutest.fibre_strain(curve.least_radius)
        advice.append("{other} makes it at {other_strain:strain}")
    advice.append("a longer pipe bends more gently")
    return "; ".join(advice) + "."


def side_bulge(hoop: Hoop, straps_per_leg: int) -> Finding | None:
    """Return what it means that the hoop stands out beyond its feet, or None where it does not.

    Below a span of 0.457 of the free arc a hoop with upright feet leans outward above them and
    the moment at the foot changes sign (the rectangular elastica; closed form).
    """
    if hoop.curve.bulge <= 0.001:
        return None
    values: dict[str, float | str] = {"bulge": hoop.curve.bulge, "width": hoop.overall_width}
    if hoop.on_the_edge:
        works = "The pipe leans on the boards' top edge, and the lower strap keeps the leg upright."
    elif straps_per_leg == 2:
        works = "The upper strap holds the pipe in; the lower one keeps it from kicking out."
    else:
        works = "One strap lets the leg lean out; a second below it keeps it upright."
    return Finding(
        "side-bulge",
        Severity.WATCH,
        "The hoop is wider than its feet: it bulges {bulge:length} beyond them on each side "
        f"(overall {{width:length}}). {works}",
        "Leave that much path beside the bed, or take a shorter pipe for a straighter hoop.",
        values,
        hoop.curve.bulge,
        0.0,
        "length",
        "Elastica with upright ends, closed form: bulge below span/length 0.457",
    )


def leg_hold(hoop: Hoop, straps_per_leg: int) -> Finding:
    """Return how the legs are held and what the hoop does to the boards."""
    share = hoop.pipe.stuff.relaxation.likely
    pushes = "Each leg pushes the board {way} with {thrust:force} when new"
    later = ", about {later:force} after a season"
    if not hoop.pipe.springs:
        pushes, later = "A formed arch does not push on the boards of itself", ""
    values: dict[str, float | str] = {
        "thrust": abs(hoop.thrust()),
        "later": abs(hoop.thrust(share)),
        "apart": hoop.leg.strap_spacing,
        "way": "outward" if hoop.curve.thrust_per_stiffness > 0 else "inward",
    }
    if straps_per_leg == 2:
        says = f"Two straps {{apart:length}} apart hold each leg upright. {pushes}{later}."
        source = "Elastica; relaxation: " + hoop.pipe.stuff.relaxation.source
        return Finding("leg-hold", Severity.FINE, says, values=values, source=source)
    return Finding(
        "leg-hold",
        Severity.WATCH,
        f"One strap holds each leg, so the pipe turns in it and the hoop sways easily. {pushes}.",
        "Set hoops.straps_per_leg = 2: under snow a held leg bears three to four times as much.",
        values,
        source="Elastica and its sidesway load (computed), pinned against clamped legs",
    )
