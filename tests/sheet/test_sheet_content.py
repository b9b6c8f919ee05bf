"""The content of the sheet agrees with the design it is written from, piece by piece."""

from __future__ import annotations

import math
from collections import Counter

from parts import diagrams_of, tables_of

from hoopwright import units
from hoopwright.design import Design
from hoopwright.drawing.scene import RunningDimension
from hoopwright.drawing.views import layouts
from hoopwright.sheet import Document
from hoopwright.sheet.cautions import BESIDE_STEPS
from hoopwright.sheet.content import CautionList, FindingList, Table
from hoopwright.sheet.cuts import groups_of


def table_of(sheet: Document, caption: str) -> Table:
    return next(table for table in tables_of(sheet) if table.caption.startswith(caption))


def cents(words: str) -> int:
    return round(float(words.lstrip("$").replace(",", "")) * 100)


def test_every_cut_piece_appears_once(a_design: Design) -> None:
    wanted = {
        cut.thing: Counter((p.name, round(p.length, 6)) for p in cut.pieces)
        for cut in a_design.parts.cut
    }
    for cuts in a_design.order.sticks:
        found: Counter[tuple[str, float]] = Counter()
        for group in groups_of(cuts.plan):
            for names in group.names:
                found.update(zip(names, group.lengths, strict=True))
        assert found == wanted[cuts.thing]


def test_cut_tables_count_every_stick(a_design: Design, a_sheet: Document) -> None:
    tables = {table.caption.lower(): table for table in tables_of(a_sheet)}
    for cuts in a_design.order.sticks:
        table = tables[cuts.name.lower()]
        assert sum(int(row[0]) for row in table.rows) == len(cuts.plan.sticks)


def test_a_sticks_pieces_saw_cuts_and_offcut_make_the_stick(a_design: Design) -> None:
    for cuts in a_design.order.sticks:
        for group in groups_of(cuts.plan):
            whole = sum(group.lengths) + (len(group.lengths) - 1) * cuts.plan.kerf + group.left
            # The last cut may or may not leave an offcut: one kerf either way.
            assert abs(group.stick_length - whole) <= cuts.plan.kerf + 1e-4


def test_shopping_lines_multiply_and_add_up(a_sheet: Document) -> None:
    shopping = table_of(a_sheet, "Shopping list")
    total = 0
    for *_, buy, each, line in shopping.rows:
        if buy:
            assert int(buy) * cents(each) == cents(line)
            total += cents(line)
    assert cents(shopping.foot[-1]) == total
    assert "example" in shopping.caption
    assert "2026-11" in shopping.caption


def test_marks_are_the_stations_as_a_tape_shows_them(a_design: Design, a_sheet: Document) -> None:
    marks = table_of(a_sheet, "Tape marks")
    shown = [row[1] for row in marks.rows]
    assert shown == [units.show(s.mark, "tape", a_design.system) for s in a_design.hoops]
    read = [units.read(words, "length") for words in shown]
    assert read == sorted(read)
    step = a_design.system.tape_step
    for value, station in zip(read, a_design.hoops, strict=True):
        assert abs(value - station.mark) < step / 2
    assert marks.foot[1] == units.show(a_design.bed.outer_length, "tape", a_design.system)


def test_findings_stand_worst_first_and_none_is_lost(a_design: Design, a_sheet: Document) -> None:
    told = [f for block in a_sheet.blocks() if isinstance(block, FindingList)
            for f in block.findings]  # fmt: skip
    order = ["stop", "change", "watch", "fine"]
    ranks = [order.index(finding.severity) for finding in told]
    assert ranks == sorted(ranks)
    assert Counter(f.name for f in told) == Counter(f.name for f in a_design.findings)
    assert not any("{" in finding.says + finding.do for finding in told)


def test_cautions_stand_on_the_first_page_or_in_full_beside_their_steps(a_sheet: Document) -> None:
    first = a_sheet.sections[0].parts[0].blocks
    listed = {c.key for block in first if isinstance(block, CautionList) for c in block.cautions}
    beside = {c.key: c.text for step in a_sheet.steps() for c in step.cautions}
    assert beside
    assert set(beside) - listed <= set(BESIDE_STEPS)
    assert all(beside.values())


def test_tables_are_rectangular(a_sheet: Document) -> None:
    for table in tables_of(a_sheet):
        for row in (*table.rows, table.foot or table.rows[0]):
            assert len(row) == len(table.columns)


def test_every_drawing_has_words_and_fits_the_page(a_sheet: Document) -> None:
    drawn = list(diagrams_of(a_sheet))
    assert len({diagram.name for diagram in drawn}) == len(drawn)
    for diagram in drawn:
        assert len(diagram.alt) > 20
        assert diagram.width <= 0.172
        assert diagram.height <= 0.24


def test_the_document_speaks_plainly(a_sheet: Document) -> None:
    words = repr(a_sheet.sections[:1]) + " ".join(
        sentence for step in a_sheet.steps() for sentence in step.sentences
    )
    assert "!" not in words
    assert "nan" not in words.lower().split()


def test_the_demo_bed_against_common_practice(demo: Document) -> None:
    """Figures a builder would expect of a 3 ft x 12 ft bed: common practice, no source."""
    facts = {fact.label: fact.says for block in demo.blocks()
             for fact in getattr(block, "facts", ())}  # fmt: skip
    assert facts["Hoops"].startswith("7 of 1/2 in PVC schedule 40, each cut 10 ft long")
    shopping = {row[0]: row for row in table_of(demo, "Shopping list").rows}
    assert any(" 28 to hold the hoop legs" in words for words in shopping)
    assert "cut 12 ft 6 in long off the 10 ft roll" in facts["Sheet"]
    steps = {step.key: " ".join(step.sentences) for step in demo.steps()}
    assert "3 holes each, at 3 in, 18 in and 33 in" in steps["battens"]
    assert "clips 3 in long" in steps["clips"]
    battens = table_of(demo, "1x2 furring strip")
    assert battens.rows[0][2] == "2 end battens of 36 in"
    narrower = next(f for block in demo.blocks() if isinstance(block, FindingList)
                    for f in block.findings if f.name == "film-width")  # fmt: skip
    assert "8 ft leaves a gap" in narrower.says


def test_the_box_is_squared_by_pythagoras(designs: dict[str, Design], demo: Document) -> None:
    """Diagonal of 12 ft by 3 ft: 148.43 in, 12 ft 4 7/16 in on a tape."""
    assert math.isclose(math.hypot(144, 36), 148.43, abs_tol=0.01)
    square = next(step for step in demo.steps() if step.key == "square")
    assert "12 ft 4 7/16 in" in square.sentences[0]
    metric = designs["demo-metric"]
    assert units.show(math.hypot(metric.bed.outer_length, metric.bed.outer_width), "length",
                      metric.system) == "3770 mm"  # fmt: skip


def test_the_marks_on_the_plan_read_as_those_of_the_table(
    a_design: Design, a_sheet: Document
) -> None:
    """One tape, one way of counting: inches all the way in both, or millimetres."""
    plan = next(view for view in layouts(a_design, 0.18, 0.215) if view.view.name == "plan")
    drawn = next(p.texts for p in plan.placed if isinstance(p.note, RunningDimension))
    table = table_of(a_sheet, "Tape marks")
    listed = [row[1] for row in table.rows]
    assert [mark.removesuffix(" mm") for mark in listed] == list(drawn)
    assert all(mark in plan.view.description for mark in listed)
