"""Windows, losses and daily figures on years so plain that every number is worked by hand."""

from __future__ import annotations

from dataclasses import replace
from datetime import date, datetime, timedelta
from types import SimpleNamespace

import numpy as np
import pytest
from one_way import fates

from hoopwright.season import windows as windows_room
from hoopwright.season.bed_years import BedYears, Digest, common_year, mean_before
from hoopwright.season.crop_days import Habits, crop_days
from hoopwright.season.crops import crop
from hoopwright.season.frost_risk import frost_curve, leaf_frost_years, wilson
from hoopwright.season.gains import gain
from hoopwright.season.losses import Fates
from hoopwright.season.opening import Limits, half_month_days, opening_calendar
from hoopwright.season.opening_options import Opening, OptionYears, ways
from hoopwright.season.running import ALWAYS_OFF
from hoopwright.season.water_coefficients import soil_kinds
from hoopwright.season.windows import Stretch, Window, window

YEARS = 10


def held(degrees: float | np.ndarray, years: int = 1) -> np.ndarray:
    """Hours of years held at one temperature, or at one for each day of the year."""
    daily = np.broadcast_to(np.asarray(degrees, dtype=float), 365)
    return np.tile(np.repeat(daily, 24), (years, 1))


def lab(air: np.ndarray, leaf: np.ndarray | None = None, soil: np.ndarray | None = None) -> Digest:
    return Digest(
        BedYears("lab", air, air if leaf is None else leaf, air if soil is None else soil)
    )


@pytest.mark.parametrize(
    ("mean", "share"), [(20.0, 0.0), (18.5, 0.0), (15.5, 0.2), (11.0, 0.5), (3.5, 1.0), (2.0, 1.0)]
)
def test_hardness_by_the_mean_of_a_week(mean: float, share: float) -> None:
    """(18.5 - mean) / 15, held between 0 and 1."""
    assert lab(held(mean)).hardness == pytest.approx(np.full((1, 365), share))


def test_hardness_looks_back_a_week() -> None:
    """A cold snap of 7 days hardens wholly the day after it, and half way through it in part."""
    days = np.full(365, 20.0)
    days[100:107] = 2.0
    # Three of seven days at 2: mean 12.29, (18.5 - 12.29) / 15 is 0.414.
    found = lab(held(days)).hardness[0, [100, 103, 107, 114]]
    assert found == pytest.approx([0.0, 0.414, 1.0, 0.0], abs=1e-3)


def test_who_opens_the_sides_in_the_last_week_has_plants_as_hard_as_the_open_beds() -> None:
    """Leaves of 14 degC in the open, 0.3 hard, and of 17 under the cover, 0.1: hardened by opening
    0.3; where the cover is the colder one its plants stay the harder."""
    bare = lab(held(14.0))
    for leaf, alone, opened in ((17.0, 0.1, 0.3), (11.0, 0.5, 0.5)):
        soft = lab(held(leaf))
        hard = Digest(soft.years, hardened_as=bare)
        assert soft.hardness == pytest.approx(np.full((1, 365), alone))
        assert hard.hardness == pytest.approx(np.full((1, 365), opened))


def test_daily_figures_of_a_digest() -> None:
    """Soil warming a degree a day: three days before day 10 its mean was 8. The year before runs
    into day 0: 362, 363, 364 before it; 363, 364, 0 before day 1."""
    before = mean_before(lab(held(np.arange(365.0))).mean_soil, 3)
    assert before[0, [0, 1, 10, 364]] == pytest.approx([363.0, 727 / 3, 8.0, 362.0])
    assert lab(held(15.0)).warmth(5.0, 12.0) == pytest.approx(np.full((1, 365), 7.0))


def test_hot_days_of_two_kinds_of_crop() -> None:
    """Noons of 34 in a mean of 11: hot to a bean's blossoms, not to spinach, whose mean counts."""
    noon = held(10.0).reshape(1, 365, 24)
    noon[0, 100:110, 12] = 34.0
    digest = lab(noon.reshape(1, -1))
    for key, count in (("snap-bean", 10), ("spinach", 0)):
        hot = crop_days(crop(key), digest, Habits()).hot
        assert hot.sum(axis=2)[:, 0].tolist() == [count] * 3
        assert hot[:, 0, 100].tolist() == [float(count > 0)] * 3


@pytest.mark.parametrize(
    ("share", "lost"), [(0.1, 0.0), (1 / 3, 1 / 3), (2 / 3, 2 / 3), (1.1, 1.0)]
)
def test_heat_in_thirds_of_its_band(share: float, lost: float) -> None:
    """Noons at so much of the way up the bean's band pass the middles of so many of its thirds."""
    bean = crop("snap-bean")
    noon = held(20.0).reshape(1, 365, 24)
    noon[0, :, 12] = bean.heat.limit.at(share)
    digest = lab(noon.reshape(1, -1), held(20.0), held(20.0))
    assert fates(bean, digest).heat[0, 120] == pytest.approx(lost)


def test_heat_that_kills_and_hot_days_that_are_too_few() -> None:
    bean = crop("snap-bean")
    leaf = held(20.0)
    death = bean.stages.death
    assert death is not None
    leaf[0, 140 * 24 + 13] = death.low + 0.25 * (death.high - death.low)
    assert fates(bean, lab(held(20.0), leaf)).heat[0, 120] == pytest.approx(0.25)
    assert fates(bean, lab(held(20.0), leaf)).heat[0, 150] == 0.0
    found = fates(bean, lab(held(20.0)))
    flowers = int(found.flowering[0, 120])
    few = int(np.ceil(bean.spoiled_after()))
    for days, lost in ((few - 1, 0.0), (few, 1.0)):
        noon = held(20.0).reshape(1, 365, 24)
        noon[0, flowers : flowers + days, 12] = bean.heat.limit.high + 5
        spoilt = fates(bean, lab(noon.reshape(1, -1), held(20.0), held(20.0))).heat
        assert spoilt[0, 120] == lost


def test_stages_by_shares_of_the_warmth_needed() -> None:
    """Tomato planted into 20 degC: (20 - base) a day; flowers at its share, ripe at the middle."""
    tomato = crop("tomato")
    a_day = 20.0 - tomato.degrees.base.middle
    found = fates(tomato, lab(held(20.0)))
    needed = tomato.thermal_time().middle
    assert found.emerged[0, 100] == 100
    assert found.ripe[0, 100] == 100 + np.ceil(needed / a_day - 1e-9)
    flowers = np.ceil((tomato.stages.sensitive_from or 0.0) * needed / a_day - 1e-9)
    assert found.flowering[0, 100] == 100 + flowers
    assert found.picked[0, 100] == found.ripe[0, 100]
    leaf = crop("lettuce-leaf")
    eaten = fates(leaf, lab(held(20.0)))
    low = leaf.thermal_time().low / (20.0 - leaf.degrees.base.middle)
    assert eaten.picked[0, 100] - eaten.emerged[0, 100] == np.ceil(low - 1e-9)


def test_days_promised_times_the_warmth_of_a_mild_month() -> None:
    """Where no sum is printed: (days less emergence's) x (middle of the best months - base)."""
    radish = crop("radish")
    degrees = replace(radish.degrees, degree_days=None)
    found = replace(radish, degrees=degrees).thermal_time()
    best, base = radish.growth.optimum_month, degrees.base
    above = (best.low + best.high) / 2 - (base.low + base.high) / 2
    days, seedbed = radish.habit.days_to_harvest, min(radish.emergence.days)  # type: ignore[union-attr]
    assert (found.low, found.high) == pytest.approx(
        ((days.low - seedbed) * above, (days.high - seedbed) * above)
    )


def test_too_slow_and_too_cold_a_start() -> None:
    """A gardener waits twice the longest days promised; soil wants its least on the mean of three
    days, and seed up within 28."""
    bean = crop("snap-bean")
    longest = 2 * bean.habit.days_to_harvest.high
    for air in (11.0, 14.0, 20.0):
        found = fates(bean, lab(held(air), None, held(20.0)))
        took = found.ripe[0, 100] - 100
        assert found.unripe[0, 100] == float(took > longest)
    days = np.full(365, 30.0)
    least = max(4.4, bean.germination.least_soil)
    days[:100] = least - 0.5
    days[100:] = least + 0.25
    cold = fates(bean, lab(held(20.0), None, held(days))).cold_soil[0]
    assert cold[100] == 1.0  # the three days before were cold
    assert cold[101] == 1.0
    up = fates(bean, lab(held(20.0), None, held(days)))
    slow = up.emerged[0] - np.arange(365) > 28
    assert np.array_equal(cold[110:300] == 1.0, slow[110:300])
    tomato = crop("tomato")
    wanted = max(4.4, tomato.growth.soil_to_plant or tomato.degrees.base.middle)
    for soil, too_cold in ((wanted - 0.1, 1.0), (wanted + 0.1, 0.0)):
        assert fates(tomato, lab(held(20.0), None, held(soil))).cold_soil[0, 150] == too_cold


def test_a_band_between_soft_and_hard() -> None:
    """Held at 13.5 degC, kale is a third hard; how deep that leaf is in the band is by hand."""
    kale = crop("kale")
    soft, hard = kale.cold.plant_kill, kale.hardened.hardened_kill
    high, low = ((2 * getattr(soft, end) + getattr(hard, end)) / 3 for end in ("high", "low"))
    found = crop_days(kale, lab(held(13.5)), Habits()).plant
    assert found == pytest.approx(np.full((1, 365), (high - 13.5) / (high - low)))


def made_fates() -> Fates:
    """Ten years. Frost: all lost to day 120, two of ten to 130, and on 250 to 252. Soil cold in six
    of ten to day 140. Heat: five of ten lost on 180 to 200. Unripe from day 301. Ripe 60 to 69
    days on. The top of the band was reached to day 150, its bottom to day 120."""
    day = np.arange(365)
    year = np.arange(YEARS)[:, None]
    zero = np.zeros((YEARS, 365))
    frost = np.where((day <= 120) | ((day <= 130) & (year < 2)), 1.0, zero)
    frost[:, 250:253] = 1.0
    return Fates(
        emerged=day + 0 * year,
        flowering=day + 30 + year,
        picked=day + 60 + year,
        ripe=day + 60 + year,
        ended=day + 100 + 0 * year,
        frost=frost,
        frost_careful=np.where(day <= 150, 1.0, zero),
        frost_bold=np.where(day <= 120, 1.0, zero),
        heat=np.where((day >= 180) & (day <= 200) & (year < 5), 1.0, zero),
        bolting=zero,
        unripe=np.where(day > 300, 1.0, zero),
        cold_soil=np.where((day <= 140) & (year < 6), 1.0, zero),
        light=zero,
    )


def only(monkeypatch: pytest.MonkeyPatch, fate: Fates) -> None:
    """Let this be what becomes of a crop by the only way there is."""
    monkeypatch.setattr(windows_room, "tried", lambda *words: [(ALWAYS_OFF, fate)])


@pytest.fixture
def found(monkeypatch: pytest.MonkeyPatch) -> Window:
    only(monkeypatch, made_fates())
    return window(crop("snap-bean"), lab(held(15.0, YEARS)))


def test_the_stretches_of_a_year_made_up(found: Window) -> None:
    """Three bad days (250 to 252) part nothing; what stands beside each stretch is named."""
    assert found.stretches == (
        Stretch(141, 179, "cold soil", "heat"),
        Stretch(201, 300, "heat", "too short"),
    )
    assert found.start_days == 39 + 100
    assert (found.careful, found.bold) == ((151, 300), (141, 300))
    assert found.hindrance is None
    assert found.obstacles[100] == "cold soil"
    assert found.obstacles[190] == "heat"
    assert found.obstacles[310] == "too short"
    assert found.obstacles[150] == found.obstacles[251] == ""


def test_dates_harvest_and_losses_of_that_year(found: Window) -> None:
    """Started on day 141, ripe on 201 to 210: middle 205.5. Flowers on 171 to 180: 175.5."""
    assert found.earliest is not None
    assert found.latest is not None
    assert (found.earliest.day, found.latest.day) == (141, 300)
    assert found.latest.low == found.latest.high == 300
    # Where a resample holds fewer of the six cold springs, the soil is warm sooner: day 121 or 131.
    assert found.earliest.low in (121, 131)
    assert found.earliest.high == 141
    assert len(found.earliest.drawn) == 200
    assert found.harvest.middle == pytest.approx(205.5)
    assert 201 <= found.harvest.early < 203
    assert 208 < found.harvest.late <= 210
    assert found.flowering == pytest.approx(175.5)
    lost = found.losses
    assert (lost.day, lost.years, lost.frost, lost.heat) == (141, 10, 0.0, 0.0)
    assert (lost.too_short, lost.cold_soil) == (0.0, 0.0)


def test_the_risk_that_is_put_up_with(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two of ten lost on days 121 to 130 and five of ten on 180 to 200. A day counts up to one
    standard error over the risk, on its own odds or its week's: 0.05 + sqrt(0.05 x 0.95 / 10) is
    0.119, more than day 130's week (4 x 0.2 / 7 = 0.114) and less than day 129's (0.143); 0.1 comes
    to 0.195 (day 128's: 6 x 0.2 / 7), 0.2 to 0.326 (day 180's: 4 x 0.5 / 7), 0.3 to 0.445 (day
    182's: 6 x 0.5 / 7) and 0.4 to 0.555, more than all but the days to 120."""
    warm = replace(made_fates(), cold_soil=np.zeros((YEARS, 365)))
    only(monkeypatch, warm)
    digest = lab(held(15.0, YEARS))
    spans = {
        risk: [(s.first, s.last) for s in window(crop("snap-bean"), digest, risk).stretches]
        for risk in (0.05, 0.1, 0.2, 0.3, 0.4)
    }
    assert spans == {
        0.05: [(130, 179), (201, 300)],
        0.1: [(128, 179), (201, 300)],
        0.2: [(121, 180), (200, 300)],
        0.3: [(121, 182), (198, 300)],
        0.4: [(121, 300)],
    }


def test_where_no_day_will_do(monkeypatch: pytest.MonkeyPatch) -> None:
    """All but day 222 lose three of ten to frost; that day loses two: it is the best, not good."""
    worse = replace(made_fates(), cold_soil=np.zeros((YEARS, 365)), frost=np.zeros((YEARS, 365)))
    worse.frost[:3] = 1.0
    worse.frost[2, 222] = 0.0
    only(monkeypatch, worse)
    none = window(crop("snap-bean"), lab(held(15.0, YEARS)))
    assert (none.earliest, none.latest, none.stretches) == (None, None, ())
    assert none.hindrance == "frost"
    assert (none.losses.day, none.losses.frost) == (222, 2.0)


def test_what_a_cover_adds(found: Window, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ten days earlier, five later, harvest from its own first day: 205.5 against 195.5."""
    one = made_fates()

    def moved(part: np.ndarray, days: int) -> np.ndarray:
        return np.concatenate([part[:, days:], part[:, -days:]], axis=1)

    sooner = replace(
        one,
        frost=moved(one.frost, 10),
        cold_soil=moved(one.cold_soil, 10),
        unripe=np.where(np.arange(365) > 305, 1.0, np.zeros((YEARS, 365))),
    )
    only(monkeypatch, sooner)
    inside = window(crop("snap-bean"), lab(held(15.0, YEARS)))
    added = gain(found, inside)
    assert (added.early, added.late, added.start_days) == (10, 5, 15)
    assert added.harvest == pytest.approx(10.0)


def test_the_frost_curve_of_four_years() -> None:
    """Leaves freeze to day 100, 110, 120, 130 and from 280, 270, 260, 250 on."""
    leaf = held(5.0, 4).reshape(4, 365, 24)
    for year in range(4):
        leaf[year, : 100 + 10 * year, 5] = -1.0
        leaf[year, 279 - 10 * year :, 5] = 0.0
    years = BedYears("lab", leaf.reshape(4, -1), leaf.reshape(4, -1), held(5.0, 4))
    dates = leaf_frost_years(years, 0.0)
    assert dates.last.tolist() == [100, 110, 120, 130]
    assert dates.first.tolist() == [280, 270, 260, 250]
    curve = frost_curve(years, 0.0)
    for day, chance in (
        (100, 1.0), (101, 0.75), (110, 0.75), (111, 0.5), (130, 0.25), (131, 0.0),
        (249, 0.0), (250, 0.25), (269, 0.5), (270, 0.75), (280, 1.0),
    ):  # fmt: skip
        assert curve.chance[day - 1] == chance, day
    low, high = wilson(np.array([0.0, 4.0, 1.0]), 4)
    # Wilson by hand, z 1.645, n 4, share 1/4: (0.25 + 0.3383 +- 0.4912) / 1.6765.
    assert low == pytest.approx([0.0, 1 / 1.6765, 0.0579], abs=2e-3)
    assert high == pytest.approx([0.6765 / 1.6765, 1.0, 0.6439], abs=2e-3)


def test_ways_to_run_a_cover() -> None:
    assert ways([0.3, 0.1, 0.6], most=0.4) == (
        Opening("closed"), Opening("days", 0.1), Opening("days", 0.3), Opening("days", 0.4),
        Opening("always", 0.4), Opening("off"),
    )  # fmt: skip
    assert ways([0.1], most=0.4, can_come_off=False)[-1] == Opening("always", 0.1)


def test_shares_of_hot_days_and_cold_nights_in_a_half_month() -> None:
    """Two of fifteen days in the first half of July over 30 degC shut, one when opened by day: more
    than one in ten, then not. Nights under 2: three of fifteen either way, a degree colder open."""

    def option(opening: Opening, hot: int, night: float) -> OptionYears:
        air = held(20.0).reshape(1, 365, 24)
        air[0, 181 : 181 + hot, 13] = 31.0
        leaf = held(10.0).reshape(1, 365, 24)
        leaf[0, 181:184, 4] = night
        return OptionYears(opening, air.reshape(1, -1), leaf.reshape(1, -1))

    options = [option(Opening("closed"), 2, 1.0), option(Opening("days", 0.3), 1, 0.0)]
    half = opening_calendar(options, Limits(too_hot=30.0, too_cold=2.0))[12]
    assert (half.month, half.half, half.opening) == (7, 1, Opening("days", 0.3))
    assert half.hot_days == pytest.approx(1 / 15)
    assert half.cold_nights == pytest.approx(3 / 15)
    assert half.night_cost == pytest.approx(3 / 15)
    assert half.day_saving == pytest.approx(11 / 15)
    spared = opening_calendar(options, Limits(too_hot=30.0, too_cold=2.0, hot_days=0.14))[12]
    assert spared.opening == Opening("closed")


def test_half_months_by_the_calendar() -> None:
    """The first is the 1st to the 15th; both of a month are its days in a common year."""
    for number in range(24):
        month, half = number // 2 + 1, number % 2
        days = half_month_days(number)
        first = date(2001, 1, 1) + timedelta(days=days.start)
        last = date(2001, 1, 1) + timedelta(days=days.stop - 1)
        assert (first.month, first.day) == (month, 16 if half else 1)
        assert (last.month, (last + timedelta(days=1)).day) == (month, 1 if half else 16)


def test_the_29th_of_february_is_left_out() -> None:
    """Hours 1416 to 1439 of a leap year, days 59; what follows moves up."""
    run = SimpleNamespace(weather=SimpleNamespace(start=datetime(2024, 1, 1)))
    kept = common_year(run, np.arange(8784.0))  # type: ignore[arg-type]
    assert kept.shape == (8760,)
    assert (kept[1415], kept[1416], kept[-1]) == (1415.0, 1440.0, 8783.0)
    common = common_year(run, np.arange(8760.0))  # type: ignore[arg-type]
    assert common[1416] == 1416.0


def test_water_that_a_soil_holds() -> None:
    """The middles of FAO-56 table 19's ranges; TAW 1000 (fc - wp) z, TEW 1000 (fc - wp / 2) 0.1."""
    kind = soil_kinds()["loam"] if "loam" in soil_kinds() else next(iter(soil_kinds().values()))
    store = kind.store()
    capacity = (kind.field_capacity.low + kind.field_capacity.high) / 2
    wilting = (kind.wilting_point.low + kind.wilting_point.high) / 2
    easy = (kind.readily_evaporable.low + kind.readily_evaporable.high) / 2
    assert store.available(0.3) == pytest.approx(1000 * (capacity - wilting) * 0.3)
    assert store.evaporable == pytest.approx(1000 * (capacity - wilting / 2) * 0.1)
    assert store.readily_evaporable == pytest.approx(1000 * easy)
