"""The extension rule for planting dates, against the windows of the open bed.

Colorado State University Extension, CMG GardenNotes 720, Vegetable Planting Guide (read): hardy
vegetables may be planted as early as two to four weeks before the average last spring frost,
semi-hardy ones up to two weeks before it, tender ones about its date, very tender ones two weeks
after it or later. Dates "as early as" are bold; ours keep nine years in ten, so they may be later.
"""

import os
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from bench.plain_covers import cover_optics, half_ellipse

from hoopwright.climate.demo import demo_weather
from hoopwright.climate.generate import generate
from hoopwright.climate.normals import monthly_normals
from hoopwright.climate.read import read_weather
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Enclosure
from hoopwright.heat.run import BedInRun, simulate
from hoopwright.heat.schedule import Schedule
from hoopwright.season.bed_years import Digest, bed_years
from hoopwright.season.crop_days import Habits, shelter_drop
from hoopwright.season.crops import crops
from hoopwright.season.windows import window

SHARED = Path(os.environ.get("HOOPWRIGHT_SHARED", Path(__file__).parents[3] / "shared"))
needs_files = pytest.mark.skipif(
    not (SHARED / "weather").exists(),
    reason="the real weather files are not here (set HOOPWRIGHT_SHARED)",
)
BED = BedInRun(Enclosure(3.66, 0.91, half_ellipse(0.91, 0.6)))
HARDY = [
    "broccoli",
    "cabbage",
    "kohlrabi",
    "onion",
    "lettuce-leaf",
    "pea",
    "radish",
    "spinach",
    "turnip",
]
SEMI_HARDY = ["beet", "carrot", "cauliflower", "parsley", "parsnip", "potato", "chard"]
TENDER = ["snap-bean", "sweet-corn", "cucumber", "summer-squash"]
VERY_TENDER = ["melon", "eggplant", "pepper", "tomato", "watermelon", "winter-squash"]
FILES = {
    "Bozeman": "USA_MT_Bozeman-Gallatin.Field.726797_TMY3.epw",
    "Burlington": "USA_VT_Burlington.Intl.AP.726170_TMY3.epw",
    "Cheyenne": "USA_WY_Cheyenne.Muni.AP.725640_TMY3.epw",
}


@cache
def open_bed(name):
    """Twenty years of an open bed at a place; the average last spring frost of its air [d]."""
    if name == "demo":
        weathers = list(demo_weather(20))
    else:
        weathers = list(
            generate(monthly_normals(read_weather(SHARED / "weather" / FILES[name])), 20, 7)
        )
    film, march = cover_optics("film-6mil"), compiled_march()
    runs = [simulate(one, BED, film, Schedule.open_bed(), march=march) for one in weathers]
    lows = [one.air_temperature.reshape(-1, 24)[:200].min(axis=1) for one in weathers]
    last = np.mean([np.flatnonzero(low <= 0.0)[-1] for low in lows])
    return Digest(bed_years("open", runs)), float(last)


def weeks_before_frost(name, keys):
    """Return by how many weeks the earliest safe start leads the average last frost."""
    digest, last = open_bed(name)
    how = Habits(shelter_drop=shelter_drop(digest))
    found = {key: window(crops()[key], digest, habits=how).earliest for key in keys}
    return {key: (last - day.day) / 7 for key, day in found.items() if day is not None}


PLACES = ["demo", *(pytest.param(name, marks=needs_files) for name in FILES)]


@pytest.mark.parametrize("name", PLACES)
def test_hardy_vegetables_go_in_weeks_before_the_last_frost(name):
    found = weeks_before_frost(name, HARDY)
    assert set(found) == set(HARDY)
    assert np.median(list(found.values())) >= 2.0, found
    assert min(found.values()) >= -1.0, found


@pytest.mark.parametrize("name", PLACES)
def test_semi_hardy_vegetables_go_in_about_the_last_frost_or_before(name):
    found = weeks_before_frost(name, SEMI_HARDY)
    assert len(found) >= len(SEMI_HARDY) - 1
    assert np.median(list(found.values())) >= 0.0, found


@pytest.mark.parametrize("name", PLACES)
def test_tender_vegetables_wait_for_the_last_frost(name):
    found = weeks_before_frost(name, TENDER)
    assert all(weeks <= 1.0 for weeks in found.values()), found


@pytest.mark.parametrize("name", PLACES)
def test_very_tender_vegetables_wait_for_warmth(name):
    found = weeks_before_frost(name, VERY_TENDER)
    assert all(weeks <= 0.5 for weeks in found.values()), found
