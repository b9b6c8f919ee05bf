"""The care page: what to do from season to season, and when the cover is at its end."""

import datetime
from typing import Annotated

from hoopwright.answers.facts import Fact
from hoopwright.answers.voice import Voice
from hoopwright.design import Design
from hoopwright.frozen import dataclass
from hoopwright.sheet.content import FactList, Paragraph, Part, Table, columns
from hoopwright.sheet.traits import applies
from hoopwright.tables.constants import YEAR
from hoopwright.tables.reader import Sourced, rows_of, text


@dataclass(frozen=True)
class CareRow(Sourced):
    """One thing to do in a season; `when` names the traits of a bed that wants it."""

    season: Annotated[str, text()]
    when: Annotated[str, text()]
    text: Annotated[str, text()]


def care_rows() -> tuple[CareRow, ...]:
    """Return what to do in each season."""
    return rows_of(CareRow, "care", "sheet/data")


def care_parts(
    design: Design, traits: frozenset[str], date: datetime.date, say: Voice
) -> tuple[Part, ...]:
    """Return the seasons with what to do in each, the cover's life, and a log to fill in."""
    seasons: dict[str, list[str]] = {}
    for row in care_rows():
        if applies(row.when, traits):
            seasons.setdefault(row.season, []).append(row.text)
    told = tuple(Fact(season, " ".join(texts)) for season, texts in seasons.items())
    return (
        Part("", (FactList(told),)),
        Part("The cover's life", (_life(design, date),)),
        Part("", (_dates(design, date),)),
    )


def _years(seconds: float) -> str:
    return f"{seconds / YEAR:g}"


def _life(design: Design, date: datetime.date) -> Paragraph:
    material = design.cover.material
    low, high = material.service_life_low / YEAR, material.service_life_high / YEAR
    first = date.year + int(low)
    words = (
        f"{material.name}: about {_years(material.service_life)} years of full sun as its makers "
        f"put it ({_years(material.service_life_low)} to {_years(material.service_life_high)}), "
        f"less at height and where it lies hot on the pipe. Put up in {date.year} it wants a hard "
        f"look from {first} on and is at its end by about {date.year + round(high)}."
    )
    if material.sunlight_stabilised == "no":
        words += " It is not made for sunlight: plan on one season."
    if material.kind == "film" and design.hoop.pipe.material == "pvc":
        words += (
            " On bare PVC it fails first along the pipe, which takes the film's stabiliser: lay "
            "white tape or water paint between them."
        )
    if material.kind == "film":
        words += " Film is done when a thumb pushes through it or it cracks along the pipe."
    else:
        words += " It is done when it tears at a light pull."
    return Paragraph(words)


def _dates(design: Design, date: datetime.date) -> Table:
    """Return when to look it over, with room to write what was found.

    Seasons follow the site's half of the earth; where the plan gives no latitude, the northern.
    """
    south = design.site.latitude is not None and design.site.latitude < 0
    spring, autumn = (9, 3) if south else (3, 9)
    looks = [(date + datetime.timedelta(days=7), "A week after building: straps, screws, clips")]
    for year in (date.year, date.year + 1, date.year + 2):
        looks += [
            (datetime.date(year, spring, 15), "Spring: pipe, straps, cover"),
            (datetime.date(year, autumn, 15), "Autumn: straps, crowns, battens, skirts"),
        ]
    coming = sorted(look for look in looks if look[0] > date)[:5]
    rows = [(day.isoformat(), what, "") for day, what in coming]
    rows.append(("After each storm", "All of it, before the cover is opened", ""))
    heads = columns("On or about 1.6 | Look at 3.8 | Found 3")
    return Table("Dates to inspect", heads, tuple(rows), to_fill=True)
