"""Long-wave protection of a film: Hanson 1963, J. appl. Meteor. 2:793, night index 26 % (dry PE).

The index is the share of a black plant's net long-wave loss that the cover saves. Set-up as an
assumption: cover in convective balance, 4 W/m2K inside and 6 outside, sky 20 K below the air.
Glass (93 % published) is not checked: its cover temperature in the experiment is not known.
"""

from __future__ import annotations

import pytest
from bench.plain_covers import cover_optics
from scipy.optimize import brentq

from hoopwright.heat.longwave import emitted, exchange


def index(passed: float, emissivity: float) -> float:
    air = 0.0
    sky = emitted(air - 20.0)
    a_c, a_g, a_0, b_c, b_g, b_0 = exchange(passed, emissivity, emissivity, 1.0, 1.0, sky, sky)

    def balance(cover: float) -> float:
        absorbed = b_c * emitted(cover) + b_g * emitted(air) + b_0
        return absorbed - 2 * emissivity * emitted(cover) + (4.0 + 6.0) * (air - cover)

    cover = brentq(balance, -40.0, 20.0)
    under = emitted(air) - (a_c * emitted(cover) + a_g * emitted(air) + a_0)
    return 1.0 - under / (emitted(air) - sky)


def test_dry_polyethylene() -> None:
    film = cover_optics("film-6mil")
    assert index(film.longwave_dry, film.emissivity_dry) == pytest.approx(0.26, abs=0.05)


def test_thin_and_thick_ends_of_the_range() -> None:
    """Computed with the same set-up: 24 % (0.75, 0.15), 28 % (0.70, 0.20)."""
    assert index(0.75, 0.15) == pytest.approx(0.24, abs=0.02)
    assert index(0.70, 0.20) == pytest.approx(0.28, abs=0.02)


def test_dew_doubles_the_protection() -> None:
    film = cover_optics("film-6mil")
    wet = index(film.longwave_wet, film.emissivity_wet)
    assert wet == pytest.approx(0.58, abs=0.06)
    assert wet > 1.8 * index(film.longwave_dry, film.emissivity_dry)


def test_order_of_films() -> None:
    """Hanson: plain polyethylene protects least of all films; thermal film is made to mend that."""
    plain, thermal = cover_optics("film-6mil"), cover_optics("film-6mil-thermal")
    plain_index = index(plain.longwave_dry, plain.emissivity_dry)
    assert index(thermal.longwave_dry, thermal.emissivity_dry) > 1.5 * plain_index
