"""The season through the whole chain: places, generated years, heat model, windows.

The weather files are typical years of the U.S. Department of Energy; a typical year carries no
odds, so twenty years are generated from each file's own monthly means.
"""

import os
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from bench.plain_covers import cover_optics, half_ellipse
from rounds import turns

from hoopwright.climate.demo import demo_weather
from hoopwright.climate.generate import generate
from hoopwright.climate.normals import monthly_normals
from hoopwright.climate.read.recognise import read_weather
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Enclosure
from hoopwright.heat.run import BedInRun, Case, place_of, simulate_all
from hoopwright.heat.schedule import Schedule, Visits
from hoopwright.season.bed_years import BedYears, Digest, SeasonError, hours_of, joined
from hoopwright.season.crop_days import Habits, shelter_drop
from hoopwright.season.crops import crops
from hoopwright.season.frost_risk import leaf_frost_years
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
KEYS = ("spinach", "lettuce-leaf", "radish", "kale", "pea", "carrot", "snap-bean", "tomato")
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

    def windows(self, key: str) -> tuple[Window, Window]:
        plant = crops()[key]
        bare = open_bed("open", self.bare)
        return window(plant, bare, habits=self.how), window(plant, self.cover, habits=self.how)


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


@cache
def pair(name: str) -> Pair:
    if name == "demo":
        weathers = list(demo_weather(20))
    else:
        weathers = list(
            generate(monthly_normals(read_weather(SHARED / "weather" / FILES[name])), 20, 7)
        )
    outside, *ways = run(weathers)
    bare = Digest(outside)
    cover = Covered("film", (OFF, *WAYS), (bare, *(Digest(one) for one in ways)))
    return Pair(outside, ways[2], bare, cover, Habits(shelter_drop=shelter_drop(bare)))


#: Two places a continent apart, and all five in the long round.
REAL = list(FILES)[: turns(2, 5)]
PLACES = ["demo", *(pytest.param(name, marks=needs_files) for name in REAL)]


@pytest.mark.parametrize("name", PLACES)
def test_whoever_has_a_cover_can_start_whenever_the_open_bed_can(name: str) -> None:
    """For every crop: no start day of the open bed is missing under a cover that may be off."""
    both = pair(name)
    for plant in crops().values():
        a = window(plant, open_bed("open", both.bare), habits=both.how)
        b = window(plant, both.cover, habits=both.how)
        lost = [day for day in range(365) if not a.obstacles[day] and b.obstacles[day]]
        assert not lost, (plant.key, lost)
        if a.earliest is None:
            continue
        assert b.earliest is not None
        assert b.latest is not None
        assert a.latest is not None
        assert b.earliest.day <= a.earliest.day, plant.key
        assert b.latest.day >= a.latest.day, plant.key
        if a.careful is not None:
            assert b.careful is not None
            assert b.careful[0] <= a.careful[0], plant.key


@pytest.mark.parametrize("name", PLACES)
def test_a_cover_lets_more_crops_in_and_adds_start_days(name: str) -> None:
    found = [pair(name).windows(key) for key in KEYS]
    assert sum(b.start_days for _, b in found) > sum(a.start_days for a, _ in found)


@needs_files
def test_a_colder_place_gives_later_dates() -> None:
    """Burlington lies at 101 m, Bozeman at 1349 m with three quarters of its frost-free days.

    Hardy spinach and radish are left out: they go by the soil, and in Bozeman's dry, sunny April
    the soil is warm sooner.
    """
    warm, cold = pair("Burlington"), pair("Bozeman")
    for key in ("lettuce-leaf", "snap-bean"):
        for here, there in zip(warm.windows(key), cold.windows(key), strict=True):
            a, b = here.earliest, there.earliest
            assert a is not None
            if b is not None:
                assert b.day >= a.day - 2, key


def test_the_same_years_three_degrees_colder_give_later_dates() -> None:
    """Where it is frost that holds back; where it is heat, cold lets a crop start sooner."""
    both = pair("demo")
    held = both.outside
    colder = Digest(BedYears("colder", held.air - 3, held.leaf - 3, held.soil - 3))
    for key in KEYS:
        found = window(crops()[key], both.bare)
        a, b = found.earliest, window(crops()[key], colder).earliest
        if a is None:
            assert b is None, key
        elif b is not None and found.stretches[0].before != "heat":
            assert b.day >= a.day, key


@needs_files
def test_the_gain_at_a_high_valley_includes_what_gardeners_say_of_single_film() -> None:
    """Four to five days at each end: common practice, no source.

    Year by year at Bozeman, the days by which the last and first night that kill half-hardy
    leaves (-2.2 degC, 28 degF) move. Measured: 10, 50 and 90 % of years are printed on failure.
    """
    both = pair("Bozeman")
    a, b = leaf_frost_years(both.outside, -2.2), leaf_frost_years(both.inside, -2.2)
    for earlier, later in ((b.last, a.last), (a.first, b.first)):
        won = later - earlier
        low, middle, high = np.quantile(won[np.isfinite(won)], [0.1, 0.5, 0.9])
        assert low <= 4.5 <= high, (low, middle, high)
        assert middle >= 0


@needs_files
def test_a_typical_year_is_refused_odds_through_the_whole_chain() -> None:
    weather = read_weather(SHARED / "weather" / FILES["Cheyenne"])
    outside, *_ = run([weather])
    assert outside.typical_year
    digest = Digest(outside)
    with pytest.raises(SeasonError, match="holds no probabilities"):
        window(crops()["kale"], digest)
