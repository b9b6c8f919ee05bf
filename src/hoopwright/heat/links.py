"""How strongly soil, leaves, cover and air are linked at a moment, with and without the cover."""

from __future__ import annotations

from math import sqrt
from typing import Any

from hoopwright.heat.constants import (
    AIR,
    ENDS_OPEN,
    FREE_WIND,
    LEAK,
    OPEN_EXCHANGE,
    OUTER,
    SKY,
    SNOW_ON_COVER,
    STOMATA,
    WIND,
    Constants,
    Links,
    State,
)
from hoopwright.heat.convection import forced, inside_cover, over_leaf, over_soil
from hoopwright.heat.longwave import blend, exchange, ground_behind_fabric
from hoopwright.heat.near_ground import stability_factor
from hoopwright.heat.vapour import latent_conductance
from hoopwright.heat.ventilation import through_one_side, through_openings


def air_exchange(
    p: Constants,
    opening: float,
    ends: float,
    leak: float,
    wind: float,
    difference: float,
    outside: float,
) -> float:
    """Air that passes [m3/s] per ground area: leak with wind and stack, holes, sides, ends."""
    apart = abs(difference)
    flow = leak + p.stack_leak * sqrt(apart)
    kelvin = outside + 273.15
    if p.holes_area > 0.0:
        flow += through_openings(
            p.holes_area, p.holes_height, p.holes_discharge, p.wind_pressure, apart, kelvin, wind
        )
    if opening > 0.0:
        if p.two_sided:
            area = 2.0 * opening * p.length
            flow += through_openings(
                area, opening, p.discharge, p.wind_pressure, apart, kelvin, wind
            )
        else:
            flow += through_one_side(opening * p.length, opening, apart, wind)
    if ends > 0.0:
        area = ends * p.end_area
        flow += through_openings(
            area, p.end_height, p.discharge, p.wind_pressure, apart, kelvin, wind
        )
    return float(flow / p.area)


def latent_links(
    p: Constants, h_soil: float, h_leaf: float, stomata: float
) -> tuple[float, float, float]:
    """Latent links [W/m2 per Pa] of drying soil, of wet leaves, and of dry leaves."""
    g_soil = latent_conductance(h_soil, p.soil_dryness, 1.0, p.heat_of_air, p.psychro, p.lewis)
    g_dew = h_leaf / (p.psychro * p.lewis)
    g_stomata = 0.0
    if p.transpires:
        sides = 2.0 * p.leaf_area
        g_stomata = latent_conductance(
            h_leaf / sides, stomata, sides, p.heat_of_air, p.psychro, p.lewis
        )
    return g_soil, g_dew, g_stomata


def leaf_link(p: Constants, difference: float, speed: float) -> float:
    """Sensible link [W/m2K] of both leaf sides, per ground area."""
    return (
        2.0
        * p.leaf_area
        * over_leaf(difference, speed, p.leaf_length, p.leaf_boundary, p.leaf_forced)
    )


def over_bed(p: Constants, difference: float, draught: float) -> float:
    """Sensible link [W/m2K] of the soil surface: natural, or forced where that is more."""
    natural = over_soil(
        difference, p.soil_warm, p.soil_warm_exponent, p.soil_cool, p.soil_cool_exponent
    )
    return max(draught, natural)


def links_under_cover(p: Constants, row: Any, now: State, opening: float, dew: float) -> Links:
    """The links with the cover on, its sides rolled up to `opening` [m], `dew` [kg/m2] on it.

    A rolled-up side takes its area away from the cover; bed and light lose only what the bed sees
    through it, 1 - cos of the angle it subtends from the middle (a strip seen from level ground).
    """
    flow = air_exchange(
        p, opening, row[ENDS_OPEN], row[LEAK], row[WIND], now.upper - row[AIR], row[AIR]
    )
    draught_speed = flow * p.width_over_height
    draught = forced(draught_speed, p.width, p.forced_inside)
    sides = 2.0 if p.two_sided else 1.0
    bare = min(0.9, sides * opening / p.curve_length)
    kept = 1.0 - bare
    half = 0.5 * p.width
    seen = 0.5 * sides * (1.0 - half / sqrt(half * half + opening * opening))
    film = kept * p.cover_area
    h_cover = film * max(
        draught, inside_cover(now.upper - now.cover, p.cover_factor, p.cover_exponent)
    )
    h_fabric = through_fabric = 0.0
    if p.fabric:
        h_fabric = inside_cover(now.air - now.fabric, p.cover_factor, p.cover_exponent)
        apart = abs(now.air - now.upper) + 0.05
        through_fabric = p.heat_of_air * p.fabric_leak * sqrt(apart)
        draught, draught_speed = 0.0, 0.0
    h_soil = over_bed(p, now.soil - now.air, draught)
    h_leaf = leaf_link(p, now.leaf - now.air, p.still_speed + draught_speed)
    wet = min(1.0, max(0.0, dew / p.full))
    passed = blend(p.passed_dry, p.passed_wet, wet)
    inner = blend(p.emit_dry, p.emit_wet, wet)
    outer = inner
    if row[SNOW_ON_COVER] > 0.5:
        passed, outer = 0.0, 0.0
    ground = p.ground
    if p.fabric:
        ground = 1.0 - ground_behind_fabric(p.fabric_passed, p.fabric_emit, p.ground)[2]
    a_c, a_g, a_0, b_c, b_g, b_0 = exchange(
        passed, inner, outer, ground, p.cover_area, row[SKY], row[OUTER]
    )
    air = p.heat_of_air * flow
    g_soil, g_dew, g_stomata = latent_links(p, h_soil, h_leaf, row[STOMATA])
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
        a_0 * (1.0 - seen) + seen * row[OUTER],
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


def links_in_open(p: Constants, row: Any, now: State, flow: float) -> Links:
    """The links of the same bed with the cover off.

    Air at the bed is tied to the station's by turbulence, checked or helped by stratification;
    half the last step's `flow` [m3/s] is kept, or the two would chase each other on still days.
    The cover's own row is left with a link to outside air, so that it reads as that.
    """
    aloft = p.leaf_view * now.leaf + (1.0 - p.leaf_view) * now.soil - row[AIR]
    settled = row[OPEN_EXCHANGE] * stability_factor(
        aloft,
        row[AIR] + 273.15,
        p.stability_height,
        row[FREE_WIND],
        p.stability_slope,
        p.stability_unstable,
        p.stability_stable,
    )
    settled = max(settled, p.least_exchange)
    flow = 0.5 * (flow + settled) if flow > 0.0 else settled
    h_soil = over_bed(p, now.soil - now.air, forced(row[WIND], p.width, p.forced_inside))
    h_leaf = leaf_link(p, now.leaf - now.air, row[WIND])
    air = p.heat_of_air * flow
    g_soil, g_dew, g_stomata = latent_links(p, h_soil, h_leaf, row[STOMATA])
    return Links(
        0.0,
        h_soil,
        h_leaf,
        air,
        air / p.psychro,
        g_soil,
        g_dew,
        g_stomata,
        0.0,
        0.0,
        0.0,
        row[SKY],
        0.0,
        0.0,
        0.0,
        0.0,
        0.0,
        0.0,
        1.0,
        flow,
        0.0,
        1e6,
    )
