"""Dates, shares and water of the season as they are printed, on figures made up to be counted."""

from __future__ import annotations

import csv
import io
from datetime import date
from types import SimpleNamespace

import pytest

from hoopwright.answers.season_answer import _short, on_day
from hoopwright.answers.season_words import (
    additions,
    calendar,
    harvest_words,
    heat_by_opening,
    rule_words,
    sowing,
    stalk_words,
    successions,
    thirst,
    window_words,
)
from hoopwright.answers.spreadsheets import bought, cuts_csv, shopping_csv, sold_as
from hoopwright.answers.voice import Voice
from hoopwright.cutting.stock import (
    CutPlan,
    CutRoll,
    CutStick,
    Piece,
    PlacedSheet,
    Roll,
    RollPlan,
    Sheet,
    Stick,
)
from hoopwright.design.season_options import Addition, OpeningHeat
from hoopwright.design.season_thirst import Thirst
from hoopwright.heat.compare import NightGain
from hoopwright.materials.order import Leftover, Order, OrderLine, RollCuts, StickCuts
from hoopwright.season import gains
from hoopwright.season.calendar_file import window_events
from hoopwright.season.crops import crop
from hoopwright.season.harvests import HarvestDates
from hoopwright.season.opening import HalfMonth
from hoopwright.season.opening_options import Opening
from hoopwright.season.running import Rule
from hoopwright.season.succession import Timetable, Turn
from hoopwright.season.windows import Stretch
from hoopwright.sheet.buying import left_words
from hoopwright.units import METRIC, US

FOOT = 0.3048
SHUT, OFF, DAYS = Opening("closed"), Opening("off"), Opening("days", 0.3048)
CROPS = {"lettuce-leaf": crop("lettuce-leaf"), "spinach": crop("spinach")}


def report(**what: object) -> SimpleNamespace:
    return SimpleNamespace(crops=CROPS, marked=lambda words: words, **what)


def window(**what: object) -> SimpleNamespace:
    usual = {
        "stretches": (Stretch(89, 119, "frost", "heat"), Stretch(212, 242, "heat", "frost")),
        "careful": (99, 230),
        "hindrance": None,
        "earliest": SimpleNamespace(day=89),
        "harvest": HarvestDates(140.0, 150.0, 165.0),
        "stalks": (150, 0.3),
    }
    return SimpleNamespace(**{**usual, **what})


def test_dates_are_told_by_the_calendar_the_careful_one_first() -> None:
    """Day 0 is 1 January: 89 is 31 March, 99 is 10 April, 119 is 30 April, 212 1 August, 242 31
    August; harvest on 31 May, between 21 May and 15 June in eight years of ten."""
    assert window_words(window()) == (
        "with all care from 10 April; 31 March to 30 April, and 1 August to 31 August"
    )
    assert window_words(window(careful=(89, 230))) == "31 March to 30 April, and 1 August to " + (
        "31 August"
    )
    assert window_words(window(careful=None)).startswith("never with all care; 31 March")
    assert harvest_words(window()) == "31 May (21 May to 15 June)"
    assert harvest_words(window(earliest=None)) == "none"
    assert stalk_words(window()).startswith("Started about 31 May, 3 in 10 flower before")


def test_how_to_run_the_cover_runs_from_start_to_harvest() -> None:
    """Off from 20 April (109), by day from 15 June (165): of a start on 31 March that is ripe on
    31 May the first two steps are told; without a harvest those of 90 days."""
    rule = Rule(None, ((0, SHUT), (109, OFF), (165, DAYS)))
    assert rule_words(rule, 89, 150, US) == "shut; from 20 April cover off"
    assert rule_words(rule, 89, float("nan"), US) == (
        "shut; from 20 April cover off; from 15 June open by day, 12 in"
    )


def test_water_by_can_and_by_drip() -> None:
    """37.85 l are 10 gallons; a third of it by drip is 67 % less. Once has no interval."""
    once = Thirst("spinach", 40.0, float("inf"), 10.0)
    found = thirst(report(thirst=(Thirst("lettuce-leaf", 37.854, 3.4, 12.618), once)), US)
    assert found.rows[0].cells == ("10 gal", "3 days", "3.3 gal, 67 % less")
    assert thirst(report(thirst=(once,)), METRIC).rows[0].cells == (
        "40 L",
        "once",
        "10 L, 75 % less",
    )


def test_what_follows_what_is_told_with_its_weeks_and_its_odds() -> None:
    """Sown on 31 March, picked 31 May to 21 June, then sown on 1 August; 6 weeks, 8 years in 10."""
    turns = (Turn("lettuce-leaf", 89, 150, 171), Turn("spinach", 212, 260, 281))
    (found,) = successions(report(successions=(Timetable(turns, 6.0, 0.8),)))
    assert found.rows[0].label == "6 weeks of harvest; all of them 8 years in 10"
    first, then = found.rows[0].cells
    assert first == f"{CROPS['lettuce-leaf'].name} 31 March, picked 31 May to 21 June"
    assert then == f"{CROPS['spinach'].name} 1 August, picked 18 September to 9 October"


def test_heat_is_told_way_by_way_and_the_least_opening_that_keeps_under_it() -> None:
    found = heat_by_opening(
        report(
            openings=(OpeningHeat(SHUT, 412.0, 95.4, -3.0), OpeningHeat(DAYS, 60.0, 2.0, -3.5)),
            keeps_under=0.3048,
            allowed_height=0.6,
        ),
        US,
    )
    assert found.rows[0].cells == ("412", "95", "27 °F")
    assert found.rows[1].label == "open by day, 12 in"
    assert "Opened by day to 12 in, the air stays under 90 °F" in found.note
    (more,) = additions(report(additions=(Addition("fabric", 1.0, 0.5, 2.0),)), US)
    assert more.rows[0].cells == ("1.8 °F warmer (eight nights in ten: 0.9 °F to 3.6 °F)",)


def half(number: int, opening: Opening, sentence: str) -> HalfMonth:
    month, part = number // 2 + 1, number % 2 + 1
    return HalfMonth(month, part, opening, False, 0.0, 0.0, 0.0, 0.0, sentence)


def test_half_months_alike_are_told_with_the_span_of_their_shares() -> None:
    """From 1 April to 15 May 12, 30 and 25 % of days: 12 to 30 %."""
    said = "Open by day, shut at night; shut all day {} % of days are too hot."
    shares = {6: 12, 7: 30, 8: 25}
    halves = [
        half(n, DAYS, said.format(shares[n])) if n in shares else half(n, SHUT, "Keep it shut.")
        for n in range(24)
    ]
    found = calendar(report(calendar=tuple(halves), allowed_height=0.6), US)
    row = next(one for one in found.rows if one.label == "1 April to 15 May")
    assert row.cells == ("open by day, 12 in", "Shut all day 12 to 30 % of days are too hot.")


def test_the_gist_tells_the_middle_crop_at_either_end() -> None:
    """Starts 20, 10 and 2 days earlier, and 5, 7 and -1 later: 10 and 5 in the middle."""
    gains = {
        str(n): SimpleNamespace(early=early, late=late)
        for n, (early, late) in enumerate([(20, 5), (2, 7), (10, -1), (None, None)])
    }
    night = SimpleNamespace(leaf=NightGain(1.0, 0.5, 2.0, 3, 365))
    covers = (None, SimpleNamespace(gains=night))
    told = _short(SimpleNamespace(covers=covers, gains=gains, marked=lambda words: words), METRIC)
    assert (
        "1.0 °C warmer than in the open on average (eight nights in ten: 0.5 °C to 2.0"
        in (told["says"])
    )
    assert told["says"].endswith(
        "For the middle one of 3 crops the first start comes 10 days earlier and the last 5 days "
        "later."
    )


@pytest.mark.parametrize(
    ("day", "words", "sides", "chance", "starts"),
    [
        (0, "1 January", 0, 0, []),
        (14, "15 January", 0, 14, ["Spinach"]),
        (15, "16 January", 1, 15, ["Spinach"]),
        (104, "15 April", 6, 100, ["Leaf lettuce"]),
        (364, "31 December", 23, 100, []),
    ],
)
def test_a_day_of_the_year_has_its_own_half_month_chance_and_starts(
    day: int, words: str, sides: int, chance: int, starts: list[str]
) -> None:
    """A chance of as many hundredths as days since 1 January, at most all; lettuce from 31 March to
    30 April; spinach from 6 January of the season's second year, days 370 to 385, on."""
    curve = {"chance": [min(n / 100, 1.0) for n in range(365)]}
    rows = {"lettuce-leaf": (89, 119), "spinach": (370, 385)}
    data = {
        "opening_calendar": [{"sentence": str(n)} for n in range(24)],
        "frost_curves": {"open bed": curve, "film": curve},
        "invented": False,
        "crops": {
            key: {
                cover: {"stretches": [{"first": first, "last": last}]}
                for cover in ("open bed", "film")
            }
            for key, (first, last) in rows.items()
        },
    }
    found = on_day(data, day)
    assert (found["day"], found["sides"]) == (words, str(sides))
    assert found["curves"] == [("open bed", chance), ("film", chance)]
    names = {"Spinach": CROPS["spinach"].name, "Leaf lettuce": CROPS["lettuce-leaf"].name}
    assert found["starts"]["film"] == [names[one] for one in starts]


def test_a_spreadsheet_has_what_is_bought_and_every_cut() -> None:
    """Three sticks to buy and two at hand at 4.50; a sheet 12 ft along and 4 ft across a roll 10 ft
    by 100, begun 3 ft from its end."""
    line = OrderLine("p", "pipe", "stick", 10 * FOOT, None, None, 3, 2, 5, "hoops", 4.5)
    film = OrderLine("f", "film", "roll", 100 * FOOT, 10 * FOOT, None, 1, 0, 1, "body", 90.0)
    stick = CutStick(Stick("p", 10 * FOOT, 0.0, 2), (Piece("hoop 1", 9 * FOOT),), FOOT)
    sheet = Sheet("body sheet", 4 * FOOT, 12 * FOOT)
    placed = PlacedSheet(sheet, 0.0, 3 * FOOT, 4 * FOOT, 12 * FOOT, False)
    cut = CutRoll(Roll("r", 10 * FOOT, 100 * FOOT, 90.0), (15 * FOOT,), (placed,))
    order = Order(
        (StickCuts("p", "pipe", CutPlan((stick,), 0.0, 0.0, True, True, 0.0)),),
        (RollCuts("f", "film", RollPlan((cut,), 90.0, 90.0, True, 1.0, True, 1.0)),),
        (line, film), (), False, "", "USD", (),
    )  # fmt: skip
    shop = list(csv.DictReader(io.StringIO(shopping_csv(order, US))))
    assert [shop[0][head] for head in ("size", "buy", "at hand", "price each", "total")] == [
        "10 ft", "3", "2", "4.50", "13.50",
    ]  # fmt: skip
    cuts = list(csv.DictReader(io.StringIO(cuts_csv(order, US))))
    assert (cuts[0]["at hand"], cuts[0]["length"]) == ("yes", "9 ft")
    heads = ("size", "length", "width", "starts at")
    assert [cuts[1][head] for head in heads] == ["10 ft x 100 ft", "12 ft", "4 ft", "36 in"]
    say = Voice(US)
    assert bought(line, say) == ("10 ft", "2", "3", "$4.50", "$13.50")
    assert sold_as(film, say) == "10 ft by 100 ft roll"
    assert left_words(Leftover("film", 30 * FOOT, 10 * FOOT, 1), say) == "10 ft by 30 ft"
    assert left_words(Leftover("pipe", 2 * FOOT, None, 3), say) == "3 of 24 in"


def test_the_calendar_tells_the_odds_and_both_safe_days() -> None:
    """One start in five lost; 31 March (day 89) to 31 August (242); harvest on 31 May."""
    found = window(latest=SimpleNamespace(day=242), risk=0.2, cover="film")
    first, last = window_events(found, "lettuce", planted=False, year=2027)
    assert (first.day, last.day) == (date(2027, 3, 31), date(2027, 8, 31))
    assert first.description == (
        "Under: film. Lost in about 1 year of 5 or fewer. First harvest about 31 May 2027."
    )


def test_days_gained_are_told_for_the_best_starts_and_for_the_same_day(monkeypatch) -> None:
    """Open: from day 100 to 200, ripe on day 160; covered from 80 to 215, ripe on 130 of the first
    start; a covered start on day 100 is ripe on 145. 20 and 15 days longer; 30 days sooner at the
    best, 15 of the same day."""

    def made(first: int, last: int, ripe: float, same: float, weeks: float) -> SimpleNamespace:
        middle = [float("nan")] * 100 + [same] + [float("nan")] * 264
        return SimpleNamespace(
            crop="x", cover="film", earliest=SimpleNamespace(day=first),
            latest=SimpleNamespace(day=last), middle_harvest=middle, harvest_weeks=weeks,
            harvest=SimpleNamespace(middle=ripe), start_days=last - first + 1,
        )  # fmt: skip

    monkeypatch.setattr(gains, "in_calendar", lambda window, begins: window)
    monkeypatch.setattr(gains, "_sentence", lambda *told: "")
    found = gains.gain(made(100, 200, 160.0, 160.0, 6.0), made(80, 215, 130.0, 145.0, 9.0))
    assert (found.early, found.late, found.start_days) == (20, 15, 35)
    assert (found.harvest, found.same_day) == (30.0, 15.0)
    assert (found.weeks, found.weeks_open) == (9.0, 6.0)


def test_the_risk_of_the_dates_is_told_in_hundredths_a_year() -> None:
    covers = (None, SimpleNamespace(name="film"))
    asked = report(covers=covers, windows={}, gains={}, risk=0.1, origin="30 years of a place")
    told = sowing(asked, US)
    assert told.note.startswith("At a risk of 10 % a year")
