"""Guys and side lines in the hoop's plane: they pull a point of the pipe towards an anchor."""

import numpy as np

from hoopwright.beam.frame import HoopFrame
from hoopwright.beam.panels import Array
from hoopwright.frozen import dataclass

# Stretch, over the length of the arc, across which a line goes from slack to taut.
CORNER = 1e-4


@dataclass(frozen=True)
class Pull:
    """Force of all lines up to each point, (cases, points); its change by factor and by angle
    (cases, points, angles); and the whole of it (cases,)."""

    p: Array
    q: Array
    p_by_factor: Array
    q_by_factor: Array
    p_by_angle: Array
    q_by_angle: Array
    whole_p: Array
    whole_q: Array


@dataclass(frozen=True)
class TiedLines:
    """The lines of one frame in the units of its equations.

    lever: integral from the foot to each tie; beyond: 1 where a point lies beyond a tie; rest:
    length at which a line has just its own pull.
    """

    lever: Array
    beyond: Array
    anchors: Array
    stiffness: Array
    own: Array
    rest: Array

    def pulls(self, sine: Array, cosine: Array, share: Array, share_by_factor: float) -> Pull:
        """Pull of the lines at given angles, with a share of their own pull. Never a push."""
        tied_x, tied_y = cosine @ self.lever.T, sine @ self.lever.T
        to_x, to_y = self.anchors[:, 0] - tied_x, self.anchors[:, 1] - tied_y
        reach = np.hypot(to_x, to_y)
        unit_x, unit_y = to_x / reach, to_y / reach
        # A rounded corner between slack and taut, so that Newton's method sees no jump.
        straight = share * self.own + self.stiffness * (reach - self.rest)
        rounded = np.hypot(straight, CORNER * self.stiffness)
        tension = 0.5 * (straight + rounded)
        taut = tension / rounded
        spring = taut * self.stiffness
        by_factor = taut * share_by_factor * self.own
        across = tension / reach
        # Change of the force on the hoop with the tied point's place.
        xx = -(spring - across) * unit_x * unit_x - across
        xy = -(spring - across) * unit_x * unit_y
        yy = -(spring - across) * unit_y * unit_y - across
        move_x = -self.lever * sine[:, None, :]
        move_y = self.lever * cosine[:, None, :]
        by_x = np.matmul(self.beyond, xx[:, :, None] * move_x + xy[:, :, None] * move_y)
        by_y = np.matmul(self.beyond, xy[:, :, None] * move_x + yy[:, :, None] * move_y)
        return Pull(
            p=(tension * unit_x) @ self.beyond.T,
            q=(tension * unit_y) @ self.beyond.T,
            p_by_factor=(by_factor * unit_x) @ self.beyond.T,
            q_by_factor=(by_factor * unit_y) @ self.beyond.T,
            p_by_angle=by_x,
            q_by_angle=by_y,
            whole_p=(tension * unit_x).sum(axis=1),
            whole_q=(tension * unit_y).sum(axis=1),
        )


def tied_lines(frame: HoopFrame) -> TiedLines:
    """The lines of a frame, just taut with their own pull on the unloaded hoop."""
    rule, length = frame.rule, frame.length
    stations = np.array([frame.station(line.share) for line in frame.lines], dtype=np.int64)
    anchors = np.array([[line.anchor_x, line.anchor_y] for line in frame.lines]) / length
    lever = rule.to_edges[stations]
    tied = np.stack([lever @ np.cos(frame.angle), lever @ np.sin(frame.angle)], axis=-1)
    spread = frame.stiffness / length**3
    return TiedLines(
        lever=lever,
        beyond=(rule.points[:, None] > rule.edges[None, stations]).astype(float),
        anchors=anchors,
        stiffness=np.array([line.stiffness for line in frame.lines]) / spread,
        own=np.array([line.pull for line in frame.lines]) / (spread * length),
        rest=np.linalg.norm(anchors - tied, axis=-1),
    )
