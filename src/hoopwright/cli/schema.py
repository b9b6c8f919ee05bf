"""`hoopwright schema`: the JSON Schema of a plan, for editors that complete and check it."""

from __future__ import annotations


def schema() -> None:
    """Print the JSON Schema of a plan file."""
    from hoopwright.cli import text
    from hoopwright.plan.schema import plan_schema

    print(text.as_json(plan_schema()))
