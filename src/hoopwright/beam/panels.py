"""Integration along an arc with Gauss points in panels.

A function of the arc is held as its values at Gauss-Legendre points of a few panels. Inside a panel
it is the polynomial through those values, so integrals, values elsewhere and derivatives are exact
matrix products; a load that jumps does so at a panel edge and costs no accuracy.
"""

from functools import cached_property, lru_cache

import numpy as np
from numpy.polynomial import legendre
from numpy.typing import NDArray

from hoopwright.frozen import dataclass

Array = NDArray[np.float64]


@dataclass(frozen=True)
class Panels:
    """Gauss points on the unit arc and the matrices that act on values held there.

    edges: panel edges from 0 to 1 [-]; points: Gauss points [-]; weights: Gauss weights [-].
    running: integral from 0 to each point; to_edges: integral from 0 to each edge.
    """

    edges: Array
    points: Array
    weights: Array
    running: Array
    to_edges: Array
    points_each: int

    @cached_property
    def differentiate(self) -> Array:
        """Return the inverse of the running integral: the slope of what is nothing at the foot."""
        return np.asarray(np.linalg.inv(self.running), dtype=float)


def values_and_integrals(at: Array, count: int) -> tuple[Array, Array]:
    """Legendre polynomials 0..count-1 and their integrals from -1, at the given places [-1, 1]."""
    values: Array = np.asarray(legendre.legvander(at, count), dtype=float)
    degree = np.arange(count)
    integrals = np.empty((at.size, count))
    integrals[:, 0] = at + 1.0
    integrals[:, 1:] = (values[:, 2:] - values[:, : count - 1]) / (2.0 * degree[1:] + 1.0)
    return values[:, :count], integrals


@lru_cache(maxsize=64)
def gauss_rule(count: int) -> tuple[Array, Array, Array, Array]:
    """Points, weights, values-to-coefficients and running integral on [-1, 1], `count` points."""
    points, weights = legendre.leggauss(count)
    values, integrals = values_and_integrals(points, count)
    degree = np.arange(count)
    # Gauss points integrate the products of two such polynomials exactly.
    coefficients = (degree[:, None] + 0.5) * values.T * weights
    return points, weights, coefficients, integrals @ coefficients


@lru_cache(maxsize=64)
def panels(edges: tuple[float, ...], points_each: int) -> Panels:
    """Panels between the given edges (first 0, last 1), with `points_each` Gauss points each."""
    local, weights, _, running = gauss_rule(points_each)
    edge = np.asarray(edges, dtype=float)
    if edge[0] != 0.0 or edge[-1] != 1.0 or np.any(np.diff(edge) <= 0.0):
        raise ValueError("panel edges must rise from 0 to 1")
    half = np.diff(edge) / 2.0
    count = half.size * points_each
    points = (edge[:-1, None] + half[:, None] * (local + 1.0)).ravel()
    all_weights = (half[:, None] * weights).ravel()
    whole = np.zeros((count, count))
    to_edges = np.zeros((edge.size, count))
    for panel, width in enumerate(half):
        here = slice(panel * points_each, (panel + 1) * points_each)
        whole[here, : panel * points_each] = all_weights[: panel * points_each]
        whole[here, here] = width * running
        to_edges[panel + 1 :, here] = all_weights[here]
    return Panels(edge, points, all_weights, whole, to_edges, points_each)


def reading(rule: Panels, at: Array) -> tuple[Array, Array]:
    """Matrices that give the value, and the integral from 0, at the given places [0, 1]."""
    _, _, coefficients, _ = gauss_rule(rule.points_each)
    panel = np.clip(np.searchsorted(rule.edges, at, side="right") - 1, 0, rule.edges.size - 2)
    half = np.diff(rule.edges)[panel] / 2.0
    local = (at - rule.edges[panel]) / half - 1.0
    values, integrals = values_and_integrals(local, rule.points_each)
    value = np.zeros((at.size, rule.points.size))
    integral = rule.to_edges[panel].copy()
    columns = panel[:, None] * rule.points_each + np.arange(rule.points_each)
    rows = np.arange(at.size)[:, None]
    value[rows, columns] = values @ coefficients
    integral[rows, columns] = half[:, None] * (integrals @ coefficients)
    return value, integral
