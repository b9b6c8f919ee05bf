"""Published critical loads of arches and bent hoops (sources in the tests and the CSV files).

Recalled from memory, not read for this project; what was read stands in `tests/published`.
"""

from __future__ import annotations

import csv
from pathlib import Path

import numpy as np
import pytest
from beam_rig import CLAMPED, point_load

from hoopwright.beam.elastica import bend_hoop
from hoopwright.beam.frame import HoopFrame, formed_frame, hoop_frame
from hoopwright.beam.hold import Hold
from hoopwright.beam.load import load, stack
from hoopwright.beam.path import follow

HERE = Path(__file__).parent
FREE, TWO = Hold.one_strap(), Hold.two_straps(0.1)


def rows(name: str) -> list[list[str]]:
    with (HERE / name).open() as file:
        return list(csv.reader(file))[1:]


def circular(half_angle: float, holds: tuple[Hold, Hold], **more: object) -> HoopFrame:
    """Circular arch of unit radius and unit stiffness."""
    return formed_frame(
        2.0 * half_angle,
        lambda share: half_angle * (1.0 - 2.0 * share),
        holds,
        1.0,
        **more,  # type: ignore[arg-type]
    )


@pytest.mark.parametrize("holds", [(CLAMPED, FREE), (FREE, CLAMPED)])
def test_deep_arch_clamped_and_hinged_with_a_load_at_the_crown(holds: tuple[Hold, Hold]) -> None:
    """Arc of 215 degrees: greatest load 8.97 EI / R^2.

    DaDeppo and Schmidt, Instability of clamped-hinged circular arches subjected to a point load,
    J. Appl. Mech. 42 (1975) 894, from memory; an inextensible arch, as ours.
    """
    frame = circular(np.radians(107.5), holds)
    path = follow(frame, point_load(frame, 0.5, down=1.0))
    assert path.at_limit_point[0]
    assert path.critical_factor[0] == pytest.approx(8.97, rel=2e-3)


@pytest.mark.parametrize("whole_angle", [30.0, 60.0, 120.0, 180.0, 240.0])
def test_hinged_circular_arch_under_even_pressure(whole_angle: float) -> None:
    """q = (pi^2 / a^2 - 1) EI / R^3, a half the whole angle.

    Timoshenko and Gere, Theory of Elastic Stability, 2nd ed., art. 7.6, from memory.
    """
    half = np.radians(whole_angle) / 2.0
    frame = circular(half, (FREE, FREE))
    path = follow(frame, load(frame, pressure=1.0))
    assert not path.at_limit_point[0]
    assert path.critical_factor[0] == pytest.approx(np.pi**2 / half**2 - 1.0, rel=1e-5)


@pytest.mark.parametrize("row", rows("clamped_arch_pressure.csv"), ids=lambda r: r[0])
def test_clamped_circular_arch_under_even_pressure(row: list[str]) -> None:
    """k as printed to four figures, so (k^2 - 1) to about 5e-4."""
    half, k = np.radians(float(row[0])) / 2.0, float(row[1])
    frame = circular(half, (CLAMPED, CLAMPED))
    path = follow(frame, load(frame, pressure=1.0))
    assert path.critical_factor[0] == pytest.approx(k**2 - 1.0, rel=6e-4)


def test_bend_to_a_half_circle_does_not_change_its_buckling_pressure() -> None:
    """Clamped half circle under even pressure: 8 EI / R^3 (Timoshenko and Gere, from memory)."""
    frame = hoop_frame(bend_hoop(np.pi, 2.0, CLAMPED), 1.0)
    path = follow(frame, load(frame, pressure=1.0))
    assert path.critical_factor[0] == pytest.approx(8.0, rel=1e-4)


def test_pressure_that_turns_buckles_a_hoop_before_one_that_does_not() -> None:
    """Hinged half circle: 3 EI / R^3 under fluid pressure, 3.27 under a radial load that keeps its
    direction (Singer and Babcock 1970, from memory).
    """
    frame = circular(np.pi / 2.0, (FREE, FREE))
    radial_down, radial_across = np.sin(frame.angle + np.pi / 2.0), np.sin(frame.angle)
    path = follow(
        frame, stack([load(frame, pressure=1.0), load(frame, radial_down, radial_across)])
    )
    assert path.critical_factor[0] == pytest.approx(3.0, rel=1e-5)
    assert path.critical_factor[1] == pytest.approx(3.27, rel=2e-3)
