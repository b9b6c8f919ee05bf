"""Days to emergence against the grid of Harrington and Minges.

J.F. Harrington & P.A. Minges 1954, Vegetable Seed Germination, California Agricultural Extension,
in Knott's Handbook; two secondary copies read, which agree but for eggplant's and bean's edges.
N: no germination; -: not tested. Temperatures in degF as printed.
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from hoopwright.season.crops import crop
from hoopwright.season.emergence import days_to_emerge, emergence_rate, hours_to_emerge

ROWS = list(csv.DictReader((Path(__file__).parent / "harrington_minges.csv").open()))


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
    plant = crop("lettuce-leaf")
    assert plant.emergence is not None
    held = np.full(24 * 30, celsius(50))
    hours = hours_to_emerge(held, plant.emergence, plant.germination)
    assert hours == pytest.approx(7 * 24, abs=1)

    half = np.concatenate([np.full(84, celsius(50)), np.full(24 * 30, celsius(68))])
    hours = hours_to_emerge(half, plant.emergence, plant.germination)
    assert hours == pytest.approx(84 + 0.5 * 3 * 24, abs=1.01)


def test_seed_never_comes_up_in_soil_below_its_least() -> None:
    plant = crop("cucumber")
    assert plant.emergence is not None
    assert hours_to_emerge(np.full(2000, 9.0), plant.emergence, plant.germination) == float("inf")
    assert float(emergence_rate(-10.0, plant.emergence, plant.germination)) == 0.0
