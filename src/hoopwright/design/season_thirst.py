"""How much water each crop wants under the plan's cover, and what drip would change."""

from collections.abc import Mapping, Sequence
from dataclasses import fields

import numpy as np

from hoopwright.design.flow import Design
from hoopwright.frozen import dataclass
from hoopwright.heat.results import UnderCover
from hoopwright.season.bed_years import YEAR
from hoopwright.season.crops import Crop
from hoopwright.season.water import DRIP, DailyAir, balance, covered_air, litres
from hoopwright.season.water_coefficients import soil_kinds
from hoopwright.season.windows import Window

#: What fills the bed, for its store of water; the soils of season.soils.
BED_SOIL = "bed-mix"


@dataclass(frozen=True)
class Thirst:
    """Watering of one crop from its earliest start under the plan's cover.

    crop : its key; litres : over its time in the bed; interval : [d] mean between waterings
    by_drip : litres of the same time by drip
    """

    crop: str
    litres: float
    interval: float
    by_drip: float


def thirst_of(
    design: Design,
    runs: Sequence[UnderCover],
    grown: Mapping[str, Crop],
    found: Mapping[str, Mapping[str, Window]],
    own: str,
) -> tuple[Thirst, ...]:
    """Return the watering of each crop from its earliest start, by can and by drip.

    runs : years one after another; a crop that stands over New Year is watered on in the next
    """
    bed = design.bed
    area = bed.inner_length * bed.inner_width
    store = soil_kinds()[BED_SOIL].store()
    passes = {"film": 0.0, "fabric": 1.0, "mesh": 1.0}[design.cover.material.kind]
    wanted = []
    for key, row in found.items():
        window = row[own]
        if window.earliest is None or not np.isfinite(window.harvest.middle):
            continue
        days = min(int(window.harvest.middle - window.earliest.day), YEAR - 1)
        if days < 10:
            continue
        air = _air(runs, window.earliest.day % YEAR, days, passes)
        need = grown[key].water
        by_can = balance(need, air, store, bed.height)
        by_drip = balance(need, air, store, bed.height, watering=DRIP)
        wanted.append(
            Thirst(key, litres(by_can.need, area), by_can.interval, litres(by_drip.need, area))
        )
    return tuple(wanted)


def _air(runs: Sequence[UnderCover], first: int, days: int, passes: float) -> DailyAir:
    """Return the days under the cover, those after New Year from the next year's run."""
    here = min(days, YEAR - first)
    parts = [covered_air(runs[0], first, here, passes)]
    if days > here:
        parts.append(covered_air(runs[1 % len(runs)], 0, days - here, passes))
    return DailyAir(
        *(
            np.concatenate([getattr(part, field.name) for part in parts])
            for field in fields(DailyAir)
        )
    )
