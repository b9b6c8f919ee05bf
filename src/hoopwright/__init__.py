"""Hoopwright: design, check, cut, price and build covered raised beds."""
