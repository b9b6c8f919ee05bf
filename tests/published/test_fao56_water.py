"""Crop water against the worked examples of FAO Irrigation and Drainage Paper 56 (1998).

Example 35 (corrected edition) was read in the test data of a U.S. Geological Survey model;
watering is printed there as depth over the wetted part (40 mm over 0.8). Example 36 is recalled
(`tests/recalled`).
"""

import csv
from pathlib import Path

import numpy as np
import pytest

from hoopwright.season.crops import crop, crops
from hoopwright.season.water import DRIP, DailyAir, Watering, balance
from hoopwright.season.water_coefficients import (
    WaterStore,
    canopy_cover,
    depletion_share,
    evaporating_share,
    evaporation_reduction,
    greatest_coefficient,
    soil_kinds,
    stage_curve,
    stress,
)

ROWS = [
    {name: float(cell) for name, cell in row.items()}
    for row in csv.DictReader((Path(__file__).parent / "fao_56_example_35.csv").open())
]
SANDY_LOAM = WaterStore(field_capacity=0.23, wilting_point=0.10, readily_evaporable=8.0)


def test_example_35_stores() -> None:
    assert SANDY_LOAM.evaporable == pytest.approx(18.0)
    greatest = greatest_coefficient(0.35, wind=1.6, least_humidity=0.35, height=0.3)
    assert float(greatest) == pytest.approx(1.21, abs=0.005)


def test_example_35_ten_days() -> None:
    """Kr and Ke within 0.02, ETc within 0.15 mm of print: the paper rounds depletion to 1 mm."""
    greatest = float(greatest_coefficient(0.35, 1.6, 0.35, 0.3))
    depletion = 18.0
    for row in ROWS:
        depletion = max(depletion - row["rain [mm]"] - row["watered [mm]"], 0.0)
        reduced = float(evaporation_reduction(depletion, SANDY_LOAM))
        coefficient = min(reduced * (greatest - row["Kcb [-]"]), row["few [-]"] * greatest)
        evaporated = coefficient * row["ET0 [mm]"]
        depletion = min(depletion + evaporated / row["few [-]"], 18.0)
        assert reduced == pytest.approx(row["Kr [-]"], abs=0.02)
        assert coefficient == pytest.approx(row["Ke [-]"], abs=0.02)
        assert depletion == pytest.approx(row["depletion at end [mm]"], abs=0.6)
        used = (coefficient + row["Kcb [-]"]) * row["ET0 [mm]"]
        assert used == pytest.approx(row["ETc [mm]"], abs=0.15)


@pytest.mark.parametrize(
    ("wind", "humidity", "height", "expected"),
    [
        (1, 0.40, 1, 1.185616),
        (1, 0.80, 9, 0.949730),
        (2, 0.50, 3, 1.18),
        (3, 0.60, 5, 1.176688),
        (5, 0.40, 9, 1.394654),
        (5, 0.80, 1, 1.185616),
    ],
)
def test_greatest_coefficient_as_another_program_has_it(wind, humidity, height, expected) -> None:
    """Eq. 72 by a separate implementation in R, read in the same U.S. Geological Survey data."""
    found = greatest_coefficient(0.5, wind, humidity, height)
    assert float(found) == pytest.approx(expected, abs=1e-6)


def test_a_wet_bed_loses_a_twentieth_more_than_its_crop_at_least() -> None:
    """Eq. 72's other limb, max(..., Kcb + 0.05): a full crop in calm damp air."""
    assert float(greatest_coefficient(1.3, 1.0, 0.8, 0.3)) == pytest.approx(1.35)


def test_stress_begins_where_the_easy_water_ends() -> None:
    """The soil of example 37 (tomato, 0.8 m, p 0.40): 160 mm stored, 64 mm easy; eq. 84."""
    store = WaterStore(0.32, 0.12)
    assert store.available(0.8) == pytest.approx(160)
    assert stress(64.0, 160.0, 0.40) == pytest.approx(1.0)
    assert stress(160.0, 160.0, 0.40) == pytest.approx(0.0)
    assert stress(112.0, 160.0, 0.40) == pytest.approx(0.5)


def test_a_drying_root_zone_follows_the_exact_solution() -> None:
    """Past the easy water dD/dt = use (TAW - D)/(TAW - RAW), an exponential; steps of a day."""
    depletion, easy, total, use = 64.0, 64.0, 160.0, 6.0
    for _ in range(20):
        depletion += float(stress(depletion, total, easy / total)) * use
    exact = total - (total - easy) * np.exp(-20 * use / (total - easy))
    assert depletion == pytest.approx(exact, rel=0.03)


def test_share_and_stage_rules() -> None:
    assert float(depletion_share(0.40, 5.0)) == pytest.approx(0.40)
    assert float(depletion_share(0.40, 7.5)) == pytest.approx(0.30)
    curve = stage_curve((0.15, 1.1, 0.7), (30, 40, 40, 25), [10, 50, 90, 122.5, 200])
    assert curve == pytest.approx([0.15, 0.625, 1.1, 0.9, 0.7])
    assert float(canopy_cover(1.15, 1.15, 0.3)) == pytest.approx(0.99)
    assert float(evaporating_share(0.6, 0.35, drip=True)) == pytest.approx(0.6 * 0.35)


@pytest.mark.parametrize("plant", crops().values(), ids=lambda plant: plant.key)
def test_basal_coefficients_lie_under_the_single_ones(plant) -> None:
    """FAO-56: the basal coefficient leaves out what the soil evaporates (up to 0.2 at the end)."""
    for basal, single in zip(
        plant.water.basal_coefficient[1:], plant.water.single_coefficient[1:], strict=True
    ):
        assert single - 0.2 <= basal <= single


def season(days: int, rain: float) -> DailyAir:
    return DailyAir(
        np.full(days, 4.5), np.full(days, rain), np.full(days, 2.0), np.full(days, 0.45)
    )


def test_water_is_neither_made_nor_lost() -> None:
    store = soil_kinds()["loam"].store()
    found = balance(crop("tomato").water, season(135, 1.0), store, bed_depth=0.28)
    put_in = found.given.sum() + 135 * 1.0
    went_out = found.transpired.sum() + found.evaporated.sum() + found.lost.sum()
    assert put_in - went_out + found.root_depletion[-1] == pytest.approx(0.0, abs=1e-9)


@pytest.mark.parametrize(
    ("key", "tolerance"), [("tomato", 0.06), ("cucumber", 0.06), ("carrot", 0.12)]
)
def test_mid_season_use_is_that_of_the_single_coefficient(key: str, tolerance: float) -> None:
    """Dual and single coefficient are two readings of one table; in mid-season, with most soil in
    the shade, watering hardly matters and they must meet. Before that a small bed watered over
    its whole face every few days evaporates more than the paper's weekly field: measured +23 %
    over the whole season of tomato.
    """
    need = crop(key).water
    store = soil_kinds()["loam"].store()
    days = int(sum(need.stage_lengths))
    found = balance(need, season(days, 0.0), store, bed_depth=0.28)
    first, after = int(sum(need.stage_lengths[:2])), int(sum(need.stage_lengths[:3]))
    used = (found.transpired + found.evaporated)[first:after].mean() / 4.5
    assert used == pytest.approx(need.single_coefficient[1], rel=tolerance)
    assert found.stressed.min() > 0.8


def test_drip_needs_less_and_no_watering_wilts() -> None:
    need, store = crop("lettuce-leaf").water, soil_kinds()["bed-mix"].store()
    by_can = balance(need, season(75, 0.0), store, 0.28)
    by_drip = balance(need, season(75, 0.0), store, 0.28, watering=DRIP)
    dry = balance(need, season(75, 0.0), store, 0.28, watering=Watering(by_hand=False))
    assert by_drip.need < by_can.need
    assert dry.stressed[-1] < 0.2
