"""Screw gauges against the gauge formula and a screw maker's production limits.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

import pytest

from hoopwright.tables.catalogue import Catalogue

CATALOGUE = Catalogue()
INCH = 0.0254


@pytest.mark.parametrize("number", [6, 8, 10, 12])
def test_gauge_formula(number: int) -> None:
    """Screw gauge: diameter = 0.060 + 0.013 n inches (American screw gauge, from memory)."""
    size = CATALOGUE.screw_sizes[f"#{number}"]

    assert size.diameter == pytest.approx((0.060 + 0.013 * number) * INCH, abs=1e-9)
    assert size.root_diameter < size.diameter < size.head_diameter
    assert size.root_diameter / size.diameter == pytest.approx(0.80, abs=0.03)
