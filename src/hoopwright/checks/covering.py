"""Whether the sheets fit the rolls sold, and whether the cover keeps animals out."""

from hoopwright.bed import Legs
from hoopwright.checks.finding import Finding, Severity
from hoopwright.cover import Cover, seam_widths
from hoopwright.hoop import Hoop
from hoopwright.tables.animals import Animal

LEAST_SKIRT = 0.0508


def film_width(cover: Cover) -> Finding:
    """Return which roll widths the body sheet fits, and what the others would leave open."""
    sold = sorted({roll.width for roll in cover.material.rolls})
    values: dict[str, float | str] = {
        "material": cover.material.name,
        "needed": cover.body.width,
        "bare": cover.body.bare,
    }
    source = "Developed width: pipe arc, its outside turn, boards, skirts and edges"
    short = [width for width in sold if width < cover.body.width - 1e-6]
    lesser = _what_the_next_narrower_leaves(cover, short, values)
    if cover.roll_width is not None:
        values["roll"] = cover.roll_width
        values["skirt"] = cover.skirt
        return Finding(
            "film-width",
            Severity.FINE,
            "{material} off the {roll:size} roll fits: the body sheet needs {needed:length}, and "
            "on that roll it hangs {skirt:length} down each board." + lesser,
            "",
            values,
            cover.body.width,
            cover.roll_width,
            "length",
            source,
        )
    return _no_width_fits(cover, sold, values, lesser, source)


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


def _no_width_fits(
    cover: Cover, sold: list[float], values: dict[str, float | str], lesser: str, source: str
) -> Finding:
    """Return the finding for a sheet wider than any roll: a shorter skirt, or a seam."""
    widest = max(sold, default=0.0)
    if widest and cover.body.skirt_from(widest) >= LEAST_SKIRT:
        values["skirt"] = cover.body.skirt_from(widest)
        values["roll"] = widest
        return Finding(
            "film-width",
            Severity.WATCH,
            "The widest {material} sold, {roll:size}, hangs only {skirt:length} down each board; "
            "the skirt asked for needs {needed:length}.",
            "Live with the short skirt (set cover.skirt), or lower the hoops.",
            values,
            cover.body.width,
            widest,
            "length",
            source,
        )
    if sold:
        width, strips = seam_widths(cover.body.width, sold)
        values |= {"strip": width, "strips": float(strips)}
    return Finding(
        "film-width",
        Severity.CHANGE,
        "No roll of {material} is wide enough: the body sheet needs {needed:length}." + lesser,
        "Join {strips:count} strips of {strip:size} along the crown, lapped 6 in and taped with "
        "greenhouse tape on both faces; or shorten the pipe."
        if sold
        else "The catalogue lists no rolls of it; add their widths in your own catalogue file.",
        values,
        cover.body.width,
        widest,
        "length",
        source,
    )


def animal_gaps(cover: Cover, hoop: Hoop, animal: Animal) -> Finding:
    """Return whether this animal gets in by the skirts, or by a side that is rolled up."""
    values: dict[str, float | str] = {
        "who": animal.name,
        "gap": animal.gap,
        "band": cover.mesh_band,
    }
    name = f"animals-{animal.key}"
    if animal.from_below == "yes":
        return Finding(
            name,
            Severity.WATCH,
            "No cover keeps out {who}: they come from below.",
            f"Before filling, lay {animal.answer}, turned up the boards on the inside.",
            values,
            source=animal.source,
        )
    opening = hoop.crown_over_board if animal.barrier is None else animal.barrier
    values["needed"] = opening
    if cover.skirt < 0:
        values["open"] = -cover.skirt
        if -cover.skirt > animal.gap:
            return Finding(
                name,
                Severity.CHANGE,
                "{who} gets in below the film: the skirt ends {open:length} above the board.",
                "Take a wider roll, or close the gap with mesh.",
                values,
                -cover.skirt,
                animal.gap,
                "length",
                animal.source,
            )
    if "rail" not in cover.edges:
        return Finding(
            name, Severity.FINE, "Closed all round: {who} stays out.", "", values,
            source=animal.source,
        )  # fmt: skip
    if cover.mesh_band >= opening - 1e-6:
        return Finding(
            name,
            Severity.FINE,
            "{who} stays out: a mesh band {band:length} high stands in the opened sides.",
            "",
            values,
            cover.mesh_band,
            opening,
            "length",
            animal.source,
        )
    return Finding(
        name,
        Severity.CHANGE,
        "{who} gets in under a rolled-up side: any opening above {gap:length} lets it through, "
        "and the mesh band is {band:length}.",
        f"Open no more than {{gap:length}}, or close the opening with {animal.answer}: "
        "cover.mesh_band at least {needed:length}.",
        values,
        cover.mesh_band,
        opening,
        "length",
        animal.source,
    )


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
