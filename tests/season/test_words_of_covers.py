"""What the season says of covers whose gains by night cannot be told apart."""

from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from hoopwright.answers.season_warmth import warmth
from hoopwright.answers.season_words import sowing
from hoopwright.design.season_climates import CoverClimate, with_trials
from hoopwright.heat.compare import NightGain, NightGains
from hoopwright.heat.covers import measured
from hoopwright.heat.uncertainty import Band
from hoopwright.tables.catalogue import Catalogue
from hoopwright.units import METRIC


def climate(name: str, band: Band | None, family: str = "") -> CoverClimate:
    trials = measured(family)
    return CoverClimate(
        name=name,
        gains=None,
        gain_band=band and with_trials(band, trials),
        trials=trials,
        hot=0.0,
        very_hot=0.0,
        degree_days=0.0,
        wet_leaf=0.0,
        water=0.0,
        light=(30.0, 10.0),
        lettuce=(1.0, 0.9),
        spans={0.0: 100.0},
        soil=np.full(12, 10.0 if band is None else 14.0),
    )


def said(*covers: CoverClimate):
    report = SimpleNamespace(covers=(climate("open bed", None), *covers), marked=str)
    return warmth(report, METRIC)


def test_fabric_and_film_are_not_ranked_inside_the_doubt() -> None:
    """The model alone would part them; what trials measured under such fabric does not."""
    film = climate("film", Band(2.3, 2.5, 2.7))
    fabric = climate("fabric", Band(0.8, 1.0, 1.2), "spunbond-50")
    found = said(film, fabric)
    assert "cannot be ranked" in found.note
    cells = {row.label: row.cells for row in found.rows}
    assert cells["Their mean, coefficients drawn"][2] == "+0.8 °C to +5.0 °C"
    apart = said(film, climate("other film", Band(0.8, 1.0, 1.2)))
    assert "cannot be ranked" not in apart.note


def test_night_figures_begin_with_leaf_against_open_leaf() -> None:
    """Sure of its sign; against the station's air the sign is not known, and it says so."""
    nights = NightGain(1.0, -0.5, 2.5, 12, 364)
    near = NightGain(0.3, -1.0, 1.5, 150, 364)
    gains = NightGains(station_air=near, bed_air=nights, leaf=nights)
    found = said(replace(climate("film", Band(0.8, 1.0, 1.2)), gains=gains))
    labels = [row.label for row in found.rows[:4]]
    assert labels[0] == "Night leaves against open leaves"
    assert labels[3] == "Night air against the station"
    assert "warmer or colder is not known" in found.rows[3].cells[1]
    assert "not known" not in found.rows[0].cells[1]


def test_generated_years_name_the_record_that_would_be_the_first_choice() -> None:
    told = {}
    for origin in ("30 years generated from a typical year", "31 years of a record"):
        report = SimpleNamespace(
            covers=(climate("open bed", None), climate("film", None)),
            windows={}, crops={}, risk=0.1, origin=origin, marked=str,
        )  # fmt: skip
        told[origin[:2]] = "GHCN-Daily record of 30 years" in sowing(report, METRIC).note
    assert told == {"30": True, "31": False}


def test_soil_under_light_fabric_is_a_range_with_the_trials_in_it() -> None:
    """1 to 3 K over the open bed's 10 degC were measured; the model has 14."""
    found = said(climate("fabric", Band(0.8, 1.0, 1.2), "spunbond-17"))
    cells = {row.label: row.cells for row in found.rows}
    assert cells["Soil at 5 cm, May"] == ("10 °C", "11 °C to 14 °C")
    assert "trials" in found.note


@pytest.mark.parametrize(
    "key", [k for k, one in Catalogue().covers.items() if one.kind == "fabric"]
)
def test_every_fabric_of_ours_has_been_measured_by_night(key: str) -> None:
    low, high = measured(Catalogue().cover(key).optics_family)["night"]
    assert 0 < low < high
