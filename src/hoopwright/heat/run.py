"""One bed, one cover, one record of weather: the climate under the cover hour by hour."""

from collections.abc import Sequence
from dataclasses import field, replace
from typing import Any

import numpy as np

from hoopwright.climate.air import latent_heat, psychrometric_constant
from hoopwright.climate.weather import Weather
from hoopwright.frozen import dataclass
from hoopwright.heat import constants as names
from hoopwright.heat.coefficients import Coefficients, likely
from hoopwright.heat.convection import in_thin_air
from hoopwright.heat.enclosure import (
    Canopy,
    CoverOptics,
    Enclosure,
    InnerFabric,
    Soil,
    WaterJugs,
    rim_conductance,
    side_conductance,
)
from hoopwright.heat.forcing import SCREEN, Outside, Place, forcing, place
from hoopwright.heat.lanes import WIDTH
from hoopwright.heat.marching import Lane, march_block
from hoopwright.heat.results import UnderCover
from hoopwright.heat.schedule import Schedule, Settings, settings
from hoopwright.heat.soil import SoilColumn, column, conductivity, heat_capacity, layer_thicknesses
from hoopwright.heat.vapour import HEAT_AIR, soil_resistance
from hoopwright.heat.ventilation import in_series
from hoopwright.tables.constants import KELVIN

# Water in a leaf [kg/m2] per leaf area; order of Jones 2014, Plants and Microclimate.
LEAF_MASS = 0.25
HIGH = 1000.0  # [m] where the sky column of typical-year files is not believed; see `BedInRun`


@dataclass(frozen=True)
class BedInRun:
    """Everything about the bed that a run needs besides the cover and the weather.

    steps_per_hour : 10 minutes by default
    refresh        : steps between new convection and air exchange under cover
    trust_file_sky : take the record's long-wave column where it has one. None: yes, except for
                     typical years of places above 1000 m, whose column is itself a model made
                     near sea level (Clark & Allen 1978) and some 25 W/m2 too warm on clear nights
                     up there against the pressure-aware model of Martin & Berdahl 1984
    """

    enclosure: Enclosure
    soil: Soil = field(default_factory=Soil)
    canopy: Canopy = field(default_factory=Canopy)
    jugs: WaterJugs | None = None
    fabric: InnerFabric | None = None
    coefficients: Coefficients = field(default_factory=likely)
    steps_per_hour: int = 6
    refresh: int = 2
    trust_file_sky: bool | None = None

    def ground(self) -> SoilColumn:
        """The soil column under this bed."""
        c, soil = self.coefficients, self.soil
        thickness, in_bed = layer_thicknesses(self.enclosure.soil_above_grade)
        k = conductivity(soil.porosity, soil.moisture, soil.quartz, False, c)
        side = side_conductance(self.enclosure, thickness, in_bed, k, c)
        return column(thickness, in_bed, soil, side, c)


def place_of(weather: Weather, bed: BedInRun, like: Place | None = None) -> Place:
    """The shared part of the forcing; make it once and reuse it for every cover on the bed.

    like : that of another bed with the same coefficients and trust, in this weather; quicker
    """
    c, soil = bed.coefficients, bed.soil
    k = conductivity(soil.native_porosity, soil.native_moisture, soil.native_quartz, False, c)
    heat = heat_capacity(soil.native_porosity, soil.native_moisture, False, c)
    thickness, _ = layer_thicknesses(bed.enclosure.soil_above_grade)
    trust = bed.trust_file_sky
    if trust is None:
        trust = not (weather.typical_year and weather.station.elevation > HIGH)
    return place(weather, bed.enclosure, sum(thickness), k / heat, c, trust, like=like)


def constants(bed: BedInRun, optics: CoverOptics, weather: Weather) -> names.Constants:
    """Lay out what does not change over a run; air properties at the place's mean pressure.

    Convection laws measured near sea level are brought to that pressure (`in_thin_air`).
    """
    c, box = bed.coefficients, bed.enclosure
    pressure = float(weather.pressure.mean())
    warm = float(weather.air_temperature.mean())
    heat_of_air = pressure / (287.05 * (warm + KELVIN)) * HEAT_AIR
    latent = float(latent_heat(warm))
    gamma = float(psychrometric_constant(pressure, latent))
    area = box.ground_area
    return names.Constants(
        steps=bed.steps_per_hour,
        refresh=bed.refresh,
        area=area,
        cover_area=box.cover_area / area,
        width_over_height=box.width / box.height,
        width=box.width,
        curve_length=box.curve_length,
        length=box.length,
        end_area=box.end_vent_area,
        end_height=box.end_vent_height,
        holes_area=optics.open_share * box.cover_area,
        holes_height=box.height,
        holes_discharge=optics.open_discharge,
        sides=1.0 if box.sides_that_open == 1 else 2.0,
        discharge=in_series(c.discharge, box.screen_discharge),
        wind_pressure=c.wind_pressure,
        stack_leak=c.stack_air_change * box.leak_factor * box.volume / 3600.0,
        rim=rim_conductance(box, c),
        heat_of_air=heat_of_air,
        psychro=gamma,
        latent=latent,
        lewis=c.lewis_factor,
        air_store=heat_of_air * box.volume / area,
        leaf_store=4180.0 * LEAF_MASS * bed.canopy.leaf_area,
        passed_dry=optics.longwave_dry,
        passed_wet=optics.longwave_wet,
        emit_dry=optics.emissivity_dry,
        emit_wet=optics.emissivity_wet,
        ground=c.ground_emissivity,
        leaf_view=float(1.0 - np.exp(-c.longwave_extinction * max(bed.canopy.leaf_area, 0.01))),
        leaf_area=max(bed.canopy.leaf_area, 0.01),
        leaf_length=c.leaf_length,
        leaf_boundary=c.leaf_boundary * in_thin_air(pressure, 0.5),
        leaf_forced=c.leaf_forced,
        still_speed=c.still_inside_speed,
        cover_factor=c.inside_cover
        * c.inside_scale
        * in_thin_air(pressure, 2.0 * c.inside_cover_exponent),
        cover_exponent=c.inside_cover_exponent,
        soil_warm=c.soil_warm * c.inside_scale * in_thin_air(pressure, 2.0 * c.soil_warm_exponent),
        soil_warm_exponent=c.soil_warm_exponent,
        soil_cool=c.soil_cool * c.inside_scale * in_thin_air(pressure, 2.0 * c.soil_cool_exponent),
        soil_cool_exponent=c.soil_cool_exponent,
        forced_inside=c.forced_inside * in_thin_air(pressure, 0.5),
        soil_dryness=soil_resistance(bed.soil.surface_moisture, c),
        transpires=float(bed.canopy.transpires),
        stomata_dry=c.stomatal_dryness,
        stomata_most=c.stomatal_most,
        leaf_resists=gamma / (heat_of_air * 2.0 * max(bed.canopy.leaf_area, 0.01)),
        full=c.condensate_full_film,
        holds=c.fabric_holds if optics.is_fabric else c.film_holds,
        droplet_loss=1.0 - optics.solar_wet,
        opener=3600.0 * c.opener_lag,
        opener_band=c.opener_band,
        stability_height=SCREEN,
        stability_slope=c.stability_slope,
        stability_unstable=c.stability_unstable,
        stability_stable=c.stability_stable,
        least_exchange=c.least_exchange,
        band=c.freezing_band,
        **_jugs(bed.jugs, area, c),
        **_fabric(bed.fabric),
    )


def _jugs(jugs: WaterJugs | None, area: float, c: Coefficients) -> dict[str, Any]:
    volume = jugs.volume / area if jugs else 0.0
    surface = jugs.surface / area if jugs else 0.0
    return {
        "jug_store": c.water_heat * volume,
        "jug_frozen": c.ice_heat * volume,
        "jug_latent": 1000.0 * c.fusion_heat * volume,
        "jug_exchange": c.jug_exchange * surface,
        "jug_light": (jugs.absorptance if jugs else 0.0) * surface,
    }


def _fabric(fabric: InnerFabric | None) -> dict[str, Any]:
    optics = fabric.optics if fabric else None
    return {
        "fabric": fabric is not None,
        "fabric_passed": optics.longwave_dry if optics else 1.0,
        "fabric_emit": optics.emissivity_dry if optics else 0.0,
        "fabric_leak": fabric.leak if fabric else 0.0,
        "fabric_light": optics.solar_diffuse if optics else 1.0,
    }


@dataclass(frozen=True)
class Case:
    """One bed under one cover, run by one schedule, at a place made by `place_of` for that bed."""

    bed: BedInRun
    optics: CoverOptics
    schedule: Schedule
    at: Place


def simulate(
    weather: Weather,
    bed: BedInRun,
    optics: CoverOptics,
    schedule: Schedule,
    at: Place | None = None,
    march: Any = None,
    around: Outside | None = None,
    ground: SoilColumn | None = None,
) -> UnderCover:
    """Run the bed through the record.

    at     : from `place_of`, where several covers share it
    around : the air that cover and leaks meet, by default that over the same bed in the open
    ground : another soil column than the bed's own; the cover then meets `around`, or else the
             station's air
    march  : `compiled.compiled_march()` for sweeps; None runs the plain march
    The soil starts from the annual wave and is warmed up on the record's last 20 days where the
    record is a year or longer; shorter records start from their own mean.
    """
    case = Case(bed, optics, schedule, at or place_of(weather, bed))
    if around is None and ground is None:
        return simulate_all(weather, [case], march)[0]
    lane = _lane_of(weather, case, settings(schedule, weather), around, ground)
    return march_block(weather, [lane], march)[0]


def simulate_all(weather: Weather, cases: Sequence[Case], march: Any = None) -> list[UnderCover]:
    """Run several beds and covers through one record: what `simulate` gives for each.

    The compiled march takes up to `WIDTH` of them side by side, in less time than two by
    themselves; those whose covers are on and off in different seasons, or of which only some have
    an inner fabric, are not put together. The open bed of each place is run first and kept there.
    """
    open_beds: dict[tuple[int, BedInRun], Case] = {}
    for case in cases:
        bare = _bare(case.bed)
        if bare not in case.at.kept:
            open_case = Case(bare, case.optics, Schedule.open_bed(), case.at)
            open_beds.setdefault((id(case.at), bare), open_case)
    bare_cases = list(open_beds.values())
    for case, run in zip(bare_cases, _runs(weather, bare_cases, march), strict=True):
        case.at.kept[case.bed] = run
    found = [case.at.kept[_bare(case.bed)] for case in cases]
    others = [i for i, case in enumerate(cases) if case.schedule != Schedule.open_bed()]
    around = [Outside(found[i].air, found[i].vapour) for i in others]
    runs = _runs(weather, [cases[i] for i in others], march, around)
    for i, run in zip(others, runs, strict=True):
        found[i] = run
    return found


def _bare(bed: BedInRun) -> BedInRun:
    """The bed as the open ground around it: what is set or laid under a cover is not there."""
    return bed if bed.jugs is None and bed.fabric is None else replace(bed, jugs=None, fabric=None)


def _runs(
    weather: Weather, cases: Sequence[Case], march: Any, around: Sequence[Outside | None] = ()
) -> list[UnderCover]:
    """Run the cases in blocks of those that are alike."""
    hours = {schedule: settings(schedule, weather) for schedule in {c.schedule for c in cases}}
    lanes = [
        _lane_of(weather, case, hours[case.schedule], air)
        for case, air in zip(cases, around or [None] * len(cases), strict=True)
    ]
    groups: dict[Any, list[int]] = {}
    for index, lane in enumerate(lanes):
        groups.setdefault(lane.alike, []).append(index)
    most = 1 if march is None else WIDTH
    results: dict[int, UnderCover] = {}
    for group in groups.values():
        for first in range(0, len(group), most):
            block = group[first : first + most]
            found = march_block(weather, [lanes[index] for index in block], march)
            results.update(zip(block, found, strict=True))
    return [results[index] for index in range(len(cases))]


def _lane_of(
    weather: Weather,
    case: Case,
    hours: Settings,
    around: Outside | None,
    ground: SoilColumn | None = None,
) -> Lane:
    """A case laid out for the march."""
    bed, at = case.bed, case.at
    ground = ground or bed.ground()
    soil = np.full(len(ground.side), float(at.deep[0]))
    soil += (float(weather.air_temperature[:24].mean()) - soil) * np.exp(
        -np.cumsum(ground.thickness) / 0.5
    )
    rows = forcing(at, bed.enclosure, case.optics, bed.canopy, hours, bed.coefficients, around)
    return Lane(constants(bed, case.optics, weather), rows, hours, ground, soil)
