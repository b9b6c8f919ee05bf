"""Rain on lying snow and clear ice on the cover."""

import numpy as np
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
        for one in dry:
            assert np.all(rain.at < one.at)


def test_rain_adds_what_the_pores_keep():
    """Settled snow of 200 kg/m3 has 1000 (1 - 200 / 917) = 782 kg/m3 of room; 7 % of it, 55, stays
    in it, so the load that 1 m of it was is reached at 200 / 255 of the depth."""
    found = design()
    rain = rung(found, "rain-on-settled")
    inputs = found.ladder.inputs
    kept = inputs.doubt("share of its pores that snow keeps full in rain")
    dry = np.min([one.at for one in settled(found)], axis=0)
    density = inputs.density("settled")
    assert rain.at == pytest.approx(dry * density / (density + kept * pores(density)))
    assert pores(200.0) * 0.07 == pytest.approx(54.7, abs=0.1)


def test_pores_hold_no_more_than_there_is_room_for():
    assert pores(ICE) == pytest.approx(0.0)
    assert pores(200.0) == pytest.approx(1000 * (1 - 200 / 917))


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
    plain = rung(design(), "ice-on-cover").middle
    assert rung(design('[hoops]\npipe = "pvc40-3/4"\n'), "ice-on-cover").middle > 1.5 * plain
    assert rung(design('[hoops]\nspacing = "2 ft"\n'), "ice-on-cover").middle > 1.2 * plain
