"""Rain that soaks into lying snow, and clear ice on the cover: when the first thing gives; and
which hailstone goes through it, new and at the end of its life."""

from collections.abc import Sequence

import numpy as np

from hoopwright.checks.hoop_in_snow import depth, ice_cracks
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.read_off import Floats, Reader
from hoopwright.checks.rung import Harm, Rung, by_care
from hoopwright.checks.standing import Standing
from hoopwright.loads.hail import air_density, dart_energy, diameter_of_energy
from hoopwright.tables.constants import STANDARD_GRAVITY, WATER_DENSITY
from hoopwright.tables.spread import Spread

ICE = 917.0  # [kg/m3] free of air, as `loads_snow_kind` has it at most
SOAKED = "settled"
_ICE_DO = (
    "Take the cover off before freezing rain. Let the ice melt: knocking it off cracks cold pipe."
)


def rain_on_snow_rung(inputs: Inputs, snow: Sequence[Rung]) -> Rung:
    """Return the depth of settled snow that is too much once rain falls on it.

    snow : the rungs of snow. Snow keeps a share of its pores full of water; the rest drains.
    """
    serious = [r for r in snow if r.case.startswith(SOAKED) and r.harm != "nuisance"]
    first = by_care(serious)[0]
    load = np.stack([rung.load for rung in serious if rung.load is not None]).min(axis=0)
    density = inputs.density(SOAKED)
    kept = inputs.doubt("share of its pores that snow keeps full in rain")
    wet = density + kept * pores(density)
    return Rung(
        name="rain-on-settled",
        hazard="snow",
        at=np.asarray(load / STANDARD_GRAVITY / wet),
        happens=f"Rain soaks into settled snow this deep, and then: {first.happens}",
        harm=first.harm,
        case=f"rain on {SOAKED} snow",
        do="Clear the snow off before it rains.",
        sources=(
            "Water that drained snow keeps: 7 % of pores, Coleou and Lesaffre 1998, from memory",
            *first.sources,
        ),
        values=first.values,
        load=load,
    )


def pores(density: Floats) -> Floats:
    """Return the water that fills all pores of dry snow of a density [kg/m3]: geometry."""
    return np.asarray(WATER_DENSITY * (1 - np.asarray(density) / ICE))


def ice_rung(standing: Standing, reader: Reader, tears: Floats) -> Rung:
    """Return the thickness of a sheet of clear ice, all over the cover, that is too much.

    tears : [Pa] load at which the film gives. Only the ice's weight counts; that a shell of ice
    also stiffens the cover is left out, which is the safe side until it cracks. On a net it is
    the ice evened out over the net's area.
    """
    limit = standing.hoop.pipe.strain_under_load(0.0)
    ways: list[tuple[Floats, str, Harm]] = [
        (
            reader.snow_lies_over([reader.hoop.ice_row], ("ice",)).pressure,
            "the hoop folds",
            "loss",
        ),
        (
            ice_cracks(reader).pressure,
            "the pipe passes {low:strain} to {high:strain} of strain and cracks or folds",
            "loss",
        ),
        (tears, "the {cover} stretches down between the hoops and tears", "repair"),
    ]
    loads = np.stack([way[0] for way in ways])
    first = int(np.bincount(loads.argmin(axis=0), minlength=len(ways)).argmax())
    load = loads.min(axis=0)
    return Rung(
        name="ice-on-cover",
        hazard="ice",
        at=depth(reader.inputs, load, "glaze ice"),
        happens=f"Under a sheet of clear ice this thick {ways[first][1]}.",
        harm=ways[first][2],
        case="clear ice all over the cover",
        do=_ICE_DO,
        sources=(
            "Weight of glaze: ISO 12494 table 1, 900 kg/m3, from memory",
            "Loaded elastica (computed)",
        ),
        values={"low": limit.low, "high": limit.high, "cover": standing.cover.material.name},
        load=load,
    )


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
