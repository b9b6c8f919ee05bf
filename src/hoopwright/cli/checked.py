"""What `hoopwright check` prints; apart from its options, which a plain `check PLAN` has not."""

from pathlib import Path


def print_check(plan: Path, json: bool = False) -> None:
    """Print the facts of a plan and every finding; as data if json."""
    from hoopwright import design_of, read_plan
    from hoopwright.answers.facts import facts
    from hoopwright.answers.findings import finding_words
    from hoopwright.cli import text

    design = design_of(read_plan(plan))
    if json:
        from hoopwright.answers.data import design_data

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
