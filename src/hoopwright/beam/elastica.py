"""The curve of an unloaded hoop: a straight pipe bent between two upright feet.

The pipe keeps its length, has one bending stiffness all along, and stands level foot to foot. Only
the half from foot to crown is solved (see `slender`); the other half is its mirror.
"""

from functools import lru_cache

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.beam import slender
from hoopwright.beam.hold import Hold
from hoopwright.beam.panels import Array, Panels, panels, reading
from hoopwright.beam.slender import BentRod
from hoopwright.frozen import dataclass

LEAST_SPAN_SHARE = 0.02
GREATEST_SPAN_SHARE = 0.98
SOLVER_POINTS = 40


@dataclass(frozen=True)
class HoopCurve:
    """An unloaded hoop, from its left foot to its right foot; x from 0 to span, y up from the foot.

    length, span, arc, x, y, rise, least_radius, least_radius_arc, bulge: [m]; angle, foot_angle
    [rad] from the x axis; curvature [1/m], positive where it bends like a hoop.
    thrust_per_stiffness: H / EI [1/m2], positive where the pipe pushes the boards apart.
    foot_curvature: foot moment / EI [1/m], positive where the strap bends the foot hoop-wise.
    bulge: how far each side stands out beyond its foot; 0 where it does not.
    """

    length: float
    span: float
    hold: Hold
    arc: Array
    x: Array
    y: Array
    angle: Array
    curvature: Array
    rise: float
    thrust_per_stiffness: float
    foot_curvature: float
    crown_curvature: float
    foot_angle: float
    least_radius: float
    least_radius_arc: float
    bulge: float


@lru_cache(maxsize=512)
def bend_hoop(length: float, span: float, hold: Hold, points: int = 181) -> HoopCurve:
    """The curve of a pipe of `length` [m] between top straps `span` [m] apart.

    Kept for those who ask again: a search asks thousands of times for a few curves.
    points: how many points, at equal steps of arc, the arrays have; odd, so that one is the crown.
    Range: span / length from 0.02 to 0.98. Source: the elastica (Euler 1744; Love, ch. XIX), solved
    to about 1e-11 of the length.
    """
    _positive(length=length, span=span)
    if points < 3 or points % 2 == 0:
        raise ValueError(f"a hoop's curve needs an odd number of points, 3 or more, not {points}")
    share = span / length
    if share >= 1.0:
        raise ValueError(
            f"the span ({span:g} m) must be shorter than the pipe between the straps ({length:g} m)"
        )
    if not LEAST_SPAN_SHARE <= share <= GREATEST_SPAN_SHARE:
        raise ValueError(
            f"span over length is {share:.3f}; hoops are worked out from "
            f"{LEAST_SPAN_SHARE:g} to {GREATEST_SPAN_SHARE:g}"
        )
    rod = _half_hoop(hold.condition(length / 2.0), (1.0, 0.0, share))
    return _curve(length, span, hold, rod, points)


@lru_cache(maxsize=512)
def length_for_rise(span: float, rise: float, hold: Hold) -> float:
    """Length of pipe between the top straps [m] that stands `rise` [m] high over `span` [m]."""
    _positive(span=span, rise=rise)
    crown = (2.0 * rise / span, -1.0, 0.0)
    # With two straps the hold depends on the length sought: secant steps on the length.
    length = 2.2 * float(np.hypot(rise, span / 2.0))
    past: tuple[float, float] | None = None
    for _ in range(30):
        found = span / _half_hoop(hold.condition(length / 2.0), crown).value(slender.END_X)
        error = found - length
        if hold.spacing == 0.0 or abs(error) < 1e-13 * found:
            length = found
            break
        ahead = 1.0 if past is None else (length - past[0]) / (past[1] - error)
        past, length = (length, error), length + error * ahead
    slack = 1e-9
    if not LEAST_SPAN_SHARE - slack <= span / length <= GREATEST_SPAN_SHARE + slack:
        raise ValueError(
            f"a rise of {rise:g} m over a span of {span:g} m is outside what is worked out here "
            f"(span over length from {LEAST_SPAN_SHARE:g} to {GREATEST_SPAN_SHARE:g})"
        )
    return length


def width_at(curve: HoopCurve, height: ArrayLike) -> Array:
    """Width between the pipe's centrelines [m] at a height [m] above the feet; 0 above the crown.

    Vectorised over height; heights below the feet give the span. Cubic (Hermite) between the
    curve's points, whose slopes are known, so about 1e-7 of the length with the default points.
    """
    wanted = np.atleast_1d(np.asarray(height, dtype=float))
    half = (curve.arc.size + 1) // 2
    x, y, angle = curve.x[:half], curve.y[:half], curve.angle[:half]
    step = curve.arc[1]
    out = np.empty(wanted.shape)
    for index, level in enumerate(wanted.ravel()):
        if level >= curve.rise:
            out.flat[index] = 0.0
            continue
        if level <= 0.0:
            out.flat[index] = curve.span
            continue
        after = int(min(np.searchsorted(y, level), half - 1))
        pair = slice(after - 1, after + 1)
        share = _where_hermite(y[pair], np.sin(angle[pair]) * step, level)
        out.flat[index] = curve.span - 2.0 * _hermite(x[pair], np.cos(angle[pair]) * step, share)
    return out.reshape(np.shape(height))


def _positive(**lengths: float) -> None:
    for name, value in lengths.items():
        if not (np.isfinite(value) and value > 0.0):
            raise ValueError(
                f"the {name} of a hoop must be a length greater than zero, not {value}"
            )


def _hermite(ends: Array, slopes: Array, share: float) -> float:
    """Cubic through two ends [.] with the slopes there (per unit share), at share 0 to 1."""
    t = share
    return float(
        ends[0] * (1.0 + 2.0 * t) * (1.0 - t) ** 2
        + slopes[0] * t * (1.0 - t) ** 2
        + ends[1] * t * t * (3.0 - 2.0 * t)
        + slopes[1] * t * t * (t - 1.0)
    )


def _where_hermite(ends: Array, slopes: Array, level: float) -> float:
    """Share at which the rising cubic reaches a level, by bisection."""
    low, high = 0.0, 1.0
    for _ in range(45):
        middle = 0.5 * (low + high)
        if _hermite(ends, slopes, middle) < level:
            low = middle
        else:
            high = middle
    return 0.5 * (low + high)


Condition = tuple[float, float]
Crown = tuple[float, float, float]


def _half_hoop(foot: Condition, crown: Crown) -> BentRod:
    """Foot to crown, unit half length. crown (a, b, c) binds a * x + b * y = c at the crown."""
    rod = _solved(foot, crown)
    if rod is None:
        raise ValueError("no curve was found for this hoop; its proportions are too extreme")
    return rod


def _solved(foot: Condition, crown: Crown) -> BentRod | None:
    """Newton's method from a rough shape; where that fails, from the half circle outward."""
    rod = _newton(_guess(SOLVER_POINTS, foot, crown), foot, crown)
    if rod is not None or crown[0] == 0.0:
        return rod
    # The half circle: free of thrust, x = y = 2 / pi at the crown of a half of unit length.
    along = _families(SOLVER_POINTS)[0].points
    guess = slender.starting_guess(np.pi / 2.0 * (1.0 - along), np.pi / 2.0)
    miss = (crown[0] + crown[1]) * 2.0 / np.pi - crown[2]
    for left in np.linspace(1.0, 0.0, 26)[1:]:
        rod = _newton(guess, foot, (crown[0], crown[1], crown[2] + miss * left))
        if rod is None:
            return None
        guess = np.concatenate([rod.angle, rod.ends[list(slender.UNKNOWN_ENDS)]])
    return rod


def _newton(guess: Array, foot: Condition, crown: Crown) -> BentRod | None:
    bound = np.zeros((4, 8))
    # Upright foot: angle pi/2. A foot that leans out (angle above pi/2) is pushed back, m < 0 in
    # hoop sense; with m = angle' that is a * m = b * (angle - pi/2).
    bound[0, [slender.START_MOMENT, slender.START_ANGLE]] = foot[0], -foot[1]
    bound[1, slender.END_ANGLE] = 1.0
    bound[2, slender.FORCE_Y] = 1.0
    bound[3, [slender.END_X, slender.END_Y]] = crown[:2]
    targets = np.array([-foot[1] * np.pi / 2.0, 0.0, 0.0, crown[2]])
    return slender.bend(guess, bound, targets)


@lru_cache(maxsize=4)
def _families(points: int) -> tuple[Panels, Array, Array]:
    """Rough shapes to start from: feet upright and swelling more or less; feet free to turn."""
    rule = panels((0.0, 0.5, 1.0), points // 2)
    along = rule.points
    swell = np.linspace(-1.5, 1.5, 61)[:, None]
    upright = np.pi / 2.0 * (1.0 - along) + swell * np.sin(np.pi * along)
    turned = np.linspace(0.05, 2.4, 61)[:, None] * np.cos(np.pi / 2.0 * along)
    return rule, upright, turned


def _guess(points: int, foot: Condition, crown: Crown) -> Array:
    """The rough shape that meets the crown condition best, between upright and free feet."""
    rule, upright, turned = _families(points)
    # A rod with a spring whose compliance is about 0.3 of its own lies half-way.
    free = 1.0 if foot[1] == 0.0 else foot[0] / (foot[0] + 0.3)
    shapes = (1.0 - free) * upright + free * turned
    miss = np.full(shapes.shape[0], -crown[2])
    for share, direction in ((crown[0], np.cos), (crown[1], np.sin)):
        if share != 0.0:
            miss += share * (direction(shapes) @ rule.weights)
    crossing = np.flatnonzero(miss[:-1] * miss[1:] <= 0.0)
    if crossing.size:
        row = int(crossing[0])
        share = miss[row] / (miss[row] - miss[row + 1]) if miss[row] != miss[row + 1] else 0.0
        shape = shapes[row] + share * (shapes[row + 1] - shapes[row])
    else:
        shape = shapes[int(np.argmin(np.abs(miss)))]
    start = (1.0 - free) * np.pi / 2.0 + free * float(shape[0])
    return slender.starting_guess(shape, start)


def _curve(length: float, span: float, hold: Hold, rod: BentRod, points: int) -> HoopCurve:
    half = length / 2.0
    along = np.linspace(0.0, 1.0, points)
    value, integral = _reading(points)
    right = along > 0.5
    mirror = np.where(right, -1.0, 1.0)
    angle = mirror * (value @ rod.angle)
    x_half, y = integral @ np.cos(rod.angle) * half, integral @ np.sin(rod.angle) * half
    x = np.where(right, span - x_half, x_half)
    force, start_moment = rod.value(slender.FORCE_X), rod.value(slender.START_MOMENT)
    # m = m0 + p * y holds exactly, so the curvature needs no derivative of the angle.
    curvature = -(start_moment + force * y / half) / half
    angle[0], angle[-1] = rod.value(slender.START_ANGLE), -rod.value(slender.START_ANGLE)
    x[0], x[-1], y[0], y[-1] = 0.0, span, 0.0, 0.0
    rise = rod.value(slender.END_Y) * half
    foot_curvature = -start_moment / half
    crown_curvature = -(start_moment + force * rise / half) / half
    sharpest_at_foot = abs(foot_curvature) > abs(crown_curvature)
    sharpest = max(abs(foot_curvature), abs(crown_curvature))
    for shared in (x, y, angle, curvature):
        shared.setflags(write=False)
    return HoopCurve(
        length=length,
        span=span,
        hold=hold,
        arc=along * length,
        x=x,
        y=y,
        angle=angle,
        curvature=curvature,
        rise=rise,
        thrust_per_stiffness=-force / half**2,
        foot_curvature=foot_curvature,
        crown_curvature=crown_curvature,
        foot_angle=rod.value(slender.START_ANGLE),
        least_radius=1.0 / sharpest,
        least_radius_arc=0.0 if sharpest_at_foot else half,
        bulge=_bulge(rod) * half,
    )


@lru_cache(maxsize=8)
def _reading(points: int) -> tuple[Array, Array]:
    along = np.linspace(0.0, 1.0, points)
    unit = 2.0 * np.where(along <= 0.5, along, 1.0 - along)
    return reading(panels((0.0, 0.5, 1.0), SOLVER_POINTS // 2), unit)


def _bulge(rod: BentRod) -> float:
    """How far the curve stands outside its foot, unit half length: where the pipe is upright."""
    lean = rod.angle - np.pi / 2.0
    if np.all(lean <= 0.0):
        return 0.0
    last = int(np.flatnonzero(lean > 0.0)[-1])
    (low, high), (out, back) = rod.rule.points[last : last + 2], lean[last : last + 2]
    for _ in range(6):
        # Regula falsi inside one gap between points; the angle is nearly straight there.
        middle = low + (high - low) * out / (out - back)
        value, integral = reading(rod.rule, np.array([middle]))
        leans = float((value @ rod.angle)[0]) - np.pi / 2.0
        (low, out), (high, back) = (
            ((middle, leans), (high, back)) if leans > 0.0 else ((low, out), (middle, leans))
        )
        if abs(leans) < 1e-9:
            break
    return max(0.0, -float((integral @ np.cos(rod.angle))[0]))
