"""Conduction in a half-space: Carslaw & Jaeger, Conduction of Heat in Solids, 2nd ed. 1959.

Step of surface temperature, sec. 2.4 eq. (10); constant flux, sec. 2.9 eq. (7); periodic surface,
sec. 2.6 eq. (8). Night cooling after Brunt 1941 (constant net loss). Quoted from memory; the
numbers are recomputed here with scipy's error function.
"""

from __future__ import annotations

import sys
from math import exp, pi, sqrt
from pathlib import Path

import numpy as np
import pytest
from scipy.special import erfc

sys.path.insert(0, str(Path(__file__).parents[1] / "heat"))
from conduction_rig import half_space, march_column

from hoopwright.heat.soil import layer_thicknesses

DIFFUSIVITY, CONDUCTIVITY = 0.5e-6, 1.0


def at(depths: np.ndarray, temperature: np.ndarray, depth: float) -> float:
    return float(np.interp(depth, depths, temperature))


@pytest.mark.parametrize(("depth", "hours", "printed"), [(0.10, 6, 0.4962), (0.05, 1, 0.4047)])
def test_step_of_surface_temperature(depth: float, hours: int, printed: float) -> None:
    exact = erfc(depth / (2 * sqrt(DIFFUSIVITY * hours * 3600)))
    assert exact == pytest.approx(printed, abs=1e-4)
    column = half_space(np.full(200, 0.01), CONDUCTIVITY, DIFFUSIVITY)
    run = march_column(column, np.ones(hours * 60), dt=60.0, start=0.0, deep=0.0)
    assert at(run.depths, run.soil[-1], depth) == pytest.approx(exact, rel=0.01)


def test_heat_flux_after_a_step() -> None:
    """k dT / sqrt(pi a t): 54.3 W/m2 for k 1, dT 10, 6 h (to the third figure)."""
    exact = CONDUCTIVITY * 10 / sqrt(pi * DIFFUSIVITY * 6 * 3600)
    assert exact == pytest.approx(54.3, abs=0.05)
    column = half_space(np.full(200, 0.01), CONDUCTIVITY, DIFFUSIVITY)
    run = march_column(column, np.full(360, 10.0), dt=60.0, start=0.0, deep=0.0)
    assert run.flux[-1] == pytest.approx(exact, rel=0.01)


def test_the_day_wave_fades_and_lags() -> None:
    """Damping depth 0.1173 m; at 0.1 m the amplitude is exp(-z/D) = 0.426, the lag 3.26 h."""
    damping = sqrt(2 * DIFFUSIVITY / (2 * pi / 86400))
    assert damping == pytest.approx(0.1173, abs=1e-4)
    steps = 144 * 12
    time = np.arange(1, steps + 1) * 600.0
    column = half_space(np.full(100, 0.01), CONDUCTIVITY, DIFFUSIVITY)
    run = march_column(column, np.cos(2 * pi * time / 86400), dt=600.0, start=0.0, deep=0.0)
    depths, soil = run.depths, run.soil[-144:]
    near = np.array([at(depths, row, 0.1) for row in soil])
    wave = near @ np.exp(2j * pi * time[-144:] / 86400) / 72
    assert abs(wave) == pytest.approx(exp(-0.1 / damping), rel=0.02)
    assert abs(wave) == pytest.approx(0.426, rel=0.02)
    lag = np.angle(wave) % (2 * pi) * 24 / (2 * pi)
    assert lag == pytest.approx(3.26, abs=0.08)


def test_the_beds_own_layers_carry_the_day_wave() -> None:
    """The coarse column of the model, 9 layers: amplitude at 10 cm within 0.03 of the surface's."""
    thickness, _ = layer_thicknesses(0.28)
    steps = 144 * 12
    time = np.arange(1, steps + 1) * 600.0
    column = half_space(np.array(thickness), CONDUCTIVITY, DIFFUSIVITY)
    run = march_column(column, np.cos(2 * pi * time / 86400), dt=600.0, start=0.0, deep=0.0)
    near = np.array([at(run.depths, row, 0.1) for row in run.soil[-144:]])
    wave = near @ np.exp(2j * pi * time[-144:] / 86400) / 72
    assert abs(wave) == pytest.approx(0.426, abs=0.03)


def test_brunt_night_cooling() -> None:
    """Constant loss R = 60 W/m2, effusivity 1414: fall 2R/b sqrt(t/pi) = 9.95 K in 12 h."""
    exact = 2 * 60 / 1414.2 * sqrt(12 * 3600 / pi)
    assert exact == pytest.approx(9.95, abs=0.01)
    column = half_space(np.full(150, 0.01), CONDUCTIVITY, DIFFUSIVITY)
    run = march_column(column, None, dt=300.0, start=0.0, deep=0.0, loss=60.0, steps=144)
    assert -run.surface[-1] == pytest.approx(exact, rel=0.03)
