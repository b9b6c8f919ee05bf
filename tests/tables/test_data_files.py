"""Every data file that ships: its header, its sources, and numbers that agree with each other."""

import csv
import math
import re
from importlib import resources

import pytest

from hoopwright.tables.catalogue import TABLES, Catalogue
from hoopwright.tables.reader import OPENED, SURENESS, parse_heading

DATA = resources.files("hoopwright.tables").joinpath("data")
FILES = sorted(entry.name for entry in DATA.iterdir() if entry.name.endswith(".csv"))
CATALOGUE = Catalogue()


@pytest.mark.parametrize("name", FILES)
def test_header_form_and_a_source_on_each_row(name: str) -> None:
    table = list(csv.DictReader(DATA.joinpath(name).read_text(encoding="utf-8").splitlines()))

    assert table
    for heading in table[0]:
        parse_heading(heading, name)
    for line, row in enumerate(table, 2):
        assert row.get("source"), f"{name} line {line} has no source"
        assert row["source"].strip().lower() not in ("todo", "tbd", "unknown"), (name, line)


@pytest.mark.parametrize("table", TABLES)
def test_each_table_reads_and_each_value_is_plausible(table: str) -> None:
    """The reader refuses what lies outside the range its column declares."""
    records = CATALOGUE.everything_in(table)

    assert records
    for record in records:
        assert getattr(record, "sure", "memory") in SURENESS


@pytest.mark.parametrize("name", FILES)
def test_a_row_called_read_rests_on_nothing_weaker(name: str) -> None:
    """A row is as sure as the weakest of its numbers, and its source says what was opened."""
    for row in csv.DictReader(DATA.joinpath(name).read_text("utf-8").splitlines()):
        source, sure = row["source"], row.get("sure")
        if sure in OPENED:
            assert "from memory" not in source, (name, source)
            assert "assumption" not in source, (name, source)
        if sure == "read":
            assert re.search(r"\bread\b", source), (name, source)
        if source.startswith("assumption"):
            assert sure == "assumption", (name, source)


def test_no_row_points_at_our_working_notes() -> None:
    for name in FILES:
        content = DATA.joinpath(name).read_text(encoding="utf-8")
        assert "STRUCTURES" not in content
        assert "CLIMATE.md" not in content
        assert "/work" not in content


@pytest.mark.parametrize("pipe", CATALOGUE.pipes.values(), ids=lambda pipe: pipe.key)
def test_pipe_weight_agrees_with_its_section_and_density(pipe) -> None:
    """Sizes, weight and density come from different sheets, so they check each other.

    The least wall is the thinnest allowed, so the printed weight lies above by up to the wall
    tolerance. 4.5 % is left for EMT weights, which are with couplings (ANSI C80.3), and for PEX
    weights, which their sheet calls approximate (measured: 2.6 and 3.2 % above the thickest wall).
    """
    least = math.pi / 4 * (pipe.outside_diameter**2 - pipe.bore**2) * pipe.stuff.density.low
    thickest = pipe.wall + pipe.wall_tolerance
    bore = 0.0 if pipe.is_solid else pipe.outside_diameter - 2 * thickest
    most = math.pi / 4 * (pipe.outside_diameter**2 - bore**2) * pipe.stuff.density.high

    assert 0.955 * least <= pipe.mass_per_length <= 1.045 * most
    if not pipe.is_solid:
        assert pipe.least_inside_diameter <= pipe.inside_diameter <= pipe.bore + 1e-9


@pytest.mark.parametrize("stuff", CATALOGUE.pipe_materials.values(), ids=lambda stuff: stuff.key)
def test_pipe_limits_stand_in_order(stuff) -> None:
    assert stuff.strain_watch.likely <= stuff.strain_limit.likely
    assert stuff.strain_limit_cold.likely <= stuff.strain_limit.likely
    assert stuff.coldest_bending.likely <= stuff.cold_temperature.likely + 1e-9
    for temperature, end in (
        (23, "strain_limit"),
        (40, "strain_limit"),
        (-40, "strain_limit_cold"),
    ):
        spread, figure = stuff.strain_limit_at(temperature), getattr(stuff, end)
        assert (spread.low, spread.likely, spread.high) == pytest.approx(
            (figure.low, figure.likely, figure.high)
        )
    limits = [stuff.strain_limit_at(temperature).likely for temperature in range(-30, 40)]
    assert limits == sorted(limits)
    between = (stuff.strain_limit.likely + stuff.strain_limit_cold.likely) / 2
    warm_enough = stuff.warm_enough_for(between)
    assert stuff.strain_limit_at(warm_enough).likely >= between - 1e-12
    assert stuff.warm_enough_for(stuff.strain_limit.likely * 1.001) is None
    if stuff.bend_radius_ratio is not None:
        # a bend to R = n OD strains the outer fibre by 1 / 2n
        assert stuff.strain_limit.likely == pytest.approx(0.5 / stuff.bend_radius_ratio.likely)


def test_a_benders_radius_is_inside_the_strain_limit() -> None:
    for pipe in CATALOGUE.pipes.values():
        if pipe.least_bend_radius is not None:
            strain = pipe.fibre_strain(pipe.least_bend_radius)
            assert strain <= pipe.stuff.strain_limit.likely + 1e-12, pipe.key


@pytest.mark.parametrize("optics", CATALOGUE.cover_optics.values(), ids=lambda item: item.key)
def test_radiation_through_a_cover_adds_up_to_no_more_than_all(optics) -> None:
    assert optics.solar_normal.likely + optics.solar_reflectance.likely <= 1
    assert optics.solar_diffuse.likely <= optics.solar_normal.likely
    for wet in ("dry", "wet"):
        through = getattr(optics, f"longwave_{wet}").likely
        assert through + getattr(optics, f"emissivity_{wet}").likely <= 1
    assert optics.longwave_wet.likely <= optics.longwave_dry.likely
    assert optics.emissivity_wet.likely >= optics.emissivity_dry.likely


@pytest.mark.parametrize("key", ["pe-3mil", "pe-4mil", "pe-6mil"])
def test_film_strip_strength_is_stress_times_thickness(key: str) -> None:
    strength = CATALOGUE.cover_strengths[key]
    film = CATALOGUE.cover("film-" + key.removeprefix("pe-"))

    assert film.thickness is not None
    assert strength.break_stress is not None
    for part in ("likely", "low", "high"):
        stress = getattr(strength.break_stress, part)
        assert getattr(strength.break_force, part) == pytest.approx(
            stress * film.thickness, rel=2e-3
        )


def test_film_weight_is_thickness_times_density_of_polyethylene() -> None:
    """0.92 g/cm3, low-density polyethylene; the table says so in its source column."""
    for cover in CATALOGUE.covers.values():
        if cover.kind == "film" and cover.optics_family != "pe-woven":
            assert cover.mass_per_area == pytest.approx(cover.thickness * 920, rel=5e-3), cover.key


def test_hardware_cloth_weight_and_open_share_follow_from_its_wire() -> None:
    """Wire gauge and pitch give weight and open share; welded square mesh, steel 7850 kg/m3."""
    for key, wire, pitch in (
        ("hardware-cloth-1/4", 0.025 * 0.0254, 0.25 * 0.0254),
        ("hardware-cloth-1/2", 0.041 * 0.0254, 0.5 * 0.0254),
    ):
        cover = CATALOGUE.cover(key)
        assert cover.mass_per_area == pytest.approx(
            2 / pitch * math.pi / 4 * wire**2 * 7850, rel=0.02
        )
        assert cover.opening == pytest.approx(pitch - wire, rel=1e-6)
        open_share = (1 - wire / pitch) ** 2
        porosity = cover.optics.porosity
        assert porosity.low <= open_share + 0.005
        assert open_share <= porosity.high


def test_rolls_and_prices_name_things_there_are() -> None:
    assert {roll.cover for roll in CATALOGUE.rolls} == set(CATALOGUE.covers)
    named = {price.thing for price in CATALOGUE.prices}
    sold = {
        item.key
        for table in (
            "pipe",
            "lumber",
            "batten",
            "cover",
            "strap",
            "screw",
            "clip",
            "rail_clip",
            "stake",
            "rail",
            "cord",
        )
        for item in CATALOGUE.everything_in(table)
    }
    assert named == sold


def test_every_form_sold_has_a_price_and_every_price_a_form() -> None:
    for table in ("pipe", "lumber", "batten", "stake", "rail"):
        for item in CATALOGUE.everything_in(table):
            lengths = {
                round(price.length, 4)
                for price in CATALOGUE.prices_of(item.key)
                if price.sold_as == "stick"
            }
            assert lengths == {round(length, 4) for length in item.stock_lengths}, item.key
    for cover in CATALOGUE.covers.values():
        priced = {(price.width, price.length) for price in CATALOGUE.prices_of(cover.key)}
        assert priced == {(roll.width, roll.length) for roll in cover.rolls}, cover.key
    for screw in CATALOGUE.screws.values():
        packs = {price.count for price in CATALOGUE.prices_of(screw.key)}
        assert packs == set(screw.packs), screw.key


def test_shipped_prices_are_marked_as_invented_examples() -> None:
    for price in CATALOGUE.prices:
        assert price.example == "yes"
        assert "invented" in price.source
        assert price.date == "2026-11"


def test_more_of_a_thing_costs_more_in_the_example_list() -> None:
    for thing in {price.thing for price in CATALOGUE.prices}:
        sticks = [price for price in CATALOGUE.prices_of(thing) if price.sold_as == "stick"]
        assert [price.price for price in sticks] == sorted(price.price for price in sticks), thing


def test_roll_widths_of_the_usual_film_hold_what_the_work_needs() -> None:
    """8 ft and 10 ft film must both be on sale, so that the choice between them is a real one."""
    widths = {round(roll.width / 0.3048) for roll in CATALOGUE.cover("film-6mil-uv4").rolls}
    assert {6, 8, 10, 12, 16, 20, 24} <= widths
