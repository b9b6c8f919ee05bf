"""The least stiffness of a loaded hoop against any movement its feet allow.

Least eigenvalue of the tangent on the constraint (turn of the pipe v, unit mean square, feet kept
together and held): stiffness = least of v' K v. Found by inverse iteration on a few movements that
are carried along the path from point to point, so one linear solve that is made anyway suffices.
"""

import numpy as np

from hoopwright.beam.panels import Array


def least_stiffness(weights: Array, modes: Array, moved: Array) -> tuple[Array, Array]:
    """Least stiffness [EI / L^2] and improved movements (cases, points, modes), softest first.

    weights: integration weights. modes: orthonormal movements tried. moved: what the tangent's
    inverse, feet kept, makes of them (cases, points, modes).
    """
    small = np.matmul((modes * weights[:, None]).transpose(0, 2, 1), moved)
    values, vectors = np.linalg.eig(small)
    # The residual's derivative is minus the stiffness, hence the sign.
    with np.errstate(divide="ignore"):
        stiffness = np.where(np.abs(values) > 1e-14, -1.0 / values, np.inf).real
    order = np.argsort(stiffness, axis=1)
    case = np.arange(order.shape[0])
    turned = vectors.real.transpose(0, 2, 1)[case[:, None], order].transpose(0, 2, 1)
    return stiffness[case, order[:, 0]], orthonormal(weights, np.matmul(moved, turned))


def orthonormal(weights: Array, movements: Array) -> Array:
    """Movements made orthonormal in the mean square along the arc, first one kept in direction."""
    root = np.sqrt(weights)[:, None]
    basis, _ = np.linalg.qr(movements * root)
    return np.asarray(basis / root, dtype=float)


def softest_movements(derivative: Array, weights: Array, how_many: int) -> tuple[float, Array]:
    """Least stiffness and the softest movements of one state, from all of its eigenvalues.

    derivative: (n, n), by all unknowns but the factor.
    """
    count = weights.size
    inverse = np.linalg.inv(derivative)[:count, :count]
    values, vectors = np.linalg.eig(inverse)
    large = np.argsort(-np.abs(values))[:how_many]
    stiffness = (-1.0 / values[large]).real
    order = np.argsort(stiffness)
    movements = vectors.real[:, large][:, order]
    return float(stiffness[order[0]]), orthonormal(weights, movements[None])[0]
