"""The angle dependence of a clear sheet: Duffie & Beckman ch. 5, n = 1.5; figures from memory."""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright.heat.light import fresnel_share


@pytest.mark.parametrize(("angle", "share"), [(0, 1.0), (45, 0.98), (60, 0.90), (70, 0.78)])
def test_light_at_an_angle(angle: float, share: float) -> None:
    found = float(fresnel_share(np.cos(np.radians(np.array([angle]))), 1.5)[0])
    assert found == pytest.approx(share, abs=0.04)
