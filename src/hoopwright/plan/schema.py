"""The JSON Schema of a plan, published so that editors can complete and check one."""

from typing import Any

from hoopwright.plan.model import Plan


def plan_schema() -> dict[str, Any]:
    """Return the JSON Schema (draft 2020-12) of a plan file."""
    schema = Plan.model_json_schema()
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        **schema,
        "title": "Hoopwright plan",
    }
