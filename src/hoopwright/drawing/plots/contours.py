"""Lines of one value across a field of cells, and hatching over some of the cells."""

import math
from collections import defaultdict

import numpy as np
from numpy.typing import NDArray

from hoopwright.drawing.plots.axes import Area, Series
from hoopwright.drawing.scene import Point

Flags = NDArray[np.bool_]
Crossing = tuple[str, int, int]


def running_mean(values: Series, days: int) -> Series:
    """Return each row's mean over a window of days round the year's end, unknowns left out."""
    half = days // 2
    known = np.isfinite(values)
    kernel = np.ones(2 * half + 1)

    def summed(part: Series) -> Series:
        padded = np.concatenate([part[:, -half:], part, part[:, :half]], axis=1) if half else part
        return np.stack([np.convolve(row, kernel, "valid") for row in padded])

    counted = summed(known.astype(float))
    total = summed(np.where(known, values, 0.0))
    return np.where(counted > 0, total / np.maximum(counted, 1.0), np.nan)


def contour(values: Series, level: float) -> list[list[Point]]:
    """Return the lines of a level as chains of (column, row), values at the cells' middles.

    Marching squares (Lorensen & Cline's marching cubes of 1987 in the plane, from memory): linear
    between neighbours; a saddle is parted by the mean of its corners. The field is carried half
    a cell past its edges, so that lines reach them.
    """
    field = np.pad(values, 1, mode="edge")
    links: dict[Crossing, list[Crossing]] = defaultdict(list)
    above = field > level
    mixed = above[:-1, :-1].astype(int) + above[:-1, 1:] + above[1:, :-1] + above[1:, 1:]
    square = np.isfinite(field)
    whole = square[:-1, :-1] & square[:-1, 1:] & square[1:, :-1] & square[1:, 1:]
    for row, column in zip(*np.nonzero((mixed > 0) & (mixed < 4) & whole), strict=True):
        for one, other in _pairs(field, above, int(row), int(column), level):
            links[one].append(other)
            links[other].append(one)
    places = {crossing: _place(field, crossing, level) for crossing in links}
    return [[places[crossing] for crossing in chain] for chain in _chains(links)]


def _pairs(
    field: Series, above: Flags, row: int, column: int, level: float
) -> list[tuple[Crossing, Crossing]]:
    """Return which edges of a square the level joins."""
    bottom, top = ("across", row, column), ("across", row + 1, column)
    left, right = ("up", row, column), ("up", row, column + 1)
    sw, se = above[row, column], above[row, column + 1]
    nw, ne = above[row + 1, column], above[row + 1, column + 1]
    crossed = [
        edge
        for edge, cut in (
            (bottom, sw != se),
            (right, se != ne),
            (top, nw != ne),
            (left, sw != nw),
        )
        if cut
    ]
    if len(crossed) == 2:
        return [(crossed[0], crossed[1])]
    middle = float(field[row : row + 2, column : column + 2].mean()) > level
    if middle == sw:
        return [(bottom, right), (top, left)]
    return [(bottom, left), (right, top)]


def _place(field: Series, crossing: Crossing, level: float) -> Point:
    kind, row, column = crossing
    first = float(field[row, column])
    second = float(field[row, column + 1] if kind == "across" else field[row + 1, column])
    share = (level - first) / (second - first)
    x, y = (column + share, row) if kind == "across" else (column, row + share)
    rows, columns = field.shape[0] - 2, field.shape[1] - 2
    return min(max(x - 0.5, 0.0), float(columns)), min(max(y - 0.5, 0.0), float(rows))


def _chains(links: dict[Crossing, list[Crossing]]) -> list[list[Crossing]]:
    """Return the crossings strung together: open lines first, then rings."""
    left = {crossing: list(others) for crossing, others in links.items()}
    chains = []
    for start in [c for c in left if len(links[c]) == 1] + list(left):
        while left[start]:
            chain = [start]
            while left[chain[-1]]:
                following = left[chain[-1]].pop()
                left[following].remove(chain[-1])
                chain.append(following)
            chains.append(chain)
    return chains


def hatched_cells(
    area: Area, flags: Flags, angle: float = 45.0, spacing: float = 0.0012
) -> tuple[tuple[Point, ...], ...]:
    """Return the strokes of a hatch over the flagged cells of a field, row 0 at the bottom.

    angle : [deg]; spacing : [m] of paper between strokes
    """
    rows, columns = flags.shape
    turn = math.radians(angle)
    along, aside = (math.cos(turn), math.sin(turn)), (-math.sin(turn), math.cos(turn))
    reach = math.hypot(area.width, area.height)
    step = min(area.width / columns, area.height / rows, 2e-4) / 1.5
    steps = np.arange(-reach, reach, step)
    strokes: list[tuple[Point, ...]] = []
    for number in range(-math.ceil(reach / spacing), math.ceil(reach / spacing) + 1):
        x = number * spacing * aside[0] + steps * along[0]
        y = number * spacing * aside[1] + steps * along[1]
        column = np.floor(x / area.width * columns).astype(int)
        row = np.floor(y / area.height * rows).astype(int)
        inside = (column >= 0) & (column < columns) & (row >= 0) & (row < rows)
        on = np.zeros(steps.size, dtype=np.int8)
        on[inside] = flags[row[inside], column[inside]]
        edges = np.diff(np.concatenate([[0], on, [0]]))
        for a, b in zip(np.flatnonzero(edges == 1), np.flatnonzero(edges == -1), strict=True):
            if b - a > 1:
                ends = ((x[a], y[a]), (x[b - 1], y[b - 1]))
                strokes.append(
                    tuple((area.left + float(u), area.bottom + float(v)) for u, v in ends)
                )
    return tuple(strokes)
