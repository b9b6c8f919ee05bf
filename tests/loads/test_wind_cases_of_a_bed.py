"""The cases a person meets: names, bare stretches, steep legs, bases, refusals."""

import numpy as np
import pytest
from arc_rig import section_of

from hoopwright.loads import shelter, wind_cases, wind_eurocode


def tall_section():
    angle = np.linspace(0, np.pi, 201)
    x, y = 0.6 - 0.6 * np.cos(angle), 0.95 * np.sin(angle)
    return x, y, section_of(x, y, wall_height=0.3)


def test_tall_hoop_is_clamped_and_says_so():
    _, _, section = tall_section()
    case = wind_cases.across_closed(section)

    assert section.rise_ratio == pytest.approx(0.95 / 1.2)
    assert case.clamped
    assert "outside the standards" in case.notes[0]


def test_steep_windward_leg_is_a_wall_where_that_is_worse():
    angle = np.linspace(0, np.pi, 201)
    x, y = 0.6 - 0.6 * np.cos(angle), 0.48 * np.sin(angle)
    section = section_of(x, y)
    case = wind_cases.across_closed(section, tight=True)
    foot, inner = case.likely[2], case.likely[int(np.searchsorted(section.arc, 0.22))]

    assert foot == pytest.approx(0.85 * 0.8 - 0.18)
    assert inner == pytest.approx(0.85 * 1.4 * 0.4 - 0.18)


def test_rolled_stretch_carries_nothing():
    _, _, section = tall_section()
    case = wind_cases.across_both_sides_up(section, 0.2)

    assert np.all(case.likely[section.arc < 0.2] == 0)
    assert np.all(case.likely[section.arc > 0.8] == 0)
    assert case.likely[100] < 0


def test_eurocode_basis_takes_the_vault_as_likely():
    _, _, section = tall_section()
    case = wind_cases.across_closed(section, tight=True, basis=wind_cases.EUROCODE)
    vault = wind_eurocode.vault_coefficients(section.rise_ratio, section.wall_ratio)

    assert case.likely[100] == pytest.approx(vault.centre - 0.18)


def test_no_open_cases_where_sides_do_not_open():
    _, _, section = tall_section()

    assert len(wind_cases.every_case(section, 0.0, 0.8, 2.4)) == 4
    assert len(wind_cases.every_case(section, 0.2, 0.8, 2.4)) == 7


def test_far_hoops_feel_less_wind_along():
    _, _, section = tall_section()
    near = wind_cases.along_closed(section, 0.0, 0.9, 6.0)
    far = wind_cases.along_closed(section, 5.0, 0.9, 6.0)

    assert near.likely[100] < far.likely[100] < 0


def test_end_walls_are_pushed_and_sucked():
    windward, lee = wind_cases.end_wall_coefficients(2.0)

    assert windward.low > 0 > lee.high - 0.6
    assert lee.likely == pytest.approx(0.85 * -0.3 - 0.18)


def test_solid_wall_grants_no_shelter_in_its_rolling_zone():
    close = shelter.sheltered_share("solid fence", 1.8, 3.0, 0.9)
    further = shelter.sheltered_share("solid fence", 1.8, 9.0, 0.9)

    assert close.likely == 1.0
    assert further.likely == pytest.approx(1 - 0.5 * 0.75)


def test_unknown_barrier_is_refused_with_the_known_ones():
    with pytest.raises(ValueError, match="solid fence"):
        shelter.sheltered_share("brick", 1.8, 3.0, 0.9)
