"""The drawing in the middle of the page: one view at a time, by its name."""

from __future__ import annotations

import re

from hoopwright.design import Design
from hoopwright.drawing.ladder_views import loaded_by_snow, snow_chart, wind_chart
from hoopwright.drawing.layout import fit, scales, show_lengths
from hoopwright.drawing.odds_chart import GUSTS, odds_chart
from hoopwright.drawing.plots import field
from hoopwright.drawing.scene import View
from hoopwright.drawing.storm import gust_told
from hoopwright.drawing.svg import write_svg
from hoopwright.drawing.view_loaded import loaded_view, wind_cases
from hoopwright.drawing.view_solid import isometric_view, turned_view
from hoopwright.drawing.views import DRAWN, subject_of
from hoopwright.frozen import dataclass
from hoopwright.units import show, to_si

#: Room on the page as paper [m]; the page shows it as wide as it can.
WIDTH, HEIGHT = 0.25, 0.18
#: Least height of letters on a screen [px].
READABLE = 12.1
_LETTERS = re.compile(r'font-size="([\d.]+)"')
_SIZE = re.compile(r' width="([\d.]+)mm" height="([\d.]+)mm"')

VIEWS = {"model": ("Model", isometric_view), **DRAWN}
"""View -> what its button says, and what draws it. `gust` and `snow` are drawn from the ladder.

The model is drawn by the page itself, from `scene_pages`; where it cannot be, this drawing stays.
"""

LOADED = {"gust": "In a gust", "snow": "Under snow"}
NAMES = (*VIEWS, *LOADED)


@dataclass(frozen=True)
class Picture:
    """A drawing for the page: its SVG, and a sentence below it."""

    view: str
    svg: str
    says: str = ""


@dataclass(frozen=True)
class Looking:
    """How a plan is looked at: the view, the gust [mph or km/h], and how far it is turned [deg]."""

    view: str = "model"
    gust: int = 40
    turn: int = 30

    @classmethod
    def of(cls, held: object) -> Looking:
        """Return what was remembered, or the usual; what is out of range is brought into it."""
        data = held if isinstance(held, dict) else {}
        view = data.get("view")
        return cls(
            view if view in NAMES else "model",
            _within(data.get("gust"), 0, 200, 40),
            _within(data.get("turn"), 0, 359, 30),
        )


def _within(value: object, low: int, high: int, usual: int) -> int:
    try:
        return min(high, max(low, int(str(value))))
    except ValueError:
        return usual


def picture(design: Design, looking: Looking) -> Picture:
    """Return the drawing of a view."""
    if looking.view == "gust":
        return _in_a_gust(design, looking.gust)
    if looking.view == "snow":
        view = loaded_by_snow(design)
        return Picture("snow", _drawn(design, view), "True shapes, not exaggerated.")
    subject = subject_of(design)
    if looking.view == "turned":
        says = "Seen from above and turned, the film as if clear; for looking at, not to scale."
        return Picture("turned", _drawn(design, turned_view(subject, looking.turn), False), says)
    view_or_none = VIEWS[looking.view][1](subject)
    if view_or_none is None:
        says = f"This bed has no {VIEWS[looking.view][0].lower()} to draw."
        return Picture(looking.view, "", says)
    return Picture(looking.view, _drawn(design, view_or_none))


def _drawn(design: Design, view: View, titled: bool = True) -> str:
    lengths, series = show_lengths(design.system), scales(design.system)
    return for_page(write_svg(fit(view, WIDTH, HEIGHT, lengths, series, titled=titled)))


def for_page(svg: str) -> str:
    """Return an SVG whose size the page decides; its own, in pixels, is that at which its smallest
    letters can be read, and a phone takes it and scrolls."""
    letters = [float(size) for size in _LETTERS.findall(svg)]
    pixels = READABLE / min(letters) if letters else 1.0

    def sized(found: re.Match[str]) -> str:
        wide, high = (pixels * float(one) for one in found.groups())
        return f' width="{wide:.0f}" height="{high:.0f}" preserveAspectRatio="xMidYMin"'

    return _SIZE.sub(sized, svg, count=1)


def _in_a_gust(design: Design, gust: int) -> Picture:
    unit, most, _ = GUSTS[design.system.name]
    speed = to_si(float(min(gust, most)), unit)
    words = show(speed, "speed", design.system) if gust else "0"
    cases = wind_cases(
        design.standing,
        design.ladder.followed,
        [speed] if gust else [],
        lambda value: show(value, "speed", design.system),
    )
    note = "Wind from the left, sides down. Dashed: no wind. True shape, not exaggerated."
    title = f"The hoop in a gust of {words}"
    view = loaded_view("gust", design.standing, design.ladder.followed, cases, title, note)
    says = gust_told(design, speed)
    return Picture("gust", _drawn(design, view), says)


def charts(design: Design) -> dict[str, dict[str, str]]:
    """Return the charts of the limits page: odds, wind, snow."""
    drawn = {"odds": odds_chart, "wind": wind_chart, "snow": snow_chart}
    return {
        name: field.plotted(draw(design, field.WIDTH), draw(design, field.NARROW))
        for name, draw in drawn.items()
    }
