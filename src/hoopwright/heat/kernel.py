"""The march through the year: one implicit step after another.

Written so that the very same functions run as plain Python on lists and, compiled, on arrays
(see `compiled`). Soil, leaves, cover, air and vapour of a step are solved together with the
long-wave and vapour terms linearised about the last step (one Newton pass); convection and air
exchange use the last state. Film and air store almost nothing, and an implicit step stays stable.
"""

from typing import Any

from hoopwright.heat.constants import SUMS, Constants, Hour, Links, Outcome, State, Surfaces
from hoopwright.heat.lanes import in_any, put, take, where
from hoopwright.heat.links import links_in_open, links_under_cover
from hoopwright.heat.longwave import emitted, ground_behind_fabric
from hoopwright.heat.soil import enthalpy, phase_of, temperature_of
from hoopwright.heat.soil_column import all_thawed, factor, sweep_down, sweep_up
from hoopwright.heat.surfaces import solve_surfaces, solve_with_fabric
from hoopwright.heat.vapour import drawn_shut, vapour_line

LEAF_HOLDS = 0.2  # [kg/m2] of water per leaf area, order of measured canopy storage (assumption)


def hour_of(forcing: Any, hour: int) -> Hour:
    """The numbers of an hour by their names."""
    return Hour(
        take(forcing[0], hour),
        take(forcing[1], hour),
        take(forcing[2], hour),
        take(forcing[3], hour),
        take(forcing[4], hour),
        take(forcing[5], hour),
        take(forcing[6], hour),
        take(forcing[7], hour),
        take(forcing[8], hour),
        take(forcing[9], hour),
        take(forcing[10], hour),
        take(forcing[11], hour),
        take(forcing[12], hour),
        take(forcing[13], hour),
        take(forcing[14], hour),
        take(forcing[15], hour),
        take(forcing[16], hour),
        take(forcing[17], hour),
        take(forcing[18], hour),
        take(forcing[19], hour),
        take(forcing[20], hour),
        take(forcing[21], hour),
        take(forcing[22], hour),
        take(forcing[23], hour),
    )


def along(place: float, past: Any, here: Any, coming: Any) -> Any:
    """Light at `place` (-0.5 to 0.5 about the middle of the hour) between three hours' means.

    Within the hour the light runs straight from the middle of one hour to the middle of the next:
    sums over the day are kept, single hours are not (a peak hour gives up to an eighth of its
    step to its neighbours).
    """
    if place < 0.0:
        return here + place * (here - past)
    return here + place * (coming - here)


def next_opening(p: Constants, row: Hour, opening: Any, wanted: Any, air: Any, lag: Any) -> Any:
    """Height of the rolled-up sides [m]: what the person set, or an automatic opener above it.

    The opener rises over `opener_band` and follows with a first-order lag.
    """
    most = row.auto_most
    if not in_any(most > 0.0):
        return wanted
    lift = most * min(1.0, max(0.0, (air - row.auto_from) / p.opener_band))
    return where(most > 0.0, opening + lag * (max(wanted, lift) - opening), wanted)


def jug_step(p: Constants, temperature: Any, light: Any, dt: float) -> tuple[Any, Any, Any, Any]:
    """Water jugs in one step: store [W/m2K], what air at 0 degC would leave them at, link, pull.

    With store s and exchange h, the jugs end at known + pull x air, and the air sees the link
    h (1 - pull) [W/m2K]. All zero where there are no jugs.
    """
    none = 0.0 * p.jug_store
    if not in_any(p.jug_store > 0.0):
        return none, none, none, none
    freezing = 0.5 * (p.jug_store + p.jug_frozen) + p.jug_latent / p.band
    cold = where(temperature > -p.band, freezing, p.jug_frozen)
    store = where(temperature < 0.0, cold, p.jug_store) / dt
    share = 1.0 / (store + p.jug_exchange + where(p.jug_store > 0.0, 0.0, 1.0))
    pull = p.jug_exchange * share
    known = (store * temperature + p.jug_light * light) * share
    return store, known, p.jug_exchange * (1.0 - pull), pull


def jug_after(p: Constants, temperature: Any, heat: Any) -> Any:
    """Temperature [degC] of the jugs after taking in `heat` [J/m2], freezing included."""
    if not in_any(p.jug_store > 0.0):
        return temperature
    some = p.jug_store > 0.0
    warm, cold = where(some, p.jug_store, 1.0), where(some, p.jug_frozen, 1.0)
    held = enthalpy(temperature, warm, cold, p.jug_latent, p.band) + heat
    return where(some, temperature_of(held, warm, cold, p.jug_latent, p.band), temperature)


def solve(
    p: Constants, k: Links, h_outside: Any, meets: Surfaces, now: State, system: Any, under: bool
) -> State:
    """The state at the end of the step, with an inner fabric where there is one under cover."""
    if p.fabric and under:
        return solve_with_fabric(p, k, h_outside, meets, now, system)
    return solve_surfaces(p, k, h_outside, meets, now)


def latent_in_force(
    p: Constants,
    k: Links,
    now: State,
    over_leaf: Any,
    over_cover: Any,
    dew: Any,
    leaf_dew: Any,
    dt: float,
    stomata: Any,
) -> tuple[Any, Any, Any]:
    """Whether leaves are wet, and the latent links of leaves and cover.

    Dew forms or dries where it may; dry leaves pass what their stomata let.
    over_leaf, over_cover : [Pa] saturation at leaf and cover
    stomata : [s/m] of one leaf side in damp air, which dry air shuts further (`drawn_shut`)
    """
    wet = (leaf_dew > 0.0) | (now.vapour > over_leaf)
    more = drawn_shut(over_leaf - now.vapour, p.stomata_dry, p.stomata_most) - 1.0
    dry_leaf = k.g_stomata / (1.0 + k.g_stomata * p.leaf_resists * stomata * more)
    short = over_cover - now.upper_vapour
    dries = min(k.g_film, max(0.0, dew) * p.latent / dt / max(1.0, short))
    return wet, where(wet, k.g_dew, dry_leaf), where(short < 0.0, k.g_film, dries)


def longwave_gain(p: Constants, k: Links, new: State) -> Any:
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
    covered: Any,
    openings: Any,
    capacity: Any,
    half: Any,
    latent: Any,
    side: Any,
    pressures: Any,
    soil: Any,
    phase: Any,
    work: Any,
    system: Any,
    out: Any,
    sums: Any,
) -> None:
    """March through the hours of `forcing`, two `openings` [m] an hour, filling `out` and `sums`.

    covered : by the hour, whether the cover is on; one for all lanes, as are the steps
    soil [degC] holds the layers at the start and is changed in place; phase, work, system are
    scratch (layers; 4 x layers; 9 x 8). Every array but `covered` and `pressures` has the lanes as
    its last axis, or no such axis for one bed.
    """
    layers, steps = len(soil), p.steps
    store, inverse, ratio, right = work[0], work[1], work[2], work[3]
    dt = 3600.0 / steps
    for i in range(layers):
        put(phase, i, phase_of(take(soil, i), p.band))
    diagonal, top_half, deep_link = factor(
        capacity, half, side, phase, 1.0 / dt, store, inverse, ratio
    )
    thawed = all_thawed(phase)
    row = hour_of(forcing, 0)
    t_out, e_out = row.air, row.vapour
    now = State(take(soil, 0), t_out, t_out, t_out, e_out, t_out, t_out, e_out)
    none = 0.0 * t_out
    t_jug, dew, leaf_dew, opening = t_out, none, none, none
    air_store, leaf_store = p.air_store / dt, p.leaf_store / dt
    vapour_store = air_store / p.psychro
    lag, leaf_holds = dt / (dt + p.opener), LEAF_HOLDS * p.leaf_area
    flow = none
    k = links_in_open(p, row, now, flow)
    h_outside = none
    s_light = s_wave = s_cover = s_air = s_vapour = s_side = s_deep = s_stored = none
    s_missing = s_absolute = none

    after = row
    hours = len(covered)
    for hour in range(hours):
        before, row = row, after
        after = hour_of(forcing, min(hour + 1, hours - 1))
        under = covered[hour]
        rise_t, rise_e = (row.air - t_out) / steps, (row.vapour - e_out) / steps
        start_t, start_e = t_out, e_out
        surface_link = 1.0 / (top_half + row.ground_snow)
        top_inverse = 1.0 / (diagonal + surface_link)
        fabric_light = p.fabric_light
        if not under:
            dew, fabric_light = none, none + 1.0
        water, missing_hour, light = none, none, none
        for sub in range(steps):
            t_out = start_t + rise_t * (sub + 1)
            e_out = start_e + rise_e * (sub + 1)
            wanted = take(openings, 2 * hour + (2 * sub) // steps)
            opening = next_opening(p, row, opening, wanted, now.upper, lag)
            if under and sub % p.refresh == 0:
                k = links_under_cover(p, row, now, opening, dew)
                h_outside = row.cover_out * p.cover_area * k.kept
                flow = none
            elif not under:
                k = links_in_open(p, row, now, flow)
                h_outside = none + 1.0  # an absent cover is tied to outside air
                flow = k.flow
            near = (sub + 0.5) / steps - 0.5
            light = fabric_light * (
                k.shine * along(near, before.light, row.light, after.light)
                + k.bare * along(near, before.open_light, row.open_light, after.open_light)
            )
            in_cover = k.kept * along(near, before.cover_light, row.cover_light, after.cover_light)

            deep_heat = deep_link * row.deep
            side_air = t_out + row.side_sun
            if not under:
                side_air = now.air + row.side_sun
            up = sweep_up(soil, side, side_air, deep_heat, store, ratio, right)
            pulled = surface_link * top_inverse
            jug_store, jug_known, jug_link, jug_pull = jug_step(p, t_jug, light, dt)
            e_s, d_s = vapour_line(pressures, now.soil)
            e_v, d_v = vapour_line(pressures, now.leaf)
            e_c, d_c = vapour_line(pressures, now.cover)
            caught = min(row.rain / steps, max(0.0, leaf_holds - leaf_dew))
            leaf_dew += caught
            wet_leaf, g_leaf, g_cover = latent_in_force(
                p,
                k,
                now,
                e_v + d_v * now.leaf,
                e_c + d_c * now.cover,
                dew,
                leaf_dew,
                dt,
                row.stomata,
            )
            meets = Surfaces(
                surface_link * (1.0 - pulled),
                pulled * up,
                row.soil_light * light,
                row.leaf_light * light,
                in_cover,
                t_out,
                e_out,
                t_out + row.cover_air,
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
            new = solve(p, k, h_outside, meets, now, system, under)
            top = (take(right, 0) + surface_link * new.soil) * top_inverse
            lost_side, stored, lowest, changed = sweep_down(
                top,
                soil,
                phase,
                capacity,
                latent,
                side,
                side_air,
                p.band,
                dt,
                store,
                inverse,
                ratio,
                right,
                thawed,
            )
            lost_deep = deep_link * (lowest - row.deep)
            if changed:
                thawed = all_thawed(phase)
                diagonal, top_half, deep_link = factor(
                    capacity, half, side, phase, 1.0 / dt, store, inverse, ratio
                )
                surface_link = 1.0 / (top_half + row.ground_snow)
                top_inverse = 1.0 / (diagonal + surface_link)

            # Water moved [W/m2 of latent heat], with saturation along the line of the solution.
            from_soil = k.g_soil * (e_s + d_s * new.soil - new.vapour)
            from_leaf = g_leaf * (e_v + d_v * new.leaf - new.vapour)
            to_cover = g_cover * (new.upper_vapour - e_c - d_c * new.cover)
            dew = min(dew + to_cover * dt / p.latent, p.holds)
            held = min(leaf_dew - from_leaf * dt / p.latent, leaf_holds)
            leaf_dew = where(wet_leaf, held, leaf_dew)
            water += (from_soil + from_leaf) * dt / p.latent - caught

            # The books, with emission by its full law at the new temperatures.
            gained = meets.soil_light + meets.leaf_light + in_cover
            wave = longwave_gain(p, k, new)
            out_cover = h_outside * (new.cover - meets.cover_air)
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
        written = Outcome(
            now.air,
            now.leaf,
            now.soil,
            now.cover,
            now.vapour,
            dew,
            leaf_dew,
            opening,
            k.flow,
            water,
            light,
            missing_hour / steps,
            t_jug,
            now.upper,
            now.fabric,
        )
        for place in range(len(written)):
            put(out[place], hour, written[place])
        for i in range(layers):
            put(out[len(written) + i], hour, take(soil, i))
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
        put(sums, place, totals[place] * dt)
