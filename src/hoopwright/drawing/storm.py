"""A storm as numbers, for a page that shows it: shapes, what gives way when, and the odds.

Shapes come from the followed hoop at nominal stiffness; each rung from the drawn beds. Nothing is
worked out anew on the page, which only looks between the gusts sent.
"""

from collections.abc import Sequence
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hoopwright.answers.ladder_words import stands_words
from hoopwright.answers.strength_words import chance_of
from hoopwright.beam.response import shape, states_at
from hoopwright.checks.followed_hoop import FollowedHoop
from hoopwright.checks.rung import Rung
from hoopwright.design import Design
from hoopwright.drawing.ladder_views import known_rungs, overnight_load, short_name
from hoopwright.drawing.odds_chart import GUSTS, marked_gusts, share_by
from hoopwright.drawing.spatial import rounded, spread
from hoopwright.units import System, show, to_si

#: Wet snow that a slider goes to: the same.
DEPTHS = {"us": ("in", 24, 1), "metric": ("cm", 60, 2)}


def seen_as(name: str) -> str:
    """Return what a rung's failure is drawn as; "" where only words tell it."""
    return known_rungs().get(name.removesuffix("-wet"), {}).get("seen", "")


def storm(design: Design) -> dict[str, Any]:
    """Return wind and wet snow for the sliders: shapes by gust and by depth, rungs, odds."""
    return {"wind": _wind(design), "snow": _snow(design)}


def _wind(design: Design) -> dict[str, Any]:
    unit, most, step = GUSTS[design.system.name]
    found, at = design.ladder, np.arange(0, most + 1, step) * to_si(1.0, unit)
    pressures = np.array([design.standing.wind.pressure(float(gust)) for gust in at])
    followed = found.followed
    return {
        "unit": unit,
        "step": step,
        "most": most,
        "closed": _shapes(design, followed, followed.wind_rows(opened=False)[0], pressures),
        "opened": _shapes(design, followed, followed.wind_rows(opened=True)[0], pressures),
        "rungs": [_rung(rung, unit) for rung in found.wind if np.isfinite(rung.middle)],
        "told": [gust_told(design, float(gust)) for gust in at],
        "odds": {
            name: share_by(head.at, at).round(3).tolist()
            for name, head in (("opens", found.opens), ("lost", found.lost))
        },
        "place": [
            {"years": years, "at": round(gust / to_si(1.0, unit), 1)}
            for years, gust in marked_gusts(design).items()
        ],
    }


def _snow(design: Design) -> dict[str, Any]:
    unit, most, step = DEPTHS[design.system.name]
    found, at = design.ladder, np.arange(0, most + 1, step) * to_si(1.0, unit)
    loads = np.array([overnight_load(design, float(depth)) for depth in at])
    row = found.followed.snow_rows[1]
    wet = [rung for rung in found.snow if rung.name.endswith("-wet") and np.isfinite(rung.middle)]
    return {
        "unit": unit,
        "step": step,
        "most": most,
        "half": _shapes(design, found.followed, row, loads),
        "rungs": [_rung(rung, unit) for rung in wet],
        "told": [
            f"At {number} {unit} of wet snow on one half. "
            f"{passed(wet, float(depth), design.system)}"
            for depth, number in zip(at, range(0, most + 1, step), strict=True)
        ],
    }


def _rung(rung: Rung, unit: str) -> dict[str, Any]:
    size = to_si(1.0, unit)
    return {
        "seen": seen_as(rung.name),
        "careful": round(rung.careful / size, 1),
        "half": round(rung.middle / size, 1),
    }


def gust_told(design: Design, gust: float) -> str:
    """Return what a gust [m/s] does: the odds first, then what gives way."""
    found, system = design.ladder, design.system
    return (
        f"At {show(gust, 'speed', system)} the cover is open on {_share(found.opens.at <= gust)}, "
        f"lost on {_share(found.lost.at <= gust)}. {passed(found.wind, gust, system)}"
    )


def passed(rungs: Sequence[Rung], at: float, system: System) -> str:
    """Return what is past its careful end, what has given way on half of the beds, and next.

    at : gust [m/s] or depth [m]
    """
    gone = [rung for rung in rungs if rung.middle <= at]
    near = [rung for rung in rungs if rung.careful <= at < rung.middle]
    said = []
    if near:
        said.append(f"Beyond what to plan for: {_named(near)}.")
    if gone:
        said.append(f"Given way on half of the beds: {_named(gone)}.")
    if not near and not gone:
        said.append("Nine beds in ten stand it whole.")
    later = [rung for rung in rungs if rung.careful > at and not rung.never]
    if later:
        said.append(f"Next: {_named(later[:1])} at {stands_words(later[0], system)}.")
    return " ".join(said)


def _named(rungs: Sequence[Rung]) -> str:
    return "; ".join(short_name(rung.name.removesuffix("-wet")).lower() for rung in rungs)


def _share(drawn: NDArray[np.bool_]) -> str:
    """Return a share of the drawn beds as a neighbour says it."""
    share = float(drawn.mean())
    if share < 0.05:
        return "hardly any bed"
    return "nearly all beds" if share >= 0.95 else chance_of(share)


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
