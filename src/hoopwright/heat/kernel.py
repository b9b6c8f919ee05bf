"""The march through the year: one implicit step after another.

Written so that the very same functions run as plain Python on lists and, compiled, on arrays
(see `compiled`). Soil, leaves, cover, air and vapour of a step are solved together with the
long-wave and vapour terms linearised about the last step (one Newton pass); convection and air
exchange use the last state. Film and air store almost nothing, and an implicit step stays stable.
"""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from typing import Any, NamedTuple

from hoopwright.heat.convection import forced, inside_cover, over_leaf, over_soil
from hoopwright.heat.longwave import blend, exchange
from hoopwright.heat.near_ground import stability_factor
from hoopwright.heat.soil import enthalpy, phase_of, temperature_of
from hoopwright.heat.vapour import latent_conductance, look_up
from hoopwright.heat.ventilation import through_one_side, through_openings

# Columns of the hourly forcing.
AIR, VAPOUR, SKY, OUTER, LIGHT, COVER_LIGHT, OPEN_LIGHT = 0, 1, 2, 3, 4, 5, 6
COVER_OUT, COVER_AIR, LEAK, WIND, OPEN_EXCHANGE, FREE_WIND = 7, 8, 9, 10, 11, 12
COVERED, SNOW_ON_COVER, GROUND_SNOW, SIDE_AIR, DEEP = 13, 14, 15, 16, 17
STOMATA, SOIL_LIGHT, LEAF_LIGHT, AUTO_FROM, AUTO_MOST, ENDS_OPEN = 18, 19, 20, 21, 22, 23
FORCING_COLUMNS = 24

# Columns of the hourly result; soil layers follow.
(
    OUT_AIR,
    OUT_LEAF,
    OUT_SURFACE,
    OUT_COVER,
    OUT_VAPOUR,
    OUT_DEW,
    OUT_LEAF_DEW,
    OUT_OPENING,
    OUT_EXCHANGE,
    OUT_WATER,
    OUT_LIGHT,
    OUT_RESIDUAL,
    OUT_JUG,
) = range(13)
OUT_SOIL = 13

# Sums over the run [J/m2].
(
    SUM_LIGHT,
    SUM_LONGWAVE,
    SUM_COVER_AIR,
    SUM_AIR,
    SUM_VAPOUR,
    SUM_SIDE,
    SUM_DEEP,
    SUM_STORED,
    SUM_RESIDUAL,
    SUM_ABSOLUTE,
) = range(10)
SUMS = 10


class Constants(NamedTuple):
    """What does not change over a run; units as in the modules that use them."""

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
    full: float
    holds: float
    droplet_loss: float
    opener: float
    opener_band: float
    stability_height: float
    stability_slope: float
    stability_unstable: float
    stability_stable: float
    stability_floor: float
    band: float
    jug_store: float
    jug_frozen: float
    jug_latent: float
    jug_exchange: float
    jug_light: float


def factor(
    capacity: Any,
    half: Any,
    side: Sequence[float],
    phase: Sequence[int],
    per_step: float,
    store: MutableSequence[float],
    inverse: MutableSequence[float],
    ratio: MutableSequence[float],
) -> tuple[float, float, float]:
    """Eliminate the soil column from below; kept until a layer freezes or thaws.

    Returns the top layer's diagonal without its surface term, the surface half resistance, and
    the conductance to the deep boundary [W/m2K].
    """
    last = len(side) - 1
    deep = 1.0 / half[phase[last]][last]
    below = deep
    for i in range(last, -1, -1):
        store[i] = capacity[phase[i]][i] * per_step
        diagonal = store[i] + side[i] + below
        if i == 0:
            break
        link = 1.0 / (half[phase[i]][i] + half[phase[i - 1]][i - 1])
        inverse[i] = 1.0 / (diagonal + link)
        ratio[i] = link * inverse[i]
        below = link - link * ratio[i]
    return diagonal, half[phase[0]][0], deep


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
    flow = leak + p.stack_leak * apart**0.5
    kelvin = outside + 273.15
    if p.holes_area > 0.0:
        flow += through_openings(
            p.holes_area, p.holes_height, p.holes_discharge, p.wind_pressure, apart, kelvin, wind
        )
    if opening > 0.0:
        if p.two_sided:
            flow += through_openings(
                2.0 * opening * p.length, opening, p.discharge, p.wind_pressure, apart, kelvin, wind
            )
        else:
            flow += through_one_side(opening * p.length, opening, apart, wind)
    if ends > 0.0:
        flow += through_openings(
            ends * p.end_area, p.end_height, p.discharge, p.wind_pressure, apart, kelvin, wind
        )
    return float(flow / p.area)


def solve_three(
    a: float,
    b: float,
    c: float,
    d: float,
    e: float,
    f: float,
    g: float,
    h: float,
    i: float,
    x: float,
    y: float,
    z: float,
) -> tuple[float, float, float]:
    """Solve [[a b c] [d e f] [g h i]] t = [x y z] by its adjugate: one division."""
    ei, fg, dh = e * i - f * h, f * g - d * i, d * h - e * g
    scale = 1.0 / (a * ei + b * fg + c * dh)
    return (
        scale * (x * ei + y * (c * h - b * i) + z * (b * f - c * e)),
        scale * (x * fg + y * (a * i - c * g) + z * (c * d - a * f)),
        scale * (x * dh + y * (b * g - a * h) + z * (a * e - b * d)),
    )


def march(  # noqa: C901
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
    out: Any,
    sums: MutableSequence[float],
) -> None:
    """March through the hours of `forcing`, two `openings` [m] an hour, filling `out` and `sums`.

    soil : [degC] layers at the start, changed in place; phase, work : scratch of that length.
    """
    hours, layers, steps = len(forcing), len(soil), p.steps
    dt = 3600.0 / steps
    per_step = 1.0 / dt
    store, inverse, ratio, right = work[0], work[1], work[2], work[3]
    for i in range(layers):
        phase[i] = phase_of(soil[i], p.band)
    diagonal, top_half, deep_link = factor(
        capacity, half, side, phase, per_step, store, inverse, ratio
    )
    first = forcing[0]
    t_out, e_out = first[AIR], first[VAPOUR]
    t_air, t_leaf, t_cover, t_soil, t_jug = t_out, t_out, t_out, soil[0], t_out
    e_air = e_out
    dew = leaf_dew = opening = exchange_rate = 0.0
    h_cover, h_soil, h_leaf = 2.0, 2.0, 5.0
    a_c = a_g = a_0 = b_c = b_g = b_0 = 0.0
    sum_light = sum_longwave = sum_cover = sum_air = sum_vapour = 0.0
    sum_side = sum_deep = sum_stored = sum_residual = sum_absolute = 0.0
    air_store, leaf_store = p.air_store * per_step, p.leaf_store * per_step
    vapour_store = p.air_store / p.psychro * per_step
    eps, view = p.ground, p.leaf_view
    bare_view = 1.0 - view
    leaf_side = 2.0 * p.leaf_area
    opener = dt / (dt + p.opener)

    for hour in range(hours):
        row = forcing[hour]
        covered = row[COVERED] > 0.5
        rise_t, rise_e = (row[AIR] - t_out) / steps, (row[VAPOUR] - e_out) / steps
        start_t, start_e = t_out, e_out
        sky, outer_sky = row[SKY], row[OUTER]
        wind, free_wind = row[WIND], row[FREE_WIND]
        soil_light, leaf_light = row[SOIL_LIGHT], row[LEAF_LIGHT]
        side_air, deep = row[SIDE_AIR], row[DEEP]
        snow = row[SNOW_ON_COVER] > 0.5
        surface_link = 1.0 / (top_half + row[GROUND_SNOW])
        top_inverse = 1.0 / (diagonal + surface_link)
        water = residual_hour = 0.0
        light = absorbed = outside_link = emits = bare = 0.0
        for sub in range(steps):
            t_out = start_t + rise_t * (sub + 1)
            e_out = start_e + rise_e * (sub + 1)
            cover_air = t_out + row[COVER_AIR]
            wanted = openings[2 * hour + (2 * sub) // steps]
            if row[AUTO_MOST] > 0.0:
                lift = (t_air - row[AUTO_FROM]) / p.opener_band
                lift = row[AUTO_MOST] * min(1.0, max(0.0, lift))
                opening += opener * (max(wanted, lift) - opening)
            else:
                opening = wanted

            if sub % p.refresh == 0:
                if covered:
                    exchange_rate = air_exchange(
                        p, opening, row[ENDS_OPEN], row[LEAK], wind, t_air - t_out, t_out
                    )
                    speed = p.still_speed + exchange_rate * p.width_over_height
                    draught = forced(exchange_rate * p.width_over_height, p.width, p.forced_inside)
                    h_cover = max(
                        draught, inside_cover(t_air - t_cover, p.cover_factor, p.cover_exponent)
                    )
                    h_soil = max(
                        draught,
                        over_soil(
                            t_soil - t_air,
                            p.soil_warm,
                            p.soil_warm_exponent,
                            p.soil_cool,
                            p.soil_cool_exponent,
                        ),
                    )
                    bare = min(0.9, (2.0 if p.two_sided else 1.0) * opening / p.curve_length)
                    wet = min(1.0, max(0.0, dew / p.full))
                    film = (1.0 - bare) * p.cover_area
                    passed = blend(p.passed_dry, p.passed_wet, wet)
                    inner = blend(p.emit_dry, p.emit_wet, wet)
                    outer = inner
                    if snow:
                        passed, outer = 0.0, 0.0
                    a_c, a_g, a_0, b_c, b_g, b_0 = exchange(
                        passed, inner, outer, eps, p.cover_area, sky, outer_sky
                    )
                    kept = 1.0 - bare
                    a_c, a_g = a_c * kept, a_g * kept
                    a_0 = a_0 * kept + bare * outer_sky
                    b_c, b_g, b_0 = b_c * kept, b_g * kept, b_0 * kept
                    emits = film * (inner + outer) - b_c
                    light = row[LIGHT] * (1.0 - p.droplet_loss * wet) * kept
                    light += row[OPEN_LIGHT] * bare
                    absorbed = row[COVER_LIGHT] * kept
                    h_cover *= film
                    outside_link = row[COVER_OUT] * film
                    rim = p.rim
                else:
                    aloft = view * t_leaf + bare_view * t_soil - t_out
                    exchange_rate = row[OPEN_EXCHANGE] * stability_factor(
                        aloft,
                        t_out + 273.15,
                        p.stability_height,
                        free_wind,
                        p.stability_slope,
                        p.stability_unstable,
                        p.stability_stable,
                        p.stability_floor,
                    )
                    speed = wind
                    h_cover, outside_link, emits, absorbed, rim = 0.0, 1.0, 0.0, 0.0, 0.0
                    h_soil = max(
                        forced(wind, p.width, p.forced_inside),
                        over_soil(
                            t_soil - t_air,
                            p.soil_warm,
                            p.soil_warm_exponent,
                            p.soil_cool,
                            p.soil_cool_exponent,
                        ),
                    )
                    a_c = a_g = b_g = b_0 = 0.0
                    a_0, light = sky, row[OPEN_LIGHT]
                    dew, bare = 0.0, 1.0
                h_leaf = leaf_side * over_leaf(
                    t_leaf - t_air, speed, p.leaf_length, p.leaf_boundary, p.leaf_forced
                )
                air_link = p.heat_of_air * exchange_rate
                through = air_link + rim
                vapour_link = air_link / p.psychro
                g_soil = latent_conductance(
                    h_soil, p.soil_dryness, 1.0, p.heat_of_air, p.psychro, p.lewis
                )
                g_dew = h_leaf / (p.psychro * p.lewis)
                g_stomata = 0.0
                if p.transpires:
                    g_stomata = latent_conductance(
                        h_leaf / leaf_side,
                        row[STOMATA],
                        leaf_side,
                        p.heat_of_air,
                        p.psychro,
                        p.lewis,
                    )
                g_film = h_cover / (p.psychro * p.lewis)

            # Linear laws about the last state: black-body emission and saturation pressure.
            k = t_soil + 273.15
            s_slope = 2.2681496e-7 * k * k * k
            s_base = s_slope * (0.25 * k - t_soil)
            k = t_leaf + 273.15
            v_slope = 2.2681496e-7 * k * k * k
            v_base = v_slope * (0.25 * k - t_leaf)
            k = t_cover + 273.15
            c_slope = 2.2681496e-7 * k * k * k
            c_base = c_slope * (0.25 * k - t_cover)
            e_s, d_s = look_up(pressures, t_soil)
            e_v, d_v = look_up(pressures, t_leaf)
            e_c, d_c = look_up(pressures, t_cover)
            g_leaf = g_stomata
            if e_air > e_v or leaf_dew > 0.0:
                g_leaf = g_dew
            g_c = 0.0
            if e_air > e_c:
                g_c = g_film
            elif dew > 0.0:
                g_c = min(g_film, dew * p.latent * per_step / max(1.0, e_c - e_air))
            e_s -= d_s * t_soil
            e_v -= d_v * t_leaf
            e_c -= d_c * t_cover

            # Soil from below: the top layer's answer to the surface.
            value = store[layers - 1] * soil[layers - 1] + side[layers - 1] * side_air
            value += deep_link * deep
            right[layers - 1] = value
            for i in range(layers - 2, -1, -1):
                value = store[i] * soil[i] + side[i] * side_air + ratio[i + 1] * value
                right[i] = value
            pulled = surface_link * top_inverse
            from_soil = pulled * value
            soil_link = surface_link * (1.0 - pulled)

            # Air and vapour in terms of the three surfaces.
            sum_h = h_soil + h_leaf + h_cover + through + air_store
            known_h = through * t_out + air_store * t_air
            if p.jug_store > 0.0:
                jug_frozen = t_jug < 0.0
                jug_step = p.jug_store * per_step
                if jug_frozen:
                    jug_step = (p.jug_store + p.jug_latent / p.band) * per_step
                    if t_jug <= -p.band:
                        jug_step = p.jug_frozen * per_step
                jug_pull = p.jug_exchange / (jug_step + p.jug_exchange)
                jug_known = (jug_step * t_jug + p.jug_light * light) / (jug_step + p.jug_exchange)
                sum_h += p.jug_exchange * (1.0 - jug_pull)
                known_h += p.jug_exchange * jug_known
            inverse_h = 1.0 / sum_h
            inverse_e = 1.0 / (g_soil + g_leaf + g_c + vapour_link + vapour_store)
            s_h, v_h, c_h, o_h = (
                h_soil * inverse_h,
                h_leaf * inverse_h,
                h_cover * inverse_h,
                known_h * inverse_h,
            )
            s_e, v_e, c_e = g_soil * inverse_e, g_leaf * inverse_e, g_c * inverse_e
            o_e = (vapour_link * e_out + vapour_store * e_air) * inverse_e
            o_e += s_e * e_s + v_e * e_v + c_e * e_c

            # Long-wave: ground sees G = a_c Bc + a_g Bg + a_0.
            up_v, up_s = a_g * view, a_g * bare_view
            g_base = a_0 + a_c * c_base + up_v * v_base + up_s * s_base
            s_light = soil_light * light
            v_light = leaf_light * light
            eb, ev = eps * bare_view, eps * view
            h_s_v = (eb * up_v + ev) * v_slope
            h_s_c = eb * a_c * c_slope
            h_v_s = ev * (1.0 + up_s) * s_slope
            h_v_c = ev * a_c * c_slope
            h_c_s = b_g * bare_view * s_slope
            h_c_v = b_g * view * v_slope
            m_ss = (
                soil_link
                + h_soil * (1.0 - s_h)
                + g_soil * d_s * (1.0 - s_e)
                + (eps - eb * up_s) * s_slope
            )
            m_vv = (
                h_leaf * (1.0 - v_h)
                + g_leaf * d_v * (1.0 - v_e)
                + leaf_store
                + ev * (2.0 - up_v) * v_slope
            )
            m_cc = h_cover * (1.0 - c_h) + g_c * d_c * (1.0 - c_e) + outside_link + emits * c_slope
            known_s = (
                s_light
                + from_soil
                + eb * g_base
                + ev * v_base
                - eps * s_base
                + h_soil * o_h
                + g_soil * (o_e - e_s)
            )
            known_v = (
                v_light
                + ev * (g_base + s_base - 2.0 * v_base)
                + leaf_store * t_leaf
                + h_leaf * o_h
                + g_leaf * (o_e - e_v)
            )
            known_c = (
                absorbed
                + b_0
                + b_g * (view * v_base + bare_view * s_base)
                - emits * c_base
                + outside_link * cover_air
                + h_cover * o_h
                + g_c * (o_e - e_c)
            )
            n_soil, n_leaf, n_cover = solve_three(
                m_ss,
                -h_soil * v_h - g_soil * v_e * d_v - h_s_v,
                -h_soil * c_h - g_soil * c_e * d_c - h_s_c,
                -h_leaf * s_h - g_leaf * s_e * d_s - h_v_s,
                m_vv,
                -h_leaf * c_h - g_leaf * c_e * d_c - h_v_c,
                -h_cover * s_h - g_c * s_e * d_s - h_c_s,
                -h_cover * v_h - g_c * v_e * d_v - h_c_v,
                m_cc,
                known_s,
                known_v,
                known_c,
            )
            n_air = s_h * n_soil + v_h * n_leaf + c_h * n_cover + o_h
            n_vapour = s_e * d_s * n_soil + v_e * d_v * n_leaf + c_e * d_c * n_cover + o_e

            # Soil from above, and which layers freeze or thaw.
            value = (right[0] + surface_link * n_soil) * top_inverse
            lost_side = 0.0
            stored = 0.0
            changed = False
            for i in range(layers):
                if i > 0:
                    value = right[i] * inverse[i] + ratio[i] * value
                lost_side += side[i] * (value - side_air)
                stored += store[i] * (value - soil[i])
                now = phase_of(value, p.band)
                if now != phase[i]:
                    warm, cold = capacity[0][i], capacity[2][i]
                    held = enthalpy(soil[i], warm, cold, latent[i], p.band)
                    held += store[i] * dt * (value - soil[i])
                    soil[i] = temperature_of(held, warm, cold, latent[i], p.band)
                    now = phase_of(soil[i], p.band)
                    if now != phase[i]:
                        phase[i] = now
                        changed = True
                else:
                    soil[i] = value
            lost_deep = deep_link * (value - deep)
            if changed:
                diagonal, top_half, deep_link = factor(
                    capacity, half, side, phase, per_step, store, inverse, ratio
                )
                surface_link = 1.0 / (top_half + row[GROUND_SNOW])
                top_inverse = 1.0 / (diagonal + surface_link)

            # Water moved, in latent heat.
            to_cover = g_c * (n_vapour - e_c - d_c * n_cover)
            to_leaf = g_leaf * (n_vapour - e_v - d_v * n_leaf)
            from_ground = g_soil * (e_s + d_s * n_soil - n_vapour)
            dew = min(dew + to_cover * dt / p.latent, p.holds)
            if g_leaf == g_dew:
                leaf_dew = min(leaf_dew + to_leaf * dt / p.latent, 0.2 * p.leaf_area)
            water += (from_ground - to_leaf) * dt / p.latent

            # The books, with emission by its full law at the new temperatures.
            k = n_soil + 273.15
            b_s = 5.670374e-8 * k * k * k * k
            k = n_leaf + 273.15
            b_v = 5.670374e-8 * k * k * k * k
            k = n_cover + 273.15
            b_cover = 5.670374e-8 * k * k * k * k
            b_ground = view * b_v + bare_view * b_s
            longwave = (
                eps * (a_c * b_cover + (a_g - 1.0) * b_ground + a_0)
                + b_0
                + b_g * b_ground
                - emits * b_cover
            )
            gained = s_light + v_light + absorbed
            out_cover = outside_link * (n_cover - cover_air)
            out_air = through * (n_air - t_out)
            out_vapour = vapour_link * (n_vapour - e_out)
            stored += (
                air_store * (n_air - t_air)
                + leaf_store * (n_leaf - t_leaf)
                + vapour_store * (n_vapour - e_air)
            )
            if p.jug_store > 0.0:
                n_jug = jug_known + jug_pull * n_air
                gained += p.jug_light * light
                stored += jug_step * (n_jug - t_jug)
                held = enthalpy(t_jug, p.jug_store, p.jug_frozen, p.jug_latent, p.band)
                held += jug_step * dt * (n_jug - t_jug)
                t_jug = temperature_of(held, p.jug_store, p.jug_frozen, p.jug_latent, p.band)
            missing = (
                gained
                + longwave
                - out_cover
                - out_air
                - out_vapour
                - lost_side
                - lost_deep
                - stored
            )
            sum_light += gained
            sum_longwave += longwave
            sum_cover += out_cover
            sum_air += out_air
            sum_vapour += out_vapour
            sum_side += lost_side
            sum_deep += lost_deep
            sum_stored += stored
            residual_hour += missing
            sum_absolute += abs(missing)
            t_soil, t_leaf, t_cover, t_air, e_air = n_soil, n_leaf, n_cover, n_air, n_vapour

        sum_residual += residual_hour
        line = out[hour]
        line[OUT_AIR] = t_air
        line[OUT_LEAF] = t_leaf
        line[OUT_SURFACE] = t_soil
        line[OUT_COVER] = t_cover
        line[OUT_VAPOUR] = e_air
        line[OUT_DEW] = dew
        line[OUT_LEAF_DEW] = leaf_dew
        line[OUT_OPENING] = opening
        line[OUT_EXCHANGE] = exchange_rate
        line[OUT_WATER] = water
        line[OUT_LIGHT] = light
        line[OUT_RESIDUAL] = residual_hour / steps
        line[OUT_JUG] = t_jug
        for i in range(layers):
            line[OUT_SOIL + i] = soil[i]
    for place, total in enumerate(
        (
            sum_light,
            sum_longwave,
            sum_cover,
            sum_air,
            sum_vapour,
            sum_side,
            sum_deep,
            sum_stored,
            sum_residual,
            sum_absolute,
        )
    ):
        sums[place] = total * dt
