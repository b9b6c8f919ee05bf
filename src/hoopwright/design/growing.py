"""From a design to what the climate needs of it: the air space, the schedule, years of weather."""

from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path
from typing import Literal, cast

import numpy as np
from numpy.typing import NDArray

from hoopwright.bed import SOIL_BELOW_TOP, Bed
from hoopwright.climate.at_bed import LEVEL, Horizon, PlaceDifference, at_bed
from hoopwright.climate.demo import demo_normals
from hoopwright.climate.disaggregate import hourly_years, usable_years
from hoopwright.climate.generate import generate
from hoopwright.climate.normals import MonthlyNormals, clearness_from_sun_hours, monthly_normals
from hoopwright.climate.read import is_daily, read_daily, read_weather
from hoopwright.climate.weather import Station, Weather
from hoopwright.cover.pieces import Edge
from hoopwright.design.flow import Design
from hoopwright.frozen import dataclass
from hoopwright.heat.covers import optics_of
from hoopwright.heat.enclosure import CoverOptics, Enclosure, InnerFabric, Soil, WaterJugs
from hoopwright.heat.run import BedInRun
from hoopwright.heat.schedule import MonthDay, Opened, Schedule, Season, Visits
from hoopwright.hoop.outline import Outline
from hoopwright.loads.shelter import sheltered_share
from hoopwright.plan.model import Plan
from hoopwright.season.opening_options import Opening, allowed_height
from hoopwright.tables.animals import animals
from hoopwright.tables.covers import CoverMaterial

CURVE_POINTS = 13
#: Height of a cover for the shelter of the wind that cools it [m].
COVER_HEIGHT = 1.2
#: How far sides are opened a little [m], 4 in.
LITTLE = 0.1016
Habit = Literal["never", "weekends", "daily", "automatic"]
HABITS: dict[str, Habit] = {
    "never": "never",
    "closed": "never",
    "weekends": "weekends",
    "always": "weekends",
    "daily": "daily",
    "visits": "daily",
    "days": "daily",
    "automatic": "automatic",
    "opener": "automatic",
}
#: When who comes at weekends leaves the sides up (an assumption).
WARM_HALF: tuple[MonthDay, MonthDay] = ((5, 16), (9, 15))
#: What stands in for normals a plan leaves out (assumptions): half the light above the air, the
#: wind FAO-56 suggests is moderate, and a dew point 2 K under the minimum (dry places, FAO-56
#: annex 6).
USUAL_CLEARNESS, USUAL_WIND, DEW_BELOW_MINIMUM = 0.5, 3.0, 2.0
GALLON = 0.003785
#: A gallon jug is about 6 in across and 10 in tall: its outside [m2] (an assumption).
JUG_SURFACE = 0.16


@dataclass(frozen=True)
class PlaceYears:
    """Years of weather at a place, and in words where they come from.

    odds : True where the years carry probabilities (a record or generated years)
    """

    years: tuple[Weather, ...]
    origin: str
    odds: bool


def place_years(plan: Plan, file: Path | None) -> PlaceYears:
    """Return the years of weather a plan asks for, corrected from the station to the bed.

    A daily record gives its own years. A typical-year file holds one stitched year, so its
    monthly normals feed the generator. Without a file the invented demo valley is generated.
    """
    years, origin = _years(plan, file)
    exposure = exposure_of(plan, file is not None)
    return PlaceYears(tuple(at_bed(year, exposure) for year in years), origin, True)


def exposure_of(plan: Plan, lift: bool) -> PlaceDifference:
    """Return how the bed differs from its weather station.

    lift : True moves the station's air to the bed's elevation
    """
    site = plan.site
    points = sorted((point.direction, point.height) for point in site.skyline)
    horizon = Horizon(tuple(p[0] for p in points), tuple(p[1] for p in points)) if points else LEVEL
    shelter = 1.0
    if site.barrier != "none":
        # Half of the published reduction: the barrier stands on one side, wind comes from all.
        shelter = sheltered_share(
            site.barrier, site.barrier_height, site.barrier_distance, COVER_HEIGHT
        ).likely
    return PlaceDifference(
        elevation=site.elevation if lift else None,
        cold_pool=site.cold_pool,
        horizon=horizon,
        wind_shelter=shelter,
    )


def typical_year(plan: Plan, file: Path | None) -> Weather:
    """Return one year to look at closely: the file's own, or the first of those generated."""
    if file is not None and not is_daily(file):
        weather = read_weather(file)
        return at_bed(weather, exposure_of(plan, True))
    one_year = plan.season.model_copy(update={"years": 1})
    return place_years(plan.model_copy(update={"season": one_year}), file).years[0]


def _years(plan: Plan, file: Path | None) -> tuple[Iterator[Weather], str]:
    asked = plan.season
    if plan.site.weather == "normals":
        name = plan.site.name or plan.name
        origin = f"{asked.years} years generated from the monthly normals of {name}"
        return generate(normals_of(plan), asked.years, asked.seed), origin
    if file is None:
        normals = demo_normals()
        origin = f"{asked.years} generated years of {normals.station.name}"
        return generate(normals, asked.years, asked.seed), origin
    if is_daily(file):
        record = read_daily(file)
        usable = usable_years(record).years
        return hourly_years(record), f"{len(usable)} years of {record.station.name}"
    weather = read_weather(file)
    origin = (
        f"{asked.years} years generated from the typical year of {weather.station.name}; "
        "a GHCN-Daily record of 30 years would be surer"
    )
    return generate(monthly_normals(weather), asked.years, asked.seed), origin


def normals_of(plan: Plan) -> MonthlyNormals:
    """Return the monthly normals typed into a plan; what was left out takes a middling value."""
    given, site = plan.normals, plan.site
    assert given is not None
    assert site.latitude is not None
    assert site.longitude is not None
    assert site.elevation is not None
    station = Station(
        site.name or plan.name,
        site.latitude,
        site.longitude,
        site.elevation,
        float(round(site.longitude / 15)),
    )

    def twelve(values: tuple[float, ...], else_: float) -> NDArray[np.float64]:
        return np.array(values) if values else np.full(12, else_)

    minimum = np.array(given.minimum)
    sun = np.array(given.sun_hours) if given.sun_hours else None
    unknown = np.full(12, np.nan)
    return MonthlyNormals(
        station=station,
        maximum=np.array(given.maximum),
        minimum=minimum,
        precipitation=twelve(given.precipitation, np.nan) * 1000.0,
        wet_days=twelve(given.wet_days, np.nan),
        clearness=(
            np.full(12, USUAL_CLEARNESS) if sun is None else clearness_from_sun_hours(station, sun)
        ),
        wind_speed=twelve(given.wind, USUAL_WIND),
        dew_point=np.array(given.dew_point) if given.dew_point else minimum - DEW_BELOW_MINIMUM,
        maximum_deviation=unknown,
        minimum_deviation=unknown,
        source=f"monthly normals in the plan of {plan.name}",
    )


def enclosure_of(
    outline: Outline, bed: Bed, edges: tuple[Edge, Edge], direction: float
) -> Enclosure:
    """Return the air space under an outline, over the soil of a bed.

    edges : what ends the two long edges of the sheet; direction : [deg] of the long sides
    """
    soil = bed.soil_depth
    places = np.linspace(0.0, outline.length, CURVE_POINTS)
    across = np.interp(places, outline.arc, outline.points[:, 0]) + bed.inner_width / 2
    up = np.interp(places, outline.arc, outline.points[:, 1]) - soil
    return Enclosure(
        length=bed.inner_length,
        width=bed.inner_width,
        curve=tuple((float(x), float(y)) for x, y in zip(across, up, strict=True)),
        axis_azimuth=direction % 180.0,
        soil_above_grade=soil,
        rim_above_soil=SOIL_BELOW_TOP,
        board_thickness=bed.wall,
        sides_that_open=edges.count("rail"),
        edge="buried" if edges == ("bury", "bury") else "clipped",
    )


def heat_bed_of(design: Design) -> BedInRun:
    """Return the bed as the heat model runs it, with inner fabric and jugs as the plan asks."""
    asked = design.plan.season
    fabric = None
    if asked.inner_fabric is not None:
        fabric = InnerFabric(optics_of(design.catalogue.cover(asked.inner_fabric)))
    jugs = WaterJugs(asked.jugs * GALLON, asked.jugs * JUG_SURFACE) if asked.jugs else None
    known = design.plan.measured
    soil = Soil() if known.moisture is None else Soil(moisture=known.moisture)
    space = enclosure_of(
        design.hoop.midline, design.bed, design.cover.edges, design.plan.bed.direction
    )
    box = replace(space, leak_factor=known.leak)
    return BedInRun(box, soil, fabric=fabric, jugs=jugs)


def own_optics(design: Design) -> CoverOptics:
    """Return the plan's own cover as the heat model has it, with what readings have shown."""
    optics = optics_of(design.cover.material)
    return replace(optics, age_factor=optics.age_factor * design.plan.measured.light)


def visits_of(plan: Plan) -> Visits:
    """Return when the person comes by."""
    return Visits(morning=plan.season.morning, evening=plan.season.evening)


def schedule_of_plan(plan: Plan) -> Schedule:
    """Return how the cover is worked through the year, as the plan has it."""
    asked = plan.season
    own = Season(asked.cover_from, asked.cover_until, open_height=asked.open_height)
    habit = habit_of(plan)
    if habit == "automatic":
        found: tuple[Season, ...] = (replace(own, opener_from=asked.opener_from),)
    elif habit == "weekends":
        # Who comes at weekends leaves the sides up through the warm half of the year.
        on = _in_warm_half(asked.cover_from, asked.cover_until)
        found = (*(replace(own, first=a, last=b, opened="always") for a, b in on), own)
    else:
        held = "closed" if habit == "never" else {"daily": "visits"}.get(asked.sides, asked.sides)
        found = (replace(own, opened=cast(Opened, held)),)
    return Schedule(found, visits_of(plan))


def _in_warm_half(first: MonthDay, last: MonthDay) -> tuple[tuple[MonthDay, MonthDay], ...]:
    """Return the stretch of the warm half of the year (as the sun goes) in which a cover is on."""
    if first > last:
        return (WARM_HALF,)
    begins, ends = max(first, WARM_HALF[0]), min(last, WARM_HALF[1])
    return ((begins, ends),) if begins <= ends else ()


def habit_of(plan: Plan) -> Habit:
    """Return how often the gardener works the sides, older words for it among them.

    Never where none rolls up: such a cover is shut or off.
    """
    return "never" if plan.cover.roll_up == "none" else HABITS[plan.season.sides]


def allowed_opening(design: Design) -> float:
    """Return how high the sides may be opened [m] without letting an animal in.

    0 where none rolls up.
    """
    if "rail" not in design.cover.edges:
        return 0.0
    wanted = [animals()[key] for key in design.plan.wishes.animals if key != "burrowers"]
    return allowed_height(wanted, design.cover.mesh_band, design.hoop.crown_over_board)


def openings_of(design: Design, allowed: float) -> tuple[Opening, ...]:
    """Return the ways this gardener can run the cover, off first and shut second.

    allowed : [m] height to which the sides may stand open
    """
    asked, habit = design.plan.season, habit_of(design.plan)
    full = min(asked.open_height, allowed)
    little = min(LITTLE, full)
    found = [Opening("off"), Opening("closed")]
    if full > 0.0 and habit != "never":
        if habit == "automatic":
            found += [Opening("opener", full, asked.opener_from)]
        elif habit == "daily":
            found += [Opening("visits", height) for height in dict.fromkeys((little, full))]
        else:
            found += [Opening("always", little)]
        found += [Opening("always", full)]
    found = list(dict.fromkeys(found))
    if asked.inner_fabric is not None:
        covered = [one for one in found if one.way != "off"]
        found += [replace(one, fabric=True) for one in covered[:2]]
    return tuple(found)


def materials_of(design: Design) -> list[CoverMaterial]:
    """Return what the bed is looked at under, the plan's own cover first."""
    keys = dict.fromkeys((design.plan.cover.material, *design.plan.season.beside))
    return [design.catalogue.cover(key) for key in keys]


def covers_of(design: Design) -> dict[str, CoverOptics]:
    """Return the plan's own cover and those to set beside it, by name."""
    materials = materials_of(design)
    found = {material.name: optics_of(material) for material in materials}
    found[materials[0].name] = own_optics(design)
    return found
