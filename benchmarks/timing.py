"""Timing against a floor that is measured in the same run.

A figure is the time of our work, and its ratio to a floor: the least that the same answer could
cost (a bare kernel, an empty program). Floor and work alternate, so that a busy moment of the
machine hits both; the ratio is that of the two minima. Where the floor itself spreads too far the
figure says so instead of a verdict.
"""

from __future__ import annotations

import json
import time
from collections.abc import Callable, Iterable, Sequence
from dataclasses import asdict, dataclass
from statistics import median

ROUNDS = 9
"""Turns of floor and work; at least so many."""

STEADY = 0.25
"""Spread of the floor, as a share of its minimum, beyond which there is no verdict."""

Clock = Callable[[], float]


@dataclass(frozen=True)
class Figure:
    """One figure; times in milliseconds, ``met`` None where the floor was unsteady."""

    name: str
    ms: float
    ratio: float
    floor: float
    goal: float
    met: bool | None
    median_ms: float
    floor_median_ms: float

    @property
    def verdict(self) -> str:
        """In words."""
        if self.met is None:
            return "floor unsteady"
        return "met" if self.met else "NOT MET"


def measure(
    name: str,
    work: Callable[[], object],
    floor: Callable[[], object],
    goal: float,
    rounds: int = ROUNDS,
    clock: Clock = time.perf_counter,
    rest: Callable[[], object] = lambda: None,
) -> Figure:
    """Time some work against its floor.

    ``goal`` is the ratio that must not be exceeded. Both run once beforehand, unmeasured. ``rest``
    waits, unmeasured, before each turn, until what the last one set going has ended.
    """
    if rounds < ROUNDS:
        raise ValueError(f"{rounds} rounds, expected {ROUNDS} or more")
    floor(), work()
    floors, works = [], []
    for _ in range(rounds):
        rest()
        floors.append(_timed(floor, clock))
        works.append(_timed(work, clock))
    return figure(name, works, floors, goal)


def _timed(run: Callable[[], object], clock: Clock) -> float:
    start = clock()
    run()
    return clock() - start


def measure_both(
    name: str,
    work: Callable[[], object],
    floor: Callable[[], object],
    goal: float,
    rounds: int = ROUNDS,
) -> list[Figure]:
    """Time the same turns by the clock on the wall and by the processor.

    A busy machine stretches the first and leaves the second nearly alone; beside one another they
    tell which of the two a figure is.
    """
    floor(), work()
    floors, works = [], []
    for _ in range(rounds):
        floors.append(_both(floor))
        works.append(_both(work))
    return [
        figure(f"{name}, {how}", [w[i] for w in works], [f[i] for f in floors], goal)
        for i, how in enumerate(("by the clock", "by the processor"))
    ]


def _both(run: Callable[[], object]) -> tuple[float, float]:
    wall, spent = time.perf_counter(), time.process_time()
    run()
    return time.perf_counter() - wall, time.process_time() - spent


def figure(name: str, works: Sequence[float], floors: Sequence[float], goal: float) -> Figure:
    """Make the figure of times in seconds."""
    least, base = min(works), min(floors)
    ratio = least / base if base else float("inf")
    met = ratio <= goal if steady(floors) else None
    ms = [round(1000 * t, 4) for t in (least, base, median(works), median(floors))]
    return Figure(name, ms[0], round(ratio, 3), ms[1], goal, met, ms[2], ms[3])


def steady(floors: Sequence[float]) -> bool:
    """Tell whether the floor spreads little enough: its median lies near its minimum."""
    return median(floors) <= (1 + STEADY) * min(floors)


def table(figures: Iterable[Figure]) -> str:
    """Write the figures for a person to read."""
    head = ("figure", "ms", "median", "floor ms", "median", "ratio", "goal", "")
    rows = [head] + [
        (f.name, f"{f.ms:.2f}", f"{f.median_ms:.2f}", f"{f.floor:.2f}", f"{f.floor_median_ms:.2f}",
         f"{f.ratio:.2f}", f"{f.goal:g}", f.verdict)
        for f in figures
    ]  # fmt: skip
    widths = [max(len(row[i]) for row in rows) for i in range(len(head))]
    return "\n".join(_line(row, widths) for row in rows)


def _line(row: Sequence[str], widths: Sequence[int]) -> str:
    """Set the words to the left and the numbers to the right."""
    first, *numbers, last = row
    cells = (cell.rjust(w) for cell, w in zip(numbers, widths[1:-1], strict=True))
    return "  ".join([first.ljust(widths[0]), *cells, last]).rstrip()


def as_json(figures: Iterable[Figure]) -> str:
    """Write the figures for a program to read."""
    keys = ("name", "ms", "ratio", "floor", "goal", "met")
    return json.dumps([{k: asdict(f)[k] for k in keys} for f in figures], indent=1)
