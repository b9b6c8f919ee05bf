"""The odds by gust: of ten beds how many are open, how many lost their cover; the gusts here."""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.answers.strength_words import chance_of, gust_words, place_gusts
from hoopwright.design import Design
from hoopwright.drawing.font import text_width
from hoopwright.drawing.plots.axes import Area, Axis, Mark, value_axis
from hoopwright.drawing.plots.field import WIDTH, number_rules, ticks, words_below
from hoopwright.drawing.plots.gauge import wind_speed
from hoopwright.drawing.plots.words import (
    CHANGED,
    DASHES,
    EDGE,
    GAP,
    HEAVY,
    LINE,
    MIDDLE,
    PLAIN,
    RULE,
    Look,
    heading,
)
from hoopwright.drawing.scene import TEXT_SIZE, Anchor, Fill, Group, Item, Layer, Text, Tone, View
from hoopwright.units import show, to_si

Floats = NDArray[np.float64]

#: Gusts that a chart or a slider goes to: the reader's unit, the most in it, a slider's step.
GUSTS = {"us": ("mph", 120, 5), "metric": ("km/h", 200, 10)}
#: How often the gusts marked under the odds come [yr].
MARKED_YEARS = (1, 10, 50)
HEIGHT = 0.038
POINTS = 121
#: Shares of the beds beside whose place on a curve its word stands [-].
OPEN_WORD, LOST_WORD = 0.8, 0.45
HERE, COUNTED = "here once in, years", "beds in ten"


def share_by(at: Floats, gusts: ArrayLike) -> Floats:
    """Return the share of the drawn beds [-] that give way, at `at` [m/s] each, by each gust."""
    return np.asarray(np.searchsorted(np.sort(at), gusts, side="right") / at.size)


def marked_gusts(design: Design) -> dict[int, float]:
    """Return the gusts [m/s] met here once in some years, by the years; none without a gust."""
    gusts = place_gusts(design)
    return {} if gusts is None else {years: gusts.once_in(years) for years in MARKED_YEARS}


def odds_chart(design: Design, width: float = WIDTH) -> View:
    """Return the curves of the cover opened and lost over the gust, the place's gusts below.

    Told apart by tone and width of line, so that a copier keeps them. width : [m] of paper
    """
    unit, most, _ = GUSTS[design.system.name]
    end = most * to_si(1.0, unit)
    found, gusts = design.ladder, np.linspace(0.0, end, POINTS)
    opens, lost = (share_by(one.at, gusts) for one in (found.opens, found.lost))
    left = text_width("10", TEXT_SIZE) + GAP
    tens = Axis(0.0, 1.0, tuple(Mark(n / 10, f"{n}") for n in range(0, 11, 2)))
    room = text_width(f"{most} {unit}", TEXT_SIZE)
    area = Area(
        left,
        0.0,
        width - left - room,
        HEIGHT,
        value_axis([(0.0, end)], wind_speed(design.system), count=8),
        tens,
    )
    items: list[Item] = [
        *(
            Fill(((area.left, area.bottom), *line, (area.right, area.bottom)), Layer.SCALE, tone)
            for tone, (line,) in (
                (Tone.LIGHT, area.pieces(gusts, opens)),
                (Tone.DARK, area.pieces(gusts, lost)),
            )
        ),
        *number_rules(area, COUNTED),
        RULE.trace(*(area.upright(mark.at) for mark in area.x.marks)),
        EDGE.trace(area.level(0.0), *ticks(area, [mark.at for mark in area.x.marks])),
        *words_below(area, area.bottom - LINE),
        Text((area.right + 2 * GAP + text_width(f"{most}", TEXT_SIZE) / 2, -LINE), unit),
        _curve("cover open", PLAIN, area, gusts, opens, OPEN_WORD, Anchor.END),
        _curve("cover lost", HEAVY, area, gusts, lost, LOST_WORD, Anchor.START),
        *_to_plan_for(design, area),
        *_here(design, area),
    ]
    title = _title(design)
    items += heading(title, "", 0.0, area.top + 1.9 * LINE, width)
    told = (
        f"{title}. The cover is open on one bed in ten at "
        f"{gust_words(found.opens.told[0], design.system)}, on half at "
        f"{gust_words(found.opens.told[1], design.system)}; lost at "
        f"{gust_words(found.lost.told[0], design.system)} and "
        f"{gust_words(found.lost.told[1], design.system)}."
    )
    return View("wind-odds", title, told, tuple(items), 1.0)


def _title(design: Design) -> str:
    """Return the finding: how many beds are open at the plan's gust, or where they are."""
    found, site, system = design.ladder, design.site, design.system
    if site.gust is None:
        careful, half = (gust_words(at, system) for at in found.opens.told[:2])
        return f"One bed in ten is open by {careful}, half by {half}"
    share = float((found.opens.at <= site.gust).mean())
    many = "hardly any bed" if share < 0.05 else chance_of(share)
    return (
        f"At {show(site.gust, 'given speed', system)}, here about once in {site.gust_years:g} "
        f"years, the cover is open on {many}"
    )


def _curve(
    words: str,
    look: Look,
    area: Area,
    gusts: Floats,
    odds: Floats,
    at: float,
    anchor: Anchor,
) -> Group:
    """Return one curve with its word beside it, at the place where it passes a share."""
    drawn = look.trace(*area.pieces(gusts, odds))
    share = min(at, 0.8 * float(odds[-1]))
    x, y = area.at(float(np.interp(share, odds, gusts)), share)
    away = -2 * GAP if anchor is Anchor.END else 2 * GAP
    word = Text((x + away, y - MIDDLE), words, Layer.TEXT, anchor)
    return Group(words.replace(" ", "-"), words, (drawn, word))


def _to_plan_for(design: Design, area: Area) -> list[Item]:
    careful = design.ladder.opens.told[0]
    if not area.x.holds(careful):
        return []
    words = f"plan for {gust_words(careful, design.system)}"
    # Over its line, but beside what the scale counts, which begins at the paper's edge.
    beside = text_width(COUNTED, TEXT_SIZE) + 2 * GAP + text_width(words, TEXT_SIZE) / 2
    x = max(area.across(careful), beside)
    return [
        CHANGED.trace(area.upright(careful)),
        Text((x, area.top + 0.35 * LINE), words, Layer.DECISION, Anchor.MIDDLE),
    ]


def _here(design: Design, area: Area) -> list[Item]:
    """Return the place's gusts as dashes through the field, the years between them below."""
    marked = {years: at for years, at in marked_gusts(design).items() if area.x.holds(at)}
    if not marked:
        return []
    y = area.bottom - 2.2 * LINE
    first = min(area.across(at) for at in marked.values())
    return [
        DASHES.trace(*map(area.upright, marked.values())),
        Text((first - 3 * GAP, y), HERE, Layer.TEXT, Anchor.END),
        *(
            Text((area.across(at), y), f"{years}", Layer.TEXT, Anchor.MIDDLE)
            for years, at in marked.items()
        ),
    ]
