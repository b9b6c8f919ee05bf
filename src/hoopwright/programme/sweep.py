"""Many plans at many sites, in pieces that can be lost, done again and picked up later.

A piece is one plan at one site. Each finished piece is a small file in the sweep's folder, named
by the digest of all that it depends on; so a sweep that was stopped goes on where it was, and a
piece done twice is still there once.
"""

from __future__ import annotations

import csv
import io
import json
import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import asdict
from hashlib import sha256
from pathlib import Path
from typing import Any

from hoopwright import writing
from hoopwright.caching import program_print
from hoopwright.climate.read.text import weather_bytes
from hoopwright.frozen import dataclass
from hoopwright.plan.read import ReadPlan, read_plan_text
from hoopwright.programme.class_file import delimiter_of
from hoopwright.programme.variants import with_keys
from hoopwright.tables import foreign
from hoopwright.tables.toml_text import LARGEST
from hoopwright.tables.words import csv_text

MOST_SITES = 5000

SITE_KEYS = ("latitude", "longitude", "elevation", "exposure", "gust", "ground_snow", "weather")
COLUMNS = (
    "plan",
    "site",
    "latitude",
    "longitude",
    "elevation",
    "cost",
    "wind",
    "half",
    "wind_name",
    "snow",
    "snow_name",
    "degrees",
    "days",
    "hot",
    "warmth",
    "waste",
    "problem",
)

Row = dict[str, Any]
Progress = Callable[[int, int], None]


class SweepError(ValueError):
    """Plans or sites that cannot be swept; the message says what to change."""


@dataclass(frozen=True)
class SweepSite:
    """One place: its name and the site keys of a plan as a person writes them."""

    name: str
    keys: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class SweepTask:
    """One plan at one site, complete: a worker needs nothing else but the weather file.

    folder : where files named in the plan are
    """

    plan: str
    site: str
    text: str
    folder: str
    digest: str


def read_sites(file: Path) -> tuple[SweepSite, ...]:
    """Return the sites of a CSV file: a column `name`, and site keys as a plan has them."""
    text = foreign.text_held(file, LARGEST)
    reader = csv.DictReader(io.StringIO(text), delimiter=delimiter_of(text))
    columns = [column.strip() for column in reader.fieldnames or ()]
    stray = [column for column in columns if column not in ("name", *SITE_KEYS)]
    if "name" not in columns or stray:
        known = ", ".join(("name", *SITE_KEYS))
        raise SweepError(f"{file}: columns are {known}; found {', '.join(columns) or 'none'}")
    sites: list[SweepSite] = []
    for row in reader:
        if None in row:
            says = 'more cells than columns; put text that holds a comma in "quotes"'
            raise SweepError(f"{file}, line {reader.line_num}: {says}")
        cells = {key.strip(): (cell or "").strip() for key, cell in row.items()}
        keys = tuple((key, cells[key]) for key in SITE_KEYS if cells.get(key))
        if len(sites) == MOST_SITES:
            raise SweepError(f"{file}: more than {MOST_SITES} sites; sweep them in parts")
        sites.append(SweepSite(cells["name"] or f"row {len(sites) + 1}", keys))
    if not sites:
        raise SweepError(f"{file}: has no sites; write one a row")
    return tuple(sites)


def pieces(plans: Sequence[tuple[str, str, Path]], sites: Sequence[SweepSite]) -> list[SweepTask]:
    """Return every plan at every site.

    plans : (name, text, folder of the files it names). Raises PlanError for the first plan that
            cannot be read at the first site that spoils it.
    """
    program = program_print()
    found = []
    for name, text, folder in plans:
        for site in sites:
            own = with_keys(text, {f"site.{key}": value for key, value in site.keys})
            read = read_plan_text(own, file=f"{name} at {site.name}", folder=folder)
            stamp = _stamp(read)
            digest = sha256("\n".join((program, own, stamp)).encode()).hexdigest()[:24]
            found.append(SweepTask(name, site.name, own, str(folder), digest))
    return found


def _stamp(read: ReadPlan) -> str:
    file = read.weather_file
    weather = sha256(weather_bytes(file)).hexdigest() if file is not None else "demo"
    return f"{weather} {read.catalogue.overlays!r}"


def weigh_piece(piece: SweepTask) -> Row:
    """Return what one plan comes to at one site; a plan that cannot be built says why."""
    from hoopwright.design import design_of
    from hoopwright.design.growing import typical_year
    from hoopwright.heat.compiled import compiled_march
    from hoopwright.programme.buying import Bill
    from hoopwright.programme.weighing import Weigher

    row: Row = {**dict.fromkeys(COLUMNS), "plan": piece.plan, "site": piece.site}
    try:
        read = read_plan_text(piece.text, file=piece.plan, folder=Path(piece.folder))
        site = read.plan.site
        row |= {"latitude": site.latitude, "longitude": site.longitude}
        row |= {"elevation": site.elevation}
        weather = typical_year(read.plan, read.weather_file)
        worth = Weigher(Bill(read.catalogue), weather, compiled_march()).weigh(design_of(read))
    except ValueError as error:
        return row | {"problem": str(error).splitlines()[0]}
    growth = asdict(worth.growth) if worth.growth else {}
    known = {**asdict(worth), **growth}
    numbers = {key: known[key] for key in COLUMNS if key in known}
    return row | {
        key: None if isinstance(value, float) and not math.isfinite(value) else value
        for key, value in numbers.items()
    }


@dataclass(frozen=True)
class Sweep:
    """A sweep's folder and its pieces."""

    folder: Path
    pieces: tuple[SweepTask, ...]

    def file_of(self, piece: SweepTask) -> Path:
        """Return where a finished piece lies."""
        return self.folder / "pieces" / f"{piece.digest}.json"

    def waiting(self) -> list[SweepTask]:
        """Return the pieces not finished yet, each once."""
        seen: set[str] = set()
        found = []
        for piece in self.pieces:
            if piece.digest not in seen and not self.file_of(piece).exists():
                found.append(piece)
            seen.add(piece.digest)
        return found

    def keep(self, piece: SweepTask, row: Row) -> None:
        """Write a finished piece, whole or not at all."""
        path = self.file_of(piece)
        path.parent.mkdir(parents=True, exist_ok=True)
        writing.write(path, json.dumps(row, ensure_ascii=False, allow_nan=False))

    def rows(self) -> list[Row]:
        """Return the finished pieces in the order of plans and sites."""
        found = []
        for piece in self.pieces:
            path = self.file_of(piece)
            if path.exists():
                row = json.loads(path.read_text(encoding="utf-8"))
                # The same numbers may stand for a plan or a site that was named anew.
                found.append({**row, "plan": piece.plan, "site": piece.site})
        return found


def run(sweep: Sweep, engine: Engine, progress: Progress | None = None) -> int:
    """Finish what is waiting; return how many pieces were worked out now."""
    waiting = sweep.waiting()
    done = 0
    for piece, row in engine(waiting):
        sweep.keep(piece, row)
        done += 1
        if progress:
            progress(done, len(waiting))
    return done


Engine = Callable[[Sequence[SweepTask]], Iterable[tuple[SweepTask, Row]]]


def geojson(rows: Iterable[Row]) -> str:
    """Return the rows as points for a map (RFC 7946: longitude, latitude, in that order)."""

    def features() -> Iterator[dict[str, Any]]:
        for row in rows:
            if row["latitude"] is None or row["longitude"] is None:
                continue
            place = [row["longitude"], row["latitude"]]
            if row["elevation"] is not None:
                place.append(row["elevation"])
            names = [key for key in row if key not in ("latitude", "longitude", "elevation")]
            yield {
                "type": "Feature",
                "geometry": {"type": "Point", "coordinates": place},
                "properties": {key: row[key] for key in names},
            }

    collection = {"type": "FeatureCollection", "features": list(features())}
    return json.dumps(collection, ensure_ascii=False, allow_nan=False, indent=1)


def as_csv(rows: Iterable[Row]) -> str:
    """Return the rows as CSV, quantities in SI."""
    return csv_text([COLUMNS, *([row.get(column) for column in COLUMNS] for row in rows)])


def write_table(rows: Sequence[Row], folder: Path) -> Path:
    """Write the rows as Parquet, or as CSV where the extra `parquet` is not installed."""
    try:
        import pyarrow as arrow
        import pyarrow.parquet as parquet
    except ImportError:
        return writing.write(folder / "results.csv", as_csv(rows))
    words = ("plan", "site", "wind_name", "snow_name", "problem")
    schema = arrow.schema(
        [(name, arrow.string() if name in words else arrow.float64()) for name in COLUMNS]
    )
    numbers = [
        {
            key: value if key in words or value is None else float(value)
            for key, value in row.items()
        }
        for row in rows
    ]
    path = folder / "results.parquet"
    with writing.whole(path) as part:
        parquet.write_table(arrow.Table.from_pylist(numbers, schema=schema), part)
    return path
