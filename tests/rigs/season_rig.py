"""Places, generated years and the beds of the season's tests.

The weather files are typical years of the U.S. Department of Energy; a typical year carries no
odds, so twenty years are generated from each file's own monthly means.
"""

import os
from dataclasses import dataclass, field
from functools import cache
from pathlib import Path

import pytest
from bench.plain_covers import cover_optics, half_ellipse
from rounds import turns

from hoopwright.climate.demo import demo_weather
from hoopwright.climate.generate import generate
from hoopwright.climate.normals import monthly_normals
from hoopwright.climate.read import read_weather
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Enclosure
from hoopwright.heat.run import BedInRun, Case, place_of, simulate_all
from hoopwright.heat.schedule import Schedule, Visits
from hoopwright.season.bed_years import BedYears, Digest, hours_of, joined
from hoopwright.season.crop_days import Habits, shelter_drop
from hoopwright.season.crops import crops
from hoopwright.season.opening_options import Opening
from hoopwright.season.running import OFF, Covered, open_bed
from hoopwright.season.windows import Window, window

SHARED = Path(os.environ.get("HOOPWRIGHT_SHARED", Path(__file__).parents[3] / "shared"))
FILES = {
    "Bozeman": "USA_MT_Bozeman-Gallatin.Field.726797_TMY3.epw",
    "Burlington": "USA_VT_Burlington.Intl.AP.726170_TMY3.epw",
    "Cheyenne": "USA_WY_Cheyenne.Muni.AP.725640_TMY3.epw",
    "Hibbing": "USA_MN_Hibbing-Chisholm.Hibbing.AP.727455_TMY3.epw",
    "Idaho Falls": "USA_ID_Idaho.Falls-Fanning.Field.725785_TMY3.epw",
}
needs_files = pytest.mark.skipif(
    not (SHARED / "weather").exists(),
    reason="the real weather files are not here (set HOOPWRIGHT_SHARED)",
)
BED = BedInRun(Enclosure(3.66, 0.91, half_ellipse(0.91, 0.6)))


WAYS = (
    Opening("closed"),
    Opening("visits", 0.1),
    Opening("visits", 0.3),
    Opening("always", 0.3),
)


@dataclass(frozen=True)
class Pair:
    """The open bed and the bed under single film at one place, visited and by every way."""

    outside: BedYears
    inside: BedYears
    bare: Digest
    cover: Covered
    how: Habits
    found: dict[str, tuple[Window, Window]] = field(default_factory=dict)

    def windows(self, key: str) -> tuple[Window, Window]:
        if key not in self.found:
            beds = open_bed("open", self.bare), self.cover
            outside, inside = (window(crops()[key], bed, habits=self.how) for bed in beds)
            self.found[key] = outside, inside
        return self.found[key]


def run(weathers) -> tuple[BedYears, ...]:
    march, film, visits = compiled_march(), cover_optics("film-6mil"), Visits(7.5, 18)
    whole = ((1, 1), (12, 31))
    schedules = [Schedule.open_bed(), *(Schedule((way.season(*whole),), visits) for way in WAYS)]
    found = [[] for _ in schedules]
    for weather in weathers:
        at = place_of(weather, BED)
        runs = simulate_all(weather, [Case(BED, film, one, at) for one in schedules], march)
        for held, one in zip(found, runs, strict=True):
            held.append(hours_of(one))
    return tuple(joined("open" if n == 0 else "film", held) for n, held in enumerate(found))


def years_of(name: str, count: int = 20):
    """Return generated years of a place, of the invented valley for "demo"."""
    if name == "demo":
        return list(demo_weather(count))
    normals = monthly_normals(read_weather(SHARED / "weather" / FILES[name]))
    return list(generate(normals, count, 7))


@cache
def pair(name: str) -> Pair:
    outside, *ways = run(years_of(name))
    bare = Digest(outside)
    cover = Covered("film", (OFF, *WAYS), (bare, *(Digest(one) for one in ways)))
    return Pair(outside, ways[2], bare, cover, Habits(shelter_drop=shelter_drop(bare)))


#: Two places a continent apart, and all five in the long round.
REAL = list(FILES)[: turns(2, 5)]
PLACES = ["demo", *(pytest.param(name, marks=needs_files) for name in REAL)]
