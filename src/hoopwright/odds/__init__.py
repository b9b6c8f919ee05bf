"""Uncertain inputs drawn a few thousand times, and what is told of what comes out."""

from hoopwright.odds.draws import HIGH_SCORE, Draws
from hoopwright.odds.quantiles import rank_correlation, weak_to_strong

__all__ = ["HIGH_SCORE", "Draws", "rank_correlation", "weak_to_strong"]
