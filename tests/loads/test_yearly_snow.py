"""How often snows are met at a place, and the odds of getting through its winters."""

import math

import numpy as np
import pytest
from scipy import stats

from hoopwright.design import design_of
from hoopwright.loads.yearly import SNOW_VARIATION, YearlySnow
from hoopwright.odds.quantiles import weak_to_strong
from hoopwright.plan import read_plan_text

BED = '[site]\nground_snow = "20 psf"\n[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[wishes]\n'


@pytest.mark.parametrize("eurocode", [False, True])
@pytest.mark.parametrize("years", [2, 10, 50, 300])
def test_the_given_load_is_passed_once_in_its_years(years, eurocode):
    assert YearlySnow(960.0, years, eurocode).below(960.0) == pytest.approx(1 - 1 / years)


@pytest.mark.parametrize(("years", "factor"), [(10, 1.82), (25, 1.20), (100, 0.82)])
def test_other_winters_by_the_factors_of_asce(years, factor):
    """ASCE 7-16 C7.2, from memory: factors from other yearly chances to that of 2 %."""
    chance = float(YearlySnow(1000.0, 50.0, False).below(1000.0 / factor))
    assert stats.norm.ppf(chance) == pytest.approx(stats.norm.ppf(1 - 1 / years), abs=0.11)


def test_other_winters_by_annex_d():
    """EN 1991-1-3 D.1, from memory: s_n = s_k (1 - V sqrt 6 / pi (ln(-ln(1 - P)) + 0.57722)) /
    (1 + 2.5923 V)."""
    v = SNOW_VARIATION
    for years in (5, 10, 100):
        asked = math.log(-math.log(1 - 1 / years)) + 0.57722
        load = 1000.0 * (1 - v * math.sqrt(6) / math.pi * asked) / (1 + 2.5923 * v)
        found = float(YearlySnow(1000.0, 50.0, True).below(load))
        assert found == pytest.approx(1 - 1 / years, abs=2e-5)


def test_winters_are_drawn_anew_and_the_bed_is_not():
    """Half the beds bear what half the winters pass, half bear all: 3/4 of one, 9/16 would be two
    beds; one bed gets through two in (0.25 + 1) / 2."""
    snows = YearlySnow(500.0, 2.0, False)
    stands = np.array([500.0, 1e9])
    assert snows.gets_through(stands, 1) == pytest.approx(0.75)
    assert snows.gets_through(stands, 2) == pytest.approx(0.625)


def test_brushing_oftener_bears_more_of_a_winter():
    found = {
        often: design_of(read_plan_text(f'{BED}brushed = "{often}"\n'))
        for often in ("never", "weekly", "daily")
    }
    stands = {often: weak_to_strong(one.ladder.snow_on_ground) for often, one in found.items()}
    for less, more in (("never", "weekly"), ("weekly", "daily")):
        assert all(a < b for a, b in zip(stands[less], stands[more], strict=True))
    # Never brushed, the cover bears its own limit over what of the ground's snow lies on it.
    first = np.min(
        [r.load for r in found["never"].ladder.snow if "wet" in r.case and r.harm != "nuisance"],
        axis=0,
    )
    assert found["never"].ladder.snow_on_ground == pytest.approx(first / 0.7)
    assert found["never"].ladder.depth_of("old wet") < found["never"].ladder.depth_of("wet")
