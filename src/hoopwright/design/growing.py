"""From a design to what the climate needs of it: the air space, the schedule, years of weather."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from pathlib import Path

import numpy as np
from numpy.typing import NDArray

from hoopwright.bed import SOIL_BELOW_TOP, Bed
from hoopwright.climate.at_bed import LEVEL, Horizon, PlaceDifference, at_bed
from hoopwright.climate.demo import demo_normals
from hoopwright.climate.disaggregate import hourly_years, usable_years
from hoopwright.climate.generate import generate
from hoopwright.climate.normals import (
    MonthlyNormals,
    clearness_from_sun_hours,
    monthly_normals,
)
from hoopwright.climate.read import read_daily, read_weather
from hoopwright.climate.read.recognise import is_daily
from hoopwright.climate.weather import Station, Weather
from hoopwright.cover import Edge
from hoopwright.design.flow import Design
from hoopwright.heat.covers import optics_of
from hoopwright.heat.enclosure import CoverOptics, Enclosure, InnerFabric, Soil, WaterJugs
from hoopwright.heat.run import BedInRun
from hoopwright.heat.schedule import Schedule, Season, Visits
from hoopwright.hoop import Outline
from hoopwright.loads.shelter import sheltered_share
from hoopwright.plan.model import Plan

CURVE_POINTS = 13
#: Height of a cover for the shelter of the wind that cools it [m].
COVER_HEIGHT = 1.2
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
    return place_years(plan.model_copy(update={"season": _one_year(plan)}), file).years[0]


def _one_year(plan: Plan) -> object:
    return plan.season.model_copy(update={"years": 1})


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
        "a record of many years would be surer"
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
    opener = asked.opener_from if asked.sides == "opener" else None
    season = Season(
        asked.cover_from,
        asked.cover_until,
        open_height=asked.open_height,
        opened="closed" if asked.sides == "opener" else asked.sides,
        opener_from=opener,
    )
    return Schedule((season,), visits_of(plan))


def covers_of(design: Design) -> dict[str, CoverOptics]:
    """Return the plan's own cover and those to set beside it, by name."""
    keys = (design.plan.cover.material, *design.plan.season.beside)
    materials = [design.catalogue.cover(key) for key in dict.fromkeys(keys)]
    found = {material.name: optics_of(material) for material in materials}
    found[materials[0].name] = own_optics(design)
    return found
