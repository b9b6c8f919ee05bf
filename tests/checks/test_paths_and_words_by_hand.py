"""Values between the points of a path, strain in a gust, and the numbers that findings name."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from test_end_hoops_by_hand import inputs_of

from hoopwright.answers.why_words import why_words
from hoopwright.beam.out_of_plane import CROWN, gauss_shares
from hoopwright.checks.end_hoop import EndHoops, EndSheets, ridge_bears
from hoopwright.checks.finding import Severity
from hoopwright.checks.hoop_in_wind import GUST_DAY, strain_in_a_gust
from hoopwright.checks.judged import brush_at, wind_finding
from hoopwright.checks.read_off import BETWEEN, met_by, refined, rising
from hoopwright.checks.side_boards import side_boards
from hoopwright.design import design_of
from hoopwright.plan import read_plan_text

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'


@pytest.fixture(scope="module")
def usual():
    return design_of(read_plan_text(BED))


def test_between_the_points_of_a_path():
    """A cubic through values and slopes (Hermite): 5, 7, 9 stays a straight line to its end, past
    which nothing is known. Of squares the slopes inside are exact, 2 n, so every value between 1
    and 16 is; at the first point the slope is 1, at the last 9: half way through the last step (16
    + 25) / 2 + (8 - 9) / 8, through the first 1 / 2 + (1 - 2) / 8."""
    held = np.full((2, 6), np.nan)
    held[0, :3], held[1] = [5.0, 7.0, 9.0], np.arange(6.0) ** 2
    line, square = refined(held)
    steps = np.arange(line.size) / BETWEEN
    assert line[: 2 * BETWEEN + 1] == pytest.approx(5 + 2 * steps[: 2 * BETWEEN + 1])
    assert np.isnan(line[2 * BETWEEN + 1 :]).all()
    inside = slice(BETWEEN, 4 * BETWEEN + 1)
    assert square[inside] == pytest.approx(steps[inside] ** 2)
    half = BETWEEN // 2
    assert square[half] == pytest.approx(0.5 - 0.125)
    assert square[4 * BETWEEN + half] == pytest.approx(20.5 - 0.125)
    assert square[5 * BETWEEN] == 25.0


def test_where_a_value_first_comes_to_its_limit():
    """Loads 0, 1, 2, 3 bring 0, 4, 2, 6: a limit of 2 is met at 0.5, 4 at 1, 5 past the dip at 2.5;
    6.5 never, nor any limit where nothing is known."""
    load, value = np.array([0.0, 1, 2, 3, np.nan]), np.array([0.0, 4, 2, 6, np.nan])
    found = met_by(np.array([2.0, 4.0, 5.0, 6.5]))(rising(load, value))
    # Between the heights 4 and 6 the dip counts for nothing: 5 is half way from load 1 to load 3.
    assert found.tolist() == [0.5, 1.0, 2.0, np.inf]
    assert np.isinf(met_by(np.array([1.0]))(rising(load, value + np.nan))).all()


@pytest.mark.parametrize(
    ("day", "bears"), [(0.0, 0.0135), (0.5, 0.01875), (1.0, 0.024), (1.5, 0.024)]
)
def test_strain_in_a_gust_between_frost_and_the_warm(usual, day, bears):
    """0.018 at 0 degC and 0.032 at 23, 0.75 of both in an old pipe; half way 0.025 x 0.75."""
    inputs = inputs_of(usual.standing, **{GUST_DAY: day})
    assert strain_in_a_gust(usual.standing, inputs) == pytest.approx(bears)


def test_the_wind_finding_names_the_careful_figures(usual):
    """Of each headline the first figure is what nine beds in ten stand, the second half of them."""
    ladder = usual.ladder
    found = wind_finding(ladder, usual.standing)
    careful, middle, _ = ladder.opens.told
    assert careful < middle
    assert ladder.lost.told[0] < ladder.lost.told[1]
    apart = ladder.lost.told[0] > 1.02 * careful
    assert found.values["lost"] == ladder.lost.told[0]
    assert found.values["careful"] == (careful if apart else ladder.lost.told[0])
    firsts = (ladder.opens if apart else ladder.lost).first
    assert [share for _, share in firsts] == sorted((s for _, s in firsts), reverse=True)
    assert found.says.endswith(firsts[0][0].happens)
    assert brush_at(ladder) == pytest.approx(ladder.wet_snow.careful / 2)
    for gust, severity in ((careful * 0.99, Severity.FINE), (1.01 * middle, Severity.CHANGE)):
        site = replace(usual.standing.site, gust=gust if apart else None)
        judged = wind_finding(ladder, replace(usual.standing, site=site)).severity
        assert judged is (severity if apart else Severity.WATCH)


@pytest.mark.parametrize(("share", "words"), [(0.028, "bulge about"), (0.032, "will not hold")])
def test_side_boards_that_fail(usual, share, words):
    """The bulge goes as one over the modulus: boards as soft as bulges 3 % of the span and more are
    past what the beam formula says (the bound is ours)."""
    standing = usual.standing
    found = side_boards(standing)
    soft = found.values["bulge"] / (share * found.values["span"])
    species = replace(standing.bed.species, modulus=standing.bed.species.modulus * soft)
    changed = side_boards(replace(standing, bed=replace(standing.bed, species=species)))
    assert changed.values["bulge"] == pytest.approx(share * found.values["span"])
    assert words in changed.says


def test_firm_end_sheets_keep_a_ridge_from_leaning_its_way():
    """What pushes both ends the same way, w p, is borne by the ridge's other hoops and, where the
    end sheets are firm, by them: the crown then feels nothing of it. Feet: the film's part, w p L
    and, backwards, w p e / c beside what the ridge pushes (e, c the crown's answer to an even
    newton a metre and to one at it)."""
    text = BED + '[hoops]\nridge = "pipe"\n'
    standing = design_of(read_plan_text(text)).standing
    shape = np.ones(gauss_shares()[0].size)
    ends, push = EndHoops(standing, shape[None]), 0.05
    (drawn,) = ends.drawn(0, 1e9, (1.0,), EndSheets(push, push), 0.0)
    (stay_free,) = ends.drawn(0, 1e9, (1.0,), EndSheets(push, push), None)
    crown, length = ends.aside.lean[:, CROWN], standing.hoop.curve.length
    others = 1 - 2 * standing.hoops_an_end / len(standing.hoops)
    for found, share in ((drawn, 1.0), (stay_free, others)):
        firm = (found.strut > 0.0) & (found.strut < 0.999 * ridge_bears(standing))
        at = np.flatnonzero(firm)[5:]
        assert at.size > 10
        even = push * found.pressure[at]
        back = found.strut[at] + even * crown[-2] / crown[-1] * share
        net = (2 * standing.hoops_an_end * found.foot_force[at] + back - even * length) / length
        # Short of its bow the ridge keeps the crown: the film's net pull is what it pushes back.
        assert net * crown[0] == pytest.approx(found.strut[at] * crown[-1], rel=0.02)


def test_the_share_of_its_wind_that_a_rung_uses(usual):
    """Loads go with the square of the gust: at the gust that one bed in ten does not stand, c, that
    bed uses all it bears and half of the beds no more than (c / m)^2, m what half stand. Where the
    rail bows between its ties no force is known by name. The most is said first."""
    rung = next(one for one in usual.ladder.wind if one.name == "rail-bows")
    careful, half = np.sort(rung.at)[[int(0.1 * rung.at.size), int(0.5 * rung.at.size)]]
    told = dict(why_words(usual, "rail-bows").told)
    (words,) = (told[what] for what in told if what.startswith("Rail bows, at "))
    share = round(100 * (careful / half) ** 2)
    assert 5 < share < 95
    assert words == f"up to 100 % of the wind they bear on nine beds in ten, {share} % on half"
