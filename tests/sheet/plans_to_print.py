"""Beds to write sheets for: small, usual, long; both unit systems; every way of holding."""

from __future__ import annotations

import datetime
from functools import cache
from pathlib import Path

from hoopwright.design import Design, design_of
from hoopwright.plan.read import read_plan_text
from hoopwright.sheet import Document, build_sheet

DATE = datetime.date(2026, 11, 25)
DEMO = Path(__file__).parents[2] / "tests" / "usual_bed.toml"

PLANS = {
    "demo": DEMO.read_text(encoding="utf-8"),
    "demo-metric": DEMO.read_text(encoding="utf-8").replace('units = "us"', 'units = "metric"'),
    "small": """
name = "Small bed"
paper = "a4"
[bed]
length = "4 ft"
width = "2 ft"
board = "2x8"
[hoops]
stock_length = "7 ft"
[cover]
style = "wrapped"
""",
    "inside": """
name = "Legs inside, fabric"
units = "metric"
[bed]
length = "2.4 m"
width = "1.2 m"
legs = "inside"
species = "southern-pine-treated"
[hoops]
pipe = "pvc40-3/4"
spacing = "0.8 m"
straps_per_leg = 1
[cover]
style = "wrapped"
material = "fabric-1.5"
roll_up = "none"
fixed_edge = "bury"
""",
    "long": """
name = "Long bed"
[bed]
length = "24 ft"
width = "4 ft"
box = "standing"
legs = "inside"
[hoops]
pipe = "pvc40-3/4"
stock_length = "12 ft"
[cover]
roll_up = "one"
mesh_band = "12 in"
[wishes]
animals = ["rabbit", "burrowers"]
""",
}


@cache
def design(name: str) -> Design:
    """Return the design of one of the plans above."""
    return design_of(read_plan_text(PLANS[name], file=name))


@cache
def document(name: str) -> Document:
    """Return the sheet of one of the plans above, as content."""
    return build_sheet(design(name), DATE)
