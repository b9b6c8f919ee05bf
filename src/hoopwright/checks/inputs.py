"""What is uncertain about one covered bed, drawn once and shared by all its rungs."""

from __future__ import annotations

from dataclasses import field, replace
from functools import cached_property

import numpy as np

from hoopwright.checks.standing import Standing, doubts
from hoopwright.frozen import Keeping, dataclass
from hoopwright.holding.grip import forces, shares
from hoopwright.loads.snow import Floats, snow_kinds
from hoopwright.loads.wind_cases import internal_pressures
from hoopwright.odds.draws import HIGH_SCORE, Draws
from hoopwright.tables.spread import Spread

PRESSURE = "pressure on the cover over the standards'"
INSIDE = "pressure inside the cover"
#: A pipe in a gust is between hot in the sun under film and a little cold [-] of its stiffness
#: at 23 degC; the warm end is the pipe's own row, the cool end an assumption.
COOL_STIFFNESS = 1.05
#: Age of the boards [yr] for which all is worked out, and for which the table has its rows.
BOARD_YEARS = 5.0


@dataclass(frozen=True)
class Inputs(Keeping):
    """The drawn inputs of one bed, each an array over the draws.

    years : age of the boards that hold the screws [yr]
    """

    standing: Standing
    draws: Draws = field(default_factory=Draws)
    years: float = BOARD_YEARS

    def of_pinned(self, standing: Standing) -> Inputs:
        """Return these inputs for a bed that differs in pins, stakes and ties below alone.

        What `once` kept serves both, so nothing that those decide may be kept with it.
        """
        found = replace(self, standing=standing)
        vars(found).update({**vars(self), "_kept": self.kept, "standing": standing})
        return found

    def doubt(self, name: str) -> Floats:
        """Return a share or factor of the table of doubts [-]."""
        return self.draws.of(name, doubts()[name])

    def force(self, name: str) -> Floats:
        """Return a force of the table of grips [N]."""
        return self.draws.of(name, forces()[name])

    def friction(self, name: str) -> Floats:
        """Return a friction or relaxed share of the table of grips [-]."""
        return self.draws.of(name, shares()[name])

    @cached_property
    def pressure(self) -> Floats:
        """Return what the outside pressures are over the standards' likely ones [-]."""
        return self.doubt(PRESSURE)

    def inside(self, state: str) -> Floats:
        """Return the pressure inside over the velocity pressure [-]; one doubt for all states."""
        if state not in self._inside:
            value = internal_pressures()[state]
            score = self.draws.score(INSIDE)
            self.draws.used.setdefault(INSIDE, value)
            up, down = value.high - value.likely, value.likely - value.low
            found = value.likely + np.where(score > 0, up, down) * score / HIGH_SCORE
            self._inside[state] = np.asarray(found)
        return self._inside[state]

    @cached_property
    def _inside(self) -> dict[str, Floats]:
        return {}

    @cached_property
    def modulus(self) -> Floats:
        """Return the pipe's short-term modulus over its nominal one [-]."""
        figure = self.standing.hoop.pipe.stuff.flexural_modulus
        return self.draws.of("stiffness of the pipe", figure) / figure.likely

    @cached_property
    def stiffness(self) -> Floats:
        """Return the pipe's stiffness in a gust over its nominal one [-]: modulus and warmth."""
        hot = self.standing.hoop.pipe.stuff.modulus_hot.likely
        warm = self.draws.of("warmth of the pipe in a gust", Spread(hot, 1.0, COOL_STIFFNESS))
        return np.asarray(self.modulus * warm)

    @cached_property
    def relaxed(self) -> Floats:
        """Return the share of the bend's force that is left [-]."""
        return self.draws.of("share of the bend that is left", self.standing.hoop.pipe.bend_left)

    @cached_property
    def snow_stiffness(self) -> Floats:
        """Return the stiffness that bears snow over the nominal one [-]."""
        left = self.standing.hoop.pipe.stuff.stiffness_under_snow
        return np.asarray(self.modulus * self.draws.of("stiffness left under snow", left))

    @cached_property
    def film(self) -> Floats:
        """Return the film's modulus over its likely one [-]; 1 for fabric and mesh."""
        modulus = self.standing.cover.material.strength.modulus
        if modulus is None:
            return np.ones(self.draws.count)
        return self.draws.of("stiffness of the film", modulus) / modulus.likely

    @cached_property
    def clip(self) -> Floats:
        """Return the pull at which one film clip lets go [N]."""
        return self.standing.hold_down.clip_grip(self.draws)

    def density(self, kind: str) -> Floats:
        """Return the density of a kind of snow [kg/m3]; one doubt for each kind."""
        return self.draws.of(f"weight of {kind} snow", snow_kinds()[kind])

    @cached_property
    def gust_share(self) -> Floats:
        """Return the gust at the crown over the gust 10 m up in the open [-]."""
        return self.standing.wind.share(self.draws)

    def gust(self, pressure: Floats) -> Floats:
        """Return the gust in the open [m/s] that brings each draw's velocity pressure [Pa]."""
        return self.standing.wind.speed(pressure) / self.gust_share
