"""Benchmarks of what users run, on the one thread of linear algebra that commands keep to."""

from hoopwright.cli.door import keep_to_one_thread

keep_to_one_thread()
