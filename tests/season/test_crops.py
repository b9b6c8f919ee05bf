"""The crop tables: whole, sourced, plausible, and open to a user's own varieties."""

import csv
import re
from importlib import resources
from pathlib import Path

import pytest

from hoopwright.season.crops import TABLES, UnknownCropError, crop, crops
from hoopwright.tables.reader import TableError

DATA = resources.files("hoopwright.tables").joinpath("data")
SOURCES = Path(__file__).parents[2] / "docs" / "sources.md"


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
    cold, heat, growth = plant.cold, plant.heat, plant.growth
    assert growth.base < growth.optimum_month.low <= growth.optimum_month.high
    assert growth.least_month <= growth.optimum_month.low
    assert growth.optimum_month.high <= growth.most_month
    assert heat.limit.high < heat.death.low
    for stage in ("seedling", "plant", "hardened", "flower"):
        kill, damage = getattr(cold, f"{stage}_kill"), getattr(cold, f"{stage}_damage")
        assert (kill is None) == (damage is None)
        if kill is not None:
            assert damage.low >= kill.low
            assert damage.high >= kill.high
    assert cold.hardened_kill.low <= cold.plant_kill.low
    assert cold.hardened_kill.high <= cold.plant_kill.high
    seed = plant.germination
    assert seed.least_soil <= seed.best_soil.low <= seed.best_soil.high <= seed.most_soil


@pytest.mark.parametrize("plant", crops().values(), ids=lambda plant: plant.key)
def test_what_is_sown_has_a_grid_of_emergence(plant) -> None:
    if plant.habit.days_counted_from == "sowing":
        assert plant.emergence is not None
    assert plant.thermal_time().low > 0


def test_hardy_crops_outlive_tender_ones() -> None:
    """PMC10202904 table 2 (read): tomato and cucumber +5 to 0, potato and bean 0 to -2, lettuce
    and pea -2 to -4, kale and cabbage -4 to -7, spinach -7 to -10 degC."""
    order = ["spinach", "kale", "lettuce-leaf", "snap-bean", "cucumber"]
    killing = [crop(key).cold.plant_kill.middle for key in order]
    assert killing == sorted(killing)
    assert crop("spinach").cold.plant_kill.low == pytest.approx(-10, abs=0.1)
    assert -4 >= crop("kale").cold.plant_kill.high >= -7 or crop("kale").cold.plant_kill.low < -7


@pytest.mark.parametrize("table", TABLES)
def test_every_source_is_on_the_sources_page(table: str) -> None:
    page = SOURCES.read_text(encoding="utf-8").split("## Crops", 1)[1]
    phrases = re.findall(r"^\| [^`|]+ \| `([^`]+)` \|", page, flags=re.MULTILINE)
    rows = csv.DictReader(DATA.joinpath(f"{table}.csv").read_text("utf-8").splitlines())
    missing = {row["source"] for row in rows if not any(p in row["source"] for p in phrases)}
    assert missing == set()


def test_an_assumption_is_called_one() -> None:
    for table in TABLES:
        for row in csv.DictReader(DATA.joinpath(f"{table}.csv").read_text("utf-8").splitlines()):
            if row["sure"] == "handbook":
                assert "read" in row["source"]
                assert "assumption" not in row["source"]
            if row["sure"] == "assumption":
                assert "assumption" in row["source"]


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
    assert mine.cold.flower_kill == theirs.cold.flower_kill
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
        ('[[crop_growth]]\nkey = "pea"\n"base [F]" = 66\n"ceiling [F]" = 60\n', "below the ceil"),
        ('[[crops]]\nkey = "pea"\n', "no table 'crops'"),
    ],
)
def test_a_wrong_row_is_refused_in_one_sentence(tmp_path: Path, text: str, message: str) -> None:
    path = tmp_path / "mine.toml"
    path.write_text(text)
    with pytest.raises(TableError, match=message) as caught:
        crops(path)
    assert "mine.toml" in str(caught.value)
