"""Rain on lying snow and clear ice on the cover."""

import pytest

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.frame import hoop_frame
from hoopwright.beam.hold import Hold
from hoopwright.beam.load import load
from hoopwright.beam.path import follow
from hoopwright.checks.rain_and_ice import ICE, pores
from hoopwright.design import design_of
from hoopwright.plan import read_plan_text

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
GRAVITY, PSF = 9.80665, 47.88026


def design(text=""):
    return design_of(read_plan_text(BED + text))


def rung(found, name):
    return next(one for one in found.ladder.rungs if one.name == name)


def settled(found):
    snow = [r for r in found.ladder.snow if r.case.startswith("settled")]
    return [r for r in snow if r.harm != "nuisance"]


def test_rain_makes_less_snow_too_much():
    for text in ("", '[hoops]\nspacing = "2 ft"\nridge = "pipe"\n'):
        found = design(text)
        rain, dry = rung(found, "rain-on-settled"), settled(found)
        assert rain.at.low < min(r.at.low for r in dry)
        assert rain.at.likely < min(r.at.likely for r in dry)
        assert rain.at.high == pytest.approx(min(r.at.high for r in dry))


def test_the_weak_end_is_the_standards_surcharge():
    """5 psf (ASCE 7-16 7.10) and settled snow of 300 kg/m3 on a hoop that bears more than both."""
    found = design('[hoops]\npipe = "emt-1"\nspacing = "1 ft"\n')
    dry = min(r.at.low for r in settled(found))
    load_borne = dry * 300 * GRAVITY
    assert load_borne > 8 * PSF, "else the pores fill first"
    rain = rung(found, "rain-on-settled").at.low
    assert (rain * 300 * GRAVITY + 5 * PSF) == pytest.approx(load_borne, rel=1e-4)


def test_pores_hold_no_more_than_there_is_room_for():
    assert pores(ICE) == pytest.approx(0.0)
    assert pores(200.0) == pytest.approx(1000 * (1 - 200 / 917))
    found = design()
    dry = min(r.at.low for r in settled(found))
    rain = rung(found, "rain-on-settled").at.low
    assert rain >= 0.999 * dry * 300 / (300 + pores(300.0)) > 0


def test_ice_is_its_own_hazard_and_does_not_hide_the_snow():
    found = design()
    ice = rung(found, "ice-on-cover")
    assert ice.hazard == "ice"
    assert ice in found.ladder.snow
    assert found.ladder.first("snow").hazard == "snow"
    assert found.ladder.first("ice") is ice


def test_ice_weighs_on_the_whole_arc():
    """A dead load along the arc: sidesway of a clamped hoop of s = 0.5 at 257.0 EI / L^3 (discrete
    rods, boundary-value solver and finite elements agree); the row followed is that load."""
    found = design()
    followed = found.ladder.followed
    row = followed.ice_row
    down = followed.path.growing.down[row]
    assert down == pytest.approx(found.standing.bay)
    frame = hoop_frame(bend_hoop(1.0, 0.5, Hold(turning=False)), 1.0)
    alone = follow(frame, load(frame, down=1.0))
    assert float(alone.critical_factor[0]) == pytest.approx(257.0, rel=0.005)


def test_stouter_pipe_and_closer_hoops_bear_thicker_ice():
    plain = rung(design(), "ice-on-cover").at.likely
    assert rung(design('[hoops]\npipe = "pvc40-3/4"\n'), "ice-on-cover").at.likely > 1.5 * plain
    assert rung(design('[hoops]\nspacing = "2 ft"\n'), "ice-on-cover").at.likely > 1.2 * plain
