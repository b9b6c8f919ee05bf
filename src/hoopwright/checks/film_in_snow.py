"""What snow and water do to the film between hoops: it sags, ponds and tears."""

import numpy as np

from hoopwright.checks.film import (
    SUSTAINED,
    Floats,
    crept,
    drawn_strength,
    film_stiffness,
    film_strength,
    is_film,
    pressure_of_pull,
)
from hoopwright.checks.hoop_in_snow import CROWN_DROP_SHARE, depth, key_of
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.cover.membrane import load_that_ponds

SNOW_ENDS = "steepness at which snow on film ends, as a sine"
BODY_SLACK = "slack of the cover between hoops"


def tearing_load(standing: Standing, inputs: Inputs) -> Floats:
    """Return the load [Pa] at which the film between two hoops gives, for each draw.

    Creep ruptures film below its yield; it also lets it sag, which eases it.
    """
    soft = inputs.film * crept(standing, inputs)
    return pressure_of_pull(standing, standing.bay, _bears(standing, inputs), soft)


def _bears(standing: Standing, inputs: Inputs) -> Floats:
    """Return the pull that the cover bears under load that stays [N/m]."""
    left = inputs.doubt(SUSTAINED) if is_film(standing) else 1.0
    return np.asarray(drawn_strength(standing, inputs) * left)


def ponds(standing: Standing, inputs: Inputs, sinks: Floats, bears: Floats) -> Floats | None:
    """Return the load of snow [Pa] on the crown whose pocket, filled with water, is too much.

    sinks : [Pa] at which the crown has sunk by its share; bears : [Pa] snow that the hoops bear
    Snow lies on the crown as far as it does not slide; there film sags between hoops, the crown
    with it, and water stands to the height of the bare film beside it. None where water runs
    through or a stiff ridge keeps the film up.
    """
    if not is_film(standing) or standing.ridge_strut > 0:
        return None
    curve, half = standing.hoop.curve, len(standing.hoop.curve.angle) // 2
    ends = np.arcsin(np.minimum(inputs.doubt(SNOW_ENDS), 1.0))
    rim = curve.y.max() - np.interp(-ends, -curve.angle[:half], curve.y[:half])
    stiffness = film_stiffness(standing) * inputs.film * crept(standing, inputs)
    return load_that_ponds(
        rim,
        CROWN_DROP_SHARE * standing.hoop.crown_over_board / sinks,
        standing.bay,
        stiffness,
        inputs.doubt(BODY_SLACK),
        _bears(standing, inputs),
        bears,
    )


def ponds_rung(inputs: Inputs, load: Floats | None) -> Rung | None:
    """Return the depth of wet snow whose pocket at the crown runs away as it fills."""
    if load is None:
        return None
    return Rung(
        name="pocket-fills",
        hazard="snow",
        at=depth(inputs, load, "wet"),
        happens="Under wet snow so deep on the crown the film sags into a pocket between hoops; "
        "rain or meltwater fills it, and its weight tears the film or folds the hoops.",
        harm="loss",
        case="rain or melt on the crown's snow",
        do="Run a ridge pipe under the film, set hoops closer, draw the film tight; clear the "
        "crown before it rains.",
        sources=(
            "Elastic membrane under its own pond between sinking hoops (computed), crept film",
            "How far snow slides and how slack film hangs are assumptions",
        ),
        load=load,
    )


def film_tears_under(standing: Standing, inputs: Inputs, kind: str, load: Floats) -> Rung:
    """Return the depth of snow at which the film between two hoops gives.

    load : [Pa] at which it does, as `tearing_load` has it
    """
    material, (_, source) = standing.cover.material, film_strength(standing)
    return Rung(
        name=f"film-tears-{key_of(kind)}",
        hazard="snow",
        at=depth(inputs, load, kind),
        happens="The {cover} stretches down between the hoops and tears.",
        harm="repair",
        case=f"{kind} snow between hoops",
        do="Set hoops closer, run a ridge line under the film, or brush snow off early.",
        sources=(source, "Elastic membrane between hoops (computed), crept film"),
        values={"cover": material.name},
        load=load,
    )
