"""Rungs that are read off the followed hoop, on one whose every answer is a straight line.

Then what reaches a limit can be worked by hand: a demand of a p meets c at c / a; with the outside
pressures m times the standards' and s of the way from the likely to the high pressure inside, over
m, at c / (m ((1 - s) a + s b)), b being the slope with the high pressure; a strain of a hoop k
times as stiff at k times that. Here m = 1.1, inside halfway to high, so s = (inside / 1.1 -
likely) / (high - likely): closed (0.365 / 1.1 - 0.18) / 0.37 = 0.41032; open towards the wind
(0.635 / 1.1 - 0.55) / 0.17 = 0.16043. The pipe is 0.9 x 1.05 = 0.945 times as stiff as nominal.
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest
from given import SOUND, Given, gust_of

from hoopwright.beam.response import FootForce, Response
from hoopwright.checks.at_gust import at_gust
from hoopwright.checks.followed_hoop import FollowedHoop, follow_hoop
from hoopwright.checks.hoop_in_snow import (
    crown_sinks,
    hoop_lies_over,
    ice_cracks,
    pipe_limit,
    snow_rungs,
)
from hoopwright.checks.hoop_in_wind import (
    GUST_DAY,
    hoop_sways_rung,
    legs_slip,
    legs_slip_rung,
    pipe_kinks,
    pipe_kinks_rung,
    strain_in_a_gust,
    straps_draw,
    straps_draw_rung,
)
from hoopwright.checks.inputs import INSIDE, PRESSURE, Inputs
from hoopwright.checks.ladder import Ladder
from hoopwright.checks.rain_and_ice import ice_rung, rain_on_snow_rung
from hoopwright.checks.read_off import Reader
from hoopwright.checks.rung import NO_FURTHER
from hoopwright.design import design_of
from hoopwright.holding.choices import CLIP
from hoopwright.odds.draws import HIGH_SCORE
from hoopwright.plan import read_plan_text

ROWS, POINTS, M = 18, 41, 1.1
FACTOR = np.tile(np.linspace(0.0, 4000.0, POINTS), (ROWS, 1))
CLOSED, FILLED = 0.41032, 0.16043
HALF = 0.84 * 0.0254 / 2  # of the pipe's outside diameter [m]
GIVEN = {
    GUST_DAY: 1.0,
    SOUND: 1.0,
    PRESSURE: M,
    "warmth of the pipe in a gust": 0.9,
    "stiffness left under snow": 0.7,
    "share of the bend that is left": 0.43,
}


@pytest.fixture(scope="module")
def made():
    standing = design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n')).standing
    return standing, follow_hoop(standing)


def lines(slopes: dict[int, float], other: float = 0.01) -> np.ndarray:
    """Values that rise with the factor, by row; all other rows by a slope too small to matter."""
    return FACTOR * np.array([slopes.get(row, other) for row in range(ROWS)])[:, None]


def straight(followed: FollowedHoop, **more: object) -> FollowedHoop:
    none = 0.0 * FACTOR
    foot = FootForce(none, none, none, none, none)
    fields = dict.fromkeys(Response.__dataclass_fields__, none)
    fields |= {"factor": FACTOR, "left": foot, "right": foot, "bend_at_rest": np.zeros(2)}
    fields |= {"bend": np.zeros((ROWS, POINTS, 2))} | {
        name: one for name, one in more.items() if name in fields
    }
    path = SimpleNamespace(
        frame=followed.path.frame,
        factor=FACTOR,
        unfinished=more.get("unfinished", np.zeros(ROWS, dtype=bool)),
        critical_factor=more.get("critical_factor", np.full(ROWS, np.nan)),
    )
    hoop = FollowedHoop(followed.cases, followed.section, path)  # type: ignore[arg-type]
    vars(hoop)["response"] = Response(**fields)
    return hoop


def reader(made, values: dict[str, float] | None = None, hold: dict | None = None, **more):
    standing = made[0]
    if hold:
        standing = replace(standing, hold_down=replace(standing.hold_down, **hold))
    nominal = standing.hoop.pipe.stuff.flexural_modulus.likely
    known = GIVEN | {"stiffness of the pipe": 1.05 * nominal} | (values or {})
    inputs = Inputs(standing, Given(values=known, scores={INSIDE: HIGH_SCORE / 2}))
    return standing, Reader(straight(made[1], **more), inputs)


def feet(left: dict[int, float], right: dict[int, float], **more: dict[int, float]):
    none = 0.0 * FACTOR
    sides = []
    for lift in (left, right):
        parts = {name: lines(one, 0.0) for name, one in more.items()}
        sides.append(
            FootForce(
                parts.get("push", none), lines(lift), none,
                parts.get("lower_strap", none), parts.get("upper_strap", none),
            )
        )  # fmt: skip
    return {"left": sides[0], "right": sides[1]}


def test_legs_slip_out_of_straps(made):
    """Grip 0.25 x 0.5 x (4 x 150 + 15.3 + 36.5) = 81.48 N of straps of likely figures; the right
    leg pulls 0.5 and 0.7 N/Pa in the closed case: 81.48 / (1.1 (0.58968 x 0.5 + 0.41032 x 0.7)) =
    127.3 Pa by clips that hold; a side up 0.6 and 0.9: 114.3. An end hoop of a framed pair has a
    quarter."""
    both = feet({0: 0.3, 1: 0.4, 2: 0.2, 3: 0.1}, {0: 0.5, 1: 0.7, 2: 0.6, 3: 0.9})
    standing, read = reader(made, {CLIP: 1000.0}, **both)
    closed = 81.48 / (M * ((1 - CLOSED) * 0.5 + CLOSED * 0.7))
    filled = 81.48 / (M * ((1 - FILLED) * 0.6 + FILLED * 0.9))
    found = legs_slip(standing, read, opened=False)
    assert found.pressure == pytest.approx([closed], rel=2e-3)
    assert found.case == "wind across, closed"
    opened = legs_slip(standing, read, opened=True)
    assert opened.pressure == pytest.approx([filled], rel=2e-3)
    for state, met, pressure in ((False, found, closed), (True, opened, filled)):
        rung = legs_slip_rung(standing, read.inputs, met, opened=state)
        assert rung.at == pytest.approx([gust_of(standing, pressure)], rel=2e-3)
        assert (rung.harm, rung.brings) == ("loss", "" if state else "lost")
        assert rung.name == ("legs-slip-opened" if state else "legs-slip")
    # Three clips of 30 N, 90 N for both legs, let go of an inner hoop before it slips; the nine of
    # an end hoop, of a quarter of the film, do not: 4 times as much wind.
    standing, weak = reader(made, {CLIP: 30.0}, **both)
    found = legs_slip(standing, weak, opened=False)
    assert found.pressure == pytest.approx([4 * closed], rel=2e-3)
    single = replace(standing, hoops=tuple(h for h in standing.hoops if h.role != "panel"))
    assert legs_slip(single, weak, opened=False).pressure == pytest.approx([2 * closed], rel=2e-3)
    standing, loose = reader(made, {CLIP: 3.0}, **both)
    assert np.isinf(legs_slip(standing, loose, opened=False).pressure).all()
    bare = replace(standing, cover=replace(standing.cover, clip=None))
    assert legs_slip(bare, loose, opened=False).pressure == pytest.approx([closed], rel=2e-3)


def test_strap_screws_draw(made):
    """Two #10 screws (0.19 in, root 0.152 in, 0.8333 in of thread, 80 ksi) in spruce-pine-fir G
    0.42, wet: out 15700 x 0.1764 x 0.19 x 0.8333 x 0.7 = 307.0 lb, 2731 N the two. Aside mode IIIs:
    Fe 16600 x 0.42^1.84 = 3364 psi, Re 0.05439, strap 0.0359 in, k3 = -1 + sqrt(38.77 + 583.8) =
    23.95: 0.152 x 0.0359 x 3364 x 23.95 / 2.0544 = 214.0 lb x 0.7: 1333 N the two. Upper strap 2
    N/Pa off the board, 1.5 N/Pa up the leg on two straps, 0.75: at their slope cos2 = 0.1233,
    Hankinson 2731 x 1333 / (2731 x 0.1233 + 1333 x 0.8767) = 2417 N for 2.136 N/Pa."""
    slopes = dict.fromkeys((0, 1), 1.0)
    more = {"upper_strap": dict.fromkeys(slopes, 2.0), "lower_strap": dict.fromkeys(slopes, -0.5)}
    both = feet({0: 1.5, 1: 1.5}, {}, **more)
    names = (
        "withdrawal of a screw over the mean of tests",
        "yield of a screw sideways over the formula",
    )
    standing, read = reader(made, {names[0]: 0.9, names[1]: 1.2}, **both)
    found = straps_draw(standing, read, opened=False)
    assert found is not None
    by_hand = 0.9 * 2417 / 2.136 / M
    assert found.pressure == pytest.approx([by_hand], rel=5e-3)
    standing, other = reader(made, {names[0]: 0.9, names[1]: 0.8}, **both)
    doubted = straps_draw(standing, other, opened=False)
    _, rotten = reader(made, {names[0]: 0.9, names[1]: 1.2, SOUND: 0.5}, **both)
    half = straps_draw(standing, rotten, opened=False)
    assert half is not None
    assert half.pressure == pytest.approx([by_hand / 2], rel=5e-3)
    assert doubted is not None
    assert doubted.pressure == pytest.approx([by_hand * 8 / 9], rel=5e-3)
    rung = straps_draw_rung(standing, read.inputs, found)
    assert rung.at == pytest.approx([gust_of(standing, by_hand)], rel=5e-3)
    assert (rung.name, rung.harm, rung.brings) == ("strap-screws-draw", "loss", "lost")
    # Legs inside bear on the board: the lower strap, 0.5 N/Pa inward and 0.75 up the leg, takes it.
    more["lower_strap"] = dict.fromkeys(slopes, 0.5)
    standing, read = reader(
        made, {names[0]: 0.9, names[1]: 1.2}, **feet({0: 1.5, 1: 1.5}, {}, **more)
    )
    cos2 = 0.75**2 / (0.75**2 + 0.5**2)
    inside = 2731 * 1333 / (2731 * cos2 + 1333 * (1 - cos2)) / np.hypot(0.75, 0.5) * 0.9 / M
    within = straps_draw(replace(standing, legs="inside"), read, opened=False)
    assert within is not None
    assert within.pressure == pytest.approx([inside], rel=5e-3)
    # One strap: the push itself, 0.4 N/Pa outward, and all of the 1.5 up the leg.
    hoop = replace(standing.hoop, leg=replace(standing.hoop.leg, low_strap=None))
    standing, read = reader(made, {names[0]: 0.9, names[1]: 1.2}, **feet(
        {0: 1.5, 1: 1.5}, {}, push={0: 0.4, 1: 0.4}))  # fmt: skip
    cos2 = 1.5**2 / (1.5**2 + 0.4**2)
    one = 2731 * 1333 / (2731 * cos2 + 1333 * (1 - cos2)) / np.hypot(1.5, 0.4) * 0.9 / M
    alone = straps_draw(replace(standing, hoop=hoop), read, opened=False)
    assert alone is not None
    assert alone.pressure == pytest.approx([one], rel=5e-3)
    rod = replace(standing, hold_down=replace(standing.hold_down, leg="sleeve"))
    assert straps_draw(rod, read, opened=False) is None


def bends(rest: tuple[float, float], slopes: dict[int, tuple[float, float]]):
    """Bends [1/m] at two places: at rest, and rising by slopes [1/(m Pa)] by row."""
    bend = np.zeros((ROWS, POINTS, 2)) + np.array(rest)
    for row in range(ROWS):
        bend[row] += FACTOR[row][:, None] * np.array(slopes.get(row, (1e-6, 1e-6)))
    return {"bend": bend, "bend_at_rest": np.array(rest)}


def between_shares(limit: float, rest: float, slope: float) -> float:
    """Pressure at which l k0 + c p meets the limit's bend, read at l = 0.40 and 0.45 and between
    them on the inverse: 0.43 lies 0.6 of the way."""
    low, high = ((limit / HALF - share * rest) / slope for share in (0.40, 0.45))
    return 1 / (0.4 / low + 0.6 / high)


def test_a_gust_finds_the_pipe_between_frost_and_the_warm(made):
    """A quarter of the way from 0.016 to 0.032 and worn to 0.75: 0.020 x 0.75 = 0.015."""
    names = [f"strain that 1/2 in PVC schedule 40 bears at {degrees} °C" for degrees in (0, 23)]
    values = {names[0]: 0.016, names[1]: 0.032, GUST_DAY: 0.25}
    values["pinned or aged pipe over new in strain"] = 0.75
    standing, read = reader(made, values)
    assert strain_in_a_gust(standing, read.inputs) == pytest.approx([0.015])


def test_the_pipe_kinks(made):
    """Bent to 2.4 1/m, of which 0.43 is left, worn to 0.75 of 0.032: fibre strain 0.024 is a bend
    of 2.2497 1/m. A pascal adds 0.002 and 0.003 (closed), at a hoop 0.945 times as stiff."""
    both = bends((2.4, -0.4), {0: (0.002, 0.001), 1: (0.003, 0.001), 2: (0.004, 0), 3: (0.005, 0)})
    name = "strain that 1/2 in PVC schedule 40 bears at 23 °C"
    worn = "pinned or aged pipe over new in strain"
    standing, read = reader(made, {name: 0.032, worn: 0.75}, **both)

    def by_hand(slopes: tuple[float, float], s: float) -> float:
        shares = []
        for share in (0.40, 0.45):
            low, high = ((0.024 / HALF - share * 2.4) / slope for slope in slopes)
            shares.append(0.945 / M / ((1 - s) / low + s / high))
        return 1 / (0.4 / shares[0] + 0.6 / shares[1])

    for opened, slopes, s in (
        (False, (0.002, 0.003), CLOSED), (True, (0.004, 0.005), FILLED)
    ):  # fmt: skip
        found = pipe_kinks(standing, read, opened=opened)
        assert found.pressure == pytest.approx([by_hand(slopes, s)], rel=2e-3)
    rung = pipe_kinks_rung(standing, read.inputs, found)
    assert rung.at == pytest.approx([gust_of(standing, by_hand((0.004, 0.005), FILLED))], rel=2e-3)
    assert (rung.name, rung.harm, rung.brings) == ("pipe-kinks", "loss", "lost")
    assert (rung.values["low"], rung.values["high"]) == (pytest.approx(0.015), pytest.approx(0.04))
    # The other way round the relaxed bend's set counts against it: -(1 - 0.43) 2.4 at once.
    turned = bends((2.4, 0.0), {0: (-0.002, 0.0), 1: (-0.002, 0.0)})
    standing, read = reader(made, {name: 0.032, worn: 0.75}, **turned)
    shares = [(0.024 / HALF + share * 2.4) / 0.002 for share in (0.40, 0.45)]
    by_set = 0.945 / M / (0.4 / shares[0] + 0.6 / shares[1])
    found = pipe_kinks(standing, read, opened=False)
    assert found.pressure == pytest.approx([by_set], rel=2e-3)


def test_a_pipe_bears_its_own_bend_at_least(made):
    """A limit below what is left of the bend: it stands bent, so 1.02 of 0.45 x 2.4 x half is
    borne, and 0.02 of that at 0.002 1/m a pascal: 0.0216 / 0.002 = 10.8 Pa at 0.45, 9.6 at 0.40."""
    both = bends((2.4, 0.0), dict.fromkeys(range(ROWS), (0.002, 0.0)))
    standing, read = reader(
        made, {"strain that 1/2 in PVC schedule 40 bears at 23 °C": 0.001}, **both
    )
    found = pipe_kinks(standing, read, opened=False)
    by_hand = 1 / (0.4 / 9.6 + 0.6 / 10.8) * 0.945 / M
    assert found.pressure == pytest.approx([by_hand], rel=5e-3)


def test_the_hoop_loses_its_stiffness_in_wind(made):
    """Gives way at 300 and 200 Pa (likely and high inside, closed), a side up at 250 and 240: k / m
    / ((1 - s) / 300 + s / 200); where a path breaks off early, the least of what was reached."""
    critical = np.full(ROWS, np.nan)
    critical[[0, 1, 2, 3]] = 300.0, 200.0, 250.0, 240.0
    standing, read = reader(made, critical_factor=critical)
    for opened, (low, high), s in (
        (False, (300.0, 200.0), CLOSED), (True, (250.0, 240.0), FILLED)
    ):  # fmt: skip
        by_hand = 0.945 / M / ((1 - s) / low + s / high)
        found = read.lies_over(opened=opened)
        assert found.pressure == pytest.approx([by_hand], rel=1e-3)
        rung = hoop_sways_rung(read.inputs, found)
        assert rung.at == pytest.approx([gust_of(standing, by_hand)], rel=1e-3)
    assert (rung.name, rung.harm, rung.brings) == ("hoop-lies-over", "loss", "lost")
    short = np.zeros(ROWS, dtype=bool)
    short[1] = True
    critical[1] = np.nan
    _, read = reader(made, critical_factor=critical, unfinished=short)
    found = read.lies_over(opened=False)
    assert found.pressure == pytest.approx([0.945 * 300.0 / M])
    assert found.case == "wind across, closed" + NO_FURTHER


def test_snow_on_the_hoop(made):
    """Snow finds 1.05 x 0.7 = 0.735 of the stiffness. The crown sinks 0.097253 m (a tenth of its
    0.97253 m) at 0.0001, 0.0002 and 0.00015 m/Pa: 0.735 x 0.097253 / 0.0002 = 357.4 Pa. It folds
    at the least of 540, 1400 and 620. Wet snow of 400 kg/m3: depth = load / 9.80665 / 400."""
    rows = {14: 1e-4, 15: 2e-4, 16: 1.5e-4}
    critical = np.full(ROWS, np.nan)
    critical[14:17] = 540.0, 1400.0, 620.0
    both = bends((2.4, 0.0), {14: (0.001, 0), 15: (0.002, 0), 16: (0.0015, 0), 17: (0.004, 0)})
    name = "strain that 1/2 in PVC schedule 40 bears at 0 °C"
    standing, read = reader(
        made, {name: 0.018, "weight of wet snow": 400.0},
        crown_drop=lines(rows), critical_factor=critical, **both,
    )  # fmt: skip
    sinks, folds, cracks = (
        crown_sinks(standing, read), hoop_lies_over(read), pipe_limit(read)
    )  # fmt: skip
    loads = 357.4, 0.735 * 540.0, 0.735 * between_shares(0.018, 2.4, 0.002)
    assert (sinks.case, folds.case, cracks.case) == (
        "snow on one half", "even snow", "snow on one half"
    )  # fmt: skip
    found = snow_rungs(standing, read.inputs, "wet", sinks, folds, cracks)
    assert [rung.name for rung in found] == [
        "crown-sinks-wet", "hoop-folds-wet", "pipe-cracks-wet"
    ]  # fmt: skip
    assert [rung.harm for rung in found] == ["nuisance", "loss", "loss"]
    for rung, load in zip(found, loads, strict=True):
        assert rung.load == pytest.approx([load], rel=2e-3)
        assert rung.at == pytest.approx([load / 9.80665 / 400], rel=2e-3)
    assert found[0].values["drop"] == pytest.approx(0.097253, rel=1e-4)
    assert (found[2].values["low"], found[2].values["high"]) == (0.015, 0.03)
    ice = 0.735 * between_shares(0.018, 2.4, 0.004)
    assert ice_cracks(read).pressure == pytest.approx([ice], rel=2e-3)


@pytest.mark.parametrize(
    ("folds", "tears", "first", "harm"),
    [(90.0, 800.0, "folds", "loss"), (900.0, 800.0, "strain", "loss"),
     (900.0, 50.0, "tears", "repair")],
)  # fmt: skip
def test_ice_and_rain(made, folds, tears, first, harm):
    """Ice of 900 kg/m3: the least of 0.735 x folds, the strain's 0.735 x 290 or so, and what tears
    the film. Rain on settled snow of 200 kg/m3: 0.07 of 1000 (1 - 200 / 917) = 54.73 kg/m3 more."""
    critical = np.full(ROWS, np.nan)
    critical[17] = folds
    both = bends((2.4, 0.0), {17: (0.0025, 0.0)})
    values = {
        "strain that 1/2 in PVC schedule 40 bears at 0 °C": 0.018,
        "weight of glaze ice snow": 900.0,
        "weight of settled snow": 200.0,
        "share of its pores that snow keeps full in rain": 0.07,
    }
    standing, read = reader(made, values, critical_factor=critical, **both)
    load = min(0.735 * folds, 0.735 * between_shares(0.018, 2.4, 0.0025), tears)
    rung = ice_rung(standing, read, np.array([tears]))
    assert rung.load == pytest.approx([load], rel=2e-3)
    assert rung.at == pytest.approx([load / 9.80665 / 900], rel=2e-3)
    assert first in rung.happens
    assert (rung.values["low"], rung.values["high"]) == (0.015, 0.03)
    assert (rung.name, rung.hazard, rung.harm) == ("ice-on-cover", "ice", harm)
    snow = [
        replace(rung, case=case, harm=how, at=np.array([at]), load=np.array([at * 2000.0]))
        for case, how, at in (
            ("settled snow, even snow", "nuisance", 0.1), ("settled snow", "loss", 0.3),
            ("settled snow", "repair", 0.2), ("wet snow", "loss", 0.05),
        )
    ]  # fmt: skip
    rain = rain_on_snow_rung(read.inputs, snow)
    assert rain.at == pytest.approx([400.0 / 9.80665 / 254.73], rel=1e-3)
    assert (rain.name, rain.hazard, rain.harm) == ("rain-on-settled", "snow", "repair")


def test_what_a_gust_makes_of_a_value(made):
    """Read the other way round: at 50 Pa, 1.1 x 50 / 0.945 = 58.2 on the path; a force 2 (1 - s) +
    3 s N/Pa times 0.945, a shift the same without; past the end of the path the hoop lies over."""
    _, read = reader(made)
    value = lines({0: 2.0, 1: 3.0})
    force = M * 50 * ((1 - CLOSED) * 2 + CLOSED * 3)
    found = read.demand(value, np.array([50.0]), opened=False, force=True)
    assert found == pytest.approx([force], rel=1e-3)
    shift = read.demand(value, np.array([50.0]), opened=False, force=False)
    assert shift == pytest.approx([force / 0.945], rel=1e-3)
    assert np.isnan(read.demand(value, np.array([3500.0]), opened=False, force=True)).all()


def test_what_a_gust_asks_of_the_hoop(made):
    """20 m/s: velocity pressure q = 0.6125 (20 share)^2 at the bed, read at 1.1 q / 0.945. Per
    pascal of the path: leg 0.5 (0.7 with high inside; a side up 0.6, 0.9), push -0.8, sway -0.002,
    drop 0.003 m; strain |0.45 x 2.4 + 0.002 p| x 0.010668, which bears 0.032 x 0.75. Forces times
    0.945; a leg holds its 81.48 N."""
    sides = feet(
        {}, {0: 0.5, 1: 0.7, 2: 0.6, 3: 0.9}, push={0: -0.8, 1: -0.8}
    ) | bends((2.4, 0.0), {0: (0.002, 0.0), 1: (0.002, 0.0)})  # fmt: skip
    standing, read = reader(
        made,
        {
            "strain that 1/2 in PVC schedule 40 bears at 23 °C": 0.032,
            "pinned or aged pipe over new in strain": 0.75,
        },
        crown_sway=-lines({0: 0.002, 1: 0.002}, 0.0),
        crown_drop=lines({0: 0.003, 1: 0.003}, 0.0),
        **sides,
    )
    gust = 20.0
    pressure = 0.6125 * (gust * standing.wind.likely_share) ** 2
    at = M * pressure / 0.945
    closed = (1 - CLOSED) * 0.5 + CLOSED * 0.7
    filled = (1 - FILLED) * 0.6 + FILLED * 0.9
    by_hand = {
        "Pull along a leg, sides down": 0.945 * closed * at,
        "Pull along a leg, a side up": 0.945 * filled * at,
        "Push on the board at a foot": 0.945 * 0.8 * at,
        "Crown sideways": 0.002 * at,
        "Crown down": 0.003 * at,
        "Strain that counts": HALF * (0.45 * 2.4 + 0.002 * at),
    }
    ladder = Ladder((), (), (), read.hoop, read.inputs)
    told = at_gust(standing, ladder, gust)
    rows = {row.what: row for row in told.asked}
    for what, value in by_hand.items():
        assert (rows[what].middle, rows[what].most) == pytest.approx((value, value), rel=2e-3), what
        assert rows[what].gone == 0.0
    assert rows["Pull along a leg, sides down"].holds == pytest.approx((81.48, 81.48), rel=2e-3)
    assert rows["Strain that counts"].holds == pytest.approx((0.024, 0.024))
    assert rows["Crown down"].holds is None
    assert told.pressure == pytest.approx(pressure, rel=1e-6)
    strap = rows["Along the board on an end strap"]
    assert strap.holds == pytest.approx((1333.0, 1333.0), rel=5e-3)
    # A board gone at the screws holds 0.8 of that, as the rung of the end hoops has it.
    _, rotted = reader(made, {SOUND: 0.8}, **sides)
    found = at_gust(standing, Ladder((), (), (), rotted.hoop, rotted.inputs), gust)
    strap = next(row for row in found.asked if row.what == strap.what)
    assert strap.holds == pytest.approx((1066.4, 1066.4), rel=5e-3)
    assert "Push in the ridge" not in rows
    # A ridge of 10 N m2 bows at pi^2 10 / 0.8763^2 = 128.5 N, as stiff as it is drawn: 0.945.
    ridged = replace(standing, ridge_strut=10.0)
    rows = {row.what: row for row in at_gust(ridged, ladder, gust).asked}
    assert rows["Push in the ridge"].holds == pytest.approx((121.46, 121.46), rel=1e-3)
