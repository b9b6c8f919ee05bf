"""Pressure coefficients read off the standards' figures, worked by hand between their points.

The figures are recalled as the functions say; here the straight lines between are held.
"""

from __future__ import annotations

import numpy as np
import pytest
from arc_rig import section_of

from hoopwright.loads import wind_asce, wind_eurocode


@pytest.mark.parametrize(
    ("ratio", "windward", "other", "clamped"),
    [
        (0.1, -0.9, None, False), (0.25, 0.075, -0.6, False), (0.4, 0.4, None, False),
        (0.6, 0.95, None, False), (0.9, 0.95, None, True),
    ],
)  # fmt: skip
def test_arch_on_walls_of_asce_7(
    ratio: float, windward: float, other: float | None, clamped: bool
) -> None:
    """-0.9 below 0.2; 1.5 r - 0.3 and 6 r - 2.1 to 0.3; 2.75 r - 0.7 above, to 0.6. Crown -0.7 - r,
    lee -0.5."""
    found = wind_asce.arch_on_walls(ratio)
    assert found.windward == pytest.approx(windward)
    assert found.windward_other == (None if other is None else pytest.approx(other))
    assert found.centre == pytest.approx(-0.7 - min(ratio, 0.6))
    assert found.leeward == pytest.approx(-0.5)
    assert found.clamped is clamped


@pytest.mark.parametrize(
    ("ratio", "values"),
    [
        (0.2, (-0.9, -0.9, -0.5, -0.3)), (0.5, (-0.9, -0.9, -0.5, -0.3)),
        (0.75, (-1.1, -0.8, -0.6, -0.5)), (1.0, (-1.3, -0.7, -0.7, -0.7)),
        (2.0, (-1.3, -0.7, -0.7, -0.7)),
    ],
)  # fmt: skip
def test_along_the_roof(ratio: float, values: tuple[float, ...]) -> None:
    """Half way between h/L 0.5 and 1 half way between the two sets; reaches 0.5, 1 and 2 h."""
    found = wind_asce.along_roof_coefficients(ratio)
    assert [reach for reach, _ in found] == [0.5, 1.0, 2.0, np.inf]
    assert [value for _, value in found] == pytest.approx(values)


@pytest.mark.parametrize(
    ("ratio", "value"), [(0.5, -0.5), (1, -0.5), (1.5, -0.4), (2, -0.3), (3, -0.25), (9, -0.2)]
)
def test_a_leeward_end(ratio: float, value: float) -> None:
    assert wind_asce.leeward_wall_coefficient(ratio) == pytest.approx(value)


def test_vault_between_ground_and_walls() -> None:
    """f/d 0.26 as read: A 0.42 on the ground, 0.16 on walls of h/d 0.5; half way up their mean."""
    ground, middle, walls = (wind_eurocode.vault_coefficients(0.26, h) for h in (0.0, 0.25, 0.5))
    assert [one.windward for one in (ground, middle, walls)] == pytest.approx([0.42, 0.29, 0.16])
    assert (ground.centre, ground.leeward) == pytest.approx((-0.96, -0.40))
    assert wind_eurocode.vault_coefficients(0.26, 0.9).windward == pytest.approx(0.16)
    for ratio, wall, other in (
        (0.26, 0.5, -0.9), (0.19, 0.5, None), (0.31, 0.5, None), (0.26, 0.49, None),
    ):  # fmt: skip
        assert wind_eurocode.vault_coefficients(ratio, wall).windward_other == other
    steep = wind_eurocode.vault_coefficients(0.9, 0.2)
    assert (steep.clamped, steep.rise_ratio) == (True, 0.5)
    assert not wind_eurocode.vault_coefficients(0.5, 0.2).clamped


def test_the_section_of_a_curve_wherever_it_stands() -> None:
    """A half circle of 1 m from x = 3: rise over span a half, a 0.25 m box a quarter."""
    turn = np.linspace(0, np.pi, 2001)
    x, y = 3.5 - 0.5 * np.cos(turn), 0.5 * np.sin(turn)
    found = section_of(x, y, 0.25)
    assert found.rise_ratio == pytest.approx(0.5, rel=1e-3)
    assert found.wall_ratio == pytest.approx(0.25)
