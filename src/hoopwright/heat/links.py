"""How strongly soil, leaves, cover and air are linked at a moment, with and without the cover."""

from math import sqrt
from typing import Any

from hoopwright.heat.constants import Constants, Hour, Links, State
from hoopwright.heat.convection import forced, inside_cover, over_leaf, over_soil, stability_factor
from hoopwright.heat.lanes import in_any, where
from hoopwright.heat.longwave import blend, exchange, ground_behind_fabric
from hoopwright.heat.vapour import latent_conductance
from hoopwright.heat.ventilation import through_one_side, through_openings
from hoopwright.tables.constants import KELVIN


def air_exchange(p: Constants, row: Hour, opening: Any, difference: Any) -> Any:
    """Air that passes [m3/s] per ground area: leak with wind and stack, holes, sides, ends."""
    apart = abs(difference)
    flow = row.leak + p.stack_leak * sqrt(apart)
    kelvin = row.air + KELVIN
    if in_any(p.holes_area > 0.0):
        flow += through_openings(
            p.holes_area,
            p.holes_height,
            p.holes_discharge,
            p.wind_pressure,
            apart,
            kelvin,
            row.wind,
        )
    if in_any(opening > 0.0):
        both = through_openings(
            2.0 * opening * p.length,
            opening,
            p.discharge,
            p.wind_pressure,
            apart,
            kelvin,
            row.wind,
        )
        one = through_one_side(opening * p.length, opening, apart, row.wind)
        flow += where(p.sides > 1.0, both, one)
    if in_any(row.ends_open > 0.0):
        flow += through_openings(
            row.ends_open * p.end_area,
            p.end_height,
            p.discharge,
            p.wind_pressure,
            apart,
            kelvin,
            row.wind,
        )
    return flow / p.area


def latent_links(p: Constants, h_soil: Any, h_leaf: Any, stomata: Any) -> tuple[Any, Any, Any]:
    """Latent links [W/m2 per Pa] of drying soil, of wet leaves, and of dry leaves."""
    g_soil = latent_conductance(h_soil, p.soil_dryness, 1.0, p.heat_of_air, p.psychro, p.lewis)
    g_dew = h_leaf / (p.psychro * p.lewis)
    sides = 2.0 * p.leaf_area
    g_stomata = p.transpires * latent_conductance(
        h_leaf / sides, stomata, sides, p.heat_of_air, p.psychro, p.lewis
    )
    return g_soil, g_dew, g_stomata


def leaf_link(p: Constants, difference: Any, speed: Any) -> Any:
    """Sensible link [W/m2K] of both leaf sides, per ground area."""
    return (
        2.0
        * p.leaf_area
        * over_leaf(difference, speed, p.leaf_length, p.leaf_boundary, p.leaf_forced)
    )


def over_bed(p: Constants, difference: Any, draught: Any) -> Any:
    """Sensible link [W/m2K] of the soil surface: natural, or forced where that is more."""
    natural = over_soil(
        difference, p.soil_warm, p.soil_warm_exponent, p.soil_cool, p.soil_cool_exponent
    )
    return max(draught, natural)


def links_under_cover(p: Constants, row: Hour, now: State, opening: Any, dew: Any) -> Links:
    """The links with the cover on, its sides rolled up to `opening` [m], `dew` [kg/m2] on it.

    A rolled-up side takes its area away from the cover; bed and light lose only what the bed sees
    through it, 1 - cos of the angle it subtends from the middle (a strip seen from level ground).
    """
    flow = air_exchange(p, row, opening, now.upper - row.air)
    draught_speed = flow * p.width_over_height
    draught = forced(draught_speed, p.width, p.forced_inside)
    bare = min(0.9, p.sides * opening / p.curve_length)  # the ridge stays covered (assumption)
    kept = 1.0 - bare
    half = 0.5 * p.width
    seen = 0.5 * p.sides * (1.0 - half / sqrt(half * half + opening * opening))
    film = kept * p.cover_area
    h_cover = film * max(
        draught, inside_cover(now.upper - now.cover, p.cover_factor, p.cover_exponent)
    )
    h_fabric, through_fabric = 0.0 * h_cover, 0.0 * h_cover
    if p.fabric:
        h_fabric = inside_cover(now.air - now.fabric, p.cover_factor, p.cover_exponent)
        apart = abs(now.air - now.upper) + 0.05
        through_fabric = p.heat_of_air * p.fabric_leak * sqrt(apart)
        draught, draught_speed = 0.0 * h_cover, 0.0 * h_cover
    h_soil = over_bed(p, now.soil - now.air, draught)
    h_leaf = leaf_link(p, now.leaf - now.air, p.still_speed + draught_speed)
    wet = min(1.0, max(0.0, dew / p.full))
    passed = blend(p.passed_dry, p.passed_wet, wet)
    inner = blend(p.emit_dry, p.emit_wet, wet)
    snowy = row.snow_on_cover > 0.5
    passed, outer = where(snowy, 0.0, passed), where(snowy, 0.0, inner)
    ground = p.ground
    if p.fabric:
        ground = 1.0 - ground_behind_fabric(p.fabric_passed, p.fabric_emit, p.ground)[2]
    a_c, a_g, a_0, b_c, b_g, b_0 = exchange(
        passed, inner, outer, ground, p.cover_area, row.sky, row.outer
    )
    air = p.heat_of_air * flow
    g_soil, g_dew, g_stomata = latent_links(p, h_soil, h_leaf, row.stomata)
    return Links(
        h_cover,
        h_soil,
        h_leaf,
        air + p.rim,
        air / p.psychro,
        g_soil,
        g_dew,
        g_stomata,
        h_cover / (p.psychro * p.lewis),
        a_c * (1.0 - seen),
        a_g * (1.0 - seen),
        a_0 * (1.0 - seen) + seen * row.outer,
        b_c * kept,
        b_g * kept,
        b_0 * kept,
        film * (inner + outer) - b_c * kept,
        (1.0 - p.droplet_loss * wet) * (1.0 - seen),
        kept,
        seen,
        flow,
        h_fabric,
        through_fabric,
    )


def links_in_open(p: Constants, row: Hour, now: State, flow: Any) -> Links:
    """The links of the same bed with the cover off.

    Air at the bed is tied to the station's by turbulence, checked or helped by stratification;
    half the last step's `flow` [m3/s] is kept, or the two would chase each other on still days.
    The cover's own row is left with a link to outside air, so that it reads as that.
    """
    aloft = p.leaf_view * now.leaf + (1.0 - p.leaf_view) * now.soil - row.air
    settled = row.open_exchange * stability_factor(
        aloft,
        row.air + KELVIN,
        p.stability_height,
        row.free_wind,
        p.stability_slope,
        p.stability_unstable,
        p.stability_stable,
    )
    settled = max(settled, p.least_exchange)
    flow = where(flow > 0.0, 0.5 * (flow + settled), settled)
    h_soil = over_bed(p, now.soil - now.air, forced(row.wind, p.width, p.forced_inside))
    h_leaf = leaf_link(p, now.leaf - now.air, row.wind)
    air = p.heat_of_air * flow
    g_soil, g_dew, g_stomata = latent_links(p, h_soil, h_leaf, row.stomata)
    none, whole = 0.0 * flow, 0.0 * flow + 1.0
    return Links(
        none,
        h_soil,
        h_leaf,
        air,
        air / p.psychro,
        g_soil,
        g_dew,
        g_stomata,
        none,
        none,
        none,
        row.sky,
        none,
        none,
        none,
        none,
        none,
        none,
        whole,
        flow,
        none,
        whole * 1e6,
    )
