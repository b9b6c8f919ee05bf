"""The reference of the open bed and of the covered one, from the same weather."""

import sys
from pathlib import Path

import numpy as np
import pytest
from bench.plain_covers import cover_optics, half_ellipse

sys.path.insert(0, str(Path(__file__).parents[1] / "heat"))
from heat_rig import open_reference

from hoopwright.climate.demo import demo_weather
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Enclosure
from hoopwright.heat.run import BedInRun, simulate
from hoopwright.heat.schedule import Schedule, Season, Visits
from hoopwright.season.bed_years import SeasonError
from hoopwright.season.crops import crop
from hoopwright.season.water import balance, covered_air
from hoopwright.season.water_coefficients import soil_kinds


@pytest.fixture(scope="module")
def weather():
    return next(demo_weather(1))


@pytest.fixture(scope="module")
def covered(weather):
    bed = BedInRun(Enclosure(3.66, 0.91, half_ellipse(0.91, 0.6)))
    visited = Schedule((Season((1, 1), (12, 31), open_height=0.3, opened="visits"),), Visits())
    return simulate(weather, bed, cover_optics("film-6mil"), visited, march=compiled_march())


def test_the_reference_of_a_high_dry_valley_is_what_such_places_have(weather) -> None:
    """FAO-56 table 2: temperate semi-arid, 4 to 7 mm/d at moderate (20 degC) temperatures; a
    July mean of 16 degC lies between that and the cool row's 2 to 4 (from memory)."""
    july = open_reference(weather, 181, 31)
    assert 3.5 < july.reference.mean() < 7.0
    january = open_reference(weather, 0, 31)
    assert january.reference.mean() < 1.2


def test_film_cuts_the_reference_and_lets_no_rain_in(weather, covered) -> None:
    """Under plastic 20 to 40 % less than in the open is usual (extension and greenhouse
    literature, from memory). Measured here from May to September: see the assertion's band."""
    outside, inside = open_reference(weather, 120, 150), covered_air(covered, 120, 150)
    share = inside.reference.sum() / outside.reference.sum()
    assert 0.55 < share < 0.95
    assert inside.rain.sum() == 0
    assert covered_air(covered, 120, 150, rain_passes=1.0).rain == pytest.approx(outside.rain)


def test_a_covered_bed_must_be_watered_though_it_drinks_less(weather, covered) -> None:
    need, store = crop("lettuce-leaf").water, soil_kinds()["bed-mix"].store()
    out = balance(need, open_reference(weather, 150, 60), store, 0.28)
    under = balance(need, covered_air(covered, 150, 60), store, 0.28)
    assert under.need > 0
    assert under.transpired.sum() < out.transpired.sum() * 1.05
    assert np.isfinite(under.interval)


def test_days_that_are_not_there_are_refused(covered) -> None:
    with pytest.raises(SeasonError, match="cannot be had"):
        covered_air(covered, 360, 10)
