"""From a gust in the open to the pressure at a bed and back, by hand."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from given import Given

from hoopwright.checks.at_gust import at_gust
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.standing import AMONG_HOUSES, GROUND, PEAK, PROFILE, WindAtBed
from hoopwright.design import design_of
from hoopwright.loads.wind_cases import ASCE, EUROCODE
from hoopwright.plan import read_plan_text

DRAWN = {GROUND: 0.06, PEAK: 2.8, PROFILE: 1.05, AMONG_HOUSES: 0.5}


def at(exposure: str, elevation: float | None, height: float = 1.2) -> WindAtBed:
    site = design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n')).standing.site
    return WindAtBed(replace(site, exposure=exposure, elevation=elevation), height)


def inputs_of(wind: WindAtBed, draws: Given) -> Inputs:
    standing = design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n')).standing
    vars(standing)["wind"] = wind
    return Inputs(standing, draws)


def test_gust_and_pressure_in_thin_air():
    """1.2 m up, ground 0.06 m rough, peak 2.8, profile 1.05: ln 20 = 2.9957; the gust goes as
    0.06^0.07 x 2.9957 (1 + 2.8 / 2.9957) = 4.7596 over 0.03^0.07 x ln(333.3) + 2.5 -> 0.78232 x
    8.3091 = 6.5004: 0.73221 x 1.05 = 0.76882. Air at 2042 m: 1.225 e^(-0.000119 x 2042) = 0.96074.
    100 Pa: sqrt(200 / 0.96074) = 14.428 m/s at the bed, 18.767 in the open. Likely: ground 0.03,
    peak 2.75: (3.6889 + 2.75) / 8.3091 = 0.77492; 20 m/s: 0.48037 x (15.498)^2 = 115.4 Pa."""
    wind = at("open", 2042.0)
    draws = Given(values=DRAWN)
    assert wind.share(draws) == pytest.approx([0.76882], rel=1e-3)
    gust = inputs_of(wind, draws).gust
    assert gust(np.array([100.0])) == pytest.approx([18.767], rel=1e-3)
    assert gust(np.array([-1.0])) == pytest.approx([0.0])
    assert wind.likely_share == pytest.approx(0.77492, rel=1e-3)
    assert wind.pressure(20.0) == pytest.approx(115.4, rel=1e-3)
    assert at("open", None).density == pytest.approx(1.225)


def test_gust_among_houses():
    """No profile holds there: half the gust as drawn, 0.46 as likely; 100 Pa at sea level 12.778
    m/s at the bed."""
    wind = at("suburb", 0.0)
    gust = inputs_of(wind, Given(values=DRAWN)).gust(np.array([100.0]))
    assert gust == pytest.approx([25.56], rel=1e-3)
    assert wind.likely_share == pytest.approx(0.46)
    assert wind.pressure(20.0) == pytest.approx(0.6125 * 9.2**2, rel=1e-3)


def test_the_standard_of_the_site():
    text = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[site]\nstandard = "EN 1991"\n'
    standing = design_of(read_plan_text(text)).standing
    assert standing.wind.basis is EUROCODE
    assert at("open", None).basis is ASCE


def test_the_pressure_told_of_a_gust():
    """12 ft bed in the open at sea level: 20 m/s, likely share s: 0.6125 (20 s)^2."""
    found = design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'))
    share = (np.log(found.hoop.crown / 0.03) + 2.75) / (np.log(10 / 0.03) + 2.5)
    told = at_gust(found.standing, found.ladder, 20.0)
    assert told.pressure == pytest.approx(0.6125 * (20 * share) ** 2, rel=1e-3)
