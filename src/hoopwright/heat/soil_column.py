"""One implicit step of the soil column: eliminated from below, filled in from above."""

from typing import Any

from hoopwright.heat.lanes import in_any, put, take, where
from hoopwright.heat.soil import FROZEN, THAWED, enthalpy, phase_of, temperature_of


def by_phase(rows: Any, phase: Any, layer: int) -> Any:
    """A layer's value from `rows` thawed, freezing and frozen."""
    frozen = where(phase == FROZEN, take(rows[2], layer), take(rows[1], layer))
    return where(phase == THAWED, take(rows[0], layer), frozen)


def factor(
    capacity: Any,
    half: Any,
    side: Any,
    phase: Any,
    per_step: float,
    store: Any,
    inverse: Any,
    ratio: Any,
) -> tuple[Any, Any, Any]:
    """Eliminate the column's fixed part; kept until a layer freezes or thaws.

    Backward Euler on finite volumes, links by half-layer resistances in series. Returns the top
    layer's diagonal without its surface term [W/m2K], the top half resistance [m2K/W], and the
    link to the deep boundary [W/m2K].
    """
    last = len(side) - 1
    here = by_phase(half, take(phase, last), last)
    deep = 1.0 / here
    below = deep
    for i in range(last, 0, -1):
        above = by_phase(half, take(phase, i - 1), i - 1)
        held = by_phase(capacity, take(phase, i), i) * per_step
        put(store, i, held)
        link = 1.0 / (here + above)
        eliminated = 1.0 / (held + take(side, i) + below + link)
        put(inverse, i, eliminated)
        put(ratio, i, link * eliminated)
        below = link - link * link * eliminated
        here = above
    held = by_phase(capacity, take(phase, 0), 0) * per_step
    put(store, 0, held)
    return held + take(side, 0) + below, here, deep


def all_thawed(phase: Any) -> bool:
    """True where no layer is frozen or freezing: the common case, and a quicker step."""
    changed = 0.0 * take(phase, 0)
    for i in range(len(phase)):
        changed += abs(take(phase, i) - THAWED)
    return not in_any(changed != 0.0)


def sweep_up(
    soil: Any, side: Any, side_air: Any, deep_heat: Any, store: Any, ratio: Any, right: Any
) -> Any:
    """Carry the known heat [W/m2] from the deep boundary up to the top layer."""
    last = len(soil) - 1
    value = take(store, last) * take(soil, last) + take(side, last) * side_air + deep_heat
    put(right, last, value)
    for i in range(last - 1, -1, -1):
        value = (
            take(store, i) * take(soil, i) + take(side, i) * side_air + take(ratio, i + 1) * value
        )
        put(right, i, value)
    return value


def sweep_down(
    top: Any,
    soil: Any,
    phase: Any,
    capacity: Any,
    latent: Any,
    side: Any,
    side_air: Any,
    band: Any,
    dt: float,
    store: Any,
    inverse: Any,
    ratio: Any,
    right: Any,
    thawed: bool,
) -> tuple[Any, Any, Any, bool]:
    """Fill in the layers below the solved `top` [degC]; change `soil` and `phase` in place.

    A layer that would freeze or thaw keeps its heat, not its solved temperature: the step was
    solved with the apparent heat capacity of the old phase; the heat so gained is added to the
    enthalpy and the temperature follows from that, so energy stays whole however far a step
    overshoots. Returns heat lost through the boards and heat stored [W/m2], the lowest layer's
    solved temperature [degC], and whether any layer changed phase.
    """
    layers = len(soil)
    value, coldest = top, top
    put(right, 0, top)
    for i in range(1, layers):
        value = take(right, i) * take(inverse, i) + take(ratio, i) * value
        put(right, i, value)
        coldest = min(coldest, value)
    lost, stored = 0.0 * top, 0.0 * top
    for i in range(layers):
        lost += take(side, i) * (take(right, i) - side_air)
        stored += take(store, i) * (take(right, i) - take(soil, i))
    if thawed and not in_any(coldest < 0.0):
        for i in range(layers):
            put(soil, i, take(right, i))
        return lost, stored, value, False
    changed = 0.0 * top
    for i in range(layers):
        solved, was, before = take(right, i), take(phase, i), take(soil, i)
        passes = phase_of(solved, band) != was
        after = solved
        if in_any(passes):
            warm, cold, fusion = take(capacity[0], i), take(capacity[2], i), take(latent, i)
            held = enthalpy(before, warm, cold, fusion, band)
            held += take(store, i) * dt * (solved - before)
            after = where(passes, temperature_of(held, warm, cold, fusion, band), solved)
            now = phase_of(after, band)
            changed += abs(now - was)
            put(phase, i, now)
        put(soil, i, after)
    return lost, stored, value, in_any(changed != 0.0)
