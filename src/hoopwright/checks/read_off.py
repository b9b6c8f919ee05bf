"""Where a followed hoop's demand meets its capacity, on all drawn beds at once.

A hoop bent by hand and one twice as stiff take the same shapes under twice the load, its weight
apart (which is a hundredth of what fells it). So one path serves every stiffness k: a force F is
reached at k f(F / k), a strain e at k f(e), where f is read off the path. Pressures outside that
are m times the standards' with p inside do what the standards' do with p / m inside at a load m
times as great; and in between two pressures inside, 1 / f goes along a straight line, which is
exact for a hoop that moves little.
"""

from collections.abc import Callable, Sequence

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hoopwright.checks.followed_hoop import FollowedHoop
from hoopwright.checks.inputs import Inputs
from hoopwright.checks.rung import NO_FURTHER
from hoopwright.frozen import dataclass
from hoopwright.loads.wind_cases import WindCase

Floats = NDArray[np.float64]
#: Steps between two points of a path when it is read off.
BETWEEN = 6


def refined(values: Floats) -> Floats:
    """Return values (cases, points) with BETWEEN steps from each point of a path to the next.

    By a cubic through the slopes at the points (Catmull and Rom 1974, from memory); NaN past the
    end of a path stays NaN.
    """
    near = np.where(np.isfinite(values), values, 0.0)
    used = np.isfinite(values).sum(axis=1)
    last = np.maximum(used - 1, 0)
    column = np.arange(values.shape[1])
    before = near[:, np.maximum(column - 1, 0)]
    following = np.minimum(column[None] + 1, last[:, None])
    after = np.take_along_axis(near, following, axis=1)
    slope = 0.5 * (after - before)
    slope[:, 0] *= 2.0
    rows = np.arange(values.shape[0])
    slope[rows, last] = near[rows, last] - near[rows, np.maximum(last - 1, 0)]
    next_slope = np.take_along_axis(slope, following, axis=1)
    t = (np.arange(BETWEEN) / BETWEEN)[None, None]
    a, b, c, d = (one[:, :, None] for one in (near, slope, after, next_slope))
    inside = (
        a * (2 * t**3 - 3 * t**2 + 1)
        + b * (t**3 - 2 * t**2 + t)
        + c * (3 * t**2 - 2 * t**3)
        + d * (t**3 - t**2)
    ).reshape(values.shape[0], -1)
    places = np.arange(inside.shape[1])
    inside[places[None] > (last * BETWEEN)[:, None]] = np.nan
    return np.asarray(inside)


def rising(factor: Floats, values: Floats) -> tuple[Floats, Floats]:
    """Return the factors at which one case's value rises to a new height, and those heights.

    factor, values : along the path, refined. Only there can a limit be met.
    """
    used = np.isfinite(factor) & np.isfinite(values)
    load, grown = factor[used], np.maximum.accumulate(values[used])
    rises = np.concatenate([[True], np.diff(grown) > 0]) if load.size else used[:0]
    return load[rises], grown[rises]


def nearly_in_order(values: Floats, lot: NDArray[np.int64] | int = 0) -> NDArray[np.int64]:
    """Return an order in which values nearly rise, those of each of up to eight lots together.

    Limits so ordered are looked up several times as fast as any which way, and to order them
    nearly costs a tenth of what it costs to order them.
    """
    usual = float(np.abs(values).mean())
    if not 0.0 < usual < np.inf:
        usual = float(np.median(np.abs(values))) or 1.0
    rough = np.fmax(np.fmin(values * (1000.0 / usual), 4000.0), 0.0).astype(np.int16)
    return np.argsort(rough + 4001 * np.asarray(lot, dtype=np.int16), kind="stable")


def met_by(limit: Floats) -> Callable[[tuple[Floats, Floats]], Floats]:
    """Return what finds the factor at which a value, as `rising` has it, reaches each limit."""
    order = nearly_in_order(limit)
    wanted = limit[order]

    def met(rises: tuple[Floats, Floats]) -> Floats:
        load, grown = rises
        found = np.full(limit.size, np.inf)
        if load.size:
            found[order] = np.interp(wanted, grown, load, right=np.inf)
        return found

    return met


@dataclass(frozen=True)
class Met:
    """Where drawn beds meet a limit.

    pressure : [Pa] velocity pressure at the bed, or load of snow, for each draw
    case : the case that governs most often, "" where nothing is met; with NO_FURTHER where a path
    that ends early lets no more be said
    """

    pressure: Floats
    case: str


def least_of(found: list[Floats], names: Sequence[str], short: Sequence[bool] = ()) -> Met:
    """Return the least over the cases for each draw, and the case that is least most often.

    short : whether no more than a lower bound is known of each, where any is
    """
    pressure, counts = least(np.stack(found))
    if not any(counts):
        return Met(pressure, "")
    worst = counts.index(max(counts))
    return Met(pressure, names[worst] + (NO_FURTHER if short and short[worst] else ""))


def least(found: Floats) -> tuple[Floats, list[int]]:
    """Return the least of rows for each draw, and in how many draws each is first to be so little.

    Draws in which nothing is met, infinite, count for none.
    """
    lowest = found.min(axis=0)
    left, counts = np.isfinite(lowest), []
    for row in found:
        here = left & (row == lowest)
        counts.append(int(np.count_nonzero(here)))
        left &= ~here
    return lowest, counts


@dataclass(frozen=True)
class Reader:
    """Reads limits off a followed hoop for the drawn beds."""

    hoop: FollowedHoop
    inputs: Inputs

    @property
    def _factor(self) -> Floats:
        """Return the factors of all paths, refined."""
        return self._refined(self.hoop.response.factor)

    def _refined(self, values: Floats) -> Floats:
        """Return values of all paths, refined; kept with the values that they are of."""
        return self.hoop.once(("refined", id(values)), lambda: (values, refined(values)))[1]

    def _rising(self, values: Floats, row: int) -> tuple[Floats, Floats]:
        """Return where a value of one case rises, as `rising`."""
        fine = self._refined(values)
        return self.hoop.once(
            ("rising", id(values), row), lambda: rising(self._factor[row], fine[row])
        )

    def wind(
        self, values: Floats, limit: ArrayLike, *, opened: bool, force: bool, share: float = 1.0
    ) -> Met:
        """Return the velocity pressure [Pa] at which a value meets its limit in any wind case.

        values : (cases, points) as the response; limit : of each draw
        force : the value goes with the stiffness, as forces do and strains do not
        share : [-] of a full bay of film that the hoop in question carries
        """
        k = self.inputs.stiffness
        wanted = np.asarray(limit, dtype=float) / (k if force else 1.0) + 0.0 * k
        reached = self._reached(values, wanted)

        def met(row: int) -> tuple[Floats, bool]:
            at, short = reached(row)
            return k * at / share, short

        return self._of_wind(met, opened)

    def _reached(self, values: Floats, wanted: Floats) -> Callable[[int], tuple[Floats, bool]]:
        """Return what finds a row's factor at each limit, and whether its path ends early."""
        reached = met_by(wanted)

        def met(row: int) -> tuple[Floats, bool]:
            at = reached(self._rising(values, row))
            short = bool(self.hoop.path.unfinished[row])
            if short:
                at = np.minimum(at, np.nanmax(self.hoop.path.factor[row]))
            return at, short

        return met

    def demand(self, values: Floats, pressure: Floats, *, opened: bool, force: bool) -> Floats:
        """Return the greatest that any wind case makes of a value at each draw's pressure [Pa].

        NaN where the hoop lies over before. Read as `wind` does, the other way round.
        """
        inputs = self.inputs
        k, m = inputs.stiffness, inputs.pressure
        wanted = pressure * m / k
        factor, fine = self._factor, self._refined(values)

        def read(row: int) -> Floats:
            used = np.isfinite(factor[row]) & np.isfinite(fine[row])
            return np.asarray(np.interp(wanted, factor[row][used], fine[row][used], right=np.nan))

        found = []
        for row in self.hoop.wind_rows(opened):
            case = self.hoop.cases[row // 2]
            share, rest = self._way_to_high(case)
            found.append(rest * read(row) + share * read(row + 1))
        return np.asarray(np.max(found, axis=0) * (k if force else 1.0))

    def snow(self, values: Floats, limit: ArrayLike, rows: list[int], names: Sequence[str]) -> Met:
        """Return the load [Pa] at which a strain or a shift meets its limit in any of some rows.

        values : (cases, points) as the response; limit : of each draw; names : of the rows
        """
        k = self.inputs.snow_stiffness
        reached = self._reached(values, np.asarray(limit, dtype=float) + 0.0 * k)
        found, short = zip(*map(reached, rows), strict=True)
        return least_of([k * at for at in found], names, short)

    def snow_lies_over(self, rows: list[int], names: Sequence[str]) -> Met:
        """Return the load [Pa] at which the hoop sways aside or snaps through in its plane."""
        gives, short = self.hoop.gives_way(rows)
        least = np.where(np.isnan(gives), np.inf, gives)
        found = [self.inputs.snow_stiffness * one for one in least]
        return least_of(found, names, [bool(one) for one in short])

    def lies_over(self, *, opened: bool) -> Met:
        """Return the velocity pressure [Pa] at which the hoop loses its stiffness."""

        def met(row: int) -> tuple[Floats, bool]:
            at, short = self.hoop.gives_way([row])
            least = np.inf if np.isnan(at[0]) else float(at[0])
            return self.inputs.stiffness * least, bool(short[0])

        return self._of_wind(met, opened)

    def _of_wind(self, met: Callable[[int], tuple[Floats, bool]], opened: bool) -> Met:
        found, names, short = [], [], []
        for row in self.hoop.wind_rows(opened):
            case = self.hoop.cases[row // 2]
            (likely, bound), (outward, too) = met(row), met(row + 1)
            if bound or too:
                at = np.minimum(likely, outward)
            else:
                share, rest = self._way_to_high(case)
                with np.errstate(divide="ignore", invalid="ignore"):
                    slowness = rest / likely + share / np.maximum(outward, 1e-9)
                    at = np.where(slowness > 0, 1.0 / slowness, np.inf)
                # Where the steady load alone is too much, no wind is borne at all.
                at = np.where(likely <= 0, 0.0, at)
            found.append(at / self.inputs.pressure)
            names.append(case.name)
            short.append(bound or too)
        return least_of(found, names, short)

    def _way_to_high(self, case: WindCase) -> tuple[Floats, Floats]:
        """Return how far each draw's pressure inside is from likely to high [-], and the rest."""
        internal = case.internal

        def work_out() -> tuple[Floats, Floats]:
            inside = self.inputs.inside(case.state) / self.inputs.pressure
            width = internal.high - internal.likely
            share = (inside - internal.likely) / width if width > 0 else 0.0 * inside
            return share, 1 - share

        return self.inputs.once(("way to high", case.state), work_out)
