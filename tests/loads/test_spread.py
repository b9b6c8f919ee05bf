"""Ranges stay ranges."""

import pytest

from hoopwright.tables.spread import Spread, exactly


def test_a_range_runs_upward():
    assert exactly(2.5) == Spread(2.5, 2.5, 2.5)
    with pytest.raises(ValueError, match="low to high"):
        Spread(2, 1, 3)
