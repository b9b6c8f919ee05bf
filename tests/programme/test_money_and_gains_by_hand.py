"""Who pays what, what a design comes to, what a cover gains: on figures made up to be counted."""

from __future__ import annotations

from dataclasses import replace
from datetime import datetime
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest

from hoopwright.checks.followed_hoop import STRONGEST_GUST
from hoopwright.cutting.stock import CutPlan, CutStick, Piece, Stick
from hoopwright.design import Design, design_of
from hoopwright.materials.order import AtHand, Order, OrderLine, StickCuts
from hoopwright.materials.parts import CutParts, Parts
from hoopwright.plan.read import read_plan_text
from hoopwright.programme.advise import Wish, scores
from hoopwright.programme.budget import _drop
from hoopwright.programme.bulk_order import BulkOrder, Buyer
from hoopwright.programme.buying import Bill, put_together, together
from hoopwright.programme.changes import Change, WorkedChange, _value, changes
from hoopwright.programme.compare import ComparedFigure
from hoopwright.programme.effects import Effect, effect
from hoopwright.programme.shares import BedShare, shares_of
from hoopwright.programme.station import StickWork, StopSetting, stations_of
from hoopwright.programme.weighing import Weigher, Worth, YearUnderCover, growth_of

BED = '[bed]\nlength = "12 ft"\nwidth = "3 ft"\n'


@cache
def bed(more: str = "") -> Design:
    return design_of(read_plan_text(BED + more))


def line(thing: str, buy: int, price: float, hand: int = 0) -> OrderLine:
    return OrderLine(thing, thing, "pack", None, None, 1, buy, hand, buy + hand, "", price)


def order(*lines: OrderLine) -> Order:
    return Order((), (), lines, (), False, "2026-11", "USD", ())


def test_each_bed_pays_of_each_thing_as_it_would_have_paid_for_it_alone() -> None:
    """Pipe for 20: alone A would pay 30 and B 10, so 15 and 5. Film for 10 is A's alone. Screws for
    1.00 that nobody would have paid for alone, but B and C have asked for, are 50 cents each."""
    alone = {"A": {"pipe": 30.0, "film": 12.0}, "B": {"pipe": 10.0, "screw": 0.0}}
    alone["C"] = {"screw": 0.0}
    whole = order(line("pipe", 4, 5.0), line("film", 1, 10.0), line("screw", 1, 1.0))
    shares = {one.letter: one for one in shares_of(BulkOrder(whole, alone, 31.0, (), {}))}
    assert {letter: one.pays for letter, one in shares.items()} == {"A": 25.0, "B": 5.5, "C": 0.5}
    assert {letter: one.saves for letter, one in shares.items()} == {"A": 17.0, "B": 4.5, "C": -0.5}


def test_the_odd_cent_goes_to_whom_most_of_it_is_owed() -> None:
    """10.00 as 1 to 2 to 3: 1.666, 3.333 and 5.00. The cents left out are two thirds of A's and a
    third of B's, so A pays the tenth: 1.67."""
    alone = {"A": {"x": 1.0}, "B": {"x": 2.0}, "C": {"x": 3.0}}
    shares = shares_of(BulkOrder(order(line("x", 1, 10.0)), alone, 10.0, (), {}))
    assert [one.pays for one in shares] == [1.67, 3.33, 5.0]


def test_what_a_class_saves_by_sharing_and_by_its_shelf_are_told_apart() -> None:
    """Alone 60 and 40; together 80 without the shelf, 70 with it; of the 70 no cutting could save
    more than what is over 35 and 28."""
    alone = {"A": {"x": 60.0}, "B": {"x": 25.0, "y": 15.0}}
    bulk = BulkOrder(order(line("x", 7, 10.0, hand=1)), alone, 80.0, (), {"x": 35.0, "y": 28.0})
    assert bulk.order.total == pytest.approx(70.0)
    assert bulk.alone_total == pytest.approx(100.0)
    assert bulk.saving == pytest.approx(20.0)
    assert bulk.shelf_worth == pytest.approx(10.0)
    assert bulk.gap == pytest.approx(0.1)


def test_orders_put_together_add_what_is_bought_and_what_is_at_hand() -> None:
    both = put_together([order(line("x", 2, 3.0, hand=1)), order(line("x", 4, 3.0, hand=5))])
    (one,) = both.lines
    assert (one.buy, one.from_hand, one.needed) == (6, 6, 12)
    assert both.total == pytest.approx(18.0)


def test_parts_of_several_beds_are_cut_with_the_widest_saw_cut() -> None:
    thin, wide = (
        Parts((CutParts("x", (Piece("a 1", 1.0),), kerf),), (), ()) for kerf in (0.001, 0.003)
    )
    for beds in ((thin, wide), (wide, thin)):
        assert together(zip("AB", beds, strict=True)).cut[0].kerf == 0.003


def test_a_change_adds_what_its_parts_cost_more() -> None:
    """A second strap on each of 14 legs: 14 straps and 28 screws more, in packs at their prices."""
    before, after = (bed(f"[hoops]\nstraps_per_leg = {number}\n") for number in (1, 2))
    things = ("strap-ips-1/2", "screw-10x1-1/4")
    more = [
        sum(one.total for one in design.order.lines if one.thing in things)
        for design in (before, after)
    ]
    added = Bill(before.catalogue).added(before.parts, after.parts)
    assert added == pytest.approx(more[1] - more[0])
    assert added > 0


def test_the_last_cut_of_a_stick_that_comes_out_even_is_not_made() -> None:
    """Two sticks of three pieces with an offcut take six cuts; one that comes out even takes one
    less, two."""
    label = SimpleNamespace()
    some = StopSetting(3.0, False, (1.0, 0.9, 0.8), ((label,) * 2,) * 3, 0.2)
    even = StopSetting(3.0, False, (1.0, 1.0, 1.0), ((label,),) * 3, 0.0)
    assert StickWork("x", "x", (some, even)).cuts == 6 + 2


def test_a_station_cuts_the_longest_first() -> None:
    sticks = (
        CutStick(Stick("3 m", 3.0, 1.0), (Piece("A hoop 1", 1.0), Piece("B hoop 1", 2.0)), 0.0),
    )
    held = order()
    cuts = StickCuts("pvc40-1/2", "pipe", CutPlan(sticks, 1.0, 1.0, True, True, 0.0))
    (station,) = stations_of(replace(held, sticks=(cuts,)), bed().catalogue)
    assert station.tool == "pipe cutter"
    assert station.works[0].settings[0].lengths == (2.0, 1.0)
    assert station.cuts == 1


def test_the_cost_the_waste_and_the_covers_cost_a_year_are_the_orders() -> None:
    """Waste is what offcuts and saw cuts take of the sticks cut into; the film's own line over its
    life, four years of a 4 year film by the table."""
    worth = Weigher(Bill(bed().catalogue)).weigh(bed())
    plans = [cuts.plan for cuts in bed().order.sticks]
    bought = sum(cut.stick.length for plan in plans for cut in plan.sticks)
    pieces = sum(piece.length for plan in plans for cut in plan.sticks for piece in cut.pieces)
    film = sum(one.total for one in bed().order.lines if one.thing == bed().cover.material.key)
    years = bed().cover.material.service_life / (365.25 * 86400)
    assert worth.cost == pytest.approx(bed().order.total)
    assert worth.waste == pytest.approx((bought - pieces) / bought)
    assert years == pytest.approx(4.0)
    assert worth.cover_cost_per_year == pytest.approx(film / 4)
    assert worth.height == pytest.approx(bed().hoop.crown_over_board)
    assert worth.wind == pytest.approx(float(np.quantile(bed().ladder.opens.at, 0.1)), rel=5e-3)
    assert worth.half == pytest.approx(float(np.quantile(bed().ladder.opens.at, 0.5)), rel=5e-3)


def test_what_a_cover_gains_in_a_year_is_counted_on_leaves_and_in_air() -> None:
    """Open leaves at -1 in the nights of the first 100 and the last 65 days, else 5: 200 days
    without frost. Under cover they are 3 K warmer but for the first 60 days: 305. Air is 20, but 33
    at 10 noons under cover and 2 in the open: 8 hours of 13 K more over 10 degC, 4.3 K d."""
    weather = SimpleNamespace(start=datetime(2026, 1, 1))
    leaf, air, day = np.full(8760, 5.0), np.full(8760, 20.0), np.arange(8760) // 24
    night = np.arange(8760) % 24 < 5
    leaf[night & ((day < 100) | (day >= 300))] = -1.0
    under_leaf = np.where(day < 60, leaf, leaf + 3.0)
    under_air, open_air = air.copy(), air.copy()
    under_air[12 : 12 + 240 : 24] = 33.0
    open_air[12 : 12 + 48 : 24] = 33.0
    under, bare = (
        SimpleNamespace(weather=weather, leaf=a, air=b)
        for a, b in ((under_leaf, under_air), (leaf, open_air))
    )
    found = growth_of(under, bare)
    assert found.days == (365 - 60) - 200
    assert (found.hot, found.hot_open) == (10, 2)
    assert found.warmth == pytest.approx(8 * 13 / 24)
    assert found.degrees == pytest.approx(3 * (1 - 60 / 365), rel=0.01)


def worth(**what: object) -> Worth:
    growth = YearUnderCover(2.0, 10, 0, 0, 0.0)
    usual = Worth(100.0, 20.0, "", 25.0, 0.3, "", growth, 0.1, 0.6, 5.0, "film", (), ())
    return replace(usual, **what)


def test_a_search_counts_strength_no_further_than_it_is_claimed() -> None:
    rows = scores([worth(wind=STRONGEST_GUST + 5), worth(wind=STRONGEST_GUST + 9, cost=90.0)])
    assert rows.tolist() == [[100.0, -STRONGEST_GUST, -2.0], [90.0, -STRONGEST_GUST, -2.0]]


def test_a_wish_of_a_cost_is_kept_to_the_cent() -> None:
    assert Wish(cost=100.0).unmet(worth(cost=100.0)) == ""
    assert Wish(cost=100.0).unmet(worth(cost=100.01)) == "the cost"
    assert Wish(degrees=2.0).unmet(worth()) == ""
    assert Wish(degrees=2.1).unmet(worth()) == "degrees gained"


@pytest.mark.parametrize(
    ("wind", "snow", "weaker", "halved"),
    [
        (19.8, 0.30, False, False),  # one in a hundred is not noticed
        (19.4, 0.60, True, False),
        (30.0, 0.29, True, False),
        (9.9, 0.60, True, True),
        (30.0, 0.14, True, True),
    ],
)
def test_either_loss_makes_a_substitute_weaker(wind, snow, weaker, halved) -> None:
    found = Effect("A", 20.0, wind, "B", 0.3, snow)
    assert (found.weaker, found.halved) == (weaker, halved)


def test_an_effect_is_told_of_the_bed_that_gives_way_first() -> None:
    """By the careful gust and depth, of which each design has its own."""

    def made(gusts: tuple[float, float], snow: float) -> SimpleNamespace:
        opens = SimpleNamespace(told=(*gusts, 99.0))
        return SimpleNamespace(
            ladder=SimpleNamespace(opens=opens, wet_snow=SimpleNamespace(careful=snow))
        )

    before = {"A": made((20.0, 21.0), 0.3), "B": made((18.0, 30.0), 0.4)}
    after = {"A": made((25.0, 26.0), 0.2), "B": made((22.0, 31.0), 0.5)}
    assert effect(before, after) == Effect("B", 18.0, 22.0, "A", 0.3, 0.2)


def test_the_change_that_gains_most_for_its_money_stands_first_and_losers_last() -> None:
    """A tenth of the gust for 2, a fifth for 5; what costs nothing is weighed as 1: its 6 % come
    first. A gain that costs snow stands after all others."""

    def change(wind: float, cost: float, snow: float = 0.3) -> WorkedChange:
        return WorkedChange(Change("", {}), wind, snow, 20.0, 0.3, cost)

    tenth, fifth, free, loser = change(22, 2), change(24, 5), change(21.2, 0), change(40, 1, 0.1)
    ranked = sorted((tenth, fifth, free, loser), key=_value, reverse=True)
    assert ranked == [free, tenth, fifth, loser]
    assert [_value(one)[1] for one in ranked] == pytest.approx([0.06, 0.05, 0.04, 1.0])


def test_what_is_dearer_or_hotter_is_worse_and_what_is_stronger_is_better() -> None:
    """In the first plan's eyes; beyond the strongest gust claimed nothing is better."""
    strong = STRONGEST_GUST
    for kind, more, values, sense in (
        ("money", False, (10.0, 12.0), -1),
        ("money", False, (12.0, 10.0), 1),
        ("speed", True, (20.0, 22.0), 1),
        ("speed", True, (22.0, 20.0), -1),
        ("speed", True, (strong + 1, strong + 20), 0),
    ):
        assert ComparedFigure("", kind, more, values).against_first(1) == sense


def test_hoops_are_told_closer_by_a_half_and_by_a_third_of_the_bay() -> None:
    """Bays of no more than 34 1/2 in: 17 1/4, and 23; hoops 6 in lower."""
    read = read_plan_text(BED)
    design = design_of(read)
    sets = {one.what: one.sets for one in changes(read, design)}
    assert design.standing.bay / 0.0254 == pytest.approx(34.5)
    half, third = (
        sets[what]["hoops.spacing"] / 0.0254
        for what in ("One more hoop in each bay", "Hoops closer by a third")
    )
    assert (half, third) == pytest.approx((17.25, 23.0))
    lower = sets["Hoops 6 in lower"]["hoops.height"]
    assert (design.hoop.crown_over_board - lower) / 0.0254 == pytest.approx(6.0)


def test_the_dearest_share_is_dropped_first() -> None:
    """Beds of 50, 30 and 20, each told apart by what it has at hand: without A the rest costs 50,
    within a budget of 60; for one of 25 B must go too; 15 cannot be kept with any bed."""
    pays = {"A": 50.0, "B": 30.0, "C": 20.0}
    buyers = [Buyer(one, Parts((), (), ()), (AtHand(one, 1),)) for one in pays]
    shares = [BedShare(one, pays[one], 60.0) for one in pays]
    bill = SimpleNamespace(total=lambda parts, hand: sum(pays[item.thing] for item in hand))
    found = [_drop(budget, buyers, shares, 100.0, (), bill) for budget in (60.0, 25.0, 15.0)]
    assert found == [(("A",), 50.0), (("A", "B"), 20.0), ((), 100.0)]
