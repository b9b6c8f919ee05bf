"""Demand against capacity and the findings a person acts on, one file a failure."""
