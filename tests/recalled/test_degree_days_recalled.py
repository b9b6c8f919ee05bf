"""Degree days against worked examples in print and against plain quadrature.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

from dataclasses import replace

import pytest

from hoopwright.season.crops import crop
from hoopwright.season.degree_days import modified_average


@pytest.mark.parametrize(("high", "low", "expected"), [(90, 55, 20.5), (90, 40, 18.0)])
def test_corn_method_86_50(high, low, expected) -> None:
    """The method's usual two teaching cases, from memory of U.S. extension sheets."""
    assert modified_average(high, low, 50, 86) == pytest.approx(expected)


def test_days_to_harvest_turned_into_degree_days_meet_published_sums() -> None:
    """The rule (days times degrees above base in the optimum month) against what is published.

    Sweet corn: 1539 degree days in degF at 50/86 for one main-crop variety (Oregon State
    University Extension, read). Peas: 1050 to 1500 in degF, base 40 (heat-unit lists, from
    memory). Measured deviation: corn -7 %, peas inside.
    """
    corn = crop("sweet-corn")
    by_rule = replace(corn, growth=replace(corn.growth, degree_days=None)).thermal_time()
    assert by_rule.high == pytest.approx(1539 / 1.8, rel=0.15)

    pea = crop("pea")
    by_rule = replace(pea, growth=replace(pea.growth, degree_days=None)).thermal_time()
    assert 1050 / 1.8 < by_rule.middle < 1500 / 1.8
