"""What days and years are to a crop, on days so plain that every number is worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime
from types import SimpleNamespace

import numpy as np
import pytest
from made_years import made
from one_way import fates

from hoopwright.season.bed_years import (
    BedYears,
    Digest,
    RangeLeast,
    bed_years,
    first_reaching,
    summed,
    two_years,
)
from hoopwright.season.by_calendar import in_calendar
from hoopwright.season.calendar_file import opening_events
from hoopwright.season.crop_days import Habits, crop_days, shelter_drop
from hoopwright.season.crop_records import CropRange
from hoopwright.season.crops import crop
from hoopwright.season.opening import HalfMonth
from hoopwright.season.opening_options import Opening
from hoopwright.season.running import Rule
from hoopwright.season.windows import HarvestDates, window


def held(degrees, years: int = 1) -> np.ndarray:
    """Hours of years held at one temperature, or at one for each day of the year."""
    return np.tile(np.repeat(np.broadcast_to(np.asarray(degrees, float), 365), 24), (years, 1))


def lab(air, leaf=None, soil=None, **more) -> Digest:
    return Digest(
        BedYears("lab", air, air if leaf is None else leaf, air if soil is None else soil, **more)
    )


def test_a_band():
    """2 to 10: a quarter of the way up 4, its middle 6; raised by 3: 5 to 13."""
    band = CropRange(2.0, 10.0)
    assert (band.at(0.25), band.middle) == (4.0, 6.0)
    assert (band.raised(3.0).low, band.raised(3.0).high) == (5.0, 13.0)


def test_days_until_a_sum_is_reached():
    """Sums 0, 1, 3, 6, 10 and, in a second year, 0, 2, 4, 6, 8: 3 more from day 0 by the end of day
    2 (2); from day 1 of it by 3 (3); 20 more never, which is told as 5; from beyond the year 5."""
    sums = np.array([[0.0, 1, 3, 6, 10], [0.0, 2, 4, 6, 8]])
    starts = np.array([[0, 1, 5], [0, 1, 5]])
    assert first_reaching(sums, starts, 3.0).tolist() == [[2, 3, 5], [2, 3, 5]]
    assert first_reaching(sums, starts, 20.0).tolist() == [[5, 5, 5]] * 2
    assert first_reaching(sums, starts, np.array([[6.0, 5.0, 0.0], [8.0, 2.0, 0.0]])).tolist() == [
        [3, 3, 5], [4, 2, 5]
    ]  # fmt: skip
    daily = np.array([[1.0, 2, 3, 4], [2.0, 2, 2, 2]])
    assert summed(daily).tolist() == sums.tolist()
    assert two_years(daily).tolist() == [[1, 2, 3, 4, 2, 2, 2, 2], [2, 2, 2, 2, 1, 2, 3, 4]]


def test_the_least_of_any_run_of_days():
    """Against the plain least of every run of 40 days."""
    daily = np.random.default_rng(3).normal(size=(2, 40))
    least = RangeLeast(daily)
    first, after = (one.ravel() for one in np.meshgrid(np.arange(40), np.arange(41)))
    found = least.between(np.tile(first, (2, 1)), np.tile(after, (2, 1)))
    for row in range(2):
        plain = [
            daily[row, a:b].min() if b > a else np.inf for a, b in zip(first, after, strict=True)
        ]
        assert found[row] == pytest.approx(plain)


def test_light_slows_growth():
    """100 W/m2 all day is 86400 x 2.02e-6 x 100 = 17.45 mol/m2; 40 W/m2 6.981, at which lettuce of
    half h and enough e grows 6.981 / (6.981 + h) (1 + h / e) of its 15 degC a day over base 5."""
    leaf = crop("lettuce-leaf")
    air = held(20.0)
    dim = lab(air, light=np.full((1, 8760), 40.0))
    assert lab(air, light=np.full((1, 8760), 100.0)).light == pytest.approx(17.4528)
    assert dim.light == pytest.approx(6.981, rel=1e-3)
    half, enough = leaf.light.half, leaf.light.enough
    share = 6.981 / (6.981 + half) * (1 + half / enough)
    assert share < 1.0
    a_day = 20.0 - leaf.degrees.base.middle
    grown = crop_days(leaf, dim, Habits()).growth
    assert grown == pytest.approx(np.full((1, 365), a_day * share), rel=1e-3)
    bright = crop_days(leaf, lab(air, light=np.full((1, 8760), 900.0)), Habits()).growth
    assert bright == pytest.approx(np.full((1, 365), a_day))


def test_hot_days_that_spoil_a_crop():
    """0.4 of the days from flowers to harvest: snap beans of 50 to 60 days, open to heat from 0.6
    of the way."""
    bean = crop("snap-bean")
    stages = replace(bean.stages, sensitive_from=0.6)
    habit = replace(bean.habit, days_to_harvest=CropRange(50, 60))
    assert replace(bean, stages=stages, habit=habit).spoiled_after() == pytest.approx(8.8)


def test_leaves_under_the_shelters_air():
    """Nights of 0 degC in the shelter and -1.5 on the leaf, on 10 of 365; other nights, too warm to
    kill, do not count; a shelter colder than the leaf counts for nothing."""
    station, leaf = np.full(365, 8.0), np.full(365, 2.0)
    station[:10], leaf[:10] = 0.0, -1.5
    assert shelter_drop(lab(held(5.0), held(leaf), station=held(station))) == pytest.approx(1.5)
    assert shelter_drop(lab(held(5.0), held(leaf))) == 0.0
    assert shelter_drop(lab(held(5.0), held(station), station=held(leaf))) == 0.0
    for night, counts in ((2.0, True), (2.1, False), (-10.0, True), (-10.1, False)):
        digest = lab(held(5.0), held(night - 1.5), station=held(night))
        assert shelter_drop(digest) == pytest.approx(1.5 if counts else 0.0)


def test_chances_of_loss_are_of_the_greatest_and_end_on_the_killing_night():
    """Frost of 0.3, heat 0.5, bolting 0.2: half is lost, 0.9 if frost took so many. Half through
    its band on day 300 the plants die: that is the end of all that ripened before it."""
    bean = crop("snap-bean")
    leaf = held(20.0)
    kill = bean.cold.plant_kill
    leaf[0, 300 * 24 + 4] = kill.middle - 0.01
    found = fates(bean, lab(held(20.0), leaf))
    assert found.ended[0, 100] == 300
    assert found.ended[0, 320] == 365 + 300
    leaf[0, 300 * 24 + 4] = kill.middle + 0.01
    assert fates(bean, lab(held(20.0), leaf)).ended[0, 100] == 2 * 365
    one = replace(
        found,
        frost=np.full((1, 365), 0.3), heat=np.full((1, 365), 0.5),
        bolting=np.full((1, 365), 0.2), unripe=np.zeros((1, 365)),
    )  # fmt: skip
    assert one.lost == pytest.approx(np.full((1, 365), 0.5))
    assert one.lost_with(np.full((1, 365), 0.9)) == pytest.approx(np.full((1, 365), 0.9))


def test_cold_weeks_that_make_a_stalk():
    """Carrots at 20 degC but for cold weeks of which each day counts whole. Midway between the
    first bolt and nine in ten of days half bolt; cold before it is a plant, or in the last
    fortnight before the harvest, counts for nothing; nor where days are short at the harvest."""
    carrot = crop("carrot")
    asked = carrot.bolting
    assert asked is not None
    whole = (asked.chill[1] + asked.chill[2]) / 2
    half = round((asked.chilled.low + asked.chilled.high) / 2)
    plain = fates(carrot, lab(held(20.0), None, held(20.0)))
    sown = 40
    young = carrot.thermal_time().middle * asked.juvenile / (20.0 - carrot.degrees.base.middle)
    grown = int(plain.emerged[0, sown] + np.ceil(young))

    def chance(first: int, days: int) -> float:
        air = np.full(365, 20.0)
        air[first : first + days] = whole
        kept = fates(carrot, lab(held(air), None, held(20.0)))
        assert 79 < kept.picked[0, sown] < 265
        return float(kept.bolting[0, sown])

    share = (half - asked.chilled.low) / (asked.chilled.high - asked.chilled.low)
    assert chance(grown, half) == pytest.approx(share, abs=0.03)
    assert chance(grown, round(1.3 * asked.chilled.high)) == 1.0
    assert chance(grown - half // 2, half) < share - 0.1
    assert chance(300, half) == 0.0
    autumn = fates(carrot, lab(held(whole), None, held(20.0)))
    late = np.flatnonzero((autumn.picked[0] % 365 > 264) | (autumn.picked[0] % 365 < 80))
    assert np.all(autumn.bolting[0, late] == 0.0)


def test_days_told_by_the_calendar():
    """A season that begins on 1 July: everything is 181 days later, what is given for each of the
    365 start days apart."""
    found = window(crop("spinach"), Digest(made("film", 5)))
    found = replace(found, harvest=HarvestDates(140.0, 150.0, 160.0))
    told = in_calendar(found, 181)
    assert found.earliest is not None
    assert told.earliest is not None
    for name in ("day", "low", "high"):
        assert getattr(told.earliest, name) == getattr(found.earliest, name) + 181
        assert getattr(told.latest, name) == getattr(found.latest, name) + 181
    assert np.array(told.earliest.drawn) == pytest.approx(np.array(found.earliest.drawn) + 181)
    pairs = zip(told.stretches, found.stretches, strict=True)
    assert all((a.first, a.last) == (b.first + 181, b.last + 181) for a, b in pairs)
    assert told.careful == (found.careful and (found.careful[0] + 181, found.careful[1] + 181))
    assert told.bold == (found.bold and (found.bold[0] + 181, found.bold[1] + 181))
    for name in ("early", "middle", "late"):
        assert getattr(told.harvest, name) == getattr(found.harvest, name) + 181
    assert told.flowering == found.flowering + 181
    assert told.losses.day == found.losses.day + 181
    assert told.middle_harvest == found.middle_harvest
    assert in_calendar(found, 0) is found


def test_a_rule_told_from_another_day():
    """Off from day 151 to 242, told from 181 days sooner: shut from 59, off from 332 and so at the
    turn of its year."""
    shut, off = Opening("closed"), Opening("off")
    moved = Rule(None, ((0, shut), (151, off), (243, shut))).shifted(181)
    assert moved.steps == ((0, off), (59, shut), (181, shut), (332, off))
    begun = Rule(shut, ((0, shut), (184, off))).shifted(181)
    assert begun == Rule(shut, ((0, off), (181, shut)))


def test_events_where_the_way_changes_over_the_turn_of_the_year():
    """Shut in January after a December open by day: an event on the first day of the year; film off
    in July and on again in the second half of August."""
    ways = [Opening("closed")] * 12 + [Opening("off")] * 3 + [Opening("closed")] * 8
    ways += [Opening("days", 0.3)]
    halves = [
        HalfMonth(n // 2 + 1, n % 2 + 1, way, False, 0.0, 0.0, 0.0, 0.0, "why")
        for n, way in enumerate(ways)
    ]
    told = [(one.deed, one.day) for one in opening_events(halves, 2027)]
    assert sorted(told, key=lambda one: one[1]) == [
        ("close", date(2027, 1, 1)), ("film", date(2027, 7, 1)), ("film", date(2027, 8, 16)),
        ("open", date(2027, 12, 16)),
    ]  # fmt: skip


class Hours(SimpleNamespace):
    def soil_at(self, depth: float) -> np.ndarray:
        return self.air + 1000.0 * depth


@pytest.mark.parametrize(("latitude", "month"), [(45.0, 1), (-45.0, 1), (-45.0, 7)])
def test_years_of_runs(latitude, month):
    """Soil 20 mm down. South of the equator years from January are cut at July, the last one's
    second half before the first one's first; years from July stand as they are."""
    runs = [
        Hours(
            air=np.arange(8760.0) + 10000 * year, leaf=np.arange(8760.0) - 1,
            light=np.full(8760, 5.0),
            weather=SimpleNamespace(
                station=SimpleNamespace(latitude=latitude), start=datetime(2025, month, 1),
                air_temperature=np.full(8760, 3.0), typical_year=year == 1,
            ),
        )
        for year in range(2)
    ]  # fmt: skip
    found = bed_years("lab", runs)  # type: ignore[arg-type]
    begins = 181 if latitude < 0 else 0
    assert found.begins == begins
    assert found.typical_year
    assert found.soil - found.air == pytest.approx(np.full((2, 8760), 20.0))
    if latitude < 0 and month == 1:
        # July of year 0 to June of year 1; then July of year 1 to June of year 0.
        assert found.air[0, [0, -1]].tolist() == [181 * 24.0, 10000 + 181 * 24 - 1.0]
        assert found.air[1, [0, -1]].tolist() == [10000 + 181 * 24.0, 181 * 24 - 1.0]
    else:
        assert found.air[:, 0].tolist() == [0.0, 10000.0]
    assert found.light is not None
    assert found.station is not None
    assert (found.light[0, 0], found.station[0, 0]) == (5.0, 3.0)
