"""What snow does to one hoop: the crown sinks, the pipe reaches its limit, the hoop lies over."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hoopwright.checks.followed_hoop import SNOW_CASES, FollowedHoop
from hoopwright.checks.hoop_in_wind import added_strain
from hoopwright.checks.rung import NO_FURTHER, Rung
from hoopwright.checks.standing import Standing
from hoopwright.loads.snow import snow_kinds
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.pipes import Pipe
from hoopwright.tables.spread import Spread

#: The crown has sunk enough to pond and to touch plants (an assumption).
CROWN_DROP_SHARE = 0.1


#: Loads [Pa] of the snow cases, NaN where nothing is passed; True where it is a lower bound only.
_Found = tuple[NDArray[np.float64], NDArray[np.bool_]]


def stiffness_shares(standing: Standing) -> Spread:
    """Return the share of the short-term stiffness that bears snow [-].

    Low: relaxed, as after weeks at the bend and under the load; high: short-term; likely: the
    geometric mean, for snow that lies overnight (an assumption).
    """
    relaxed = standing.hoop.pipe.stuff.relaxation
    return Spread(relaxed.low, float(np.sqrt(relaxed.value)), 1.0)


def depth(load_at: Spread, kind: str) -> Spread:
    """Return the depth [m] of a kind of snow that weighs this much [Pa], weak end first."""
    density = snow_kinds()[kind].density()
    return Spread(
        load_at.low / STANDARD_GRAVITY / density.high,
        load_at.likely / STANDARD_GRAVITY / density.likely,
        load_at.high / STANDARD_GRAVITY / density.low,
    )


def _where(snow: FollowedHoop, values: NDArray[np.float64], threshold: float) -> _Found:
    """Return the flat load [Pa] at which each snow case passes a threshold."""
    return snow.where(values, threshold, snow.snow_rows)


def _least(found: _Found) -> tuple[float, str]:
    """Return the least of the cases' loads and the name of its case."""
    values, short = found
    bounded = np.where(np.isnan(values), np.inf, values)
    first = int(np.argmin(bounded))
    return float(bounded[first]), SNOW_CASES[first] + (NO_FURTHER if short[first] else "")


def crown_sinks(standing: Standing, snow: FollowedHoop, kind: str) -> Rung:
    """Return the depth at which the crown has sunk by a tenth of its height over the boards."""
    drop = CROWN_DROP_SHARE * standing.hoop.crown_over_board
    at, case = _least(_where(snow, snow.response.crown_drop, drop))
    return Rung(
        name=f"crown-sinks-{key_of(kind)}",
        hazard="snow",
        at=depth(stiffness_shares(standing).scaled(at) if at < np.inf else _never(), kind),
        kind="depth",
        happens="The crown sinks {drop:length} and the film sags between the hoops.",
        harm="nuisance",
        case=f"{kind} snow, {case}",
        do="Brush the snow off from inside, upward and outward.",
        sources=_SOURCES,
        values={"drop": drop},
    )


_SOURCES = (
    "Loaded elastica (computed); snow shares ASCE 7-16 chapter 7, from memory",
    "Snow densities from the table, with their range",
)


def _never() -> Spread:
    return Spread(np.inf, np.inf, np.inf)


def key_of(kind: str) -> str:
    """Return a kind of snow as it stands in a rung's name."""
    return kind.replace(" ", "-")


def hoop_lies_over(standing: Standing, snow: FollowedHoop, kind: str) -> Rung:
    """Return the depth at which the hoop sways aside or snaps through."""
    found = snow.gives_way(snow.snow_rows)
    at, case = _least(found)
    sway = "sways aside and folds"
    if at < np.inf:
        row = snow.snow_rows[int(np.nanargmin(found[0]))]
        if bool(snow.path.at_limit_point[row]):
            sway = "is pressed in and snaps through"
    return Rung(
        name=f"hoop-folds-{key_of(kind)}",
        hazard="snow",
        at=depth(stiffness_shares(standing).scaled(at) if at < np.inf else _never(), kind),
        kind="depth",
        happens=f"The hoop {sway}.",
        harm="loss",
        case=f"{kind} snow, {case}",
        do="Hold each leg with two straps, set hoops closer, take stouter pipe, or take the film "
        "off for the winter.",
        sources=_SOURCES,
    )


def _strained(standing: Standing, snow: FollowedHoop, rows: list[int]) -> list[_Found]:
    """Return the loads at which each row passes the cold limit: weak, likely and strong."""
    pipe = standing.hoop.pipe
    limit, left = pipe.strain_under_load(0.0), pipe.stuff.relaxation
    return [
        snow.where(added_strain(snow, standing, remains), bears, rows)
        for bears, remains in (
            (limit.low, left.high),
            (limit.likely, left.value),
            (limit.high, left.low),
        )
    ]


def past_limit(pipe: Pipe) -> str:
    """Return what happens to a pipe in the cold that passes its limit."""
    if pipe.springs:
        return (
            "The pipe, brittle in the cold, passes {low:strain} to {high:strain} of strain and "
            "may crack."
        )
    return "The pipe passes {low:strain} to {high:strain} of strain, yields and folds."


def _cracking(standing: Standing, ends: list[_Found]) -> Spread:
    least = [float(np.nanmin(np.append(values, np.inf))) for values, _ in ends]
    share = stiffness_shares(standing)
    low = share.low * least[0]
    likely = max(low, share.likely * least[1])
    return Spread(low, likely, max(likely, least[2]))


def cracking_loads(standing: Standing, snow: FollowedHoop, rows: list[int]) -> Spread:
    """Return the load [Pa] at which the pipe passes its limit near freezing in any row."""
    return _cracking(standing, _strained(standing, snow, rows))


def pipe_limit(standing: Standing, snow: FollowedHoop, kind: str) -> Rung:
    """Return the depth at which the pipe's fibre strain passes its limit near freezing.

    The bend's own strain has relaxed by the time it snows; what is left of it and the strain
    that the snow adds are held against the limit. How much is left is the relaxation range.
    The strain under a given load goes with the load over the stiffness.
    """
    pipe = standing.hoop.pipe
    limit = pipe.strain_under_load(0.0)
    ends = _strained(standing, snow, snow.snow_rows)
    at = _cracking(standing, ends)
    return Rung(
        name=f"pipe-cracks-{key_of(kind)}",
        hazard="snow",
        at=depth(at, kind),
        kind="depth",
        happens=past_limit(pipe),
        harm="loss",
        case=f"{kind} snow, {_least(ends[1])[1]}",
        do="Brush snow off early; take stouter pipe or a gentler bend.",
        sources=(pipe.stuff.strain_limit_cold.source, *_SOURCES),
        values={"low": limit.low, "high": limit.high},
    )
