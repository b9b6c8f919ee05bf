"""The reduced balance of one hoop: panels eliminated, chained from foot to foot, and solved."""

from __future__ import annotations

from math import hypot
from typing import Any

import numpy as np

from hoopwright.beam.condensed import (
    ANGLE,
    CONTROL,
    COSINE,
    LOAD_FACTOR,
    MOMENT,
    MOVEMENT,
    RESIDUAL,
    ROWS,
    SINE,
    Desk,
    LoneHoop,
    LoneLoad,
    P,
    Q,
    X,
    Y,
    fill_angles,
    fill_columns,
    fill_sums,
    press,
    press_edges,
    rate,
)
from hoopwright.beam.lines import CORNER
from hoopwright.beam.panels import Array

# Answers of a reduction: the change that mends the residual, the tangent, and from here on what
# the push of each movement does. Of numpy's kind, so that one compilation serves all.
CHANGE: Any = np.int64(0)
TANGENT: Any = np.int64(1)
PUSHED: Any = np.int64(2)


def reduce_hoop(
    hoop: LoneHoop,
    load: LoneLoad,
    z: Array,
    control: Array,
    control_residual: float,
    modes: Array,
    movements: int,
    desk: Desk,
) -> None:
    """Reduce the equations at `z` to the five of `desk.small` and solve those.

    control . change = control_residual is the fifth. modes: (., points), of which the first
    `movements` are used.
    """
    desk.sums[:, :] = 0.0
    desk.sums[0, ANGLE], desk.sums[0, MOMENT] = z[-5], z[-4]
    press(hoop, load, z, desk)
    if hoop.tied_at.size > 0:
        _pull_lines(hoop, load, z[-1], desk)
    press_edges(hoop, load, desk)
    rate(hoop, load, z, desk)
    for movement in range(movements):
        for m in range(hoop.weights.size):
            desk.parts[m, MOVEMENT + movement] = modes[movement, m]
    columns = MOVEMENT + movements
    first = desk.edges[0]
    first[:, :] = 0.0
    for row in range(4):
        first[row, row] = 1.0
    for panel in range(hoop.half.size):
        fill_angles(hoop, load, panel, desk)
        fill_columns(hoop, panel, z, movements, desk)
        fill_sums(hoop, load, panel, control, columns, desk)
        eliminate(desk.tables, panel, hoop.place.size, columns)
        for line in range(hoop.tied_at.size):
            if hoop.tied_at[line] == panel:
                _tie(desk.edges[panel], desk.lines[line])
        chain(desk, panel, hoop.place.size, columns)
    close(hoop, z, control, control_residual, columns, desk)


def _pull_lines(hoop: LoneHoop, load: LoneLoad, factor: float, desk: Desk) -> None:
    """Pull of each line and its change; see `TiedLines.pulls`. Written to the edge it is tied at.

    A hoop with lines keeps its arc's length, so the tied place follows from the angles alone.
    """
    for line in range(hoop.tied_at.size):
        at, x, y = hoop.tied_at[line], 0.0, 0.0
        for m in range(hoop.weights.size):
            if m < at * hoop.place.size:
                x += hoop.weights[m] * desk.rates[COSINE, m]
                y += hoop.weights[m] * desk.rates[SINE, m]
        to_x, to_y = hoop.anchors[line, 0] - x, hoop.anchors[line, 1] - y
        reach = hypot(to_x, to_y)
        ux, uy = to_x / reach, to_y / reach
        stiffness, own = hoop.line_stiffness[line], hoop.own_pull[line]
        straight = (load.pull + factor * load.pull_growth) * own
        straight += stiffness * (reach - hoop.line_rest[line])
        rounded = hypot(straight, CORNER * stiffness)
        tension = 0.5 * (straight + rounded)
        taut = tension / rounded
        across = tension / reach
        spring = taut * stiffness - across
        desk.sums[at, P] -= tension * ux
        desk.sums[at, Q] -= tension * uy
        change = desk.lines[line]
        change[0], change[1] = spring * ux * ux + across, spring * ux * uy
        change[2] = spring * uy * uy + across
        change[3] = taut * load.pull_growth * own * ux
        change[4] = taut * load.pull_growth * own * uy


def eliminate(tables: Array, panel: int, each: int, columns: int) -> None:
    """Gauss elimination of the angles from all rows; the pivots' reciprocals stay in their place.

    A panel's angles depend on those before, hardly on those after, so pivots are taken in order.
    """
    rows, width, table = each + ROWS, each + columns, tables[panel]
    for k in range(each):
        over = 1.0 / table[k, k]
        table[k, k] = over
        for i in range(k + 1, rows):
            share = table[i, k] * over
            if share != 0.0:
                for c in range(k + 1, width):
                    table[i, c] -= share * table[k, c]


def chain(desk: Desk, panel: int, each: int, columns: int) -> None:
    """What the far edge of a panel depends on, from what the near edge does."""
    table, edges, far = desk.tables[panel], desk.edges, panel + 1
    for row in range(ROWS):
        end = each + row
        by_a, by_m = table[end, each + ANGLE], table[end, each + MOMENT]
        by_p, by_q = table[end, each + P], table[end, each + Q]
        for c in range(columns):
            moved = by_a * edges[panel, ANGLE, c] + by_m * edges[panel, MOMENT, c]
            edges[far, row, c] = moved + by_p * edges[panel, P, c] + by_q * edges[panel, Q, c]
        for c in range(LOAD_FACTOR, columns):
            edges[far, row, c] += table[end, each + c]
        if row >= X:
            for c in range(columns):
                edges[far, row, c] += edges[panel, row, c]


def _tie(edge: Array, change: Array) -> None:
    """A line's pull changes the force beyond its edge as the edge moves and the factor grows."""
    for c in range(edge.shape[1]):
        x, y = edge[X, c], edge[Y, c]
        edge[P, c] += change[0] * x + change[1] * y
        edge[Q, c] += change[1] * x + change[2] * y
    edge[P, LOAD_FACTOR] -= change[3]
    edge[Q, LOAD_FACTOR] -= change[4]


def close(
    hoop: LoneHoop, z: Array, control: Array, control_residual: float, columns: int, desk: Desk
) -> None:
    """The feet's four conditions and the control, solved: first the change that mends the
    residual, then the tangent, then what each movement's push does."""
    small, end, sums = desk.small, desk.edges[-1], desk.sums[-1]
    small[:, :] = 0.0
    moment_weight, turn_weight, ease = hoop.feet[0, 0], hoop.feet[0, 1], hoop.feet[0, 2]
    small[0, ANGLE], small[0, MOMENT] = turn_weight, moment_weight
    small[0, RESIDUAL] = moment_weight * z[-4] + turn_weight * (z[-5] - ease)
    moment_weight, turn_weight, ease = hoop.feet[1, 0], hoop.feet[1, 1], hoop.feet[1, 2]
    for c in range(columns):
        # Columns of pushes change sides; the tangent has a column of its own between them.
        place = c if c <= RESIDUAL else c + 1
        sign = 1.0 if c <= LOAD_FACTOR else -1.0
        small[1, place] = sign * (moment_weight * end[MOMENT, c] + turn_weight * end[ANGLE, c])
        small[2, place], small[3, place] = sign * end[X, c], sign * end[Y, c]
        small[4, place] = sign * end[CONTROL, c]
    small[1, RESIDUAL] += moment_weight * sums[MOMENT]
    small[1, RESIDUAL] += turn_weight * (sums[ANGLE] - ease)
    small[2, RESIDUAL] += sums[X] - hoop.chord[0]
    small[3, RESIDUAL] += sums[Y] - hoop.chord[1]
    small[4, LOAD_FACTOR] += control[z.size - 1]
    small[4, RESIDUAL] += control_residual
    small[4, RESIDUAL + 1] = 1.0
    _solve(small, columns + 1)


def _solve(small: Array, width: int) -> None:
    """Gauss and Jordan's elimination of the first columns, as many as rows, largest pivot first."""
    size = small.shape[0]
    for k in range(size):
        top = k
        for i in range(k + 1, size):
            if abs(small[i, k]) > abs(small[top, k]):
                top = i
        if top != k:
            for c in range(k, width):
                small[k, c], small[top, c] = small[top, c], small[k, c]
        over = 1.0 / small[k, k]
        for c in range(k + 1, width):
            small[k, c] *= over
        for i in range(size):
            if i != k:
                share = small[i, k]
                for c in range(k + 1, width):
                    small[i, c] -= share * small[k, c]


def read_answer(hoop: LoneHoop, desk: Desk, which: int, out: Array) -> None:
    """All unknowns of an answer of the last reduction.

    which: CHANGE, TANGENT, or PUSHED + a movement.
    """
    each, count, tables, edges = hoop.place.size, hoop.weights.size, desk.tables, desk.edges
    for row in range(5):
        out[count + row] = desk.small[row, RESIDUAL + which]
    factor, share = out[count + 4], 0.0 if which == TANGENT else 1.0
    pushed = RESIDUAL if which < PUSHED else MOVEMENT + which - PUSHED
    for panel in range(hoop.half.size):
        start = panel * each
        a, m = share * edges[panel, ANGLE, pushed], share * edges[panel, MOMENT, pushed]
        p, q = share * edges[panel, P, pushed], share * edges[panel, Q, pushed]
        for c in range(5):
            a += edges[panel, ANGLE, c] * out[count + c]
            m += edges[panel, MOMENT, c] * out[count + c]
            p += edges[panel, P, c] * out[count + c]
            q += edges[panel, Q, c] * out[count + c]
        for i in range(each - 1, -1, -1):
            value = tables[panel, i, each + ANGLE] * a + tables[panel, i, each + MOMENT] * m
            value += tables[panel, i, each + P] * p + tables[panel, i, each + Q] * q
            value += tables[panel, i, each + LOAD_FACTOR] * factor
            value += share * tables[panel, i, each + pushed]
            for j in range(i + 1, each):
                value -= tables[panel, i, j] * out[start + j]
            out[start + i] = value * tables[panel, i, i]
