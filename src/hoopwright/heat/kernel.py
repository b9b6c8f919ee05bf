"""The march through the year: one implicit step after another.

Written so that the very same functions run as plain Python on lists and, compiled, on arrays
(see `compiled`). Soil, leaves, cover, air and vapour of a step are solved together with the
long-wave and vapour terms linearised about the last step (one Newton pass); convection and air
exchange use the last state. Film and air store almost nothing, and an implicit step stays stable.
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from typing import Any

from hoopwright.heat.constants import (
    AIR,
    AUTO_FROM,
    AUTO_MOST,
    COVER_AIR,
    COVER_LIGHT,
    COVER_OUT,
    COVERED,
    DEEP,
    GROUND_SNOW,
    LEAF_LIGHT,
    LIGHT,
    OPEN_LIGHT,
    OUT_AIR,
    OUT_COVER,
    OUT_DEW,
    OUT_EXCHANGE,
    OUT_FABRIC,
    OUT_JUG,
    OUT_LEAF,
    OUT_LEAF_DEW,
    OUT_LIGHT,
    OUT_OPENING,
    OUT_RESIDUAL,
    OUT_SOIL,
    OUT_SURFACE,
    OUT_UPPER_AIR,
    OUT_VAPOUR,
    OUT_WATER,
    SIDE_AIR,
    SOIL_LIGHT,
    STOMATA,
    SUMS,
    VAPOUR,
    Constants,
    Links,
    State,
    Surfaces,
)
from hoopwright.heat.links import links_in_open, links_under_cover
from hoopwright.heat.longwave import emitted, ground_behind_fabric
from hoopwright.heat.soil import enthalpy, phase_of, temperature_of
from hoopwright.heat.soil_column import all_thawed, factor, sweep_down, sweep_up
from hoopwright.heat.surfaces import solve_surfaces, solve_with_fabric
from hoopwright.heat.vapour import drawn_shut, vapour_line

LEAF_HOLDS = 0.2  # [kg/m2] of dew per leaf area, order of measured canopy storage (assumption)


def light_course(forcing: Any, hour: int) -> tuple[float, ...]:
    """Light on the bed, in the cover and in the open [W/m2]: hour before, after, and this hour.

    Within the hour the light runs straight from the middle of one hour to the middle of the next:
    sums over the day are kept, single hours are not (a peak hour gives up to an eighth of its
    step to its neighbours).
    """
    now = forcing[hour]
    past = forcing[hour - 1] if hour > 0 else now
    coming = forcing[hour + 1] if hour + 1 < len(forcing) else now
    return (
        past[LIGHT],
        past[COVER_LIGHT],
        past[OPEN_LIGHT],
        coming[LIGHT],
        coming[COVER_LIGHT],
        coming[OPEN_LIGHT],
        now[LIGHT],
        now[COVER_LIGHT],
        now[OPEN_LIGHT],
    )


def along(place: float, past: float, here: float, coming: float) -> float:
    """Value at `place` (-0.5 to 0.5 about the middle of the hour) between three hours' values."""
    if place < 0.0:
        return here + place * (here - past)
    return here + place * (coming - here)


def next_opening(
    p: Constants, opening: float, wanted: float, start: float, most: float, air: float, lag: float
) -> float:
    """Height of the rolled-up sides [m]: what the person set, or an automatic opener above it.

    The opener rises from `start` [degC] over `opener_band` and follows with a first-order lag.
    """
    if most <= 0.0:
        return wanted
    lift = most * min(1.0, max(0.0, (air - start) / p.opener_band))
    return opening + lag * (max(wanted, lift) - opening)


def jug_step(
    p: Constants, temperature: float, light: float, dt: float
) -> tuple[float, float, float, float]:
    """Water jugs in one step: store [W/m2K], what air at 0 degC would leave them at, link, pull.

    With store s and exchange h, the jugs end at known + pull x air, and the air sees the link
    h (1 - pull) [W/m2K]. All zero where there are no jugs.
    """
    if p.jug_store <= 0.0:
        return 0.0, 0.0, 0.0, 0.0
    store = p.jug_store
    if temperature < 0.0:
        store = p.jug_frozen
        if temperature > -p.band:
            store = 0.5 * (p.jug_store + p.jug_frozen) + p.jug_latent / p.band
    store /= dt
    pull = p.jug_exchange / (store + p.jug_exchange)
    known = (store * temperature + p.jug_light * light) / (store + p.jug_exchange)
    return store, known, p.jug_exchange * (1.0 - pull), pull


def jug_after(p: Constants, temperature: float, heat: float) -> float:
    """Temperature [degC] of the jugs after taking in `heat` [J/m2], freezing included."""
    if p.jug_store <= 0.0:
        return temperature
    held = enthalpy(temperature, p.jug_store, p.jug_frozen, p.jug_latent, p.band) + heat
    return temperature_of(held, p.jug_store, p.jug_frozen, p.jug_latent, p.band)


def links_now(p: Constants, row: Any, now: State, opening: float, dew: float, flow: float) -> Links:
    """The links of this hour's state: under cover or in the open."""
    if row[COVERED] > 0.5:
        return links_under_cover(p, row, now, opening, dew)
    return links_in_open(p, row, now, flow)


def solve(
    p: Constants, k: Links, h_outside: float, meets: Surfaces, now: State, system: Any
) -> State:
    """The state at the end of the step, with an inner fabric where there is one under cover."""
    if p.fabric and k.kept > 0.0:
        return solve_with_fabric(p, k, h_outside, meets, now, system)
    return solve_surfaces(p, k, h_outside, meets, now)


def outside_link(p: Constants, row: Any, k: Links) -> float:
    """Convection of the cover to outside [W/m2K]; 1 to tie an absent cover to outside air."""
    if k.kept == 0.0:
        return 1.0
    return float(row[COVER_OUT] * p.cover_area * k.kept)


def latent_in_force(
    p: Constants,
    k: Links,
    now: State,
    over_leaf: float,
    over_cover: float,
    dew: float,
    leaf_dew: float,
    dt: float,
    stomata: float,
) -> tuple[float, float]:
    """Latent links of leaves and cover: dew forms or dries where it may, else the stomata.

    over_leaf, over_cover : [Pa] saturation at leaf and cover
    stomata : [s/m] of one leaf side in damp air, which dry air shuts further (`drawn_shut`)
    """
    if leaf_dew > 0.0 or now.vapour > over_leaf:
        leaf = k.g_dew
    else:
        more = drawn_shut(over_leaf - now.vapour, p.stomata_dry, p.stomata_most) - 1.0
        leaf = k.g_stomata / (1.0 + k.g_stomata * p.leaf_resists * stomata * more)
    short = over_cover - now.upper_vapour
    cover = 0.0
    if short < 0.0:
        cover = k.g_film
    elif dew > 0.0:
        cover = min(k.g_film, dew * p.latent / dt / max(1.0, short))
    return leaf, cover


def longwave_gain(p: Constants, k: Links, new: State) -> float:
    """Long-wave taken in by soil, leaves, fabric and cover [W/m2], by the full law of emission."""
    ground = p.leaf_view * emitted(new.leaf) + (1.0 - p.leaf_view) * emitted(new.soil)
    takes = p.ground
    if p.fabric:
        x_f, x_g, back, _ = ground_behind_fabric(p.fabric_passed, p.fabric_emit, p.ground)
        takes = 1.0 - back
        ground = (x_f * emitted(new.fabric) + x_g * ground) / takes
    cover = emitted(new.cover)
    return (
        takes * (k.a_c * cover + (k.a_g - 1.0) * ground + k.a_0)
        + k.b_0
        + k.b_g * ground
        - k.emits * cover
    )


def march(
    p: Constants,
    forcing: Any,
    openings: Sequence[float],
    capacity: Any,
    half: Any,
    latent: Sequence[float],
    side: Sequence[float],
    pressures: Sequence[float],
    soil: MutableSequence[float],
    phase: MutableSequence[int],
    work: Any,
    system: Any,
    out: Any,
    sums: MutableSequence[float],
) -> None:
    """March through the hours of `forcing`, two `openings` [m] an hour, filling `out` and `sums`.

    soil [degC] holds the layers at the start and is changed in place; phase, work, system are
    scratch (layers; 4 x layers; 9 x 8).
    """
    layers, steps = len(soil), p.steps
    store, inverse, ratio, right = work[0], work[1], work[2], work[3]
    dt = 3600.0 / steps
    for i in range(layers):
        phase[i] = phase_of(soil[i], p.band)
    diagonal, top_half, deep_link = factor(
        capacity, half, side, phase, 1.0 / dt, store, inverse, ratio
    )
    thawed = all_thawed(phase)
    t_out, e_out = forcing[0][AIR], forcing[0][VAPOUR]
    now = State(soil[0], t_out, t_out, t_out, e_out, t_out, t_out, e_out)
    t_jug, dew, leaf_dew, opening = t_out, 0.0, 0.0, 0.0
    air_store, leaf_store = p.air_store / dt, p.leaf_store / dt
    vapour_store = air_store / p.psychro
    lag = dt / (dt + p.opener)
    k = links_now(p, forcing[0], now, openings[0], 0.0, 0.0)
    h_outside = outside_link(p, forcing[0], k)
    s_light = s_wave = s_cover = s_air = s_vapour = s_side = s_deep = s_stored = 0.0
    s_missing = s_absolute = 0.0

    for hour in range(len(forcing)):
        row = forcing[hour]
        rise_t, rise_e = (row[AIR] - t_out) / steps, (row[VAPOUR] - e_out) / steps
        start_t, start_e = t_out, e_out
        lights = light_course(forcing, hour)
        surface_link = 1.0 / (top_half + row[GROUND_SNOW])
        top_inverse = 1.0 / (diagonal + surface_link)
        dew *= row[COVERED]
        fabric_light = p.fabric_light if p.fabric and row[COVERED] > 0.5 else 1.0
        water = missing_hour = light = 0.0
        for sub in range(steps):
            t_out = start_t + rise_t * (sub + 1)
            e_out = start_e + rise_e * (sub + 1)
            opening = next_opening(
                p,
                opening,
                openings[2 * hour + (2 * sub) // steps],
                row[AUTO_FROM],
                row[AUTO_MOST],
                now.upper,
                lag,
            )
            if sub % p.refresh == 0 or k.kept == 0.0:
                k = links_now(p, row, now, opening, dew, k.flow if k.kept == 0.0 else 0.0)
                h_outside = outside_link(p, row, k)
            near = (sub + 0.5) / steps - 0.5
            light = fabric_light * (
                k.shine * along(near, lights[0], lights[6], lights[3])
                + k.bare * along(near, lights[2], lights[8], lights[5])
            )
            in_cover = k.kept * along(near, lights[1], lights[7], lights[4])

            deep_heat = deep_link * row[DEEP]
            up = sweep_up(soil, side, row[SIDE_AIR], deep_heat, store, ratio, right)
            pulled = surface_link * top_inverse
            jug_store, jug_known, jug_link, jug_pull = jug_step(p, t_jug, light, dt)
            e_s, d_s = vapour_line(pressures, now.soil)
            e_v, d_v = vapour_line(pressures, now.leaf)
            e_c, d_c = vapour_line(pressures, now.cover)
            g_leaf, g_cover = latent_in_force(
                p,
                k,
                now,
                e_v + d_v * now.leaf,
                e_c + d_c * now.cover,
                dew,
                leaf_dew,
                dt,
                row[STOMATA],
            )
            cover_air = t_out + row[COVER_AIR]
            meets = Surfaces(
                surface_link * (1.0 - pulled),
                pulled * up,
                row[SOIL_LIGHT] * light,
                row[LEAF_LIGHT] * light,
                in_cover,
                t_out,
                e_out,
                cover_air,
                air_store,
                leaf_store,
                vapour_store,
                jug_link,
                p.jug_exchange * jug_known,
                g_leaf,
                g_cover,
                e_s,
                d_s,
                e_v,
                d_v,
                e_c,
                d_c,
            )
            new = solve(p, k, h_outside, meets, now, system)
            top = (right[0] + surface_link * new.soil) * top_inverse
            lost_side, stored, lowest, changed = sweep_down(
                top,
                soil,
                phase,
                capacity,
                latent,
                side,
                row[SIDE_AIR],
                p.band,
                dt,
                store,
                inverse,
                ratio,
                right,
                thawed,
            )
            lost_deep = deep_link * (lowest - row[DEEP])
            if changed:
                thawed = all_thawed(phase)
                diagonal, top_half, deep_link = factor(
                    capacity, half, side, phase, 1.0 / dt, store, inverse, ratio
                )
                surface_link = 1.0 / (top_half + row[GROUND_SNOW])
                top_inverse = 1.0 / (diagonal + surface_link)

            # Water moved [W/m2 of latent heat], with saturation along the line of the solution.
            from_soil = k.g_soil * (e_s + d_s * new.soil - new.vapour)
            from_leaf = g_leaf * (e_v + d_v * new.leaf - new.vapour)
            to_cover = g_cover * (new.upper_vapour - e_c - d_c * new.cover)
            dew = min(dew + to_cover * dt / p.latent, p.holds)
            if g_leaf == k.g_dew:
                leaf_dew = min(leaf_dew - from_leaf * dt / p.latent, LEAF_HOLDS * p.leaf_area)
            water += (from_soil + from_leaf) * dt / p.latent

            # The books, with emission by its full law at the new temperatures.
            gained = meets.soil_light + meets.leaf_light + in_cover
            wave = longwave_gain(p, k, new)
            out_cover = h_outside * (new.cover - cover_air)
            out_air = k.through * (new.upper - t_out)
            out_vapour = k.vapour * (new.upper_vapour - e_out)
            stored += air_store * (new.upper - now.upper) + leaf_store * (new.leaf - now.leaf)
            stored += vapour_store * (new.upper_vapour - now.upper_vapour)
            jug_heat = jug_store * (jug_known + jug_pull * new.air - t_jug)
            gained += p.jug_light * light
            stored += jug_heat
            t_jug = jug_after(p, t_jug, jug_heat * dt)
            missing = gained + wave - out_cover - out_air - out_vapour
            missing -= lost_side + lost_deep + stored
            s_light += gained
            s_wave += wave
            s_cover += out_cover
            s_air += out_air
            s_vapour += out_vapour
            s_side += lost_side
            s_deep += lost_deep
            s_stored += stored
            missing_hour += missing
            s_absolute += abs(missing)
            now = new

        s_missing += missing_hour
        line = out[hour]
        line[OUT_AIR] = now.air
        line[OUT_LEAF] = now.leaf
        line[OUT_SURFACE] = now.soil
        line[OUT_COVER] = now.cover
        line[OUT_VAPOUR] = now.vapour
        line[OUT_DEW] = dew
        line[OUT_LEAF_DEW] = leaf_dew
        line[OUT_OPENING] = opening
        line[OUT_EXCHANGE] = k.flow
        line[OUT_WATER] = water
        line[OUT_LIGHT] = light
        line[OUT_RESIDUAL] = missing_hour / steps
        line[OUT_JUG] = t_jug
        line[OUT_UPPER_AIR] = now.upper
        line[OUT_FABRIC] = now.fabric
        for i in range(layers):
            line[OUT_SOIL + i] = soil[i]
    totals = (
        s_light,
        s_wave,
        s_cover,
        s_air,
        s_vapour,
        s_side,
        s_deep,
        s_stored,
        s_missing,
        s_absolute,
    )
    for place in range(SUMS):
        sums[place] = totals[place] * dt
