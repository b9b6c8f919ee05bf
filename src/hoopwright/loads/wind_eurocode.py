"""Wind by EN 1991-1-4: the coefficients of vaulted roofs."""

from functools import cache
from typing import Annotated

import numpy as np

from hoopwright.frozen import dataclass
from hoopwright.loads.wind_asce import ArchCoefficients, Floats
from hoopwright.tables.reader import Sourced, number, rows_of, text


@dataclass(frozen=True)
class _VaultPoint(Sourced):
    curve: Annotated[str, text()]
    rise_over_span: Annotated[float, number("-", 0, 0.6)]
    coefficient: Annotated[float, number("-", -2, 1)]


@cache
def _vault_curves() -> dict[str, tuple[Floats, Floats]]:
    rows = rows_of(_VaultPoint, "loads_en_vault")
    return {
        curve: (
            np.array([row.rise_over_span for row in rows if row.curve == curve]),
            np.array([row.coefficient for row in rows if row.curve == curve]),
        )
        for curve in {row.curve for row in rows}
    }


def vault_coefficients(
    rise_ratio: float,
    wall_ratio: float,
    smallest_ratio: float = 0.05,
    largest_ratio: float = 0.5,
    lower_branch_ends: float = 0.3,
    lower_branch: float = -0.9,
) -> ArchCoefficients:
    """Return the external coefficients of a vaulted roof, wind across: A, B, B and C of the figure.

    rise_ratio : [-] f/d, rise over span; wall_ratio : [-] h/d, wall height over span

    Valid for: f/d 0.05 to 0.5; outside it the end value is used and clamped is True. Between
    h/d 0 and 0.5, A is interpolated. From f/d 0.2 to 0.3 on walls of h/d 0.5, two values of A
    are to be tried.
    Source: EN 1991-1-4 Figure 7.11. Read in one worked example at f/d 0.26 (A 0.42 and 0.16,
    B -0.96, C -0.40); the rest of the curves from memory, +-0.05.
    How sure: the curves come from low-turbulence tests of doubtful reliability (Blackmore and
    Tsokri, J. Wind Eng. Ind. Aerodyn. 94 (2006) 833).
    """
    used = min(max(rise_ratio, smallest_ratio), largest_ratio)
    curves = _vault_curves()

    def read(curve: str) -> float:
        return float(np.interp(used, *curves[curve]))

    share = min(max(wall_ratio / 0.5, 0.0), 1.0)
    other: float | None = None
    if share == 1.0 and 0.2 <= used <= lower_branch_ends:
        other = lower_branch
    return ArchCoefficients(
        windward=(1 - share) * read("A on the ground") + share * read("A on walls"),
        windward_other=other,
        centre=read("B"),
        leeward=read("C"),
        rise_ratio=used,
        clamped=used != rise_ratio,
        source="EN 1991-1-4 Figure 7.11, one point read in a worked example, the rest from memory",
    )
