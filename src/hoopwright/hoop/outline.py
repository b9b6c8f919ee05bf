"""The outline of a cover across its bed: whatever makes it, cover, heat, loads and drawing take it.

A hoop makes one; so would a lid on a low box, or a pointed arch.
"""

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.frozen import dataclass

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


def outline_of(points: ArrayLike, thickness: float = 0.0) -> Outline:
    """Return the outline through points (n, 2) [m], its arc along the chords."""
    line = np.asarray(points, dtype=float)
    steps = np.hypot(*np.diff(line, axis=0).T)
    return Outline(line, np.concatenate([[0.0], np.cumsum(steps)]), thickness)
