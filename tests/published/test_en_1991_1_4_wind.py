"""EN 1991-1-4 against published worked examples."""

import pytest

from hoopwright.loads import wind_eurocode


def test_single_storey_building_example():
    """vb 26 m/s: qb 422.5; category III, 8 m: kr 0.215, cr 0.706.

    Steel Buildings in Europe, part 3 (SSB03), page 57; cr printed from a rounded kr: 0.2 %.
    """
    third = wind_eurocode.terrains()["III"]

    assert wind_eurocode.basic_velocity_pressure(26.0) == pytest.approx(422.5)
    assert wind_eurocode.terrain_factor(third) == pytest.approx(0.215, abs=5e-4)
    assert wind_eurocode.roughness_factor(8.0, third) == pytest.approx(0.706, rel=2e-3)
    assert wind_eurocode.turbulence_intensity(8.0, third) == pytest.approx(0.305, abs=5e-4)


def test_town_building_example():
    """Category IV, 9 m: below the least height of 10 m, ce 1.18 (studylib 25969297)."""
    fourth = wind_eurocode.terrains()["IV"]
    peak = wind_eurocode.peak_velocity_pressure(26.0, 9.0, fourth)

    assert peak / 422.5 == pytest.approx(1.18, abs=0.005)


def test_vault_example_read_off_the_graph():
    """f/d 2.51/9.60, h/d 3.20/9.60: A +0.25, B -0.96, C -0.40.

    civil-engineering-design.com, 23 February 2021 (read); graph reading, so 0.01.
    """
    vault = wind_eurocode.vault_coefficients(2.51 / 9.60, 3.20 / 9.60)

    assert (vault.windward, vault.centre, vault.leeward) == pytest.approx(
        (0.25, -0.96, -0.40), abs=0.01
    )
    assert not vault.clamped


def test_vault_centre_is_the_american_centre():
    """B is -(0.7 + f/d) over the whole figure, as ASCE 7: two standards, one test series."""
    for ratio in (0.1, 0.3, 0.5):
        vault = wind_eurocode.vault_coefficients(ratio, 0.0)

        assert vault.centre == pytest.approx(-0.7 - ratio, abs=0.06)
