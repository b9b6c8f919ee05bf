"""Values that are each possible but not together: one sentence for every clash."""

from collections.abc import Callable, Iterator

from hoopwright.bed import Bed
from hoopwright.holding.straps import strap_room
from hoopwright.plan.fields import nearest
from hoopwright.plan.model import Plan
from hoopwright.tables.catalogue import PRICED, Catalogue
from hoopwright.tables.overlay import Source
from hoopwright.tables.reader import TableError
from hoopwright.units import show

Show = Callable[[float], str]

LEAST_STRAP_SPACING = 0.0508
LEAST_INNER_WIDTH = 0.15


def embed_of(plan: Plan, bed: Bed) -> float:
    """Return the pipe below the board top [m]: as wished, else down to the ground."""
    return bed.height if plan.hoops.embed is None else plan.hoops.embed


def contradictions(
    plan: Plan, bed: Bed, catalogue: Catalogue, varieties: tuple[Source, ...] = ()
) -> Iterator[tuple[str, str]]:
    """Yield (key, what is wrong and what to do) for each clash of values.

    varieties : files of the user's own crops
    """

    def length(value: float) -> str:
        return show(value, "length", plan.system)

    yield from _of_the_box(plan, bed, length)
    yield from _of_the_hoops(plan, bed, length)
    yield from _of_the_cover(plan)
    yield from _of_the_fabrics(plan, catalogue)
    yield from _of_the_stock(plan, catalogue)
    yield from _of_the_season(plan, varieties)
    yield from _of_the_normals(plan)


def _of_the_box(plan: Plan, bed: Bed, length: Show) -> Iterator[tuple[str, str]]:
    if bed.inner_width < LEAST_INNER_WIDTH:
        yield (
            "bed.width",
            f"leaves {length(max(0.0, bed.inner_width))} between the boards; "
            f"{length(LEAST_INNER_WIDTH)} is the least a bed can be",
        )
    if bed.outer_width > bed.outer_length:
        yield (
            "bed.width",
            f"is greater than bed.length ({length(bed.outer_width)} over "
            f"{length(bed.outer_length)}); hoops cross the short way: swap the two",
        )


def _of_the_hoops(plan: Plan, bed: Bed, length: Show) -> Iterator[tuple[str, str]]:
    hoops = plan.hoops
    embed = embed_of(plan, bed)
    if hoops.stock_length is not None and hoops.height is not None:
        yield (
            "hoops.height",
            "and hoops.stock_length are both given; one follows from the other: keep one",
        )
    if hoops.brace and hoops.ridge not in ("pipe", "batten"):
        yield (
            "hoops.brace",
            'wants a ridge that can push: set hoops.ridge to "pipe" or "batten", or leave it out',
        )
    if embed > bed.height + 1e-9:
        yield (
            "hoops.embed",
            f"is {length(embed)} but the boards are {length(bed.height)} high; "
            f"accepted: up to {length(bed.height)}",
        )
    elif hoops.straps_per_leg == 2 and strap_room(bed.height, embed) < LEAST_STRAP_SPACING:
        yield (
            "hoops.straps_per_leg",
            f"is 2, but {length(embed)} of leg leaves no room for two straps; "
            "embed the legs deeper or take 1",
        )
    run = bed.outer_length - hoops.first_offset - hoops.last_offset
    least = 0.3048 + (2 * hoops.pair_gap if plan.cover.style == "framed" else 0.0)
    if run < least:
        yield (
            "hoops.first_offset",
            f"and hoops.last_offset leave {length(max(run, 0.0))} of bed for hoops; "
            f"{length(least)} is the least",
        )
    if hoops.stock_length is not None and hoops.stock_length <= bed.outer_width + 2 * embed:
        yield (
            "hoops.stock_length",
            f"is {length(hoops.stock_length)}, too short to cross a bed {length(bed.outer_width)} "
            f"wide with {length(embed)} of each leg below the boards' top; "
            f"more than {length(bed.outer_width + 2 * embed)} is needed",
        )


def _of_the_cover(plan: Plan) -> Iterator[tuple[str, str]]:
    if plan.cover.mesh_band > 0 and plan.cover.roll_up == "none":
        yield (
            "cover.mesh_band",
            "is for a side that rolls up, but cover.roll_up is none; "
            "leave it out, or let a side roll up",
        )


def _of_the_fabrics(plan: Plan, catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    """A fabric whose breathing nobody has written down would pass for airtight."""
    asked = [("cover.material", plan.cover.material)]
    if plan.season.inner_fabric is not None:
        asked.append(("season.inner_fabric", plan.season.inner_fabric))
    asked += [(f"season.beside[{n}]", key) for n, key in enumerate(plan.season.beside, start=1)]
    for name, key in asked:
        material = catalogue.cover(key)
        # Only rows of the user's own can lack it: a test holds ours.
        if material.kind == "fabric" and material.sure == "user":
            from hoopwright.heat.covers import fabric_leak

            try:
                fabric_leak(material.optics_family)
            except KeyError as error:
                yield name, str(error.args[0])


def _of_the_stock(plan: Plan, catalogue: Catalogue) -> Iterator[tuple[str, str]]:
    known = {record.key for table in PRICED for record in catalogue.everything_in(table)}
    covers = {record.key for record in catalogue.everything_in("cover")}
    lengths = covers | {
        record.key
        for table in ("pipe", "lumber", "batten", "rail", "stake", "cord")
        for record in catalogue.everything_in(table)
    }
    for number, row in enumerate(plan.stock, start=1):
        if row.item not in known:
            yield (
                f"stock[{number}].item",
                f'"{row.item}" is not in the catalogue{nearest(row.item, known)}; '
                "`hoopwright catalogue` lists its keys",
            )
        elif row.item in lengths and row.length is None:
            yield f"stock[{number}].length", f"is needed for {row.item}: how long is each?"
        elif row.item in covers and row.width is None:
            yield f"stock[{number}].width", f"is needed for {row.item}: how wide is it?"


def _of_the_season(plan: Plan, varieties: tuple[Source, ...]) -> Iterator[tuple[str, str]]:
    if not plan.season.crops and not varieties:
        return
    # The crop tables are read only for plans that name crops.
    from hoopwright.season.crops import crop_keys

    try:
        known = crop_keys(*varieties)
    except (TableError, OSError, ValueError) as error:
        yield "season.varieties", str(error)
        return
    for number, key in enumerate(plan.season.crops, start=1):
        if key not in known:
            yield (
                f"season.crops[{number}]",
                f'"{key}" is not in the crop table{nearest(key, known)}; '
                f"there are: {', '.join(known)}",
            )


def _of_the_normals(plan: Plan) -> Iterator[tuple[str, str]]:
    normals, site = plan.normals, plan.site
    if site.weather != "normals":
        return
    if normals is None:
        yield "normals", "is needed where site.weather is normals: twelve monthly means"
        return
    if site.latitude is None or site.longitude is None or site.elevation is None:
        yield "site.latitude", ", site.longitude and site.elevation are needed with normals"
    for name in type(normals).model_fields:
        held = len(getattr(normals, name))
        if held not in (0, 12) or (held == 0 and name in ("maximum", "minimum")):
            yield f"normals.{name}", f"has {held} values; twelve are wanted, January first"
    pairs = zip(normals.minimum, normals.maximum, strict=False)
    if any(low >= high for low, high in pairs):
        yield "normals.minimum", "is not below normals.maximum in every month"
