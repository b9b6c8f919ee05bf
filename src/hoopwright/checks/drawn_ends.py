"""The end hoops drawn by the film, worked out at a few stiffnesses and slacks and read off between.

Each drawn bed has its own stiffness of pipe and film and its own slack of the end sheets.
"""

from collections.abc import Callable, Sequence
from functools import cached_property
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from hoopwright.beam.out_of_plane import gauss_shares
from hoopwright.checks.end_hoop import Drawn, EndHoops, EndSheets, Pulled
from hoopwright.checks.end_sheet import SLACK, sheet_area
from hoopwright.checks.film import film_stiffness
from hoopwright.checks.followed_hoop import FollowedHoop, is_opened
from hoopwright.checks.hoop_in_wind import way_between
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.read_off import Floats, Met, least_of, nearly_in_order
from hoopwright.checks.standing import Standing
from hoopwright.frozen import Keeping, dataclass
from hoopwright.loads.snow import balanced_on_curve
from hoopwright.loads.wind_cases import end_wall_coefficients

#: Film pulls with this power of its pressure, as a shallow elastic strip does; it says how the
#: pull is spread over the arc.
PULL_POWER = 2 / 3
#: Net suction [-] that is taken at least, lest a pressure without end be found.
LEAST_SUCTION = 0.05
#: A pressure [Pa] that stands for one that never comes.
NEVER = 1e9
#: Pipe over film stiffness, both over nominal [-], at which the end is worked out.
RATIOS_IN_WIND = (0.5, 0.75, 1.0, 1.5)
RATIOS_UNDER_SNOW = (0.7, 1.0, 2.0, 4.0, 8.0)
#: Slack of the end sheets [-] at which the end is worked out.
SLACKS = (0.003, 0.012, 0.04)


@dataclass(frozen=True, eq=False)
class AmongNodes:
    """Drawn ends among the stiffnesses and slacks at which the end hoops are worked out.

    film : [-] stiffness of each draw over the nominal one
    cell : between which nodes each draw lies
    lots : for each slack below and ratio of a node the draws about it, cell by cell: where those
    begin that have the node above them, those that have it below, and where these end
    by_ratio, by_slack : [-] way of each draw from the node below to the one above
    """

    film: Floats
    stayed: bool
    cell: NDArray[np.int64]
    lots: tuple[tuple[int, int, int, int, int], ...]
    by_ratio: Floats
    by_slack: Floats


def among_nodes(
    ratios: Sequence[float], pipe: Floats, film: Floats, slack: Floats | None
) -> AmongNodes:
    """Return where draws lie among the nodes.

    ratios : [-] pipe over film stiffness; pipe, film : [-] of each draw, over nominal ones
    slack : [-] of the end sheets, None for no end sheets
    """
    low, by_ratio = way_between(np.log(ratios).tolist(), np.log(pipe / film))
    under, by_slack = (0 * low, 0.0 * by_ratio) if slack is None else way_between(SLACKS, slack)
    count, slacks = len(ratios) - 1, 1 if slack is None else len(SLACKS) - 1
    cell = count * under + low
    ends = np.cumsum([0, *np.bincount(cell, minlength=count * slacks)]).tolist()
    lots = tuple(
        (row, ratio, *(ends[min(max(first + ratio + n, first), first + count)] for n in (-1, 0, 1)))
        for row, first in enumerate(range(0, count * slacks, count))
        for ratio in range(count + 1)
    )
    return AmongNodes(film, slack is not None, cell, lots, by_ratio, by_slack)


@dataclass(frozen=True)
class DrawnCase:
    """An end hoop drawn by the film in one case, for several stiffnesses of the pipe.

    outside : [-] suction where the film is pulled the hardest, the inside apart; state : of the
    cover, "" under snow; ratios : [-] of the pipe's stiffness over its nominal one
    drawn : a row for each of SLACKS, and one without end sheets
    """

    name: str
    outside: float
    state: str
    ratios: tuple[float, ...]
    drawn: tuple[tuple[Drawn, ...], ...]

    @cached_property
    def _whole(self) -> tuple[Drawn, list[int]]:
        """Return the states of all as one, and where each begins."""
        each = [one for row in self.drawn for one in row]
        fields = zip(*(one.__getstate__().values() for one in each), strict=True)
        ends = np.cumsum([0, *(one.pressure.size for one in each)])
        return Drawn(*map(np.concatenate, fields)), ends.tolist()

    def _each(self, values: Floats) -> list[list[Floats]]:
        """Return values of the whole for each, rows as in `drawn`."""
        parts = [values[a:b] for a, b in pairwise(self._whole[1])]
        count = len(self.ratios)
        return [parts[first : first + count] for first in range(0, len(parts), count)]

    def _at_nodes(
        self, read: Callable[[int, int, Floats], Floats], asked: Floats, at: AmongNodes
    ) -> tuple[Floats, NDArray[np.int64]]:
        """Return what each draw finds at the nodes about it: (slacks, ratios, draws), and an order.

        read : what a node, given by its row and column in `drawn`, has for some of what is asked
        The draws come in that order.
        """
        order = nearly_in_order(asked, at.cell)
        asked, found = asked[order], np.empty((1 + at.stayed, 2, order.size))
        for slack, ratio, first, middle, end in at.lots:
            for row, node in enumerate((slack, slack + 1) if at.stayed else (-1,)):
                lot = read(node, ratio, asked[first:end])
                found[row, 1, first:middle] = lot[: middle - first]
                found[row, 0, middle:end] = lot[middle - first :]
        return found, order

    @staticmethod
    def _between(nodes: Floats, order: NDArray[np.int64], at: AmongNodes) -> Floats:
        """Return values at nodes, as `_at_nodes`, at each draw's own ratio and slack."""
        way = at.by_ratio[order]
        rows = (1 - way) * nodes[:, 0] + way * nodes[:, 1]
        found, way = np.empty(order.size), at.by_slack[order]
        found[order] = (1 - way) * rows[0] + way * rows[1] if at.stayed else rows[0]
        return found

    def where(
        self, value: Callable[[Drawn], Floats], limit: Floats, at: AmongNodes, *, force: bool
    ) -> Floats:
        """Return the pressure on the film [Pa] at which a value meets each draw's limit.

        force : the value is one of force. Pipe and film alike m times as stiff bear m times as
        much in the same shape, so only their ratio is worked out, at a few places; between, the
        pressure goes as a power of the ratio.
        """
        wanted = limit / at.film if force else limit + 0.0 * at.film
        grown = [[np.maximum.accumulate(one) for one in row] for row in self._of(value)]
        pressure = self._pressures

        def read(row: int, ratio: int, asked: Floats) -> Floats:
            return np.interp(asked, grown[row][ratio], pressure[row][ratio], right=NEVER)

        nodes, order = self._at_nodes(read, wanted, at)
        found = np.exp(self._between(np.log(nodes), order, at))
        return np.asarray(np.where(found > 0.01 * NEVER, np.inf, at.film * found))

    def demand(self, value: Callable[[Drawn], Floats], on_film: Floats, at: AmongNodes) -> Floats:
        """Return a value at each draw's pressure on a film of its nominal stiffness [Pa]."""
        values, pressure = self._of(value), self._of(lambda drawn: drawn.pressure)

        def read(row: int, ratio: int, asked: Floats) -> Floats:
            return np.interp(asked, pressure[row][ratio], values[row][ratio])

        return self._between(*self._at_nodes(read, on_film, at), at)

    @cached_property
    def _pressures(self) -> list[list[Floats]]:
        """Return the pressures of all [Pa], a little above none, rows as in `drawn`."""
        return self._each(np.maximum(self._whole[0].pressure, 1e-9))

    def _of(self, value: Callable[[Drawn], Floats]) -> list[list[Floats]]:
        return self._each(value(self._whole[0]))


@dataclass(frozen=True)
class DrawnEnds(Keeping):
    """The hoops of the windward end under the film's pull.

    wind : in the closed cases; snow : under even snow, the pressure being the snow on plan
    """

    wind: tuple[DrawnCase, ...]
    snow: DrawnCase

    def demand(
        self, value: Callable[[Drawn], Floats], pressure: Floats, inputs: Inputs, *, force: bool
    ) -> Floats:
        """Return the greatest of a value in any wind case at each draw's velocity pressure [Pa]."""
        found = []
        for case in self.wind:
            on_film = pressure * suction(inputs, case.outside, case.state) / inputs.film
            found.append(case.demand(value, on_film, self._among(inputs, stayed=True)))
        return np.asarray(np.max(found, axis=0) * (inputs.film if force else 1.0))

    def met(
        self,
        value: Callable[[Drawn], Floats],
        limit: Floats,
        inputs: Inputs,
        *,
        force: bool,
        stayed: bool = True,
    ) -> Met:
        """Return the velocity pressure [Pa] at which a value meets its limit in any wind case.

        stayed : the end sheets hold the hoops back
        """
        found, at = [], self._among(inputs, stayed=stayed)
        for case in self.wind:
            film = case.where(value, limit, at, force=force)
            found.append(film / suction(inputs, case.outside, case.state))
        return least_of(found, [case.name for case in self.wind])

    def _among(self, inputs: Inputs, *, stayed: bool) -> AmongNodes:
        """Return where the drawn ends lie in wind."""
        ratios = self.wind[0].ratios
        return inputs.once(
            ("ends in wind", stayed, ratios),
            lambda: among_nodes(
                ratios, inputs.stiffness, inputs.film, inputs.doubt(SLACK) if stayed else None
            ),
        )


def suction(inputs: Inputs, outside: Floats | float, state: str) -> Floats:
    """Return the drawn net suction over the velocity pressure [-], a little at least.

    outside : [-] likely suction outside; state : of the cover
    """
    return np.maximum(outside * inputs.pressure + inputs.inside(state), LEAST_SUCTION)


def drawn_ends(standing: Standing, wind: FollowedHoop) -> DrawnEnds:
    """Return the end hoops drawn by the film in the closed cases of wind and under snow.

    Cords over the film hold no snow up.
    """
    curve = standing.hoop.curve
    shares, _ = gauss_shares()
    cases = [case for case in wind.cases if not is_opened(case)]
    fields = [np.maximum(case.internal.likely - case.by_zone(shares), 0.0) for case in cases]
    slope = np.abs(np.interp(shares * curve.length, curve.arc, curve.angle))
    fields.append(balanced_on_curve(slope, 1.0) * np.maximum(np.cos(slope), 0.0))
    hardest = [max(float(field.max()), LEAST_SUCTION) for field in fields]
    shapes = [(field / most) ** PULL_POWER for field, most in zip(fields, hardest, strict=True)]
    ends = EndHoops(standing, np.stack(shapes))
    film = film_stiffness(standing)
    slacks, none = (*SLACKS, None), EndSheets()
    pulls = [
        Pulled(
            row,
            RATIOS_IN_WIND,
            _sheets(standing, hardest[row]) if case.wind == "along" else none,
            slacks,
        )
        for row, case in enumerate(cases)
    ]
    pulls.append(Pulled(len(cases), RATIOS_UNDER_SNOW, none, slacks))
    *windy, snow = map(tuple, ends.drawn_each(film, pulls))
    found = [
        DrawnCase(case.name, most - case.internal.likely, case.state, RATIOS_IN_WIND, drawn)
        for case, most, drawn in zip(cases, hardest, windy, strict=False)
    ]
    return DrawnEnds(
        tuple(found), DrawnCase("snow between hoops", 1.0, "", RATIOS_UNDER_SNOW, snow)
    )


def _sheets(standing: Standing, hardest: float) -> EndSheets:
    """Return what the end sheets put on their hoops: their pressure, evenly round their edge."""
    curve, bed = standing.hoop.curve, standing.bed
    spread = sheet_area(standing) / (curve.length + curve.span) / hardest
    windward, lee = (
        one.likely for one in end_wall_coefficients(bed.outer_length / bed.outer_width)
    )
    return EndSheets(max(0.0, windward) * spread, max(0.0, -lee) * spread)
