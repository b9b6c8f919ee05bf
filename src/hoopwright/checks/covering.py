"""Whether the sheets fit the rolls sold, and whether the cover keeps animals out."""

from hoopwright.bed import Legs
from hoopwright.checks.finding import Finding, Severity
from hoopwright.cover.assembly import Cover, seam_widths
from hoopwright.hoop.shape import Hoop
from hoopwright.tables.animals import Animal

LEAST_SKIRT = 0.0508


def film_width(cover: Cover) -> Finding:
    """Return which roll widths the body sheet fits, and what the others would leave open.

    A sheet wider than any roll wants a shorter skirt, or a seam.
    """
    body, sold = cover.body, sorted({roll.width for roll in cover.material.rolls})
    values: dict[str, float | str] = {
        "material": cover.material.name,
        "needed": body.width,
        "bare": body.bare,
    }
    short = [width for width in sold if width < body.width - 1e-6]
    lesser = _what_the_next_narrower_leaves(cover, short, values)
    roll = cover.roll_width or max(sold, default=0.0)
    if cover.roll_width is not None:
        values |= {"roll": roll, "skirt": cover.skirt}
        severity, do = Severity.FINE, ""
        says = (
            "{material} off the {roll:size} roll fits: the body sheet needs {needed:length}, and "
            "on that roll it hangs {skirt:length} down each board." + lesser
        )
    elif roll and body.skirt_from(roll) >= LEAST_SKIRT:
        values |= {"skirt": body.skirt_from(roll), "roll": roll}
        severity, do = (
            Severity.WATCH,
            "Live with the short skirt (set cover.skirt), or lower the hoops.",
        )
        says = (
            "The widest {material} sold, {roll:size}, hangs only {skirt:length} down each board; "
            "the skirt asked for needs {needed:length}."
        )
    else:
        severity = Severity.CHANGE
        says = "No roll of {material} is wide enough: the body sheet needs {needed:length}."
        says += lesser
        do = "The catalogue lists no rolls of it; add their widths in your own catalogue file."
        if sold:
            width, strips = seam_widths(body.width, sold)
            values |= {"strip": width, "strips": float(strips)}
            do = (
                "Join {strips:count} strips of {strip:size} along the crown, lapped 6 in and taped "
                "with greenhouse tape on both faces; or shorten the pipe."
            )
    source = "Developed width: pipe arc, its outside turn, boards, skirts and edges"
    return Finding("film-width", severity, says, do, values, body.width, roll, "length", source)


def _what_the_next_narrower_leaves(
    cover: Cover, short: list[float], values: dict[str, float | str]
) -> str:
    if not short:
        return ""
    values["narrower"] = max(short)
    values["left"] = abs(cover.body.skirt_from(max(short)))
    if cover.body.skirt_from(max(short)) < 0:
        return " {narrower:size} leaves a gap of {left:length} on each side."
    return " {narrower:size} hangs only {left:length} down each board."


def animal_gaps(cover: Cover, hoop: Hoop, animal: Animal) -> Finding:
    """Return whether this animal gets in by the skirts, or by a side that is rolled up."""
    values: dict[str, float | str] = {
        "who": animal.name,
        "gap": animal.gap,
        "band": cover.mesh_band,
    }
    name = f"animals-{animal.key}"
    if animal.from_below == "yes":
        says = "No cover keeps out {who}: they come from below."
        do = f"Before filling, lay {animal.answer}, turned up the boards on the inside."
        return Finding(name, Severity.WATCH, says, do, values, source=animal.source)
    opening = hoop.crown_over_board if animal.barrier is None else animal.barrier
    values["needed"] = opening
    if cover.skirt < 0:
        values["open"] = -cover.skirt
    severity, do = Severity.FINE, ""
    compared: tuple[float, float] = (cover.mesh_band, opening)
    if -cover.skirt > animal.gap:
        severity, compared = Severity.CHANGE, (-cover.skirt, animal.gap)
        says = "{who} gets in below the film: the skirt ends {open:length} above the board."
        do = "Take a wider roll, or close the gap with mesh."
    elif "rail" not in cover.edges:
        says = "Closed all round: {who} stays out."
        return Finding(name, severity, says, do, values, source=animal.source)
    elif cover.mesh_band >= opening - 1e-6:
        says = "{who} stays out: a mesh band {band:length} high stands in the opened sides."
    else:
        severity = Severity.CHANGE
        says = (
            "{who} gets in under a rolled-up side: any opening above {gap:length} lets it through, "
            "and the mesh band is {band:length}."
        )
        do = (
            f"Open no more than {{gap:length}}, or close the opening with {animal.answer}: "
            "cover.mesh_band at least {needed:length}."
        )
    return Finding(name, severity, says, do, values, *compared, "length", animal.source)


def batten_over_legs(cover: Cover, legs: Legs) -> Finding | None:
    """Return what it takes to batten a side whose legs stand on the same board face."""
    if "batten" not in cover.edges or legs == "inside":
        return None
    return Finding(
        "batten-over-legs",
        Severity.WATCH,
        "The side batten crosses the legs, which stand on the same face of the board.",
        'Cut the batten between the legs, or stand the legs inside (bed.legs = "inside"), or '
        'bury that edge (cover.fixed_edge = "bury").',
        source="Geometry",
    )
