"""What a person wants: the plan file, read with every error at once."""

from hoopwright.plan.model import Plan
from hoopwright.plan.read import PlanError, Problem, ReadPlan, read_plan, read_plan_text

__all__ = ["Plan", "PlanError", "Problem", "ReadPlan", "read_plan", "read_plan_text"]
