"""Places by their names, against the weather stations that stand beside them and a map of zones."""

import os
from pathlib import Path

import pytest

from hoopwright.site.places import PlaceUnknown, place_called, places_like
from hoopwright.site.zone import zone_name

SHARED = Path(os.environ.get("HOOPWRIGHT_SHARED", Path(__file__).parents[3] / "shared"))


@pytest.mark.parametrize(
    ("name", "station"),
    [
        ("Bozeman, MT", "Bozeman"),
        ("Cheyenne, Wyoming", "Cheyenne"),
        ("idaho falls", "Idaho.Falls"),
        ("Hibbing, Minnesota", "Hibbing"),
        ("Burlington Vermont", "Burlington"),
    ],
)
def test_a_town_lies_by_its_airport(name, station):
    """The airports' own coordinates stand in the headers of their weather files (TMY3, NREL)."""
    files = sorted((SHARED / "weather").glob(f"*{station}*.epw"))
    if not files:
        pytest.skip(f"no weather files at {SHARED}; set HOOPWRIGHT_SHARED")
    header = files[0].read_text("latin-1").split("\n", 1)[0].split(",")
    found = place_called(name)
    assert found.latitude == pytest.approx(float(header[6]), abs=0.15)
    assert found.longitude == pytest.approx(float(header[7]), abs=0.2)


@pytest.mark.parametrize(
    ("name", "zone"),
    [
        ("Zürich", "Europe/Zurich"),
        ("zurich, ch", "Europe/Zurich"),
        ("Gunnison, Colorado", "America/Denver"),
        ("St. Moritz", "Europe/Zurich"),
        ("Stanley, Falkland Islands", "Atlantic/Stanley"),
        ("Ushuaia", "America/Argentina/Ushuaia"),
        ("Lhasa, China", "Asia/Shanghai"),
    ],
)
def test_a_place_lies_in_its_time_zone(name, zone):
    found = place_called(name)
    assert zone_name(found.latitude, found.longitude) == zone


def test_the_greatest_of_one_name_come_first_and_a_region_tells_them_apart():
    many, exact = places_like("Springfield")
    assert exact > 20
    assert len(many) == 9
    assert many[0].words in {
        "Springfield, Missouri, United States",
        "Springfield, Massachusetts, United States",
    }
    assert places_like("Springfield, Illinois")[1] == 1
    assert places_like("Leadvil")[0][0].words.startswith("Leadville")


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("Gunnison", "Gunnison, Utah.*say which, with its state or country"),
        ("Xyzzyq", "not in the list"),
        ("Bozem", "Bozeman, Montana.*whole name"),
        ("", "not in the list"),
        ("(((.*", "not in the list"),
    ],
)
def test_a_name_of_no_place_or_of_several_is_told(name, says):
    with pytest.raises(PlaceUnknown, match=says):
        place_called(name)
