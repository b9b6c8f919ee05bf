"""`hoopwright pull`: a person's own pulls on the legs, written into the plan."""

from typing import Annotated

import typer

from hoopwright.cli import text
from hoopwright.cli.options import AsJson, PlanFile

HOW = (
    "Take the film off, and choose a hoop that you have unbent or whose other leg a second person "
    "holds down: a bent pipe is a spring.",
    "Wear glasses. Kneel beside the bed, never over the leg nor in the plane of the hoop.",
    "Hook a luggage scale to the leg below its straps with a loop of cord that cannot slip.",
    "Pull up along the pipe, slowly, and read the scale when the pipe first moves. Stop at 100 lb "
    "(45 kg): more than that is your back, not the straps.",
    "Do four or five legs, and push each pipe back to its mark and tighten its straps.",
)


def pull(
    plan: PlanFile,
    readings: Annotated[
        list[str] | None,
        typer.Argument(metavar="[FORCE]...", help='Pulls at which a leg slipped, as "38 lb".'),
    ] = None,
    aged: Annotated[
        bool, typer.Option("--aged", help="The straps had been on for a season.")
    ] = False,
    json: AsJson = False,
) -> None:
    """Record a pull test of the straps in the plan; without pulls, say how to do one safely."""
    from hoopwright import design_of, writing
    from hoopwright.answers.data import rung_data
    from hoopwright.answers.ladder_words import stands_words
    from hoopwright.plan.read import read_plan_text, text_of
    from hoopwright.plan.rewrite import with_value

    before = text_of(plan)
    read = read_plan_text(before, file=str(plan), folder=plan.parent)
    if not readings:
        print(text.as_json({"how": HOW}) if json else _how())
        return
    after = with_value(before, "holding.pull_test", list(readings))
    after = with_value(after, "holding.pull_test_aged", True if aged else None)
    tested = read_plan_text(after, file=str(plan), folder=plan.parent)
    writing.write(plan, after)
    slips = []
    for one in (read, tested):
        design = design_of(one)
        slips.append(next(r for r in design.ladder.wind if r.name == "legs-slip"))
    if json:
        print(text.as_json({"before": rung_data(slips[0]), "after": rung_data(slips[1])}))
        return
    old, new = (stands_words(rung, design.system) for rung in slips)
    print(f"Written to {plan}. A leg slips out of its straps at a gust of:")
    print(text.labelled("before", old))
    print(text.labelled("with your test", new))


def _how() -> str:
    steps = [text.paragraph(f"{n}. {step}", rest="   ") for n, step in enumerate(HOW, 1)]
    return "\n".join(
        ["How to test the straps", *steps, "Then: hoopwright pull PLAN '38 lb' '45 lb' '41 lb'"]
    )
