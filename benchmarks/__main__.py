"""Every figure of the benchmarks: ``python3 run.py bench [--json]``.

Each module ``bench_*.py`` of this folder gives its figures by ``figures()``. The whole run has one
thread for linear algebra: more threads make small solves slower and the floor unsteady.
"""

from __future__ import annotations

import os

ONE_THREAD = ("OPENBLAS_NUM_THREADS", "OMP_NUM_THREADS", "MKL_NUM_THREADS")
for variable in ONE_THREAD:  # before numpy is imported by anyone
    os.environ[variable] = "1"

import argparse  # noqa: E402
import importlib  # noqa: E402
import sys  # noqa: E402
from collections.abc import Iterator  # noqa: E402
from inspect import signature  # noqa: E402
from pathlib import Path  # noqa: E402

from benchmarks.timing import Figure, as_json, table  # noqa: E402


def modules(folder: Path, only: str = "") -> list[str]:
    """List the benchmark modules of a folder, or those whose name holds a word."""
    return [p.stem for p in sorted(folder.glob("bench_*.py")) if only in p.stem]


def all_figures(names: list[str], quiet: bool, long: bool = False) -> Iterator[Figure]:
    """Measure one module after the other; ``long`` where a module has more to measure."""
    for name in names:
        if not quiet:
            print(f"measuring {name.removeprefix('bench_')} ...", file=sys.stderr, flush=True)
        measured = importlib.import_module(f"benchmarks.{name}").figures
        more = long and "long" in signature(measured).parameters
        yield from measured(long=True) if more else measured()


def main(words: list[str] | None = None) -> int:
    """Measure and print; 1 where a goal is not met."""
    parser = argparse.ArgumentParser(prog="run.py bench", description=__doc__)
    parser.add_argument("--json", action="store_true", help="print a list of figures as JSON")
    parser.add_argument("--long", action="store_true", help="with the figures that take an hour")
    parser.add_argument("only", nargs="?", default="", help="a word in the names of the modules")
    asked = parser.parse_args(words)
    figures = list(all_figures(modules(Path(__file__).parent, asked.only), asked.json, asked.long))
    print(as_json(figures) if asked.json else table(figures))
    return int(any(f.met is False for f in figures))


if __name__ == "__main__":
    sys.exit(main())
