"""Film between hoops against closed forms and an independent root finder."""

import numpy as np
import pytest
from scipy.optimize import brentq

from hoopwright.cover import membrane


@pytest.mark.parametrize("pressure", [10.0, 100.0, 1000.0])
@pytest.mark.parametrize("pretension", [0.0, 60.0])
def test_against_scipy(pressure, pretension):
    """The same two laws solved for the radius by scipy's Brent method."""
    span, stiffness = 1.2, 3.0e4

    def excess(radius):
        arc = 2 * radius * np.arcsin(span / (2 * radius))
        return pressure * radius - pretension - stiffness * (arc / span - 1)

    radius = brentq(excess, span / 2 * (1 + 1e-12), 1e5, xtol=1e-12)
    film = membrane.elastic_span(pressure, span, stiffness, pretension)

    assert film.radius == pytest.approx(radius, rel=1e-6)


def test_shallow_limit_is_the_strip_of_plate_theory():
    """Sag 0.3606 span (p span / E t)^(1/3): (3/64)^(1/3) = 0.36056; stiff film, so 0.1 %."""
    film = membrane.elastic_span(1.0, 1.0, 1e6)

    assert film.sag == pytest.approx(0.36056 * (1e-6) ** (1 / 3), rel=1e-3)
    assert 1.0 / (8 * film.sag) == pytest.approx(film.tension, rel=1e-3)


def test_no_pressure_no_sag():
    film = membrane.elastic_span(0.0, 1.2, 3e4, pretension=40.0)

    assert film.sag == pytest.approx(0.0, abs=1e-6)
    assert (film.tension, film.strain) == (40.0, 0.0)
