"""A PNG of cells with a palette, by the standard library alone.

Source: W3C Portable Network Graphics specification (third edition): chunks, colour type 3,
filters 0 (none) and 2 (up).
"""

from __future__ import annotations

import struct
import zlib
from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

_SIGNATURE = b"\x89PNG\r\n\x1a\n"


def _chunk(kind: bytes, body: bytes) -> bytes:
    return struct.pack(">I", len(body)) + kind + body + struct.pack(">I", zlib.crc32(kind + body))


def write_png(indices: NDArray[np.uint8], palette: Sequence[str]) -> bytes:
    """Return a PNG file of palette indices, the first row on top.

    palette : #rrggbb; an index one past its end is clear
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
