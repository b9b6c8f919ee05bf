"""What a person wants: the plan file, read with every error at once."""

from hoopwright.plan.model import Plan
from hoopwright.plan.read import PlanError, ReadPlan, read_plan, read_plan_text

__all__ = ["Plan", "PlanError", "ReadPlan", "read_plan", "read_plan_text"]
