"""Snow by ASCE 7 and EN 1991-1-3, and densities, against published values.

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

import numpy as np
import pytest

from hoopwright.loads import snow


def arch(rise, points=401):
    angle = np.linspace(0, np.pi, points)
    x, y = 0.5 - 0.5 * np.cos(angle), rise * np.sin(angle)
    return x, y, np.arctan2(np.abs(np.gradient(y)), np.gradient(x))


def test_unbalanced_corners_of_figure_7_4_2():
    """From memory: half pf at the crown, 2 pf Cs / Ce at 30 degrees, kept to the eaves near
    the ground, and falling to nothing at 70 degrees away from it. Windward bare."""
    x, _, slope = arch(0.5, 2001)
    near = snow.unbalanced_on_curve(x, slope, 1000.0, exposure=0.9)
    far = snow.unbalanced_on_curve(x, slope, 1000.0, exposure=0.9, ground_near=False)
    at_30 = np.argmin(np.abs(np.degrees(slope[1000:]) - 30)) + 1000
    at_70 = np.argmin(np.abs(np.degrees(slope[1000:]) - 70)) + 1000

    assert np.all(near[:1000] == 0)
    assert near[1000] == pytest.approx(500.0, rel=0.01)
    assert near[at_30] == pytest.approx(2 * 1000 / 0.9, rel=0.01)
    assert near[-1] == pytest.approx(2 * 1000 / 0.9)
    assert far[at_70] == pytest.approx(0.0, abs=10.0)
