"""NDS screws and nails against AWC's solved examples and printed tables."""

import pytest

from hoopwright.holding import screws

INCH, PSI, POUND = 0.0254, 6894.757293168, 4.4482216153


def test_number_ten_at_gravity_045():
    """109 lb/in printed (engineeringtoolbox d_1815, secondary copy); 1 %: a rounded table."""
    dry = screws.Service(duration=1.0, wet=1.0)
    inch_of_thread = screws.withdrawal(0.45, 0.19 * INCH, INCH, dry)

    assert inch_of_thread.low / POUND == pytest.approx(109, rel=0.01)


def test_awc_example_nail_lateral():
    """10d common nail, 3/4 in side of Douglas fir-larch: 467.488 N, mode IIIs.

    xcfem/xc, lateral_design_value_test_01 (from AWC's Structural Wood Design solved examples).
    """
    bearing = screws.dowel_bearing(0.50)
    mode, value = screws.yield_modes(
        0.148 * INCH, 90e3 * PSI, 2.25 * INCH, 0.75 * INCH, bearing, bearing
    ).governing

    assert mode == "IIIs"
    assert value == pytest.approx(467.488, rel=1e-5)


def test_awc_example_e2_4_wood_screw_in_double_shear():
    """#10 x 6 in, two shear planes, Fe of G 0.55: 1039.596 N, mode IV, so twice one plane.

    xcfem/xc, lateral_design_value_test_02, which takes Rd from the shank (2.4). We take it from
    the root (2.2), as NDS 12.3.7 has D; that raises the value by 9 %.
    """
    bearing = screws.dowel_bearing(0.55)
    modes = screws.yield_modes(
        0.152 * INCH, 80e3 * PSI, 3.0 * INCH, 1.31 * INCH, bearing, bearing, reduction=2.4
    )

    assert modes.governing[0] == "IV"
    assert 2 * modes.two_hinges == pytest.approx(1039.596, rel=1e-5)


def test_dowel_bearing_printed_for_douglas_fir():
    """G 0.50: 4650 psi printed, rounded to 50 (NDS Table 12.3.3)."""
    assert screws.dowel_bearing(0.50) / PSI == pytest.approx(4650, abs=25)
    assert screws.dowel_bearing(0.55) / PSI == pytest.approx(5550, abs=25)
