"""How the hoops and the bed are held down: what the plan chooses."""

from typing import Literal

import numpy as np
from numpy.typing import NDArray

from hoopwright.frozen import dataclass
from hoopwright.holding.grip import PullTest, forces
from hoopwright.odds.draws import Draws
from hoopwright.odds.learn import updated
from hoopwright.tables.fittings import Clip, Screw, Stake

LegStyle = Literal["straps", "sleeve"]
RailHold = Literal["weight", "tied", "clipped"]
CLIP, TIE, RAIL_CLIP = (
    "snap clamp for film",
    "tie of a rail at one hoop",
    "clip of a rail at one hoop",
)


@dataclass(frozen=True)
class HoldDown:
    """What holds the legs to the boards and the box to the ground.

    leg          : strapped to the boards, or slipped over rods driven into the ground
    pin          : screw through each leg below the upper strap, or None
    pull_test    : the person's own pull on legs, which updates the default grip
    clip_test    : [N] the person's own pulls on film clips, which update the default
    tie_test     : [N] the same on the ties or clips of a rail
    rail         : how the rails are held down: by weight, tied or clipped at each hoop
    rail_clip    : what clips the rails, where they are clipped and one fits
    sleeve_rod   : rod inside each leg where leg is "sleeve"
    stake, stakes, stake_depth : stakes that hold the box: kind, number, [m] in the ground (18 in:
                                 common practice, no source)
    tied_to_soil : the boards' lower edges are tied across under the soil
    soil         : what fills the bed, a name of loads.soil
    """

    leg: LegStyle = "straps"
    pin: Screw | None = None
    pull_test: PullTest | None = None
    clip_test: tuple[float, ...] = ()
    tie_test: tuple[float, ...] = ()
    rail: RailHold = "tied"
    rail_clip: Clip | None = None
    sleeve_rod: Stake | None = None
    stake: Stake | None = None
    stakes: int = 0
    stake_depth: float = 0.4572
    tied_to_soil: bool = False
    soil: str = "bed mix"

    def clip_grip(self, draws: Draws) -> NDArray[np.float64]:
        """Return the pull at which one film clip lets go [N]."""
        return self._grip(CLIP, self.clip_test, draws)

    def rail_grip(self, draws: Draws) -> NDArray[np.float64]:
        """Return the pull at which the rail comes off at one hoop [N]; 0 by weight alone."""
        if self.rail == "weight":
            return np.zeros(draws.count)
        return self._grip(TIE if self.rail == "tied" else RAIL_CLIP, self.tie_test, draws)

    @staticmethod
    def _grip(name: str, readings: tuple[float, ...], draws: Draws) -> NDArray[np.float64]:
        prior = forces()[name]
        return draws.of(name, updated(prior, readings) if readings else prior)
