"""The class's order: what to buy together, who pays what, the budget, and a sheet to sign."""

import datetime

from hoopwright.answers.facts import Fact
from hoopwright.answers.spreadsheets import bought
from hoopwright.answers.strength_words import gust_words
from hoopwright.answers.voice import Voice, listed, plural, sentence
from hoopwright.programme.class_work import WorkedClass
from hoopwright.programme.effects import Effect
from hoopwright.programme.substitutes import Shortage, Substitute
from hoopwright.sheet.buying import left_words
from hoopwright.sheet.cautions import CLOSING, cautions_for
from hoopwright.sheet.class_words import (
    bed_size,
    beds_words,
    bound_words,
    class_paper,
    class_voice,
    day_words,
    household,
)
from hoopwright.sheet.content import (
    Block,
    CautionList,
    Document,
    FactList,
    Paragraph,
    Part,
    Section,
    Table,
    columns,
)
from hoopwright.sheet.traits import traits_of
from hoopwright.units import System, show


def class_order_document(
    worked: WorkedClass, date: datetime.date, *, names: bool = False
) -> Document:
    """Return the order sheet of a class. Households go by letter alone unless `names` is set."""
    say = class_voice(worked)
    sections = [
        Section("order", "The order", (Part("", tuple(_first(worked, say))),)),
        Section("buy", "What to buy", _buy(worked, say)),
        Section("shares", "Who pays what", _shares(worked, say, names)),
    ]
    if worked.shortages:
        short = tuple(_shortage(one, worked, say) for one in worked.shortages)
        sections.append(Section("stock", "Out of stock", short))
    sections.append(Section("sign", "Sign-off", _sign(worked, say, names)))
    return Document(
        title=worked.source.name,
        answer=_answer(worked, say),
        footer=f"{worked.source.name}, order of {date.isoformat()}",
        paper=class_paper(worked),
        date=date,
        sections=tuple(sections),
    )


def _answer(worked: WorkedClass, say: Voice) -> str:
    bulk = worked.bulk
    prices = "example prices" if worked.order.example_prices else "the prices listed"
    saved = say.money(bulk.saving)
    return (
        f"{plural(len(worked.designs), 'bed')} on {day_words(worked.source.day)}. One order comes "
        f"to {say.money(worked.order.total)} at {prices}; each buying alone would come to "
        f"{say.money(bulk.alone_total)}, so buying together saves {saved}."
    )


def _first(worked: WorkedClass, say: Voice) -> list[Block]:
    bulk, order = worked.bulk, worked.order
    blocks: list[Block] = [
        Paragraph(f"Cannot be bought as planned: {words}", strong=True, decide=True)
        for words in order.unmet
    ]
    budget = worked.budget
    if budget is not None and budget.left < 0:
        blocks.append(
            Paragraph(
                f"Over budget by {say.money(-budget.left)}. See Who pays what for what could be "
                "left out.",
                strong=True,
                decide=True,
            )
        )
    facts = [
        Fact("Order", f"{say.money(order.total)}, {plural(len(order.lines), 'line')}."),
        Fact("Together", _saving_words(worked, say)),
        Fact("Bound", bound_words(worked, say)),
    ]
    if bulk.kept_apart:
        facts.append(Fact("Apart", f"Cut bed by bed: {listed(bulk.kept_apart)}."))
    if budget is not None:
        left = budget.left
        words = f"{say.money(left)} left of" if left >= 0 else f"{say.money(-left)} over"
        facts.append(Fact("Budget", f"{words} {say.money(budget.budget)}."))
    cuts = sum(station.cuts for station in worked.stations)
    sheets = sum(len(cut.sheets) for run in order.rolls for cut in run.plan.rolls)
    facts.append(
        Fact("Cutting", f"{plural(cuts, 'cut')} and {plural(sheets, 'sheet')} before the day.")
    )
    if order.unpriced:
        facts.append(Fact("No price", f"Not in the total: {listed(order.unpriced)}."))
    blocks.append(FactList(tuple(facts)))
    traits = frozenset().union(*(traits_of(design) for design in worked.designs.values()))
    blocks.append(CautionList(tuple(cautions_for(traits).values()), CLOSING))
    return blocks


def _saving_words(worked: WorkedClass, say: Voice) -> str:
    bulk = worked.bulk
    share = bulk.saving / bulk.alone_total if bulk.alone_total else 0.0
    words = (
        f"Sharing sticks, rolls and packs saves {say.money(bulk.saving)} "
        f"({say.show(share, 'share')})"
    )
    if bulk.shelf_worth > 0.005:
        return f"{words}; what is on the shelf saves {say.money(bulk.shelf_worth)} besides."
    return f"{words}."


def _buy(worked: WorkedClass, say: Voice) -> tuple[Part, ...]:
    order = worked.order
    rows = tuple((sentence(line.name), *bought(line, say)) for line in order.lines)
    heads = columns("What 4.4 | Sold as 2.2 | At hand > 1 | Buy > 0.7 | Each > 1.1 | Total > 1.3")
    kind = "invented example prices" if order.example_prices else "prices"
    note = f"At {kind} of {order.price_date}." if order.price_date else ""
    foot = ("Everything to buy", "", "", "", "", say.money(order.total))
    parts = [Part("", (Table("What to buy", heads, rows, foot, note, True),))]
    left = tuple((sentence(item.name), left_words(item, say)) for item in order.leftovers)
    if left:
        heads = columns("Left over, worth keeping 3 | How much 2")
        parts.append(Part("Left over", (Table("Left over", heads, left, (), "", True),)))
    return tuple(parts)


def _shares(worked: WorkedClass, say: Voice, names: bool) -> tuple[Part, ...]:
    rows = tuple(
        (
            share.letter,
            *((household(worked, share.letter, names),) if names else ()),
            bed_size(worked, share.letter, say),
            say.money(share.alone),
            say.money(share.pays),
            say.money(share.saves),
        )
        for share in worked.shares
    )
    who = " | Household 2" if names else ""
    heads = columns(f"Bed 0.6{who} | Size 2.2 | Alone > 1.2 | Share > 1.2 | Saves > 1.2")
    total = worked.order.total
    alone = worked.bulk.alone_total
    blank = ("",) * (len(heads) - 5)
    foot = ("All", *blank, "", say.money(alone), say.money(total), say.money(alone - total))
    note = (
        "Of each thing a bed pays in proportion to what it would have paid for it alone: nobody "
        "pays more than alone, and the shares add up to the order to the cent."
    )
    parts = [Part("", (Table("Who pays what", heads, rows, foot, note, True),))]
    budget = worked.budget
    if budget is not None and budget.left < 0:
        parts.append(Part("What to leave out", tuple(_left_out(worked, say))))
    return tuple(parts)


def _left_out(worked: WorkedClass, say: Voice) -> list[Block]:
    budget = worked.budget
    assert budget is not None
    system, count = say.system, len(worked.designs)
    rows = tuple(
        (
            f"{one.what} ({beds_words(one.letters, count)})",
            say.money(one.saves),
            effect_words(one.effect, system, less=True),
        )
        for one in budget.left_out
    )
    heads = columns("Leave out 3 | Saves > 1.1 | What it does to the weakest bed 3.4")
    blocks: list[Block] = []
    if rows:
        note = "Each worked out alone, with the sticks and packs that the class would then share."
        blocks.append(Table("What could be left out", heads, rows, (), note, True))
    if budget.dropped:
        beds = beds_words(budget.dropped, count)
        blocks.append(
            Paragraph(
                f"Or without {beds}: the rest costs {say.money(budget.dropped_total)}, within the "
                "budget. These are the dearest shares, taken in turn."
            )
        )
    elif not rows:
        blocks.append(Paragraph("Nothing in these plans can be left out."))
    return blocks


def effect_words(effect: Effect | None, system: System, less: bool = False) -> str:
    """Return what a change does to what the weakest bed is planned for, None where no bed changes.

    less : something is left out; a gain by it is then told as no loss, since it comes of a
           neighbour that takes the load, and nobody should build on it
    """
    if effect is None:
        return "No bed changes."
    pairs = (
        ("wind", effect.wind_bed, effect.wind_before, effect.wind),
        ("wet snow", effect.snow_bed, effect.snow_before, effect.snow),
    )

    def planned(value: float, hazard: str) -> str:
        return gust_words(value, system) if hazard == "wind" else show(value, "depth", system)

    words = []
    for name, bed, before, after in pairs:
        was, now = planned(before, name), planned(after, name)
        if was == now or abs(after - before) <= 0.02 * max(before, 1e-9):
            words.append(f"{name} as before")
        elif less and after > before:
            words.append(f"{name} no worse")
        else:
            words.append(f"{name}: plan for {now}, was {was} (bed {bed})")
    return sentence("; ".join(words)) + "."


def missing_words(one: Shortage, say: Voice) -> str:
    """Return what is out of stock: its name, and its size where only that one is missing."""
    size = ""
    if one.missing.length is not None:
        size = f" in {say.size(one.missing.length)}"
    if one.missing.width is not None:
        size += f", {say.size(one.missing.width)} wide"
    return f"{one.name}{size}"


def _shortage(one: Shortage, worked: WorkedClass, say: Voice) -> Part:
    users = beds_words(one.letters, len(worked.designs))
    title = f"{sentence(missing_words(one, say))}: wanted by {users}"
    if not one.substitutes:
        words = "Nothing listed works in its place. Wait for it, or change the plans."
        return Part(title, (Paragraph(words, decide=True),))
    rows = tuple(substitute_row(way, worked, say) for way in one.substitutes)
    heads = columns("Instead 2.6 | Adds > 1 | What it does to the weakest bed 3.2")
    note = "Best first: what works for every bed and weakens none comes before what is cheaper."
    return Part(title, (Table("Substitutions", heads, rows, (), note, True),))


def substitute_row(way: Substitute, worked: WorkedClass, say: Voice) -> tuple[str, str, str]:
    """Return what to take instead and which beds it is not for, what it adds, what it does."""
    what = way.what
    if way.refused:
        what += f"; not for {beds_words(way.refused, len(worked.designs))}"
    return what, say.money(way.adds), effect_words(way.effect, say.system)


def _sign(worked: WorkedClass, say: Voice, names: bool) -> tuple[Part, ...]:
    rows = tuple(
        (
            share.letter,
            *((household(worked, share.letter, names),) if names else ()),
            say.money(share.pays),
            "",
            "",
            "",
        )
        for share in worked.shares
    )
    who = " | Household 1.7" if names else ""
    heads = columns(
        f"Bed 0.5{who} | Share > 1 | Kit checked by 1.6 | Cautions read 1.1 | "
        "Received, date and sign 2.2"
    )
    intro = (
        "Check each kit against its kit sheet before it is handed over. Whoever takes it signs "
        "that the kit is complete and that the cautions on its card were read."
    )
    table = Table("Sign-off", heads, rows, (), "", True, True)
    return (Part("", (Paragraph(intro), table)),)
