"""The flat pattern of one end panel, as it lies on the floor to be cut."""

import numpy as np

from hoopwright.drawing.scene import (
    Group,
    Item,
    Layer,
    Leader,
    Line,
    LinearDimension,
    Polyline,
    Side,
    Tone,
    View,
    part,
    rectangle,
    thin_part,
)
from hoopwright.drawing.subject import Subject, beside, points


def panel_view(subject: Subject) -> View | None:
    """Return the end panel's pattern, or None for a bed whose cover has none."""
    panel = subject.cover.end_panel
    if panel is None:
        return None
    arch = panel.outline
    half, width = panel.width / 2, float(np.ptp(arch[:, 0]))
    foot = float(abs(arch[0, 0]))
    crown, bottom = float(arch[:, 1].max()), -panel.foot
    sheet = rectangle(-half, bottom, half, bottom + panel.height)
    over_hoop = Polyline(points(arch), Layer.HIDDEN)
    board_top = Line((-foot, 0.0), (foot, 0.0), Layer.HIDDEN)
    size = f"{subject.shown(panel.width)} by {subject.shown(panel.height)}"
    turned = _turn_line(arch, panel.turn, bottom)
    items: list[Item] = [
        Group("sheet", f"Sheet to cut, {size}", (thin_part(sheet, Layer.COVER, Tone.PAPER),)),
        Group(
            "turn",
            f"Film turned over the hoop, {subject.shown(panel.turn)}",
            (part(turned, Layer.COVER, Tone.LIGHT),),
        ),
        Group("arch", "Line of the outside of the end hoop", (over_hoop,)),
        Group("board top", "Top edge of the end board", (board_top,)),
        Line((0.0, bottom - 0.03), (0.0, bottom + panel.height + 0.03), Layer.CENTRE),
        LinearDimension((-half, bottom), (half, bottom), Side.BELOW, "cut {}"),
        LinearDimension((-width / 2, bottom), (width / 2, bottom), Side.BELOW, "hoop {}"),
        LinearDimension((-half, bottom), (-half, bottom + panel.height), Side.LEFT, "cut {}"),
        LinearDimension((-half, 0.0), (-half, crown), Side.LEFT),
        LinearDimension((-half, bottom), (-half, 0.0), Side.LEFT),
        Leader(_on(arch, 0.62), "outside of the end hoop", Side.RIGHT),
        Leader((0.9 * foot, 0.0), "top edge of the end board", Side.RIGHT),
        Leader(
            _on(np.array(turned[1:-1]), 0.8), "cut line, film to turn\nround the hoop", Side.RIGHT
        ),
        subject.bar(panel.width),
    ]
    description = (
        f"End panel, two to cut: a sheet {size}; {subject.shown(panel.turn)} is turned round the "
        f"hoop and {subject.shown(panel.foot)} hangs below the board's top edge for the batten."
    )
    note = "Film laid flat. Mark from the centre line; cut on the full line."
    return View("panel", "End panel, cut two", description, tuple(items), 16.0, note)


def _turn_line(arch: np.ndarray, turn: float, bottom: float) -> tuple[tuple[float, float], ...]:
    """Return the cut line: the arch moved out by the turn, down to the foot."""
    outward = beside(arch[1:-1] if len(arch) > 4 else arch, turn)
    middle = int(np.argmax(outward[:, 1]))
    first = int(np.argmin(outward[:, 0]))
    last = int(np.argmax(outward[:, 0]))
    # Below its widest the cut runs straight down: easier to cut, and more to hold.
    kept = outward[min(first, middle) : max(last, middle) + 1]
    return (float(kept[0, 0]), bottom), *points(kept), (float(kept[-1, 0]), bottom)


def _on(line: np.ndarray, share: float) -> tuple[float, float]:
    """Return the point of a line at a share of its points."""
    x, y = line[int(share * (len(line) - 1))]
    return float(x), float(y)
