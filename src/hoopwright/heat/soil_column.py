"""One implicit step of the soil column: eliminated from below, filled in from above."""

from __future__ import annotations

from collections.abc import MutableSequence, Sequence
from typing import Any

from hoopwright.heat.soil import THAWED, enthalpy, phase_of, temperature_of


def factor(
    capacity: Any,
    half: Any,
    side: Sequence[float],
    phase: Sequence[int],
    per_step: float,
    store: MutableSequence[float],
    inverse: MutableSequence[float],
    ratio: MutableSequence[float],
) -> tuple[float, float, float]:
    """Eliminate the column's fixed part; kept until a layer freezes or thaws.

    Backward Euler on finite volumes, links by half-layer resistances in series. Returns the top
    layer's diagonal without its surface term [W/m2K], the top half resistance [m2K/W], and the
    link to the deep boundary [W/m2K].
    """
    last = len(side) - 1
    deep = 1.0 / half[phase[last]][last]
    below = deep
    diagonal = 0.0
    for i in range(last, -1, -1):
        store[i] = capacity[phase[i]][i] * per_step
        diagonal = store[i] + side[i] + below
        if i > 0:
            link = 1.0 / (half[phase[i]][i] + half[phase[i - 1]][i - 1])
            inverse[i] = 1.0 / (diagonal + link)
            ratio[i] = link * inverse[i]
            below = link - link * ratio[i]
    return diagonal, half[phase[0]][0], deep


def all_thawed(phase: Sequence[int]) -> bool:
    """True where no layer is frozen or freezing: the common case, and a quicker step."""
    changed = 0
    for one in phase:
        changed += abs(one - THAWED)
    return changed == 0


def sweep_up(
    soil: Sequence[float],
    side: Sequence[float],
    side_air: float,
    deep_heat: float,
    store: Sequence[float],
    ratio: Sequence[float],
    right: MutableSequence[float],
) -> float:
    """Carry the known heat [W/m2] from the deep boundary up to the top layer."""
    last = len(soil) - 1
    value = store[last] * soil[last] + side[last] * side_air + deep_heat
    right[last] = value
    for i in range(last - 1, -1, -1):
        value = store[i] * soil[i] + side[i] * side_air + ratio[i + 1] * value
        right[i] = value
    return value


def sweep_down(
    top: float,
    soil: MutableSequence[float],
    phase: MutableSequence[int],
    capacity: Any,
    latent: Sequence[float],
    side: Sequence[float],
    side_air: float,
    band: float,
    dt: float,
    store: Sequence[float],
    inverse: Sequence[float],
    ratio: Sequence[float],
    right: MutableSequence[float],
    thawed: bool,
) -> tuple[float, float, float, bool]:
    """Fill in the layers below the solved `top` [degC]; change `soil` and `phase` in place.

    A layer that would freeze or thaw keeps its heat, not its solved temperature: the step was
    solved with the apparent heat capacity of the old phase; the heat so gained is added to the
    enthalpy and the temperature follows from that, so energy stays whole however far a step
    overshoots. Returns heat lost through the boards and heat stored [W/m2], the lowest layer's
    solved temperature [degC], and whether any layer changed phase.
    """
    layers = len(soil)
    value, lost, stored, changed = top, 0.0, 0.0, False
    right[0] = top
    coldest = top
    for i in range(1, layers):
        value = right[i] * inverse[i] + ratio[i] * value
        right[i] = value
        coldest = min(coldest, value)
    for i in range(layers):
        lost += side[i] * (right[i] - side_air)
        stored += store[i] * (right[i] - soil[i])
    if thawed and coldest >= 0.0:
        for i in range(layers):
            soil[i] = right[i]
        return lost, stored, value, False
    for i in range(layers):
        if phase_of(right[i], band) == phase[i]:
            soil[i] = right[i]
            continue
        warm, cold = capacity[0][i], capacity[2][i]
        held = enthalpy(soil[i], warm, cold, latent[i], band)
        held += store[i] * dt * (right[i] - soil[i])
        soil[i] = temperature_of(held, warm, cold, latent[i], band)
        now = phase_of(soil[i], band)
        changed = changed or now != phase[i]
        phase[i] = now
    return lost, stored, value, changed
