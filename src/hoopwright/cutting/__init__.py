"""Pieces from stock and roll, with proof of how little is wasted."""
