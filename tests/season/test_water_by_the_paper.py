"""The bed's water through `balance` and `covered_air`, against FAO-56's equations written apart."""

from __future__ import annotations

from datetime import datetime
from types import SimpleNamespace

import numpy as np
import pytest

from hoopwright.season.crops import crop
from hoopwright.season.water import DailyAir, Watering, balance, covered_air, litres
from hoopwright.season.water_coefficients import WaterStore

SANDY_LOAM = WaterStore(field_capacity=0.23, wilting_point=0.10, readily_evaporable=8.0)


def by_the_paper(need, days, fw_given, drip, by_hand, wet, depth, open_bottom):
    """Chapter 7 (eqs. 66 to 79) and 8 (eqs. 82 to 86), day by day as printed."""
    ini, mid, end = need.basal_coefficient
    stages = np.cumsum(need.stage_lengths)
    de, dr = (0.0, 0.0) if wet else (18.0, 0.5 * 1000 * 0.13 * 0.15)
    fw, grown, rows = fw_given, 0.0, []
    for day in range(len(days.reference)):
        et0, rain, u2, rh = (
            one[day] for one in (days.reference, days.rain, days.wind, days.least_humidity)
        )
        age = day + 0.5
        if age < stages[0]:
            kcb = ini
        elif age < stages[1]:
            kcb = ini + (age - stages[0]) / (stages[1] - stages[0]) * (mid - ini)
        elif age < stages[2]:
            kcb = mid
        else:
            kcb = mid + min((age - stages[2]) / (stages[3] - stages[2]), 1.0) * (end - mid)
        grown = max(grown, min((kcb - ini) / (mid - ini), 1.0))
        h = 0.05 + (need.stand_height - 0.05) * grown
        shift = (0.04 * (u2 - 2) - 0.004 * (100 * rh - 45)) * (max(h, 0.1) / 3) ** 0.3
        if kcb > 0.45:
            kcb += shift
        kc_max = max(1.2 + shift, kcb + 0.05)
        fc = min(max((kcb - 0.15) / (kc_max - 0.15), 0.0) ** (1 + 0.5 * h), 0.99)
        deepest = need.root_depth.low if open_bottom else min(need.root_depth.low, depth)
        zr = 0.15 + (max(deepest, 0.15) - 0.15) * grown
        taw = 1000 * (0.23 - 0.10) * zr
        p = min(max(need.depletion + 0.04 * (5 - kcb * et0), 0.1), 0.8)
        given = dr if by_hand and dr >= p * taw else 0.0
        if rain > 0.2 * et0:
            fw = 1.0
        elif given:
            fw = fw_given
        wetted = (1 - 2 * fc / 3) * fw if drip and fw < 1 else fw
        few = max(min(1 - fc, wetted), 0.01)
        de = max(de - rain - given / fw, 0.0)
        lost, dr = max(rain + given - dr, 0.0), max(dr - rain - given, 0.0)
        ks = 1.0 if dr <= p * taw else (taw - dr) / ((1 - p) * taw)
        kr = 1.0 if de <= 8 else (18 - de) / (18 - 8)
        ke = max(min(kr * (kc_max - kcb), few * kc_max), 0.0)
        evaporated, transpired = min(ke * et0, few * (18 - de)), ks * kcb * et0
        de, dr = min(de + evaporated / few, 18.0), min(dr + evaporated + transpired, taw)
        rows.append((transpired, evaporated, given, lost, dr, de, ks, ke))
    return np.array(rows).T


@pytest.mark.parametrize(
    ("watering", "wet", "open_bottom"),
    [
        (None, True, True),
        (Watering(wetted=0.35, drip=True), True, False),
        (Watering(wetted=0.5), False, True),
        (Watering(by_hand=False), False, False),
    ],
)
def test_every_day_of_a_crop(watering, wet, open_bottom):
    need = crop("tomato").water
    number = int(sum(need.stage_lengths)) + 10
    at = np.arange(number)
    days = DailyAir(
        reference=4.0 + 2.5 * np.sin(at / 9.0),
        rain=np.where(at % 11 == 3, 9.0, np.where(at % 7 == 0, 0.5, 0.0)),
        wind=2.0 + 1.5 * np.sin(at / 5.0 + 1.0) ** 2,
        least_humidity=0.4 + 0.15 * np.cos(at / 13.0),
    )
    found = balance(need, days, SANDY_LOAM, 0.28, open_bottom, watering, wet)
    how = watering or Watering()
    by_hand = by_the_paper(need, days, how.wetted, how.drip, how.by_hand, wet, 0.28, open_bottom)
    names = (
        "transpired", "evaporated", "given", "lost",
        "root_depletion", "skin_depletion", "stressed", "evaporation_coefficient",
    )  # fmt: skip
    for name, row in zip(names, by_hand, strict=True):
        assert getattr(found, name) == pytest.approx(row, rel=1e-6, abs=1e-9), name
    given = np.flatnonzero(by_hand[2])
    assert found.need == pytest.approx(by_hand[2].sum())
    if given.size > 1:
        interval = (given[-1] - given[0]) / (given.size - 1)
        assert found.interval == pytest.approx(interval)
    else:
        assert found.interval == np.inf
    assert litres(10.0, 3.0) == 30.0


class Hours(SimpleNamespace):
    def __len__(self) -> int:
        return len(self.global_horizontal)


def test_the_air_of_a_covered_day():
    """2 July (day 182 of a record from 1 January) at 40 N, 1000 m: 30 degC at most, 14 at least,
    vapour 1500 Pa, light of 200 W/m2 where 300 fall outside: 17.28 and 25.92 MJ/m2 (x 24 x 0.0036).
    FAO-56: es = (4.243 + 1.599) / 2 = 2.921 kPa; slope at 22 degC 0.1615; gamma 0.0600 at 90.02
    kPa; Ra of day 183 at 40 N 41.66, clear sky 0.77 Ra x 2/3 = 21.39; relative 0.808. Wind 208 /
    295."""
    hours = np.arange(24 * 184)
    air = np.where(hours % 24 == 14, 30.0, np.where(hours % 24 == 4, 14.0, 20.0))
    weather = Hours(
        start=datetime(2026, 1, 1),
        global_horizontal=np.full(hours.size, 300.0),
        precipitation=np.where(hours == 24 * 182 + 6, 5.0, np.nan),
        station=SimpleNamespace(latitude=40.0, elevation=1000.0),
    )
    run = SimpleNamespace(
        weather=weather,
        air=air,
        vapour=np.full(hours.size, 1500.0),
        light=np.full(hours.size, 200.0),
    )
    found = covered_air(run, 182, 1, rain_passes=0.6)  # type: ignore[arg-type]
    phi, day = np.radians(40.0), 183.0
    delta = 0.409 * np.sin(2 * np.pi / 365 * day - 1.39)
    sunset = np.arccos(-np.tan(phi) * np.tan(delta))
    lit = sunset * np.sin(phi) * np.sin(delta) + np.cos(phi) * np.cos(delta) * np.sin(sunset)
    clear = 0.77 * 37.586 * (1 + 0.033 * np.cos(2 * np.pi / 365 * day)) * lit * 2 / 3
    longwave = (
        4.903e-9 * (303.16**4 + 287.16**4) / 2 * (0.34 - 0.14 * 1.5**0.5)
        * (1.35 * 17.28 / clear - 0.35)
    )  # fmt: skip
    net, wind = 0.77 * 17.28 - longwave, 208 / 295
    slope, gamma = 0.16147, 0.05986
    top = 0.408 * slope * net + gamma * 900 / 295 * wind * (2.9210 - 1.5)
    reference = top / (slope + gamma * (1 + 0.34 * wind))
    assert found.reference == pytest.approx([reference], rel=5e-3)
    assert 2.0 < reference < 6.0
    assert found.rain == pytest.approx([3.0])
    assert found.wind == pytest.approx([wind])
    assert found.least_humidity == pytest.approx([1500 / 4243], rel=5e-3)
    assert len(covered_air(run).reference) == 184  # type: ignore[arg-type]
