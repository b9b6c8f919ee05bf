"""`hoopwright schema`: the JSON Schema of a plan, for editors that complete and check it."""

from hoopwright.cli import text
from hoopwright.cli.options import AsJson


def schema(json: AsJson = True) -> None:
    """Print the JSON Schema of a plan file."""
    from hoopwright.plan.schema import plan_schema

    print(text.as_json(plan_schema()))
