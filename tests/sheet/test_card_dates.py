"""When the card says to open: half months run alike told once, from the day the cover is on."""

from __future__ import annotations

from types import SimpleNamespace

import pytest

from hoopwright.answers.voice import Voice
from hoopwright.design import design_of
from hoopwright.plan.read import read_plan_text
from hoopwright.season.opening import HalfMonth
from hoopwright.season.opening_options import Opening
from hoopwright.sheet.card_weather import weather_cells
from hoopwright.units import METRIC, show

SHUT, BY_DAY, WIDE = Opening("closed"), Opening("days", 0.1), Opening("days", 0.3)
OFF = Opening("off")
BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[season]\n'


def a_year(*changes: tuple[int, Opening]) -> list[HalfMonth]:
    """24 half months, run as each change has it from its half month on."""
    ways = dict(changes)
    found, way = [], ways[0]
    for n in range(24):
        way = ways.get(n, way)
        found.append(HalfMonth(n // 2 + 1, n % 2 + 1, way, False, 0.0, 0.0, 0.0, 0.0, ""))
    return found


def dates(season: str, calendar: list[HalfMonth], invented: bool = False) -> str:
    design = design_of(read_plan_text(BED + season))
    report = SimpleNamespace(calendar=calendar, invented=invented)
    cell = weather_cells(design, report, Voice(METRIC))[-1]
    return cell.words[-1]


def test_half_months_alike_are_told_once_with_the_day_that_they_begin():
    """Shut to 30 April, 10 cm by day to 15 June, 30 cm to 15 September, then shut."""
    told = dates("", a_year((0, SHUT), (8, BY_DAY), (11, WIDE), (17, SHUT)))
    assert told == (
        "By the season worked out: from 1 Jan shut; from 1 May open by day, 10 cm; "
        "from 16 Jun 30 cm; from 16 Sep shut."
    )


@pytest.mark.parametrize(
    ("first", "autumn", "said"),
    [
        # The cover goes on within a half month: from that day, not from the 1st or the 16th.
        ("10-05", 18, "from 5 Oct shut; from 1 Apr open by day, 10 cm; from 16 May cover off."),
        ("10-20", 19, "from 20 Oct shut; from 1 Apr open by day, 10 cm; from 16 May cover off."),
    ],
)
def test_a_cover_put_on_in_autumn_is_told_from_then_over_the_new_year(first, autumn, said):
    season = f'cover_from = "{first}"\ncover_until = "05-15"\n'
    told = dates(season, a_year((0, SHUT), (6, BY_DAY), (9, OFF), (autumn, SHUT)), invented=True)
    assert told == f"By the season worked out, on invented weather: {said}"


def test_film_whose_sides_do_not_roll_up_is_not_told_to_open_by_them():
    text = f'{BED}sides = "daily"\n[cover]\nroll_up = "none"\n'
    opening = weather_cells(design_of(read_plan_text(text)), None, Voice(METRIC))[-1].words
    assert opening[-1].startswith("No side rolls up: take the film off")
    assert not any("Open the sides" in one for one in opening)


def test_visits_open_by_their_own_temperatures_and_no_higher_than_the_sides_go():
    """Asked for 10 cm; at 16 degC or, in sun, 5; up by night from 15. Asked for 3 m, the sides go
    as high as the crown stands over the boards."""
    opening = weather_cells(
        design_of(read_plan_text(f'{BED}sides = "visits"\nopen_height = "10 cm"\n')),
        None,
        Voice(METRIC),
    )[-1].words
    assert opening[0] == (
        "Open the sides 10 cm before the morning sun is on the bed, if 16 °C or sun and 5 °C are "
        "forecast; shut them in the evening, unless the night stays above 15 °C."
    )
    design = design_of(read_plan_text(f'{BED}sides = "days"\nopen_height = "4 ft"\n'))
    crown = show(design.hoop.crown_over_board, "depth", METRIC)
    (every,) = weather_cells(design, None, Voice(METRIC))[-1].words
    assert every.startswith(f"Open the sides {crown} every day")


def test_a_stretch_of_the_year_is_told_by_its_days_and_months():
    text = f'{BED}cover_from = "03-01"\ncover_until = "12-15"\n'
    opening = weather_cells(design_of(read_plan_text(text)), None, Voice(METRIC))[-1].words
    assert opening[0] == "The cover is on from 1 Mar to 15 Dec."
