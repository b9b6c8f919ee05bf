"""Covers that stood and covers that went, as people report them, as bands for the odds.

Each report was read as an excerpt of its source only. Where a band fails, the model is wrong or the
report does not describe the plan: the band stays.
"""

from __future__ import annotations

import numpy as np
import pytest

from hoopwright.design import Design, design_of
from hoopwright.loads.snow import snow_kinds
from hoopwright.plan import read_plan_text

MPH, PSF = 0.44704, 47.88025898
BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
#: Half-inch PVC, two straps, no ridge, pins, lacing or ties.
USUAL = BED + '[holding]\nrail = "weight"\n'
FORTIFIED = (
    BED
    + '[hoops]\npipe = "pvc40-3/4"\nspacing = "2 ft"\nridge = "pipe"\nbrace = true\n'
    + '[cover]\nlacing = true\nclip_spacing = "6 in"\n'
    + '[holding]\npin = true\nstakes = "corners and sides"\ntied_to_soil = true\n'
)


def made(text: str) -> Design:
    return design_of(read_plan_text(text))


@pytest.fixture(scope="module")
def usual() -> Design:
    return made(USUAL)


def test_the_usual_bed_loses_its_cover_between_30_and_60_mph_in_the_middle(usual: Design) -> None:
    """The band of the project's own brief, drawn from the reports below."""
    assert 30 < usual.ladder.lost.told[1] / MPH < 60


def test_growers_are_told_to_secure_covers_over_35_mph(usual: Design) -> None:
    """Oregon State University extension, Lane County, 2010: secure covers over 35 mph. So a cover
    nobody secured is at risk there, though not sure to go."""
    assert 0.1 < np.mean(usual.ladder.lost.at <= 35 * MPH) < 0.9


def test_strapped_low_tunnels_held_40_to_50_mph() -> None:
    """University of Minnesota fruit extension, 2018: low tunnels whose film is strapped down over
    the hoops stood 40 to 50 mph. Laced, tied, low, with a ridge: half and more stand it."""
    tunnel = made(
        BED
        + '[hoops]\nheight = "24 in"\nridge = "pipe"\n[cover]\nlacing = true\nstyle = "wrapped"\n'
        + "[holding]\npin = true\n"
    )
    assert tunnel.ladder.lost.told[1] / MPH > 45


def test_a_raised_beds_cover_held_70_km_h(usual: Design) -> None:
    """A grower's report: a raised bed's cover held 70 km/h, 43 mph. It does not say how it was
    held, so of the usual beds one in ten at least must stand that."""
    assert np.mean(usual.ladder.lost.at > 70 / 3.6) > 0.1


def test_covers_held_in_gusts_of_60_mph() -> None:
    """A grower's report, Rigby, Idaho: covers held in gusts of 60 mph. Of beds whose legs are
    pinned and rails tied one in ten at least must stand that."""
    secured = made(BED + "[holding]\npin = true\n")
    assert np.mean(secured.ladder.lost.at > 60 * MPH) > 0.1


def test_three_to_four_inches_of_heavy_wet_snow_are_one_of_water() -> None:
    """Bartok, Greenhouse Management, February 2015: 250 to 333 kg/m3. The range
    of wet snow reaches the lighter of them, that of old wet snow holds the heavier."""
    fresh, old = (snow_kinds()[kind] for kind in ("wet", "old wet"))
    assert fresh.low < 250 < fresh.high < 335
    assert old.low < 333 < old.high


def test_hoop_houses_are_damaged_at_about_60_mph() -> None:
    """University of Connecticut, Bartok, EXT007: damage from about 60 mph. A braced, pinned cover
    of stouter pipe opens in nobody's garden at 30, and is open on some at 75."""
    sturdy = made(FORTIFIED)
    assert np.mean(sturdy.ladder.opens.at <= 30 * MPH) < 0.1
    assert np.mean(sturdy.ladder.opens.at <= 75 * MPH) > 0.1


def test_a_fortified_bed_is_claimed_above_90_mph_only_after_a_pull_test() -> None:
    assert made(FORTIFIED).ladder.opens.told[0] / MPH < 90


def test_pipe_houses_bear_about_4_psf_of_snow() -> None:
    """Moriyama et al., ASABE 034047: 192 N/m2, 4 psf, on a house whose purlins keep its hoops
    upright; so with the ridge tied back, in the middle within a factor of two."""
    braced = made(BED + '[hoops]\nridge = "pipe"\nbrace = true\n')
    load = braced.ladder.wet_snow.load
    assert load is not None
    assert 2.0 < sorted(load)[len(load) // 2] / PSF < 8.0
