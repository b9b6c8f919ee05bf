"""`hoopwright check`: the facts of a plan and every finding, worst first."""

from __future__ import annotations

from hoopwright.cli.options import AsJson, PlanFile


def check(plan: PlanFile, json: AsJson = False) -> None:
    """Print the facts of a plan and every finding, worst first, each with what to do."""
    from hoopwright import design_of, read_plan
    from hoopwright.answers.data import design_data
    from hoopwright.answers.facts import facts
    from hoopwright.answers.findings import finding_words
    from hoopwright.cli import text

    design = design_of(read_plan(plan))
    if json:
        print(text.as_json(design_data(design)))
        return
    print(design.plan.name)
    print()
    for fact in facts(design):
        print(text.labelled(fact.label, fact.says))
    print()
    for finding in finding_words(design.findings, design.system):
        print(text.labelled(finding.severity, finding.says, 8))
        if finding.do:
            print(text.labelled("", f"Do: {finding.do}", 8))
    print()
    print(text.paragraph(text.GUIDANCE))
