"""Which standard's wind and snow hold at a place: the plan's own choice, or its country's."""

from collections.abc import Mapping
from functools import cache
from importlib import resources
from typing import Annotated, Literal

from hoopwright.frozen import dataclass
from hoopwright.site.zone import zone_name
from hoopwright.tables.reader import Sourced, table_of, text

StandardName = Literal["ASCE 7", "EN 1991"]

ELSEWHERE: StandardName = "ASCE 7"
"""What is used where no row of the table holds: an assumption, said wherever it is used."""

WITHIN_THE_STATES = ((32.8, 48.9), (-117.0, -95.3))
"""Latitudes and longitudes [deg] wholly within the United States, where the outline map, a tenth
of a second to load, need not be asked."""


@dataclass(frozen=True)
class Country(Sourced):
    """A country and the standard that its own standards body publishes."""

    code: Annotated[str, text()]
    country: Annotated[str, text()]
    standard: Annotated[StandardName, text(choices=("ASCE 7", "EN 1991"))]


@dataclass(frozen=True)
class Standard:
    """The standard that wind and snow follow, and why.

    because : part of a sentence, "as the plan asks"
    """

    name: StandardName
    because: str


UNPLACED = Standard(ELSEWHERE, "for want of a latitude and longitude")


def standard_of(
    asked: StandardName | None, latitude: float | None = None, longitude: float | None = None
) -> Standard:
    """Return the standard of a site: as asked, else its country's, else ASCE 7.

    latitude, longitude : [deg], north and east positive, or None

    The country is that of the time zone there, from an outline map good to about 1 km.
    """
    if asked is not None:
        return Standard(asked, "as the plan asks")
    if latitude is None or longitude is None:
        return UNPLACED
    country = countries().get(_country_code(latitude, longitude))
    if country is None:
        return Standard(ELSEWHERE, "for want of a standard known for this place")
    return Standard(country.standard, f"the standard of {country.country}")


def countries() -> Mapping[str, Country]:
    """Return the countries whose standard is known, by their two-letter code (ISO 3166)."""
    return table_of(Country, "site_standard", "code")


@cache
def _country_code(latitude: float, longitude: float) -> str:
    (south, north), (west, east) = WITHIN_THE_STATES
    if south <= latitude <= north and west <= longitude <= east:
        return "US"
    return _codes().get(zone_name(latitude, longitude), "")


@cache
def _codes() -> dict[str, str]:
    """Return the country of each time zone, by the table that the zones' data come with."""
    table = resources.files("tzdata").joinpath("zoneinfo").joinpath("zone.tab")
    rows = [line.split("\t") for line in table.read_text(encoding="utf-8").splitlines()]
    return {row[2]: row[0] for row in rows if len(row) > 2 and not row[0].startswith("#")}
