"""One year hour by hour as a table: CSV, or Parquet where that extra is installed."""

import csv
from importlib.util import find_spec
from pathlib import Path

import numpy as np

from hoopwright import writing
from hoopwright.cli.options import Misused
from hoopwright.design.season_report import SeasonReport


def suited(path: Path) -> None:
    """Raise Misused where a file is of no form that can be written here."""
    if path.suffix not in (".csv", ".parquet"):
        raise Misused(f"{path}: name a .csv or a .parquet file")
    if path.suffix == ".parquet" and find_spec("pyarrow") is None:
        raise Misused(f'{path}: Parquet needs the extra "hoopwright[parquet]"; or name a .csv file')


def write_hours(report: SeasonReport, path: Path) -> Path:
    """Write the hours of the year looked at, open and under each cover; return the file."""
    names, columns = _columns(report)
    with writing.whole(path) as part:
        if path.suffix == ".parquet":
            _parquet(names, columns, part)
            return path
        with part.open("w", encoding="utf-8", newline="") as stream:
            rows = csv.writer(stream)
            rows.writerow(names)
            rows.writerows(zip(*columns, strict=True))
    return path


def _columns(report: SeasonReport) -> tuple[list[str], list[list[object]]]:
    weather = next(iter(report.look.values())).weather
    ends = np.datetime64(weather.start, "h") + np.arange(1, len(weather) + 1)
    names = ["hour_ending_standard_time", "outside_air_degC"]
    columns: list[list[object]] = [
        [str(end) for end in ends],
        np.round(weather.air_temperature, 2).tolist(),
    ]
    for number, run in enumerate(report.look.values()):
        label = "open" if number == 0 else f"cover{number}"
        for name, values in (
            ("air_degC", run.air),
            ("leaf_degC", run.leaf),
            ("soil_5cm_degC", run.soil_at(0.05)),
            ("relative_humidity", run.relative_humidity),
            ("opening_m", run.opening),
            ("light_W_m2", run.light),
        ):
            names.append(f"{label}_{name}")
            columns.append(np.round(values, 3).tolist())
    return names, columns


def _parquet(names: list[str], columns: list[list[object]], path: Path) -> None:
    import pyarrow
    import pyarrow.parquet

    table = pyarrow.table(dict(zip(names, columns, strict=True)))
    pyarrow.parquet.write_table(table, path)
