"""Soil surface, leaves, cover, air and vapour solved together for one step."""

from typing import Any

from hoopwright.heat.constants import Constants, Links, State, Surfaces
from hoopwright.heat.lanes import put, take
from hoopwright.heat.longwave import ground_behind_fabric
from hoopwright.tables.constants import KELVIN, STEFAN_BOLTZMANN

FOUR_SIGMA = 4.0 * STEFAN_BOLTZMANN  # [W/m2K4] derivative of black-body emission over T^3


def emission_line(temperature: Any) -> tuple[Any, Any]:
    """Black-body emission about `temperature` [degC] as base [W/m2] plus slope [W/m2K] x degC."""
    kelvin = temperature + KELVIN
    slope = FOUR_SIGMA * kelvin * kelvin * kelvin
    return slope * (0.25 * kelvin - temperature), slope


def solve_three(
    a: Any,
    b: Any,
    c: Any,
    d: Any,
    e: Any,
    f: Any,
    g: Any,
    h: Any,
    i: Any,
    x: Any,
    y: Any,
    z: Any,
) -> tuple[Any, Any, Any]:
    """Solve [[a b c] [d e f] [g h i]] t = [x y z] by its adjugate: one division."""
    ei, fg, dh = e * i - f * h, f * g - d * i, d * h - e * g
    scale = 1.0 / (a * ei + b * fg + c * dh)
    return (
        scale * (x * ei + y * (c * h - b * i) + z * (b * f - c * e)),
        scale * (x * fg + y * (a * i - c * g) + z * (c * d - a * f)),
        scale * (x * dh + y * (b * g - a * h) + z * (a * e - b * d)),
    )


def solve_surfaces(p: Constants, k: Links, h_outside: Any, m: Surfaces, now: State) -> State:
    """The state at the end of the step, without an inner fabric.

    Air and vapour are eliminated first (each a weighted mean of what it touches), which leaves
    three equations for the surfaces.
    """
    s_base, s_slope = emission_line(now.soil)
    v_base, v_slope = emission_line(now.leaf)
    c_base, c_slope = emission_line(now.cover)
    e_s, d_s, e_v, d_v, e_c, d_c = m.e_soil, m.d_soil, m.e_leaf, m.d_leaf, m.e_cover, m.d_cover
    h_s, h_v, h_c, g_s, g_v, g_c = k.h_soil, k.h_leaf, k.h_cover, k.g_soil, m.g_leaf, m.g_cover

    per_heat = 1.0 / (h_s + h_v + h_c + k.through + m.air_store + m.jug_link)
    per_vapour = 1.0 / (g_s + g_v + g_c + k.vapour + m.vapour_store)
    s_h, v_h, c_h = h_s * per_heat, h_v * per_heat, h_c * per_heat
    s_e, v_e, c_e = g_s * per_vapour, g_v * per_vapour, g_c * per_vapour
    o_h = (k.through * m.outside + m.air_store * now.air + m.jug_heat) * per_heat
    o_e = (k.vapour * m.outside_vapour + m.vapour_store * now.vapour) * per_vapour
    o_e += s_e * e_s + v_e * e_v + c_e * e_c

    eps, view = p.ground, p.leaf_view
    bare_view = 1.0 - view
    up_v, up_s = k.a_g * view, k.a_g * bare_view
    g_base = k.a_0 + k.a_c * c_base + up_v * v_base + up_s * s_base
    eb, ev = eps * bare_view, eps * view
    soil, leaf, cover = solve_three(
        m.soil_link + h_s * (1.0 - s_h) + g_s * d_s * (1.0 - s_e) + (eps - eb * up_s) * s_slope,
        -h_s * v_h - g_s * v_e * d_v - (eb * up_v + ev) * v_slope,
        -h_s * c_h - g_s * c_e * d_c - eb * k.a_c * c_slope,
        -h_v * s_h - g_v * s_e * d_s - ev * (1.0 + up_s) * s_slope,
        h_v * (1.0 - v_h) + g_v * d_v * (1.0 - v_e) + m.leaf_store + ev * (2.0 - up_v) * v_slope,
        -h_v * c_h - g_v * c_e * d_c - ev * k.a_c * c_slope,
        -h_c * s_h - g_c * s_e * d_s - k.b_g * bare_view * s_slope,
        -h_c * v_h - g_c * v_e * d_v - k.b_g * view * v_slope,
        h_c * (1.0 - c_h) + g_c * d_c * (1.0 - c_e) + h_outside + k.emits * c_slope,
        m.soil_light
        + m.from_soil
        + eb * g_base
        + ev * v_base
        - eps * s_base
        + h_s * o_h
        + g_s * (o_e - e_s),
        m.leaf_light
        + ev * (g_base + s_base - 2.0 * v_base)
        + m.leaf_store * now.leaf
        + h_v * o_h
        + g_v * (o_e - e_v),
        m.cover_light
        + k.b_0
        + k.b_g * (view * v_base + bare_view * s_base)
        - k.emits * c_base
        + h_outside * m.cover_air
        + h_c * o_h
        + g_c * (o_e - e_c),
    )
    air = s_h * soil + v_h * leaf + c_h * cover + o_h
    vapour = s_e * d_s * soil + v_e * d_v * leaf + c_e * d_c * cover + o_e
    return State(soil, leaf, cover, air, vapour, air, air, vapour)


def eliminate(matrix: Any, right: Any) -> None:
    """Solve the first eight rows of `matrix` for `right` in place by Gauss's rule.

    Diagonally dominant, so without pivoting.
    """
    size = 8
    for i in range(size):
        pivot = matrix[i]
        inverse = 1.0 / take(pivot, i)
        for j in range(i + 1, size):
            row = matrix[j]
            share = take(row, i) * inverse
            for n in range(i + 1, size):
                add(row, n, -share * take(pivot, n))
            add(right, j, -share * take(right, i))
    for i in range(size - 1, -1, -1):
        value = take(right, i)
        for n in range(i + 1, size):
            value -= take(matrix[i], n) * take(right, n)
        put(right, i, value / take(matrix[i], i))


def add(row: Any, place: int, value: Any) -> None:
    """Add to the number at `place` of a row."""
    put(row, place, take(row, place) + value)


# Rows of the system with an inner fabric.
S, V, F, C, A, U, EA, EU = 0, 1, 2, 3, 4, 5, 6, 7


def tie(matrix: Any, i: int, j: int, link: Any) -> None:
    """Add a link of equal strength [W/m2K or W/m2 per Pa] between unknowns i and j."""
    add(matrix[i], i, link)
    add(matrix[j], j, link)
    add(matrix[i], j, -link)
    add(matrix[j], i, -link)


def tie_vapour(
    matrix: Any, right: Any, surface: int, air: int, link: Any, base: Any, slope: Any
) -> None:
    """Add the latent link [W/m2 per Pa] of a surface, saturated along base + slope T, to vapour."""
    add(matrix[surface], surface, link * slope)
    add(matrix[surface], air, -link)
    add(right, surface, -link * base)
    add(matrix[air], air, link)
    add(matrix[air], surface, -link * slope)
    add(right, air, link * base)


def solve_with_fabric(
    p: Constants, k: Links, h_outside: Any, m: Surfaces, now: State, system: Any
) -> State:
    """The state at the end of the step, with a fabric on the plants: eight equations.

    Below the fabric: soil, leaves, air and vapour at the crop; above it: tunnel air and cover.
    The fabric holds no heat and no water and keeps its dry long-wave values (assumptions).
    """
    matrix, right = system, system[8]
    nought = 0.0 * now.soil
    for i in range(8):
        put(right, i, nought)
        for j in range(8):
            put(matrix[i], j, nought)
    tie(matrix, S, A, k.h_soil)
    tie(matrix, V, A, k.h_leaf)
    tie(matrix, F, A, k.h_fabric)
    tie(matrix, F, U, k.h_fabric)
    tie(matrix, A, U, k.through_fabric)
    tie(matrix, C, U, k.h_cover)
    tie(matrix, EA, EU, k.through_fabric / p.psychro)
    tie_vapour(matrix, right, S, EA, k.g_soil, m.e_soil, m.d_soil)
    tie_vapour(matrix, right, V, EA, m.g_leaf, m.e_leaf, m.d_leaf)
    tie_vapour(matrix, right, C, EU, m.g_cover, m.e_cover, m.d_cover)
    vapour_known = k.vapour * m.outside_vapour + m.vapour_store * now.upper_vapour
    for place, link, known in (
        (S, m.soil_link, m.from_soil + m.soil_light),
        (V, m.leaf_store, m.leaf_store * now.leaf + m.leaf_light),
        (C, h_outside, h_outside * m.cover_air + m.cover_light + k.b_0),
        (A, m.jug_link, m.jug_heat),
        (U, k.through + m.air_store, k.through * m.outside + m.air_store * now.upper),
        (EU, k.vapour + m.vapour_store, vapour_known),
    ):
        add(matrix[place], place, link)
        add(right, place, known)
    add_long_wave(p, k, now, matrix, right)
    eliminate(matrix, right)
    return State(
        take(right, S),
        take(right, V),
        take(right, C),
        take(right, A),
        take(right, EA),
        take(right, F),
        take(right, U),
        take(right, EU),
    )


def add_long_wave(p: Constants, k: Links, now: State, matrix: Any, right: Any) -> None:
    """Add what soil, leaves, fabric and cover emit, linear about the last step, to the system.

    What falls on the fabric from above, and on the ground from the fabric, stands as weights of
    the four emitters and a constant.
    """
    s_base, s_slope = emission_line(now.soil)
    v_base, v_slope = emission_line(now.leaf)
    f_base, f_slope = emission_line(now.fabric)
    c_base, c_slope = emission_line(now.cover)
    nought = 0.0 * now.soil
    x_f, x_g, back, echo = ground_behind_fabric(p.fabric_passed, p.fabric_emit, p.ground)
    seen = 1.0 / (1.0 - back)
    view, bare_view = p.leaf_view, 1.0 - p.leaf_view
    eps, f_eps = p.ground, p.fabric_emit
    reflects = 1.0 - p.fabric_passed - f_eps
    own = echo * reflects * eps
    for place, base, slope, above, ground in (
        (S, s_base, s_slope, k.a_g * seen * x_g * bare_view, bare_view),
        (V, v_base, v_slope, k.a_g * seen * x_g * view, view),
        (F, f_base, f_slope, k.a_g * seen * x_f, nought),
        (C, c_base, c_slope, k.a_c, nought),
    ):
        below = echo * p.fabric_passed * above + own * ground
        if place == F:
            below += echo * f_eps
        up = eps * ground + (1.0 - eps) * below
        soil = eps * bare_view * below
        leaf = eps * view * below
        fabric = f_eps * (above + up)
        cover = 0.0
        if place == S:
            soil, leaf = soil - eps, leaf + eps * view
            cover = k.b_g * seen * x_g * bare_view
        if place == V:
            soil, leaf = soil + eps * view, leaf - 2.0 * eps * view
            cover = k.b_g * seen * x_g * view
        if place == F:
            fabric -= 2.0 * f_eps
            cover = k.b_g * seen * x_f
        if place == C:
            cover = -k.emits
        add(matrix[S], place, -soil * slope)
        add(matrix[V], place, -leaf * slope)
        add(matrix[F], place, -fabric * slope)
        add(matrix[C], place, -cover * slope)
        add(right, S, soil * base)
        add(right, V, leaf * base)
        add(right, F, fabric * base)
        add(right, C, cover * base)
    below = echo * p.fabric_passed * k.a_0
    add(right, S, eps * bare_view * below)
    add(right, V, eps * view * below)
    add(right, F, f_eps * (k.a_0 + (1.0 - eps) * below))
