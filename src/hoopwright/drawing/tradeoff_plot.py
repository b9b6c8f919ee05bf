"""What designs cost against what they stand and how warm they keep, the few of them numbered."""

import math
from collections.abc import Callable, Sequence

from hoopwright.drawing.font import text_width
from hoopwright.drawing.plots.axes import Area, Axis, value_axis
from hoopwright.drawing.plots.field import WIDTH, number_room, number_rules, words_below
from hoopwright.drawing.plots.gauge import Gauge
from hoopwright.drawing.plots.words import CHANGED, EDGE, GAP, LINE, MIDDLE, RULE, heading
from hoopwright.drawing.scene import (
    TEXT_SIZE,
    Anchor,
    Circle,
    Group,
    Item,
    Layer,
    Point,
    Shape,
    Text,
    Tone,
    View,
)
from hoopwright.frozen import dataclass

#: Paper of one field's height, and between two fields [m]; of a field, narrower than which it
#: stands under the other.
HEIGHT, BETWEEN, LEAST = 0.056, 0.010, 0.06
SMALL, LARGE, CROSS = 0.0006, 0.0011, 0.0014


@dataclass(frozen=True)
class TradedAgainst:
    """What is set against the cost: its words, its reader's unit, its value of each design [SI].

    least : what the axis spans at least, so that it tells no more than can be known
    """

    words: str
    gauge: Gauge
    values: tuple[float, ...]
    now: float
    least: float = 0.0


def tradeoff_plot(
    title: str,
    costs: Sequence[float],
    against: Sequence[TradedAgainst],
    few: Sequence[int],
    cost_now: float,
    money: Gauge,
    note: str = "",
    width: float = WIDTH,
) -> View:
    """Return one field for each thing set against the cost, side by side where there is room.

    title : the finding;  few : the designs that are numbered, the first of them 1
    cost_now : of the plan as it stands, marked by a cross;  width : [m] of paper
    """
    along = value_axis([costs, [cost_now] if math.isfinite(cost_now) else []], money, count=5)
    wide = (width - BETWEEN * (len(against) - 1)) / len(against)
    across, down = wide + BETWEEN, 0.0
    if wide < LEAST:
        wide, across, down = width, 0.0, HEIGHT + 5.0 * LINE
    items: list[Item] = []
    for number, one in enumerate(against):
        foot = (number * across, -number * down)
        items += _field(foot, wide, along, costs, one, few, cost_now, money)
    items += heading(title, note, 0.0, HEIGHT + 3.0 * LINE, width)
    said = "; ".join(
        f"{n}: {money.show(costs[at])}, "
        + ", ".join(f"{one.gauge.show(one.values[at])} {one.words}" for one in against)
        for n, at in enumerate(few, start=1)
    )
    return View("tradeoff", title, f"{said}.", tuple(items), 1.0)


def _field(
    foot: Point,
    wide: float,
    along: Axis,
    costs: Sequence[float],
    one: TradedAgainst,
    few: Sequence[int],
    cost_now: float,
    money: Gauge,
) -> list[Item]:
    known = [value for value in (*one.values, one.now) if math.isfinite(value)] or [0.0]
    middle = (min(known) + max(known)) / 2
    known += [middle - one.least / 2, middle + one.least / 2]
    upright = value_axis([known], one.gauge, count=5)
    room = number_room(upright)
    left, low = foot
    area = Area(left + room, low, wide - room - 2 * GAP, HEIGHT, along, upright)
    items: list[Item] = [
        *number_rules(area, f"{one.words[:1].upper()}{one.words[1:]}, {one.gauge.mark}"),
        RULE.trace(*(area.upright(mark.at) for mark in along.marks)),
        EDGE.trace(area.level(upright.low)),
        *words_below(area, low - 0.95 * LINE),
        Text((area.right, low - 1.95 * LINE), f"{money.mark} to buy", Layer.TEXT, Anchor.END),
    ]
    points = [area.at(cost, value) for cost, value in zip(costs, one.values, strict=True)]
    rest = [n for n in range(len(points)) if n not in few]
    dots: list[Shape] = [Circle(points[n], SMALL, Layer.SCALE, Tone.DARK) for n in rest]
    if dots:
        items.append(Group(f"others-{one.gauge.mark}", "the other designs", tuple(dots)))
    taken = list(points)
    if math.isfinite(cost_now) and math.isfinite(one.now):
        items.append(_now(area.at(cost_now, one.now)))
        taken.append(area.at(cost_now, one.now))
    free = _placer(area, taken)
    for number, at in enumerate(few, start=1):
        disc = Circle(points[at], LARGE, Layer.SCALE, Tone.INK)
        label = Text(free(points[at], str(number)), str(number), Layer.TEXT, bold=True)
        items.append(Group(f"design-{number}-{one.gauge.mark}", f"design {number}", (disc, label)))
    return items


def _now(at: Point) -> Group:
    x, y = at
    strokes = (
        ((x - CROSS, y - CROSS), (x + CROSS, y + CROSS)),
        ((x - CROSS, y + CROSS), (x + CROSS, y - CROSS)),
    )
    return Group("now", "the plan as it is", (CHANGED.trace(*strokes),))


def _placer(area: Area, taken: Sequence[Point]) -> Callable[[Point, str], Point]:
    """Return what finds a place for a word beside a point: clear of points and of other words."""
    boxes: list[tuple[float, float, float, float]] = [
        (x - LARGE, y - LARGE, x + LARGE, y + LARGE) for x, y in taken
    ]

    def place(at: Point, word: str) -> Point:
        wide, tall, off = text_width(word, TEXT_SIZE, bold=True), 2 * MIDDLE, LARGE + 0.5 * GAP
        x, y = at
        tried = [
            (x + off, y - MIDDLE),
            (x - off - wide, y - MIDDLE),
            (x - wide / 2, y + off),
            (x - wide / 2, y - off - tall),
            *((x + dx, y + dy) for dx in (off, -off - wide) for dy in (off, -off - tall)),
        ]
        for u, v in tried:
            box = (u, v, u + wide, v + tall)
            inside = area.left <= u and u + wide <= area.right + 2 * GAP and v >= area.bottom
            if inside and not any(_touch(box, other) for other in boxes):
                boxes.append(box)
                return u, v
        return tried[0]

    return place


def _touch(
    one: tuple[float, float, float, float], other: tuple[float, float, float, float]
) -> bool:
    apart = one[2] < other[0] or other[2] < one[0] or one[3] < other[1] or other[3] < one[1]
    return not apart
