"""The bent hoop in its place on the bed: the computed curve, its size and its strain."""

from functools import cached_property
from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.elastica import HoopCurve, bend_hoop, length_for_rise, width_at
from hoopwright.beam.hold import Hold
from hoopwright.frozen import dataclass
from hoopwright.holding.straps import Leg, leg_beside, leg_on_rod
from hoopwright.hoop.outline import Outline, outline_of
from hoopwright.tables.pipes import Pipe


@dataclass(frozen=True)
class Hoop:
    """One hoop as it stands, unloaded. Heights are above the ground, across is from the middle.

    curve       : the free pipe between the points where its legs are held
    leg         : straps and foot, both legs alike
    hold_height : [m] height of those points
    on_the_edge : True where an inside leg bulges against the board's top edge, which then holds
                  it instead of the top strap
    """

    pipe: Pipe
    curve: HoopCurve
    leg: Leg
    hold_height: float
    on_the_edge: bool

    @property
    def cut_length(self) -> float:
        """Return the pipe to cut [m]."""
        return self.curve.length + 2 * (self.hold_height - self.leg.foot)

    @property
    def span(self) -> float:
        """Return the distance between the legs' centrelines [m]."""
        return self.curve.span

    @property
    def crown(self) -> float:
        """Return the height of the pipe's underside at the crown [m] above the ground."""
        return self.hold_height + self.curve.rise - self.pipe.outside_diameter / 2

    @property
    def crown_over_board(self) -> float:
        """Return the clear height at the crown above the board's top edge [m]."""
        return self.crown - self.leg.board_top

    @property
    def overall_width(self) -> float:
        """Return the widest width over the outside of the pipe [m]."""
        return self.span + 2 * self.curve.bulge + self.pipe.outside_diameter

    @property
    def strain(self) -> float:
        """Return the greatest fibre strain of the bend [-]: outside diameter over twice the
        least radius of the centreline (plane sections stay plane)."""
        return self.pipe.fibre_strain(self.curve.least_radius)

    @property
    def nominal_stress(self) -> float:
        """Return modulus times strain [Pa]. A plastic pipe bent this far no longer follows its
        modulus and relaxes for months, so this is an upper bound and no measure of safety."""
        return self.strain * self.pipe.stuff.flexural_modulus.likely

    @property
    def span_share(self) -> float:
        """Return span over free length [-]: below 0.457 a clamped hoop bulges over the bed."""
        return self.curve.span / self.curve.length

    def thrust(self, share: float = 1.0) -> float:
        """Return how hard each leg pushes outward [N]; negative pulls inward; 0 where formed.

        share : of the short-term stiffness still acting; relaxation lowers it over a season
        """
        return share * self._springs_back * self.curve.thrust_per_stiffness

    def foot_moment(self, share: float = 1.0) -> float:
        """Return the moment that the straps must hold at the foot [N m]; the sign is that of
        the crown's where positive."""
        return share * self._springs_back * self.curve.foot_curvature

    def crown_moment(self, share: float = 1.0) -> float:
        """Return the bending moment at the crown [N m]."""
        return share * self._springs_back * self.curve.crown_curvature

    @property
    def _springs_back(self) -> float:
        return self.pipe.bending_stiffness if self.pipe.springs else 0.0

    def clear_width(self, height: float) -> float:
        """Return the inside width at a height above the ground [m]; 0 above the crown."""
        if height >= self.crown:
            return 0.0
        rise = max(0.0, height - self.hold_height)
        return float(width_at(self.curve, rise)) - self.pipe.outside_diameter

    @cached_property
    def centreline(self) -> NDArray[np.float64]:
        """Return the whole pipe from foot to foot as (n, 2) points [m]: across, height."""
        half = self.span / 2
        free = np.column_stack([self.curve.x - half, self.curve.y + self.hold_height])
        feet = np.array([[-half, self.leg.foot], [half, self.leg.foot]])
        return np.vstack([feet[:1], free, feet[1:]])

    @cached_property
    def outline(self) -> Outline:
        """Return the line of the film: along the outside of the pipe, board top to board top.

        The outside of a bent pipe is longer than its centreline by its radius times the turn;
        below the board top the pipe is taken as upright.
        """
        curve, top, radius = self.curve, self.leg.board_top, self.pipe.outside_diameter / 2
        outward = np.column_stack([-np.sin(curve.angle), np.cos(curve.angle)])
        middle = np.column_stack([curve.x - self.span / 2, curve.y + self.hold_height])
        outside = middle + radius * outward
        below = top - self.hold_height
        along = curve.arc + radius * (curve.angle[0] - curve.angle) - below
        whole = float(along[-1]) - below
        above = outside[:, 1] >= top
        arc = np.clip(along[above], 0.0, whole)
        points = _from_the_boards(outside[above], top)
        return Outline(points, np.array([0.0, *arc, whole]), self.pipe.outside_diameter)

    @cached_property
    def midline(self) -> Outline:
        """Return the pipe's centreline from board top to board top."""
        line, top = self.centreline, self.leg.board_top
        return outline_of(_from_the_boards(line[line[:, 1] >= top - 1e-9], top))


def _from_the_boards(above: NDArray[np.float64], board_top: float) -> NDArray[np.float64]:
    left, right = [[above[0, 0], board_top]], [[above[-1, 0], board_top]]
    return np.vstack([left, above, right])


def leg_span(
    outer_width: float, wall: float, outside_diameter: float, legs: Literal["inside", "outside"]
) -> float:
    """Return the distance between leg centrelines [m] for legs against the boards."""
    if legs == "outside":
        return outer_width + outside_diameter
    return outer_width - 2 * wall - outside_diameter


def hoop_of(
    pipe: Pipe,
    *,
    span: float,
    board_top: float,
    embed: float,
    straps: int,
    legs: Literal["inside", "outside"],
    cut_length: float | None = None,
    crown_over_board: float | None = None,
) -> Hoop:
    """Return the hoop of a cut length [m], or the one that reaches a clear height [m].

    straps : on each leg; 0 stands each leg on the ground over a rod instead
    Exactly one of `cut_length` and `crown_over_board` is given. Where the legs stand inside
    and the hoop bulges, the board's top edge takes over from the top strap; the curve is then
    solved again from that edge. That the pipe lies flat on the board below the edge is an
    assumption.

    Raises ValueError where the pipe is too short for the span or the height out of reach.
    """
    leg = leg_beside(board_top, embed, straps=straps) if straps else leg_on_rod(board_top)
    hold = Hold.two_straps(leg.strap_spacing) if straps == 2 else Hold.one_strap()
    hoop = _hoop_held(pipe, span, leg, leg.top_strap, hold, cut_length, crown_over_board, False)
    if legs == "inside" and hoop.curve.bulge > 1e-6:
        lower = leg.low_strap if leg.low_strap is not None else leg.top_strap
        edge = Hold.two_straps(board_top - lower)
        hoop = _hoop_held(pipe, span, leg, board_top, edge, cut_length, crown_over_board, True)
    return hoop


def _hoop_held(
    pipe: Pipe,
    span: float,
    leg: Leg,
    hold_height: float,
    hold: Hold,
    cut_length: float | None,
    crown_over_board: float | None,
    on_the_edge: bool,
) -> Hoop:
    if cut_length is not None:
        length = cut_length - 2 * (hold_height - leg.foot)
        if length <= span:
            raise ValueError("the pipe is too short to cross the bed")
    else:
        assert crown_over_board is not None
        above = leg.board_top - hold_height + crown_over_board
        length = length_for_rise(span, above + pipe.outside_diameter / 2, hold)
    return Hoop(pipe, bend_hoop(length, span, hold), leg, hold_height, on_the_edge)


def narrowest_span(pipe: Pipe, length: float, hold: Hold, strain: float) -> float | None:
    """Return the least span [m] at which this free length stays within a fibre strain [-].

    None where no span is gentle enough. Narrow spans bend the crown; wide ones, where the feet are
    held upright, the feet: so spans are tried from narrow to wide, and the first that will do is
    closed in on by halving.
    """
    least_radius = pipe.outside_diameter / (2 * strain)

    def gentle(span: float) -> bool:
        return bend_hoop(length, span, hold).least_radius >= least_radius

    spans = [length * share / 100 for share in range(12, 98, 2)]
    wide = next((span for span in spans if gentle(span)), None)
    if wide is None or wide == spans[0]:
        return wide
    narrow = wide - 0.02 * length
    while wide - narrow > 1e-4 * length:
        middle = (narrow + wide) / 2
        if gentle(middle):
            wide = middle
        else:
            narrow = middle
    return wide


def leg_lift(length: float, span: float, hold: Hold, drop: float) -> float:
    """Return how far to raise each leg [m] so that a crown low by `drop` [m] comes level.

    Raising both legs by e lengthens the free arc by 2e at the same span, which raises the crown
    by more than e; the slope of rise against length is taken over the small step itself.
    """
    step = max(abs(drop), 1e-3)
    now = bend_hoop(length, span, hold).rise
    longer = bend_hoop(length + step, span, hold).rise
    return drop / ((longer - now) / step) / 2
