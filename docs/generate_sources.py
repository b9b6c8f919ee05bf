"""Make the page of sources from the rows of the tables and the list of what they name."""

from __future__ import annotations

import csv
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path

from hoopwright.tables.reader import OPENED, shipped
from hoopwright.tables.sources import (
    NOT_TO_BE_READ,
    Share,
    readable_shares,
    sums,
    sureness,
    table_names,
)

LIST = Path(__file__).parent / "sources.csv"

HOLDS = {
    "animal": "gaps and heights that keep animals out",
    "batten": "strips that clamp film",
    "climate_demo_valley": "twelve monthly means of a valley that does not exist",
    "clip": "slit tube and snap clamps",
    "rail_clip": "spring clips screwed to a board, that a rail is pressed into",
    "cord": "lashing cord: diameter, breaking force",
    "cover": "films, fabrics and meshes",
    "cover_optics": "how covers pass sun, heat and air",
    "cover_flogging": "hours of flogging that a sheet stands",
    "cover_strength": "how covers stretch, tear and age",
    "crop": "crops: days to harvest, spacing, how they are started",
    "crop_base": "between which temperatures degree days add",
    "crop_bolt": "cold days that make a crop flower before its time",
    "crop_cold": "temperatures that kill, by stage",
    "crop_emergence": "days to emergence and the share that comes up, by soil temperature",
    "crop_germination": "soil temperatures at which seed comes up",
    "crop_growth": "monthly means in which crops grow; soil in which planting makes sense",
    "crop_hardened": "temperatures that kill hardened plants",
    "crop_heat": "day maxima from which heat harms",
    "crop_kin": "which crop stands in where a table has no row of a crop's own",
    "crop_light": "daily light below which crops grow slower",
    "crop_listed": "where the thermometer stood by which killing temperatures are listed",
    "crop_soil": "water that garden soils hold",
    "crop_stage": "when crops are open to heat, when tops come back, which heat kills leaves",
    "crop_stalk": "warmth and day length that make a crop flower",
    "crop_water": "crop coefficients, stages, roots",
    "crop_yield": "what less light takes of the yield",
    "heat_coefficients": "every coefficient of the climate under cover, with its range",
    "heat_fabric_leak": "air through a square metre of fabric",
    "heat_leakage": "air changes through closed edges",
    "heat_trials": "what trials measured under fabric",
    "holding_grip": "friction in straps, on soil, of film",
    "holding_grip_force": "squeeze of a strap, pull of a snap clamp",
    "holding_soil_adhesion": "what moist soil sticks to boards with",
    "holding_soil_friction": "friction of soil on stakes",
    "loads_en_vault": "pressure on arched roofs",
    "loads_internal_pressure": "pressure inside covers",
    "loads_roughness": "roughness of the ground upwind",
    "loads_shelter": "wind behind fences and hedges",
    "loads_snow_kind": "density of kinds of snow",
    "loads_soil_kind": "weight and friction of soils",
    "odds_share": "doubts of strength that belong to no other table",
    "lumber": "board sizes dry and green",
    "pipe": "sizes of hoop pipe and rod",
    "pipe_material": "strength, stretch, creep and cold of what pipe is made of",
    "price": "invented example prices",
    "rail": "pipes for roll-up sides",
    "reach": "how far a person reaches into a bed",
    "roll": "widths and lengths in which covers are sold",
    "screw": "screws as sold",
    "screw_size": "diameters and pilot holes by gauge",
    "site_standard": "whose wind and snow standard holds in a country",
    "species": "weight, stiffness and strength of the woods",
    "stake": "bars and stakes inside or beside hoop feet",
    "strap": "tube straps",
    "tool": "tools a build wants",
}
"""What each table holds; a test checks that every table that ships is here."""

SUMS = {
    "crop needs": "germination, emergence, growth, base, cold, heat, water",
    "crops": "all tables of crops and their soil",
    "all": "",
}


@dataclass
class Named:
    """One source, and the rows that name it: by table, and by how sure they are."""

    section: str
    phrase: str
    title: str
    found_at: str
    tables: Counter[str] = field(default_factory=Counter)
    sure: Counter[str] = field(default_factory=Counter)


def named_sources() -> list[Named]:
    """Return the list of sources, each with the rows that name it."""
    with LIST.open(encoding="utf-8", newline="") as stream:
        listed = [
            Named(row["section"], row["phrase"], row["title"], row["found at"])
            for row in csv.DictReader(stream)
        ]
    for table in table_names():
        for row in shipped(table):
            for one in listed:
                if one.phrase in row.cells["source"]:
                    one.tables[table] += 1
                    one.sure[sureness(row)] += 1
    return listed


def page(note: str) -> str:
    """Return the page."""
    return "\n".join([note, *_head(), *_shares(), *_lists()]) + "\n"


def _head() -> Iterator[str]:
    yield "# Sources\n"
    yield (
        "Where the numbers of the tables come from. Each row names its source and how sure it is: "
        "**read** (the number was seen in the source named), **secondary** (in a copy or a "
        "quotation of it, which the row says), **memory** (of a named source nobody opened for "
        "this project), **assumption** (ours, with the reason), **practice** (what people do, "
        "published by nobody), **invented** (examples). A row is as sure as the weakest of its "
        "numbers, but a range set about a number that was read may be ours: the row then says so "
        "(*range ours*). A number two sources disagree on is a band with both named. Before you "
        "rely on a row from memory, look it up. `hoopwright catalogue NAME KEY` prints a row "
        "with its source, `hoopwright catalogue --sources` this first table.\n"
    )
    yield (
        "What was looked for and not found, and which test would settle it, stands in "
        "[unknown](method/unknown.md).\n"
    )


def _shares() -> Iterator[str]:
    yield "## How much was read\n"
    yield "| table | holds | rows | read | secondary | memory | assumption | practice | opened |"
    yield "|---|---|---|---|---|---|---|---|---|"
    shares = readable_shares()
    for one in shares:
        yield _share_row(f"`{one.name}`", HOLDS[one.name], one)
    for one in sums(shares):
        yield _share_row(f"**{one.name}**", SUMS[one.name], one)
    yield "\nLeft out, for no source can hold them:\n"
    for name, why in NOT_TO_BE_READ.items():
        yield f"- `{name}`: {HOLDS[name]}; {why}"
    yield ""


def _share_row(name: str, holds: str, one: Share) -> str:
    counts = " | ".join(
        str(one.counts[word] or "")
        for word in ("read", "secondary", "memory", "assumption", "practice")
    )
    return f"| {name} | {holds} | {one.rows} | {counts} | {one.share:.0%} |"


def _lists() -> Iterator[str]:
    yield "## What the sources are\n"
    yield (
        "The phrase in code type is found in the `source` column. Opened: how many of the rows "
        "that name the source were read in it or in a copy (a row may name several).\n"
    )
    listed = named_sources()
    for section in dict.fromkeys(one.section for one in listed):
        yield f"### {section}\n"
        yield "| phrase | what it is | where a reader finds it | taken for | rows | opened |"
        yield "|---|---|---|---|---|---|"
        for one in listed:
            if one.section == section:
                rows = one.sure.total()
                opened = sum(one.sure[word] for word in OPENED)
                taken = ", ".join(f"`{name}`" for name in one.tables)
                yield (
                    f"| `{one.phrase}` | {one.title} | {one.found_at} | {taken} | {rows} "
                    f"| {opened or 'none'} |"
                )
        yield ""
