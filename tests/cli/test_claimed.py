"""What is claimed past the last gust followed: as data no more than in words."""

import numpy as np
import pytest

from hoopwright.answers.claimed import FARTHEST
from hoopwright.answers.data import change_data, rung_data
from hoopwright.answers.ladder_words import stands_words
from hoopwright.checks.rung import Rung
from hoopwright.programme.changes import Change, WorkedChange
from hoopwright.units import US


def rung(*at: float) -> Rung:
    return Rung("legs-slip", "wind", np.array(at), "", "loss", "", "", ())


def test_a_limit_past_what_is_followed_is_given_as_the_last_gust_and_named() -> None:
    """1,242 mph (555 m/s) was given where the words say "over 150 mph"."""
    one = rung(*np.full(60, 30.0), *np.full(40, 555.0))
    data = rung_data(one)
    assert data["careful"] == 30.0
    assert data["strong"] == FARTHEST["wind"] == pytest.approx(67.0)
    assert data["over"] == ["strong"]
    never = rung_data(rung(*np.full(20, np.inf)))
    assert never["middle"] == FARTHEST["wind"]
    assert never["over"] == ["careful", "middle", "strong"]
    assert stands_words(rung(*np.full(20, 555.0)), US) == "over 150 mph"


def test_a_limit_within_what_is_followed_stands_as_it_is() -> None:
    data = rung_data(rung(*np.full(20, 41.5)))
    assert (data["careful"], data["middle"], data["strong"], data["over"]) == (41.5, 41.5, 41.5, [])


def test_a_change_gains_no_more_than_is_claimed() -> None:
    worked = WorkedChange(Change("Guy the hoops", {}), 555.0, np.inf, 30.0, 0.5, 12.0)
    data = change_data(worked)
    assert data["wind_m_s"] == FARTHEST["wind"]
    assert data["wind_gain_m_s"] == FARTHEST["wind"] - 30.0
    assert data["wet_snow_m"] == FARTHEST["snow"]
    assert data["wet_snow_gain_m"] == FARTHEST["snow"] - 0.5
    assert data["over"] == ["wind_m_s", "wet_snow_m"]
