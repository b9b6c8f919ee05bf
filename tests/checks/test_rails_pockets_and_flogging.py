"""The rail between its ties, water in the film's pockets, and hours of flogging, worked by hand.

The bed: 12 ft x 3 ft, half-inch PVC in two straps, bays of 0.8763 m, hoops 0.935736 m wide; 6 mil
film of 200 MPa; a three-quarter-inch PVC rail of 40.39 N m2 and 59.4 N m. Suction over the crown
closed 1.285 (0.85 (0.7 + 0.6) + 0.18).
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from given import Given, gust_of
from scipy import integrate, optimize

from hoopwright.checks.film import CREPT, SUSTAINED
from hoopwright.checks.film_in_snow import BODY_SLACK, SNOW_ENDS, ponds, ponds_rung
from hoopwright.checks.film_in_wind import RAIL_AGED, TURNING, rail_bows, rail_bows_rung
from hoopwright.checks.flogging import (
    BOWS,
    LASTS,
    MEAN_WIND,
    flogging,
    flogs_from,
    hours_flogged,
    lasts,
)
from hoopwright.checks.followed_hoop import follow_hoop
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.ladder import Ladder, ladder
from hoopwright.cover.membrane import elastic_span, level_pull, load_that_ponds, pocket
from hoopwright.design import design_of
from hoopwright.holding.film_edge import rail_between_ties
from hoopwright.loads.wind_hours import WindHours
from hoopwright.plan import read_plan_text
from hoopwright.units import US, fill

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'
BAY, SPAN, CLOSED = 0.8763, 0.935736, 1.285
SUN = "life of the cover in the sun"


@pytest.fixture(scope="module")
def made():
    standing = design_of(read_plan_text(BED)).standing
    return standing, follow_hoop(standing)


def likely(standing, **values: float) -> Inputs:
    return Inputs(standing, Given(values=values))


@pytest.mark.parametrize("turning", [0.0, 0.25, 0.5, 0.75, 1.0])
def test_a_rail_between_ties_by_integrating_its_bending(turning):
    """M(x) = x (1 - x) / 2 - turning / 12 under a load of 1 on a span of 1; twice integrated."""
    x = np.linspace(0.0, 1.0, 4001)
    moment = x * (1 - x) / 2 - turning / 12
    slope = integrate.cumulative_trapezoid(moment, x, initial=0)
    line = integrate.cumulative_trapezoid(slope, x, initial=0)
    sag = np.abs(line - x * line[-1]).max()
    bows, breaks = rail_between_ties(1.0, 1.0, 1.0, turning, 1.0)
    assert bows == pytest.approx(1 / sag, rel=1e-4)
    assert breaks == pytest.approx(1 / np.abs(moment).max(), rel=1e-4)


@pytest.mark.parametrize("slope", [np.pi / 2, 1.0])
def test_a_rail_bows_past_its_skirt_or_breaks(made, slope):
    """Aged to 0.7, 28.27 N m2 and 41.58 N m; turning 0.25. Bows 0.1 m at 384 x 28.27 x 0.1 / (4 x
    0.5897) = 460.3 N/m; breaks at 41.58 / (0.7679 x 0.10417) = 519.8 N/m. The rail
    weighs 3.327 N/m with its film, which leaves it upright or by 1 rad from level: (3.327 + 460.3)
    over the sine of that, over 0.4679 and 1.285."""
    standing, followed = made
    angle = standing.hoop.curve.angle.copy()
    angle[0] = slope
    hoop = replace(standing.hoop, curve=replace(standing.hoop.curve, angle=angle))
    body = replace(standing.cover.body, skirt=0.1)
    cover = replace(standing.cover, body=body, roll_width=None)
    standing = replace(standing, hoop=hoop, cover=cover)
    inputs = likely(standing, **{RAIL_AGED: 0.7, TURNING: 0.25})
    bows, breaks = rail_bows(standing, followed, inputs)
    by_hand = [(3.327 + lift) / np.sin(slope) / (SPAN / 2) / CLOSED for lift in (460.3, 519.8)]
    assert bows == pytest.approx([by_hand[0]], rel=1e-3)
    assert breaks == pytest.approx([by_hand[1]], rel=1e-3)
    rung = rail_bows_rung(standing, inputs, np.fmin(bows, breaks))
    assert rung is not None
    assert rung.at == pytest.approx([gust_of(standing, by_hand[0])], rel=1e-3)
    assert (rung.name, rung.brings, rung.harm) == ("rail-bows", "opens", "nuisance")
    # One that hangs by its weight lifts whole; of one whose bending is not known nothing is said.
    loose = replace(standing, hold_down=replace(standing.hold_down, rail="weight"))
    unknown = replace(cover, rail=replace(cover.rail, bending_stiffness=None))
    for other in (loose, replace(standing, cover=unknown)):
        assert all(np.isinf(one).all() for one in rail_bows(other, followed, inputs))
    assert rail_bows_rung(standing, inputs, np.array([np.inf])) is None


def test_once_the_rail_bows_later_rungs_find_an_open_cover(made):
    standing, followed = made
    weak = replace(standing.cover.rail, bending_stiffness=4.0, bending_strength=6.0)
    stiff = replace(standing.cover.rail, bending_stiffness=4e4, bending_strength=6e3)
    found = {}
    for name, rail in (("weak", weak), ("stiff", stiff)):
        cover = replace(standing.cover, rail=rail)
        found[name] = ladder(replace(standing, cover=cover), followed)
    rungs = {name: {rung.name: rung for rung in one.wind} for name, one in found.items()}
    assert (found["weak"].opens.at <= rungs["weak"]["rail-bows"].at).all()
    for name in ("pipe-kinks", "film-tears", "inner-clips-open"):
        assert (rungs["weak"][name].at <= rungs["stiff"][name].at).all()
        assert (rungs["weak"][name].at < rungs["stiff"][name].at).any()


def _filled(load: float, rim: float, sinks: float, span: float, film: float, slack: float):
    """Pour water in until it runs over, from the dry sag on: the sag [m], whole load [Pa] and
    greatest tension [N/m] it comes to. Lengths, tensions and moments by quadrature."""

    def level(sag: float) -> float:
        length = 2 * integrate.quad(lambda x: np.hypot(1, 8 * sag * x / span**2), 0, span / 2)[0]
        squared = 2 * integrate.quad(lambda x: 1 + (8 * sag * x / span**2) ** 2, 0, span / 2)[0]
        return film * max(length / (1 + slack) / span - 1, 0.0) / (squared / length)

    water = 0.0
    for _ in range(60):
        sag = optimize.brentq(
            lambda d, w=water: level(d) - load * span**2 / 8 / d - w, 1e-4, 0.8 * span
        )
        whole = level(sag) * 8 * sag / span**2
        low = max(rim - sinks * whole, 0.0)

        def moment(u: float, sag: float = sag, low: float = low) -> float:
            return 9806.65 * max(sag * (1 - (2 * u / span) ** 2) - low, 0.0) * (span / 2 - u)

        asked = integrate.quad(moment, 0, span / 2, limit=200)[0] / sag
        if abs(asked - water) < 0.05:
            break
        water = asked
    return sag, whole, level(sag) * np.hypot(1, 4 * sag / span)


def test_the_pull_of_a_sagging_strip_is_the_membranes_while_shallow():
    film = elastic_span(30.0, 1.2, 30000.0)
    level, steepest = level_pull(float(film.sag) / 1.2, 30000.0, 0.0)
    assert float(level) == pytest.approx(float(film.tension), rel=0.01)
    assert steepest == pytest.approx(1.0, abs=0.02)


@pytest.mark.parametrize("rim", [0.0, 0.02, 0.05, 0.09, 0.2])
def test_the_water_of_a_pocket_by_its_moment(rim):
    """Water from the rim down on one half of a parabola 0.1 m deep and 1.5 m wide: its moment about
    mid-span, by quadrature, over the sag; a rim of 0 gives 5/48 rho g L^2."""

    def moment(u: float) -> float:
        return 9806.65 * max(0.1 * (1 - (u / 0.75) ** 2) - rim, 0.0) * (0.75 - u)

    by_hand = integrate.quad(moment, 0, 0.75, limit=200)[0] / 0.1
    assert float(pocket(0.1, rim, 1.5)) == pytest.approx(by_hand, rel=1e-5, abs=1e-9)
    if rim == 0.0:
        assert by_hand == pytest.approx(5 / 48 * 9806.65 * 1.5**2, rel=1e-6)


@pytest.mark.parametrize(("tears", "bears"), [(3000.0, 1e9), (1e9, 6000.0)])
def test_a_full_pocket_ends_where_film_tears_or_hoops_go(tears, bears):
    """A strip 1 m long, a fifth too long, of film of 30 kN/m, full of water to its ends: 5/48 x
    9806.65 = 1021.5 N/m of its level pull. It ends at the sag where the pull at its ends, length
    and slope by quadrature, is what tears it, or pull times 8 sag what hoops bear, water counted;
    the load is then the rest of the pull, times 8 sag."""

    def level(sag: float) -> float:
        length, squared = (
            2 * integrate.quad(lambda x, n=n: (1 + (8 * sag * x) ** 2) ** n, 0, 0.5)[0]
            for n in (0.5, 1.0)
        )
        return 30000.0 * (length / 1.2 - 1) / (squared / length)

    def over(sag: float) -> float:
        return max(level(sag) * np.hypot(1, 4 * sag) / tears, level(sag) * 8 * sag / bears) - 1

    sag = optimize.brentq(over, 0.3, 0.6)
    by_hand = (level(sag) - 1021.5) * 8 * sag
    assert by_hand > 0
    one = np.ones(1)
    known = 0 * one, 0 * one, 1.0, 30000.0 * one, 0.2 * one, tears * one, bears * one
    assert load_that_ponds(*known) == pytest.approx([by_hand], rel=0.01)


def test_a_pocket_that_water_is_poured_into():
    """A strip 1.2 m long of film of 9000 N/m, 0.3 % slack, that tears at 900 N/m: just below the
    load found it comes to rest with its water, just above it is drawn past what tears it."""
    rim, sinks, span, film, slack, tears = 0.12, 2e-4, 1.2, 9000.0, 0.003, 900.0
    one = np.ones(1)
    # By the pouring alone it runs away from 84 Pa on, at a sag of 0.104 m.
    known = rim * one, sinks * one, span, film * one, slack * one, tears * one
    load = float(load_that_ponds(*known, 1e9 * one)[0])
    assert 76 < load < 85
    assert _filled(0.99 * load, rim, sinks, span, film, slack)[2] < tears
    assert _filled(1.1 * load, rim, sinks, span, film, slack)[2] > tears
    # Hoops that bear no more than the pocket starts at go by themselves.
    assert np.isinf(load_that_ponds(*known, 20.0 * one)[0])
    assert np.isinf(load_that_ponds(*(9.0 * one, *known[1:]), 1e9 * one)[0])


def test_ponding_on_a_bed_with_wide_bays():
    """The same through the bed's own figures: film 30.48 kN/m crept to 0.3, drawn to 0.6 of 1402
    N/m; snow up to sine 0.84 of slope; the crown sinks a tenth of its height at 400 Pa, and the
    hoops bear 300 Pa."""
    hoops = '[hoops]\nspacing = "5 ft"\npipe = "pvc40-3/4"\n'
    standing = design_of(read_plan_text(BED.replace("12", "10") + hoops)).standing
    inputs = likely(standing, **{CREPT: 0.3, SUSTAINED: 0.6, SNOW_ENDS: 0.84, BODY_SLACK: 0.003})
    found = ponds(standing, inputs, np.array([400.0]), np.array([300.0]))
    curve = standing.hoop.curve
    slope = np.abs(np.gradient(curve.y, curve.arc))
    rim = curve.y.max() - curve.y[np.argmin(np.abs(slope[: len(slope) // 2] - 0.84))]
    sinks = 0.1 * standing.hoop.crown_over_board / 400.0
    film = 0.3 * 200e6 * 0.0001524
    assert found is not None
    assert 0 < found[0] < 300
    assert _filled(0.95 * found[0], rim, sinks, standing.bay, film, 0.003)[1] < 300
    assert _filled(1.05 * found[0], rim, sinks, standing.bay, film, 0.003)[1] > 300
    rung = ponds_rung(inputs, found)
    assert rung is not None
    assert rung.at == pytest.approx(found / 9.80665 / inputs.density("wet"), rel=1e-9)
    assert ponds(replace(standing, ridge_strut=5.0), inputs, found, found) is None
    assert ponds_rung(inputs, None) is None


def as_ladder(standing, followed, inputs) -> Ladder:
    return Ladder((), (), (), followed, inputs)


def test_hours_that_an_edge_flogs(made):
    """Hung by its weight, 3.327 N/m over 0.4679 m of radius and 1.285: the wind that lifts it is
    passed in 8766 exp(-pi / 4 (v / 4)^2) hours where the mean is 0.1 of 40 m/s."""
    standing, followed = made
    site = replace(standing.site, gust=40.0, gust_years=50.0)
    hold = replace(standing.hold_down, rail="weight")
    hung = replace(standing, site=site, hold_down=hold)
    found = as_ladder(hung, followed, likely(hung, **{MEAN_WIND: 0.1}))
    at = flogs_from(found)
    slope = min(float(hung.hoop.curve.angle[0]), np.pi / 2)
    lifts = 3.327 / np.sin(slope) / (SPAN / 2) / CLOSED
    assert at == pytest.approx([gust_of(hung, lifts)], rel=1e-3)
    # The gust of 50 years over itself by its formula: 0.36 + 0.1 ln 600 = 0.99969.
    hours = 8766 * np.exp(-np.pi / 4 * (at / (4.0 / 0.99969)) ** 2)
    assert hours_flogged(found, None) == pytest.approx(hours, rel=1e-3)
    said = flogging(found, None)
    assert said is not None
    # 1 / (hours / 700 + 1 / 4 years) in weeks.
    weeks = round(52 / (float(hours[0]) / 700 + 0.25))
    assert f"{weeks} weeks on half" in fill(said.says, said.values, US)
    assert said.severity.word == "watch"


def test_a_tied_rail_flogs_once_it_bows(made):
    """0.03 of 0.8763 m at 0.8 of 40.39 N m2, turning 0.5: 384 x 32.31 x 0.02629 / (3 x 0.5897) =
    184.4 N/m, which is less than ties of 180 N each 0.8763 m hold: 205.4 N/m."""
    standing, followed = made
    found = as_ladder(
        standing, followed, likely(standing, **{RAIL_AGED: 0.8, TURNING: 0.5, BOWS: 0.03})
    )
    slope = min(float(standing.hoop.curve.angle[0]), np.pi / 2)
    lifts = (3.327 + 184.4) / np.sin(slope) / (SPAN / 2) / CLOSED
    assert flogs_from(found) == pytest.approx([gust_of(standing, lifts)], rel=1e-3)
    assert flogging(found, None) is None  # neither a gust nor a file
    calm = WindHours(np.full(8760, 2.0), np.zeros(8760))
    said = flogging(found, calm)
    assert said is not None
    assert said.severity.word == "fine"
    shut = replace(standing, cover=replace(standing.cover, edges=("batten", "bury")))
    assert flogs_from(as_ladder(shut, followed, likely(shut))) is None


def test_shares_of_life_add_up():
    """2000 h a year of 1000 h, and one year of four: 1 / 2.25."""
    assert lasts(np.array([2000.0]), np.array([1000.0]), np.array([4.0])) == pytest.approx(1 / 2.25)


@pytest.mark.parametrize(
    ("hours", "years", "told"),
    [(60.0, 0.2, "10 weeks"), (60.0, 1.0, "12 months"), (60.0, 3.0, "3 years")],
)
def test_a_life_is_told_in_its_unit(made, hours, years, told):
    """60 of a year's 8766 hours blow 60 m/s: 60 h / (60 h years) a year use all up in that time,
    beside a sun that would take a million years; 0.2 years are 10.4 weeks."""
    standing, followed = made
    given = {LASTS: 3600 * hours * years, SUN: 1e6}
    blown = WindHours(np.append(np.full(8706, 1.0), np.full(60, 60.0)), np.zeros(8766))
    said = flogging(as_ladder(standing, followed, likely(standing, **given)), blown)
    assert said is not None
    assert said.severity.word == "watch"
    words = fill(said.says, said.values, US)
    assert "flogs up to 60 h a year on nine beds in ten here, 60 h on half" in words
    assert f"lasts {told} on nine in ten, {told} on half, {told} on one" in words


@pytest.mark.parametrize(("hours", "severity"), [(49, "fine"), (50, "watch")])
def test_below_fifty_hours_no_life_is_told(made, hours, severity):
    standing, followed = made
    blown = WindHours(np.append(np.full(8766 - hours, 1.0), np.full(hours, 60.0)), np.zeros(8766))
    said = flogging(as_ladder(standing, followed, likely(standing)), blown)
    assert said is not None
    assert said.severity.word == severity
    assert ("fewer than 50 h a year" in fill(said.says, said.values, US)) == (severity == "fine")


def test_of_drawn_beds_the_shortest_life_is_told_first(made):
    """One, five and nine beds of ten, each its own hours and its own life, by NumPy's quantiles."""
    standing, followed = made
    site = replace(standing.site, gust=50.0, gust_years=50.0)
    hung = replace(standing, site=site, hold_down=replace(standing.hold_down, rail="weight"))
    found = as_ladder(hung, followed, Inputs(hung))
    said = flogging(found, None)
    assert said is not None
    hours, draws = hours_flogged(found, None), found.inputs.draws
    wear = draws.made[LASTS, draws.used[LASTS]] / 3600
    sun = draws.made[SUN, draws.used[SUN]]
    low, half, high = np.quantile(1 / (hours / wear + 1 / sun), (0.1, 0.5, 0.9))
    assert low < half < high
    told = [str(said.values[name]).split() for name in ("low", "half", "high")]
    in_years = [float(n) / {"weeks": 52, "months": 12, "years": 1}[unit] for n, unit in told]
    assert in_years == pytest.approx([low, half, high], rel=0.1)
    # The hours of the careful end come first, and judge: nine beds in ten have fewer.
    for name, share in (("hours", 0.9), ("often", 0.5)):
        assert said.values[name] == pytest.approx(3600 * np.quantile(hours, share), rel=0.02)
    assert said.says.index("{hours:hours}") < said.says.index("{often:hours}")
    assert said.demand == said.values["hours"]
    # A place where half of the beds flog less than fifty hours and one in ten more is watched.
    calm = replace(hung, site=replace(site, gust=15.0))
    here = as_ladder(calm, followed, Inputs(calm))
    often, most = np.quantile(hours_flogged(here, None), (0.5, 0.9))
    assert often < 50 < most
    judged = flogging(here, None)
    assert judged is not None
    assert judged.severity.word == "watch"
