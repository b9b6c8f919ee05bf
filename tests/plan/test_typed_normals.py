"""Monthly normals typed into the plan become years of weather of that place."""

import numpy as np
import pytest

from hoopwright.design.growing import place_years
from hoopwright.plan import PlanError, read_plan_text

#: An invented high valley.
MAXIMUM = (28, 32, 42, 52, 62, 72, 82, 80, 70, 57, 40, 29)
MINIMUM = (8, 11, 20, 27, 35, 42, 48, 46, 38, 29, 18, 8)


def plan(maximum=MAXIMUM, more=""):
    def row(values):
        return "[" + ", ".join(f'"{value} F"' for value in values) + "]"

    return f"""
[site]
latitude = "44.1 N"
longitude = "109.6 W"
elevation = "6700 ft"
weather = "normals"
[normals]
maximum = {row(maximum)}
minimum = {row(MINIMUM)}
{more}
[season]
years = 12
"""


def test_generated_years_keep_the_typed_means():
    read = read_plan_text(plan())
    years = place_years(read.plan, read.weather_file).years
    highest = np.array([year.air_temperature.reshape(-1, 24).max(axis=1)[:365] for year in years])
    typed = (np.array(MAXIMUM) - 32) / 1.8
    days = (31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31)
    ends = np.cumsum(days)
    for month, (end, count) in enumerate(zip(ends, days, strict=True)):
        of_years = highest[:, end - count : end].mean(axis=1)
        error = of_years.std(ddof=1) / np.sqrt(len(years))
        assert of_years.mean() == pytest.approx(typed[month], abs=3.5 * error + 0.3)


@pytest.mark.parametrize(
    ("text", "key"),
    [
        (plan(MAXIMUM[:11]), "normals.maximum"),
        (plan((1, *MAXIMUM[1:])), "normals"),
        (plan(more="wet_days = [40, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1, 1]"), "normals.wet_days"),
    ],
)
def test_normals_that_cannot_be_are_refused_by_key(text, key):
    with pytest.raises(PlanError) as refused:
        read_plan_text(text)
    assert any(problem.key.startswith(key) for problem in refused.value.problems)
