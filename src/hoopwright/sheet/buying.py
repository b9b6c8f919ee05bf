"""Tools and the shopping list, with what is at hand, what is left and what it all costs."""

from collections.abc import Iterable

from hoopwright.answers.facts import cost_words
from hoopwright.answers.spreadsheets import bought
from hoopwright.answers.voice import Voice, kind_of, listed, plural, sentence
from hoopwright.design import Design
from hoopwright.materials.order import Leftover
from hoopwright.sheet.content import Block, Bullets, Paragraph, Part, Table, columns
from hoopwright.sheet.traits import applies


def tools(design: Design, traits: frozenset[str]) -> Bullets:
    """Return the tools this bed wants, and what for."""
    items = []
    for tool in design.catalogue.tools.values():
        optional = tool.wanted == "optional"
        if optional or applies(tool.wanted, traits):
            extra = " (optional)" if optional else ""
            items.append(f"{tool.name}{extra}: {tool.work}")
    return Bullets(tuple(items), 2)


def uses(names: Iterable[str]) -> str:
    """Return what pieces are, by kind and number: "2 side boards, 2 end boards"."""
    kinds = [kind_of(name) for name in names]
    return listed([plural(kinds.count(kind), kind) for kind in dict.fromkeys(kinds)])


def uses_of(design: Design) -> dict[str, str]:
    """Return what each thing to buy is for, by its key."""
    found: dict[str, list[str]] = {}
    for cut in design.parts.cut:
        found.setdefault(cut.thing, []).append(uses(piece.name for piece in cut.pieces))
    for sheets in design.parts.sheets:
        found.setdefault(sheets.thing, []).append(uses(sheet.name for sheet in sheets.sheets))
    for part in design.parts.counted:
        found.setdefault(part.thing, []).append(f"{part.count} to {part.use}")
    return {thing: listed(words) for thing, words in found.items()}


def shopping_table(design: Design, say: Voice) -> Table:
    """Return the shopping list."""
    order, use = design.order, uses_of(design)
    seen: set[str] = set()
    rows = []
    for line in order.lines:
        first = line.thing not in seen
        seen.add(line.thing)
        for_what = use.get(line.thing, line.use)
        what = f"{line.name}: {for_what}" if first else f"{line.name}, as above"
        rows.append((what, *bought(line, say)))
    heads = columns(
        "What, and what for 5 | Sold as 2 | At hand > 1.1 | Buy > 0.6 | Each > 1 | Total > 1.1"
    )
    caption = "Shopping list"
    if design.order.price_date:
        kind = "invented example prices" if design.order.example_prices else "prices"
        caption += f", {kind} of {design.order.price_date}"
    foot = ("Everything to buy", "", "", "", "", say.money(order.total))
    return Table(caption, heads, tuple(rows), foot, sentence(cost_words(design, say)))


def left_words(left: Leftover, say: Voice) -> str:
    """Return how much of a leftover there is."""
    if left.length is None:
        return plural(left.count, "piece")
    if left.width is None:
        return f"{left.count} of {say.length(left.length)}"
    return f"{say.size(left.width)} by {say.length(left.length)}"


def leftovers_table(design: Design, say: Voice) -> Table | None:
    """Return what remains and is worth keeping."""
    rows = [(left.name, left_words(left, say)) for left in design.order.leftovers]
    heads = columns("Left over 3 | How much 2")
    return Table("Left over, worth keeping", heads, tuple(rows)) if rows else None


#: What the work wants that the list does not count, and of which beds.
_NOT_LISTED = (
    ("always", "Soil, compost and plants."),
    ("rail", "Tape or clips that hold the film's edge on the rail, and rail couplings."),
    ("box new+courses", "Scrap boards to tie one course to the next on the inside."),
    ("burrowers", "Mesh against animals, and the staples that hold it."),
    ("digging", "A spade."),
    ("staked", "Screws for the stakes."),
    ("ridge", "Ties of the ridge line."),
    ("rail+rail clipped+not rail clip", "A clip that grips the rail, at every hoop of each rail."),
)


def not_listed(design: Design, traits: frozenset[str]) -> Bullets:
    """Return what the work wants that this list does not count."""
    items = [words for when, words in _NOT_LISTED if applies(when, traits)]
    bought, held = {line.thing for line in design.order.lines}, design.hold_down
    for thing in (held.pin, held.stake if held.stakes else None, held.sleeve_rod):
        if thing is not None and thing.key not in bought:
            items.append(f"{thing.name}: counted in the steps.")
    return Bullets(tuple(items))


def buying_parts(design: Design, traits: frozenset[str], say: Voice) -> tuple[Part, ...]:
    """Return tools, shopping list and leftovers."""
    shopping: list[Block] = [
        Paragraph(f"Cannot be bought as planned: {words}", decide=True)
        for words in design.order.unmet
    ]
    shopping.append(shopping_table(design, say))
    parts = [
        Part("", tuple(shopping)),
        Part("Not on this list", (not_listed(design, traits),), half=True),
    ]
    left = leftovers_table(design, say)
    if left is not None:
        parts.append(Part("", (left,), half=True))
    parts.append(Part("Tools", (tools(design, traits),)))
    return tuple(parts)
