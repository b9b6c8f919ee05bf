"""When a harvest begins and ends, what a crop's rows become, and coefficients at their bounds."""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright.season import windows as windows_room
from hoopwright.season.bed_years import BedYears, Digest
from hoopwright.season.crop_days import Habits, crop_days
from hoopwright.season.crops import crop
from hoopwright.season.harvests import harvest_weeks
from hoopwright.season.losses import Fates
from hoopwright.season.opening_options import Opening
from hoopwright.season.running import ALWAYS_OFF, Rule
from hoopwright.season.water_coefficients import (
    climate_shift,
    depletion_share,
    evaporating_share,
    stress,
)
from hoopwright.season.windows import Window, window

DAY = np.arange(365)


def found(monkeypatch: pytest.MonkeyPatch, key: str, ended: int) -> Window:
    """Ten years; started on days 100 to 139 nothing is lost, ripe 60 days on in half of the years
    and 64 in the rest, dead `ended` days after the start."""
    bad = np.where((DAY < 100) | (DAY > 139), 1.0, np.zeros((10, 365)))
    none = np.zeros((10, 365))
    ripe = DAY + np.where(np.arange(10) < 5, 60, 64)[:, None]
    fate = Fates(
        emerged=ripe - 50, flowering=ripe - 20, picked=ripe, ripe=ripe,
        ended=DAY + ended + 0 * ripe, frost=bad, frost_careful=bad, frost_bold=bad,
        heat=none, bolting=none, unripe=none, cold_soil=none, light=none,
    )  # fmt: skip
    monkeypatch.setattr(windows_room, "tried", lambda *words: [(ALWAYS_OFF, fate)])
    hours = np.full((10, 8760), 15.0)
    return window(crop(key), Digest(BedYears("lab", hours, hours, hours)))


@pytest.mark.parametrize(
    ("key", "days"),
    [("lettuce-leaf", 21), ("carrot", 21), ("lettuce-head", 10), ("snap-bean", 21), ("onion", 21),
     ("tomato", 60)],
)  # fmt: skip
def test_how_long_a_sowing_is_picked(monkeypatch, key, days):
    """Ripe on day 162 of a start on 100, in the middle; picked for so many days, unless half the
    years have ended it on 170, or at once where that was before. Starts on 100 to 139 are picked
    from 162 on to the end of the last, 201 + days: (39 + days) / 7 weeks."""
    made = found(monkeypatch, key, 300)
    assert made.middle_harvest[100] == 162.0
    assert made.cleared[100] == 162.0 + days
    assert made.harvest_weeks == pytest.approx((39 + days) / 7.0)
    assert np.isnan(made.middle_harvest[90])
    assert found(monkeypatch, key, 70).cleared[100] == 170.0
    assert found(monkeypatch, key, 30).cleared[100] == 163.0


def test_a_harvest_over_the_turn_of_the_year(monkeypatch):
    """Ten years in which the last start is on day 139, moved to 339: picked into the next year's
    January, which counts as this year's January."""
    made = found(monkeypatch, "lettuce-leaf", 300)
    good = np.roll(np.array([not why for why in made.obstacles]), 200)
    middle = np.full(365, np.nan)
    middle[300:340] = np.arange(300, 340) + 62.0
    weeks = harvest_weeks(good, middle.tolist(), (middle + 21).tolist())
    assert weeks == pytest.approx((39 + 21) / 7.0)


@pytest.mark.parametrize(("sooner", "first"), [(5, True), (7, False)])
def test_a_hundredth_of_loss_is_worth_three_days(monkeypatch, sooner, first):
    """The second way loses 2 % more, in a chance of one in ten: worth six days of waiting."""
    fates = []

    def kept(*words):
        return fates

    monkeypatch.setattr(windows_room, "tried", kept)
    none = np.zeros((10, 365))
    shut = Rule(None, ((0, Opening("closed")),))
    for rule, lost, days in ((ALWAYS_OFF, 0.0, 60), (shut, 0.02, 60 - sooner)):
        ripe = DAY + days + np.zeros((10, 1), dtype=int)
        bad = none + lost
        fates.append((rule, Fates(
            ripe - 50, ripe - 20, ripe, ripe, ripe + 50, bad, bad, bad,
            none, none, none, none, none
        )))  # fmt: skip
    hours = np.full((10, 8760), 15.0)
    made = window(crop("lettuce-leaf"), Digest(BedYears("lab", hours, hours, hours)))
    assert (made.rule == ALWAYS_OFF) is first


def test_how_deep_a_night_goes_into_the_flowers_band():
    """A quarter of the way from the top of the band to its bottom; where lists name shelter air,
    the band of a leaf lies as much lower as leaves are colder."""
    for key in ("tomato", "strawberry"):
        plant = crop(key)
        band = plant.cold.flower_kill
        assert band is not None
        assert band.high > band.low
        night = band.high - 0.25 * (band.high - band.low)
        hours = np.full((1, 8760), night)
        digest = Digest(BedYears("lab", hours, hours, hours))
        drop = 0.0 if plant.flower_read_at_leaf else 1.0
        deep = 0.25 - drop / (band.high - band.low)
        assert crop_days(plant, digest, Habits()).flower == pytest.approx(np.full((1, 365), 0.25))
        found = crop_days(plant, digest, Habits(shelter_drop=1.0)).flower
        assert found == pytest.approx(np.full((1, 365), deep))


def test_flowers_without_a_row_of_their_own_die_as_the_plant_does():
    """Of a pod or a fruit alone: leaves have no flowers to lose, and a row of its own is kept."""
    assert crop("lettuce-leaf").cold.flower_kill is None
    assert crop("carrot").cold.flower_kill is None
    bean, strawberry = crop("snap-bean").cold, crop("strawberry").cold
    assert bean.flower_kill is not None
    assert strawberry.flower_kill is not None
    assert strawberry.flower_kill != strawberry.plant_kill


def test_climate_within_the_papers_range_and_at_its_ends():
    """(0.04 (u2 - 2) - 0.004 (RH - 45)) (h / 3)^0.3: 0.06 at 3 m, 3 m/s and 40 %; wind held to 1 to
    6 m/s, humidity to 20 to 80 %, height to 0.1 to 10 m."""
    assert float(climate_shift(3.0, 0.40, 3.0)) == pytest.approx(0.06)
    assert float(climate_shift(9.0, 0.45, 3.0)) == pytest.approx(0.16)
    assert float(climate_shift(0.2, 0.45, 3.0)) == pytest.approx(-0.04)
    assert float(climate_shift(2.0, 0.95, 3.0)) == pytest.approx(-0.14)
    assert float(climate_shift(2.0, 0.05, 3.0)) == pytest.approx(0.10)
    assert float(climate_shift(3.0, 0.45, 20.0)) == pytest.approx(0.04 * (10 / 3) ** 0.3)
    assert float(climate_shift(3.0, 0.45, 0.01)) == pytest.approx(0.04 * (0.1 / 3) ** 0.3)


def test_easy_water_and_stress():
    """p = 0.5 at 5 mm/d, 0.6 at 2.5; held to 0.1 to 0.8. Ks: 30 of 40 mm gone, p 0.5: 10 / 20."""
    assert depletion_share(0.5, [5.0, 2.5, 0.0]) == pytest.approx([0.5, 0.6, 0.7])
    assert depletion_share(0.7, 0.0) == pytest.approx(0.8)
    assert depletion_share(0.2, 10.0) == pytest.approx(0.1)
    assert evaporating_share([0.4, 0.995], 1.0) == pytest.approx([0.6, 0.01])
    assert stress([10.0, 20.0, 30.0, 50.0], 40.0, 0.5) == pytest.approx([1.0, 1.0, 0.5, 0.0])
