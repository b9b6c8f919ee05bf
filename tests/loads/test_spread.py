"""Ranges stay ranges."""

import pytest

from hoopwright.tables.spread import Spread, exactly, least


def test_arithmetic():
    one, two = Spread(1, 2, 4), Spread(2, 3, 5)

    assert one.plus(two) == Spread(3, 5, 9)
    assert one.times(two) == Spread(2, 6, 20)
    assert two.over(one) == Spread(0.5, 1.5, 5)
    assert one.scaled(2) == Spread(2, 4, 8)
    assert least([one, two, exactly(2.5)]) == Spread(1, 2, 2.5)


def test_refusals():
    with pytest.raises(ValueError, match="low to high"):
        Spread(2, 1, 3)
    with pytest.raises(ValueError, match="negative factor"):
        Spread(1, 2, 3).scaled(-1)
    with pytest.raises(ValueError, match="no ranges"):
        least([])
    with pytest.raises(ValueError, match="positive divisor"):
        exactly(1.0).over(Spread(0, 1, 2))
    with pytest.raises(ValueError, match="not negative"):
        Spread(-1, 0, 1).times(exactly(1))
