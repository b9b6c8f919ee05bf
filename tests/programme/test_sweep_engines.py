"""Sweeps: the same numbers on every engine, nothing lost or done twice when a worker dies."""

from __future__ import annotations

import json
import os
import time
from pathlib import Path

import pytest

from hoopwright.programme import engines
from hoopwright.programme.sweep import (
    Sweep,
    SweepError,
    SweepTask,
    as_csv,
    geojson,
    pieces,
    read_sites,
    run,
    weigh_piece,
    write_table,
)

DEMO = Path(__file__).parents[2] / "tests" / "usual_bed.toml"
SITES = "name,latitude,longitude,elevation\nLow,44 N,110 W,900 m\nHigh,44.5 N,109 W,2300 m\n"


@pytest.fixture
def whole(tmp_path: Path) -> Sweep:
    """Return a sweep of two plans at two sites, nothing done yet."""
    file = tmp_path / "sites.csv"
    file.write_text(SITES, encoding="utf-8")
    text = DEMO.read_text(encoding="utf-8")
    plans = [
        ("one", text, DEMO.parent),
        ("two", text.replace('spacing = "3 ft"', 'spacing = "2 ft"'), DEMO.parent),
    ]
    return Sweep(tmp_path / "out", tuple(pieces(plans, read_sites(file))))


def test_threads_give_every_piece_once(whole: Sweep) -> None:
    """Rows in the order of plans and sites, as weighing each alone gives them."""
    assert run(whole, engines.threads(2)) == 4
    rows = whole.rows()
    assert [(row["plan"], row["site"]) for row in rows] == [
        ("one", "Low"),
        ("one", "High"),
        ("two", "Low"),
        ("two", "High"),
    ]
    assert rows[3] == weigh_piece(whole.pieces[3])
    assert all(row["problem"] is None for row in rows)
    assert rows[0]["wind"] != rows[2]["wind"]
    assert run(whole, engines.threads(2)) == 0


def test_a_sweep_goes_on_where_it_stopped(whole: Sweep) -> None:
    """What is finished is not done again; a half-written piece is."""
    first = list(whole.pieces[:2])
    run(Sweep(whole.folder, tuple(first)), _counting([]))
    (whole.folder / "pieces" / f"{whole.pieces[2].digest}.part").write_text("{")
    asked: list[str] = []
    assert run(whole, _counting(asked)) == 2
    assert asked == [piece.digest for piece in whole.pieces[2:]]
    assert len(whole.rows()) == 4


def _counting(asked: list[str]):  # type: ignore[no-untyped-def]
    def engine(waiting):  # type: ignore[no-untyped-def]
        for piece in waiting:
            asked.append(piece.digest)
            yield piece, {**dict.fromkeys(("latitude", "longitude", "elevation")), "cost": 1.0}

    return engine


def test_a_changed_plan_or_site_is_a_new_piece(whole: Sweep, tmp_path: Path) -> None:
    """The digest tells plans, sites and weather apart, and nothing else."""
    assert len({piece.digest for piece in whole.pieces}) == 4
    file = tmp_path / "more.csv"
    file.write_text(SITES.replace("900 m", "950 m"), encoding="utf-8")
    text = DEMO.read_text(encoding="utf-8")
    again = pieces([("renamed", text, DEMO.parent)], read_sites(file))
    assert again[1].digest == whole.pieces[1].digest
    assert again[0].digest != whole.pieces[0].digest


def dies_once(piece: SweepTask) -> dict[str, object]:
    """Stand in for weighing; the first worker to come to the marked piece is killed."""
    mark = Path(piece.folder) / "killed"
    if piece.site == "High" and not mark.exists():
        mark.write_text("x")
        time.sleep(0.2)
        os.kill(os.getpid(), 9)
    return {"plan": piece.plan, "site": piece.site, "cost": float(len(piece.text))}


def test_a_killed_process_costs_only_its_pieces(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The pool is built anew and every piece comes once."""
    waiting = [
        SweepTask(f"p{n}", "High" if n == 3 else "Low", "x" * n, str(tmp_path), f"d{n}")
        for n in range(8)
    ]
    monkeypatch.setattr(engines, "weigh_piece", dies_once)
    found = list(engines.processes(2)(waiting))
    assert sorted(piece.digest for piece, _ in found) == [f"d{n}" for n in range(8)]
    assert (tmp_path / "killed").exists()


def dies_always(piece: SweepTask) -> dict[str, object]:
    """Kill every worker."""
    os.kill(os.getpid(), 9)
    return {}


def test_workers_that_keep_dying_end_the_sweep_in_words(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """It does not go on for ever."""
    monkeypatch.setattr(engines, "weigh_piece", dies_always)
    with pytest.raises(SweepError, match="keep dying"):
        list(engines.processes(1)([SweepTask("p", "s", "", str(tmp_path), "d")]))


def test_a_plan_that_cannot_be_built_says_so_and_the_rest_goes_on(tmp_path: Path) -> None:
    """Its row has the problem and no numbers."""
    text = DEMO.read_text(encoding="utf-8").replace('"10 ft"    #', '"3 ft"  #')
    row = weigh_piece(SweepTask("tall", "here", text, str(DEMO.parent), "d"))
    assert row["problem"]
    assert row["cost"] is None


def test_the_map_layer_follows_the_standard(whole: Sweep) -> None:
    """RFC 7946: longitude first, then latitude, then height."""
    run(whole, _rows())
    layer = json.loads(geojson(whole.rows()))
    assert layer["type"] == "FeatureCollection"
    first = layer["features"][0]
    assert first["geometry"] == {"type": "Point", "coordinates": [-110.0, 44.0, 900.0]}
    assert first["properties"]["plan"] == "one"


def _rows():  # type: ignore[no-untyped-def]
    def engine(waiting):  # type: ignore[no-untyped-def]
        for number, piece in enumerate(waiting):
            place = {"latitude": 44.0, "longitude": -110.0, "elevation": 900.0}
            yield piece, {**dict.fromkeys(("problem", "wind_name")), **place, "cost": number + 0.5}

    return engine


def test_the_table_holds_every_row(whole: Sweep) -> None:
    """As Parquet, and as CSV where that cannot be written."""
    parquet = pytest.importorskip("pyarrow.parquet")
    run(whole, _rows())
    rows = [{**dict.fromkeys(("plan", "site")), **row} for row in whole.rows()]
    path = write_table(rows, whole.folder)
    table = parquet.read_table(path)
    assert table.num_rows == 4
    assert table.column("cost").to_pylist() == [0.5, 1.5, 2.5, 3.5]
    assert len(as_csv(rows).splitlines()) == 5


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("lat,lon\n1,2\n", "columns are"),
        ("name,hail\nx,1\n", "columns are"),
        ("name\n", "no sites"),
    ],
)
def test_sites_that_cannot_be_read(text: str, says: str, tmp_path: Path) -> None:
    """One message names the columns there may be."""
    file = tmp_path / "sites.csv"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(SweepError, match=says):
        read_sites(file)


def test_no_scheduler_is_said_in_words() -> None:
    """A wrong address ends in one message."""
    pytest.importorskip("distributed")
    engine = engines.dask("tcp://127.0.0.1:9", patience=1.0)
    with pytest.raises(SweepError, match="no Dask scheduler"):
        list(engine([SweepTask("p", "s", "", ".", "d")]))
