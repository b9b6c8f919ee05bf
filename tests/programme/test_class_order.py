"""A class orders together: never dearer than apart, every piece once, shares to the cent.

That the cutting itself is as good as known optima is held in tests/published/test_cutting_stock.py
and test_cutting_strips.py; here is what a class adds to it.
"""

from __future__ import annotations

import random
from collections import Counter
from functools import cache
from pathlib import Path

import pytest

from hoopwright.cutting.stock import Piece, Sheet
from hoopwright.materials.order import AtHand
from hoopwright.materials.parts import CountedPart, CutParts, Parts, SheetParts
from hoopwright.programme.budget import OPTIONS
from hoopwright.programme.bulk_order import Buyer, bulk_order
from hoopwright.programme.buying import Bill, by_thing, together, without_forms
from hoopwright.programme.class_file import ClassError, letter_of, read_class
from hoopwright.programme.class_work import WorkedClass, work_out
from hoopwright.programme.shares import shares_of
from hoopwright.tables.catalogue import Catalogue

DEMO = Path(__file__).parents[2] / "demo" / "class.toml"
SMALL = """
name = "Small class"
day = "2027-04-17"
[template.bed]
width = "4 ft"
board = "2x12"
[template.cover]
style = "framed"
[[beds]]
household = "One"
bed.length = "8 ft"
[[beds]]
household = "Two"
bed.length = "10 ft"
hoops.stock_length = "9 ft"
[[beds]]
household = "Three"
bed.length = "6 ft"
hoops.pipe = "pvc40-3/4"
[[shelf]]
item = "pvc40-1/2"
length = "10 ft"
count = 2
"""


#: What was told of classes worked out, in order: the step and its share done.
TOLD: list[tuple[str, float]] = []


@cache
def worked(extra: str = "") -> WorkedClass:
    """Return the small class, worked out."""
    text = SMALL.replace("[template.bed]", f"{extra}\n[template.bed]")
    return work_out(read_class(_file(text)), lambda *told: TOLD.append(told))


def _file(text: str) -> Path:
    import tempfile

    folder = Path(tempfile.mkdtemp())
    path = folder / "class.toml"
    path.write_text(text, encoding="utf-8")
    return path


def random_class(seed: int) -> list[Buyer]:
    """Return a class of two to five invented beds with odd lengths."""
    chance = random.Random(seed)
    buyers = []
    for index in range(chance.randint(2, 5)):
        length = chance.uniform(1.2, 3.0)
        pipe = chance.choice(["pvc40-1/2", "pvc40-3/4"])
        pieces = tuple(
            Piece(f"hoop {n}", round(chance.choice([length, length, 2.1]), 3))
            for n in range(1, chance.randint(3, 9))
        )
        strips = tuple(Piece(f"batten {n}", round(chance.uniform(0.4, 2.4), 3)) for n in range(4))
        sheets = (Sheet("body sheet", 2.4384, round(chance.uniform(1.5, 4.0), 3)),) + tuple(
            Sheet(f"{end} end panel", 1.2, 1.5, may_turn=True) for end in ("first", "last")
        )
        parts = Parts(
            (CutParts(pipe, pieces, 0.0016), CutParts("batten-1x2", strips, 0.0032)),
            (SheetParts("film-6mil-uv4", sheets),),
            (CountedPart("screw-10x1-1/4", chance.randint(5, 140), "fix the straps"),),
        )
        own = (AtHand("batten-1x2", 1, 2.4384),) if chance.random() < 0.3 else ()
        buyers.append(Buyer(letter_of(index), parts, own))
    return buyers


@pytest.mark.parametrize("seed", range(6))
def test_together_is_never_dearer_than_apart(seed: int) -> None:
    """Six of the 300 classes that `python -m bench.class` runs through."""
    buyers, bill = random_class(seed), Bill(Catalogue())
    bulk = bulk_order(buyers, bill)
    assert not bulk.order.unmet
    assert bulk.order.total <= bulk.alone_total + 0.005
    shares = shares_of(bulk)
    assert round(sum(share.pays for share in shares) * 100) == round(bulk.order.total * 100)
    assert all(share.pays <= share.alone + 0.0101 for share in shares)


def test_the_single_cuttings_are_taken_where_the_search_finds_no_better() -> None:
    """A search that does badly must not make the class pay more."""
    buyers, bill = random_class(3), Bill(Catalogue())
    honest = bulk_order(buyers, bill)

    class Poor(Bill):
        def order(self, thing, parts, at_hand=()):  # type: ignore[no-untyped-def]
            from dataclasses import replace

            order = super().order(thing, parts, at_hand)
            shared = any(" hoop" in p.name for cut in parts.cut for p in cut.pieces)
            if not shared:
                return order
            dearer = tuple(replace(line, buy=line.buy * 3) for line in order.lines)
            return replace(order, lines=dearer)

    poor = bulk_order(buyers, Poor(Catalogue()))
    assert {"pvc40-1/2", "pvc40-3/4"} & set(poor.kept_apart)
    assert poor.order.total <= poor.alone_total + 0.005
    assert pieces_of(poor.order) == pieces_of(honest.order)


def pieces_of(order) -> Counter[str]:  # type: ignore[no-untyped-def]
    """Return every piece and sheet of an order by its name, counted."""
    named = [p.name for cuts in order.sticks for stick in cuts.plan.sticks for p in stick.pieces]
    named += [s.sheet.name for run in order.rolls for cut in run.plan.rolls for s in cut.sheets]
    return Counter(named)


def test_every_piece_of_every_bed_is_cut_once_under_its_letter() -> None:
    """Also of a thing that one bed alone uses, whose cutting was worked out before."""
    found = worked()
    wanted: Counter[str] = Counter()
    for letter, design in found.designs.items():
        for part in design.parts.cut:
            wanted.update(f"{letter} {piece.name}" for piece in part.pieces)
        for film in design.parts.sheets:
            wanted.update(f"{letter} {sheet.name}" for sheet in film.sheets)
    assert pieces_of(found.order) == wanted
    labelled = sum(len(labels) for labels in found.labels.values())
    assert labelled == sum(wanted.values())


def test_the_stations_cut_every_stick_piece_once() -> None:
    """What is listed at the stations is what the order cuts, longest first."""
    found = worked()
    at_stations = Counter(
        f"{label.letter} {label.part}"
        for station in found.stations
        for work in station.works
        for setting in work.settings
        for place in setting.labels
        for label in place
    )
    sticks = Counter(
        p.name for cuts in found.order.sticks for s in cuts.plan.sticks for p in s.pieces
    )
    assert at_stations == sticks
    for station in found.stations:
        for work in station.works:
            firsts = [setting.lengths[0] for setting in work.settings]
            assert firsts == sorted(firsts, reverse=True)
            for setting in work.settings:
                for length, labels in zip(setting.lengths, setting.labels, strict=True):
                    assert all(abs(label.length - length) < 1e-5 for label in labels)


def test_the_shelf_helps_and_is_told_apart_from_sharing() -> None:
    """What sharing saves does not change with what lies on the shelf."""
    with_shelf = worked().bulk
    bare = work_out(read_class(_file(SMALL.split("[[shelf]]")[0]))).bulk
    assert with_shelf.shelf_worth > 0
    assert bare.shelf_worth == pytest.approx(0, abs=0.005)
    assert with_shelf.saving == pytest.approx(bare.saving)


def test_over_budget_says_what_to_leave_out_and_the_remedy_is_enough() -> None:
    """The beds named for dropping bring the rest under the budget."""
    total = worked().order.total
    budget = worked(f"budget = {total - 40:.2f}".replace("\n", "")).budget
    assert worked().budget is None
    assert budget is not None
    assert budget.left == pytest.approx(-40, abs=0.01)
    assert budget.dropped
    assert budget.dropped_total <= budget.budget
    # It takes longest of all but printing, and says how far it is: bed by bed, option by option.
    shares = [share for step, share in TOLD if step == "budget"]
    assert shares == pytest.approx([n / (3 * len(OPTIONS)) for n in range(3 * len(OPTIONS))])
    straps = next(one for one in budget.left_out if "strap" in one.what)
    assert straps.effect.weaker
    assert [one.saves for one in budget.left_out] == sorted(
        (one.saves for one in budget.left_out), reverse=True
    )


def test_within_budget_asks_for_nothing() -> None:
    """A budget that suffices names nothing to leave out."""
    budget = worked("budget = 100000").budget
    assert budget is not None
    assert budget.left > 0
    assert budget.left_out == ()


def test_out_of_stock_names_what_works_and_its_effect() -> None:
    """The other length costs no strength; a thinner or stouter pipe says what it does."""
    text = SMALL + '[[out_of_stock]]\nitem = "pvc40-1/2"\nlength = "10 ft"\n'
    found = work_out(read_class(_file(text)))
    bought = [line for line in found.order.lines if line.thing == "pvc40-1/2" and line.buy]
    assert all(line.length > 3.1 for line in bought)
    (shortage,) = found.shortages
    assert shortage.letters == ("A", "B")
    other, *rest = shortage.substitutes
    assert other.effect is None
    assert other.adds >= -0.005
    assert rest
    assert all(way.effect is not None for way in rest)
    # A thin rod in place of pipe would stand a breath of wind: it is not offered.
    assert all(way.effect.wind >= 0.5 * way.effect.wind_before for way in rest)


def test_nothing_left_in_stock_is_said() -> None:
    """With no form of a pipe for sale the order says so and other pipes are offered."""
    text = SMALL.replace("[[shelf]]", '[[out_of_stock]]\nitem = "pvc40-1/2"\n[[shelf]]')
    found = work_out(read_class(_file(text)))
    assert any("out of stock" in says for says in found.order.unmet)
    assert found.shortages[0].substitutes
    assert all(way.letters for way in found.shortages[0].substitutes)


def test_without_forms_takes_only_what_is_named() -> None:
    """Only the missing length of the missing thing goes."""
    bill = without_forms(Catalogue(), [("pvc40-1/2", 3.048, None)])
    before = len(Catalogue().prices)
    assert len(bill.catalogue.prices) == before - 1
    assert bill.gone == frozenset()


def test_parts_put_together_keep_their_number() -> None:
    """Merging loses nothing."""
    buyers = random_class(1)
    merged = together((buyer.letter, buyer.parts) for buyer in buyers)
    for thing, parts in by_thing(merged).items():
        own = [by_thing(buyer.parts).get(thing) for buyer in buyers]
        count = sum(len(p.cut[0].pieces) for p in own if p and p.cut)
        assert count == sum(len(cut.pieces) for cut in parts.cut)


def test_beds_from_csv_and_a_template_file(tmp_path: Path) -> None:
    """A CSV of beds over a template plan gives the same beds as rows in the class file."""
    (tmp_path / "base.toml").write_text('[bed]\nboard = "2x10"\n', encoding="utf-8")
    (tmp_path / "beds.csv").write_text(
        "household,bed.length,hoops.straps_per_leg,holding.pin\nX,8 ft,1,yes\nY,12 ft,,no\n",
        encoding="utf-8",
    )
    (tmp_path / "class.toml").write_text(
        'template = "base.toml"\nbeds_file = "beds.csv"\n', encoding="utf-8"
    )
    found = read_class(tmp_path / "class.toml")
    first, second = found.beds
    assert (first.letter, first.household, second.letter) == ("A", "X", "B")
    assert first.read.plan.bed.board == "2x10"
    assert first.read.plan.hoops.straps_per_leg == 1
    assert first.read.plan.holding.pin
    assert second.read.plan.bed.length == pytest.approx(12 * 0.3048)


def test_every_problem_of_every_bed_is_told_at_once(tmp_path: Path) -> None:
    """One message names the class's own mistakes and each bed's."""
    (tmp_path / "class.toml").write_text(
        'budgt = 3\nday = "soon"\n[[beds]]\nbed.length = "8"\n[[beds]]\nletter = "A"\n'
        'hoops.pipe = "pvc40-1/3"\n[[shelf]]\nitem = "pvc40-1/2"\ncount = 0\n',
        encoding="utf-8",
    )
    with pytest.raises(ClassError) as caught:
        read_class(tmp_path / "class.toml")
    says = str(caught.value)
    for word in ("budgt", "soon", "bed A: bed.length", "stands twice", "pvc40-1/3", "count"):
        assert word in says


def test_letters_go_on_after_z() -> None:
    """A to Z, then AA."""
    assert [letter_of(n) for n in (0, 25, 26, 51, 52)] == ["A", "Z", "AA", "AZ", "BA"]


def test_the_demo_class_reads() -> None:
    """The shipped class has fifteen beds."""
    assert len(read_class(DEMO).beds) == 15
