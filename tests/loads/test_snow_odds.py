"""Snow: rain on it, ice, and where the standard asks for lopsided load."""

import numpy as np
import pytest

from hoopwright.loads import arc_section, snow


def test_an_inch_of_glaze():
    assert snow.ice_load(0.0254) == pytest.approx(0.0254 * 900 * 9.80665)


@pytest.mark.parametrize(("rise", "asked"), [(0.05, False), (0.2, True), (2.0, True)])
def test_unbalanced_is_not_asked_on_flat_arches(rise, asked):
    """Tall arches always are: the line runs from their 70 degree point, not from the eaves."""
    angle = np.linspace(0, np.pi, 401)
    x, y = 0.5 - 0.5 * np.cos(angle), rise * np.sin(angle)

    assert snow.unbalanced_applies(x, y, arc_section.section_of(x, y).slope) is asked


def test_unbalanced_is_not_asked_on_a_steep_tent():
    x = np.linspace(0, 1, 101)
    y = np.tan(np.radians(65)) * (0.5 - np.abs(x - 0.5))

    assert not snow.unbalanced_applies(x, y, arc_section.section_of(x, y).slope)
