"""ASCE 7 wind against published worked values, each named with where it was read.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

import numpy as np
import pytest
from arc_rig import section_of

from hoopwright.loads import arc_section, wind_asce
from hoopwright.loads.yearly import yearly_gust


def test_return_periods_of_commentary():
    """C26.5 (from memory): V_T / V_50 is 0.84 at 10 years, 1.00 at 50, 1.07 at 100."""
    for years, ratio in ((10, 0.84), (50, 1.00), (100, 1.07)):
        gusts = yearly_gust(40.0 * ratio, years)
        assert gusts.once_in_fifty == pytest.approx(40.0, rel=0.005)
        assert gusts.years(40.0 * ratio) == pytest.approx(years)


@pytest.mark.parametrize(
    ("ratio", "lift", "drag"),
    [
        (0.2, 0.535, 0.116),
        (0.3, 0.600, 0.202),
        (0.4, 0.694, 0.305),
        (0.5, 0.819, 0.424),
        (0.6, 0.978, 0.559),
    ],
)
def test_arch_from_ground_summed_over_a_circle(ratio, lift, drag):
    """Net lift on plan and drag on span, Figure 27.3-3 (from memory) by quarters of arc.

    The sums were made independently of this code by quadrature on the circle; three digits.
    """
    radius = (0.25 + ratio**2) / (2 * ratio)
    half = np.arccos((radius - ratio) / radius)
    angle = np.linspace(-half, half, 4001)
    x, y = radius * np.sin(angle), radius * (np.cos(angle) - np.cos(half))
    arch = wind_asce.arch_from_ground(ratio)
    arc = section_of(x, y).arc
    pressure = np.select([arc < 0.25, arc <= 0.75], [arch.windward, arch.centre], arch.leeward)

    across, up = np.diff(x), np.diff(y)
    whole = arc_section.resultant(
        0.5 * (pressure[1:] + pressure[:-1]),
        np.hypot(across, up),
        np.arctan2(up, across),
        0.5 * (x[1:] + x[:-1]),
        0.5 * (y[1:] + y[:-1]),
    )

    assert (whole.lift, whole.drag) == pytest.approx((lift, drag), abs=0.002)


@pytest.mark.parametrize(("ratio", "windward"), [(0.3, 0.125), (0.5, 0.675), (0.6, 0.95)])
def test_arch_on_walls(ratio, windward):
    """2.75 r - 0.7 of Figure 27.3-3, from memory."""
    assert wind_asce.arch_on_walls(ratio).windward == pytest.approx(windward)


def test_arch_on_walls_in_the_middle_range_has_two_values():
    """1.5 r - 0.3 and 6 r - 2.1 from 0.2 to 0.3; both meet at 0.4 only (from memory)."""
    arch = wind_asce.arch_on_walls(0.25)

    assert (arch.windward, arch.windward_other) == pytest.approx((0.075, -0.6))
