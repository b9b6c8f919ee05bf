"""Yield by light, worked by hand from the trials' own figures."""

from dataclasses import replace

import numpy as np
import pytest

from hoopwright.answers.season_words import yield_words
from hoopwright.season.bed_years import LIGHT_INTEGRAL, BedYears, Digest
from hoopwright.season.crops import crop, crops
from hoopwright.season.windows import window

WARM = np.full((10, 8760), 17.0)


def under(light: float) -> Digest:
    """Ten mild years under a steady daily light integral [mol/m2 d]."""
    return Digest(
        BedYears("lab", WARM, WARM, WARM, light=np.full_like(WARM, light / LIGHT_INTEGRAL))
    )


@pytest.mark.parametrize(
    ("key", "light", "low", "high"),
    [
        # Marcelis and others 2006: 1 % of light is 0.8 to 1 % of lettuce, 0.7 to 1 % of fruit.
        ("lettuce-leaf", 17.0, 1.0, 1.0),
        ("lettuce-leaf", 8.5, 8.5 / 15.0, 1.0 - 0.8 * (1.0 - 8.5 / 12.0)),
        ("tomato", 15.0, 0.5, 1.0 - 0.7 * 0.25),
        ("tomato", 24.0, 0.8, 1.0),
    ],
)
def test_a_pickings_yield_by_its_light(key: str, light: float, low: float, high: float) -> None:
    by_light = crop(key).by_light
    assert by_light is not None
    assert by_light.share(light) == pytest.approx((low, high))
    found = window(crop(key), under(light))
    assert found.picking == pytest.approx((low, high), abs=1e-9)


def test_less_light_never_yields_more() -> None:
    for plant in crops().values():
        if plant.by_light is not None:
            shares = [plant.by_light.share(light) for light in (0.0, 5.0, 11.0, 18.0, 40.0)]
            assert all(low <= high <= 1.0 for low, high in shares), plant.key
            assert shares == sorted(shares), plant.key


def test_the_year_by_weeks_and_light_in_words() -> None:
    """Half the light and three halves of the weeks: 0.85 to 1.15 times the open bed's lettuce."""
    outside, inside = (window(crop("lettuce-leaf"), under(light)) for light in (17.0, 8.5))
    outside, inside = replace(outside, harvest_weeks=10.0), replace(inside, harvest_weeks=15.0)
    assert yield_words(outside, inside) == (
        "open 100 %, covered 57 to 77 %; with its weeks 0.8 to 1.2 times the open bed's year"
    )
    assert yield_words(replace(outside, picking=None), inside) == ""
    assert yield_words(outside, replace(inside, earliest=None)) == ""


def test_where_no_trial_is_known_no_yield_is_told() -> None:
    for key in ("garlic", "snap-bean", "broccoli", "strawberry", "dill"):
        assert window(crop(key), under(20.0)).picking is None
    assert window(crop("lettuce-leaf"), Digest(BedYears("lab", WARM, WARM, WARM))).picking is None
