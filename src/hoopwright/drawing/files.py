"""The drawings of a design as files: one SVG a view, and one DXF with all views for a shop."""

from pathlib import Path
from typing import Literal

from hoopwright import writing
from hoopwright.design import Design
from hoopwright.drawing.dxf import INCHES, MILLIMETRES, write_dxf
from hoopwright.drawing.ladder_views import ladder_layouts
from hoopwright.drawing.odds_chart import odds_chart
from hoopwright.drawing.plots.field import plot_layout
from hoopwright.drawing.svg import write_svg
from hoopwright.drawing.views import layouts

#: Room for one view [m]: a landscape Letter or A4 page within its margins.
VIEW_WIDTH = 0.25
VIEW_HEIGHT = 0.18


def write_drawings(
    design: Design, folder: Path, format: Literal["svg", "dxf", "both"]
) -> list[Path]:
    """Write the drawings and return the files written.

    DXF measures are in inches for a plan in US units, else in millimetres.
    """
    folder.mkdir(parents=True, exist_ok=True)
    laid_out = layouts(design, VIEW_WIDTH, VIEW_HEIGHT)
    written = []
    if format in ("svg", "both"):
        for layout in laid_out:
            written.append(writing.write(folder / f"{layout.view.name}.svg", write_svg(layout)))
    if format in ("dxf", "both"):
        path = folder / "bed.dxf"
        write_dxf(laid_out, path, INCHES if design.system.name == "us" else MILLIMETRES)
        written.append(path)
    return written


def write_ladder_drawings(design: Design, folder: Path) -> list[Path]:
    """Write the odds by gust, the loaded hoop and the ladder's bars; return the files written."""
    folder.mkdir(parents=True, exist_ok=True)
    drawn = (plot_layout(odds_chart(design)), *ladder_layouts(design, 0.16, 0.12))
    return [writing.write(folder / f"{one.view.name}.svg", write_svg(one)) for one in drawn]
