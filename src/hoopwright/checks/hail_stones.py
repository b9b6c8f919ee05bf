"""Which hailstone goes through the cover, new and at the end of its life."""

from __future__ import annotations

from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.loads.hail import air_density, cover_limit, dart_energy
from hoopwright.tables.spread import Spread

#: A mesh stops stones until they tear it; its energy is taken as that of film of this dart mass
#: for each newton per metre of break force (an assumption, marked wide).
MESH_DART_PER_FORCE = 4.0e-5


def stone_through(standing: Standing, aged: bool) -> Rung:
    """Return the stone that goes through, by the cover's dart rating."""
    material = standing.cover.material
    strength = material.strength
    if strength.dart_impact is not None:
        dart, source = strength.dart_impact.value, strength.dart_impact.source
    else:
        dart = strength.break_force.value * MESH_DART_PER_FORCE
        source = "Assumption: impact energy in proportion to break force"
    share = strength.strength_kept.value if aged else 1.0
    thin = float(air_density(standing.site.elevation or 0.0))
    limit = cover_limit(float(dart_energy(dart)), share_left=share, density_of_air=thin)
    stone = limit.diameter
    low = max(stone.low, material.opening or 0.0)
    when = "at the end of its life" if aged else "new"
    return Rung(
        name="hail-through-old" if aged else "hail-through-new",
        hazard="hail",
        at=Spread(low, max(low, stone.likely), max(low, stone.high)),
        kind="tape",
        happens=f"Hailstones go through the {{cover}} {when}; smaller ones it very likely stops.",
        harm="repair",
        case=f"cover {when}, drawn taut",
        do="Lay a hail net or shade cloth over the film in hail season.",
        sources=(source, "Dart energy against a stone's energy, ASTM D1709 method A; +-50 %"),
        values={"cover": material.name},
    )
