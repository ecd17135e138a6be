"""The plan from tapes against the theory of its tests, and its time against one least squares.

Every figure is one that must not exceed its goal. Those of statistics are in the column ``ratio``,
with no floor; the time is that of the whole run. ``python -m benchmarks.bench_survey [--long]``
prints them class by class; ``--long`` takes minutes.
"""

from __future__ import annotations

import sys
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from itertools import pairwise

import numpy as np
from benchmarks import survey_roofs as theory
from benchmarks.survey_roofs import BLUNDER, SIGMA, Roof, roof
from benchmarks.timing import Figure, measure

from evenfall.calc.geometry.tapes import Adjusted, Tape, adjust
from evenfall.errors import InvalidInput

SEED = 2026
CORNERS, FEWEST, MOST = 8, 6, 20
CLASSES = (0.0, 0.1, 0.2, 0.3, 0.5, 1.0)
CLOSE = 3.0  # standard errors
COVERED, WITHIN, LIMIT_95 = 95.0, 2.0, 5.9915
TIMES = 400  # draws of the theory for each trial
QUICK = {"trials": 600, "networks": 100, "roofs": 2000}
LONG = {"trials": 12000, "networks": 1000, "roofs": 20000}


@dataclass
class Class:
    """Trials of one class of redundancy: what was seen, and the sums of the chances."""

    name: str
    trials: int = 0
    counts: dict[str, float] = field(default_factory=dict)
    sums: dict[str, float] = field(default_factory=dict)
    spreads: dict[str, float] = field(default_factory=dict)

    def add(self, key: str, was: bool, chance: float, drawn: int) -> None:
        """Count one trial; the chance itself was drawn so many times (0: it is exact)."""
        self.counts[key] = self.counts.get(key, 0) + was
        self.sums[key] = self.sums.get(key, 0.0) + chance
        spread = chance * (1 - chance) * (1 + (1 / drawn if drawn else 0.0))
        self.spreads[key] = self.spreads.get(key, 0.0) + spread

    def off(self, key: str) -> float:
        """By how many standard errors the count differs; at least one trial counts as one."""
        error = max(self.spreads.get(key, 0.0), 0.25) ** 0.5
        return abs(self.counts.get(key, 0) - self.sums.get(key, 0.0)) / error


def read(of: Roof, draw: np.random.Generator, wrong: int | None = None) -> tuple[Tape, ...]:
    """Tape a roof, one of the tapes with the blunder."""
    lengths = of.lengths + SIGMA * draw.normal(size=len(of.pairs))
    if wrong is not None:
        lengths[wrong] += BLUNDER * draw.choice((-1, 1))
    return tuple(
        Tape(f"{a}-{b}", str(a), str(b), float(length), SIGMA)
        for (a, b), length in zip(of.pairs, lengths, strict=True)
    )


def tried(of: Roof, tapes: tuple[Tape, ...]) -> Adjusted | None:
    """Adjust; None where the tapes were refused."""
    try:
        return adjust(of.names, tapes)
    except InvalidInput:
        return None


def sure_roof(draw: np.random.Generator, diagonals: int) -> Roof:
    """Draw a roof whose tapes, read without error, can be laid out in one way only."""
    while True:
        of = roof(draw, CORNERS, diagonals)
        exact = tuple(
            Tape(f"{a}-{b}", str(a), str(b), float(d), SIGMA)
            for (a, b), d in zip(of.pairs, of.lengths, strict=True)
        )
        found = tried(of, exact)
        if found is not None and not found.ambiguous and found.t < SIGMA:
            return of


def blunders(trials: int) -> tuple[list[Class], int, int]:
    """Plant blunders: the classes, tapes named against the rule of correlation, refusals."""
    draw = np.random.default_rng(SEED)
    classes = [Class(f"{a:g} to {b:g}") for a, b in pairwise(CLASSES)]
    broken = refused = 0
    for k in range(trials):
        of = sure_roof(draw, FEWEST + k % (MOST - FEWEST + 1))
        tape = int(draw.integers(len(of.pairs)))
        maker = of.residual_maker
        found = tried(of, read(of, draw, tape))
        if found is None:
            refused += 1
            continue
        at = classes[max(int(np.searchsorted(CLASSES, maker[tape, tape], side="right")) - 1, 0)]
        at.trials += 1
        seen, named = theory.drawn(of, tape, draw, TIMES)
        name = found.tapes[tape].tape.name
        at.add("w", abs(found.tapes[tape].w) > theory.W, theory.baarda(maker[tape, tape]), 0)
        at.add("seen", found.detected, seen, TIMES)
        at.add("named", found.located and found.suspects == (name,), named, TIMES)
        if found.located:
            row = next(i for i, c in enumerate(found.tapes) if c.tape.name == found.suspects[0])
            laid = Roof(np.array(found.polygon), of.pairs)
            broken += bool(theory.alike(laid.residual_maker)[row] > theory.ALIKE)
            at.add("wrongly named", found.suspects != (name,), 0.0, 0)
    return classes, broken, refused


def further(networks: int) -> tuple[float, float, int]:
    """Share located with the advised tape and with a random one, over undecided networks."""
    draw = np.random.default_rng(SEED + 1)
    advised = random = 0.0
    done = 0
    while done < networks:
        of = sure_roof(draw, int(draw.integers(FEWEST, FEWEST + 5)))
        tape = int(draw.integers(len(of.pairs)))
        tapes = read(of, draw, tape)
        found = tried(of, tapes)
        if found is None or not found.detected or found.located or found.ambiguous:
            continue
        if found.further is None or found.further.again:
            continue
        done += 1
        pair = tuple(sorted(int(n) for n in found.further.between))
        others = [of.untaped[i] for i in draw.permutation(len(of.untaped))[:4]]
        advised += _then(of, tapes, tape, pair, draw)
        random += sum(_then(of, tapes, tape, p, draw) for p in others) / len(others)
    return advised / done, random / done, done


def _then(
    of: Roof, tapes: tuple[Tape, ...], wrong: int, pair: tuple[int, ...],
    draw: np.random.Generator,
) -> bool:  # fmt: skip
    a, b = pair
    length = float(np.hypot(*(of.xy[a] - of.xy[b]))) + SIGMA * draw.normal()
    found = tried(of, (*tapes, Tape("new", str(a), str(b), length, SIGMA)))
    return found is not None and found.located and found.suspects == (tapes[wrong].name,)


def ellipses(roofs: int) -> tuple[list[float], float]:
    """Share in percent of each corner within its 95 % ellipse; and of good tapes called wrong."""
    draw = np.random.default_rng(SEED + 2)
    inside, done, alarms = np.zeros(CORNERS), 0, 0
    while done < roofs:
        of = roof(draw, CORNERS, int(draw.integers(FEWEST + 4, MOST + 1)))
        found = tried(of, read(of, draw))
        if found is None or found.ambiguous:
            continue
        done += 1
        alarms += found.detected
        laid, turn = theory.laid_over(np.array(found.polygon), of.xy)
        for i, (gap, c) in enumerate(zip(laid - of.xy, found.corners, strict=True)):
            q = np.array([[c.sigma_x**2, c.covariance], [c.covariance, c.sigma_y**2]])
            own = turn.T @ gap
            inside[i] += own @ np.linalg.solve(q, own) <= LIMIT_95
    return (100 * inside / done).tolist(), 100 * alarms / done


def timed() -> list[Figure]:
    """Time one adjustment against one least squares of the same matrix."""
    found = []
    for diagonals in (8, 14, 20):
        draw = np.random.default_rng(SEED + diagonals)
        of = sure_roof(draw, diagonals)
        tapes, a = read(of, draw), of.design
        f = draw.normal(size=len(a))
        name = f"survey: adjusted, {diagonals} diagonals"
        found.append(measure(name, _work(of, tapes), _floor(a, f), 40.0, rounds=60))
    return found


def _work(of: Roof, tapes: tuple[Tape, ...]) -> Callable[[], object]:
    return lambda: adjust(of.names, tapes)


def _floor(a: np.ndarray, f: np.ndarray) -> Callable[[], object]:
    return lambda: np.linalg.lstsq(a, f, rcond=None)


def figures(sizes: dict[str, int] = QUICK) -> list[Figure]:
    """Measure all."""
    return [*statistics(sizes), *timed()]


def statistics(sizes: dict[str, int]) -> Iterator[Figure]:
    """Give the figures that are no times."""
    start = time.perf_counter()

    def one(name: str, value: float, goal: float) -> Figure:
        ms = round(1000 * (time.perf_counter() - start), 1)
        return Figure(name, ms, round(value, 3), 0.0, goal, value <= goal, ms, 0.0)

    classes, broken, _ = blunders(sizes["trials"])
    for key, says in (("w", "its w over the limit"), ("seen", "blunder seen"),
                      ("named", "blunder named")):  # fmt: skip
        worst = max(c.off(key) for c in classes if c.trials)
        yield one(f"survey: {says}, off theory by (standard errors)", worst, CLOSE)
    yield one("survey: named though it goes with another", float(broken), 0.0)
    advised, random, _ = further(sizes["networks"])
    yield one("survey: named with a random tape, of that with the advised", random / advised, 0.999)
    shares, _ = ellipses(sizes["roofs"])
    off = max(abs(s - COVERED) for s in shares)
    yield one("survey: corners in their ellipses, off 95 % by (points)", off, WITHIN)


def main(words: list[str]) -> None:
    """Print class by class."""
    sizes = LONG if "--long" in words else QUICK
    classes, broken, refused = blunders(sizes["trials"])
    print(f"{BLUNDER * 1000:g} mm in one tape, sigma {SIGMA * 1000:g} mm, {CORNERS} corners, "
          f"{FEWEST} to {MOST} diagonals, {sizes['trials']} roofs, {refused} refused")  # fmt: skip
    for c in classes:
        told = ", ".join(
            f"{key} {c.counts[key]:.0f} of {c.sums[key]:.1f} ({c.off(key):.1f} s.e.)"
            for key in ("w", "seen", "named") if c.trials
        )  # fmt: skip
        print(f"redundancy {c.name}: {c.trials} trials, {told}, "
              f"wrongly named {c.counts.get('wrongly named', 0):.0f}")  # fmt: skip
    print(f"named though its residual goes with another's: {broken}")
    advised, random, n = further(sizes["networks"])
    print(f"{n} undecided networks: named with the advised tape {advised:.3f}, "
          f"with a random one {random:.3f}")  # fmt: skip
    shares, alarms = ellipses(sizes["roofs"])
    print(
        f"{sizes['roofs']} roofs, corners in their 95 % ellipse: "
        + ", ".join(f"{s:.1f}" for s in shares)
        + f"; good tapes called wrong {alarms:.1f} %"
    )
    for figure in timed():
        print(f"{figure.name}: {figure.ratio:g} of {figure.goal:g}, {figure.ms:g} ms")


if __name__ == "__main__":
    main(sys.argv[1:])
