"""Measured temperatures: read from loggers, kept, held against the model, fitted, reported."""
