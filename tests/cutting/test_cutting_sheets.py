"""The sheet cutter: shelves that are true guillotine cuts, bounds, refusals, a second packer."""

import itertools
import random
from dataclasses import replace

import pytest
import rectpack

from hoopwright.cutting import sheets as sheets_module
from hoopwright.cutting.sheets import cut_sheets
from hoopwright.cutting.stock import CannotCut, Roll, Sheet


def overlaps(one, other):
    return (
        one.x < other.x + other.width - 1e-9
        and other.x < one.x + one.width - 1e-9
        and one.y < other.y + other.length - 1e-9
        and other.y < one.y + one.length - 1e-9
    )


def check(plan, sheets):
    """Every sheet once, inside its roll, apart from the rest, within one pair of cross-cuts."""
    placed = [one for cut in plan.rolls for one in cut.sheets]
    assert sorted(one.sheet.name for one in placed) == sorted(sheet.name for sheet in sheets)
    for cut in plan.rolls:
        ends = [0.0, *cut.cross_cuts]
        assert cut.used <= cut.roll.length + 1e-9
        for one in cut.sheets:
            size = (one.sheet.width, one.sheet.length)
            assert (one.width, one.length) == pytest.approx(size[::-1] if one.turned else size)
            assert not one.turned or one.sheet.may_turn
            assert one.x + one.width <= cut.roll.width + 1e-9
            start = max(end for end in ends if end <= one.y + 1e-9)
            stop = min(end for end in ends if end > one.y + 1e-9)
            assert one.y == pytest.approx(start)
            assert one.y + one.length <= stop + 1e-9
        for one, other in itertools.combinations(cut.sheets, 2):
            assert not overlaps(one, other)
    assert plan.bound <= plan.cost + 1e-9
    assert plan.length_bound <= plan.length + 1e-9
    widest = max(cut.roll.width for cut in plan.rolls)
    if all(cut.roll.width == widest for cut in plan.rolls):
        assert plan.area_bound <= plan.length + 1e-9


def draw_sheets(seed, count):
    draw = random.Random(seed)
    return [
        Sheet(
            f"s{k}",
            draw.randrange(30, 200) / 100,
            draw.randrange(40, 300) / 100,
            draw.random() < 0.5,
        )
        for k in range(count)
    ]


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(
    "rolls",
    [
        [Roll("by the metre", 3.0, 30.0, 2.0, by_length=True)],
        [Roll("short", 3.0, 8.0, 20.0), Roll("long", 3.0, 30.0, 60.0)],
        [Roll("long", 3.0, 30.0, 60.0), Roll("rest", 2.4, 5.0, 0.0, 1)],
        [Roll("wide", 3.0, 30.0, 2.0, None, True), Roll("narrow", 2.0, 30.0, 1.4, None, True)],
    ],
    ids=["metre", "whole", "rest", "two widths"],
)
def test_plans_can_be_cut(seed, rolls):
    sheets = draw_sheets(seed, 14)
    plan = cut_sheets(sheets, rolls)
    check(plan, sheets)
    assert plan.gap < 0.06
    assert cut_sheets(sheets[::-1], rolls) == plan


def shelf_length(sides, width):
    """Least length in shelves, by trying every way to put the sheets together."""
    best = float("inf")

    def put(k, shelves):
        nonlocal best
        length = sum(shelf[1] for shelf in shelves)
        if length >= best:
            return
        if k == len(sides):
            best = length
            return
        for across, along in {sides[k][:2], sides[k][1::-1] if sides[k][2] else sides[k][:2]}:
            for at, (used, longest) in enumerate(shelves):
                if used + across <= width:
                    new = (used + across, max(longest, along))
                    put(k + 1, [*shelves[:at], new, *shelves[at + 1 :]])
            if across <= width:
                put(k + 1, [*shelves, (across, along)])

    put(0, [])
    return best


@pytest.mark.parametrize("seed", range(25))
def test_small_jobs_against_trying_everything(seed):
    draw = random.Random(seed)
    sides = [(draw.randrange(3, 11), draw.randrange(3, 15), draw.random() < 0.5) for _ in range(6)]
    sheets = [Sheet(f"{k}", a / 10, b / 10, turn) for k, (a, b, turn) in enumerate(sides)]
    plan = cut_sheets(sheets, [Roll("r", 1.5, 50.0, 3.0, by_length=True)])
    assert plan.proven
    assert plan.length_proven
    assert round(plan.length * 10) == shelf_length(sides, 15)


def test_one_sheet_told_without_a_search_is_what_the_search_finds(monkeypatch):
    """Random sheets and rolls, some not to be had: the same roll, cost and bounds."""
    draw = random.Random(6)
    jobs = []
    for _ in range(30):
        size = draw.uniform(0.5, 3.0), draw.uniform(0.5, 4.0)
        prices = draw.sample(range(20, 200), 4)
        rolls = [
            Roll(str(price), draw.choice([2.0, 3.1]), draw.choice([4.1, 8.0]), price, stock)
            for price, stock in zip(prices, (0, 1, None, None), strict=True)
        ]
        jobs.append((Sheet("a", *size), [*rolls, Roll("enough", 3.0, 4.0, 150.5)]))

    def told():
        plans = [cut_sheets([sheet], rolls) for sheet, rolls in jobs]
        return [replace(plan, length_bound=round(plan.length_bound, 9)) for plan in plans]

    found = told()
    monkeypatch.setattr(sheets_module, "_off_one_roll", lambda *_: None)
    assert told() == found


def test_a_full_strip_has_no_waste():
    sheets = [Sheet(f"{k}", 1.0, 2.0) for k in range(3)] + [Sheet("wide", 3.0, 1.5)]
    plan = cut_sheets(sheets, [Roll("r", 3.0, 30.0, 2.0, by_length=True)])
    assert plan.length == pytest.approx(3.5)
    assert plan.waste_area == pytest.approx(0.0)
    assert plan.cost == pytest.approx(7.0)
    assert plan.proven


def test_whole_rolls_are_bought_whole():
    sheets = [Sheet(f"{k}", 3.0, 4.0) for k in range(5)]
    rolls = [Roll("10 m", 3.0, 10.0, 20.0), Roll("30 m", 3.0, 30.0, 66.0)]
    plan = cut_sheets(sheets, rolls)
    # Two sheets a short roll: three short rolls at 60 are cheaper than one long at 66.
    assert plan.cost == 60.0
    assert plan.proven


def test_a_second_packer_needs_no_less_than_the_area_and_fits_our_length():
    sheets = draw_sheets(3, 20)
    plan = cut_sheets(sheets, [Roll("r", 3.0, 60.0, 2.0, by_length=True)])
    packer = rectpack.newPacker(rotation=False, mode=rectpack.PackingMode.Offline)
    for cut in plan.rolls:
        for one in cut.sheets:
            packer.add_rect(round(one.width * 1000), round(one.length * 1000))
    packer.add_bin(3000, round(plan.length * 1.25 * 1000))
    packer.pack()
    assert len(packer.rect_list()) == len(sheets)
    assert plan.area_bound <= plan.length_bound + 1e-9


@pytest.mark.parametrize(
    ("sheet", "rolls", "words"),
    [
        (Sheet("body", 4.0, 5.0), [Roll("r", 3.0, 30.0, 1.0)], ("'body'", "3 m", "seam")),
        (Sheet("body", 2.0, 40.0), [Roll("r", 3.0, 30.0, 1.0)], ("'body'", "longer roll")),
        (Sheet("body", 2.0, 4.0), [], ("no roll",)),
        (Sheet("body", 0.0, 4.0), [Roll("r", 3.0, 30.0, 1.0)], ("'body'", "no size")),
        (Sheet("body", 2.0, 4.0), [Roll("r", 0.0, 30.0, 1.0)], ("'r'", "width")),
    ],
)
def test_refusals_name_the_thing_and_the_way_out(sheet, rolls, words):
    with pytest.raises(CannotCut) as refused:
        cut_sheets([sheet], rolls)
    for word in words:
        assert word in str(refused.value)


def test_too_few_rolls_are_said_so():
    sheets = [Sheet(f"{k}", 3.0, 4.0) for k in range(5)]
    with pytest.raises(CannotCut, match="another roll"):
        cut_sheets(sheets, [Roll("r", 3.0, 10.0, 20.0, 2)])


def test_nothing_to_cut():
    assert cut_sheets([], [Roll("r", 3.0, 30.0, 1.0)]).rolls == ()
