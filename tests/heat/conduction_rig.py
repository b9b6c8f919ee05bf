"""Drives the soil column alone, by surface temperature or by a constant loss."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hoopwright.heat.soil import SoilColumn, phase_of
from hoopwright.heat.soil_column import all_thawed, factor, sweep_down, sweep_up

FIRM = 1e7  # [W/m2K] ties the surface to a given temperature


@dataclass(frozen=True)
class ColumnRun:
    depths: np.ndarray
    soil: np.ndarray
    surface: np.ndarray
    flux: np.ndarray
    phase: np.ndarray


def half_space(
    thickness: np.ndarray,
    conductivity: float,
    diffusivity: float,
    frozen: float | None = None,
    latent: float = 0.0,
    band: float = 1e-6,
) -> SoilColumn:
    """A uniform soil; latent [J/m3] and frozen conductivity where it may freeze."""
    heat = conductivity / diffusivity
    cold = conductivity if frozen is None else frozen
    melt = latent * thickness
    return SoilColumn(
        thickness,
        np.stack([heat * thickness, heat * thickness + melt / band, heat * thickness]),
        np.stack([thickness / 2 / k for k in (conductivity, 0.5 * (conductivity + cold), cold)]),
        melt,
        np.zeros_like(thickness),
        band,
    )


def march_column(
    column: SoilColumn,
    surface: np.ndarray | None,
    dt: float,
    start: float,
    deep: float,
    loss: float = 0.0,
    steps: int = 0,
) -> ColumnRun:
    """March by steps of `dt` [s]; `surface` [degC] of each step, or a constant `loss` [W/m2]."""
    layers = len(column.thickness)
    # [K] so that nothing freezes unless it may
    shift = 0.0 if column.latent.any() else 20.0
    soil = [start + shift] * layers
    capacity, half = column.capacity.tolist(), column.half_resistance.tolist()
    latent, side = column.latent.tolist(), column.side.tolist()
    phase = [phase_of(t, column.band) for t in soil]
    store, inverse, ratio, right = ([0.0] * layers for _ in range(4))
    diagonal, top_half, deep_link = factor(
        capacity, half, side, phase, 1 / dt, store, inverse, ratio
    )
    count = steps if surface is None else len(surface)
    out, tops, fluxes, phases = [], [], [], []
    for n in range(count):
        link = 1.0 / top_half
        up = sweep_up(soil, side, 0.0, deep_link * (deep + shift), store, ratio, right)
        if surface is None:
            top = (up - loss) / diagonal
            skin = top - loss / link
        else:
            skin = float(surface[n]) + shift
            top = (up + link * skin) / (diagonal + link)
        flux = link * (skin - top)
        _, _, _, changed = sweep_down(
            top,
            soil,
            phase,
            capacity,
            latent,
            side,
            0.0,
            column.band,
            dt,
            store,
            inverse,
            ratio,
            right,
            all_thawed(phase),
        )
        if changed:
            diagonal, top_half, deep_link = factor(
                capacity, half, side, phase, 1 / dt, store, inverse, ratio
            )
        out.append([t - shift for t in soil])
        tops.append(skin - shift)
        fluxes.append(flux)
        phases.append(list(phase))
    depths = np.cumsum(column.thickness) - column.thickness / 2
    return ColumnRun(depths, np.array(out), np.array(tops), np.array(fluxes), np.array(phases))
