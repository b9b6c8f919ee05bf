"""Words, times and tools: drill bits by name, counted work, and tables that hang together."""

from __future__ import annotations

import pytest

from hoopwright.answers.facts import facts
from hoopwright.answers.findings import tally
from hoopwright.answers.labour import counts_of, labour_of, labour_rows
from hoopwright.answers.voice import Voice, listed, numbered, plural
from hoopwright.design import Design
from hoopwright.sheet.care import care_rows
from hoopwright.sheet.cautions import caution_rows
from hoopwright.sheet.traits import applies
from hoopwright.tables.catalogue import Catalogue
from hoopwright.units import METRIC, US


def test_pilot_bits_have_the_names_on_the_rack() -> None:
    """#8 and #10 in softwood: 3/32 and 7/64 in, as woodworking charts give them (from memory)."""
    sizes = Catalogue().screw_sizes
    assert Voice(US).bit(sizes["#8"].pilot_softwood) == "3/32 in"
    assert Voice(US).bit(sizes["#10"].pilot_softwood) == "7/64 in"
    assert Voice(METRIC).bit(sizes["#8"].pilot_softwood) == "2.5 mm"


def test_lists_and_runs_read_as_people_say_them() -> None:
    assert listed(["a", "b", "c"]) == "a, b and c"
    assert numbered([1, 2, 3, 5, 7, 8]) == "1 to 3, 5, 7 and 8"
    assert plural(1, "hoop") == "1 hoop"
    assert plural(2, "hoop") == "2 hoops"


def test_money_is_in_the_price_lists_currency() -> None:
    assert Voice(METRIC, "USD").money(3.5) == "$3.50"
    assert Voice(METRIC, "CHF").money(3.5) == "CHF 3.50"


def test_each_fact_is_told_once(a_design: Design) -> None:
    found = facts(a_design)
    labels = [fact.label for fact in found]
    assert len(set(labels)) == len(labels)
    assert {
        "Bed",
        "Hoops",
        "Height",
        "Inside",
        "Marks",
        "Bend",
        "Push",
        "Cover",
        "Cost",
        "Work",
    } <= (set(labels))
    assert all(fact.says.endswith(".") for fact in found)


def test_tally_counts_what_asks_something(a_design: Design) -> None:
    words = tally(a_design.findings)
    for word, verb in (("change", "to change"), ("watch", "to watch")):
        number = sum(1 for finding in a_design.findings if finding.severity.word == word)
        assert (f"{number} {verb}" in words) == (number > 0)


def test_work_is_counted_from_the_plan(designs: dict[str, Design]) -> None:
    demo, long = counts_of(designs["demo"]), counts_of(designs["long"])
    assert demo["strap"] == 28
    assert demo["bend"] == 7
    assert demo["panel"] == 2
    assert demo["pipe-cut"] == 3  # two rails and the ridge; every hoop is a whole stick
    assert long["corner"] == 0
    assert long["splice"] == 1
    assert counts_of(designs["inside"])["trench"] == round(2 * 2.4 / 0.9144)


def test_times_are_ranges_round_the_likely(a_design: Design) -> None:
    labour = labour_of(a_design)
    assert 0 < labour.low < labour.likely < labour.high
    assert labour.hands == 2
    counts = counts_of(a_design)
    assert set(counts) == {row.key for row in labour_rows()}
    assert all(row.low < row.likely < row.high for row in labour_rows())


def test_every_tool_is_wanted_for_a_known_reason() -> None:
    known = {
        *("always", "optional", "plastic pipe", "steel-emt", "fibreglass", "sleeves", "battens"),
        *("slit clips", "stakes", "mesh band"),
    }
    assert {w for tool in Catalogue().tools.values() for w in tool.wanted.split("|")} <= known


def test_rows_choose_by_traits() -> None:
    film = frozenset({"always", "film"})
    assert applies("always", film)
    assert applies("mesh|film", film)
    assert not applies("film+framed", film)


@pytest.mark.parametrize("rows", [caution_rows(), care_rows()])
def test_every_row_speaks_plainly(rows: tuple[object, ...]) -> None:
    for row in rows:
        assert row.text.endswith(".")  # type: ignore[attr-defined]
        assert "!" not in row.text  # type: ignore[attr-defined]
    short = [row.short for row in caution_rows()]
    assert max(map(len, short)) <= 90
