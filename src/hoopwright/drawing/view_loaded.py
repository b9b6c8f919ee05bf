"""The hoop as wind and snow bend it, over the hoop unloaded, in true shape."""

from collections.abc import Sequence

import numpy as np

from hoopwright.beam.response import shape, states_at
from hoopwright.checks.followed_hoop import FollowedHoop
from hoopwright.checks.standing import Standing
from hoopwright.drawing.scene import (
    Group,
    Item,
    Layer,
    Leader,
    Line,
    Polyline,
    Show,
    Side,
    View,
    Weight,
    rectangle,
)
from hoopwright.drawing.subject import points
from hoopwright.frozen import dataclass


@dataclass(frozen=True)
class LoadedCase:
    """One load to draw: its row and factor [Pa] in the followed hoop, and its name."""

    row: int
    factor: float
    name: str


def wind_cases(
    standing: Standing, followed: FollowedHoop, gusts: Sequence[float], show: Show
) -> list[LoadedCase]:
    """Return closed wind across at some gusts [m/s], likely coefficients."""
    row = next(
        2 * index for index, case in enumerate(followed.cases) if case.name == "wind across, closed"
    )
    return [
        LoadedCase(row, standing.wind.pressure(gust), f"gust of {show(gust)}") for gust in gusts
    ]


def loaded_view(
    name: str,
    standing: Standing,
    followed: FollowedHoop,
    cases: Sequence[LoadedCase],
    title: str,
    note: str,
) -> View:
    """Return the loaded hoops over the unloaded one; cases it does not bear are left out."""
    hoop = standing.hoop
    still = Polyline(points(hoop.centreline), Layer.HIDDEN)
    items: list[Item] = [_ground(standing), Group("unloaded", "The hoop unloaded", (still,))]
    weights = (Weight.THIN, Weight.MEDIUM, Weight.THICK)
    for number, case in enumerate(cases):
        state = states_at(followed.path, np.array([case.factor]))
        if not np.isfinite(state.factor[case.row]).any():
            continue
        loaded = shape(state, case.row, 0)
        bent = points(np.column_stack([loaded.x - hoop.span / 2, loaded.y + hoop.hold_height]))
        line = Polyline(bent, Layer.HOOPS, weight=weights[min(number, 2)])
        items.append(Group(f"loaded-{number + 1}", f"The hoop in a {case.name}", (line,)))
        at = int(len(bent) * (0.62 + 0.1 * number))
        items.append(Leader(bent[at], case.name, Side.RIGHT))
    description = f"{title}: the unloaded hoop dashed, the loaded ones over it."
    return View(name, title, description, tuple(items), 16.0, note)


def _ground(standing: Standing) -> Group:
    bed, half = standing.bed, standing.bed.outer_width / 2
    boards = tuple(
        Polyline(rectangle(x, 0.0, x + bed.wall, bed.height), Layer.BOARDS, closed=True)
        for x in (-half, half - bed.wall)
    )
    ground = Line((-half - 0.3, 0.0), (half + 0.3, 0.0), Layer.GROUND)
    return Group("box", "Boards and ground", (ground, *boards))
