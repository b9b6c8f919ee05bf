"""NDS screws and nails against AWC's solved examples and printed tables.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

import pytest

from hoopwright.holding import screws
from hoopwright.tables.catalogue import Catalogue

INCH, PSI, POUND = 0.0254, 6894.757293168, 4.4482216153


@pytest.mark.parametrize(
    ("gauge", "gravity", "printed"),
    [
        ("#6", 0.42, 69),
        ("#8", 0.36, 61),
        ("#8", 0.50, 117),
        ("#10", 0.42, 96),
        ("#10", 0.55, 164),
        ("#12", 0.50, 154),
    ],
)
def test_table_12_2b_withdrawal(gauge, gravity, printed):
    """Table of withdrawal values, lb/in, rounded to 1 (from memory of NDS Table 12.2B)."""
    size = Catalogue().screw_sizes[gauge]
    dry = screws.Service(duration=1.0, wet=1.0)
    inch_of_thread = screws.withdrawal(gravity, size.diameter, INCH, dry)

    assert inch_of_thread.low / POUND == pytest.approx(printed, abs=1.0)
