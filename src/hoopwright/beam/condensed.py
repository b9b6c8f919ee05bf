"""The balance of one hoop, reduced panel by panel; the same equations as `balance`, one case.

A panel's angles depend on the rest of the hoop only through angle, moment and force at its near
edge. Gauss elimination of the angles (static condensation; Wilson 1974, from memory) leaves what
the far edge does for what the near edge does. Panels are then chained from the left foot, and the
four conditions of the feet and the control of the step are left: five equations (`chained`). The
work grows with the number of panels, not with its cube. Plain source; `compiled` makes machine code
of it. Unknowns are in the order of `balance`.
"""

from __future__ import annotations

from math import pi
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.panels import Array

# Rows of an edge, what is summed up to it: the angle (less that of the unstressed pipe), moment,
# force of pressure and lines, place, and the step's control.
ANGLE, MOMENT, P, Q, X, Y, CONTROL = range(7)
ROWS = 7
# Columns, what things depend on: at a panel its near edge's angle, moment and force, in the whole
# the same of the foot; the load factor; the residual; and from here on pushes shaped like each of
# the movements tried.
LOAD_FACTOR, RESIDUAL, MOVEMENT = 4, 5, 6
# Rows of `rates`: change of the angle's second derivative by own angle, p and q; x' and y'; change
# of p and q by load factor; sine and cosine.
BY_ANGLE, BY_P, BY_Q, ALONG_X, ALONG_Y, P_GROWTH, Q_GROWTH, SINE, COSINE = range(9)
RATES = 9
# Columns of `pressed` and `running`: pressure by cosine and sine, whole and growing.
WHOLE_C, WHOLE_S, GROWING_C, GROWING_S = range(4)

# A quarter turn to the last digit of a number, and what is left of it beyond.
QUARTER_TURN, QUARTER_TURN_REST = pi / 2.0, 6.123233995736766e-17


class LoneHoop(NamedTuple):
    """Constant parts of the equations of one hoop, in the units of `balance`.

    place, weight, once: Gauss points from the panel's start, weights and running integral, unit
    half width. half: half width of each panel. integrals: (panels, each + 2, each), twice-running
    integral to each point and to the panel's end, and the integral to its end. weights: of all
    points. bent: angle of the unstressed pipe less that at the left foot. feet: (2, 3), moment
    weight, turn weight, angle at which the foot is at ease. tied_at: edge of each line; the lines'
    other values as `TiedLines` has them.
    """

    place: Array
    weight: Array
    once: Array
    half: Array
    integrals: Array
    weights: Array
    bent: Array
    feet: Array
    chord: Array
    slack: float
    tied_at: NDArray[np.int64]
    anchors: Array
    line_stiffness: Array
    own_pull: Array
    line_rest: Array


class LoneLoad(NamedTuple):
    """What grows and what stays in one case, as `Spread` has them, each at all points.

    pull, pull_growth: share of the lines' own pull at factor 0 and its growth.
    """

    grow_p: Array
    grow_q: Array
    grow_pressure: Array
    stay_p: Array
    stay_q: Array
    stay_pressure: Array
    pull: float
    pull_growth: float
    pressed: bool


class Desk(NamedTuple):
    """Where the reduction is written out.

    rates: (RATES, points). pressed, running: (points, 4), pressure by direction, and its integral
    from the panel's start. parts: (points, columns), what the columns are integrated from. turned:
    (each, each), change of the second derivative by angles before it. tables: (panels, each + ROWS,
    each + columns), the panels reduced. sums: (panels + 1, ROWS), values at the edges. edges:
    (panels + 1, ROWS, columns), what each edge depends on. small: the last five equations and their
    answers. lines: (lines, 5), change of each line's force with place (xx, xy, yy) and factor.
    """

    rates: Array
    pressed: Array
    running: Array
    parts: Array
    turned: Array
    tables: Array
    sums: Array
    edges: Array
    small: Array
    lines: Array


def make_desk(panels: int, each: int, movements: int, lines: int) -> Desk:
    """Room for one reduction with so many movements and lines."""
    columns = MOVEMENT + movements
    return Desk(
        rates=np.zeros((RATES, panels * each)),
        pressed=np.zeros((panels * each, 4)),
        running=np.zeros((panels * each, 4)),
        parts=np.zeros((panels * each, columns)),
        turned=np.zeros((each, each)),
        tables=np.zeros((panels, each + ROWS, each + columns)),
        sums=np.zeros((panels + 1, ROWS)),
        edges=np.zeros((panels + 1, ROWS, columns)),
        small=np.zeros((5, RESIDUAL + 2 + movements)),
        lines=np.zeros((lines, 5)),
    )


def sines_and_cosines(angle: Array, sine: Array, cosine: Array) -> None:
    """Sine and cosine of the first angles [rad], as many as `sine` holds.

    Without a branch, so that a compiler takes several at once: the angle less whole quarter turns
    (taken off in two parts), and there the series, whose rest is below 1e-16. Right to 4e-16 for
    angles within a turn either way; of larger ones to a few units in their own last digit.
    """
    for m in range(sine.size):
        quarters = np.floor(angle[m] / QUARTER_TURN + 0.5)
        r = (angle[m] - quarters * QUARTER_TURN) - quarters * QUARTER_TURN_REST
        x = r * r
        s = 1.0 - x / 110.0 * (1.0 - x / 156.0 * (1.0 - x / 210.0 * (1.0 - x / 272.0)))
        s = r * (1.0 - x / 6.0 * (1.0 - x / 20.0 * (1.0 - x / 42.0 * (1.0 - x / 72.0 * s))))
        c = 1.0 - x / 90.0 * (1.0 - x / 132.0 * (1.0 - x / 182.0 * (1.0 - x / 240.0)))
        c = 1.0 - x / 2.0 * (1.0 - x / 12.0 * (1.0 - x / 30.0 * (1.0 - x / 56.0 * c)))
        quarter = quarters - 4.0 * np.floor(quarters / 4.0)
        odd = quarter == 1.0 or quarter == 3.0
        sine[m] = (c if odd else s) * (-1.0 if quarter >= 2.0 else 1.0)
        cosine[m] = (s if odd else c) * (-1.0 if quarter == 1.0 or quarter == 2.0 else 1.0)


def press(hoop: LoneHoop, load: LoneLoad, z: Array, desk: Desk) -> None:
    """Sine and cosine of all points; the force of pressure up to each point of its panel."""
    each, factor = hoop.place.size, z[-1]
    sine, cosine = desk.rates[SINE], desk.rates[COSINE]
    sines_and_cosines(z, sine, cosine)
    if not load.pressed:
        return
    pressed, running = desk.pressed, desk.running
    for panel in range(hoop.half.size):
        half, start = hoop.half[panel], panel * each
        for i in range(each):
            m = start + i
            growing = half * load.grow_pressure[m]
            whole = half * load.stay_pressure[m] + factor * growing
            pressed[m, WHOLE_C], pressed[m, WHOLE_S] = whole * cosine[m], whole * sine[m]
            pressed[m, GROWING_C], pressed[m, GROWING_S] = growing * cosine[m], growing * sine[m]
        for i in range(each):
            whole_c, whole_s, growing_c, growing_s = 0.0, 0.0, 0.0, 0.0
            for j in range(each):
                share, m = hoop.once[i, j], start + j
                whole_c += share * pressed[m, WHOLE_C]
                whole_s += share * pressed[m, WHOLE_S]
                growing_c += share * pressed[m, GROWING_C]
                growing_s += share * pressed[m, GROWING_S]
            m = start + i
            running[m, WHOLE_C], running[m, WHOLE_S] = whole_c, whole_s
            running[m, GROWING_C], running[m, GROWING_S] = growing_c, growing_s


def press_edges(hoop: LoneHoop, load: LoneLoad, desk: Desk) -> None:
    """Force of pressure, summed to each edge; lines' pulls are there already."""
    each, sums = hoop.place.size, desk.sums
    for panel in range(hoop.half.size):
        p, q = sums[panel, P], sums[panel, Q]
        if load.pressed:
            for i in range(each):
                p -= hoop.weight[i] * desk.pressed[panel * each + i, WHOLE_S]
                q += hoop.weight[i] * desk.pressed[panel * each + i, WHOLE_C]
        sums[panel + 1, P] += p
        sums[panel + 1, Q] += q


def rate(hoop: LoneHoop, load: LoneLoad, z: Array, desk: Desk) -> None:
    """Second derivative of the angle at all points, and its changes; see `balance`."""
    each, factor, slack = hoop.place.size, z[-1], hoop.slack
    rates, parts = desk.rates, desk.parts
    for panel in range(hoop.half.size):
        p_edge, q_edge = z[-3] + desk.sums[panel, P], z[-2] + desk.sums[panel, Q]
        for m in range(panel * each, panel * each + each):
            c, s = rates[COSINE, m], rates[SINE, m]
            p_growth, q_growth = load.grow_p[m], load.grow_q[m]
            p = p_edge + load.stay_p[m] + factor * p_growth
            q = q_edge + load.stay_q[m] + factor * q_growth
            if load.pressed:
                p -= desk.running[m, WHOLE_S]
                q += desk.running[m, WHOLE_C]
                p_growth -= desk.running[m, GROWING_S]
                q_growth += desk.running[m, GROWING_C]
            along, aside = p * c + q * s, p * s - q * c
            stretch = 1.0 + slack * along
            by_p, by_q = stretch * s + slack * aside * c, slack * aside * s - stretch * c
            rates[BY_ANGLE, m] = stretch * along - slack * aside * aside
            rates[ALONG_X, m], rates[ALONG_Y, m] = stretch * c, stretch * s
            rates[P_GROWTH, m], rates[Q_GROWTH, m] = p_growth, q_growth
            rates[BY_P, m], rates[BY_Q, m] = by_p, by_q
            parts[m, P], parts[m, Q] = by_p, by_q
            parts[m, LOAD_FACTOR] = by_p * p_growth + by_q * q_growth
            parts[m, RESIDUAL] = stretch * aside


def fill_angles(hoop: LoneHoop, load: LoneLoad, panel: int, desk: Desk) -> None:
    """By angles: the equations of a panel's angles, and its far edge's angle and moment."""
    each, start = hoop.place.size, panel * hoop.place.size
    table, integrals, rates = desk.tables[panel], hoop.integrals, desk.rates
    if not load.pressed:
        for i in range(each + 2):
            for j in range(each):
                table[i, j] = -integrals[panel, i, j] * rates[BY_ANGLE, start + j]
    else:
        turned, pressed = desk.turned, desk.pressed
        for i in range(each):
            by_p, by_q = desk.parts[start + i, P], desk.parts[start + i, Q]
            for j in range(each):
                turn = by_p * pressed[start + j, WHOLE_C] + by_q * pressed[start + j, WHOLE_S]
                turned[i, j] = hoop.once[i, j] * turn
            turned[i, i] -= rates[BY_ANGLE, start + i]
        for i in range(each + 2):
            for j in range(each):
                table[i, j] = 0.0
            for k in range(each):
                share = integrals[panel, i, k]
                for j in range(each):
                    table[i, j] += share * turned[k, j]
    for i in range(each):
        table[i, i] += 1.0


def fill_columns(hoop: LoneHoop, panel: int, z: Array, movements: int, desk: Desk) -> None:
    """By columns: the same, and the sums of angle and moment at the panel's far edge."""
    each, start = hoop.place.size, panel * hoop.place.size
    table, integrals, parts, sums = desk.tables[panel], hoop.integrals, desk.parts, desk.sums
    half, angle, moment = hoop.half[panel], sums[panel, ANGLE], sums[panel, MOMENT]
    for i in range(each + 2):
        p, q, by_factor, summed = 0.0, 0.0, 0.0, 0.0
        for j in range(each):
            share, m = integrals[panel, i, j], start + j
            p += share * parts[m, P]
            q += share * parts[m, Q]
            by_factor += share * parts[m, LOAD_FACTOR]
            summed += share * parts[m, RESIDUAL]
        by_angle, place, residual = 1.0, 2.0 * half, 0.0
        if i < each:
            place = half * hoop.place[i]
            here = angle + place * moment + hoop.bent[start + i]
            residual = z[start + i] - here - summed
        elif i == each + ANGLE:
            sums[panel + 1, ANGLE] = angle + 2.0 * half * moment + summed
        else:
            by_angle, place = 0.0, 1.0
            sums[panel + 1, MOMENT] = moment + summed
        table[i, each + ANGLE], table[i, each + MOMENT] = by_angle, place
        table[i, each + P], table[i, each + Q] = p, q
        table[i, each + LOAD_FACTOR], table[i, each + RESIDUAL] = by_factor, residual
        for c in range(MOVEMENT, MOVEMENT + movements):
            pushed = 0.0
            for j in range(each):
                pushed += integrals[panel, i, j] * parts[start + j, c]
            table[i, each + c] = pushed


def fill_sums(
    hoop: LoneHoop, load: LoneLoad, panel: int, control: Array, columns: int, desk: Desk
) -> None:
    """The rows of force, place and control at a panel's far edge, and the sums of place there."""
    each, start, half = hoop.place.size, panel * hoop.place.size, hoop.half[panel]
    table, rates, sums = desk.tables[panel], desk.rates, desk.sums
    x, y = 0.0, 0.0
    for j in range(each):
        x += hoop.weight[j] * rates[ALONG_X, start + j]
        y += hoop.weight[j] * rates[ALONG_Y, start + j]
    sums[panel + 1, X] = sums[panel, X] + half * x
    sums[panel + 1, Y] = sums[panel, Y] + half * y
    for j in range(each):
        table[each + P, j], table[each + Q, j] = 0.0, 0.0
    for j in range(each):
        table[each + X, j] = half * hoop.weight[j] * rates[BY_P, start + j]
    for j in range(each):
        table[each + Y, j] = half * hoop.weight[j] * rates[BY_Q, start + j]
    for j in range(each):
        table[each + CONTROL, j] = -control[start + j]
    for row in range(each + P, each + ROWS):
        for c in range(each, each + columns):
            table[row, c] = 0.0
    table[each + P, each + P], table[each + Q, each + Q] = 1.0, 1.0
    if load.pressed:
        p_growth, q_growth = 0.0, 0.0
        for j in range(each):
            m, weight = start + j, hoop.weight[j]
            table[each + P, j] = weight * desk.pressed[m, WHOLE_C]
            table[each + Q, j] = weight * desk.pressed[m, WHOLE_S]
            p_growth -= weight * desk.pressed[m, GROWING_S]
            q_growth += weight * desk.pressed[m, GROWING_C]
        table[each + P, each + LOAD_FACTOR] = p_growth
        table[each + Q, each + LOAD_FACTOR] = q_growth
    if hoop.slack > 0.0:
        _fill_stretch(hoop, load, panel, Y, SINE, desk)
        _fill_stretch(hoop, load, panel, X, COSINE, desk)


def _fill_stretch(
    hoop: LoneHoop, load: LoneLoad, panel: int, which: int, direction: int, desk: Desk
) -> None:
    """Place: the force stretches the arc, so it depends on force too; see `balance`."""
    each, start, rates, table = hoop.place.size, panel * hoop.place.size, desk.rates, desk.tables
    row = each + which
    for i in range(each):
        m = start + i
        weight = hoop.half[panel] * hoop.weight[i] * hoop.slack * rates[direction, m]
        by_p, by_q = weight * rates[COSINE, m], weight * rates[SINE, m]
        growth = by_p * rates[P_GROWTH, m] + by_q * rates[Q_GROWTH, m]
        table[panel, row, each + P] += by_p
        table[panel, row, each + Q] += by_q
        table[panel, row, each + LOAD_FACTOR] += growth
        if load.pressed:
            for j in range(each):
                turned = by_p * desk.pressed[start + j, WHOLE_C]
                turned += by_q * desk.pressed[start + j, WHOLE_S]
                table[panel, row, j] += hoop.once[i, j] * turned
