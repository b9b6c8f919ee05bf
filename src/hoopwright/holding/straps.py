"""Where the straps sit on the board, and the two-strap leg they make."""

from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class Leg:
    """One leg of a hoop beside the board, heights above the ground [m].

    foot      : lower end of the pipe
    top_strap : middle of the upper strap
    low_strap : middle of the lower strap, or None where one strap holds the leg
    board_top : top edge of the board
    """

    foot: float
    top_strap: float
    low_strap: float | None
    board_top: float

    @property
    def embed(self) -> float:
        """Return the length of pipe below the board's top edge [m]."""
        return self.board_top - self.foot

    @property
    def strap_spacing(self) -> float:
        """Return the distance between the straps [m]; 0 for one strap."""
        return self.top_strap - self.low_strap if self.low_strap is not None else 0.0

    @property
    def straps(self) -> int:
        """Return how many straps hold the leg."""
        return 1 if self.low_strap is None else 2


def leg_beside(
    board_top: float,
    embed: float,
    *,
    straps: int,
    edge: float = 0.0381,
    pipe_end: float = 0.0254,
) -> Leg:
    """Return the leg that reaches `embed` [m] below the board top.

    straps   : 1 or 2
    edge     : [m] from a board edge to the middle of a strap; 1 1/2 in keeps a screw of up to
               0.216 in more than the 4 diameters off a loaded edge that NDS 2018 commentary
               table C12.1.6-1 suggests (from memory)
    pipe_end : [m] of pipe below the middle of the lower strap, so that it cannot slip out
               (common practice, no source)
    """
    foot = board_top - embed
    low = max(edge, foot + pipe_end) if straps == 2 else None
    return Leg(foot, board_top - edge, low, board_top)


def strap_room(board_top: float, embed: float, *, edge: float = 0.0381) -> float:
    """Return the strap spacing [m] that this embed leaves; negative leaves no room for two.

    edge : [m] of the strap's middle from the board's top, as of `leg_beside`
    """
    leg = leg_beside(board_top, embed, straps=2, edge=edge)
    return leg.strap_spacing


def leg_on_rod(board_top: float, *, rod_top: float = 0.3048) -> Leg:
    """Return the leg that stands on the ground, slipped over a rod that ends `rod_top` [m] up.

    The pipe turns on the rod's tip, so it is taken as held by one strap there: the slack between
    rod and pipe lets it tilt before any couple forms.
    """
    return Leg(0.0, rod_top, None, board_top)
