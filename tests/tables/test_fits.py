"""What fits what, against common practice and the sizes themselves."""

import itertools

import pytest

from hoopwright.tables import fits
from hoopwright.tables.catalogue import Catalogue

CATALOGUE = Catalogue()
STRAPS = tuple(CATALOGUE.straps.values())
CLIPS = tuple(CATALOGUE.clips.values())
STAKES = tuple(CATALOGUE.stakes.values())
SCREWS = tuple(CATALOGUE.screws.values())
INCH = 0.0254


@pytest.mark.parametrize(
    ("pipe", "strap", "clip", "rod"),
    [
        # common practice, no source: #3 bar in 1/2 in pipe, #4 in 3/4 in; straps by outside size
        ("pvc40-1/2", "strap-ips-1/2", "clip-tube-3/4", "rebar-3"),
        ("pvc40-3/4", "strap-ips-3/4", "clip-tube-1", "rebar-4"),
        ("pvc80-3/4", "strap-ips-3/4", "clip-tube-1", "rebar-4"),
        ("pex-3/4", "strap-cts-3/4", "clip-tube-3/4", "rebar-3"),
        ("emt-3/4", "strap-emt-3/4", "clip-tube-3/4", None),
    ],
)
def test_usual_pairs(pipe: str, strap: str, clip: str, rod: str | None) -> None:
    found = CATALOGUE.pipe(pipe)

    assert fits.strap_for(found, STRAPS).item.key == strap
    assert fits.clip_for(found, CLIPS).item.key == clip
    if rod is not None:
        assert fits.sleeve_rod_for(found, STAKES).item.key == rod


def test_a_strap_of_the_same_name_for_another_tube_does_not_fit() -> None:
    """1/2 in EMT is 0.706 in outside, 1/2 in PVC 0.840 in: the same name, another strap."""
    pipe = CATALOGUE.pipe("pvc40-1/2")

    assert not fits.strap_fits(CATALOGUE.strap("strap-emt-1/2"), pipe)
    assert not fits.strap_fits(CATALOGUE.strap("strap-cts-1/2"), pipe)
    assert fits.strap_fits(CATALOGUE.strap("strap-ips-1/2"), pipe)


def test_every_hoop_tube_has_a_strap_and_no_strap_grips_two_sizes() -> None:
    for pipe in CATALOGUE.pipes.values():
        assert fits.strap_for(pipe, STRAPS).item is not None, pipe.key
    sizes = sorted({pipe.outside_diameter for pipe in CATALOGUE.pipes.values()})
    for one, other in itertools.pairwise(size for size in sizes if size > 6e-3):
        for strap in STRAPS:
            gripped = [
                strap.least_outside_diameter <= size <= strap.greatest_outside_diameter
                for size in (one, other)
            ]
            assert not all(gripped), strap.key


def test_what_is_missing_is_named_by_size() -> None:
    pipe = CATALOGUE.pipe("pvc40-3/4")

    assert "1.05 in" in fits.strap_for(pipe, []).need
    assert "1.05 in" in fits.clip_for(pipe, []).need
    assert "0.78 in" in fits.sleeve_rod_for(pipe, []).need
    assert "no sleeve" in fits.sleeve_rod_for(CATALOGUE.pipe("fibreglass-1/2"), STAKES).need


@pytest.mark.parametrize("pipe", CATALOGUE.pipes.values(), ids=lambda pipe: pipe.key)
def test_whatever_is_chosen_truly_fits(pipe) -> None:
    for rod in (
        fits.sleeve_rod_for(pipe, STAKES).item,
        fits.sleeve_rod_for(pipe, STAKES, "tube").item,
    ):
        if rod is not None:
            assert rod.size < pipe.least_inside_diameter
    clip = fits.clip_for(pipe, CLIPS).item
    if clip is not None:
        # a slit tube of larger bore than the pipe holds nothing
        assert clip.inside_diameter <= pipe.outside_diameter + 1e-9
    snap = fits.clip_for(pipe, CLIPS, "snap").item
    if snap is not None:
        assert snap.inside_diameter == pytest.approx(pipe.outside_diameter)


def test_a_bar_too_thick_for_the_narrowest_pipe_is_refused() -> None:
    half = CATALOGUE.pipe("pvc40-1/2")

    assert not fits.sleeve_rod_fits(CATALOGUE.stake("rebar-4"), half)
    assert fits.sleeve_clearance(CATALOGUE.stake("rebar-3"), half) == pytest.approx(
        (0.578 - 0.438) * INCH
    )
    assert not fits.sleeve_rod_fits(CATALOGUE.stake("stake-wood-2x2"), half)


def test_batten_screws_are_the_1_1_2_to_1_5_8_in_of_common_practice() -> None:
    """Common practice, no source: 1 1/2 to 1 5/8 in screws through a furring strip on a 2x."""
    fit = fits.batten_screw_for(CATALOGUE.batten("batten-1x2"), CATALOGUE.board("2x12"), SCREWS)

    assert fit.item.length == pytest.approx(1.5 * INCH)
    assert fit.others[0].length == pytest.approx(1.625 * INCH)
    assert fit.item.outdoors == "yes"


def test_strap_screw_stays_inside_a_2x_board_and_bites_six_diameters() -> None:
    strap, board = CATALOGUE.strap("strap-ips-3/4"), CATALOGUE.board("2x12")
    screw = fits.strap_screw_for(strap, board, SCREWS).item

    assert screw.key == "screw-10x1-1/4"
    assert fits.strap_screw_bite(strap, screw) < board.thickness
    assert fits.strap_screw_bite(strap, screw) >= 6 * screw.size.diameter


def test_drywall_screws_are_never_chosen() -> None:
    drywall = [screw for screw in SCREWS if "drywall" in screw.key]
    assert drywall
    for batten in CATALOGUE.battens.values():
        fit = fits.batten_screw_for(batten, CATALOGUE.board("2x12"), drywall)
        assert fit.item is None
        assert "outdoor screw" in fit.need


def test_a_thin_board_and_a_staple_say_so() -> None:
    thin = fits.batten_screw_for(CATALOGUE.batten("batten-1x2"), CATALOGUE.board("1x6"), SCREWS)
    assert "too thin" in thin.need
    staple = fits.strap_screw_for(CATALOGUE.strap("staple-fence"), CATALOGUE.board("2x12"), SCREWS)
    assert "hammer" in staple.need
