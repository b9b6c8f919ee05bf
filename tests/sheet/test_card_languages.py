"""The card in every language that has a catalogue: all words there, and every number the same."""

from __future__ import annotations

import io
import re
from collections import Counter
from functools import cache
from gettext import NullTranslations

import pypdf
import pytest
from plans_to_print import DATE
from printed import Page, pages_of
from test_card import CARDS, FOOT, a_plan, card, pdf
from typer.testing import CliRunner

from hoopwright.__main__ import whole_app
from hoopwright.sheet import card as card_file
from hoopwright.sheet.card import card_of
from hoopwright.sheet.pdf import card_pdf
from hoopwright.tables import languages as languages_file
from hoopwright.tables.languages import LOCALE, NoSuchLanguage, languages, words_of
from tools import messages

OTHERS = tuple(language for language in languages() if language != "en")
TEMPLATE = cache(messages.template)


@cache
def data(name: str, language: str) -> bytes:
    return pdf(name) if language == "en" else card_pdf(card(name, language))


def pages(name: str, language: str) -> tuple[Page, ...]:
    return pages_of(data(name, language))


def text(name: str, language: str) -> str:
    return " ".join(page.text for page in pages(name, language))


@pytest.fixture(params=sorted(CARDS))
def name(request):
    return str(request.param)


@pytest.fixture(params=OTHERS)
def language(request):
    return str(request.param)


def test_there_is_spanish():
    assert "es" in OTHERS


def test_every_message_has_its_translation_with_the_same_names_in_braces(language):
    held = messages.catalogue_in(LOCALE / language / "LC_MESSAGES" / "sheet.po")
    for message in TEMPLATE():
        if not message.id:
            continue
        own = held.get(message.id)
        assert own is not None, message.id
        assert own.id == message.id
        if messages.is_label(message) and not own.string:
            continue
        assert messages.told(own), message.id
        several = isinstance(own.id, tuple)
        for said, wanted in zip(
            own.string if several else (own.string,), own.id if several else (own.id,), strict=True
        ):
            assert messages.fields(said) == messages.fields(wanted), said
            assert said[:1].isspace() == wanted[:1].isspace(), said
    assert {message.id for message in held} == {message.id for message in TEMPLATE()}


def test_the_compiled_catalogue_is_that_of_the_words(language):
    path = LOCALE / language / "LC_MESSAGES" / "sheet.po"
    held = path.with_suffix(".mo").read_bytes()
    assert held == messages.compiled(messages.catalogue_in(path)), "run tools/messages.py"


class Asked(NullTranslations):
    """A language that writes down what it is asked for."""

    def __init__(self) -> None:
        super().__init__()
        self.seen: set[str] = set()

    def gettext(self, message: str) -> str:
        self.seen.add(message)
        return message

    def ngettext(self, msgid1: str, msgid2: str, n: int) -> str:
        self.seen.add(msgid1)
        return super().ngettext(msgid1, msgid2, n)


def test_every_message_a_card_asks_for_is_gathered(name, monkeypatch):
    asked = Asked()
    monkeypatch.setattr(card_file, "words_of", lambda _: asked)
    card_of(a_plan(name), DATE)
    assert {message for message in asked.seen if TEMPLATE().get(message) is None} == set()


def test_every_number_is_that_of_the_english_card(name, language):
    numbers = (
        Counter(re.findall(r"\d+(?:[./,]\d+)?", text(name, one))) for one in ("en", language)
    )
    english, own = numbers
    assert own == english


def test_a_bed_up_to_16_ft_has_two_pages(name, language):
    printed = pages(name, language)
    assert len(printed) == len(card(name, language).pages)
    if a_plan(name).bed.outer_length <= 16 * FOOT + 1e-9:
        assert len(printed) == 2


@pytest.mark.parametrize("spoken", languages())
def test_no_line_runs_into_what_stands_under_the_columns(name, spoken):
    """The ruler is drawn last and at the foot: nothing written before it may reach down to it."""
    head = card(name, spoken).pages[0].ruler[:12]
    lines = [
        (
            words,
            cm[0] * tm[4] + cm[2] * tm[5] + cm[4],
            cm[1] * tm[4] + cm[3] * tm[5] + cm[5],
        )
        for words, cm, tm, _ in pages(name, spoken)[0].words
        if words.strip()
    ]
    wide = float(pypdf.PdfReader(io.BytesIO(data(name, spoken))).pages[0].mediabox.width)
    start = next(n for n, (words, _, _) in enumerate(lines) if head in words)
    ruler = lines[start][2]
    assert all(y > ruler + 8 for _, _, y in lines[:start])
    assert all(0 < x < wide for _, x, _ in lines)


def test_no_english_is_left_but_labels_and_the_plans_own_name(name, language):
    plan = a_plan(name)
    words = re.sub(r"\s+", " ", text(name, language))
    for label in sorted(
        {plan.plan.name, *(t.name for t in plan.order.lines)}, key=len, reverse=True
    ):
        words = re.sub(re.escape(label), "", words, flags=re.IGNORECASE)
    left = re.findall(r"\b(?:the|and|each|from|with|over|under|below|board|hoop|screw)s?\b", words)
    assert left == []


def test_the_page_says_its_language(name, language):
    read = pypdf.PdfReader(io.BytesIO(data(name, language)))
    assert read.trailer["/Root"]["/Lang"] == language


def test_a_language_that_is_not_there_is_told_in_one_message():
    with pytest.raises(NoSuchLanguage, match="'xx' is none of those printed here: en, es"):
        words_of("xx")


def test_the_command_refuses_a_language_or_a_book_in_it(tmp_path):
    plan = tmp_path / "bed.toml"
    plan.write_text(CARDS["small"], encoding="utf-8")
    run = CliRunner().invoke
    for asked, says in (("xx", "en, es"), ("es", "add --form card")):
        found = run(whole_app(), ["sheet", str(plan), "--language", asked])
        assert says in str(found.exception)
    made = run(whole_app(), ["sheet", str(plan), "--form", "card", "--language", "es"])
    assert made.exit_code == 0
    assert (tmp_path / "bed-card.pdf").read_bytes().startswith(b"%PDF")


def backwards(words: str) -> str:
    """Return words with the letters of each turned round; what stands in braces stays."""
    return re.sub(r"(\{[^}]*\})|([A-Za-z]+)", lambda found: found[1] or found[2][::-1], words)


def test_a_third_language_is_a_folder_and_no_code(tmp_path, monkeypatch):
    """A made-up catalogue in a folder of its own is printed, its numbers the English ones."""
    made = messages.template()
    for message in made:
        if message.id and not messages.is_label(message):
            several = isinstance(message.id, tuple)
            message.string = tuple(map(backwards, message.id)) if several else backwards(message.id)
    folder = tmp_path / "qaa" / "LC_MESSAGES"
    folder.mkdir(parents=True)
    (folder / "sheet.mo").write_bytes(messages.compiled(made))
    monkeypatch.setattr(languages_file, "LOCALE", tmp_path)
    caches = (languages_file.languages, languages_file.words_of)
    for kept in caches:
        kept.cache_clear()
    try:
        card = card_of(a_plan("small"), DATE, "qaa")
        read = pypdf.PdfReader(io.BytesIO(card_pdf(card)))
    finally:
        monkeypatch.undo()
        for kept in caches:
            kept.cache_clear()
    said = " ".join(page.extract_text() for page in read.pages)
    assert read.trailer["/Root"]["/Lang"] == "qaa"
    assert "tahW ot tuc" in said
    assert "What to cut" not in said
    numbers = (Counter(re.findall(r"\d+", one)) for one in (said, text("small", "en")))
    assert len({frozenset(found.items()) for found in numbers}) == 1
