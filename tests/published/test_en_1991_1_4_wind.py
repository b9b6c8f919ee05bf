"""EN 1991-1-4 against published worked examples."""

import pytest

from hoopwright.loads import wind_eurocode


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
