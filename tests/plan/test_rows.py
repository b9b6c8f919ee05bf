"""Rows and lists of a plan changed one by one: the data as asked, every comment still there."""

import random
import re
import tomllib

import pytest

from hoopwright.plan.rewrite import with_value, without_section
from hoopwright.plan.rows import rows_of, with_row, without_row
from hoopwright.plan.starter import starter_plan

KEY = "site.skyline"
BLOCKS = """# the place
[site]
name = "x"  # its name
# gust = "90 mph"

# the south
[[site.skyline]]
direction = "180 deg"  # true south
height = "12 deg"

[[site.skyline]]
# over the barn
direction = "200 deg"
height = "15 deg"

# The board box.
[bed]
length = "8 ft"  # as built
"""
INLINE = """[site]
skyline = [
  {direction = "180 deg", height = "12 deg"},  # true south
  {direction = "200 deg", height = "15 deg"},
]
[bed]
length = "8 ft"  # as built
"""
DOTTED = 'site.name = "x"  # its name\n[bed]\nlength = "8 ft"\n'
WEST = {"direction": "270 deg", "height": "5 deg"}


def comments(text):
    return sorted(re.findall(r"#[^\n]*", text))


@pytest.mark.parametrize(
    "text", [BLOCKS, INLINE, DOTTED, "", starter_plan({}), '[bed]\nlength = "8 ft"\n']
)
def test_rows_come_change_and_go(text):
    rows = rows_of(text, KEY)
    more = with_row(text, KEY, WEST)
    assert rows_of(more, KEY) == [*rows, WEST]
    assert comments(more) == comments(text)
    last = len(rows)
    changed = with_row(more, KEY, WEST | {"height": "6 deg"}, last)
    assert rows_of(changed, KEY) == [*rows, WEST | {"height": "6 deg"}]
    assert comments(changed) == comments(text)
    gone = without_row(changed, KEY, last)
    assert tomllib.loads(gone).get("bed") == tomllib.loads(text).get("bed")
    assert rows_of(gone, KEY) == rows
    assert comments(gone) == comments(text)
    assert without_row(text, KEY, 99) == text


def test_a_change_leaves_every_other_line_alone():
    changed = with_row(BLOCKS, KEY, {"direction": "190 deg", "height": "12 deg"}, 0)
    assert changed == BLOCKS.replace("180 deg", "190 deg")


def test_a_row_taken_away_leaves_the_next_section_its_comment():
    text = without_row(without_row(BLOCKS, KEY, 1), KEY, 0)
    assert rows_of(text, KEY) == []
    assert set(comments(BLOCKS)) - set(comments(text)) == {"# true south"}
    assert "# The board box.\n[bed]" in text


def test_a_new_row_of_a_starter_plan_leaves_its_commented_keys_to_the_section():
    text = with_row(starter_plan({}), KEY, WEST)
    later = with_value(text, "site.gust", "80 mph")
    assert tomllib.loads(later)["site"]["gust"] == "80 mph"
    assert later.index("gust = ") < later.index("[[site.skyline]]")


def test_many_changes_in_turn_agree_with_a_list():
    draw = random.Random(3)
    for text in (BLOCKS, INLINE, DOTTED):
        held = rows_of(text, KEY)
        for _ in range(60):
            row = {"direction": f"{draw.randrange(360)} deg", "height": f"{draw.randrange(80)} deg"}
            number = draw.randrange(len(held)) if held else None
            way = draw.randrange(3)
            if way == 0 or number is None:
                held, text = [*held, row], with_row(text, KEY, row)
            elif way == 1:
                held[number] = row
                text = with_row(text, KEY, row, number)
            else:
                del held[number]
                text = without_row(text, KEY, number)
            assert rows_of(text, KEY) == held
            assert tomllib.loads(text)["bed"] == {"length": "8 ft"}


MONTHS = """[normals]  # typed from the almanac
maximum = [
  "28 F", "32 F", "42 F",  # winter
  "52 F", "62 F", "72 F",
  "82 F", "80 F", "70 F",  # summer
  "57 F", "40 F", "29 F",
]
wet_days = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12]
"""


def test_one_month_changed_keeps_the_layout_of_the_list():
    values = tomllib.loads(MONTHS)["normals"]["maximum"]
    values[6] = "83 F"
    assert with_value(MONTHS, "normals.maximum", values) == MONTHS.replace("82 F", "83 F")
    days = [*range(1, 12), 11.5]
    changed = with_value(MONTHS, "normals.wet_days", days)
    assert changed == MONTHS.replace("11, 12]", "11, 11.5]")


def test_a_section_taken_away_reads_as_none_and_keeps_its_comments():
    text = BLOCKS + MONTHS
    gone = without_section(text, "normals")
    assert tomllib.loads(gone) == tomllib.loads(BLOCKS)
    assert "# typed from the almanac" in gone
    assert without_section(BLOCKS, "normals") == BLOCKS
