"""Which hailstone goes through the cover, new and at the end of its life."""

import numpy as np

from hoopwright.checks.inputs import Inputs
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.loads.hail import air_density, dart_energy, diameter_of_energy
from hoopwright.tables.spread import Spread

#: A mesh stops stones until they tear it; its energy is taken as that of film of this dart mass
#: for each newton per metre of break force (an assumption, marked wide).
MESH_DART_PER_FORCE = 4.0e-5
#: Energy that goes through over the dart's [-], 5, 50 and 95 %: a stone's head is smaller than a
#: dart's, which is worse, and the panel larger, which is better; half either way (assumption).
DOUBT = (0.5, 1.0, 1.5)


def stone_through(standing: Standing, inputs: Inputs, aged: bool) -> Rung:
    """Return the stone that goes through, by the cover's dart rating."""
    material = standing.cover.material
    strength = material.strength
    if strength.dart_impact is not None:
        dart, source = strength.dart_impact.likely, strength.dart_impact.source
    else:
        dart = strength.break_force.likely * MESH_DART_PER_FORCE
        source = "Assumption: impact energy in proportion to break force"
    share = strength.strength_kept.likely if aged else 1.0
    thin = float(air_density(standing.site.elevation or 0.0))
    energy = float(dart_energy(dart)) * share
    bears = inputs.draws.of(
        "energy that the cover stands", Spread(*(energy * one for one in DOUBT))
    )
    stone = diameter_of_energy(bears, density_of_air=thin)
    when = "at the end of its life" if aged else "new"
    return Rung(
        name="hail-through-old" if aged else "hail-through-new",
        hazard="hail",
        at=np.maximum(stone, material.opening or 0.0),
        happens=f"Hailstones go through the {{cover}} {when}; smaller ones it very likely stops.",
        harm="repair",
        case=f"cover {when}, drawn taut",
        do="Lay a hail net or shade cloth over the film in hail season.",
        sources=(source, "Dart energy against a stone's energy, ASTM D1709 method A; +-50 %"),
        values={"cover": material.name},
    )
