"""The opening calendar: on made-up years with a known answer, and with the heat model."""

import numpy as np
import pytest
from bench.plain_covers import cover_optics, half_ellipse

from hoopwright.climate.demo import demo_weather
from hoopwright.heat.compiled import compiled_march
from hoopwright.heat.enclosure import Enclosure
from hoopwright.heat.run import BedInRun, place_of, simulate
from hoopwright.heat.schedule import Visits
from hoopwright.season.bed_years import SeasonError
from hoopwright.season.crop_days import Habits, hot_limits
from hoopwright.season.crops import crop
from hoopwright.season.opening import (
    NOTHING_STANDS,
    Limits,
    crop_limits,
    film_changes,
    half_month_days,
    limits_through_year,
    opening_calendar,
)
from hoopwright.season.opening_options import Opening, OptionYears, allowed_height, run_ways, ways
from hoopwright.tables.animals import animals

DAYS = np.arange(365)
MEAN = 11.0 - 14.0 * np.cos(2 * np.pi * (DAYS - 15) / 365)
HOUR = -np.cos(2 * np.pi * (np.arange(24) - 3) / 24)


def option(opening: Opening, hotter: float, warmer_nights: float) -> OptionYears:
    """Days hotter [K] and nights warmer [K] than the open bed's; the same three years."""
    swing = np.where(HOUR > 0, HOUR * (6 + hotter), HOUR * (6 - warmer_nights))
    air = np.broadcast_to((MEAN[:, None] + swing).ravel(), (3, 8760))
    return OptionYears(opening, air, air)


OPTIONS = [
    option(Opening("closed"), 16, 3),
    option(Opening("days", 0.1), 7, 2),
    option(Opening("days", 0.3), 3, 2),
    option(Opening("always", 0.3), 3, 0.5),
    option(Opening("off"), 0, 0),
]


def test_each_half_month_is_the_least_open_that_keeps_the_heat_out() -> None:
    calendar = opening_calendar(OPTIONS, Limits(too_hot=30.0, too_cold=-50.0))
    assert len(calendar) == 24
    for number, half in enumerate(calendar):
        days = half_month_days(number)
        fits = [
            o.opening
            for o in OPTIONS[:-1]
            if (o.air.reshape(3, 365, 24)[:, days].max(axis=2) > 30.0).mean() <= 0.1
        ]
        if half.opening.way != "off" and fits:
            assert half.opening == fits[0]
    assert calendar[0].opening.way == "closed"
    assert calendar[13].opening.way in ("always", "off", "days")
    assert calendar[13].day_saving > 5


def test_what_cannot_be_opened_is_taken_off_on_warm_days() -> None:
    """Shut, some summer day passes 30 degC and the nights of the open bed are too cold to leave it
    off: it is told to come off by day, and never to open."""
    shut_or_off = [OPTIONS[0], OPTIONS[-1]]
    limits = Limits(too_hot=30.0, too_cold=-50.0, off_above=99.0)
    calendar = opening_calendar(shut_or_off, limits)
    assert {half.opening.way for half in calendar} == {"closed"}
    hot = [half.hot_days > limits.hot_days for half in calendar]
    assert 0 < sum(hot) < 24
    assert [half.sentence.startswith("Take it off on warm days") for half in calendar] == hot
    assert not any("pen" in half.sentence for half in calendar)


def test_the_film_comes_off_only_where_nights_are_warm() -> None:
    hot = [option(o.opening, 12, 3) for o in OPTIONS[:-1]] + [OPTIONS[-1]]
    warm = opening_calendar(hot, Limits(too_hot=31.5, too_cold=0.0, off_above=5.0))
    cold = opening_calendar(hot, Limits(too_hot=31.5, too_cold=0.0, off_above=40.0))
    assert any(half.opening.way == "off" for half in warm)
    assert all(half.mesh == (half.opening.way == "off") for half in warm)
    assert not any(half.opening.way == "off" for half in cold)
    changes = film_changes(warm)
    assert [change for _, change in changes] == ["off", "on"]


def test_what_a_half_month_costs_and_saves_is_the_difference_to_shut() -> None:
    half = opening_calendar(OPTIONS, Limits(too_hot=30.0, too_cold=-50.0))[10]
    shut, held = OPTIONS[0], next(o for o in OPTIONS if o.opening == half.opening)
    days = half_month_days(10)

    def night(o):
        return o.leaf.reshape(3, 365, 24)[:, days].min(axis=2)

    assert half.night_cost == pytest.approx((night(shut) - night(held)).mean())


def test_limits_of_a_mixed_bed_are_the_most_delicate() -> None:
    found = crop_limits([crop("lettuce-leaf"), crop("tomato")])
    assert found.too_hot == crop("lettuce-leaf").heat.limit.low
    assert found.too_cold == crop("tomato").cold.plant_damage.middle
    with pytest.raises(SeasonError, match="name the crops"):
        crop_limits([])


def test_limits_follow_what_stands_in_the_bed() -> None:
    found = limits_through_year([(crop("spinach"), 100, 150), (crop("garlic"), 290, 365 + 180)])
    assert found[16] == NOTHING_STANDS  # the first half of September
    assert found[0].too_hot == crop("garlic").heat.limit.low
    assert found[8].too_hot == crop("spinach").heat.limit.low
    assert opening_calendar(OPTIONS, found)[0].opening.way == "closed"


def test_limits_of_standing_crops_are_those_of_the_sowing_dates() -> None:
    """Half hardened lettuce, read 2 K under the list; a noon is too hot for it after a warm night
    only."""
    lettuce = crop("lettuce-leaf")
    found = limits_through_year([(lettuce, 100, 150)], 2.0, np.full(365, 0.5))[7]
    soft, hard = lettuce.cold.plant_kill.high, lettuce.hardened.hardened_kill.high
    assert found.too_cold == pytest.approx((soft + hard) / 2 - 2.0)
    assert found.hot == (hot_limits(lettuce, Habits())[0],)
    peak, mean = found.hot[0]
    noon = np.where(np.arange(24) == 13, peak + 1.0, 0.0)
    for night, share in ((mean - 8.0, 0.0), (mean + 1.0, 1.0)):
        air = np.tile(np.maximum(noon, night), (1, 365))
        option = OptionYears(Opening("closed"), air, air)
        assert opening_calendar([option], [found] * 24)[7].hot_days == share


def test_wrong_options_are_refused() -> None:
    limits = Limits(30.0, 0.0)
    with pytest.raises(SeasonError, match="begin with the shut one"):
        opening_calendar(OPTIONS[1:], limits)
    with pytest.raises(SeasonError, match="24 half months"):
        opening_calendar(OPTIONS, [limits] * 12)


def test_half_months_cover_the_year_once() -> None:
    days = [day for number in range(24) for day in range(365)[half_month_days(number)]]
    assert days == list(range(365))


def test_animals_keep_the_sides_down() -> None:
    """A rabbit passes any gap over an inch and is stopped by a band of two feet."""
    rabbit, deer = animals()["rabbit"], animals()["deer"]
    assert allowed_height([rabbit], mesh_band=0.0, full=0.9) == pytest.approx(rabbit.gap)
    assert allowed_height([rabbit], mesh_band=0.61, full=0.9) == pytest.approx(0.9)
    assert allowed_height([rabbit], mesh_band=0.3, full=0.9) == pytest.approx(0.3 + rabbit.gap)
    assert allowed_height([deer], mesh_band=0.61, full=0.9) == pytest.approx(0.61 + deer.gap)
    assert allowed_height([], mesh_band=0.0, full=0.9) == 0.9
    found = ways([0.1, 0.3, 0.6], most=rabbit.gap)
    assert max(way.height for way in found) <= rabbit.gap
    assert {way.way for way in ways([0.1], most=0.0)} == {"closed", "off"}


def test_with_the_heat_model_summer_is_opened_and_winter_shut() -> None:
    march = compiled_march()
    bed = BedInRun(Enclosure(3.66, 0.91, half_ellipse(0.91, 0.6)))
    film = cover_optics("film-6mil")
    years = [place_of(weather, bed) for weather in demo_weather(2)]
    found = run_ways(
        ways([0.1, 0.3], 0.3),
        years,
        Visits(7.5, 18.0),
        lambda at, plans: [simulate(at.weather, bed, film, plan, at, march) for plan in plans],
    )
    calendar = opening_calendar(found, Limits(too_hot=29.0, too_cold=2.0))
    assert calendar[0].opening.way == "closed"
    july = calendar[13]
    assert july.opening.way != "closed"
    assert july.day_saving > 5
    assert -1 < july.night_cost < 6


def test_half_months_are_whole() -> None:
    """First and last days of the year's halves; February is open to its 29th."""
    calendar = opening_calendar(OPTIONS, Limits(too_hot=30.0, too_cold=-50.0))
    assert (calendar[0].first, calendar[0].last) == ((1, 1), (1, 15))
    assert (calendar[3].first, calendar[3].last) == ((2, 16), (2, 29))
    assert (calendar[7].first, calendar[7].last) == ((4, 16), (4, 30))
    assert calendar[23].last == (12, 31)
    assert sum(days.stop - days.start for days in map(half_month_days, range(24))) == 365


@pytest.mark.parametrize(("cold_nights", "off"), [(0, True), (1, True), (2, False)])
def test_the_film_comes_off_where_nine_nights_in_ten_are_over_seven_degrees(
    cold_nights: int, off: bool
) -> None:
    """Of the 15 nights of a half month none, one (7 %) or two (13 %) at 3 degC, the others at 10;
    shut it is too hot by day, open day and night or off it is not."""
    night = np.where(np.arange(365)[:, None] % 15 < cold_nights, 3.0, 10.0)
    leaf = np.broadcast_to(night + np.zeros(24), (4, 365, 24)).reshape(4, -1)

    def way(opening: Opening, peak: float) -> OptionYears:
        return OptionYears(opening, np.full((4, 8760), peak), leaf)

    options = [
        way(Opening("closed"), 45.0),
        way(Opening("always", 0.3), 29.0),
        way(Opening("off"), 25.0),
    ]
    found = opening_calendar(options, Limits(too_hot=30.0, too_cold=-50.0))
    assert found[0].opening.way == ("off" if off else "always")
    # Colder at night by nothing, cooler by day by the difference of the peaks.
    assert (found[0].night_cost, found[0].day_saving) == (0.0, 20.0 if off else 16.0)
