"""Run every benchmark: `python -m bench`, or one: `python -m bench.frame`."""

import importlib
import pkgutil

import bench


def main() -> None:
    """Run the benchmarks in the order of their names."""
    for module in sorted(pkgutil.iter_modules(bench.__path__), key=lambda found: found.name):
        if module.name != "__main__":
            print(f"\n== {module.name}")
            importlib.import_module(f"bench.{module.name}").main()


if __name__ == "__main__":
    main()
