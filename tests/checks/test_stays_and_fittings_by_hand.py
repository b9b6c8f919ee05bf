"""End sheets that stay their hoops, a formed arch's frame, a fabric's stiffness, corner screws."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hoopwright.beam.out_of_plane import CROWN, gauss_shares
from hoopwright.checks.drawn_ends import drawn_ends
from hoopwright.checks.end_hoop import EndHoops, EndSheets, _EndRow
from hoopwright.checks.end_sheet import Stay
from hoopwright.checks.film import film_stiffness
from hoopwright.checks.fitting import Chosen, fit_all
from hoopwright.checks.followed_hoop import _frame_of, follow_hoop
from hoopwright.design import design_of
from hoopwright.plan import read_plan_text
from hoopwright.tables.catalogue import Catalogue

BED = '[bed]\nlength = "{} ft"\nwidth = "{} ft"\n'


def standing_of(length: float = 12, width: float = 3, more: str = ""):
    return design_of(read_plan_text(BED.format(length, width) + more)).standing


@pytest.fixture(scope="module")
def standing():
    return standing_of()


@pytest.mark.parametrize(("length", "width", "lee"), [(8, 4, 0.3), (12, 3, 0.2), (4, 4, 0.5)])
def test_the_wind_on_the_end_sheets(length, width, lee, monkeypatch):
    """ASCE 7-16 figure 27.3-1: +0.8 on the windward wall and, on the lee one of a bed twice as long
    as wide, -0.3; -0.2 from four times; -0.5 of a square one: times the gust factor 0.85, less 0.18
    inside: 0.5, and for the second -0.435. On the area of the end, spread round its edge of arc and
    span, for each pascal on the film where it is hardest."""
    standing, seen = standing_of(length, width), []
    really = EndHoops.drawn_each

    def noted(self, film, pulls):
        seen.extend((pull.case, pull.sheets) for pull in pulls)
        return really(self, film, pulls)

    monkeypatch.setattr(EndHoops, "drawn_each", noted)
    found = drawn_ends(standing, follow_hoop(standing))
    along, sheets = next((case, sheets) for case, sheets in seen if sheets != EndSheets())
    hardest = found.wind[along].outside + 0.18
    curve, hoop = standing.hoop.curve, standing.hoop
    area = np.trapezoid(curve.y + hoop.hold_height - hoop.leg.board_top, curve.x)
    over_edge = area / (curve.length + curve.span) / hardest
    assert sheets.windward == pytest.approx((0.85 * 0.8 - 0.18) * over_edge, rel=1e-3)
    assert sheets.lee == pytest.approx((0.85 * lee + 0.18) * over_edge, rel=1e-3)


def arch() -> np.ndarray:
    """A pull that rises as the sine of the arc: its mean is 2 / pi of its greatest."""
    return np.sin(np.pi * gauss_shares()[0])


def test_a_stay_takes_its_force_from_the_films_pull(standing):
    """What the sheet holds, film x held, comes off the pull of the whole arc: stayed x length x 2 /
    pi; and the end leans by what is left of the pull, at its compliance in the mean."""
    ends, film = EndHoops(standing, arch()[None]), film_stiffness(standing)
    stay = Stay(np.linspace(0.0, 1.0, 11), np.full(11, 0.01), np.zeros(11))
    found = ends._balance([_EndRow(0, film, 1.0, EndSheets(), stay)], None)
    assert found.lean.size > 10
    force = film * 0.01 * found.lean
    assert found.stayed * standing.hoop.curve.length * 2 / np.pi == pytest.approx(force, rel=5e-3)
    shares = np.linspace(0.0, 1.0, 20001)
    pulled = np.interp(shares, gauss_shares()[0], arch())
    lean = ends.aside.lean[0]
    mean = np.trapezoid(np.interp(shares, gauss_shares()[0], lean[: arch().size]) * pulled, shares)
    give = mean / np.trapezoid(pulled, shares)
    assert found.lean == pytest.approx(give * (found.pull - found.stayed), rel=0.01)


def test_hoops_on_a_ridge_stayed_together(standing):
    """A stay that holds nothing leaves the crowns where they were, the mean of the hoops at its
    share of them. One of k N/m, constant, of film 1: the crowns come by c n/N x 2 k x mean x (mean
    over crown) less, c the crown's compliance, n of N hoops an end."""
    ends = EndHoops(standing, arch()[None])
    lean = np.array([0.01, 0.05, 0.1])
    steps = np.linspace(0.0, 1.0, 101)
    crown, at = ends._together(0, lean, Stay(steps, 0 * steps, 0 * steps), 1.0)
    shares = np.linspace(0.0, 1.0, 20001)
    field = np.interp(shares, gauss_shares()[0], arch())
    curve = np.interp(shares, gauss_shares()[0], ends.aside.lean[0][: arch().size])
    mean = np.trapezoid(curve * field, shares) / np.trapezoid(field, shares)
    ratio = mean / ends.aside.lean[0, CROWN]
    assert crown == pytest.approx(lean)
    assert at == pytest.approx(lean * ratio, rel=0.01)
    firm = 30.0
    stayed, _ = ends._together(0, lean, Stay(steps, firm + 0 * steps, 0 * steps), 1.0)
    soft = ends.aside.lean[-1, CROWN] * standing.hoops_an_end / len(standing.hoops)
    assert stayed == pytest.approx(lean / (1 + soft * 2 * firm * ratio**2), rel=0.02)


def test_a_formed_arch_stands_on_its_own_feet():
    """A conduit longer than a metre: its frame runs from foot to foot over the span, as high as the
    curve, and its points lie on it."""
    standing = standing_of(more='[hoops]\npipe = "emt-1/2"\n')
    frame, curve = _frame_of(standing), standing.hoop.curve
    assert curve.length > 1.5
    assert (frame.chord_x, frame.chord_y) == pytest.approx((curve.span, 0.0), abs=2e-3)
    high = np.interp(frame.arc, curve.arc, curve.y)
    assert frame.y - frame.y[0] == pytest.approx(high - high[0], abs=3e-3)


@pytest.mark.parametrize(("modulus", "thickness"), [(None, 0.0005), (200e6, None), (None, None)])
def test_a_cover_without_modulus_or_thickness_goes_by_its_breaking(standing, modulus, thickness):
    """Break force over break strain, where one of the two that make E t is not known."""
    material = standing.cover.material
    fabric = design_of(
        read_plan_text(BED.format(12, 3) + '[cover]\nmaterial = "fabric-1.5"\n')
    ).cover.material.strength
    known = material.strength.modulus
    strength = replace(fabric, modulus=None if modulus is None else known)
    other = replace(material, strength=strength, thickness=thickness)
    changed = replace(standing, cover=replace(standing.cover, material=other))
    by_hand = fabric.break_force.likely / fabric.break_strain.likely
    assert film_stiffness(changed) == pytest.approx(by_hand)
    whole = replace(other, strength=replace(strength, modulus=known), thickness=0.00015)
    of_film = replace(standing, cover=replace(standing.cover, material=whole))
    assert film_stiffness(of_film) == pytest.approx(known.likely * 0.00015)


def test_corner_screws_bite_an_inch_past_the_board():
    """Of No. 10 and No. 8 flat-head outdoor screws: the stoutest that is a board and 25.4 mm long;
    none where every screw is shorter."""
    design, catalogue = design_of(read_plan_text(BED.format(12, 3))), Catalogue()
    bed, hoop = design.bed, design.hoop
    flat = [s for s in catalogue.screws.values() if s.outdoors == "yes" and s.head == "flat"]
    longest = max(screw.length for screw in flat)
    assert longest < 0.16
    for thickness, found in ((longest - 0.0254, True), (longest - 0.0250, False)):
        board = replace(bed.board, thickness=thickness)
        screw = fit_all(hoop.pipe, board, design.cover.batten, Chosen(), catalogue).board_screw
        assert (screw is not None) is found
    usual = fit_all(hoop.pipe, bed.board, design.cover.batten, Chosen(), catalogue).board_screw
    assert usual is not None
    assert usual.length >= bed.board.thickness + 0.0254
    stout = [s.size.diameter for s in flat if s.length >= bed.board.thickness + 0.0254]
    assert usual.size.diameter == max(stout)
