"""Which standard holds where. Capitals and border towns are from a general atlas (from memory)."""

import numpy as np
import pytest

from hoopwright.answers.facts import facts
from hoopwright.checks.standing import WindAtBed
from hoopwright.design import design_of
from hoopwright.loads.snow import lying_share
from hoopwright.plan import read_plan_text
from hoopwright.site.place import Site
from hoopwright.site.standard import WITHIN_THE_STATES, countries, standard_of
from hoopwright.site.zone import zone_name


@pytest.mark.parametrize(
    ("latitude", "longitude", "name", "because"),
    [
        (46.95, 7.45, "EN 1991", "the standard of Switzerland"),
        (59.33, 18.06, "EN 1991", "the standard of Sweden"),
        (39.93, 32.86, "EN 1991", "the standard of Turkey"),
        (64.15, -21.94, "EN 1991", "the standard of Iceland"),
        (44.1, -107.0, "ASCE 7", "the standard of the United States"),
        (61.2, -149.9, "ASCE 7", "the standard of the United States"),
        (-33.9, 151.2, "ASCE 7", "for want of a standard known for this place"),
        (None, None, "ASCE 7", "for want of a latitude and longitude"),
    ],
)
def test_a_place_has_its_country_s_standard(latitude, longitude, name, because):
    found = standard_of(None, latitude, longitude)
    assert (found.name, found.because) == (name, because)


def test_the_plan_s_own_choice_comes_first():
    assert standard_of("ASCE 7", 46.95, 7.45).name == "ASCE 7"


def test_the_shortcut_lies_within_the_states():
    """Every zone of the box, by the outline map, is one of the United States'."""
    (south, north), (west, east) = WITHIN_THE_STATES
    names = {
        zone_name(float(latitude), float(longitude))
        for latitude in np.linspace(south, north, 30)
        for longitude in np.linspace(west, east, 40)
    }
    assert names <= {
        "America/Los_Angeles",
        "America/Boise",
        "America/Denver",
        "America/Phoenix",
        "America/Chicago",
        "America/North_Dakota/Beulah",
        "America/North_Dakota/Center",
        "America/North_Dakota/New_Salem",
    }


def test_thirty_four_countries_take_the_european_standard():
    """27 of the European Union, Iceland, Norway and Switzerland, and the United Kingdom, North
    Macedonia, Serbia and Turkey."""
    assert sum(row.standard == "EN 1991" for row in countries().values()) == 27 + 3 + 4


def test_wind_and_snow_follow_the_standard_together():
    """The coefficients and the snow's share are the standard's. The pressure is the profile's,
    rho/2 (r v)^2: over z0 0.03 m, with a peak of 2.5 as given and 2.75 at the bed, worked by hand
    r = (ln(1 / 0.03) + 2.75) / (ln(10 / 0.03) + 2.5) = 6.2566 / 8.3091 = 0.7530."""
    european, american = (
        WindAtBed(Site(exposure="open", standard=standard_of(name)), 1.0)
        for name in ("EN 1991", "ASCE 7")
    )
    assert european.basis != american.basis
    for wind in (european, american):
        assert wind.pressure(20.0) == pytest.approx(1.225 / 2 * (0.7530 * 20.0) ** 2, rel=1e-3)
    assert (lying_share("EN 1991"), lying_share("ASCE 7")) == (0.8, 0.7)


def test_the_standard_is_said():
    design = design_of(read_plan_text('units = "metric"\n'))
    said = [fact.says for fact in facts(design) if fact.label == "Standard"]
    assert said == [
        "Wind and snow by ASCE 7, for want of a latitude and longitude; site.standard chooses."
    ]
