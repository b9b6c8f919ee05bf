"""The outline of a cover across its bed: whatever makes it, cover, heat, loads and drawing take it.

A hoop makes one; so would a lid on a low box, or a pointed arch.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

Floats = NDArray[np.float64]


@dataclass(frozen=True, eq=False)
class Outline:
    """The line on which the cover lies, from the left board top over the crown to the right one.

    points    : (n, 2) [m] across from the middle of the bed, and height above the ground
    arc       : [m] length along the line at each point, from 0
    thickness : [m] of the frame under the line
    """

    points: Floats
    arc: Floats
    thickness: float = 0.0

    @property
    def length(self) -> float:
        """Return the length of the line [m]: the film from board top to board top."""
        return float(self.arc[-1])

    @property
    def span(self) -> float:
        """Return the distance between its two feet [m]."""
        return float(self.points[-1, 0] - self.points[0, 0])

    @property
    def foot(self) -> float:
        """Return the height of its lower foot above the ground [m]."""
        return float(min(self.points[0, 1], self.points[-1, 1]))

    @property
    def rise(self) -> float:
        """Return the height of its highest point above its foot [m]."""
        return float(self.points[:, 1].max()) - self.foot

    @property
    def clear_rise(self) -> float:
        """Return the clear height under the frame at the highest point, above the foot [m]."""
        return self.rise - self.thickness

    @cached_property
    def normals(self) -> Floats:
        """Return the unit normals at the points, outward, (n, 2) [-]."""
        along = np.gradient(self.points, axis=0)
        outward = np.column_stack([-along[:, 1], along[:, 0]])
        unit: Floats = outward / np.hypot(outward[:, 0], outward[:, 1])[:, None]
        return unit

    def height_at(self, across: ArrayLike) -> Floats:
        """Return the height above the ground [m] at places across [m] within its feet.

        Where the line bulges out beyond its feet, the upper branch.
        """
        places = np.atleast_1d(np.asarray(across, dtype=float))
        x, y = self.points[:, 0], self.points[:, 1]
        low, high = np.minimum(x[1:], x[:-1]), np.maximum(x[1:], x[:-1])
        inside = (places[:, None] >= low) & (places[:, None] <= high)
        run = np.where(np.diff(x) == 0, 1.0, np.diff(x))
        at = y[:-1] + (places[:, None] - x[:-1]) / run * np.diff(y)
        at = np.where(np.diff(x) == 0, np.maximum(y[1:], y[:-1]), at)
        found: Floats = np.where(inside, at, -np.inf).max(axis=1)
        return found


def outline_of(points: ArrayLike, thickness: float = 0.0) -> Outline:
    """Return the outline through points (n, 2) [m], its arc along the chords."""
    line = np.asarray(points, dtype=float)
    steps = np.hypot(*np.diff(line, axis=0).T)
    return Outline(line, np.concatenate([[0.0], np.cumsum(steps)]), thickness)
