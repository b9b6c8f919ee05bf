"""A plan's text read as something sent by a stranger: no file on disk is opened for it."""

from __future__ import annotations

from hoopwright.plan import Plan, ReadPlan, read_plan_text
from hoopwright.plan.read import PlanError, Problem, laid_catalogue
from hoopwright.tables.catalogue import Catalogue
from hoopwright.web.beside import Own, named_by


def read_here(text: str, own: Own = ()) -> ReadPlan:
    """Return a plan's text read as something sent by a stranger.

    own : lists that it may name; no file on disk is opened. Raises PlanError, and nothing else,
    whatever the text.
    """
    try:
        return read_plan_text(text, beside=own)
    except PlanError:
        raise
    except (ValueError, OverflowError, ArithmeticError) as error:
        # For one: a whole number of more digits than Python will turn into one.
        says = f"cannot be read: {str(error)[:200]}"
        raise PlanError("plan", (Problem("", says),)) from None


def catalogue_for(plan: Plan, own: Own) -> Catalogue:
    """Return the catalogue of a plan that was read: ours, its own rows and prices laid over it."""
    held = tuple(
        (file, table)
        for key, table in (("catalogue", None), ("prices", "price"))
        for file in named_by(plan, own, key)
    )
    return laid_catalogue(held)
