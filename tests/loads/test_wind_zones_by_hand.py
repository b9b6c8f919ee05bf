"""Coefficients of every zone of a wind case, low and high too, worked by hand from the figures."""

from __future__ import annotations

import numpy as np
import pytest
from arc_rig import section_of

from hoopwright.loads import wind_cases
from hoopwright.loads.arc_section import steep_share

SHALLOW = np.linspace(0, 1, 2001), 0.26 * (1 - (2 * np.linspace(0, 1, 2001) - 1) ** 2)


def told(case: wind_cases.WindCase) -> list[tuple[float, ...]]:
    return [(one.start, one.end, one.likely, one.low, one.high) for one in case.zones]


@pytest.mark.parametrize(
    ("basis", "likely", "low", "high"),
    [
        (wind_cases.ASCE, (0.3094, -0.816, -0.425), (-0.9, -0.96, -0.425), (0.3094, -0.816, -0.40)),
        (wind_cases.EUROCODE, (0.16, -0.96, -0.40), (-0.9, -0.96, -0.5), (0.364, -0.96, -0.40)),
    ],
)  # fmt: skip
def test_across_an_arch_of_a_quarter(basis, likely, low, high):
    """Rise 0.26 of the span on a wall of half of it. ASCE x 0.85 (x 1 beside EN): windward 1.4 x
    0.26 = 0.364, on walls 0.09 and -0.54; crown -0.96; lee -0.5. EN, read: A 0.16 and -0.9, B
    -0.96, C -0.40."""
    case = wind_cases.across_closed(section_of(*SHALLOW, wall_height=0.5), basis=basis)
    stretches = ((0.0, 0.25), (0.25, 0.75), (0.75, 1.0))
    for found, place, *by_hand in zip(told(case), stretches, likely, low, high, strict=True):
        assert found == pytest.approx((*place, *by_hand), rel=1e-3)
    assert not case.clamped
    # No leg is as steep as a wall; inside 0.18 likely, 0.55 high.
    arc = np.array([0.1, 0.5, 0.9])
    assert case.by_zone(arc) == pytest.approx(likely, rel=1e-3)
    at = np.searchsorted(section_of(*SHALLOW).arc, arc)
    assert case.likely[at] == pytest.approx(np.array(likely) - 0.18, rel=1e-3)
    assert case.net(0.55)[at] == pytest.approx(np.array(likely) - 0.55, rel=1e-3)


@pytest.mark.parametrize(
    ("name", "distance", "roof"),
    [("far", 0.7, -1.1), ("far", 1.2, -0.8), ("far", 2.5, -0.6), ("far", 3.5, -0.5),
     ("low", 0.7, -0.9)],
)  # fmt: skip
def test_along(name, distance, roof):
    """1.5 m high and 2 m long, h / L 0.75: halfway between -0.9, -0.9, -0.5, -0.3 and -1.3, -0.7,
    -0.7, -0.7 to 0.5, 1 and 2 h; 6 m long, 0.25: the first set. Sides -0.7 where that is worse, the
    other roof value -0.18; all x 0.85."""
    length = 2.0 if name == "far" else 6.0
    case = wind_cases.along_closed(section_of(*SHALLOW), distance, 1.5, length)
    roof, side = 0.85 * roof, 0.85 * min(roof, -0.7)
    flank = side, side, -0.153
    assert told(case) == [
        pytest.approx((0.0, 0.25, *flank)),
        pytest.approx((0.25, 0.75, roof, roof, -0.153)),
        pytest.approx((0.75, 1.0, *flank)),
    ]
    arc = section_of(*SHALLOW).arc
    assert case.likely == pytest.approx(
        np.where((arc > 0.25) & (arc < 0.75), roof, side) - 0.18, abs=1e-3
    )
    assert (case.film == 1.0).all()


def test_which_state_is_inside_and_what_is_bare():
    """By the table: leaking 0.18 (0.55 high), tight 0.18, open towards 0.55, away -0.45, both 0."""
    section = section_of(*SHALLOW)
    cases = wind_cases.every_case(section, 0.2, 1.5, 6.0)
    inside = [(case.internal.likely, case.internal.high) for case in cases]
    leaking, towards, away = (0.18, 0.55), (0.55, 0.72), (-0.45, -0.18)
    assert inside == [leaking, towards, away, (0.0, 0.30), leaking, towards, away]
    bare = [(0, 0), (1, 0), (0, 1), (1, 1), (0, 0), (0, 0), (0, 0)]
    for case, (windward, lee) in zip(cases, bare, strict=True):
        film = ((section.arc >= 0.2 * windward) & (section.arc <= 1 - 0.2 * lee)).astype(float)
        assert case.film == pytest.approx(film)
    roofs = [case.zones[1].likely for case in cases[4:]]
    assert roofs == pytest.approx([0.85 * -0.9] * 3)
    tight = wind_cases.every_case(section, 0.0, 1.5, 6.0, tight=True)
    assert [case.internal.high for case in tight] == [0.18, 0.18, 0.72, -0.18]
    assert [case.wind for case in cases] == ["across"] * 4 + ["along"] * 3


def test_end_walls():
    """0.85 x 0.8 windward and 0.85 x -0.3 lee at twice as long as wide, less 0.55, 0.18 and
    -0.55."""
    windward, lee = wind_cases.end_wall_coefficients(2.0)
    for found, outside in ((windward, 0.68), (lee, -0.255)):
        ends = (found.low, found.likely, found.high)
        assert ends == pytest.approx((outside - 0.55, outside - 0.18, outside + 0.55))


def test_no_wall_where_no_leg_is_steep():
    """Steeper than 60 degrees to where the slope falls through it; a shallow arch nowhere."""
    assert steep_share([0.0, 0.2, 0.5], np.radians([59.0, 30.0, 0.0])) == 0.0
    # 75 degrees at the foot, 45 at 0.2: 60 half way.
    assert steep_share([0.0, 0.2, 0.5, 1.0], np.radians([75.0, 45, 0, 75])) == pytest.approx(0.1)
