"""`hoopwright cut`: what to cut from which stick and roll, and what to buy."""

from __future__ import annotations

from typing import TYPE_CHECKING, Annotated

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, Misused, PlanFile

if TYPE_CHECKING:
    from hoopwright.answers.voice import Voice
    from hoopwright.materials.order import Order, RollCuts, StickCuts
    from hoopwright.units import System


def cut(
    plan: PlanFile,
    json: AsJson = False,
    csv: Annotated[
        bool, typer.Option("--csv", help="Write the shopping list as CSV for a spreadsheet.")
    ] = False,
) -> None:
    """Print how to cut every stick and roll with the least waste, and the shopping list."""
    from hoopwright import design_of, read_plan
    from hoopwright.answers.data import order_data
    from hoopwright.answers.spreadsheets import shopping_csv

    design = design_of(read_plan(plan))
    order = design.order
    system = design.system.priced_in(order.currency)
    if json and csv:
        raise Misused("--json or --csv, not both")
    if json:
        print(text.as_json(order_data(order)))
    elif csv:
        print(shopping_csv(order, system), end="")
    else:
        print(_words(order, system))
        print("\n" + text.paragraph(text.GUIDANCE))


def _words(order: Order, system: System) -> str:
    from hoopwright.answers.spreadsheets import bought
    from hoopwright.answers.voice import Voice
    from hoopwright.units import show

    say = Voice(system, order.currency)
    blocks = [_sticks(cuts, say) for cuts in order.sticks]
    blocks += [_roll(cuts, system) for cuts in order.rolls]
    blocks += [f"Not possible: {sentence}" for sentence in order.unmet]
    rows = [(line.name, *bought(line, say)) for line in order.lines]
    head = ("Item", "Sold as", "At hand", "Buy", "Each", "Total")
    blocks.append("Shopping list\n" + text.table(head, rows, right=(2, 3, 4, 5)))
    total = f"  Total {show(order.total, 'money', system)}"
    if order.example_prices:
        total += f"   Example prices, invented, {order.price_date}: put in your own."
    if order.unpriced:
        total += f"\n  Not priced: {', '.join(dict.fromkeys(order.unpriced))}"
    blocks.append("\n".join(text.paragraph(line, rest="  ") for line in total.splitlines()))
    return "\n\n".join(blocks)


def proof(proven: bool, gap: float) -> str:
    """Return how good a cut plan is known to be, in words."""
    if proven:
        return "no cheaper cut exists"
    return f"at most {gap * 100:.1f} % above the least possible"


def _sticks(cuts: StickCuts, say: Voice) -> str:
    from hoopwright.sheet.cuts import groups_of, pieces_words

    plan = cuts.plan
    head = f"{cuts.name}: {len(plan.sticks)} to cut ({proof(plan.proven, plan.gap)})"
    lines = [text.paragraph(head, rest="  ")]
    for group in groups_of(plan):
        parts = pieces_words(group.lengths, group.names[0], say)
        own = " (at hand)" if group.at_hand else ""
        over = f", {say.length(group.left)} left" if group.left > 0.001 else ""
        said = f"{group.count} x {say.size(group.stick_length)}{own}: {parts}{over}"
        lines.append(text.paragraph(said, first="  ", rest="    "))
    return "\n".join(lines)


def _roll(cuts: RollCuts, system: System) -> str:
    from hoopwright.units import show

    plan = cuts.plan
    lines = [text.paragraph(f"{cuts.name} ({proof(plan.proven, plan.gap)})", rest="  ")]
    for used in plan.rolls:
        size = " x ".join(
            show(part, "size", system) for part in (used.roll.width, used.roll.length)
        )
        said = f"roll {size}, {show(used.used, 'length', system)} used:"
        lines.append(text.paragraph(said, first="  ", rest="    "))
        for placed in used.sheets:
            width, length = (show(part, "length", system) for part in (placed.width, placed.length))
            at = show(placed.y, "tape", system)
            said = f"{placed.sheet.name}: {width} wide, {length} long, from {at}"
            lines.append(text.paragraph(said, first="    ", rest="      "))
    return "\n".join(lines)
