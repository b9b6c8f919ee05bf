"""A storm as numbers, for a page that shows it: shapes, what gives way when, and the odds.

Shapes come from the followed hoop at nominal stiffness; each rung from the drawn beds. Nothing is
worked out anew on the page, which only looks between the gusts sent.
"""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.answers.strength_words import place_gusts
from hoopwright.answers.voice import sentence
from hoopwright.beam.response import shape, states_at
from hoopwright.checks.followed_hoop import FollowedHoop
from hoopwright.checks.rung import Rung
from hoopwright.design import Design
from hoopwright.drawing.ladder_views import KMH, MPH, short_name
from hoopwright.drawing.spatial import rounded, spread
from hoopwright.loads.snow import snow_kinds
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.units import fill

#: Gusts that the slider goes to: the reader's unit [m/s], the most in it, its step.
GUSTS = {"us": (MPH, 120, 5), "metric": (KMH, 200, 10)}
#: Wet snow that the slider goes to: the reader's unit [m], the most in it, its step.
DEPTHS = {"us": (0.0254, 24, 1), "metric": (0.01, 60, 2)}
#: How often the gusts marked under the slider come [yr].
MARKED_YEARS = (1, 10, 50)
#: What a rung's failure is drawn as.
SEEN = {
    "rail-ties-give": "sides",
    "rails-lift": "sides",
    "clips-open": "film",
    "inner-clips-open": "film",
    "film-tears": "film",
    "battens-let-go": "ends open",
    "end-sheet-zips": "ends open",
    "end-hoops-lean": "ends lean",
    "end-hoops-pulled-over": "ends fall",
    "hoops-fall-along": "ends fall",
    "pipe-kinks": "hoops",
    "hoop-lies-over": "hoops",
    "pipe-cracks": "hoops",
    "hoop-folds": "hoops",
    "crown-sinks": "crown",
    "legs-slip": "legs",
    "legs-slip-opened": "legs",
    "strap-screws-draw": "legs",
    "bed-slides": "slides",
    "bed-tips": "tips",
    "bed-lifts": "lifts",
}


def seen_as(name: str) -> str:
    """Return what a rung's failure is drawn as; "" where only words tell it."""
    return SEEN.get(name.removesuffix("-wet"), "")


def storm(design: Design) -> dict[str, Any]:
    """Return wind and wet snow for the sliders: shapes by gust and by depth, rungs, odds."""
    return {"wind": _wind(design), "snow": _snow(design)}


def _wind(design: Design) -> dict[str, Any]:
    unit, most, step = GUSTS[design.system.name]
    found, at = design.ladder, np.arange(0, most + 1, step) * unit
    pressures = np.array([design.standing.wind.pressure(float(gust)) for gust in at])
    followed = found.followed
    return {
        "unit": "mph" if unit == MPH else "km/h",
        "step": step,
        "most": most,
        "closed": _shapes(design, followed, followed.wind_rows(opened=False)[0], pressures),
        "opened": _shapes(design, followed, followed.wind_rows(opened=True)[0], pressures),
        "rungs": [_rung(rung, design, unit) for rung in found.wind if np.isfinite(rung.middle)],
        "odds": {
            name: [round(float((head.at <= gust).mean()), 3) for gust in at]
            for name, head in (("opens", found.opens), ("lost", found.lost))
        },
        "place": _place(design, unit),
    }


def _place(design: Design, unit: float) -> list[dict[str, float]]:
    """Return the gusts met here once in some years, where the plan says."""
    gusts = place_gusts(design)
    if gusts is None:
        return []
    return [{"years": years, "at": round(gusts.once_in(years) / unit, 1)} for years in MARKED_YEARS]


def _snow(design: Design) -> dict[str, Any]:
    unit, most, step = DEPTHS[design.system.name]
    found, at = design.ladder, np.arange(0, most + 1, step) * unit
    heavy = snow_kinds()["wet"].likely * STANDARD_GRAVITY
    # As on the drawing of the loaded hoop: what lies overnight finds a pipe partly relaxed.
    loads = at * heavy / np.sqrt(design.hoop.pipe.stuff.relaxation.likely)
    row = found.followed.snow_rows[1]
    wet = [rung for rung in found.snow if rung.name.endswith("-wet") and np.isfinite(rung.middle)]
    return {
        "unit": "in" if unit == DEPTHS["us"][0] else "cm",
        "step": step,
        "most": most,
        "half": _shapes(design, found.followed, row, loads),
        "rungs": [_rung(rung, design, unit) for rung in wet],
    }


def _rung(rung: Rung, design: Design, unit: float) -> dict[str, Any]:
    return {
        "name": short_name(rung.name.removesuffix("-wet")),
        "says": sentence(fill(rung.happens, rung.values, design.system)),
        "seen": seen_as(rung.name),
        "careful": round(rung.careful / unit, 1),
        "half": round(rung.middle / unit, 1),
    }


def _shapes(
    design: Design, followed: FollowedHoop, row: int, factors: NDArray[np.float64]
) -> list[list[list[float]]]:
    """Return the free pipe at some load factors [Pa], as far as the case is followed."""
    hoop, path = design.hoop, followed.path
    made = [rounded(spread(hoop.centreline[1:-1]))]
    wanted = np.full((path.factor.shape[0], factors.size - 1), np.nan)
    wanted[row] = factors[1:]
    solved = states_at(path, wanted)
    for point in np.flatnonzero(np.isfinite(solved.factor[row])):
        bent = shape(solved, row, int(point))
        line = np.column_stack([bent.x - hoop.span / 2, bent.y + hoop.hold_height])
        made.append(rounded(spread(line)))
    return made
