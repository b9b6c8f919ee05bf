"""Colour maps: perceptually even, safe for the colour-blind, and rising in lightness for print.

Temperatures take cividis (Nuñez, Anderton & Renslow 2018, PLoS ONE 13(7): e0199239, an article
free of all copyright, CC0). Differences take vik (Crameri 2018, Scientific colour maps, doi
10.5281/zenodo.1243862, MIT licence), which is even to both sides of a pale middle. The values
stand in drawing/data/colour_maps.csv, their licence beside them.
"""

import struct
import zlib
from collections.abc import Sequence
from functools import cache

import numpy as np
from numpy.typing import NDArray

from hoopwright.drawing.plots.axes import Axis, Series
from hoopwright.frozen import dataclass
from hoopwright.tables.reader import shipped

#: Steps of colour in an image; one more stands for "unknown" and is clear.
STEPS = 255
UNKNOWN = 255


@cache
def colour_map(name: str) -> tuple[str, ...]:
    """Return the 256 colours of a map, "temperature" or "difference", as #rrggbb."""
    return tuple(row.cells[name] for row in shipped("colour_maps", "drawing/data"))


@dataclass(frozen=True)
class ColourScale:
    """Which colour stands for which value: an axis laid over a map's colours."""

    axis: Axis
    colours: tuple[str, ...]

    def indices(self, values: Series) -> NDArray[np.uint8]:
        """Return the colour step of each value; beyond the axis the end's, unknown its own."""
        span = self.axis.high - self.axis.low
        shares = np.clip((values - self.axis.low) / span, 0.0, 1.0)
        steps = np.where(np.isfinite(shares), np.rint(np.nan_to_num(shares) * (STEPS - 1)), UNKNOWN)
        return steps.astype(np.uint8)

    @property
    def palette(self) -> tuple[str, ...]:
        """Return the colour of each step."""
        last = len(self.colours) - 1
        return tuple(self.colours[round(step * last / (STEPS - 1))] for step in range(STEPS))


def temperature_scale(axis: Axis) -> ColourScale:
    """Return the scale of temperatures over an axis."""
    return ColourScale(axis, colour_map("temperature"))


def difference_scale(axis: Axis) -> ColourScale:
    """Return the scale of differences over an axis with nil in its middle."""
    if abs(axis.low + axis.high) > 1e-6 * (axis.high - axis.low):
        raise ValueError("an axis of differences has nil in its middle")
    return ColourScale(axis, colour_map("difference"))


def cells_png(indices: NDArray[np.uint8], scale: ColourScale, across: int, up: int) -> bytes:
    """Return an image of cells, row 0 at the bottom, each `across` x `up` pixels.

    Viewers that smooth images then blur only the seams.
    """
    return write_png(np.kron(indices[::-1], np.ones((up, across), np.uint8)), scale.palette)


def bar_png(scale: ColourScale) -> bytes:
    """Return the colours of a scale from low to high, one pixel each."""
    return write_png(np.arange(STEPS, dtype=np.uint8)[None, :], scale.palette)


_SIGNATURE = b"\x89PNG\r\n\x1a\n"


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def write_png(indices: NDArray[np.uint8], palette: Sequence[str]) -> bytes:
    """Return a PNG file of palette indices, the first row on top.

    palette : #rrggbb; an index one past its end is clear
    Source: W3C Portable Network Graphics specification (third edition): chunks, colour type 3,
    filters 0 (none) and 2 (up).
    """
    height, width = indices.shape
    colours = b"".join(bytes.fromhex(colour[1:]) for colour in palette) + b"\xff\xff\xff"
    opacity = b"\xff" * len(palette) + b"\x00"
    rows, above = [], None
    for row in indices:
        if above is not None and np.array_equal(row, above):
            rows.append(b"\x02" + bytes(width))
        else:
            rows.append(b"\x00" + row.tobytes())
        above = row
    return (
        _SIGNATURE
        + _chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, 8, 3, 0, 0, 0))
        + _chunk(b"PLTE", colours)
        + _chunk(b"tRNS", opacity)
        + _chunk(b"IDAT", zlib.compress(b"".join(rows), 9))
        + _chunk(b"IEND", b"")
    )
