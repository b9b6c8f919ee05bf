"""Rain that soaks into lying snow, and clear ice on the cover: when the first thing gives."""

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from hoopwright.checks.hoop_in_snow import depth, ice_cracks
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.read_off import Reader
from hoopwright.checks.rung import Harm, Rung, by_care
from hoopwright.checks.standing import Standing
from hoopwright.tables.constants import STANDARD_GRAVITY, WATER_DENSITY

Floats = NDArray[np.float64]

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
