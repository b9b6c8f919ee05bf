"""Windows, losses and frost curves on years made up so that the answer is known."""

import numpy as np
import pytest
from made_years import made
from one_way import fates

from hoopwright.season.bed_years import (
    BedYears,
    Digest,
    RangeLeast,
    SeasonError,
    YearHours,
    first_reaching,
    joined,
    mean_before,
)
from hoopwright.season.by_calendar import in_calendar
from hoopwright.season.crops import crop, crops
from hoopwright.season.frost_risk import frost_curve, wilson
from hoopwright.season.gains import date_text, gain, within_error
from hoopwright.season.windows import (
    long_runs,
    spans_of,
    window,
    windows,
)


@pytest.fixture(scope="module")
def outside() -> Digest:
    return Digest(made("open"))


@pytest.fixture(scope="module")
def inside() -> Digest:
    return Digest(made("film", warmer=2.5))


def test_range_least_is_the_plain_minimum() -> None:
    rng = np.random.default_rng(1)
    values = rng.normal(size=(3, 50))
    least = RangeLeast(values)
    for a in range(0, 50, 3):
        for b in range(0, 51, 4):
            first, after = np.full((3, 1), a), np.full((3, 1), b)
            expected = values[:, a:b].min(axis=1) if b > a else np.full(3, np.inf)
            assert least.between(first, after)[:, 0] == pytest.approx(expected)


def test_first_reaching_is_the_plain_search() -> None:
    rng = np.random.default_rng(2)
    daily = rng.random((4, 60))
    sums = np.concatenate([np.zeros((4, 1)), np.cumsum(daily, axis=1)], axis=1)
    start = np.broadcast_to(np.arange(60), (4, 60))
    found = first_reaching(sums, start, 5.0)
    for year in range(4):
        for day in range(60):
            later = np.flatnonzero(sums[year] - sums[year, day] >= 5.0 - 1e-9)
            assert found[year, day] == (later[0] if later.size else 61)


def test_the_hand_computed_life_of_a_bean() -> None:
    """Held at 20 degC: seed by the printed grid, then (20 - 8.5) degree days a day."""
    steady = np.full((2, 8760), 20.0)
    bean = crop("snap-bean")
    assert bean.emergence is not None
    fate = fates(bean, Digest(BedYears("lab", steady, steady, steady)))
    comes_up = int(np.ceil(11 - 1e-6))  # 68 degF: 11 days
    needed = int(np.ceil(bean.thermal_time().middle / (20.0 - 8.5) - 1e-6))
    assert (fate.emerged[:, 100] - 100 == comes_up).all()
    assert (fate.ripe[:, 100] - 100 == comes_up + needed).all()
    assert fate.lost[:, 100].max() == 0.0


def test_one_cold_night_in_the_band_counts_by_its_depth() -> None:
    steady = np.full((1, 8760), 20.0)
    leaf = steady.copy()
    bean = crop("snap-bean")
    band = bean.cold.seedling_kill
    leaf[0, 120 * 24 + 4] = band.high - 0.25 * (band.high - band.low)
    fate = fates(bean, Digest(BedYears("lab", steady, leaf, steady)))
    up = fate.emerged[0]
    start = int(np.flatnonzero(up == 120)[0])
    assert fate.frost[0, start] == pytest.approx(0.25)
    assert fate.frost_careful[0, start] == 1.0
    assert fate.frost_bold[0, start] == 0.0
    assert fate.frost[0, 130] == 0.0


def test_hardening_lets_kale_through_a_night_that_kills_it_soft() -> None:
    kale = crop("kale")
    night = (kale.cold.plant_kill.low + kale.hardened.hardened_kill.high) / 2
    lost = []
    for mean in (16.0, 5.0):
        air = np.full((1, 8760), mean)
        leaf = air.copy()
        leaf[0, 200 * 24 + 4] = night
        digest = Digest(BedYears("lab", air, leaf, np.full((1, 8760), 18.0)))
        fate = fates(kale, digest)
        start = int(np.flatnonzero(fate.emerged[0] >= 170)[0])
        lost.append(fate.frost[0, start])
    assert lost[0] > lost[1]


def test_hardness_stands_between_the_regimes_it_was_measured_in() -> None:
    """5 degC by day and 2 by night harden spinach, 20 and 17 take all of it away again.

    Fennell and Li 1985, Acta Hort. 168 (abstract read).
    """
    spinach = crop("spinach")
    soft, hard = spinach.cold.plant_kill, spinach.hardened.hardened_kill
    for day, night, band in ((5.0, 2.0, hard), (20.0, 17.0, soft)):
        leaf = np.tile(np.where(np.arange(24) < 12, night, day), 365)[None, :]
        cold = leaf.copy()
        cold[0, 200 * 24 + 4] = band.middle
        digest = Digest(BedYears("lab", leaf, cold, np.full((1, 8760), 18.0)))
        fate = fates(crop("spinach"), digest)
        reached = (fate.emerged[0] < 170) & (fate.picked[0] > 200) & (np.arange(365) > 0)
        grown = reached & (fate.picked[0] - 200 < 10)
        assert fate.frost[0, grown] == pytest.approx(0.5, abs=0.02)


def test_tops_that_come_back_from_below_are_not_lost() -> None:
    """Killed to the ground early, potatoes come up again; late, they are lost."""
    steady = np.full((1, 8760), 18.0)
    leaf = steady.copy()
    leaf[0, 150 * 24 + 4] = -4.0
    fate = fates(crop("potato"), Digest(BedYears("lab", steady, leaf, steady)))
    needed = crop("potato").thermal_time().middle / (18.0 - crop("potato").degrees.base.middle)
    half = int(needed / 2)
    assert fate.frost[0, 150 - half + 3] == 0.0
    assert fate.frost[0, 150 - half - 3] == 1.0
    tomato = fates(crop("tomato"), Digest(BedYears("lab", steady, leaf, steady)))
    assert tomato.frost[0, 140] == 1.0


def test_what_is_eaten_whole_is_picked_before_a_killing_night() -> None:
    """From the shortest days promised on a frost ends the harvest, and is no loss of it."""
    steady = np.full((1, 8760), 16.0)
    for key, spared in (("lettuce-leaf", True), ("snap-bean", False)):
        plant = crop(key)
        leaf = steady.copy()
        fate = fates(plant, Digest(BedYears("lab", steady, leaf, steady)))
        night = int(fate.ripe[0, 120]) - 1
        leaf[0, night * 24 + 4] = -15.0
        fate = fates(plant, Digest(BedYears("lab", steady, leaf, steady)))
        assert (fate.picked[0, 120] <= night) is np.bool_(spared)
        assert fate.frost[0, 120] == (0.0 if spared else 1.0)


def test_hot_noons_between_cold_nights_spoil_warm_blossoms_but_not_leaves() -> None:
    """Knott's monthly means call 60 to 65 degF best for lettuce, whatever the noon."""
    lost = {}
    for night in (4.0, 18.0):
        noon = (np.arange(24) > 9) & (np.arange(24) < 18)
        air = np.tile(np.where(noon, 36.0, night), 365)[None, :]
        digest = Digest(BedYears("lab", air, np.full_like(air, 18.0), np.full_like(air, 20.0)))
        lost[night] = [fates(crop(k), digest).heat[0, 150] for k in ("lettuce-leaf", "snap-bean")]
    (cool_leaf, cool_bean), (warm_leaf, warm_bean) = lost[4.0], lost[18.0]
    assert cool_leaf == 0.0
    assert warm_leaf == 1.0
    assert cool_bean == warm_bean == 1.0


def test_nothing_is_started_in_cold_soil(outside) -> None:
    for key, least in (("spinach", 4.4), ("snap-bean", 15.0), ("onion", 4.4), ("tomato", 12.0)):
        found = window(crop(key), outside)
        usual = np.median(mean_before(outside.mean_soil, 3), axis=0)
        assert found.stretches or found.hindrance
        for stretch in found.stretches:
            assert usual[stretch.first] >= least - 0.05, key
    assert any(cause == "cold soil" for cause in window(crop("spinach"), outside).obstacles[:40])


def test_two_covers_are_told_apart_by_the_same_years(outside, inside) -> None:
    a, b = window(crop("spinach"), outside), window(crop("spinach"), inside)
    assert within_error(a, a)
    assert not within_error(a, b)
    assert a.earliest is not None
    assert b.earliest is not None
    assert len(a.earliest.drawn) == len(b.earliest.drawn) == 200


def test_a_month_of_heat_bolts_spinach_and_says_so() -> None:
    hot = np.full((3, 8760), 20.0)
    hot.reshape(3, 365, 24)[:, 180:240, 12:18] = 34.0
    spinach = crop("spinach")
    found = window(spinach, Digest(BedYears("lab", hot, hot, np.full_like(hot, 18.0))), risk=0.34)
    assert found.earliest is not None
    assert any(s.after == "heat" for s in found.stretches)
    assert not any(s.first <= 190 <= s.last for s in found.stretches)


@pytest.mark.parametrize("key", ["lettuce-leaf", "kale", "snap-bean", "carrot", "radish"])
def test_a_warmer_bed_is_sooner_and_ripe_sooner(outside, inside, key) -> None:
    a, b = window(crop(key), outside), window(crop(key), inside)
    assert a.earliest is not None
    assert b.earliest is not None
    assert b.earliest.day <= a.earliest.day
    assert b.harvest.middle < a.harvest.middle
    found = gain(a, b)
    assert found.early == a.earliest.day - b.earliest.day
    assert found.harvest == a.harvest.middle - b.harvest.middle
    assert found.sentence.startswith(f"First harvest {found.harvest:.0f} days sooner")


def test_the_same_day_under_two_covers_side_by_side(outside, inside) -> None:
    bean = crop("snap-bean")
    found = window(bean, inside)
    assert found.earliest is not None
    day, lost = found.earliest.day, found.losses
    a, b = (fates(bean, digest) for digest in (outside, inside))
    assert (lost.day, lost.years) == (day, 20)
    for part, of in ((lost.frost, b.frost), (lost.heat, b.heat), (lost.too_short, b.unripe)):
        assert part == pytest.approx(of[:, day].sum())
    assert lost.cold_soil == b.cold_soil[:, day].sum() < a.cold_soil[:, day].sum()
    assert lost.frost + lost.too_short <= 0.1 * lost.years + 1e-9


def test_dates_carry_their_sampling_error_and_it_shrinks_with_years() -> None:
    few = window(crop("snap-bean"), Digest(made("open", 10, warmer=4)))
    many = window(crop("snap-bean"), Digest(made("open", 80, warmer=4)))
    for found in (few, many):
        assert found.earliest is not None
        assert found.earliest.low <= found.earliest.day <= found.earliest.high
    assert many.earliest is not None
    assert few.earliest is not None
    assert many.earliest.high - many.earliest.low <= few.earliest.high - few.earliest.low
    assert any("few" in said for said in few.cautions)


def test_less_risk_gives_fewer_days(outside) -> None:
    days = [window(crop("lettuce-leaf"), outside, risk).start_days for risk in (0.05, 0.1, 0.3)]
    assert days == sorted(days)


def test_reading_the_band_carefully_or_boldly_brackets_the_date(outside) -> None:
    found = window(crop("snap-bean"), Digest(made("open", 40, warmer=4)))
    assert found.earliest is not None
    assert found.careful is not None
    assert found.bold is not None
    assert found.bold[0] <= found.earliest.day <= found.careful[0]


def test_a_typical_year_gives_no_odds() -> None:
    digest = Digest(made("open", 1, typical=True))
    with pytest.raises(SeasonError, match="holds no probabilities"):
        window(crop("kale"), digest)
    with pytest.raises(SeasonError, match="holds no probabilities"):
        frost_curve(digest.years, 0.0)


def test_too_few_years_for_the_risk_are_named() -> None:
    found = window(crop("kale"), Digest(made("open", 5)))
    assert any("cannot show" in said for said in found.cautions)


@pytest.mark.parametrize("risk", [0.0, 1.0, -1.0])
def test_a_risk_that_is_none_is_refused(outside, risk) -> None:
    with pytest.raises(SeasonError, match="between 0 and 1"):
        window(crop("kale"), outside, risk)


def test_insects_are_remembered(inside) -> None:
    found = window(crop("cucumber"), inside)
    assert any("insects" in said for said in found.cautions)
    assert not np.isnan(found.flowering)


def test_years_of_wrong_shape_or_with_holes_are_refused() -> None:
    good = np.zeros((2, 8760))
    with pytest.raises(SeasonError, match="8760"):
        BedYears("x", good[:, :100], good[:, :100], good[:, :100])
    bad = good.copy()
    bad[0, 5] = np.nan
    with pytest.raises(SeasonError, match="not numbers"):
        BedYears("x", good, bad, good)


def test_gain_of_a_bed_over_itself_is_nothing(outside) -> None:
    found = window(crop("lettuce-leaf"), outside)
    nothing = gain(found, found)
    assert (nothing.early, nothing.late, nothing.start_days) == (0, 0, 0)


def test_runs_and_spans() -> None:
    flags = np.array([1, 1, 0, 1, 1, 1, 1, 1, 0, 1], dtype=bool)
    assert spans_of(long_runs(flags, 5)) == [(3, 7)]
    assert spans_of(long_runs(np.ones(10, dtype=bool), 5)) == [(0, 9)]
    assert spans_of(np.zeros(4, dtype=bool)) == []


def test_frost_curve_counts_years_and_agrees_with_the_climate_room() -> None:
    years = made("open", 30)
    curve = frost_curve(years, 0.0)
    assert curve.chance[0] == 1.0
    assert (np.diff(curve.chance[:212]) <= 0).all()
    assert (np.diff(curve.chance[212:]) >= 0).all()
    assert (curve.low <= curve.chance).all()
    assert (curve.high >= curve.chance).all()
    least = years.leaf.reshape(30, 365, 24).min(axis=2)
    for day in (100, 120, 140, 160):
        assert curve.chance[day] == (least[:, day:212] <= 0.0).any(axis=1).mean()
    for day in (220, 260, 280, 300):
        assert curve.chance[day] == (least[:, 212 : day + 1] <= 0.0).any(axis=1).mean()


def test_wilson_interval_against_scipy() -> None:
    from scipy.stats import binomtest

    low, high = wilson(np.array([3.0]), 30)
    found = binomtest(3, 30).proportion_ci(0.90, method="wilson")
    assert float(low[0]) == pytest.approx(found.low, abs=1e-3)
    assert float(high[0]) == pytest.approx(found.high, abs=1e-3)


def test_dates_in_words() -> None:
    assert date_text(0) == "1 January"
    assert date_text(133) == "14 May"
    assert date_text(365 + 133) == "14 May next year"
    assert date_text(float("nan")) == "none"


def test_all_crops_under_two_covers_at_once(outside, inside) -> None:
    keys = ("kale", "tomato", "basil", "garlic", "potato", "strawberry")
    steps = []
    found = windows(
        [crops()[k] for k in keys],
        [outside.years, inside.years],
        step=lambda: steps.append(1),
    )
    assert len(steps) == len(keys)
    assert set(found) == set(keys)
    assert set(found["kale"]) == {"open", "film"}


def test_a_year_turned_by_half_a_year_has_the_same_dates() -> None:
    """South of the equator: the same hours half a year on, given from January, cut at July."""
    held = made("north", 12)

    def turned(part):
        return np.roll(part.ravel(), 24 * 181).reshape(part.shape)

    parts = [turned(part) for part in (held.air, held.leaf, held.soil)]
    light, station = np.full(8760, 400.0), np.zeros(8760)
    years = joined(
        "south",
        [
            YearHours(a, b, c, light, station, False, 181, True)
            for a, b, c in zip(*parts, strict=True)
        ],
    )
    assert years.air == pytest.approx(held.air)
    for key in ("spinach", "snap-bean", "garlic"):
        a = window(crop(key), Digest(held))
        b = window(crop(key), Digest(years))
        assert a.stretches == b.stretches
        moved = in_calendar(b, years.begins)
        assert a.earliest is not None
        assert moved.earliest is not None
        assert moved.earliest.day == a.earliest.day + 181
        assert moved.harvest.middle == a.harvest.middle + 181
