"""The ground of a plot: rules and numbers at the left, months or hours below."""

from collections.abc import Iterable
from dataclasses import replace

from hoopwright.drawing.font import text_width
from hoopwright.drawing.layout import Layout, lay_out
from hoopwright.drawing.plots.axes import MONTH_MIDDLES, Area, Axis
from hoopwright.drawing.plots.words import EDGE, FREEZING, GAP, LINE, MIDDLE, MONTH, RULE
from hoopwright.drawing.scene import TEXT_SIZE, Anchor, Item, Layer, Point, Text, View
from hoopwright.drawing.svg import write_svg
from hoopwright.frozen import dataclass
from hoopwright.tables.constants import MONTH_STARTS
from hoopwright.units import MONTH_NAMES

#: How long the strokes at an axis's marks are [m of paper].
TICK = 0.0012
FROST = 0.0
"""[degC] where water freezes."""

#: Paper across a plot [m]: of a page, and of a phone, on which its letters are to be read.
WIDTH, NARROW = 0.168, 0.094


@dataclass(frozen=True)
class Size:
    """The paper of a plot [m]: its whole width, and the height of its field."""

    width: float = WIDTH
    height: float = 0.062


def number_room(axis: Axis) -> float:
    """Return the paper left of a field for the numbers of its y axis [m]."""
    return max(text_width(mark.label, TEXT_SIZE) for mark in axis.marks) + GAP


def number_rules(area: Area, unit: str) -> list[Item]:
    """Return a thin rule and a number at each mark of the y axis, the unit at the top one."""
    items: list[Item] = [RULE.trace(*(area.level(mark.at) for mark in area.y.marks))]
    for mark in area.y.marks:
        place = (area.left - GAP, area.up(mark.at) - MIDDLE)
        items.append(Text(place, mark.label, Layer.TEXT, Anchor.END))
    room = number_room(area.y)
    items.append(Text((area.left - room, area.top + 0.75 * LINE), unit))
    return items


def freezing_line(area: Area, value: float = FROST) -> list[Item]:
    """Return the line of freezing across a field of temperatures, where it lies in it."""
    if not area.y.holds(value):
        return []
    return [FREEZING.trace(area.level(value))]


def ticks(area: Area, values: Iterable[float]) -> list[tuple[Point, ...]]:
    """Return a short stroke below a field at each x value."""
    places = map(area.across, values)
    return [((x, area.bottom), (x, area.bottom - TICK)) for x in places]


def words_below(area: Area, y: float) -> list[Item]:
    """Return the words of the x axis's marks, standing on a height of the paper [m]."""
    return [Text((area.across(m.at), y), m.label, Layer.TEXT, Anchor.MIDDLE) for m in area.x.marks]


def month_rules(area: Area, names: bool = True, halves: bool = False) -> list[Item]:
    """Return a thin rule at each start of a month, and the months' names below.

    halves : whether the middle of each month, its 16th, has a tick too
    """
    rule = MONTH if halves else RULE
    items: list[Item] = [rule.trace(*map(area.upright, MONTH_STARTS))]
    items.append(EDGE.trace(area.level(area.y.low), *ticks(area, MONTH_STARTS)))
    if halves:
        items.append(RULE.trace(*(area.upright(day + 15) for day in MONTH_STARTS[:-1])))
    if names:
        items += month_names(area, area.bottom - 0.95 * LINE)
    return items


def month_names(area: Area, y: float) -> list[Item]:
    """Return the months' names in the middle of each, whole where there is room."""
    room = area.width / 12 - GAP
    widest = max(text_width(name, TEXT_SIZE) for name in MONTH_NAMES)
    short = 0 if widest <= room else 3
    if text_width("May", TEXT_SIZE) > room:
        short = 1
    return [
        Text((area.across(middle), y), name[: short or None], anchor=Anchor.MIDDLE)
        for middle, name in zip(MONTH_MIDDLES, MONTH_NAMES, strict=True)
    ]


def plot_layout(view: View) -> Layout:
    """Return a plot ready to be written; its title is among its own words."""
    return lay_out(view, lambda length: f"{1000 * length:.0f}", titled=False, margin=0.001)


def plot_svg(view: View) -> str:
    """Return a plot as one SVG element that stands alone."""
    return write_svg(plot_layout(view))


def plotted(wide: View, narrow: View) -> dict[str, str]:
    """Return a plot for a page: its title, itself, and itself for a phone."""
    narrow = replace(narrow, name=f"{narrow.name}-narrow")
    return {"title": wide.title, "svg": plot_svg(wide), "narrow": plot_svg(narrow)}
