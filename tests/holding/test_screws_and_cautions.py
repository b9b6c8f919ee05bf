"""Screws beyond the worked examples: pilot holes, distances, straps, cautions."""

import pytest

from hoopwright.holding import screws

INCH, PSI = 0.0254, 6894.757293168


def test_wind_on_a_wet_board():
    """#10, 1.25 in of thread in spruce-pine-fir, wind, wet: 134 lb allowable (by hand)."""
    held = screws.withdrawal(0.42, 0.19 * INCH, 1.25 * INCH, screws.Service())

    assert held.low / 4.4482216 == pytest.approx(133.7, abs=0.1)
    assert held.likely > 3 * held.low


def test_strap_screw_sideways_falls_by_the_thin_strap_mode():
    """#10 x 1 1/2 in, 20 gauge strap, G 0.42: 97 lb before factors, mode IIIs."""
    bearing = screws.dowel_bearing(0.42)
    modes = screws.yield_modes(
        0.152 * INCH, 80e3 * PSI, 1.464 * INCH, 0.036 * INCH, bearing, 61850 * PSI
    )

    assert modes.governing[0] == "IIIs"
    assert modes.governing[1] / 4.4482216 == pytest.approx(97.3, abs=0.3)


def test_lateral_range_is_in_order():
    held = screws.lateral(
        0.131 * INCH, 90e3 * PSI, 1.2 * INCH, 0.36, 0.036 * INCH, 61850 * PSI, screws.Service()
    )

    assert 0 < held.low <= held.likely < held.high
