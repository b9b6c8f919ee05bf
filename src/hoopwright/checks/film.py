"""The film as a thing that stretches and tears, for wind and snow alike."""

from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from hoopwright.checks.inputs import Inputs
from hoopwright.checks.standing import Standing
from hoopwright.cover.membrane import elastic_span
from hoopwright.tables.spread import Spread

Floats = NDArray[np.float64]

#: Pressures on the film [Pa] at which its pull is worked out.
PRESSURES = np.geomspace(0.5, 4e4, 80)
CREPT = "film stiffness left under load that stays"
SUSTAINED = "film strength left under load that stays"


def is_film(standing: Standing) -> bool:
    """Return whether the cover is a film with a modulus; fabric and mesh go by force alone."""
    material = standing.cover.material
    return material.strength.modulus is not None and material.thickness is not None


def film_stiffness(standing: Standing) -> float:
    """Return the cover's stiffness [N/m]: film E times thickness, else break force over strain."""
    material = standing.cover.material
    strength = material.strength
    if strength.modulus is not None and material.thickness is not None:
        return strength.modulus.likely * material.thickness
    return strength.break_force.likely / strength.break_strain.likely


def crept(standing: Standing, inputs: Inputs) -> Floats | float:
    """Return the share of its stiffness that the cover keeps under snow that stays [-]."""
    return inputs.doubt(CREPT) if is_film(standing) else 1.0


def film_strength(standing: Standing) -> tuple[Spread, str]:
    """Return the pull at which the cover gives [N/m] and where the figure comes from.

    Films: first yield, likely yield, break. Fabrics and meshes: break force with its range.
    """
    material = standing.cover.material
    strength = material.strength
    if strength.yield_stress is None or strength.break_stress is None or not material.thickness:
        return strength.break_force, strength.break_force.source
    thickness, stress = material.thickness, strength.yield_stress
    return (
        Spread(
            stress.low * thickness,
            stress.likely * thickness,
            max(strength.break_stress.likely, stress.likely) * thickness,
        ),
        stress.source,
    )


def drawn_strength(standing: Standing, inputs: Inputs) -> Floats:
    """Return the force [N/m] at which the cover yields, or a fabric breaks, for each draw."""
    return inputs.draws.of("strength of the cover", film_strength(standing)[0])


def pressure_of_pull(standing: Standing, span: float, pull: Floats, softness: Floats) -> Floats:
    """Return the pressure on the film [Pa] at which it pulls so hard [N/m], for each draw.

    span : [m] between the lines that hold it, which do not give; softness : [-] its stiffness
    over the nominal one. Film m times as stiff pulls m times as hard at m times the pressure.
    """
    at = _pulls(span, film_stiffness(standing))
    # What may not pull at all is let down at the first pressure of the grid.
    pulled = np.maximum(pull / softness, at[0])
    met = np.exp(np.interp(np.log(pulled), np.log(at), np.log(PRESSURES)))
    return np.asarray(softness * met)


@lru_cache(maxsize=64)
def _pulls(span: float, stiffness: float) -> Floats:
    """Return the film's pull [N/m] at each pressure of the grid."""
    return np.asarray(elastic_span(PRESSURES, span, stiffness).tension)
