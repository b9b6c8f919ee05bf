"""How the hoops and the bed are held down: what the plan chooses."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from hoopwright.holding.grip import PullTest
from hoopwright.tables.fittings import Screw, Stake

LegStyle = Literal["straps", "sleeve"]


@dataclass(frozen=True)
class HoldDown:
    """What holds the legs to the boards and the box to the ground.

    leg          : strapped to the boards, or slipped over rods driven into the ground
    pin          : screw through each leg below the upper strap, or None
    pull_test    : the person's own pull on a leg, which replaces the default grip
    sleeve_rod   : rod inside each leg where leg is "sleeve"
    stake, stakes, stake_depth : stakes that hold the box: kind, number, [m] in the ground
    tied_to_soil : the boards' lower edges are tied across under the soil
    soil         : what fills the bed, a name of loads.soil
    """

    leg: LegStyle = "straps"
    pin: Screw | None = None
    pull_test: PullTest | None = None
    sleeve_rod: Stake | None = None
    stake: Stake | None = None
    stakes: int = 0
    stake_depth: float = 0.4572
    tied_to_soil: bool = False
    soil: str = "bed mix"
