"""The kernel's own vocabulary: what it reads, what it keeps, and what it writes."""

from __future__ import annotations

from typing import NamedTuple

# Columns of the hourly forcing.
AIR, VAPOUR, SKY, OUTER, LIGHT, COVER_LIGHT, OPEN_LIGHT = 0, 1, 2, 3, 4, 5, 6
COVER_OUT, COVER_AIR, LEAK, WIND, OPEN_EXCHANGE, FREE_WIND = 7, 8, 9, 10, 11, 12
COVERED, SNOW_ON_COVER, GROUND_SNOW, SIDE_AIR, DEEP = 13, 14, 15, 16, 17
STOMATA, SOIL_LIGHT, LEAF_LIGHT, AUTO_FROM, AUTO_MOST, ENDS_OPEN = 18, 19, 20, 21, 22, 23
FORCING_COLUMNS = 24

# Columns of the hourly result; soil layers follow.
OUT_AIR, OUT_LEAF, OUT_SURFACE, OUT_COVER, OUT_VAPOUR, OUT_DEW, OUT_LEAF_DEW = 0, 1, 2, 3, 4, 5, 6
OUT_OPENING, OUT_EXCHANGE, OUT_WATER, OUT_LIGHT, OUT_RESIDUAL, OUT_JUG = 7, 8, 9, 10, 11, 12
OUT_UPPER_AIR, OUT_FABRIC = 13, 14
OUT_SOIL = 15

# Sums over the run: light, long-wave, cover to air, air, vapour, sides, deep, stored, residual,
# absolute residual [J/m2].
SUMS = 10


class Constants(NamedTuple):
    """What does not change over a run, per ground area; units as in the modules that use them."""

    steps: int
    refresh: int
    area: float
    cover_area: float
    width_over_height: float
    width: float
    curve_length: float
    length: float
    end_area: float
    end_height: float
    holes_area: float
    holes_height: float
    holes_discharge: float
    two_sided: bool
    discharge: float
    wind_pressure: float
    stack_leak: float
    rim: float
    heat_of_air: float
    psychro: float
    latent: float
    lewis: float
    air_store: float
    leaf_store: float
    passed_dry: float
    passed_wet: float
    emit_dry: float
    emit_wet: float
    ground: float
    leaf_view: float
    leaf_area: float
    leaf_length: float
    leaf_boundary: float
    leaf_forced: float
    still_speed: float
    cover_factor: float
    cover_exponent: float
    soil_warm: float
    soil_warm_exponent: float
    soil_cool: float
    soil_cool_exponent: float
    forced_inside: float
    soil_dryness: float
    transpires: bool
    stomata_dry: float
    stomata_most: float
    leaf_resists: float
    full: float
    holds: float
    droplet_loss: float
    opener: float
    opener_band: float
    stability_height: float
    stability_slope: float
    stability_unstable: float
    stability_stable: float
    least_exchange: float
    band: float
    jug_store: float
    jug_frozen: float
    jug_latent: float
    jug_exchange: float
    jug_light: float
    fabric: bool
    fabric_passed: float
    fabric_emit: float
    fabric_leak: float
    fabric_light: float


class State(NamedTuple):
    """The quick state [degC, Pa]: soil surface, leaf, cover, air at the crop and its vapour.

    With an inner fabric, `upper` and `upper_vapour` are the air between fabric and cover;
    without one they equal `air` and `vapour`.
    """

    soil: float
    leaf: float
    cover: float
    air: float
    vapour: float
    fabric: float
    upper: float
    upper_vapour: float


class Links(NamedTuple):
    """Conductances held over a step, per ground area.

    h_* [W/m2K] sensible; g_* [W/m2 per Pa] latent; a_*, b_* the long-wave coefficients of
    `longwave.exchange`; emits [-] the cover's own emitting area; shine, kept, bare [-] shares of
    light through the cover, of cover left in place, and of open side as the bed sees it;
    flow [m3/s].
    """

    h_cover: float
    h_soil: float
    h_leaf: float
    through: float
    vapour: float
    g_soil: float
    g_dew: float
    g_stomata: float
    g_film: float
    a_c: float
    a_g: float
    a_0: float
    b_c: float
    b_g: float
    b_0: float
    emits: float
    shine: float
    kept: float
    bare: float
    flow: float
    h_fabric: float
    through_fabric: float


class Surfaces(NamedTuple):
    """What the surfaces meet in one step.

    soil_link [W/m2K], from_soil [W/m2] : the soil column seen from its surface
    soil_light, leaf_light, cover_light : [W/m2] absorbed
    outside, outside_vapour, cover_air  : [degC], [Pa], [degC] the air outside, and as the cover
                                          feels it
    air_store, leaf_store, vapour_store : [W/m2K], [W/m2K], [W/m2 per Pa]
    jug_link, jug_heat                  : [W/m2K], [W/m2] the water jugs seen from the air
    g_leaf, g_cover                     : [W/m2 per Pa] latent links in force
    e_*, d_*                            : [Pa], [Pa/K] saturation as base + slope x degC
    """

    soil_link: float
    from_soil: float
    soil_light: float
    leaf_light: float
    cover_light: float
    outside: float
    outside_vapour: float
    cover_air: float
    air_store: float
    leaf_store: float
    vapour_store: float
    jug_link: float
    jug_heat: float
    g_leaf: float
    g_cover: float
    e_soil: float
    d_soil: float
    e_leaf: float
    d_leaf: float
    e_cover: float
    d_cover: float
