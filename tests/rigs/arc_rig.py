"""The section of any curve given by points, for tests of what meets it."""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike

from hoopwright.loads.arc_section import ArcSection, steep_share


def section_of(across: ArrayLike, up: ArrayLike, wall_height: float = 0.0) -> ArcSection:
    """Return the section of a curve given by points.

    across, up : [m] from the windward foot to the lee foot; wall_height : [m] of the box below
    """
    x, y = np.asarray(across, dtype=float), np.asarray(up, dtype=float)
    along = np.concatenate([[0.0], np.cumsum(np.hypot(np.diff(x), np.diff(y)))])
    steepness = np.arctan2(np.abs(np.gradient(y, along)), np.abs(np.gradient(x, along)))
    span = abs(x[-1] - x[0])
    rise = y.max() - 0.5 * (y[0] + y[-1])
    share = along / along[-1]
    return ArcSection(
        share,
        steepness,
        float(rise / span),
        float(wall_height / span),
        (share < steep_share(share, steepness)).astype(float),
    )
