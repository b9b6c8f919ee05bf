"""Days to emergence against the grid of Harrington and Minges.

J.F. Harrington & P.A. Minges 1954, Vegetable Seed Germination, California Agricultural Extension,
in Knott's Handbook; two secondary copies read, which agree but for eggplant's and bean's edges.
A third copy gives the share that came up; at 77 degF it has 65 % of the celery, where the others
have none: that cell is left out.
N: no germination; -: not tested. Temperatures in degF as printed.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from hoopwright.season.bed_years import BedYears, Digest, first_reaching, summed, two_years
from hoopwright.season.crops import crop

ROWS = list(csv.DictReader((Path(__file__).parent / "harrington_minges.csv").open()))


def days_to_emerge(soil, grid, limits) -> float:
    """Return the days in soil held at one temperature."""
    rate = float(grid.rate(soil, limits))
    return 1.0 / rate if rate > 0 else float("inf")


def came_up(plant, soil) -> int:
    """Return the day of a year of hours of soil temperature by which seed sown first came up."""
    hours = np.resize(soil, 8760)[None, :]
    shares = Digest(BedYears("bed", hours, hours, hours)).sprouting(
        plant.emergence, plant.germination
    )
    return int(
        first_reaching(summed(two_years(shares)), np.zeros((1, 1), dtype=np.int64), 1.0)[0, 0]
    )


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["crop"])
def test_every_printed_number_comes_back(row) -> None:
    plant = crop(row["crop"])
    assert plant.emergence is not None
    for printed, days in row.items():
        if printed == "crop" or days == "-":
            continue
        found = days_to_emerge(celsius(float(printed)), plant.emergence, plant.germination)
        if days == "N":
            assert found == float("inf")
        else:
            assert found == pytest.approx(float(days), rel=1e-6)


@pytest.mark.parametrize("row", ROWS, ids=lambda row: row["crop"])
def test_between_two_printed_numbers_the_days_lie_between(row) -> None:
    plant = crop(row["crop"])
    grid = plant.emergence
    assert grid is not None
    for left, right, a, b in zip(grid.soil, grid.soil[1:], grid.days, grid.days[1:], strict=False):
        between = days_to_emerge((left + right) / 2, grid, plant.germination)
        assert min(a, b) - 1e-9 <= between <= max(a, b) + 1e-9


def test_held_soil_and_changing_soil_agree() -> None:
    """Lettuce: 7 days at 50 degF; half of that, then half of the 3 days at 68 degF: 5 days."""
    plant = crop("lettuce-leaf")
    assert plant.emergence is not None
    assert came_up(plant, np.full(8760, celsius(50))) == 7
    half = np.concatenate([np.full(84, celsius(50)), np.full(8676, celsius(68))])
    assert came_up(plant, half) == 5


def test_seed_never_comes_up_in_soil_below_its_least() -> None:
    plant = crop("cucumber")
    assert plant.emergence is not None
    assert came_up(plant, np.full(8760, 9.0)) > 730
    assert float(plant.emergence.rate(-10.0, plant.germination)) == 0.0


def test_the_rate_falls_to_nothing_where_the_nearest_trial_failed() -> None:
    """Spinach took 6 days at 86 degF and did not come up at 95 and 104: midway, half the rate.
    Carrots took 51 days at 41 degF and did not come up at 32."""
    spinach, carrot = crop("spinach"), crop("carrot")
    assert spinach.emergence is not None
    assert carrot.emergence is not None
    hot = spinach.emergence.rate(celsius(90.5), spinach.germination)
    assert float(hot) == pytest.approx(1 / 12, rel=1e-6)
    cold = carrot.emergence.rate(celsius(36.5), carrot.germination)
    assert float(cold) == pytest.approx(1 / 102, rel=1e-6)


def test_the_share_that_comes_up_is_the_one_printed() -> None:
    """The same trials, per cent of seed (a grower's copy, read): lettuce fails in warm soil."""
    for key, fahrenheit, printed in (
        ("lettuce-leaf", 77, 0.99),
        ("lettuce-leaf", 86, 0.12),
        ("spinach", 41, 0.96),
        ("spinach", 77, 0.28),
        ("celery", 77, 0.65),
        ("parsnip", 32, 0.82),
        ("tomato", 95, 0.46),
    ):
        grid = crop(key).emergence
        assert grid is not None
        at = [round(soil * 1.8 + 32) for soil in grid.tried].index(fahrenheit)
        assert grid.come_up[at] == pytest.approx(printed)
