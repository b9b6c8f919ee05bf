"""Drawings compared as geometry, not as pixels, with the day they were last looked at.

They may move with a reason. After looking at the new drawings, write them anew with
HOOPWRIGHT_FREEZE=1 pytest tests/unchanged/test_drawings_unchanged.py
"""

import json
import os
from pathlib import Path

import numpy as np
import pytest

from hoopwright.design import design_of
from hoopwright.drawing.extent import shape_points
from hoopwright.drawing.scene import Fill, Hatch, Text
from hoopwright.drawing.style import hatch_lines
from hoopwright.drawing.views import layouts
from hoopwright.plan.read import read_plan_text

HERE = Path(__file__).parent
FROZEN = HERE / "drawings.json"
PLANS = sorted((HERE.parent / "drawing" / "plans").glob("*.toml"))


def ruled(shape, scale):
    """Return the length of line that draws a shape [m of the thing]."""
    if isinstance(shape, Hatch):
        return sum(ruled(line, scale) for line in hatch_lines(shape, scale))
    if isinstance(shape, Text | Fill):
        return 0.0
    if hasattr(shape, "radius"):
        return 2 * np.pi * shape.radius
    points = list(shape_points(shape, scale))
    if getattr(shape, "closed", False):
        points.append(points[0])
    return float(np.hypot(*np.diff(np.array(points), axis=0).T).sum())


def measured(layout):
    """Return what a drawing shows: its scale, extent, line by layer, words and dimensions."""
    lines = {}
    for shape in layout.view.shapes():
        layer = shape.layer.value
        lines[layer] = lines.get(layer, 0.0) + ruled(shape, layout.view.scale)
    box = layout.object
    return {
        "scale": layout.view.scale,
        "object": [round(v, 5) for v in (box.left, box.bottom, box.right, box.top)],
        "lines": {layer: round(length, 4) for layer, length in sorted(lines.items())},
        "dimensions": [
            [[round(value, 6) for value in placed.measured], list(placed.texts)]
            for placed in layout.placed
        ],
        "words": [shape.text for shape in layout.furniture if isinstance(shape, Text)],
    }


def drawn_now(path, system):
    design = design_of(read_plan_text(f'units = "{system}"\n' + path.read_text("utf-8")))
    return {layout.view.name: measured(layout) for layout in layouts(design, 0.180, 0.215)}


CASES = [(path, system) for path in PLANS for system in ("us", "metric")]


def test_freeze():
    if not os.environ.get("HOOPWRIGHT_FREEZE"):
        pytest.skip("set HOOPWRIGHT_FREEZE=1 to write the drawings anew")
    frozen = {f"{path.stem} {system}": drawn_now(path, system) for path, system in CASES}
    FROZEN.write_text(json.dumps(frozen, indent=1) + "\n", encoding="utf-8")


@pytest.mark.parametrize(("path", "system"), CASES, ids=lambda value: getattr(value, "stem", value))
def test_drawings_are_unchanged(path, system):
    frozen = json.loads(FROZEN.read_text(encoding="utf-8"))[f"{path.stem} {system}"]
    now = json.loads(json.dumps(drawn_now(path, system)))

    assert set(now) == set(frozen)
    for name, then in frozen.items():
        assert now[name]["words"] == then["words"]
        assert now[name]["scale"] == then["scale"]
        assert now[name]["object"] == pytest.approx(then["object"], abs=1e-4)
        assert now[name]["lines"] == pytest.approx(then["lines"], rel=1e-3, abs=1e-3), name
        assert [texts for _, texts in now[name]["dimensions"]] == [
            texts for _, texts in then["dimensions"]
        ], name
        for (values, _), (before, _) in zip(
            now[name]["dimensions"], then["dimensions"], strict=True
        ):
            assert values == pytest.approx(before, abs=1e-5)
