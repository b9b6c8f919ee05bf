"""What the film's pull along the bed does to the hoops at its ends, leaning and pull in balance.

The further the end hoops lean, the slacker is the film and the less it pulls. Inner hoops are
drawn both ways alike and feel nothing of it.
"""

import math
from collections.abc import Callable, Sequence
from functools import cached_property
from itertools import groupby, pairwise

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.elastica import HoopCurve
from hoopwright.beam.out_of_plane import CROWN, Aside, gauss_shares, push_aside
from hoopwright.checks.end_sheet import Stay, stay_of
from hoopwright.checks.standing import Standing
from hoopwright.cover.giving import Floats, Giving, giving_spans
from hoopwright.frozen import Keeping, dataclass

#: Moment over turn [N m/rad] of a leg in one tube strap, tilted along the board: a strap of 20
#: gauge yields as a frame at about 1.2 N m, here spread over a third of a radian (ours, rough).
ONE_STRAP_TURN = 4.0
#: A screw through the leg keeps it from spinning; over bending stiffness by length [-].
SPIN_HELD = 1e4
#: Rows of the responses behind those of the pulls: a load all along, and the crown.
EVEN, AT_CROWN = -2, -1


@dataclass(frozen=True)
class EndSheets:
    """What the wind does to the end sheets for each pascal on the film.

    windward, lee : [N/m] of arc on the hoops that hold them, both with the wind positive
    """

    windward: float = 0.0
    lee: float = 0.0


@dataclass(frozen=True)
class Drawn(Keeping):
    """One hoop of the windward end as the film pulls harder, states by rising pressure.

    pressure : [Pa] on the film where it is pressed the hardest; pull : [N/m] of arc there
    lean : [m] of the point that stands furthest off its place along the bed
    bending, twist : [1/m] across the plane and about itself, (states, points)
    foot_moment : [N m] against tilting, foot_force : [N] along the board, of the worse leg
    strut : [N] in the ridge; sheet : [N/m] pull of the end sheet that holds the hoop back
    """

    pressure: Floats
    pull: Floats
    lean: Floats
    bending: Floats
    twist: Floats
    foot_moment: Floats
    foot_force: Floats
    strut: Floats
    sheet: Floats


@dataclass(frozen=True)
class Pulled:
    """One case of the film's pull, for several stiffnesses of the pipe and slacks of the sheets.

    case : row of the shapes; shares : [-] of the pipe's short-term stiffness
    slacks : [-] of the end sheet over its height, None where none stays the hoops
    """

    case: int
    shares: Sequence[float]
    sheets: EndSheets
    slacks: Sequence[float | None]


@dataclass(frozen=True, eq=False)
class _EndRow:
    """One of them: film [N/m] over the pipe's share, as a softer hoop is one pulled harder."""

    case: int
    film: float
    share: float
    sheets: EndSheets
    stay: Stay | None


@dataclass(frozen=True)
class EndHoops:
    """The hoops that stand together at one end of the film.

    shapes : [-] pull at each point over that at the hardest, at `gauss_shares`, a row a case
    """

    standing: Standing
    shapes: Floats

    @cached_property
    def aside(self) -> Aside:
        """Return what 1 N/m of each pull, 1 N/m all along and 1 N at the crown do to one hoop.

        All hoops of the end share a load: the film is clipped to both of a framed pair, and a
        hand's breadth of it is far stiffer than a hoop.
        """
        standing = self.standing
        pipe, curve = standing.hoop.pipe, standing.hoop.curve
        nothing = np.zeros((1, self.shapes.shape[1]))
        forces = np.zeros(self.shapes.shape[0] + 2)
        forces[AT_CROWN] = 1.0
        pinned = standing.hold_down.pin is not None
        return push_aside(
            curve,
            pipe.bending_stiffness,
            np.vstack([self.shapes, nothing + 1.0, nothing]) / standing.hoops_an_end,
            forces / standing.hoops_an_end,
            foot_turn=foot_turn(standing),
            foot_twist=SPIN_HELD * pipe.bending_stiffness / curve.length if pinned else 0.0,
            torsion_share=1 / (1 + pipe.stuff.poisson_ratio.likely),
            bend_left=pipe.bend_left.likely,
        )

    def drawn(
        self,
        case: int,
        film: float,
        shares: Sequence[float] = (1.0,),
        sheets: EndSheets | None = None,
        slack: float | None = None,
    ) -> tuple[Drawn, ...]:
        """Return the windward end's hoop as the film pulls harder and harder, for each share.

        case : row of the shapes; film : [N/m] stiffness of the film
        shares : [-] of the pipe's short-term stiffness, ridge and feet alike
        slack : [-] of the end sheet over its height, None where none stays the hoops

        A ridge that can push keeps the two ends' crowns apart until it bows out between the
        hoops, and then bears what it bore. All hoops that it joins share what pushes both
        ends the same way. Without it the windward end stands that alone.
        """
        return self.drawn_each(film, [Pulled(case, shares, sheets or EndSheets(), (slack,))])[0][0]

    def drawn_each(self, film: float, pulls: Sequence[Pulled]) -> list[list[tuple[Drawn, ...]]]:
        """Return what `drawn` does for each slack of each pull, all worked out side by side."""
        bears = ridge_bears(self.standing)
        rows = [
            _EndRow(pull.case, film / share, share, pull.sheets, stay)
            for pull in pulls
            for stay in [self.stay(pull.case, slack) for slack in pull.slacks]
            for share in pull.shares
        ]
        state = self._balance(rows, None if bears == 0 else bears)
        ridge = self._ridge(rows, state)
        state, ridge = state.some(ridge >= bears), ridge[ridge >= bears]
        if bears > 0:
            firm = self._balance(rows, 0.0)
            held = self._ridge(rows, firm)
            firm, held = firm.some(held < bears), held[held < bears]
            both = zip(vars(state).values(), vars(firm).values(), strict=True)
            state, ridge = Giving(*map(np.concatenate, both)), np.concatenate([ridge, held])
        order = np.lexsort((state.pressure, state.row))
        state, ridge = state.some(order), np.minimum(ridge[order], bears)
        found, first = [], 0
        for pull in pulls:
            each, count = len(pull.shares), len(pull.shares) * len(pull.slacks)
            ends = np.searchsorted(state.row, np.arange(first, first + count + 1))
            here = slice(int(ends[0]), int(ends[-1]))
            of_pull = rows[first : first + count]
            drawn = self._responses(of_pull, state.some(here), ridge[here], ends - ends[0])
            found.append([tuple(drawn[at : at + each]) for at in range(0, count, each)])
            first += count
        return found

    def stay(self, case: int, slack: float | None) -> Stay | None:
        """Return the end sheet as a stay of hoops that lean as the film's pull makes them."""
        if slack is None:
            return None
        aside, curve = self.aside, self.standing.hoop.curve
        shares, weights = gauss_shares()
        arc = shares * curve.length
        return stay_of(
            aside.lean[case] / self._means[case, case],
            np.interp(arc, curve.arc, curve.y),
            weights * curve.length * np.abs(np.cos(np.interp(arc, curve.arc, curve.angle))),
            slack,
        )

    @cached_property
    def _spread(self) -> Floats:
        """Return the whole of each pull over that of one as hard all along [-]."""
        return np.asarray(self.shapes @ self.aside.weight)

    @cached_property
    def _means(self) -> Floats:
        """Return the mean lean [m] of each response, weighed by each pull, (responses, pulls)."""
        return np.asarray(self.aside.lean @ (self.shapes * self.aside.weight).T / self._spread)

    def _balance(self, rows: Sequence[_EndRow], ridge: float | None) -> Giving:
        """Return film and both ends in balance.

        ridge : [N] that a bowed ridge bears; 0 for one that stays straight, None for none
        """
        case = np.array([row.case for row in rows])
        film = np.array([row.film for row in rows])
        mean, crown = self._means[:, case], self.aside.lean[:, CROWN, None]
        straight = ridge == 0.0
        give = mean - crown / crown[AT_CROWN] * mean[AT_CROWN] if straight else mean
        held: Callable[[Floats], Floats] | None = None
        if any(row.stay for row in rows):
            # A stay's force is spread along the arc as the film's pull is.
            share = (film / (self.standing.hoop.curve.length * self._spread[case]))[:, None]
            stays = [(stay, len(list(some))) for stay, some in groupby(row.stay for row in rows)]

            def held(lean: Floats) -> Floats:
                pulls, first = np.zeros_like(lean), 0
                for stay, count in stays:
                    part = slice(first, first + count)
                    if stay is not None:
                        pulls[part] = np.interp(lean[part], stay.lean, stay.held)
                    first += count
                return np.asarray(share * pulls)

        return giving_spans(
            self.standing.bay,
            film,
            self.standing.bays,
            give[case, np.arange(case.size)],
            (
                give[EVEN] * [row.sheets.windward for row in rows],
                give[EVEN] * [-row.sheets.lee for row in rows],
            ),
            -(ridge or 0.0) * mean[AT_CROWN],
            held,
        )

    def _together(self, case: int, lean: Floats, stay: Stay, film: float) -> tuple[Floats, Floats]:
        """Return how far all crowns on a ridge lean the same way once both end sheets stay them.

        lean : [m] of the crowns without. Also the mean lean of the hoops [m]
        """
        aside, standing = self.aside, self.standing
        over = float(aside.lean[case, CROWN] / self._means[case, case])
        gives = float(aside.lean[AT_CROWN, CROWN]) * standing.hoops_an_end / len(standing.hoops)
        crowns = stay.lean * over
        free = crowns + gives * 2 * film * stay.held * stay.lean / over
        stayed = np.interp(lean, free, crowns)
        return stayed, stayed / over

    def _ridge(self, rows: Sequence[_EndRow], state: Giving) -> Floats:
        """Return what the ridge would have to carry to keep the two crowns apart [N]."""
        crown = self.aside.lean[:, CROWN]
        own = np.array([crown[row.case] for row in rows])[state.row]
        odd = np.array([0.5 * (row.sheets.windward - row.sheets.lee) for row in rows])[state.row]
        net = state.pull - state.stayed
        return np.asarray((net * own + odd * state.pressure * crown[EVEN]) / crown[AT_CROWN])

    def _responses(
        self, rows: Sequence[_EndRow], state: Giving, ridge: Floats, ends: NDArray[np.int64]
    ) -> list[Drawn]:
        """Return the states of one case's rows as what they ask.

        ridge : [N] push in it; ends : where each row's states begin, and the last one's end
        """
        aside, standing, row = self.aside, self.standing, rows[0]
        crown, pressure, pull = aside.lean[:, CROWN], state.pressure, state.pull
        share = np.repeat([one.share for one in rows], np.diff(ends))
        # What pushes both ends the same way is shared by every hoop on the ridge.
        same = 0.5 * (row.sheets.windward + row.sheets.lee) * pressure
        others = 1 - standing.hoops_an_end * 2 / len(standing.hoops)
        together = same * crown[EVEN] * (1 - others)
        held, strain = -ridge, np.zeros_like(ridge)
        if standing.ridge_strut > 0:
            held = held - same * crown[EVEN] / crown[AT_CROWN] * others
        for one, (begins, past) in zip(rows, pairwise(ends), strict=True):
            if one.stay is None:
                continue
            here = slice(begins, past)
            lean = state.lean[here]
            if standing.ridge_strut > 0:
                crowns, mean = self._together(one.case, together[here], one.stay, one.film)
                held[here] -= (together[here] - crowns) / crown[AT_CROWN]
                lean = np.maximum(lean, mean)
            strain[here] = one.film * np.interp(lean, one.stay.lean, one.stay.strain)
        basis = [row.case, EVEN % crown.size, AT_CROWN % crown.size]
        parts = np.stack([pull - state.stayed, row.sheets.windward * pressure, held], axis=1)
        length = standing.hoop.curve.length
        whole = np.array([self._spread[row.case] * length, length, 1.0])
        values = (
            pressure * share,
            pull * share,
            np.abs(parts @ aside.lean[basis]).max(axis=1),
            parts @ aside.bending[basis],
            parts @ aside.twist[basis],
            np.abs(parts @ aside.foot_moment[basis]).max(axis=1) * share,
            np.abs(parts @ whole) / 2 / standing.hoops_an_end * share,
            ridge * share,
            strain * share,
        )
        return [Drawn(*(one[a:b] for one in values)) for a, b in pairwise(ends)]


def ridge_bears(standing: Standing) -> float:
    """Return what a ridge bears before it bows out between the hoops [N], 0 where it cannot push.

    Source: Euler's load of a bar pinned at every hoop, pi^2 EI / bay^2. That the hoops keep it
    in line where it is tied to them is an assumption.
    """
    return math.pi**2 * standing.ridge_strut / standing.bay**2


def foot_turn(standing: Standing) -> float:
    """Return a leg's stiffness against tilting along the board [N m/rad].

    Two straps: the pipe between them bows, 3 EI / spacing, as in the hoop's own plane. A leg on
    a rod: the same between the ground and the rod's tip, the rod taken as firm in the soil and
    its slack in the pipe left out (assumptions). One strap: next to nothing.
    """
    hoop = standing.hoop
    stiffness = 3 * hoop.pipe.bending_stiffness
    if standing.hold_down.leg == "sleeve":
        return stiffness / (hoop.hold_height - hoop.leg.foot)
    if hoop.leg.low_strap is not None:
        return stiffness / hoop.leg.strap_spacing
    return ONE_STRAP_TURN


def end_strain(standing: Standing, drawn: Drawn) -> Floats:
    """Return the greatest fibre strain along the hoop in each state [-].

    What is left of the bend and the bending across the plane stand square to each other; torsion
    comes in by von Mises, a third of its square (a material that keeps its volume, from memory).
    """
    curve, pipe = standing.hoop.curve, standing.hoop.pipe

    def work_out() -> tuple[Floats, HoopCurve]:
        shares, _ = gauss_shares()
        bend = pipe.bend_left.likely * np.interp(shares * curve.length, curve.arc, curve.curvature)
        square = bend**2 + drawn.bending**2 + drawn.twist**2 / 3
        return np.asarray(np.sqrt(square.max(axis=1)) * pipe.outside_diameter / 2), curve

    return drawn.once(("strain", id(curve), pipe.key), work_out)[0]


def strain_at_rest(standing: Standing) -> float:
    """Return the greatest fibre strain left of the bend itself [-]."""
    pipe = standing.hoop.pipe
    bend = pipe.bend_left.likely * standing.hoop.curve.curvature.max()
    return float(bend * pipe.outside_diameter / 2)


def strap_force(standing: Standing, drawn: Drawn) -> Floats:
    """Return the force along the board on the worse strap of an end leg [N].

    Two straps share the tilting moment as a couple, and the upper one has the push too.
    """
    spacing = standing.hoop.leg.strap_spacing
    couple = drawn.foot_moment / spacing if spacing else 0.0
    return np.asarray(drawn.foot_force + couple)
