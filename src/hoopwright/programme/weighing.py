"""What a design comes to in a few numbers, each part worked out once for all that share it.

Designs that differ only in hold-down share their loaded hoop; those that differ only in pipe
wall, cover or habit share other parts. A search weighs thousands by keeping what is shared.
"""

from collections.abc import Iterable
from dataclasses import dataclass, field, replace
from typing import Any

from hoopwright.checks.finding import Finding, Severity
from hoopwright.checks.ladders import Ladders
from hoopwright.climate.weather import Weather
from hoopwright.design import Design
from hoopwright.design.growing import heat_bed_of, schedule_of_plan
from hoopwright.heat.compare import DEGREE_BASE, HOT, degree_days, frost_free, gain, hours_above
from hoopwright.heat.covers import optics_of
from hoopwright.heat.enclosure import CoverOptics
from hoopwright.heat.forcing import Place
from hoopwright.heat.lanes import WIDTH
from hoopwright.heat.results import UnderCover
from hoopwright.heat.run import BedInRun, Case, place_of, simulate_all
from hoopwright.heat.schedule import Schedule
from hoopwright.programme.buying import Bill, by_thing
from hoopwright.tables.constants import YEAR

#: Leaf temperature [degC] that ends the season of a tender plant: ice in it; the usual line for
#: frost (common practice, no source).
KILLS_AT = 0.0


@dataclass(frozen=True)
class YearUnderCover:
    """What a cover does in one year at the place, against the open bed.

    degrees  : [K] mean gain of the leaves' nightly minimum
    days     : [d] longer longest stretch without leaf frost; one year says it roughly
    hot      : [h] inside air above 32 degC;  hot_open : the same over the open bed
    warmth   : [K d] degree days above 10 degC more than in the open
    """

    degrees: float
    days: int
    hot: int
    hot_open: int
    warmth: float


@dataclass(frozen=True)
class Worth:
    """A design in numbers.

    cost       : to buy now [currency], infinite where something cannot be had
    wind       : [m/s] gust to plan for, nine beds in ten stand it;  wind_name : first to give way
    half       : [m/s] the gust that half of the beds stand
    snow       : [m] depth of wet snow that nine beds in ten stand;  snow_name : first to give way
    growth     : in the year weighed, or None where none was given
    waste      : [-] offcuts and sawdust of sticks cut into
    height     : [m] clear over the boards at the crown
    cover_cost_per_year : the film's own cost over its service life [currency]
    optics     : family of the cover, by which trials under its like are found
    stops, changes : names of checks that say stop, and change
    """

    cost: float
    wind: float
    wind_name: str
    half: float
    snow: float
    snow_name: str
    growth: YearUnderCover | None
    waste: float
    height: float
    cover_cost_per_year: float
    optics: str
    stops: tuple[str, ...]
    changes: tuple[str, ...]


#: What a climate depends on: the bed, its cover and its habit.
ClimateKey = tuple[BedInRun, CoverOptics, Schedule]


@dataclass
class Weigher:
    """Weighs designs at one place; keeps every shared part.

    weather : one year at the place, or None to leave the climate out
    march   : `heat.compiled.compiled_march()` for many designs, None for a few
    whole   : True where designs keep their ladders, with rungs that no worth goes by
    """

    bill: Bill
    weather: Weather | None = None
    march: Any = None
    whole: bool = True
    climates: dict[ClimateKey, YearUnderCover] = field(default_factory=dict)
    place: Place | None = None

    def __post_init__(self) -> None:
        self.ladders = Ladders(self.whole)

    def prepare(self, designs: Iterable[Design]) -> None:
        """Follow hoops and march climates side by side, before designs are weighed one by one."""
        designs = list(designs)
        if self.weather is not None:
            self._grow(designs)
        self.ladders.prepare(one.standing for one in designs)

    def weigh(self, design: Design) -> Worth:
        """Return what a design comes to."""
        found = self.ladders.of(design.standing)
        # As if the design had worked it out itself; it keeps no other's.
        vars(design)["ladder"] = found
        opens, snow = found.opens, found.wet_snow
        cost, waste, cover_cost = self._bought(design)
        worth = Worth(
            cost=cost,
            wind=opens.told[0],
            wind_name=opens.first[0][0].name,
            half=opens.told[1],
            snow=snow.careful,
            snow_name=snow.name,
            growth=self.growth(design) if self.weather is not None else None,
            waste=waste,
            height=design.hoop.crown_over_board,
            cover_cost_per_year=cover_cost,
            optics=design.cover.material.optics_family,
            stops=_named(design.findings, Severity.STOP),
            changes=_named(design.findings, Severity.CHANGE),
        )
        if not self.whole:
            del vars(design)["ladder"]
        return worth

    def growth(self, design: Design) -> YearUnderCover:
        """Return what the cover does in the year, against the open bed."""
        key = _climate_key(design)
        if key not in self.climates:
            self._grow([design])
        return self.climates[key]

    def _grow(self, designs: Iterable[Design]) -> None:
        """March the climates that are not known yet, a few beds at a time."""
        weather = self.weather
        assert weather is not None
        wanted: dict[BedInRun, dict[ClimateKey, None]] = {}
        for key in map(_climate_key, designs):
            if key not in self.climates:
                wanted.setdefault(key[0], {})[key] = None
        beds = list(wanted)
        for some in (beds[i : i + WIDTH] for i in range(0, len(beds), WIDTH)):
            places: dict[BedInRun, Place] = {}
            for bed in some:
                self.place = places[bed] = place_of(weather, bed, self.place)
            keys = [key for bed in some for key in wanted[bed]]
            cases = [Case(*key, places[key[0]]) for key in keys]
            cases += [replace(case, schedule=Schedule.open_bed()) for case in cases]
            runs = simulate_all(weather, cases, self.march)
            for key, under, bare in zip(keys, runs, runs[len(keys) :], strict=False):
                self.climates[key] = growth_of(under, bare)

    def _bought(self, design: Design) -> tuple[float, float, float]:
        """Return what everything costs, the waste of its sticks [-], and the cover's cost a year.

        The cost is infinite where something cannot be had.
        """
        things, hand, material = by_thing(design.parts), design.at_hand, design.cover.material
        plans = [
            cuts.plan
            for thing, parts in things.items()
            if parts.cut
            for cuts in self.bill.priced(thing, parts, hand).sticks
        ]
        bought = sum(plan.stock_length for plan in plans)
        waste = sum(plan.waste for plan in plans) / bought if bought else 0.0
        costs = {thing: self.bill.cost(thing, parts, hand) for thing, parts in things.items()}
        yearly = costs.get(material.key, 0.0) / max(material.service_life / YEAR, 0.5)
        return round(sum(costs.values()), 2), waste, yearly


def growth_of(under: UnderCover, open_bed: UnderCover) -> YearUnderCover:
    """Return what a cover did in a year against the open bed."""
    weather = under.weather
    return YearUnderCover(
        degrees=gain(under.leaf, open_bed.leaf, weather).mean,
        days=frost_free(under.leaf, KILLS_AT).days - frost_free(open_bed.leaf, KILLS_AT).days,
        hot=hours_above(under.air, HOT),
        hot_open=hours_above(open_bed.air, HOT),
        warmth=degree_days(under.air, DEGREE_BASE) - degree_days(open_bed.air, DEGREE_BASE),
    )


def _climate_key(design: Design) -> ClimateKey:
    optics = optics_of(design.cover.material)
    return heat_bed_of(design), optics, schedule_of_plan(design.plan)


def _named(findings: tuple[Finding, ...], severity: Severity) -> tuple[str, ...]:
    return tuple(finding.name for finding in findings if finding.severity is severity)
