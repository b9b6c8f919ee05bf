"""Degree days against worked examples in print and against plain quadrature."""

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from hoopwright.season.degree_days import average, hourly, modified_average, single_sine

# Wilson & Barnett 1983, California Agriculture 37(1), table 1, base 50 degF; read in the tests of
# a U.S. Geological Survey model that quote them.
WILSON_BARNETT = [
    (65, 55, 10.0),
    (70, 55, 12.5),
    (70, 60, 15.0),
    (75, 60, 17.5),
    (80, 65, 22.5),
    (85, 65, 25.0),
]


@pytest.mark.parametrize(("high", "low", "expected"), WILSON_BARNETT)
def test_wilson_and_barnett_where_both_extremes_are_above_base(high, low, expected) -> None:
    assert average(high, low, 50) == pytest.approx(expected)
    assert modified_average(high, low, 50, 130) == pytest.approx(expected)
    assert single_sine(high, low, 50) == pytest.approx(expected)


def test_university_of_california_example() -> None:
    """UC IPM, citrus page (read): a mean of 64 degF over a threshold of 53 gives 11."""
    assert average(78, 50, 53) == pytest.approx(11)


def test_average_of_a_day_that_dips_below_base() -> None:
    """Average gives 8.0 where the sine, which leaves the cold hours out, gives 10.02."""
    assert average(75, 41, 50) == pytest.approx(8.0)
    assert single_sine(75, 41, 50) == pytest.approx(10.02, abs=0.005)


def test_sine_with_horizontal_cutoff() -> None:
    assert single_sine(95, 45, 50, 86) == pytest.approx(19.03, abs=0.005)


@settings(derandomize=True, max_examples=60)
@given(st.floats(-20, 45), st.floats(0, 30), st.floats(-5, 15), st.floats(1, 30))
def test_single_sine_is_the_integral_of_its_sine(low, swing, base, span) -> None:
    ceiling = base + span

    def height(turn: float) -> float:
        here = low + swing / 2 + swing / 2 * np.sin(2 * np.pi * turn)
        return min(max(here, base), ceiling) - base

    expected, _ = quad(height, 0, 1, limit=400, points=[0.25, 0.75])

    assert float(single_sine(low + swing, low, base, ceiling)) == pytest.approx(expected, abs=2e-4)


def test_hours_of_a_sine_give_the_single_sine() -> None:
    hours = 15 + 10 * np.sin(2 * np.pi * (np.arange(24) + 0.5) / 24)

    assert float(hourly(hours, 10, 22)[0]) == pytest.approx(
        float(single_sine(25, 5, 10, 22)), abs=0.05
    )


def test_a_maximum_below_its_minimum_is_refused() -> None:
    with pytest.raises(ValueError, match="below its minimum"):
        average(5, 10, 0)
