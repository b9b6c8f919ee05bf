"""An invented bed with known leak, light and soil water, and readings taken at it with errors."""

from __future__ import annotations

from datetime import timedelta
from functools import cache
from typing import Any

import numpy as np

from hoopwright import design_of
from hoopwright.climate.demo import demo_weather
from hoopwright.climate.weather import Weather
from hoopwright.design.growing import heat_bed_of, own_optics
from hoopwright.heat.schedule import Schedule
from hoopwright.plan.read import read_plan_text
from hoopwright.readings.fit import FitSetting

PLAN = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n[cover]\nmaterial = "film-6mil-uv4"\n'


def part_of(weather: Weather, first: int, count: int) -> Weather:
    """Return some hours of a year."""
    return weather.part(slice(first, first + count), weather.start + timedelta(hours=first))


@cache
def setting(days: int = 42, march: Any = None) -> FitSetting:
    """Return the model of the bed over some weeks of spring, closed throughout."""
    (year,) = demo_weather(1)
    design = design_of(read_plan_text(PLAN))
    spring = part_of(year, 24 * 75, 24 * days)
    return FitSetting(spring, heat_bed_of(design), own_optics(design), Schedule.closed(), march)


def true_numbers(seed: int) -> np.ndarray:
    """Return a leak, a light and a moisture drawn from what is likely."""
    chance = np.random.default_rng(seed)
    leak = np.exp(chance.uniform(np.log(0.4), np.log(2.5)))
    return np.array([leak, chance.uniform(0.7, 1.0), chance.uniform(0.12, 0.4)])


def readings(seed: int, model: FitSetting) -> np.ndarray:
    """Return inside air with the model's and the sensor's errors.

    0.6 K that an hour shares with the next (0.8), for what the model does not know of the weather,
    and 0.2 K of the sensor's own (assumptions).
    """
    chance = np.random.default_rng(seed + 10_000)
    exact = model.inside(true_numbers(seed))
    errors, last = np.zeros(len(exact)), 0.0
    for at, kick in enumerate(chance.normal(size=len(exact)) * 0.6 * np.sqrt(1 - 0.8**2)):
        last = 0.8 * last + kick
        errors[at] = last
    return np.asarray(exact + errors + chance.normal(size=len(exact)) * 0.2)
