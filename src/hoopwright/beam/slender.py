"""A straight slender rod bent far by forces at its ends: the equation of the elastica, solved.

Unit length, unit bending stiffness, no change of length. With the angle t from the x axis, the
constant internal force (p, q) of the part beyond on the part before, and the moment m = t':

    m' = p sin t - q cos t        (Love, Treatise on the Mathematical Theory of Elasticity, ch. XIX)

Integrated twice and held at Gauss points, with Newton's method. Angle, force and place are found to
about 1e-12, for curves with and without a point of inflection alike, so no case needs a formula of
its own. The closed forms in elliptic integrals are the tests' business.
"""

from functools import lru_cache

import numpy as np

from hoopwright.beam.panels import Array, Panels, panels
from hoopwright.frozen import dataclass

# Order of the eight quantities that the four end conditions may bind.
START_ANGLE, START_MOMENT, END_ANGLE, END_MOMENT, FORCE_X, FORCE_Y, END_X, END_Y = range(8)
UNKNOWN_ENDS = (START_ANGLE, START_MOMENT, FORCE_X, FORCE_Y)


@dataclass(frozen=True)
class BentRod:
    """A solved rod of unit length and stiffness: angles at the rule's points; end values."""

    rule: Panels
    angle: Array
    ends: Array

    def value(self, which: int) -> float:
        """One of the eight end values, named by the constants of this module."""
        return float(self.ends[which])


@lru_cache(maxsize=8)
def _rule(points: int) -> tuple[Panels, Array, Array]:
    rule = panels((0.0, 0.5, 1.0), points // 2)
    twice = rule.running @ rule.running
    return rule, twice, rule.weights @ rule.running


def _ends(z: Array, points: int) -> tuple[Array, Array]:
    """End values for the unknowns z = (angles, start angle, start moment, p, q), and M'."""
    rule, _, weights_running = _rule(points)
    angle, (start, moment, p, q) = z[:-4], z[-4:]
    sine, cosine = np.sin(angle), np.cos(angle)
    slope = p * sine - q * cosine
    return np.array(
        [
            start,
            moment,
            start + moment + weights_running @ slope,
            moment + rule.weights @ slope,
            p,
            q,
            rule.weights @ cosine,
            rule.weights @ sine,
        ]
    ), slope


def _step(z: Array, conditions: Array, targets: Array, points: int) -> tuple[Array, Array]:
    """Residual and its derivative."""
    rule, twice, weights_running = _rule(points)
    count = points
    angle, (start, moment, p, q) = z[:-4], z[-4:]
    sine, cosine = np.sin(angle), np.cos(angle)
    ends, slope = _ends(z, points)
    residual = np.empty(count + 4)
    residual[:count] = angle - start - moment * rule.points - twice @ slope
    residual[count:] = conditions @ ends - targets
    turning = p * cosine + q * sine
    derivative = np.zeros((count + 4, count + 4))
    derivative[:count, :count] = -twice * turning
    derivative[np.arange(count), np.arange(count)] += 1.0
    derivative[:count, count] = -1.0
    derivative[:count, count + 1] = -rule.points
    derivative[:count, count + 2] = -twice @ sine
    derivative[:count, count + 3] = twice @ cosine
    by_end = np.zeros((8, count + 4))
    by_end[START_ANGLE, count] = 1.0
    by_end[START_MOMENT, count + 1] = 1.0
    for row, weight in ((END_ANGLE, weights_running), (END_MOMENT, rule.weights)):
        by_end[row, :count] = weight * turning
        by_end[row, count + 2] = weight @ sine
        by_end[row, count + 3] = -weight @ cosine
    by_end[END_ANGLE, count : count + 2] = 1.0
    by_end[END_MOMENT, count + 1] = 1.0
    by_end[FORCE_X, count + 2] = 1.0
    by_end[FORCE_Y, count + 3] = 1.0
    by_end[END_X, :count] = -rule.weights * sine
    by_end[END_Y, :count] = rule.weights * cosine
    derivative[count:] = conditions @ by_end
    return residual, derivative


def bend(
    guess: Array, conditions: Array, targets: Array, tolerance: float = 1e-11, most: int = 40
) -> BentRod | None:
    """Newton's method from a guess (angles, start angle, start moment, p, q); None where it fails.

    conditions, targets: four linear conditions on the eight end values. The step is limited so that
    no angle moves more than 0.7 rad at once. tolerance: what may be left of any angle [rad]; after
    a round that is about the square of its change, and a tenth is kept in hand.
    """
    points = guess.size - 4
    z = guess.copy()
    for _ in range(most):
        residual, derivative = _step(z, conditions, targets, points)
        try:
            change = np.linalg.solve(derivative, residual)
        except np.linalg.LinAlgError:
            return None
        largest = float(np.max(np.abs(change[: points + 1])))
        if not np.isfinite(largest):
            return None
        z -= change * min(1.0, 0.7 / largest) if largest > 0.0 else change
        if largest * largest < 0.1 * tolerance:
            return BentRod(_rule(points)[0], z[:points], _ends(z, points)[0])
    return None


def starting_guess(angle: Array, start: float) -> Array:
    """Unknowns for a guessed shape; the moment and forces that fit it best, by least squares."""
    points = angle.size
    rule, twice, _ = _rule(points)
    basis = np.stack([rule.points, twice @ np.sin(angle), -(twice @ np.cos(angle))], axis=1)
    best = np.linalg.lstsq(basis, angle - start, rcond=None)[0]
    return np.concatenate([angle, [start], best])
