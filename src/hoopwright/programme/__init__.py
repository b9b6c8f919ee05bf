"""Choosing: what a change of plan would gain and cost."""
