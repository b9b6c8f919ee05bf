"""What snow and water do to the film between hoops: it sags, ponds and tears."""

from __future__ import annotations

from functools import lru_cache

import numpy as np

from hoopwright.checks.film_in_wind import film_stiffness, film_strength, is_film
from hoopwright.checks.hoop_in_snow import depth
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.cover.membrane import dish_width, elastic_span, pocket_volume, pond_sag
from hoopwright.tables.spread import Spread

LOADS = np.geomspace(2.0, 2e4, 80)
#: Film creeps under snow that stays: share of its short-term stiffness (an assumption).
CREPT = 0.3


def crept_stiffness(standing: Standing) -> float:
    """Return the cover's stiffness [N/m] under snow that stays: film crept, fabric as it is."""
    share = CREPT if is_film(standing) else 1.0
    return share * film_stiffness(standing)


def tearing_load(standing: Standing) -> Spread:
    """Return the load [Pa] at which the film between two hoops gives.

    Creep ruptures film below its yield: a third of yield is what it bears for days.
    """
    strength, _ = film_strength(standing)
    pull = _pulls_of_load(standing.bay, crept_stiffness(standing))
    low, likely, sustained = (
        float(np.interp(one, pull, LOADS))
        for one in (strength.low, strength.likely, strength.low / 3)
    )
    return Spread(min(low, sustained, likely), min(low, likely), max(low, likely))


@lru_cache(maxsize=64)
def _pulls_of_load(bay: float, stiffness: float) -> np.ndarray:
    """Return the film's pull [N/m] at each load of the grid."""
    return np.asarray(elastic_span(LOADS, bay, stiffness).tension)


def film_tears_under(standing: Standing, kind: str, load: Spread) -> Rung:
    """Return the depth of snow at which the film between two hoops gives.

    load : [Pa] at which it does, as `tearing_load` has it
    """
    material, (_, source) = standing.cover.material, film_strength(standing)
    return Rung(
        name=f"film-tears-{kind.replace(' ', '-')}",
        hazard="snow",
        at=depth(load, kind),
        kind="depth",
        happens="The {cover} stretches down between the hoops and tears.",
        harm="repair",
        case=f"{kind} snow between hoops",
        do="Set hoops closer, run a ridge line under the film, or brush snow off early.",
        sources=(source, "Elastic membrane between hoops (computed), crept film"),
        values={"cover": material.name},
    )


def pond(standing: Standing) -> tuple[float, float]:
    """Return the sag [m] and the volume [m3] of a pond in one bay of taut film, upper bounds."""
    if not is_film(standing):
        return 0.0, 0.0
    sag = min(
        pond_sag(standing.bay, film_stiffness(standing)),
        standing.bay / 5,
    )
    radius = 1.0 / abs(standing.hoop.curve.crown_curvature)
    return sag, float(pocket_volume(standing.bay, dish_width(radius, sag), sag))
