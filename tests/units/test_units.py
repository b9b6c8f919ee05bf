"""Reading and showing quantities; factors against a general-purpose unit library (pint)."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hoopwright import units


@pytest.fixture(scope="module")
def pint():
    """The library's units, read when first asked for: they take a second."""
    import pint

    return pint.UnitRegistry()


@pytest.mark.parametrize(
    ("text", "metres"),
    [
        ("12 ft", 3.6576),
        ("11 1/4 in", 0.28575),
        ("3' 6\"", 1.0668),
        ("3 ft 6 in", 1.0668),
        ("3′ 6 ½″", 1.0795),
        ("0.9 m", 0.9),
        ("1220 mm", 1.22),
        ("6 mil", 0.0001524),
        ('48 1/16"', 1.2207875),
        ("1/2 in", 0.0127),
        ("-2 in", -0.0508),
        ("4ft", 1.2192),
        ("2-1/2 in", 0.0635),
    ],
)
def test_lengths_as_people_write_them(text, metres):
    assert units.read(text, "length") == pytest.approx(metres, abs=1e-12)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("40 F", "temperature", 40 / 9),
        ("-5 °C", "temperature", -5.0),
        ("90 mph", "speed", 40.2336),
        ("44.2 N", "latitude", 44.2),
        ("36.8 S", "latitude", -36.8),
        ("108.9 W", "longitude", -108.9),
        ("20 psf", "pressure", 957.605),
        ("40 lb", "force", 177.929),
        ("0.9 oz/yd2", "area weight", 0.030515),
        ("3 F", "temperature difference", 5 / 3),
        ("20 %", "share", 0.2),
    ],
)
def test_other_kinds(text, kind, value):
    assert units.read(text, kind) == pytest.approx(value, rel=1e-5)


@pytest.mark.parametrize(
    "text",
    [
        12,
        12.0,
        "12",
        "1 1/2",
        "",
        " ",
        "twelve ft",
        "12 parsec",
        "1/0 in",
        "12 ft 3 ft",
        "6 in 3 ft",
    ]
    + [
        "12 m 3 in",
        True,
        None,
        [],
        "ft",
        "1..2 ft",
        "12 ft x",
        "9" * 400 + " ft",
        "nan ft",
        "1e3 ft",
    ],
)
def test_refused_with_accepted_forms(text):
    with pytest.raises(units.UnitError, match="write it like '12 ft'"):
        units.read(text, "length")


@pytest.mark.parametrize(
    ("ours", "theirs"),
    [
        ("in", "inch"), ("ft", "foot"), ("yd", "yard"), ("mil", "thou"), ("lb", "pound"),
        ("oz", "ounce"), ("lb/ft", "pound/foot"), ("oz/yd2", "ounce/yard**2"), ("psi", "psi"),
        ("ksi", "ksi"), ("psf", "force_pound/foot**2"), ("lbf", "force_pound"),
        ("lbf in", "force_pound*inch"), ("pcf", "pound/foot**3"), ("mph", "mile/hour"),
        ("kn", "knot"), ("gal", "gallon"), ("ft lbf", "foot*force_pound"), ("in4", "inch**4"),
        ("g/cm3", "gram/centimeter**3"), ("km/h", "kilometer/hour"), ("kgf", "kilogram_force"),
    ],
)  # fmt: skip
def test_factors_agree_with_pint(pint, ours, theirs):
    """pint, a general-purpose unit library, 1e-9 relative."""
    expected = pint.Quantity(1.0, theirs).to_base_units().magnitude
    assert units.to_si(1.0, ours) == pytest.approx(expected, rel=1e-9)


def test_fahrenheit_agrees_with_pint(pint):
    expected = pint.Quantity(68.0, "degF").to("degC").magnitude
    assert units.to_si(68.0, "degF") == pytest.approx(expected, abs=1e-9)


@pytest.mark.parametrize(
    ("value", "kind", "us", "metric"),
    [
        (0.9525, "length", "37 1/2 in", "952 mm"),
        (3.6576, "length", "12 ft", "3658 mm"),
        (3.8100, "length", "12 ft 6 in", "3810 mm"),
        (2.6289, "tape", "103 1/2 in", "2629 mm"),
        (0.0047625, "tape", "3/16 in", "5 mm"),
        (3.048, "size", "10 ft", "3.05 m"),
        (20.0, "speed", "45 mph", "72 km/h"),
        (177.9, "force", "40 lb", "180 N"),
        (0.0263, "strain", "2.6 %", "2.6 %"),
        (0.0001524, "thickness", "6.0 mil", "150 µm"),
        (-1.0, "temperature", "30 °F", "-1 °C"),
        (12.5, "money", "$12.50", "$12.50"),
        (-77.25, "money", "-$77.25", "-$77.25"),
        (math.inf, "speed", "no limit", "no limit"),
        (0.0, "force", "0 lb", "0 N"),
        (99.6 * 0.44704, "speed", "100 mph", "160 km/h"),
    ],
)
def test_shown(value, kind, us, metric):
    assert units.show(value, kind, units.US) == us
    assert units.show(value, kind, units.METRIC) == metric


@given(st.integers(min_value=1, max_value=16 * 12 * 60))
def test_every_sixteenth_survives_being_shown_and_read(sixteenths):
    metres = sixteenths * 0.0254 / 16
    for kind in ("length", "tape"):
        back = units.read(units.show(metres, kind, units.US), "length")
        assert back == pytest.approx(metres, abs=1e-9)


@given(st.integers(min_value=1, max_value=9999))
def test_every_millimetre_survives_being_shown_and_read(millimetres):
    metres = millimetres / 1000
    assert units.read(units.show(metres, "length", units.METRIC), "length") == pytest.approx(metres)


def test_fill_shows_quantities_and_text():
    text = "Hoops stand {spacing:length} apart on {side}."
    values = {"spacing": 0.8763, "side": "both sides"}
    assert units.fill(text, values, units.US) == "Hoops stand 34 1/2 in apart on both sides."
    assert units.fill(text, values, units.METRIC) == "Hoops stand 876 mm apart on both sides."


@pytest.mark.parametrize(
    ("value", "kind", "us", "metric"),
    [
        # Gusts of the American wind maps (ASCE 7-16 figures 26.5-1, from memory) must read back.
        (115 * 0.44704, "speed", "115 mph", "185 km/h"),
        (90 * 0.44704, "speed", "90 mph", "145 km/h"),
        (113 * 0.44704, "speed", "115 mph", "180 km/h"),
        (113 * 0.44704, "given speed", "113 mph", "182 km/h"),
        # Snow is not known to the tenth of a millimetre.
        (0.0091, "depth", "1/4 in", "1 cm"),
        (0.063, "depth", "2 1/2 in", "6 cm"),
        (0.334, "depth", "13 in", "35 cm"),
        (math.inf, "depth", "no limit", "no limit"),
        (math.inf, "speed", "no limit", "no limit"),
    ],
)
def test_gusts_and_snow_are_shown_as_far_as_they_are_known(value, kind, us, metric):
    assert units.show(value, kind, units.US) == us
    assert units.show(value, kind, units.METRIC) == metric


def test_speeds_and_volumes_by_their_definitions():
    """A knot is 1,852 m an hour, a gallon 231 cubic inches (NIST SP 811, from memory); 0.9 oz/yd2
    is 30.5 g/m2; 10 F more are 5.56 K more and not a temperature."""
    assert units.read("36 kn", "speed") == pytest.approx(18.52)
    assert units.read("1 gal", "volume") == pytest.approx(0.003785412, rel=1e-6)
    assert units.read("0.9 oz/yd2", "area weight") == pytest.approx(0.030515, rel=1e-4)
    assert units.read("10 F", "temperature difference") == pytest.approx(5.5556, rel=1e-4)
    assert units.read("109.6 W", "longitude") == -109.6


def test_handy_sizes_are_of_three_inches_or_fifty_millimetres():
    """20 in is nearest to 21, 19 to 18; 0.93 m to 0.95. A tape shows 3/8 of 0.36 in."""
    assert units.US.rounded_size(20 * 0.0254) / 0.0254 == pytest.approx(21.0)
    assert units.US.rounded_size(19 * 0.0254) / 0.0254 == pytest.approx(18.0)
    assert units.METRIC.rounded_size(0.93) == pytest.approx(0.95)
    assert units.US.on_tape(0.36 * 0.0254) / 0.0254 == pytest.approx(6 / 16)
    assert units.METRIC.on_tape(0.0104) == pytest.approx(0.010)
    assert units.show(5400.0, "hours", units.US) == "1.5 h"
