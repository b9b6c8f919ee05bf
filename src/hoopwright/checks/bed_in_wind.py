"""What a gust does to the whole bed, if everything above holds: lifts, tips or slides it."""

from functools import cached_property

import numpy as np

from hoopwright.checks.followed_hoop import FollowedHoop, is_opened
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.read_off import Floats, Met, least_of
from hoopwright.checks.rung import Rung
from hoopwright.checks.standing import Standing
from hoopwright.frozen import dataclass
from hoopwright.holding.anchor import SoilInBox, box_lifts_at, box_turns_at, stake_side_capacity
from hoopwright.holding.sleeve import rod_pull_out, soil_frictions
from hoopwright.loads.arc_section import Resultant, resultant
from hoopwright.loads.soil import active_coefficient, at_rest_coefficient, soil_kinds
from hoopwright.loads.wind_cases import LEE_WALL, WINDWARD_WALL, WindCase
from hoopwright.odds.quantiles import quantiles
from hoopwright.tables.constants import STANDARD_GRAVITY
from hoopwright.tables.reader import ranges_of
from hoopwright.tables.spread import Spread

#: What a stake is driven into, where the plan does not say: the least of the soils tabled.
STAKE_SOIL = "sand"


@dataclass(frozen=True)
class BedInWind:
    """Lift, drag and tipping of a covered bed, and what holds it, on the drawn beds."""

    standing: Standing
    followed: FollowedHoop
    inputs: Inputs

    @cached_property
    def soil(self) -> SoilInBox:
        """Return the soil against the boards."""
        standing, inputs = self.standing, self.inputs
        name = standing.hold_down.soil
        soil = soil_kinds()[name]
        sticks = ranges_of("holding_soil_adhesion", "Pa", 0, 2e4)[name]
        tangent = Spread(soil.friction_low, soil.friction_likely, soil.friction_high)
        angle = np.arctan(inputs.draws.of("friction angle of the soil", tangent))
        return SoilInBox(
            depth=standing.bed.soil_depth,
            unit_weight=soil.drained * STANDARD_GRAVITY,
            windward=inputs.doubt("earth pressure on the windward board"),
            ends=at_rest_coefficient(angle),
            lee=active_coefficient(angle),
            friction=inputs.friction("soil on board"),
            adhesion=inputs.draws.of("soil sticking to the boards", sticks),
        )

    @property
    def _frame(self) -> float:
        return self.standing.frame_mass * STANDARD_GRAVITY

    @cached_property
    def _earth(self) -> Floats:
        """Return the weight of the soil in the bed, about drained [N]."""
        soil = soil_kinds()[self.standing.hold_down.soil]
        doubt = self.inputs.doubt("weight of the bed's soil over the table's")
        bed = self.standing.bed
        mass = bed.inner_length * bed.inner_width * bed.soil_depth * soil.drained
        return mass * STANDARD_GRAVITY * doubt

    @cached_property
    def stakes(self) -> tuple[Floats, Floats]:
        """Return what all the stakes hold upward and sideways [N]."""
        hold, draws = self.standing.hold_down, self.inputs.draws
        nothing = np.zeros(draws.count)
        if hold.stake is None or not hold.stakes:
            return nothing, nothing
        pull = rod_pull_out(hold.stake.size, hold.stake_depth, soil_frictions()[STAKE_SOIL])
        soil = soil_kinds()[hold.soil]
        side = stake_side_capacity(
            hold.stake.size,
            hold.stake_depth,
            self.standing.bed.height / 2,
            Spread(soil.friction_low, soil.friction_likely, soil.friction_high),
        )
        return (
            hold.stakes * draws.of("pull-out of a stake", pull),
            hold.stakes * draws.of("side push on a stake", side),
        )

    @cached_property
    def holds_down(self) -> Floats:
        """Return the uplift at which the box leaves the ground [N]."""
        bed = self.standing.bed
        staked = self.stakes[0]
        if self.standing.hold_down.tied_to_soil:
            return self._frame + np.maximum(staked, self._earth)
        lifts = box_lifts_at(self._frame, self.soil, bed.inner_length, bed.inner_width)
        return np.asarray(lifts + staked)

    @cached_property
    def turns(self) -> Floats:
        """Return the moment about the lee toe at which the box turns off its place [N m]."""
        bed = self.standing.bed
        staked = self.stakes[0] * bed.outer_width / 2
        box = box_turns_at(
            self._frame, self.soil, bed.outer_length, bed.outer_width, bed.inner_width
        )
        if self.standing.hold_down.tied_to_soil:
            whole = (self._frame + self._earth) * bed.outer_width / 2
            return np.asarray(np.maximum(box, whole) + staked)
        return np.asarray(box + staked)

    def of_case(self, case: WindCase) -> tuple[Resultant, Resultant]:
        """Return what the outside of the cover comes to, and what a pascal inside takes off it.

        For the whole bed, per pascal: lift and drag [m2], tipping [m3], the boards in it. Their
        coefficients are a wall's.
        """
        standing, frame = self.standing, self.followed.path.frame
        bed, length = standing.bed, standing.bed.outer_length
        places = (
            frame.rule.weights * frame.length,
            frame.angle,
            frame.x,
            frame.y + standing.hoop.hold_height,
        )
        toe = 0.5 * (standing.hoop.span + bed.outer_width)
        outside = resultant(case.external * case.film, *places, toe)
        inside = resultant(-case.film, *places, toe)
        boards = 0.0
        if case.wind == "across":
            boards = standing.wind.basis.gust_effect * (WINDWARD_WALL - LEE_WALL) * bed.height
        return (
            Resultant(
                length * outside.lift,
                length * (outside.drag + boards),
                length * (outside.tipping + boards * bed.height / 2),
            ),
            Resultant(length * inside.lift, length * inside.drag, length * inside.tipping),
        )

    def _demand(self, case: WindCase, what: str) -> Floats:
        outside, inside = self.of_case(case)
        within = self.inputs.inside(case.state)
        return np.asarray(
            getattr(outside, what) * self.inputs.pressure + getattr(inside, what) * within
        )

    def most(self, what: str) -> Floats:
        """Return the greatest lift or drag of the closed cases for a pascal of wind [m2]."""
        demands = [np.abs(self._demand(case, what)) for case in self._cases(False)]
        return np.asarray(np.max(demands, axis=0))

    def lifts(self, *, opened: bool) -> Met:
        """Return the velocity pressure [Pa] at which the box leaves the ground."""
        cases = self._cases(opened)
        return _soonest(self.holds_down, {one.name: self._demand(one, "lift") for one in cases})

    def tips(self, *, opened: bool) -> Met:
        """Return the velocity pressure [Pa] at which the bed tips over its lee board."""
        cases = self._across(opened)
        return _soonest(self.turns, {one.name: self._demand(one, "tipping") for one in cases})

    def slides(self, *, opened: bool) -> Met:
        """Return the pressure [Pa] at which the bed slides: drag = mu (W - lift) + stakes."""
        mu = self.inputs.friction("board on soil")
        return _soonest(
            mu * (self._frame + self._earth) + self.stakes[1],
            {
                one.name: self._demand(one, "drag") + mu * self._demand(one, "lift")
                for one in self._across(opened)
            },
        )

    def _cases(self, opened: bool) -> list[WindCase]:
        return [case for case in self.followed.cases if is_opened(case) == opened]

    def _across(self, opened: bool) -> list[WindCase]:
        return [case for case in self._cases(opened) if case.wind == "across"]

    def rungs(self, gusts: dict[str, Met]) -> list[Rung]:
        """Return the rungs of the bed. gusts : by "lifts", "tips", "slides"."""
        low, high = (float(one) for one in quantiles(self.holds_down, (0.1, 0.9)))
        tied = self.standing.hold_down.tied_to_soil
        words = {
            "lifts": "The whole bed lifts: it holds down about {low:force} to {high:force}"
            + (", its own soil counted." if tied else ", with what rubs and sticks to its boards."),
            "tips": "The bed tips over its lee board, if the cover still holds.",
            "slides": "The bed slides, if the cover still holds.",
        }
        return [
            Rung(
                name=f"bed-{name}",
                hazard="wind",
                at=self.inputs.gust(met.pressure),
                happens=words[name],
                harm="hazard",
                case=met.case,
                do="Stake the corners, or tie the boards' lower edges across under the soil "
                "(holding.tied_to_soil = true).",
                sources=(
                    "Equilibrium of the box with its soil; which earth pressures act is a prior "
                    "of ours, and no measured overturning of a low tunnel was found",
                ),
                values={"low": low, "high": high},
                brings="moves",
            )
            for name, met in gusts.items()
        ]


def _soonest(holds: Floats, demands: dict[str, Floats]) -> Met:
    """Return the least velocity pressure [Pa] at which a case's demand, for a pascal, is met."""
    return least_of([holds / np.maximum(one, 1e-9) for one in demands.values()], list(demands))
