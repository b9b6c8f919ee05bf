"""Comparisons and advice in words: figures in the reader's units, small bars, one sentence each."""

import math
from collections.abc import Sequence

from hoopwright.answers.voice import Voice, listed, sentence
from hoopwright.checks.followed_hoop import STRONGEST_GUST
from hoopwright.heat.compare import HOT
from hoopwright.programme.advise import Advice, Option
from hoopwright.programme.compare import Compared, ComparedFigure, leaves_by_night
from hoopwright.programme.weighing import Worth

#: Figures of which bars are drawn, and how long a bar is.
BARS, BAR = 3, 24
NONE_MEETS = "None meets the wishes. Ask less of the gust, the cost or the gain."


def figure_words(value: float, kind: str, say: Voice) -> str:
    """Return one figure in the reader's units."""
    if math.isnan(value):
        return "unknown"
    if math.isinf(value):
        return "cannot be had" if kind == "money" else "no limit found"
    if kind == "money":
        return say.money(value)
    if kind == "speed" and value >= STRONGEST_GUST:
        return f"over {say.show(STRONGEST_GUST, kind)}"
    return say.show(value, kind)


def table_rows(figures: Sequence[ComparedFigure], say: Voice) -> list[tuple[str, ...]]:
    """Return the lines in which the plans differ, the best of each marked with *."""
    rows = []
    for figure in figures:
        if not figure.differs:
            continue
        cells = [
            figure_words(value, figure.kind, say) + (" *" if n in figure.best else "")
            for n, value in enumerate(figure.values)
        ]
        rows.append((figure.what, *cells))
    return rows


def same_words(figures: Sequence[ComparedFigure], say: Voice) -> str:
    """Return what is the same in all, in one sentence."""
    same = [
        f"{figure.what[:1].lower()}{figure.what[1:]} "
        f"{figure_words(figure.values[0], figure.kind, say)}"
        for figure in figures
        if not figure.differs
    ]
    return f"The same in all: {listed(same)}." if same else ""


def sides_words(figures: Sequence[ComparedFigure], n: int, name: str) -> str:
    """Return in what a plan is better and in what worse than the first."""
    sides = {}
    for word, sense in (("better", 1), ("worse", -1)):
        found = [line.what for line in figures if line.against_first(n) == sense]
        sides[word] = [f"{what[:1].lower()}{what[1:]}" for what in found]
    said = [f"{word} in {listed(whats)}" for word, whats in sides.items() if whats]
    return f"{name}: {'; '.join(said) or 'the same in every figure'}."


def bars(figures: Sequence[ComparedFigure], names: Sequence[str], say: Voice) -> list[str]:
    """Return a small chart: for the few figures that differ most, a bar for each plan."""
    lines: list[str] = []
    width = max(len(name) for name in names)
    for figure in [figure for figure in figures if figure.differs][:BARS]:
        known = [v for v in figure.values if math.isfinite(v)]
        top = max((abs(v) for v in known), default=0.0)
        if top <= 0:
            continue
        better = "more is better" if figure.more_is_better else "less is better"
        lines.append(f"{figure.what} ({better})")
        for name, value in zip(names, figure.values, strict=True):
            length = BAR if not math.isfinite(value) else round(BAR * max(0.0, value) / top)
            shown = figure_words(value, figure.kind, say)
            lines.append(f"  {name:<{width}}  {'#' * length:<{BAR}}  {shown}")
        lines.append("")
    return lines


def warmth_words(compared: Sequence[Compared], say: Voice) -> str:
    """Return of what the warmth in a comparison is, and how roughly it is known."""
    invented = any(one.design.plan.site.weather == "demo" for one in compared)
    return (
        f"Warmth is of one year at the place{' (invented weather)' if invented else ''}, leaves "
        f"against an open bed; one year tells frost-free days roughly. Too hot: air over "
        f"{say.show(HOT, 'temperature')}."
    )


def names_of(compared: Sequence[Compared]) -> list[str]:
    """Return the plans' names, each made short enough for a column."""
    return [one.name if len(one.name) <= 24 else one.name[:23] + "." for one in compared]


def option_words(option: Option, advice: Advice, say: Voice) -> str:
    """Return one design of the front in a sentence: its place, what it is, what it does."""
    return (
        f"{sentence(place_words(option, advice))}: {made_words(option)} "
        f"{does_words(option.worth, say)} {against_words(option.worth, advice.now, say)}"
    )


def made_words(option: Option) -> str:
    """Return what a design is made of."""
    return "; ".join(choice.says for choice in option.choices) + "."


def place_words(option: Option, advice: Advice) -> str:
    """Return where on the front a design stands."""
    found = []
    whole = [one.worth for one in advice.whole]
    worth = option.worth
    if worth.cost <= min(one.cost for one in whole):
        found.append("the cheapest")
    if worth.wind >= min(STRONGEST_GUST, max(one.wind for one in whole)):
        found.append("the strongest")
    if worth in [whole[n] for n in leaves_by_night(whole).best]:
        found.append("the warmest")
    if advice.few and option is advice.few[0]:
        found.append("nearest to the best in all at once")
    return listed(found) if found else "between the others"


def does_words(worth: Worth, say: Voice) -> str:
    """Return what a design costs, bears and gains."""
    careful = figure_words(worth.wind, "speed", say)
    half = figure_words(worth.half, "speed", say)
    words = (
        f"Plan for gusts up to {careful} (half stand {half}; "
        f"{worth.wind_name.replace('-', ' ')} first) and {say.show(worth.snow, 'depth')} of wet "
        f"snow; {figure_words(worth.cost, 'money', say)}"
    )
    if worth.growth is not None:
        degrees = say.show(worth.growth.degrees, "temperature difference")
        words += (
            f"; leaves {degrees} warmer at night, {worth.growth.days} frost-free days more, "
            f"{worth.growth.hot} h over {say.show(HOT, 'temperature')} in the year weighed"
        )
    return words + "."


def against_words(worth: Worth, now: Worth, say: Voice) -> str:
    """Return a design against the plan as it stands."""
    parts = [_more(worth.cost - now.cost, "dearer", "cheaper", say.money)]
    gust = min(worth.wind, STRONGEST_GUST) - min(now.wind, STRONGEST_GUST)
    parts.append(_more(gust, "stronger", "weaker", lambda v: say.show(v, "speed")))
    if worth.growth and now.growth:
        degrees = worth.growth.degrees - now.growth.degrees
        parts.append(
            _more(degrees, "warmer", "colder", lambda v: say.show(v, "temperature difference"))
        )
        if not leaves_by_night([worth, now]).apart(0, 1):
            parts[-1] = "not known to be warmer or colder by night"
    said = [part for part in parts if part]
    return f"Against the plan as it is: {listed(said)}." if said else "As the plan is."


def _more(by, more, less, show) -> str:  # type: ignore[no-untyped-def]
    if abs(by) < 0.05 or not math.isfinite(by):
        return ""
    return f"{show(abs(by))} {more if by > 0 else less}"


def refused_words(advice: Advice) -> str:
    """Return how many designs failed which wish."""
    if not advice.refused:
        return "All could be built and meet the wishes."
    parts = [f"{count:,} for {why}" for why, count in sorted(advice.refused.items())]
    return f"Refused: {listed(parts)}."


def searched_words(advice: Advice) -> str:
    """Return how many designs were weighed, and how many of them none beats."""
    return (
        f"{advice.searched:,} designs weighed, every one of the space. {refused_words(advice)} "
        f"{len(advice.whole)} are beaten by none in cost, strength and warmth at once."
    )
