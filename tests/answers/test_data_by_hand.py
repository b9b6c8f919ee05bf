"""A design as data for machines: metres and newtons of a bed whose sizes are known."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from hoopwright.answers.data import change_data, design_data, order_data, rung_data
from hoopwright.design import Design, design_of
from hoopwright.plan.read import read_plan_text
from hoopwright.programme.changes import Change, WorkedChange

INCH = 0.0254


@cache
def bed() -> Design:
    return design_of(read_plan_text('[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'))


def test_sizes_of_the_box_the_hoops_and_the_sheet() -> None:
    """144 by 36 in over boards of 1 1/2, 11 1/4 in high; legs 36.84 in apart; ten-foot pipes; the
    crown as much higher over the ground as the board is; a ten-foot roll, 150 in long."""
    data = design_data(bed())
    box, hoops, cover = data["bed"], data["hoops"], data["cover"]
    inches = [box[f"{what}_m"] / INCH for what in ("outer_length", "outer_width", "height")]
    assert inches == pytest.approx([144.0, 36.0, 11.25])
    inner = [box[f"inner_{what}_m"] / INCH for what in ("length", "width")]
    assert inner == pytest.approx([141.0, 33.0])
    assert hoops["span_m"] / INCH == pytest.approx(36.84)
    assert hoops["cut_length_m"] / INCH == pytest.approx(120.0)
    assert hoops["crown_over_ground_m"] - hoops["crown_over_board_m"] == pytest.approx(0.28575)
    assert hoops["overall_width_m"] == pytest.approx(
        hoops["span_m"] + 2 * hoops["bulge_m"] + 0.84 * INCH
    )
    assert hoops["strain"] == pytest.approx(0.84 * INCH / 2 / hoops["least_radius_m"])
    marks = [one["mark_m"] / INCH for one in hoops["stations"]]
    assert marks == pytest.approx([3.0, 7.0, 37.5, 72.0, 106.5, 137.0, 141.0])
    assert (cover["roll_width_m"], cover["body_length_m"] / INCH) == pytest.approx((3.048, 150.0))
    assert cover["skirt_m"] == pytest.approx((3.048 - cover["body_width_m"]) / 2 + 4 * INCH)


def test_an_order_adds_up_and_every_stick_is_whole() -> None:
    data = order_data(bed().order)
    total = sum(line["buy"] * (line["price"] or 0.0) for line in data["lines"])
    assert data["cost"]["total"] == pytest.approx(total, abs=0.01)
    for thing in data["sticks"]:
        bought = sum(stick["stick_m"] for stick in thing["sticks"])
        used = sum(one["length_m"] for stick in thing["sticks"] for one in stick["pieces"])
        assert thing["waste_m"] == pytest.approx(bought - used, abs=1e-4)
    for film in data["rolls"]:
        run_off = sum(roll["used_m"] * roll["width_m"] for roll in film["rolls"])
        sheets = sum(
            one["width_m"] * one["length_m"] for roll in film["rolls"] for one in roll["sheets"]
        )
        assert film["waste_m2"] == pytest.approx(run_off - sheets, abs=1e-6)


def test_a_rung_is_given_careful_end_first_and_a_change_with_its_gain() -> None:
    rung = bed().ladder.opens.first[0][0]
    data = rung_data(rung)
    shares = [float(np.quantile(rung.at, share)) for share in (0.1, 0.5)]
    assert [data["careful"], data["middle"]] == pytest.approx(shares, rel=5e-3)
    assert data["unit"] == "m/s"
    worked = change_data(WorkedChange(Change("x", {}), 25.0, 2.0, 20.0, 0.5, 12.3437))
    assert (worked["wind_gain_m_s"], worked["wet_snow_gain_m"]) == pytest.approx((5.0, 1.0))
    assert (worked["wet_snow_m"], worked["over"], worked["cost"]) == (1.5, ["wet_snow_m"], 12.34)
