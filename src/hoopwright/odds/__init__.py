"""Uncertain inputs drawn a few thousand times, and what is told of what comes out."""
