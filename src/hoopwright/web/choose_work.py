"""Choosing worked out for the page: plans held side by side, and the few that none beats."""

from __future__ import annotations

import math
import os
import re
from collections.abc import Callable, Mapping
from typing import TYPE_CHECKING, Any

from hoopwright.units import UnitError
from hoopwright.units import read as quantity
from hoopwright.web.beside import (
    Beside,
    OtherPlan,
    Progress,
    read_here,
    read_with_weather,
    with_weather,
)

if TYPE_CHECKING:
    from hoopwright.answers.voice import Voice
    from hoopwright.drawing.scene import View
    from hoopwright.programme.advise import Advice, Wish
    from hoopwright.programme.compare import Compared

#: Designs of a search that are shown.
MOST = 6


def wish_of(wishes: Mapping[str, str]) -> tuple[Wish, dict[str, str]]:
    """Return what a search shall hold to, and what is wrong with a wish, by its field."""
    from hoopwright.programme.advise import Wish

    readers: dict[str, Callable[[str], float]] = {
        "hold": lambda words: quantity(words, "speed"),
        "height": lambda words: quantity(words, "length"),
        "cost": lambda words: _number(words, "250"),
        "days": lambda words: round(_number(words, "10")),
    }
    found: dict[str, Any] = {}
    wrong: dict[str, str] = {}
    for key, read in readers.items():
        words = wishes.get(key, "").strip()
        try:
            found[key] = read(words) if words else None
        except (UnitError, ValueError) as error:
            wrong[key] = str(error)
    return (Wish() if wrong else Wish(**found)), wrong


def _number(words: str, example: str) -> float:
    try:
        value = float(words.replace(",", "").lstrip("$€£ "))
    except ValueError:
        raise ValueError(f'"{words[:40]}" is no number; write it like {example}') from None
    if not 0.0 <= value < 1e6:
        raise ValueError(f"{words[:40]} is out of range; accepted are 0 to 1,000,000")
    return value


def searched(text: str, beside: Beside, progress: Progress) -> dict[str, Any]:
    """Return the few designs that none beats, ranked, with what each trades, as `advise` does."""
    from hoopwright.answers.choosing_words import (
        NONE_MEETS,
        against_words,
        does_words,
        made_words,
        place_words,
        searched_words,
    )
    from hoopwright.answers.facts import voice_of
    from hoopwright.answers.season_kept import FIRST_USE
    from hoopwright.answers.voice import sentence
    from hoopwright.design import design_of
    from hoopwright.design.growing import typical_year
    from hoopwright.drawing.plots.field import NARROW, WIDTH, plotted
    from hoopwright.heat.compiled import compiled_before
    from hoopwright.programme.advise import advise, usual_space

    if not compiled_before():
        progress(0.0, FIRST_USE)
    wish, _ = wish_of(dict(beside.wishes))
    with read_with_weather(text, beside) as read:
        design = design_of(read)
        found = advise(
            read,
            usual_space(read, design),
            wish,
            typical_year(read.plan, read.weather_file),
            workers=os.cpu_count() or 1,
            most=MOST,
            progress=lambda done, whole: progress(
                0.995 * done / whole, f"{done:,} of {whole:,} designs weighed, every one."
            ),
        )
    say = voice_of(design)
    progress(0.995, "Drawing the picture.")
    both = [_picture(found, say, width) for width in (WIDTH, NARROW)] if found.few else []
    return {
        "words": searched_words(found),
        "none": "" if found.few else NONE_MEETS,
        "now": does_words(found.now, say),
        "few": [
            {
                "place": sentence(place_words(option, found)),
                "does": does_words(option.worth, say),
                "against": against_words(option.worth, found.now, say),
                "made": made_words(option),
                "sets": dict(option.sets),
            }
            for option in found.few
        ],
        "picture": plotted(*both) if both else None,
        "example": design.order.example_prices,
        "invented": design.plan.site.weather == "demo",
    }


def _picture(found: Advice, say: Voice, width: float) -> View:
    """Return cost against strength and warmth, of every design that none beats."""
    from hoopwright.checks.followed_hoop import STRONGEST_GUST
    from hoopwright.drawing.plots import gauge
    from hoopwright.drawing.plots.gauge import Gauge
    from hoopwright.drawing.tradeoff_plot import TradedAgainst, tradeoff_plot

    worths = [option.worth for option in found.whole]
    costs = [worth.cost for worth in worths]
    winds = tuple(min(worth.wind, STRONGEST_GUST) for worth in worths)
    money = Gauge(re.sub(r"[\d.,\s\u00a0]", "", say.money(0.0)))
    speed, warmer = gauge.wind_speed(say.system), gauge.temperature_difference(say.system)
    now = found.now
    against = [
        TradedAgainst("gust to plan for", speed, winds, min(now.wind, STRONGEST_GUST)),
        TradedAgainst(
            "warmer at night",
            warmer,
            tuple(worth.growth.degrees if worth.growth else math.nan for worth in worths),
            now.growth.degrees if now.growth else math.nan,
            1.0,
        ),
    ]
    low, high = costs.index(min(costs)), winds.index(max(winds))
    title = (
        f"From {say.money(costs[low])} to {say.money(costs[high])} the gust to plan for goes from "
        f"{speed.show(winds[low])} to {speed.show(winds[high])}"
    )
    few = [found.whole.index(option) for option in found.few]
    note = "Each dot a design that none beats; numbers as in the list. Cross: the plan as it is."
    return tradeoff_plot(title, costs, against, few, now.cost, money, note, width)


def compared(text: str, beside: Beside, progress: Progress) -> dict[str, Any]:
    """Return a plan and those held beside it as `compare` does: what of each is better and worse
    than of the first."""
    from hoopwright.answers.choosing_words import (
        figure_words,
        same_words,
        sides_words,
        warmth_words,
    )
    from hoopwright.answers.facts import voice_of
    from hoopwright.answers.labour import labour_of
    from hoopwright.design.growing import typical_year
    from hoopwright.heat.compiled import march_at_hand
    from hoopwright.programme.compare import compare, figures

    march = march_at_hand()
    found: list[Compared] = []
    first = OtherPlan("", text, beside.own, beside.weather)
    plans = [(one, read_here(one.text, one.own)) for one in (first, *beside.others)]
    for number, (one, here) in enumerate(plans):
        name = here.plan.name
        progress(number / len(plans), f"{name}: {number + 1} of {len(plans)} plans.")
        with with_weather(here, one.weather) as read:
            year = typical_year(read.plan, read.weather_file)
            found += compare([(name, read)], [year], march)
    say = voice_of(found[0].design)
    lines = figures(found, lambda design: labour_of(design).likely)
    senses = {1: "better", -1: "worse", 0: ""}
    return {
        "names": [one.name for one in found],
        "rows": [
            {
                "what": line.what,
                "cells": [
                    {
                        "says": figure_words(value, line.kind, say),
                        "sense": senses[line.against_first(n)],
                    }
                    for n, value in enumerate(line.values)
                ],
            }
            for line in lines
            if line.differs
        ],
        "same": same_words(lines, say),
        "sides": [sides_words(lines, n, one.name) for n, one in enumerate(found) if n],
        "warmth": warmth_words(found, say),
    }
