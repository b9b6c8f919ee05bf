"""Rain that soaks into lying snow, and clear ice on the cover: when the first thing gives."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hoopwright.checks.film_in_snow import tearing_load
from hoopwright.checks.followed_hoop import FollowedHoop
from hoopwright.checks.hoop_in_snow import cracking_loads, depth, stiffness_shares
from hoopwright.checks.rung import Harm, Rung
from hoopwright.checks.standing import Standing
from hoopwright.loads.snow import rain_on_snow, snow_kinds
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.spread import Spread, least

WATER, ICE = 1000.0, 917.0
#: Share of its pores [-] that snow keeps full of water once it drains: Coleou and Lesaffre 1998,
#: Annals of Glaciology 26, about 7 %; from memory.
PORES_KEPT = 0.07
SOAKED = "settled"
_ICE_DO = (
    "Take the film off before freezing rain. Let the ice melt: knocking it off cracks cold pipe."
)


def rain_on_snow_rung(snow: Sequence[Rung]) -> Rung:
    """Return the depth of settled snow that is too much once rain falls on it.

    snow : the rungs of snow

    Weak end: all of the standard's surcharge is in the snow, or its pores are full if they hold
    less. Likely: it drains and keeps what snow keeps. Strong end: the rain runs through and off.
    """
    kind = snow_kinds()[SOAKED]
    serious = [r for r in snow if r.case.startswith(SOAKED) and r.harm != "nuisance"]
    dry = least(rung.at for rung in serious)
    first = min(serious, key=lambda rung: rung.at.likely)
    load = dry.low * kind.high * STANDARD_GRAVITY
    surcharge = rain_on_snow(1.0)
    over_full = load / (STANDARD_GRAVITY * (kind.high + pores(kind.high)))
    low = max((load - surcharge) / (STANDARD_GRAVITY * kind.high), over_full)
    likely = dry.likely * kind.likely / (kind.likely + PORES_KEPT * pores(kind.likely))
    return Rung(
        name="rain-on-settled",
        hazard="snow",
        at=Spread(min(low, likely), likely, max(likely, dry.high)),
        kind="depth",
        happens=f"Rain soaks into settled snow this deep, and then: {first.happens}",
        harm=first.harm,
        case=f"rain on {SOAKED} snow",
        do="Clear the snow off before it rains.",
        sources=(
            "Rain on snow: ASCE 7-16 7.10, 5 psf, from memory, as the weak end",
            "Water that drained snow keeps: 7 % of pores, Coleou and Lesaffre 1998, from memory",
            *first.sources,
        ),
        values=first.values,
    )


def pores(density: float) -> float:
    """Return the water that fills all pores of dry snow of a density [kg/m3]: geometry."""
    return WATER * (1 - density / ICE)


def ice_rung(standing: Standing, followed: FollowedHoop) -> Rung:
    """Return the thickness of a sheet of clear ice, all over the cover, that is too much.

    Only its weight counts; that a shell of ice also stiffens the cover is left out, which is the
    safe side until it cracks. On a net it is the ice evened out over the net's area.
    """
    share, row = stiffness_shares(standing), [followed.ice_row]
    gives = float(np.nanmin(np.append(followed.gives_way(row)[0], np.inf)))
    folds = Spread(gives, gives, gives) if math.isinf(gives) else share.scaled(gives)
    limit = standing.hoop.pipe.strain_under_load(0.0)
    ways: list[tuple[Spread, str, Harm]] = [
        (folds, "the hoop folds", "loss"),
        (
            cracking_loads(standing, followed, row),
            "the pipe passes {low:strain} to {high:strain} of strain and cracks or folds",
            "loss",
        ),
        (
            tearing_load(standing),
            "the {cover} stretches down between the hoops and tears",
            "repair",
        ),
    ]
    _, what, harm = min(ways, key=lambda way: way[0].likely)
    return Rung(
        name="ice-on-cover",
        hazard="ice",
        at=depth(least(way[0] for way in ways), "glaze ice"),
        kind="tape",
        happens=f"Under a sheet of clear ice this thick {what}.",
        harm=harm,
        case="clear ice all over the cover",
        do=_ICE_DO,
        sources=(
            "Weight of glaze: ISO 12494 table 1, 900 kg/m3, from memory",
            "Loaded elastica (computed)",
        ),
        values={"low": limit.low, "high": limit.high, "cover": standing.cover.material.name},
    )
