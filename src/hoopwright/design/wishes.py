"""From the words of a plan to the things of each room: site, hoop, hold-down, fittings, cover."""

from collections.abc import Iterable

from hoopwright.bed import Bed
from hoopwright.checks.fitting import Chosen, Fitted, fit_all
from hoopwright.checks.side_boards import ties_along
from hoopwright.cover.assembly import CoverWishes
from hoopwright.cover.pieces import Allowances, Edge
from hoopwright.holding.choices import HoldDown
from hoopwright.holding.grip import PullTest
from hoopwright.hoop.shape import Hoop, hoop_of, leg_span
from hoopwright.materials.order import AtHand
from hoopwright.materials.parts import Lines
from hoopwright.plan.contradictions import embed_of
from hoopwright.plan.model import Plan, StockRow
from hoopwright.plan.read import PlanError, Problem
from hoopwright.site.place import Site
from hoopwright.site.standard import standard_of
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.fits import clip_for, pin_for, sleeve_rod_for
from hoopwright.units import show

USUAL_STOCK_LENGTH = 3.048
#: The least clear height of a crown over the boards [m] that still makes a cover (assumption).
LEAST_CROWN = 0.0508


def at_hand(rows: Iterable[StockRow]) -> tuple[AtHand, ...]:
    """Return what rows of a file say that somebody already has."""
    return tuple(AtHand(row.item, row.count, row.length, row.width) for row in rows)


def site_of(plan: Plan) -> Site:
    site = plan.site
    return Site(
        name=site.name,
        latitude=site.latitude,
        longitude=site.longitude,
        elevation=site.elevation,
        exposure=site.exposure,
        gust=site.gust,
        gust_years=site.gust_years,
        ground_snow=site.ground_snow,
        snow_years=site.snow_years,
        barrier=None if site.barrier == "none" else site.barrier,
        barrier_height=site.barrier_height,
        barrier_distance=site.barrier_distance,
        barrier_length=site.barrier_length,
        barrier_direction=site.barrier_direction,
        standard=standard_of(site.standard, site.latitude, site.longitude),
    )


def hold_down_of(plan: Plan, catalogue: Catalogue, bed: Bed, hoop: Hoop) -> HoldDown:
    asked = plan.holding
    pulls = asked.pull_test
    numbers = {"none": 0, "corners": 4, "corners and sides": 4 + 2 * ties_along(bed.outer_length)}
    sleeve, clipped, rail = asked.legs == "sleeve", asked.rail == "clipped", plan.cover.rail
    clips = catalogue.rail_clips.values() if clipped else ()
    return HoldDown(
        leg=asked.legs,
        pin=pin_for(hoop.pipe, bed.board, catalogue.screws.values()) if asked.pin else None,
        pull_test=PullTest(pulls, hoop.leg.straps, asked.pull_test_aged) if pulls else None,
        clip_test=asked.clip_test,
        tie_test=asked.tie_test,
        rail=asked.rail,
        rail_clip=clip_for(catalogue.rail(rail), clips, "spring").item,
        sleeve_rod=sleeve_rod_for(hoop.pipe, catalogue.stakes.values()).item if sleeve else None,
        stake=catalogue.stake(asked.stake) if asked.stakes != "none" else None,
        stakes=numbers[asked.stakes],
        stake_depth=asked.stake_depth,
        tied_to_soil=asked.tied_to_soil,
        soil=asked.soil,
    )


def hoop_wished(plan: Plan, catalogue: Catalogue, bed: Bed) -> Hoop:
    pipe, wanted = catalogue.pipe(plan.hoops.pipe), plan.hoops
    stock = None
    if wanted.height is None:
        stock = USUAL_STOCK_LENGTH if wanted.stock_length is None else wanted.stock_length
    key = "hoops.height" if wanted.height is not None else "hoops.stock_length"
    try:
        hoop = hoop_of(
            pipe,
            span=leg_span(bed.outer_width, bed.wall, pipe.outside_diameter, plan.bed.legs),
            board_top=bed.height,
            embed=embed_of(plan, bed),
            straps=0 if plan.holding.legs == "sleeve" else wanted.straps_per_leg,
            legs=plan.bed.legs,
            cut_length=stock,
            crown_over_board=wanted.height,
        )
    except ValueError as error:
        says = f"no hoop can be bent so: {error}; change it, the bed's width or the embed"
        raise PlanError(plan.name, (Problem(key, says),)) from None
    if hoop.crown_over_board < LEAST_CROWN:
        least = show(LEAST_CROWN, "length", plan.system)
        says = (
            f"leaves the hoop's crown less than {least} over the boards; take a longer pipe, a "
            "lesser embed or a narrower bed"
        )
        raise PlanError(plan.name, (Problem(key, says),))
    return hoop


def lines_of(plan: Plan, catalogue: Catalogue) -> Lines:
    cord = next(iter(catalogue.cords))
    made_of: dict[str, str | None] = {
        "none": None,
        "pipe": plan.hoops.pipe,
        "batten": plan.cover.batten,
        "cord": cord,
    }
    sold = {
        "pipe": catalogue.pipe(plan.hoops.pipe).stock_lengths,
        "batten": catalogue.batten(plan.cover.batten).stock_lengths,
    }.get(plan.hoops.ridge, (float("inf"),))
    return Lines(
        made_of[plan.hoops.ridge],
        max(sold),
        plan.cover.lacing,
        cord,
        plan.cover.mesh,
        plan.hoops.guys,
        plan.hoops.brace,
    )


def ridge_strut_of(plan: Plan, catalogue: Catalogue, hoop: Hoop, bed: Bed) -> float:
    """Return the bending stiffness [N m2] of a ridge that can push between the hoops, else 0.

    A batten lies flat, so it bows the thin way; its wood is taken as the boards' (assumption).
    """
    if plan.hoops.ridge == "pipe":
        return hoop.pipe.bending_stiffness
    if plan.hoops.ridge == "batten":
        batten = catalogue.batten(plan.cover.batten)
        return bed.species.modulus * batten.width * batten.thickness**3 / 12
    return 0.0


def fittings_of(plan: Plan, catalogue: Catalogue, bed: Bed, hoop: Hoop) -> Fitted:
    asked = plan.holding
    chosen = Chosen(
        strap=catalogue.strap(asked.strap) if asked.strap else None,
        strap_screw=catalogue.screw(asked.strap_screw) if asked.strap_screw else None,
        batten_screw=catalogue.screw(asked.batten_screw) if asked.batten_screw else None,
        clip=catalogue.clip(asked.clip) if asked.clip else None,
    )
    return fit_all(hoop.pipe, bed.board, catalogue.batten(plan.cover.batten), chosen, catalogue)


def cover_wishes_of(plan: Plan, catalogue: Catalogue, fitted: Fitted) -> CoverWishes:
    asked = plan.cover
    batten = catalogue.batten(asked.batten)
    fixed: Edge = asked.fixed_edge
    edges: dict[str, tuple[Edge, Edge]] = {
        "both": ("rail", "rail"),
        "one": ("rail", fixed),
        "none": (fixed, fixed),
    }
    return CoverWishes(
        material=catalogue.cover(asked.material),
        style=asked.style,
        edges=edges[asked.roll_up],
        skirt=asked.skirt,
        rail=catalogue.rail(asked.rail),
        batten=batten,
        clip=fitted.clip,
        clip_spacing=asked.clip_spacing,
        mesh_band=asked.mesh_band,
        allowances=Allowances(
            batten_roll=2 * (batten.thickness + batten.width),
            turn=asked.turn,
            end_overlap=asked.end_overlap,
        ),
    )
