"""The cover in cabinet projection, part by part: sheets, battens, rails, cords and mesh."""

from __future__ import annotations

import itertools

import numpy as np
from numpy.typing import NDArray

from hoopwright.drawing.scene import (
    Circle,
    Fill,
    Hatch,
    Layer,
    Line,
    Polyline,
    Shape,
    Tone,
)
from hoopwright.drawing.solid import sheet_ends
from hoopwright.drawing.steps.oblique import Build, band, face, netted, place, stood
from hoopwright.drawing.subject import Subject, along_line, points, rectangle


def panels(build: Build) -> tuple[Shape, ...]:
    """Return the sheets over the two end hoops, down the boards to where they are battened."""
    subject = build.subject
    line = subject.film_over_hoop
    made: list[Shape] = []
    for number, station in enumerate(reversed((subject.hoops[0], subject.hoops[-1]))):
        ring = points(stood(subject, station.mark, line))
        made.append(Polyline(ring, Layer.COVER, closed=True, fill=Tone.LIGHT))
        if number == 1:
            made += _clip_dots(subject, station.mark)
    return tuple(made)


def _clip_dots(subject: Subject, mark: float) -> list[Shape]:
    if subject.cover.clip is None:
        return []
    found = [along_line(subject.film_over_hoop, at)[0] for at in subject.cover.clip_arc]
    ring = stood(subject, mark, np.array(found))
    return [Circle(at, 0.016, Layer.CLIPS, Tone.INK) for at in points(ring)]


def end_battens(build: Build) -> tuple[Shape, ...]:
    """Return the batten across the first end."""
    subject = build.subject
    low, wide = subject.end_batten_low, subject.bed.outer_width
    high = low + subject.cover.batten.width
    corners = face((0, 0, low), (0, wide, low), (0, wide, high), (0, 0, high))
    return (Polyline(corners, Layer.BATTENS, closed=True, fill=Tone.DARK),)


def film(build: Build) -> tuple[Shape, ...]:
    """Return the body sheet as a faint tone, behind the hoops."""
    subject = build.subject
    first, last = _film_ends(subject)
    ridge_at = _horizon(first)
    return (
        Fill(points(np.vstack([first[ridge_at:], last[ridge_at:][::-1]])), Layer.COVER),
        Fill(points(first), Layer.COVER),
    )


def _film_ends(subject: Subject) -> tuple[NDArray[np.float64], NDArray[np.float64]]:
    a, b = sheet_ends(subject)
    return stood(subject, a, subject.film_line), stood(subject, b, subject.film_line)


def _horizon(ring: NDArray[np.float64]) -> int:
    return int(np.argmax(ring[:, 1]))


def film_edges(build: Build) -> tuple[Shape, ...]:
    """Return the edges of the body sheet, before the hoops."""
    subject = build.subject
    first, last = _film_ends(subject)
    at = _horizon(first)
    made: list[Shape] = [
        Polyline(points(first), Layer.COVER),
        Polyline(points(last[at:]), Layer.COVER),
        Line(points(first)[at], points(last)[at], Layer.COVER),
        Line(points(first)[-1], points(last)[-1], Layer.COVER),
    ]
    if subject.cover.style == "wrapped":
        bed = subject.bed
        near, far = place(0, 0, bed.height), place(0, bed.outer_width, bed.height)
        right = place(bed.outer_length, 0, bed.height)
        made += [
            Line(points(first)[-2], near, Layer.COVER),
            Line(points(first)[1], far, Layer.COVER),
            Line(points(last)[-2], right, Layer.COVER),
        ]
    return tuple(made)


def rails(build: Build) -> tuple[Shape, ...]:
    """Return the near rail."""
    subject = build.subject
    if not subject.rolled:
        return ()
    radius, over = subject.cover.rail.outside_diameter / 2, subject.overhang
    level = max(subject.skirt_bottom, radius)
    axis = np.array([(-over, level), (subject.bed.outer_length + over, level)])
    return (band(axis, radius, Layer.RAILS),)


def side_battens(build: Build) -> tuple[Shape, ...]:
    """Return the batten along the near side."""
    subject = build.subject
    low = subject.skirt_bottom
    high = low + subject.cover.batten.width
    corners = rectangle(0.0, low, subject.bed.outer_length, high)
    return (Polyline(corners, Layer.BATTENS, closed=True, fill=Tone.DARK),)


def buried(build: Build) -> tuple[Shape, ...]:
    """Return the trench along the near side with the sheet's edge in it."""
    subject = build.subject
    deep, over = 0.7 * subject.cover.allowances.burial, subject.overhang
    a, b = -over, subject.bed.outer_length + over
    corners = ((a, 0.0), (b, 0.0), (b - 0.05, -deep), (a - 0.05, -deep))
    return (Hatch(corners, Layer.GROUND), Polyline(corners, Layer.COVER, closed=True))


def lacing(build: Build) -> tuple[Shape, ...]:
    """Return the cords over the cover, one in the middle of each bay laced."""
    subject = build.subject
    line, found = subject.film_line, [s.mark for s in subject.hoops if s.role != "panel"]
    line = np.vstack([line, [line[-1, 0], 0.04]])
    at = _horizon(stood(subject, 0.0, line))
    return tuple(
        Polyline(points(stood(subject, (a + b) / 2, line)[at:]), Layer.CUT)
        for a, b in itertools.pairwise(found)
    )


def mesh_band(build: Build) -> tuple[Shape, ...]:
    """Return the mesh inside the near side."""
    subject = build.subject
    low, length = subject.bed.height, subject.bed.outer_length
    high = low + subject.cover.mesh_band
    return netted(rectangle(0.0, low, length, high))
