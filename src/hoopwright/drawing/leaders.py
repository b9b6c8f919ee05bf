"""Words beside the object, each with a line to what it names; kept apart and uncrossed."""

from collections.abc import Sequence
from itertools import pairwise

from hoopwright.drawing.font import text_height, text_width
from hoopwright.drawing.placing import SPACING, Frame, Placed, spread
from hoopwright.drawing.scene import (
    LINE_PITCH,
    TEXT_SIZE,
    Anchor,
    Circle,
    Layer,
    Leader,
    Point,
    Polyline,
    Shape,
    Side,
    Text,
    Tone,
)

_LINE = LINE_PITCH * TEXT_SIZE


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    def turn(p: Point, q: Point, r: Point) -> float:
        return (q[0] - p[0]) * (r[1] - p[1]) - (q[1] - p[1]) * (r[0] - p[0])

    return turn(a, b, c) * turn(a, b, d) < 0 and turn(c, d, a) * turn(c, d, b) < 0


def _size(leader: Leader, frame: Frame) -> float:
    """Return how much of the side the words take [m of paper]."""
    lines = leader.text.split("\n")
    if frame.side.horizontal:
        return max(text_width(line, TEXT_SIZE) for line in lines)
    return len(lines) * _LINE


def _places(leaders: Sequence[Leader], frame: Frame, gap: float) -> list[float]:
    sizes = [_size(leader, frame) for leader in leaders]
    separations = [(a + b) / 2 + gap for a, b in pairwise(sizes)]
    return spread([frame.along(leader.tip) for leader in leaders], separations)


def _uncrossed(leaders: Sequence[Leader], frame: Frame, v: float, gap: float) -> list[Leader]:
    """Return the leaders in an order in which no two lines cross, found by swapping neighbours."""
    ordered = sorted(leaders, key=lambda leader: (frame.along(leader.tip), leader.text))
    for _ in range(len(ordered) ** 2):
        ends = [frame.at(u, v) for u in _places(ordered, frame, gap)]
        pairs = (
            (i, j)
            for i in range(len(ordered))
            for j in range(i + 1, len(ordered))
            if _cross(ordered[i].tip, ends[i], ordered[j].tip, ends[j])
        )
        found = next(pairs, None)
        if found is None:
            break
        i, j = found
        ordered[i], ordered[j] = ordered[j], ordered[i]
    return ordered


def place_leaders(
    leaders: Sequence[Leader], frame: Frame, start: float
) -> tuple[tuple[Placed, ...], float]:
    """Return the leaders of one side where they stand, and how far out they reach.

    start : [m of paper] outward from the object's edge
    """
    if not leaders:
        return (), start
    v = start + SPACING.first
    gap = SPACING.label_gap * (3 if frame.side.horizontal else 1)
    ordered = _uncrossed(leaders, frame, v, gap)
    places = _places(ordered, frame, gap)
    placed = [_draw(leader, u, v, frame) for leader, u in zip(ordered, places, strict=True)]
    if frame.side.horizontal:
        deepest = max(len(leader.text.split("\n")) for leader in leaders) * _LINE
    else:
        deepest = max(
            text_width(line, TEXT_SIZE) for leader in leaders for line in leader.text.split("\n")
        )
    return tuple(placed), v + SPACING.shoulder + SPACING.text_gap + deepest


def _draw(leader: Leader, u: float, v: float, frame: Frame) -> Placed:
    layer = Layer.DECISION if leader.decision else Layer.DIMENSIONS
    words = Layer.DECISION if leader.decision else Layer.TEXT
    lines = leader.text.split("\n")
    down, up = text_height(TEXT_SIZE)
    block = (len(lines) - 1) * _LINE + up + down
    dot = Circle(leader.tip, 0.0005 * frame.scale, layer, Tone.INK)
    if frame.side.horizontal:
        path: tuple[Point, ...] = (leader.tip, frame.at(u, v))
        far = v + SPACING.text_gap
        top = far + block if frame.side is Side.ABOVE else far
        sign = -1 if frame.side is Side.ABOVE else 1
        texts = [
            Text(frame.at(u, top + sign * (up + i * _LINE)), line, words, Anchor.MIDDLE)
            for i, line in enumerate(lines)
        ]
    else:
        path = (leader.tip, frame.at(u, v), frame.at(u, v + SPACING.shoulder / 2))
        anchor = Anchor.START if frame.side is Side.RIGHT else Anchor.END
        far = v + SPACING.shoulder / 2 + SPACING.text_gap
        texts = [
            Text(frame.at(u + block / 2 - up - i * _LINE, far), line, words, anchor)
            for i, line in enumerate(lines)
        ]
    shapes: tuple[Shape, ...] = (Polyline(path, layer), dot, *texts)
    return Placed(leader, shapes, (), leader.tip, (), tuple(lines))
