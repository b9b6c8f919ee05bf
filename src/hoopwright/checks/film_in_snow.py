"""What snow and water do to the film between hoops: it sags, ponds and tears."""

from __future__ import annotations

import numpy as np

from hoopwright.checks.film_in_wind import film_strength
from hoopwright.checks.hoop_in_snow import depth
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.cover.membrane import dish_width, elastic_span, pocket_volume, pond_sag
from hoopwright.tables.spread import Spread

LOADS = np.geomspace(2.0, 2e4, 80)
#: Film creeps under snow that stays: share of its short-term stiffness (an assumption).
CREPT = 0.3


def film_tears_under(standing: Standing, kind: str) -> Rung:
    """Return the depth of snow at which the film between two hoops gives."""
    strength, source = film_strength(standing)
    material = standing.cover.material
    modulus = material.strength.modulus
    if modulus is not None and material.thickness is not None:
        stiffness = CREPT * modulus.value * material.thickness
    else:
        force, strain = material.strength.break_force, material.strength.break_strain
        stiffness = force.value / strain.value
    pull = np.asarray(elastic_span(LOADS, standing.bay, stiffness).tension)
    ends = [float(np.interp(one, pull, LOADS)) for one in (strength.low, strength.likely)]
    # Creep ruptures film below its yield: a third of yield is what it bears for days.
    low = float(np.interp(strength.low / 3, pull, LOADS))
    at = Spread(min(low, *ends), min(ends), max(ends))
    return Rung(
        name=f"film-tears-{kind.replace(' ', '-')}",
        hazard="snow",
        at=depth(at, kind),
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
    material = standing.cover.material
    modulus = material.strength.modulus
    if modulus is None or material.thickness is None:
        return 0.0, 0.0
    sag = min(
        pond_sag(standing.bay, modulus.value * material.thickness),
        standing.bay / 5,
    )
    radius = 1.0 / abs(standing.hoop.curve.crown_curvature)
    return sag, float(pocket_volume(standing.bay, dish_width(radius, sag), sag))
