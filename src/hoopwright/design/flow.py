"""The flow in one readable function: plan, geometry, checks, materials. No formula lives here."""

from functools import cached_property, lru_cache
from pathlib import Path

from hoopwright.bed import Bed
from hoopwright.checks import bend as bend_checks
from hoopwright.checks import covering as cover_checks
from hoopwright.checks import layout as layout_checks
from hoopwright.checks.finding import Finding, worst_first
from hoopwright.checks.fitting import Fitted
from hoopwright.checks.flogging import flogging
from hoopwright.checks.judged import hail_finding, ridge_finding, snow_finding, wind_finding
from hoopwright.checks.ladder import Ladder, ladder
from hoopwright.checks.ladders import Ladders
from hoopwright.checks.side_boards import side_boards
from hoopwright.checks.standing import Standing
from hoopwright.cover.assembly import Cover, cover_of
from hoopwright.design.wishes import (
    at_hand,
    cover_wishes_of,
    fittings_of,
    hold_down_of,
    hoop_wished,
    lines_of,
    ridge_strut_of,
    site_of,
)
from hoopwright.frozen import dataclass
from hoopwright.holding.choices import HoldDown
from hoopwright.hoop.shape import Hoop
from hoopwright.hoop.stations import HoopStation, stations
from hoopwright.loads.wind_hours import WindHours
from hoopwright.materials.order import AtHand, Order, order_of
from hoopwright.materials.parts import Parts, parts_of
from hoopwright.plan.model import Plan
from hoopwright.plan.read import ReadPlan
from hoopwright.site.place import Site
from hoopwright.tables.animals import animals
from hoopwright.tables.catalogue import Catalogue
from hoopwright.tables.overlay import Source
from hoopwright.units import System


@dataclass(frozen=True)
class Design:
    """Everything worked out from one plan, once; drawings, sheet and checks read it.

    varieties : files of the user's own crops; weather_file : that the plan names, or None
    ladders   : that designs of one catalogue share, or None
    """

    plan: Plan
    catalogue: Catalogue
    site: Site
    bed: Bed
    hoop: Hoop
    hoops: tuple[HoopStation, ...]
    cover: Cover
    fitted: Fitted
    hold_down: HoldDown
    varieties: tuple[Source, ...] = ()
    weather_file: Path | None = None
    ladders: Ladders | None = None

    @property
    def system(self) -> System:
        """Return the units the plan is shown in."""
        return self.plan.system

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
            ridge_strut=ridge_strut_of(plan, self.catalogue, self.hoop, self.bed),
            laced=plan.cover.lacing,
            guyed=plan.hoops.guys,
            braced=plan.hoops.brace,
            brushed=plan.wishes.brushed,
        )

    @cached_property
    def wind_hours(self) -> WindHours | None:
        """Return the wind of the plan's hourly weather file; None where it names none."""
        file = self.weather_file
        return None if file is None else _wind_hours(file, file.stat().st_mtime_ns)

    @cached_property
    def ladder(self) -> Ladder:
        """Return what gives way at which gust, depth of snow or hailstone."""
        return self.ladders.of(self.standing) if self.ladders else ladder(self.standing)

    @cached_property
    def findings(self) -> tuple[Finding, ...]:
        """Return every check, worst first."""
        return worst_first(_findings(self))

    @cached_property
    def parts(self) -> Parts:
        """Return every part, before anything is bought."""
        new_box = self.plan.bed.box == "new"
        return parts_of(
            self.bed,
            self.hoop,
            self.hoops,
            self.cover,
            self.fitted,
            self.hold_down,
            lines_of(self.plan, self.catalogue),
            new_box=new_box,
        )

    @cached_property
    def order(self) -> Order:
        """Return the cheapest order for the parts, with every cut."""
        return order_of(self.parts, self.catalogue, self.at_hand)

    @property
    def at_hand(self) -> tuple[AtHand, ...]:
        """Return what the person already has."""
        return at_hand(self.plan.stock)


@lru_cache(maxsize=4)
def _wind_hours(file: Path, changed: int) -> WindHours | None:
    """Return the wind of a weather file, None for a daily one; changed : when it last was [ns]."""
    from hoopwright.climate.read import is_daily, read_weather

    if is_daily(file):
        return None
    weather = read_weather(file)
    return WindHours(weather.wind_speed, weather.wind_direction)


def design_of(read: ReadPlan, ladders: Ladders | None = None) -> Design:
    """Return the design of a plan.

    ladders : that it shares with others of its catalogue; each is then what it is alone
    Raises PlanError where no hoop can be bent to what the plan asks.
    """
    plan, catalogue = read.plan, read.catalogue
    bed = read.bed
    hoop = hoop_wished(plan, catalogue, bed)
    hoops = stations(
        bed.outer_length,
        first_offset=plan.hoops.first_offset,
        last_offset=plan.hoops.last_offset,
        greatest=plan.hoops.spacing,
        framed=plan.cover.style == "framed",
        pair_gap=plan.hoops.pair_gap,
    )
    fitted = fittings_of(plan, catalogue, bed, hoop)
    wishes = cover_wishes_of(plan, catalogue, fitted)
    cover = cover_of(wishes, bed, hoop.outline, hoops, plan.bed.legs)
    hold_down = hold_down_of(plan, catalogue, bed, hoop)
    return Design(
        plan,
        catalogue,
        site_of(plan),
        bed,
        hoop,
        hoops,
        cover,
        fitted,
        hold_down,
        read.varieties,
        read.weather_file,
        ladders,
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
        cover_checks.batten_over_legs(design.cover, plan.bed.legs),
        *(
            cover_checks.animal_gaps(design.cover, hoop, animals()[animal])
            for animal in plan.wishes.animals
        ),
    ]
    if fitted.strap is not None:
        found.append(layout_checks.legs_clear_of_ends(bed, hoops, fitted.strap, plan.bed.legs))
        if fitted.strap_screw is not None:
            found.append(layout_checks.end_distance(bed, hoops, fitted.strap, fitted.strap_screw))
    standing, rungs = design.standing, design.ladder
    found += [
        wind_finding(rungs, standing),
        snow_finding(rungs, standing),
        hail_finding(rungs),
        ridge_finding(standing),
        flogging(rungs, design.wind_hours),
        side_boards(standing),
    ]
    return [finding for finding in found if finding is not None]
