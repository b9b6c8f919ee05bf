"""`hoopwright check`: the facts of a plan and every finding, worst first."""

from hoopwright.cli.checked import print_check
from hoopwright.cli.options import AsJson, PlanFile


def check(plan: PlanFile, json: AsJson = False) -> None:
    """Print the facts of a plan and every finding, worst first, each with what to do."""
    print_check(plan, json)
