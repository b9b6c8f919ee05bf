"""The kernel's own vocabulary: what it reads, what it keeps, and what it writes."""

from typing import Any, NamedTuple

# Sums over the run: light, long-wave, cover to air, air, vapour, sides, deep, stored, residual,
# absolute residual [J/m2].
SUMS = 10


class Hour(NamedTuple):
    """What the march reads of an hour; in the making of the forcing each is a whole series.

    air [degC], vapour [Pa]            : outside;  deep [degC] : the ground far below
    sky, outer [W/m2]                  : long-wave on open level ground, and mean on the cover
    light, cover_light, open_light     : [W/m2] on the bed, in the cover, on the open bed
    cover_out [W/m2K], cover_air [K]   : exchange of the cover, and what its sky adds to the air
    leak [m3/s], wind [m/s]            : through the closed cover;  at the bed
    open_exchange [m/s], free_wind     : neutral exchange of the open bed, wind at the screen [m/s]
    snow_on_cover [0/1], ground_snow   : and the resistance [m2K/W] of snow on the open bed
    side_sun [K]                       : what the sun adds to the air as the boards feel it
    rain [kg/m2]                       : caught by the leaves in the hour
    stomata [s/m], soil_light, leaf_light : shares [-] of the light
    auto_from [degC], auto_most [m]    : of an automatic opener
    ends_open [0/1]
    """

    air: Any
    vapour: Any
    sky: Any
    outer: Any
    light: Any
    cover_light: Any
    open_light: Any
    cover_out: Any
    cover_air: Any
    leak: Any
    wind: Any
    open_exchange: Any
    free_wind: Any
    snow_on_cover: Any
    ground_snow: Any
    side_sun: Any
    rain: Any
    deep: Any
    stomata: Any
    soil_light: Any
    leaf_light: Any
    auto_from: Any
    auto_most: Any
    ends_open: Any


class Outcome(NamedTuple):
    """What the march writes of an hour; the soil layers follow. See `results.UnderCover`."""

    air: Any
    leaf: Any
    surface: Any
    cover: Any
    vapour: Any
    dew: Any
    leaf_dew: Any
    opening: Any
    exchange: Any
    water: Any
    light: Any
    residual: Any
    jug: Any
    upper: Any
    fabric: Any


class Constants(NamedTuple):
    """What does not change over a run, per ground area; units as in the modules that use them.

    The steps, the refresh and whether there is a fabric are one for all lanes.
    """

    steps: int
    refresh: int
    area: Any
    cover_area: Any
    width_over_height: Any
    width: Any
    curve_length: Any
    length: Any
    end_area: Any
    end_height: Any
    holes_area: Any
    holes_height: Any
    holes_discharge: Any
    sides: Any
    discharge: Any
    wind_pressure: Any
    stack_leak: Any
    rim: Any
    heat_of_air: Any
    psychro: Any
    latent: Any
    lewis: Any
    air_store: Any
    leaf_store: Any
    passed_dry: Any
    passed_wet: Any
    emit_dry: Any
    emit_wet: Any
    ground: Any
    leaf_view: Any
    leaf_area: Any
    leaf_length: Any
    leaf_boundary: Any
    leaf_forced: Any
    still_speed: Any
    cover_factor: Any
    cover_exponent: Any
    soil_warm: Any
    soil_warm_exponent: Any
    soil_cool: Any
    soil_cool_exponent: Any
    forced_inside: Any
    soil_dryness: Any
    transpires: Any
    stomata_dry: Any
    stomata_most: Any
    leaf_resists: Any
    full: Any
    holds: Any
    droplet_loss: Any
    opener: Any
    opener_band: Any
    stability_height: Any
    stability_slope: Any
    stability_unstable: Any
    stability_stable: Any
    least_exchange: Any
    band: Any
    jug_store: Any
    jug_frozen: Any
    jug_latent: Any
    jug_exchange: Any
    jug_light: Any
    fabric: bool
    fabric_passed: Any
    fabric_emit: Any
    fabric_leak: Any
    fabric_light: Any


class State(NamedTuple):
    """The quick state [degC, Pa]: soil surface, leaf, cover, air at the crop and its vapour.

    With an inner fabric, `upper` and `upper_vapour` are the air between fabric and cover;
    without one they equal `air` and `vapour`.
    """

    soil: Any
    leaf: Any
    cover: Any
    air: Any
    vapour: Any
    fabric: Any
    upper: Any
    upper_vapour: Any


class Links(NamedTuple):
    """Conductances held over a step, per ground area.

    h_* [W/m2K] sensible; g_* [W/m2 per Pa] latent; a_*, b_* the long-wave coefficients of
    `longwave.exchange`; emits [-] the cover's own emitting area; shine, kept, bare [-] shares of
    light through the cover, of cover left in place, and of open side as the bed sees it;
    flow [m3/s].
    """

    h_cover: Any
    h_soil: Any
    h_leaf: Any
    through: Any
    vapour: Any
    g_soil: Any
    g_dew: Any
    g_stomata: Any
    g_film: Any
    a_c: Any
    a_g: Any
    a_0: Any
    b_c: Any
    b_g: Any
    b_0: Any
    emits: Any
    shine: Any
    kept: Any
    bare: Any
    flow: Any
    h_fabric: Any
    through_fabric: Any


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

    soil_link: Any
    from_soil: Any
    soil_light: Any
    leaf_light: Any
    cover_light: Any
    outside: Any
    outside_vapour: Any
    cover_air: Any
    air_store: Any
    leaf_store: Any
    vapour_store: Any
    jug_link: Any
    jug_heat: Any
    g_leaf: Any
    g_cover: Any
    e_soil: Any
    d_soil: Any
    e_leaf: Any
    d_leaf: Any
    e_cover: Any
    d_cover: Any
