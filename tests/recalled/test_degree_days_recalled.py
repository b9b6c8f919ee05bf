"""Degree days to harvest against published sums.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

from dataclasses import replace

import pytest

from hoopwright.season.crops import crop


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
