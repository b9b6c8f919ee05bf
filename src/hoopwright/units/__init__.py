"""The only conversions and formats in the repository."""
