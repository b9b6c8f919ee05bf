"""What snow and water do to the film between hoops: it sags, ponds and tears."""

from __future__ import annotations

import numpy as np

from hoopwright.checks.film import (
    SUSTAINED,
    Floats,
    crept,
    drawn_strength,
    film_strength,
    is_film,
    pressure_of_pull,
)
from hoopwright.checks.hoop_in_snow import depth, key_of
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing


def tearing_load(standing: Standing, inputs: Inputs) -> Floats:
    """Return the load [Pa] at which the film between two hoops gives, for each draw.

    Creep ruptures film below its yield; it also lets it sag, which eases it.
    """
    left = inputs.doubt(SUSTAINED) if is_film(standing) else 1.0
    strength = drawn_strength(standing, inputs) * left
    soft = inputs.film * crept(standing, inputs)
    return pressure_of_pull(standing, standing.bay, np.asarray(strength), soft)


def film_tears_under(standing: Standing, inputs: Inputs, kind: str, load: Floats) -> Rung:
    """Return the depth of snow at which the film between two hoops gives.

    load : [Pa] at which it does, as `tearing_load` has it
    """
    material, (_, source) = standing.cover.material, film_strength(standing)
    return Rung(
        name=f"film-tears-{key_of(kind)}",
        hazard="snow",
        at=depth(inputs, load, kind),
        kind="depth",
        happens="The {cover} stretches down between the hoops and tears.",
        harm="repair",
        case=f"{kind} snow between hoops",
        do="Set hoops closer, run a ridge line under the film, or brush snow off early.",
        sources=(source, "Elastic membrane between hoops (computed), crept film"),
        values={"cover": material.name},
        load=load,
    )
