"""The crop tables: whole, sourced, plausible, and open to a user's own varieties."""

from pathlib import Path

import pytest

from hoopwright.season.crops import UnknownCropError, crop, crops
from hoopwright.tables.reader import TableError


def test_there_are_vegetables_herbs_and_small_fruits_enough() -> None:
    found = crops()
    kinds = {
        kind: [c for c in found.values() if c.habit.kind == kind]
        for kind in ("vegetable", "herb", "fruit")
    }
    assert len(found) >= 40
    assert len(kinds["herb"]) >= 5
    assert len(kinds["fruit"]) >= 3


@pytest.mark.parametrize("plant", crops().values(), ids=lambda plant: plant.key)
def test_temperatures_stand_in_the_order_that_nature_has(plant) -> None:
    cold, growth, degrees = plant.cold, plant.growth, plant.degrees
    assert degrees.base.middle < growth.optimum_month.low <= growth.optimum_month.high
    assert growth.least_month <= growth.optimum_month.low
    assert growth.optimum_month.high <= growth.most_month
    assert plant.heat.limit.high < plant.stages.death.low
    assert cold.plant_damage.low >= cold.plant_kill.low
    assert cold.plant_damage.high >= cold.plant_kill.high
    assert plant.hardened.hardened_kill.low <= cold.plant_kill.low
    assert plant.hardened.hardened_kill.high <= cold.plant_kill.high
    seed = plant.germination
    if seed is not None:
        assert seed.least_soil <= seed.best_soil.low <= seed.best_soil.high <= seed.most_soil


@pytest.mark.parametrize("plant", crops().values(), ids=lambda plant: plant.key)
def test_what_is_sown_has_a_grid_of_emergence(plant) -> None:
    if plant.habit.days_counted_from == "sowing":
        assert plant.emergence is not None
        assert plant.germination is not None
    assert plant.thermal_time().low > 0


def test_hardy_crops_outlive_tender_ones() -> None:
    """PMC10202904 table 2 (read): tomato and cucumber +5 to 0, potato and bean 0 to -2, lettuce
    and pea -2 to -4, kale and cabbage -4 to -7, spinach -7 to -10 degC."""
    order = ["spinach", "kale", "lettuce-leaf", "snap-bean", "cucumber"]
    killing = [crop(key).cold.plant_kill.middle for key in order]
    assert killing == sorted(killing)
    assert crop("spinach").cold.plant_kill.low == pytest.approx(-10, abs=0.1)
    assert -4 >= crop("kale").cold.plant_kill.high >= -7 or crop("kale").cold.plant_kill.low < -7


def test_a_row_taken_from_kin_says_so() -> None:
    """Kale has no emergence of its own, nor arugula growth: they take their kin's."""
    kale, arugula = crop("kale"), crop("arugula")
    assert kale.emergence is not None
    assert kale.emergence.key == "cabbage"
    assert kale.emergence.sure == "assumption"
    assert "taken as the row of 'cabbage'" in kale.emergence.source
    assert arugula.growth.key == "mustard"
    assert crop("cabbage").emergence.sure == "secondary"  # type: ignore[union-attr]


def test_what_no_source_prints_is_worked_out_from_what_it_does() -> None:
    turnip, bean = crop("turnip"), crop("snap-bean")
    assert turnip.cold.plant_kill.high - turnip.cold.plant_kill.low == pytest.approx(2 / 1.8)
    assert turnip.cold.seedling_kill.high > turnip.cold.plant_kill.high
    assert turnip.hardened.hardened_kill.high < turnip.cold.plant_kill.high
    assert bean.cold.seedling_kill.high == pytest.approx(bean.cold.plant_kill.high)
    assert bean.hardened.hardened_kill == bean.cold.plant_kill
    assert bean.cold.flower_kill == bean.cold.plant_kill
    assert bean.spoiled_after() == pytest.approx(0.4 * 0.4 * 55)


def test_a_wrong_name_offers_the_nearest() -> None:
    with pytest.raises(UnknownCropError, match=r"nearest: .*tomato"):
        crop("tomatoe")


def test_a_user_lays_a_variety_over_a_crop(tmp_path: Path) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(
        """
[[crop]]
key = "early-cherry"
like = "tomato"
name = "an early cherry tomato"
"days to harvest [d]" = [50, 58]

[[crop_cold]]
key = "early-cherry"
like = "tomato"
"plant kill [degC]" = [-2.0, -0.5]
"""
    )
    found = crops(path)
    mine, theirs = found["early-cherry"], found["tomato"]

    assert mine.like == "tomato"
    assert mine.habit.days_to_harvest.high == pytest.approx(58)
    assert mine.cold.plant_kill.low == pytest.approx(-2.0)
    assert mine.hardened.hardened_kill.low == pytest.approx(-2.0 - 5 / 1.8)
    assert mine.heat == theirs.heat
    assert mine.water is not None
    assert mine.water == theirs.water
    assert mine.thermal_time().middle < theirs.thermal_time().middle
    assert "early-cherry" not in crops()


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ('[[crop]]\nkey = "x"\nlike = "tomatto"\n', "no 'tomatto' in table 'crop'"),
        ('[[crop_heat]]\nkey = "tomto"\nlike = "tomato"\n', "no crop 'tomto'"),
        ('[[crop_cold]]\nkey = "tomato"\n"plant kill [F]" = [32, 30]\n', "low;high"),
        ('[[crop_cold]]\nkey = "tomato"\n"plant kill [F]" = [300, 310]\n', "plausible range"),
        ('[[crop_emergence]]\nkey = "pea"\n"days [d]" = [3]\n', "as many numbers"),
        ('[[crop_base]]\nkey = "pea"\n"base [F]" = [66]\n"ceiling [F]" = [60]\n', "below the ceil"),
        ('[[crops]]\nkey = "pea"\n', "no table 'crops'"),
        ('[[crop_germination]]\nkey = "spinach"\n"least soil [F]" = 50\n', "83% came up at 0.0"),
        ('[[crop_germination]]\nkey = "tomato"\n"best soil [F]" = [65, 104]\n', "nothing came up"),
    ],
)
def test_a_wrong_row_is_refused_in_one_sentence(tmp_path: Path, text: str, message: str) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(text)
    with pytest.raises(TableError, match=message) as caught:
        crops(path)
    assert "mine.toml" in str(caught.value) or "crop_germination" in text
