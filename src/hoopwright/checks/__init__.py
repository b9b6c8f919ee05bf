"""Demand against capacity and the findings a person acts on, one file a failure."""

from hoopwright.checks.finding import Finding, Severity, worst_first

__all__ = ["Finding", "Severity", "worst_first"]
