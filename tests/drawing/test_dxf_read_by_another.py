"""The DXF read by a second program than its writer: GDAL's own DXF driver, through pyogrio."""

from __future__ import annotations

import struct
from collections import Counter
from pathlib import Path

import pytest
from later import Later

from hoopwright.design import design_of
from hoopwright.drawing.dxf import INCHES, MILLIMETRES, write_dxf
from hoopwright.drawing.scene import Circle, Group, Layer, Line, Polyline
from hoopwright.drawing.views import layouts
from hoopwright.plan.read import read_plan

pyogrio = Later("pyogrio")
DEMO = Path(__file__).parents[2] / "demo" / "high-valley.toml"


def points(geometry: bytes) -> list[tuple[float, float]]:
    """Return a line's corners, by the form of well-known binary (OGC 06-103r4, from memory)."""
    kind, count = struct.unpack("<II", geometry[1:9])
    wide = 3 if kind & 0x80000000 or kind // 1000 == 1 else 2
    if kind & 0xFF != 2:
        return []
    numbers = struct.unpack(f"<{wide * count}d", geometry[9 : 9 + 8 * wide * count])
    return list(zip(numbers[::wide], numbers[1::wide], strict=True))


def spans(read: list[tuple[str, str, bytes]], layer: str) -> list[float]:
    """Return how far every outline of a layer reaches along."""
    lines = [points(geometry) for at, _, geometry in read if at == layer]
    return [max(x for x, _ in line) - min(x for x, _ in line) for line in lines if line]


@pytest.fixture(scope="module")
def bed():
    return design_of(read_plan(DEMO))


@pytest.mark.parametrize("unit", [MILLIMETRES, INCHES])
def test_a_second_reader_finds_every_layer_outline_and_length(bed, unit, tmp_path):
    drawn = [one for one in layouts(bed, 0.4, 0.3) if one.view.name in ("side", "plan", "end")]
    path = tmp_path / "bed.dxf"
    write_dxf(drawn, path, unit)
    meta, _, geometry, columns = pyogrio.raw.read(path)
    fields = dict(zip(meta["fields"], columns, strict=True))
    read = list(zip(fields["Layer"], fields["SubClasses"], geometry, strict=True))

    shapes = [
        shape
        for one in drawn
        for item in one.view.items
        for shape in (item.shapes if isinstance(item, Group) else (item,))
    ]
    # Dimensions are blocks of their own, which the reader opens; scale and text are furniture.
    ours = Counter(
        shape.layer.value for shape in shapes if isinstance(shape, Line | Polyline | Circle)
    )
    theirs = Counter(at for at, kind, _ in read if "Hatch" not in kind and "Text" not in kind)
    for layer in ("boards", "hoops", "straps", "rails", "clips", "battens"):
        assert theirs[layer] == ours[layer], layer
    assert set(fields["Layer"]) <= {layer.value for layer in Layer} | {"Defpoints"}

    along = bed.bed.outer_length / unit.length
    assert sum(abs(span - along) < 1e-6 * along for span in spans(read, "boards")) >= 3
    # The end board stands between the sides; the rails reach past the boards.
    ends = (bed.bed.outer_width - 2 * bed.bed.wall) / unit.length
    assert any(abs(span - ends) < 1e-6 * ends for span in spans(read, "boards"))
    assert max(spans(read, "rails")) > along
    said = {text for text in fields["Text"] if text}
    assert any("Scale 1 :" in text for text in said)


def test_a_length_that_is_wrong_would_be_seen(bed, tmp_path):
    """In inches the numbers are 25.4 times smaller: the unit is the reader's, not the test's."""
    sizes = []
    for unit in (MILLIMETRES, INCHES):
        path = tmp_path / f"{unit.name}.dxf"
        write_dxf([one for one in layouts(bed, 0.4, 0.3) if one.view.name == "side"], path, unit)
        _, _, geometry, columns = pyogrio.raw.read(path)
        sizes.append(max(spans(list(zip(columns[0], columns[2], geometry, strict=True)), "boards")))
    assert sizes[0] / sizes[1] == pytest.approx(25.4, rel=1e-9)
