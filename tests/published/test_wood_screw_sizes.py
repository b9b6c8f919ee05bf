"""Screw gauges against the gauge formula and a screw maker's production limits."""

import pytest

from hoopwright.tables.catalogue import Catalogue

CATALOGUE = Catalogue()
INCH = 0.0254


@pytest.mark.parametrize(
    ("number", "thread", "pan_head"),
    [(6, (0.131, 0.142), (0.256, 0.270)), (8, (0.157, 0.168), (0.306, 0.322))],
)
def test_inside_a_makers_production_limits(
    number: int, thread: tuple[float, float], pan_head: tuple[float, float]
) -> None:
    """A screw maker's table of production limits (read): thread and pan-head diameters [in]."""
    size = CATALOGUE.screw_sizes[f"#{number}"]

    assert thread[0] <= size.diameter / INCH <= thread[1]
    assert pan_head[0] <= size.head_diameter / INCH <= pan_head[1] + 1e-9


@pytest.mark.parametrize("size", CATALOGUE.screw_sizes.values(), ids=lambda size: size.key)
def test_pilot_holes_are_70_and_90_per_cent_of_the_root(size) -> None:
    """NDS commentary (read in a secondary copy): 70 % in softwood, 90 % in hardwood.

    To the nearest 1/64 in drill, so 1/128 in either way.
    """
    drill = INCH / 128 + 1e-6
    assert size.pilot_softwood == pytest.approx(0.7 * size.root_diameter, abs=drill)
    assert size.pilot_hardwood == pytest.approx(0.9 * size.root_diameter, abs=drill)
