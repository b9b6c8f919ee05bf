"""Slender rods with large displacement; knows nothing of gardens."""
