"""Lumber rows against the least dressed sizes of the American Softwood Lumber Standard PS 20.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

import pytest

from hoopwright.tables.catalogue import Catalogue

CATALOGUE = Catalogue()


def test_wood_density_from_specific_gravity() -> None:
    """NDS Supplement 3.1.3 (from memory): Douglas fir-larch at 19 % weighs about 34 lb/ft3.

    By hand: 62.4 x 0.50 / (1 + 0.009 x 0.50 x 19) x 1.19 = 34.2 lb/ft3 = 548 kg/m3. Wood
    handbooks give air-dry Douglas fir at 34 lb/ft3 (state university table, read).
    """
    density = CATALOGUE.species("doug-fir-larch").density(19)

    assert density == pytest.approx(548, abs=1)
    assert density / 16.018 == pytest.approx(34, rel=0.02)
