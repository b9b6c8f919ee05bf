"""The flow in one readable function: plan, geometry, checks, materials. No formula lives here."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from hoopwright.bed import Bed
from hoopwright.checks import Finding, worst_first
from hoopwright.checks import bend as bend_checks
from hoopwright.checks import covering as cover_checks
from hoopwright.checks import layout as layout_checks
from hoopwright.checks.fitting import Chosen, Fitted, fit_all
from hoopwright.checks.ladder import (
    Ladder,
    hail_finding,
    ladder,
    ridge_finding,
    snow_finding,
    wind_finding,
)
from hoopwright.checks.side_boards import side_boards, ties_along
from hoopwright.checks.standing import Standing
from hoopwright.cover import Allowances, Cover, CoverWishes, Edge, cover_of
from hoopwright.holding.choices import HoldDown
from hoopwright.holding.grip import PullTest
from hoopwright.hoop import Hoop, Station, hoop_of, leg_span, stations
from hoopwright.materials.order import AtHand, Order, order_of
from hoopwright.materials.parts import Fittings, Lines, Parts, parts_of
from hoopwright.plan.contradictions import bed_of, embed_of, system_of
from hoopwright.plan.model import Plan
from hoopwright.plan.read import PlanError, Problem, ReadPlan
from hoopwright.site import Site
from hoopwright.tables.animals import animals
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.fits import pin_for, sleeve_rod_for
from hoopwright.units import System

USUAL_STOCK_LENGTH = 3.048


@dataclass(frozen=True)
class Design:
    """Everything worked out from one plan, once; drawings, sheet and checks read it."""

    plan: Plan
    catalogue: Catalogue
    site: Site
    bed: Bed
    hoop: Hoop
    hoops: tuple[Station, ...]
    cover: Cover
    fitted: Fitted
    hold_down: HoldDown

    @property
    def system(self) -> System:
        """Return the units the plan is shown in."""
        return system_of(self.plan)

    @cached_property
    def standing(self) -> Standing:
        """Return the finished cover as the ladder looks at it."""
        plan, fitted = self.plan, self.fitted
        return Standing(
            site=self.site,
            bed=self.bed,
            legs=plan.bed.legs,
            hoop=self.hoop,
            hoops=self.hoops,
            cover=self.cover,
            strap=fitted.strap,
            strap_screw=fitted.strap_screw,
            batten_screw=fitted.batten_screw,
            board_screw=fitted.board_screw,
            hold_down=self.hold_down,
            ridged=plan.hoops.ridge != "none",
            laced=plan.cover.lacing,
            eurocode=plan.units == "metric",
        )

    @cached_property
    def ladder(self) -> Ladder:
        """Return what gives way at which gust, depth of snow or hailstone."""
        return ladder(self.standing)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Return every check, worst first."""
        return worst_first(_findings(self))

    @cached_property
    def parts(self) -> Parts:
        """Return every part, before anything is bought."""
        fittings = Fittings(
            self.fitted.strap,
            self.fitted.strap_screw,
            self.fitted.batten_screw,
            self.fitted.board_screw,
        )
        new_box = self.plan.bed.box == "new"
        return parts_of(
            self.bed,
            self.hoop,
            self.hoops,
            self.cover,
            fittings,
            self.hold_down,
            _lines(self.plan, self.catalogue),
            new_box=new_box,
        )

    @cached_property
    def order(self) -> Order:
        """Return the cheapest order for the parts, with every cut."""
        at_hand = [AtHand(row.item, row.count, row.length, row.width) for row in self.plan.stock]
        return order_of(self.parts, self.catalogue, at_hand)


def design_of(read: ReadPlan) -> Design:
    """Return the design of a plan.

    Raises PlanError where no hoop can be bent to what the plan asks.
    """
    plan, catalogue = read.plan, read.catalogue
    bed = bed_of(plan, catalogue)
    hoop = _hoop(plan, catalogue, bed)
    hoops = stations(
        bed.outer_length,
        first_offset=plan.hoops.first_offset,
        last_offset=plan.hoops.last_offset,
        greatest=plan.hoops.spacing,
        framed=plan.cover.style == "framed",
        pair_gap=plan.hoops.pair_gap,
        tape_step=system_of(plan).tape_step,
    )
    fitted = _fitted(plan, catalogue, bed, hoop)
    wishes = _cover_wishes(plan, catalogue, fitted)
    cover = cover_of(wishes, bed, hoop, hoops, plan.bed.legs)
    hold_down = _hold_down(plan, catalogue, bed, hoop)
    return Design(plan, catalogue, _site(plan), bed, hoop, hoops, cover, fitted, hold_down)


def _site(plan: Plan) -> Site:
    site = plan.site
    return Site(
        name=site.name,
        latitude=site.latitude,
        longitude=site.longitude,
        elevation=site.elevation,
        exposure=site.exposure,
        gust=site.gust,
        ground_snow=site.ground_snow,
        barrier=None if site.barrier == "none" else site.barrier,
        barrier_height=site.barrier_height,
        barrier_distance=site.barrier_distance,
        count_height=site.count_height,
    )


def _hold_down(plan: Plan, catalogue: Catalogue, bed: Bed, hoop: Hoop) -> HoldDown:
    asked = plan.holding
    pulls = asked.pull_test
    numbers = {"none": 0, "corners": 4, "corners and sides": 4 + 2 * ties_along(bed.outer_length)}
    sleeve = asked.legs == "sleeve"
    return HoldDown(
        leg=asked.legs,
        pin=pin_for(hoop.pipe, bed.board, catalogue.screws.values()) if asked.pin else None,
        pull_test=PullTest(pulls, hoop.leg.straps, asked.pull_test_aged) if pulls else None,
        sleeve_rod=sleeve_rod_for(hoop.pipe, catalogue.stakes.values()).item if sleeve else None,
        stake=catalogue.stake(asked.stake) if asked.stakes != "none" else None,
        stakes=numbers[asked.stakes],
        stake_depth=asked.stake_depth,
        tied_to_soil=asked.tied_to_soil,
        soil=asked.soil,
    )


def _hoop(plan: Plan, catalogue: Catalogue, bed: Bed) -> Hoop:
    pipe, wanted = catalogue.pipe(plan.hoops.pipe), plan.hoops
    stock = None
    if wanted.height is None:
        stock = USUAL_STOCK_LENGTH if wanted.stock_length is None else wanted.stock_length
    try:
        return hoop_of(
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
        key = "hoops.height" if wanted.height is not None else "hoops.stock_length"
        says = f"no hoop can be bent so: {error}; change it, the bed's width or the embed"
        raise PlanError(plan.name, (Problem(key, says),)) from None


def _lines(plan: Plan, catalogue: Catalogue) -> Lines:
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
    return Lines(made_of[plan.hoops.ridge], max(sold), plan.cover.lacing, cord)


def _fitted(plan: Plan, catalogue: Catalogue, bed: Bed, hoop: Hoop) -> Fitted:
    asked = plan.holding
    chosen = Chosen(
        strap=catalogue.strap(asked.strap) if asked.strap else None,
        strap_screw=catalogue.screw(asked.strap_screw) if asked.strap_screw else None,
        batten_screw=catalogue.screw(asked.batten_screw) if asked.batten_screw else None,
        clip=catalogue.clip(asked.clip) if asked.clip else None,
    )
    return fit_all(hoop.pipe, bed.board, catalogue.batten(plan.cover.batten), chosen, catalogue)


def _cover_wishes(plan: Plan, catalogue: Catalogue, fitted: Fitted) -> CoverWishes:
    asked = plan.cover
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
        batten=catalogue.batten(asked.batten),
        clip=fitted.clip,
        clip_spacing=asked.clip_spacing,
        mesh_band=asked.mesh_band,
        allowances=Allowances(turn=asked.turn, end_overlap=asked.end_overlap),
    )


def _findings(design: Design) -> list[Finding]:
    """Return every check of this design; a new failure is one file and one line here."""
    plan, bed, hoop, hoops = design.plan, design.bed, design.hoop, design.hoops
    others = [pipe for pipe in design.catalogue.pipes.values() if pipe != hoop.pipe]
    fitted = design.fitted
    found: list[Finding | None] = [
        bend_checks.bend_strain(hoop, plan.hoops.coldest_bend, others),
        bend_checks.side_bulge(hoop, plan.hoops.straps_per_leg),
        bend_checks.leg_hold(hoop, plan.hoops.straps_per_leg),
        layout_checks.spacing(hoops, plan.hoops.spacing),
        layout_checks.levelling(hoop),
        *(
            layout_checks.reach(bed, plan.bed.reach_from, design.catalogue.reach(worker))
            for worker in plan.wishes.workers
        ),
        *fitted.findings,
        cover_checks.film_width(design.cover),
        *(
            cover_checks.animal_gaps(design.cover, hoop, animals()[animal])
            for animal in plan.wishes.animals
        ),
    ]
    if fitted.strap is not None:
        found.append(layout_checks.legs_clear_of_ends(bed, hoops, fitted.strap, plan.bed.legs))
        if fitted.strap_screw is not None:
            found.append(layout_checks.end_distance(bed, hoops, fitted.strap, fitted.strap_screw))
    found += _strength(design)
    return [finding for finding in found if finding is not None]


def _strength(design: Design) -> list[Finding | None]:
    """Return what the ladder and the boards come to."""
    standing, found = design.standing, design.ladder
    return [
        wind_finding(found, standing),
        snow_finding(found, standing),
        hail_finding(found),
        ridge_finding(standing),
        side_boards(standing),
    ]
