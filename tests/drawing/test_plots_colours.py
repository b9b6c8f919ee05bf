"""Each cell of a map has the colour of its value, and the colours are fit to be read."""

import re
import struct
import zlib
from importlib.resources import files

import numpy as np
import plot_samples
import pytest
import resvg_py

from hoopwright.drawing.plots.axes import Axis
from hoopwright.drawing.plots.colours import (
    STEPS,
    UNKNOWN,
    cells_png,
    colour_map,
    difference_scale,
    temperature_scale,
)
from hoopwright.drawing.plots.field import plot_svg
from hoopwright.drawing.scene import Group, Image
from hoopwright.units import METRIC

TEMPERATURE, DIFFERENCE = colour_map("temperature"), colour_map("difference")


def pixels(png):
    """Return RGBA of a PNG with 8-bit samples, by the rules of the W3C specification."""
    at, parts = 8, {}
    while at < len(png):
        (length,) = struct.unpack(">I", png[at : at + 4])
        kind = png[at + 4 : at + 8]
        body = png[at + 8 : at + 8 + length]
        (check,) = struct.unpack(">I", png[at + 8 + length : at + 12 + length])
        assert check == zlib.crc32(kind + body)
        parts[kind] = parts.get(kind, b"") + body
        at += 12 + length
    width, height, depth, colour, _, _, interlaced = struct.unpack(">IIBBBBB", parts[b"IHDR"])
    assert (depth, interlaced) == (8, 0)
    channels = {2: 3, 3: 1, 6: 4}[colour]
    raw = zlib.decompress(parts[b"IDAT"])
    stride = width * channels
    rows, above = [], [0] * stride
    for y in range(height):
        kind, *line = raw[y * (stride + 1) : (y + 1) * (stride + 1)]
        for x in range(stride):
            a = line[x - channels] if x >= channels else 0
            b, c = above[x], above[x - channels] if x >= channels else 0
            nearest = min((a, b, c), key=lambda v, p=a + b - c: abs(p - v))
            line[x] = (line[x] + (0, a, b, (a + b) // 2, nearest)[kind]) % 256
        rows.append(line)
        above = line
    cells = np.array(rows, dtype=np.uint8).reshape(height, width, channels)
    if colour == 3:
        palette = np.frombuffer(parts[b"PLTE"], np.uint8).reshape(-1, 3)
        opacity = np.frombuffer(parts[b"tRNS"], np.uint8)
        return np.dstack([palette[cells[..., 0]], opacity[cells[..., 0]]])
    if colour == 2:
        return np.dstack([cells, np.full((height, width), 255, np.uint8)])
    return cells


def colour_of(scale, value):
    """The colour that a map's cell of this value is painted in."""
    return scale.palette[int(scale.indices(np.array([value]))[0])]


def rgb(colour):
    return tuple(bytes.fromhex(colour[1:]))


def lab(colours):
    """CIELAB of sRGB colours: IEC 61966-2-1 and CIE 15, white point D65."""
    part = np.array([rgb(c) for c in colours]) / 255
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    to_xyz = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    return _lab(linear @ np.array(to_xyz).T)


def _lab(xyz):
    share = xyz / np.array([0.9505, 1.0, 1.089])
    root = np.where(share > 216 / 24389, np.cbrt(share), (24389 / 27 * share + 16) / 116)
    x, y, z = root.T
    return np.column_stack([116 * y - 16, 500 * (x - y), 200 * (y - z)])


def test_every_cell_of_the_image_decodes_to_the_colour_of_its_value():
    view = plot_samples.map_outside(METRIC)
    cells = next(i for i in view.items if isinstance(i, Group) and i.name == "cells")
    (image,) = cells.shapes
    assert isinstance(image, Image)
    decoded = pixels(image.png)
    across, up = decoded.shape[1] // 365, decoded.shape[0] // 24
    shown = plot_samples.outside().reshape(365, 24)
    from hoopwright.drawing.plots import gauge
    from hoopwright.drawing.plots.day_map import temperature_colours

    fields = [plot_samples.outside(), plot_samples.inside()]
    scale = temperature_colours(fields, gauge.temperature(METRIC))
    step = (scale.axis.high - scale.axis.low) / (STEPS - 1)
    palette = np.array([rgb(c) for c in scale.palette])
    for day in range(0, 365, 7):
        for hour in range(24):
            block = decoded[(23 - hour) * up : (24 - hour) * up, day * across : (day + 1) * across]
            assert (block == block[0, 0]).all()
            assert tuple(block[0, 0]) == (*rgb(colour_of(scale, shown[day, hour])), 255)
            # Read back from the colour alone, the value is known to half a step.
            nearest = np.abs(palette - block[0, 0, :3].astype(int)).sum(axis=1).argmin()
            back = scale.axis.low + nearest * step
            assert back == pytest.approx(shown[day, hour], abs=3.5 * step)


def test_a_renderer_of_svg_shows_the_hour_in_the_colour_of_its_value():
    """Outside truth: resvg draws the plot; the pixel in a cell's middle has the cell's colour."""
    view = plot_samples.map_difference(METRIC)
    svg = plot_svg(view)
    x, y, width, height = (
        float(re.search(rf'<image[^>]* {name}="([\d.]+)"', svg).group(1))
        for name in ("x", "y", "width", "height")
    )
    plain = re.sub(r"<(path|line|text)\b.*?(/>|</text>)", "", svg)
    dots = 4
    drawn = pixels(resvg_py.svg_to_bytes(svg_string=plain, dpi=25.4 * dots, background="white"))
    apart = (plot_samples.inside() - plot_samples.outside()).reshape(365, 24)
    from hoopwright.drawing.plots import gauge
    from hoopwright.drawing.plots.day_map import difference_colours

    scale = difference_colours([apart], gauge.temperature_difference(METRIC))
    for day, hour in ((0, 0), (15, 3), (100, 13), (171, 12), (364, 23), (250, 20)):
        column = int((x + (day + 0.5) / 365 * width) * dots)
        row = int((y + (1 - (hour + 0.5) / 24) * height) * dots)
        assert tuple(drawn[row, column, :3]) == rgb(colour_of(scale, apart[day, hour]))


def test_unknown_cells_are_clear_and_far_values_take_the_ends():
    scale = temperature_scale(Axis(-10.0, 10.0))
    values = np.array([[np.nan, -50.0, 50.0, 0.0]])
    steps = scale.indices(values)
    assert steps.tolist() == [[UNKNOWN, 0, STEPS - 1, (STEPS - 1) // 2]]
    decoded = pixels(cells_png(steps, scale, 1, 1))
    assert decoded[0, 0, 3] == 0
    assert tuple(decoded[0, 1, :3]) == rgb(TEMPERATURE[0])
    assert tuple(decoded[0, 2, :3]) == rgb(TEMPERATURE[-1])


def test_the_maps_are_those_that_were_published():
    """First, middle and last colour, cividis as matplotlib 3.11 and vik as cmcrameri print them."""
    assert len(TEMPERATURE) == len(DIFFERENCE) == 256
    assert (TEMPERATURE[0], TEMPERATURE[128], TEMPERATURE[-1]) == ("#00224e", "#7d7c78", "#fee838")
    assert (DIFFERENCE[0], DIFFERENCE[128], DIFFERENCE[-1]) == ("#001261", "#ece5e0", "#590008")


def test_temperature_rises_evenly_in_lightness():
    """Its print in grey reads as well: equal steps of value, equal steps of CIELAB lightness."""
    light = lab(TEMPERATURE)[:, 0]
    rise = np.diff(light[::15])
    assert (rise > 0).all()
    assert rise.max() / rise.min() < 1.5


def test_differences_darken_alike_to_both_sides_of_nil():
    light = lab(DIFFERENCE)[:, 0]
    below, above = light[:128][::-1], light[128:]
    assert np.abs(light.argmax() - 127.5) < 8
    assert np.abs(below - above).max() < 10
    assert (np.diff(below[8::8]) < 0).all()
    assert (np.diff(above[8::8]) < 0).all()


# Machado, Oliveira & Fernandes 2009, IEEE Trans. Vis. Comput. Graph. 15, 1291-1298: full
# protanopia, deuteranopia and tritanopia on linear sRGB (matrices from memory).
BLINDNESS = {
    "protanopia": [
        [0.152286, 1.052583, -0.204868],
        [0.114503, 0.786281, 0.099216],
        [-0.003882, -0.048116, 1.051998],
    ],
    "deuteranopia": [
        [0.367322, 0.860646, -0.227968],
        [0.280085, 0.672501, 0.047413],
        [-0.011820, 0.042940, 0.968881],
    ],
    "tritanopia": [
        [1.255528, -0.076749, -0.178779],
        [-0.078411, 0.930809, 0.147602],
        [0.004733, 0.691367, 0.303900],
    ],
}


@pytest.mark.parametrize("kind", BLINDNESS)
@pytest.mark.parametrize("colours", [TEMPERATURE, DIFFERENCE], ids=["temperature", "difference"])
def test_colours_stay_apart_for_the_colour_blind(kind, colours):
    part = np.array([rgb(c) for c in colours[::16]]) / 255
    linear = np.where(part <= 0.04045, part / 12.92, ((part + 0.055) / 1.055) ** 2.4)
    seen = np.clip(linear @ np.array(BLINDNESS[kind]).T, 0, 1)
    to_xyz = [[0.4124, 0.3576, 0.1805], [0.2126, 0.7152, 0.0722], [0.0193, 0.1192, 0.9505]]
    place = _lab(seen @ np.array(to_xyz).T)
    apart = np.linalg.norm(place[:, None] - place[None, :], axis=2)
    apart[np.diag_indices_from(apart)] = np.inf
    # 2.3 is a just noticeable difference (Mahy and others 1994, from memory).
    assert apart.min() > 2.3


def test_a_scale_of_differences_must_have_nil_in_its_middle():
    with pytest.raises(ValueError, match="nil in its middle"):
        difference_scale(Axis(-1.0, 3.0))


def test_the_hatch_of_a_map_stays_dark_on_its_light_cells_in_dark_mode():
    """The page turns ink light on a dark page, but a map's cells stay as they are: on the cells
    just below nil, where the hatch begins, ink reads and what the page's ink becomes would not."""
    svg = plot_svg(plot_samples.map_difference(METRIC))
    style = files("hoopwright.web").joinpath("static/page.css").read_text(encoding="utf-8")
    rule = 'svg [data-part="hatched"] [stroke="#1b1a19"] { stroke: #1b1a19; }'
    assert 'data-part="hatched"' in svg
    assert style.index(rule) > style.index('svg [stroke="#1b1a19"] { stroke: var(--ink); }')
    dark = style[style.index("prefers-color-scheme: dark") :]
    turned = re.search(r"--ink: (#[0-9a-f]{6})", dark)
    assert turned is not None
    cell = lab([DIFFERENCE[len(DIFFERENCE) // 2 - 8]])[0][0]
    ink, page = (lab([colour])[0][0] for colour in ("#1b1a19", turned[1]))
    assert cell - ink > 50
    assert abs(cell - page) < 20
