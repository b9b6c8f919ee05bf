"""The card, read as a stranger reads it: its PDF's text alone, against the plan."""

from __future__ import annotations

import io
import re
from collections import Counter
from fractions import Fraction
from functools import cache

import pypdf
import pytest
from plans_to_print import DATE, PLANS, design
from printed import pages_of

from hoopwright.answers.facts import voice_of
from hoopwright.answers.spreadsheets import sold_as
from hoopwright.answers.strength_words import strength_words
from hoopwright.answers.voice import kind_of
from hoopwright.design import Design, design_of
from hoopwright.plan.read import read_plan_text
from hoopwright.sheet.card import PAPERS, Card, card_of
from hoopwright.sheet.cautions import CLOSING, cautions_for
from hoopwright.sheet.pdf import card_pdf
from hoopwright.sheet.traits import traits_of

SIXTEEN = (
    PLANS["demo"]
    .replace('length = "12 ft"', 'length = "16 ft"')
    .replace('width = "3 ft"', 'width = "4 ft"')
    .replace("pvc40-1/2", "pvc40-3/4")
    .replace('stock_length = "10 ft"', 'stock_length = "12 ft"')
)
CARDS = {
    **PLANS,
    "sixteen": SIXTEEN,
    "sixteen-metric": SIXTEEN.replace('units = "us"', 'units = "metric"'),
}
FOOT, INCH = 0.3048, 0.0254
#: A length as the card writes it: feet and inches with a fraction, or millimetres or metres.
LENGTH = re.compile(
    r"(?:(?P<feet>\d+) ft)? ?(?:(?P<inches>\d+(?: \d+/\d+)?|\d+/\d+) in)?"
    r"|(?P<metric>\d+(?:\.\d+)?) (?P<unit>mm|m)\b"
)


@cache
def a_plan(name: str) -> Design:
    if name in PLANS:
        return design(name)
    return design_of(read_plan_text(CARDS[name], file=name))


@cache
def card(name: str, language: str = "en") -> Card:
    return card_of(a_plan(name), DATE, language)


@cache
def pdf(name: str) -> bytes:
    return card_pdf(card(name))


@cache
def pages(name: str) -> tuple[str, ...]:
    """Return the text of each page with every run of spaces made one."""
    return tuple(re.sub(r"\s+", " ", page.text) for page in pages_of(pdf(name)))


def metres(words: str) -> float:
    """Return a length that a person reads [m]; this reader shares nothing with the program."""
    found = LENGTH.fullmatch(words.strip())
    assert found is not None, words
    if found["metric"]:
        return float(found["metric"]) * (0.001 if found["unit"] == "mm" else 1.0)
    inches = sum(Fraction(part) for part in (found["inches"] or "0").split())
    return int(found["feet"] or 0) * FOOT + float(inches) * INCH


def step(plan: Design) -> float:
    """Return half of the finest mark the card writes [m]."""
    return (INCH / 32 if plan.system.name == "us" else 0.0005) + 1e-9


@pytest.fixture(params=sorted(CARDS))
def name(request):
    return str(request.param)


def cut_from_text(text: str) -> Counter:
    """Return every piece that the card says to cut: (kind in the singular, words) -> how many."""
    found: Counter = Counter()
    sticks = re.compile(
        r"(\d+) sticks? of [\d/ .]+(?:ft|in|m|mm)(?: [\d/ ]+in)?(?: at hand)?,(?: each)? (.*?)"
        r"(?:; offcut [^;]*?)?\.(?= |$)"
    )
    for count, pieces in sticks.findall(text):
        for number, kind, size in re.findall(
            r"(\d+) ([a-z ]+?) of ((?:[\d/]+ )+(?:ft|in|mm|m)\b(?: [\d/ ]+ in\b)?)", pieces
        ):
            found[(kind if number == "1" else kind.removesuffix("s"), size)] += int(count) * int(
                number
            )
    return found


def test_every_length_to_cut_is_read_from_the_text_as_often_as_the_plan_has_it(name):
    plan = a_plan(name)
    read = cut_from_text(pages(name)[0] + " " + " ".join(pages(name)[1:]))
    want: Counter = Counter(
        (kind_of(piece.name), round(piece.length, 9))
        for cut in plan.parts.cut
        for piece in cut.pieces
    )
    assert sum(read.values()) == sum(want.values())
    for (kind, length), count in want.items():
        alike = {
            size: number
            for (said, size), number in read.items()
            if said == kind and abs(metres(size) - length) <= step(plan)
        }
        near = sum(
            number
            for (other, long), number in want.items()
            if other == kind and abs(long - length) <= 2 * step(plan)
        )
        assert sum(alike.values()) == near, (kind, length, count)


def test_every_mark_is_read_from_the_ruler(name):
    plan = a_plan(name)
    first = pages(name)[0]
    ruler = first[first.index("board ends at") : first.index(CLOSING[:30])]
    said = re.findall(r"(?:\d+ )?\d+/\d+ in|\d+ in|\d+ mm", ruler)
    lengths = sorted(metres(words) for words in said)
    # The heading's end of the board, and hoop numbers that run into the first mark's words.
    want = sorted([*(station.mark for station in plan.hoops), plan.bed.outer_length])

    assert len(lengths) == len(want)
    for read, mark in zip(lengths, want, strict=True):
        assert read == pytest.approx(mark, abs=step(plan))


def test_every_count_and_price_is_on_the_card(name):
    plan, say = a_plan(name), voice_of(a_plan(name))
    text = " ".join(pages(name))
    for line in plan.order.lines:
        assert f"{line.buy} {line.name}, {sold_as(line, say)}" in text
    for part in plan.parts.counted:
        assert f"{part.count} to {part.use}" in text
    said = [float(money.replace(",", "")) for money in re.findall(r"\$([\d,]+\.\d\d)", text)]
    bought = [line.total for line in plan.order.lines if line.buy and line.price is not None]
    assert sum(said) == pytest.approx(
        sum(bought) + 2 * plan.order.total
        if f"{say.money(plan.order.total)} at" in text
        else sum(bought) + plan.order.total
    )


def test_every_sheet_is_on_the_card(name):
    plan, say = a_plan(name), voice_of(a_plan(name))
    text = " ".join(pages(name))
    for run in plan.order.rolls:
        for cut in run.plan.rolls:
            for placed in cut.sheets:
                assert say.area(placed.length, placed.width) in text
            for at in cut.cross_cuts:
                assert say.tape(at) in text


def test_beds_up_to_16_ft_have_two_pages_and_others_say_how_many(name):
    plan, found = a_plan(name), pypdf.PdfReader(io.BytesIO(pdf(name))).pages
    wide, high = PAPERS[card(name).paper]
    if plan.bed.outer_length <= 16 * FOOT + 1e-9:
        assert len(found) == 2
    if len(found) > 2:
        assert f"This card takes {len(found)} pages." in pages(name)[0]
    assert len(found) == len(card(name).pages)
    for page in found:
        assert float(page.mediabox.width) == pytest.approx(wide / INCH * 72, abs=1)
        assert float(page.mediabox.height) == pytest.approx(high / INCH * 72, abs=1)


def test_each_caution_stands_once_and_before_its_letter(name):
    plan, text = a_plan(name), " ".join(pages(name)[1:])
    for caution in cautions_for(traits_of(plan)).values():
        assert text.count(caution.short) <= 1
    letters = re.findall(r"\b([A-Z]) (?=[A-Z][a-z]+)", text)
    assert letters[0] == "A"
    told = [c.key for c in cautions_for(traits_of(plan)).values() if c.short in text]
    assert {"snow", "wind", "drill"} <= set(told)


def test_the_gust_to_plan_for_is_the_careful_one(name):
    words = strength_words(a_plan(name)).answer.split(". ")[0]
    assert words.startswith("Plan for gusts up to")
    assert words in " ".join(pages(name))


def test_a_load_of_next_to_nothing_is_not_promised(name):
    text = " ".join(pages(name))
    assert not re.search(r"about 0 (in|cm|mm)", text)
    assert "Plan for" in text[text.index("Snow, and before it") :] or "Let no wet snow lie" in text


def test_no_letter_is_under_ten_points(name):
    read = [word for page in pages_of(pdf(name)) for word in page.words]
    tall = [(text, size * abs(tm[3] or tm[0]) * abs(cm[3] or cm[0])) for text, cm, tm, size in read]
    letters = [(text, high) for text, high in tall if re.search("[A-Za-z]", text)]
    assert len(letters) > 50
    assert [(text, high) for text, high in letters if high < 9.95] == []


def test_the_same_card_gives_the_same_bytes():
    assert card_pdf(card_of(a_plan("small"), DATE)) == pdf("small")
