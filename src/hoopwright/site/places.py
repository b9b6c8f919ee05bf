"""A place by its name: GeoNames' list of those of 500 people and more, carried along.

Source: GeoNames (geonames.org), CC BY 4.0; `tools/places.py` wrote the file. Where a place is
stands to 0.01 degree, about 1 km; how high it lies is not in the list.
"""

import gzip
import re
import unicodedata
from functools import lru_cache
from importlib import resources
from typing import NamedTuple

from hoopwright.frozen import dataclass

SOURCE = "GeoNames, CC BY 4.0"
#: As many places are named at once, and as many words of a name are looked at.
MOST, LONGEST = 8, 9


class PlaceUnknown(ValueError):
    """A name is of no place of the list, or of several."""


@dataclass(frozen=True)
class Town:
    """A place: what it is called, and where [deg north, deg east]."""

    words: str
    latitude: float
    longitude: float

    @property
    def coordinates(self) -> str:
        """Return where it is as a person writes it: 44.05, -110.30."""
        return f"{self.latitude:.2f}, {self.longitude:.2f}"


class _Row(NamedTuple):  # two hundred thousand of them: kept small, and as the file has them
    plain: str
    line: str  # name, latitude, longitude, logarithm of its people
    region: int


def _plain(words: str) -> str:
    """Return words as they are compared: small letters without accents, marks as blanks."""
    if words.isascii() and words.isalpha():
        return words.lower()
    if not words.isascii():
        words = "".join(m for m in unicodedata.normalize("NFKD", words) if m.isalnum() or m in " -")
    return re.sub(r"[\W_]+", " ", words.lower()).strip()


@lru_cache(maxsize=1)
def _list() -> tuple[list[tuple[str, str, frozenset[str]]], list[_Row]]:
    """Return regions (region, country, the words that name them) and the places."""
    file = resources.files("hoopwright.site") / "data" / "places.tsv.gz"
    regions, rows = list[tuple[str, str, frozenset[str]]](), list[_Row]()
    for line in gzip.decompress(file.read_bytes()).decode().split("\n"):
        name, _, place = line.partition("\t")
        if name:
            rows.append(_Row(_plain(name), line, len(regions) - 1))
            continue
        country, code, region, short = place.split("\t")
        called = frozenset(_plain(f"{country} {code} {region} {short}").split())
        regions.append((region, country, called | {"usa"} if code == "US" else called))
    return regions, rows


def places_like(words: str) -> tuple[tuple[Town, ...], int]:
    """Return the places that words name, those called exactly so first, then by their people, and
    how many are called exactly so; at most `MOST` + 1 places.

    A state or a country, in words or as its code, may follow the name: Gunnison, Colorado.
    """
    said = _plain(words.partition(",")[0]).split()
    beside = frozenset(_plain(words.partition(",")[2]).split())
    if len("".join(said)) < 2:
        return (), 0
    regions, rows = _list()
    for end in range(min(len(said), LONGEST), 0, -1):
        name, where = " ".join(said[:end]), beside | set(said[end:])
        of = [where <= called for _, _, called in regions]
        tried = rows if any(of) else ()
        found = [row for row in tried if row.plain.startswith(name) and of[row.region]]
        if found:
            found.sort(key=lambda row: (row.plain != name, -float(row.line.split("\t")[3])))
            exact = sum(row.plain == name for row in found)
            return tuple(_place(row, regions[row.region]) for row in found[: MOST + 1]), exact
    return (), 0


def _place(row: _Row, region: tuple[str, str, frozenset[str]]) -> Town:
    name, north, east, _ = row.line.split("\t")
    words = ", ".join(part for part in (name, *region[:2]) if part)
    return Town(words, float(north), float(east))


def place_called(words: str) -> Town:
    """Return the one place that words name. Raises PlaceUnknown, naming what comes near."""
    found, exact = places_like(words)
    if exact == 1:
        return found[0]
    if not found:
        raise PlaceUnknown(
            f"place: {words!r} is not in the list, which has places of 500 people and more; "
            "say a town near by, or give latitude and longitude"
        )
    named = "; ".join(f"{one.words} ({one.coordinates})" for one in found[:MOST])
    asks = "say which, with its state or country" if exact else "write its whole name"
    more = "; and more" if len(found) > MOST else ""
    raise PlaceUnknown(f"place: {words!r} may be {named}{more}; {asks}")
