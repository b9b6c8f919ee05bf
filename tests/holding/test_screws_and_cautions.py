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


def test_pilot_holes():
    assert screws.pilot_hole(0.42, 0.004, 0.003) is None
    assert screws.pilot_hole(0.55, 0.004, 0.003).root == pytest.approx(0.0021)
    assert screws.pilot_hole(0.67, 0.004, 0.003).root == pytest.approx(0.0027)


def test_distances_shrink_with_a_pilot_hole():
    bare = screws.least_distances(0.19 * INCH, pre_drilled=False)
    drilled = screws.least_distances(0.19 * INCH, pre_drilled=True)

    assert bare.end / INCH == pytest.approx(2.85)
    assert drilled.end < bare.end
    assert drilled.edge == bare.edge


def test_strap_pull_over_of_a_pan_head():
    """1.5 x 0.91 mm x 8 mm x 310 MPa = 3.39 kN nominal (by hand)."""
    held = screws.strap_pull_over(0.008, 0.00091, 310e6)

    assert held.likely == pytest.approx(3385, rel=1e-3)
    assert held.low == pytest.approx(3385 / 3, rel=1e-3)


def test_thick_side_pull_through():
    service = screws.Service(1.0, 1.0)
    thin = screws.head_pull_through(0.009, 0.5, 0.012, service)

    assert screws.head_pull_through(0.009, 0.5, 0.038, service).low > thin.low


def test_load_durations_in_order():
    factors = list(screws.load_durations().values())

    assert factors == sorted(factors)
    assert screws.load_durations()["wind"] == 1.6


@pytest.mark.parametrize(
    "about", ["drywall screws", "treated boards", "end grain", "pull test", "old plastic pipe"]
)
def test_cautions_are_there_with_a_source(about):
    caution = screws.cautions()[about]

    assert caution.text.endswith(".")
    assert caution.source
