"""`hoopwright sweep`: many plans at many sites, on this machine or on a cluster."""

import os
from pathlib import Path
from typing import Annotated, Literal

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson

Engines = Literal["threads", "processes"]


def sweep(
    plans: Annotated[list[Path], typer.Option(help="Plan files; give --plans for each.")],
    sites: Annotated[
        Path,
        typer.Option(
            help="CSV of sites: name, and latitude, longitude, elevation, exposure, gust, "
            "ground_snow, weather as in a plan."
        ),
    ],
    out: Annotated[Path, typer.Option(help="Folder; a sweep stopped there goes on.")],
    vary: Annotated[
        list[str] | None,
        typer.Option("--try", help="Vary each plan: spacing=2ft,3ft. May be repeated."),
    ] = None,
    engine: Annotated[Engines, typer.Option(help="threads or processes.")] = "processes",
    workers: Annotated[
        int | None, typer.Option(help="How many. Default: one for each core.", min=1, max=256)
    ] = None,
    scheduler: Annotated[
        str | None, typer.Option(help="Address of a Dask scheduler to use instead.")
    ] = None,
    json: AsJson = False,
) -> None:
    """Weigh every plan at every site; write a table and a map layer; go on where it stopped."""
    from hoopwright import writing
    from hoopwright.answers.voice import plural
    from hoopwright.cli import outputs
    from hoopwright.plan.read import text_of
    from hoopwright.programme import engines
    from hoopwright.programme.sweep import Sweep, geojson, pieces, read_sites, run, write_table
    from hoopwright.programme.variants import variants

    made = ("results.csv", "results.parquet", "results.geojson")
    outputs.spare([out / name for name in made], sites, *plans)
    listed = []
    for path in plans:
        if vary:
            listed += [
                (f"{path.stem}: {one.name}", one.text, path.parent) for one in variants(path, vary)
            ]
        else:
            listed.append((path.stem, text_of(path), path.parent))
    whole = Sweep(out, tuple(pieces(listed, read_sites(sites))))
    out.mkdir(parents=True, exist_ok=True)
    count = workers or os.cpu_count() or 1
    chosen = engines.dask(scheduler) if scheduler else getattr(engines, engine)(count)
    waiting = len(whole.waiting())
    done_before = len(whole.pieces) - waiting
    with text.bar() as shown:
        task = shown.add_task("Sweeping", total=waiting)

        def tell(done: int, total: int) -> None:
            shown.update(task, description=f"Sweeping, {done} of {total}", completed=done)

        run(whole, chosen, tell)
    rows = whole.rows()
    table = write_table(rows, out)
    layer = writing.write(out / "results.geojson", geojson(rows))
    if json:
        files = [str(table), str(layer)]
        print(text.as_json({"rows": rows, "from_before": done_before, "files": files}))
        return
    failed = [row for row in rows if row["problem"]]
    print(f"{plural(len(rows), 'result')}, {done_before} of them from before.")
    for row in failed[:5]:
        print(f"  {row['plan']} at {row['site']}: {row['problem']}")
    print(table)
    print(layer)
    print(text.paragraph(text.GUIDANCE))
