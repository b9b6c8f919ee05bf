"""Flowering in long and warm days, worked by hand; day length from another library."""

from dataclasses import replace

import numpy as np
import pytest
from later import Later
from one_way import fates

from hoopwright.answers.season_words import stalk_words
from hoopwright.season.bed_years import BedYears, Digest
from hoopwright.season.by_calendar import in_calendar
from hoopwright.season.crops import crop
from hoopwright.season.windows import window

pandas, pvlib = Later("pandas"), Later("pvlib")
STEADY = np.full((2, 8760), 17.0)


def lab(celsius: float = 17.0, latitude: float | None = 45.0, begins: int = 0) -> Digest:
    held = np.full((2, 8760), celsius)
    return Digest(BedYears("lab", held, held, STEADY, latitude=latitude, begins=begins))


def daylight(latitude: float) -> np.ndarray:
    """Hours from sunrise to sunset of the days of 2001, by the NREL algorithm."""
    days = pandas.date_range("2001-01-01", periods=365, tz="UTC")
    spans = pvlib.solarposition.sun_rise_set_transit_spa(days, latitude, 0.0)
    return ((spans["sunset"] - spans["sunrise"]).dt.total_seconds() / 3600.0).to_numpy()


@pytest.mark.parametrize("latitude", [45.0, 36.5, -45.0])
def test_days_are_as_long_as_another_library_has_them(latitude: float) -> None:
    begins = 181 if latitude < 0 else 0
    ours = np.roll(lab(latitude=latitude, begins=begins).day_hours, begins)
    assert ours == pytest.approx(daylight(latitude), abs=0.05)


def test_spinach_at_45_north_by_midsummer() -> None:
    """At 17 degC each day brings 14 degree days over 3, and of those of May and June 0.8 and a
    twentieth of what the day is longer than twelve hours. Sown on 20 May and 1 September."""
    spinach = crop("spinach")
    found = fates(spinach, lab())
    share = 0.8 + 0.2 * np.clip((daylight(45.0) - 12.0) / 4.0, 0.0, 1.0)
    for sown in (139, 243):
        up, picked = found.emerged[0, sown], found.picked[0, sown]
        warmth = 14.0 * share[up:picked].sum()
        by_hand = np.clip((warmth - 470.0) / (720.0 - 470.0), 0.0, 1.0)
        assert found.bolting[0, sown] == pytest.approx(by_hand, abs=0.005)
        halfway = up + int(np.argmax(14.0 * np.cumsum(share[up:]) >= 595.0)) + 1
        assert found.ended[0, sown] == pytest.approx(halfway, abs=1)
    assert 0.02 < found.bolting[0, 139] < 0.2
    assert found.bolting[0, 243] == 0.0
    assert fates(spinach, lab(latitude=None)).bolting.max() == 0.0


def test_spinach_flowers_in_the_time_the_trial_has_it() -> None:
    """Chillan, 36.5 S: half in flower 43 to 60 days from sowing at its quickest, at 19 degC. Six
    days to emerge, five from stalk to flower, at 9 degC in autumn twice as many; sown on 1 December
    and 1 May, days 153 and 304 of the season."""
    found = fates(crop("spinach"), lab(19.0, -36.5, 181))
    assert 43 <= first_stalk(found, 153) + 6 + 5 <= 60
    winter = fates(crop("spinach"), lab(9.0, -36.5, 181))
    assert 131 <= first_stalk(winter, 304) + 12 + 10 <= 148


def first_stalk(found, start: int) -> int:
    return int(found.ended[0, start] - found.emerged[0, start])


def test_lettuce_outgrows_two_weeks_of_heat_and_not_a_whole_life() -> None:
    """Al-Said and others 2018 (abstract read): 13 degC throughout heads, 25 throughout makes a
    stalk and no head, two weeks of 25 are outgrown."""
    head = crop("lettuce-head")
    sown = 100
    assert fates(head, lab(13.0)).bolting[0, sown] == 0.0
    hot = fates(head, lab(25.0))
    assert hot.bolting[0, sown] > 0.85
    mixed = np.full((2, 365), 13.0)
    up = fates(head, lab(13.0)).emerged[0, sown]
    mixed[:, up + 10 : up + 24] = 25.0
    air = np.repeat(mixed, 24, axis=1)
    held = Digest(BedYears("lab", air, air, STEADY, latitude=45.0))
    assert fates(head, held).bolting[0, sown] < 0.02


def test_longer_days_never_delay_a_stalk() -> None:
    for key in ("spinach", "cilantro", "dill"):
        stalk = crop(key).stalk
        assert stalk is not None
        assert (np.diff(stalk.share(np.linspace(6.0, 18.0, 50))) >= 0.0).all()
        north, south = (fates(crop(key), lab(latitude=at)) for at in (58.0, 30.0))
        assert north.bolting[0, 150] >= south.bolting[0, 150]


def test_a_window_tells_of_the_start_that_flowers_most() -> None:
    found = window(crop("spinach"), lab(25.0), risk=0.3)
    assert found.stalks is not None
    day, share = found.stalks
    assert 100 < day < 200
    assert 0.05 <= share <= 0.3 + 0.33
    assert share == pytest.approx(fates(crop("spinach"), lab(25.0)).bolting[:, day].mean())
    # Day 145 is 26 May.
    words = stalk_words(replace(found, stalks=(145, 0.31)))
    assert words.startswith("Started about 26 May, 3 in 10 flower before the first picking")
    assert stalk_words(replace(found, stalks=None)) == ""
    assert in_calendar(found, 181).stalks == (day + 181, share)
    assert window(crop("kale"), lab()).stalks is None
