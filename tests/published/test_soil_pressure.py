"""Soil thrust and board bending against printed values and formulae of statics."""

import numpy as np
import pytest

from hoopwright.loads import soil

PCF, FOOT, INCH = 16.01846337, 0.3048, 0.0254
POUND = 4.4482216153


@pytest.mark.parametrize(
    ("degrees", "printed"), [(26, 0.3905), (28, 0.3610), (30, 0.3333), (34, 0.2827), (38, 0.2379)]
)
def test_rankine_table(degrees, printed):
    """Rankine Ka (Delft waterbouw reader B24, secondary copy), four digits."""
    assert soil.active_coefficient(np.radians(degrees)) == pytest.approx(printed, abs=5e-5)


def test_wall_of_ten_feet():
    """115 pcf, 30 degrees: 1.9 kip/ft (scribd 269520493, secondary copy), two digits."""
    thrust = soil.thrust(10 * FOOT, 115 * PCF, 1 / 3)

    assert thrust / (1000 * POUND / FOOT) == pytest.approx(1.9, rel=0.01)


def test_jaky_at_thirty_degrees():
    """K0 = 1 - sin 30 = 0.5, exact."""
    assert soil.at_rest_coefficient(np.radians(30)) == pytest.approx(0.5)


def test_water_alone_is_hydrostatic():
    """Standing water to the top with weightless grains: half rho g h^2, exact."""
    thrust = soil.thrust(0.3, 1000.0, 1 / 3, water_depth=0.3)

    assert thrust == pytest.approx(0.5 * 1000 * 9.80665 * 0.09)


def test_side_board_of_a_long_bed():
    """2x12, 11 1/4 in of 100 pcf soil, Ka 1/3, 8 ft pinned, E 1.4e6 psi: 14.65 lb/ft, 0.305 in
    and 333 psi, worked separately by hand."""
    line = float(soil.thrust(11.25 * INCH, 100 * PCF, 1 / 3))
    board = soil.board_bending(line, 96 * INCH, 11.25 * INCH, 1.5 * INCH, 1.4e6 * 6894.757293)

    assert line / (POUND / FOOT) == pytest.approx(14.65, rel=1e-3)
    assert board.bulge / INCH == pytest.approx(0.305, rel=2e-3)
    assert board.stress / 6894.757293 == pytest.approx(333, rel=2e-3)
