"""Laws of the plan from tapes: noise stays in its ellipses, a blunder shows as theory has it."""

from __future__ import annotations

import math

import numpy as np
import pytest
from benchmarks import survey_roofs as theory
from benchmarks.bench_survey import LIMIT_95, read, sure_roof, tried
from benchmarks.survey_roofs import SIGMA, Roof, roof
from hypothesis import given, settings
from hypothesis import strategies as st

from evenfall.calc.geometry.tapes import Adjusted, Offset, Tape, adjust

SEEDS = st.integers(0, 2**32 - 1)
FEW = settings(max_examples=25, deadline=None)
NEVER = 41.4  # chi-square of two degrees of freedom, one in a thousand million


def squares(found: Adjusted, of: Roof) -> list[float]:
    """How far each corner lies from its true place, in squares of its ellipse."""
    laid, turn = theory.laid_over(np.array(found.polygon), of.xy)
    told = []
    for gap, c in zip(laid - of.xy, found.corners, strict=True):
        q = np.array([[c.sigma_x**2, c.covariance], [c.covariance, c.sigma_y**2]])
        own = turn.T @ gap
        told.append(float(own @ np.linalg.solve(q, own)))
    return told


@FEW
@given(SEEDS, st.integers(4, 10))
def test_a_roof_taped_with_noise_comes_back_within_its_ellipses(seed: int, corners: int) -> None:
    draw = np.random.default_rng(seed)
    of = roof(draw, corners, corners * (corners - 3) // 2)
    found = tried(of, read(of, draw))
    assert found is not None
    assert max(squares(found, of)) < NEVER


def test_nineteen_in_twenty_corners_lie_in_their_95_percent_ellipse() -> None:
    draw, told = np.random.default_rng(11), []
    while len(told) < 8 * 150:
        of = roof(draw, 8, 14)
        found = tried(of, read(of, draw))
        if found is not None and not found.ambiguous:
            told += squares(found, of)
    assert np.mean(np.array(told) <= LIMIT_95) == pytest.approx(0.95, abs=0.02)


def test_a_blunder_is_seen_and_named_as_often_as_theory_says() -> None:
    draw = np.random.default_rng(12)
    counts, sums, spread = np.zeros(2), np.zeros(2), np.zeros(2)
    for k in range(120):
        of = sure_roof(draw, 6 + k % 9)
        tape = int(draw.integers(len(of.pairs)))
        found = tried(of, read(of, draw, tape))
        assert found is not None
        chances = np.array(theory.drawn(of, tape, draw, 300))
        name = found.tapes[tape].tape.name
        counts += (found.detected, found.located and found.suspects == (name,))
        sums += chances
        spread += chances * (1 - chances)
    assert np.all(np.abs(counts - sums) < 3 * np.sqrt(spread) + 1)
    assert 20 < counts[1] < counts[0] < 120  # both happen, and neither always


@FEW
@given(SEEDS)
def test_a_tape_whose_residual_goes_with_another_is_never_named(seed: int) -> None:
    draw = np.random.default_rng(seed)
    of = sure_roof(draw, 7)
    found = tried(of, read(of, draw, int(draw.integers(len(of.pairs)))))
    if found is not None and found.located:
        row = [c.tape.name for c in found.tapes].index(found.suspects[0])
        laid = Roof(np.array(found.polygon), of.pairs)
        assert theory.alike(laid.residual_maker)[row] <= theory.ALIKE


@FEW
@given(SEEDS)
def test_a_tape_added_or_read_again_never_makes_a_corner_worse(seed: int) -> None:
    draw = np.random.default_rng(seed)
    of = sure_roof(draw, 8)
    exact = [Tape(f"{a}-{b}", str(a), str(b), float(d), SIGMA)
             for (a, b), d in zip(of.pairs, of.lengths, strict=True)]  # fmt: skip
    before = adjust(of.names, tuple(exact))
    a, b = of.untaped[int(draw.integers(len(of.untaped)))]
    new = Tape("new", str(a), str(b), float(np.hypot(*(of.xy[a] - of.xy[b]))), SIGMA)
    for more in (new, Tape("again", exact[0].a, exact[0].b, exact[0].length, SIGMA)):
        after = adjust(of.names, (*exact, more))
        assert after.sigma_mm <= before.sigma_mm * (1 + 1e-6)
        assert after.sigma_area <= before.sigma_area * (1 + 1e-6)


@FEW
@given(SEEDS)
def test_offsets_read_without_error_agree_with_the_tapes(seed: int) -> None:
    draw = np.random.default_rng(seed)
    of = sure_roof(draw, 8)
    exact = tuple(Tape(f"{a}-{b}", str(a), str(b), float(d), SIGMA)
                  for (a, b), d in zip(of.pairs, of.lengths, strict=True))  # fmt: skip
    p, a, b = (int(i) for i in draw.permutation(8)[:3])
    way = (of.xy[b] - of.xy[a]) / math.dist(of.xy[a], of.xy[b])
    arm = of.xy[p] - of.xy[a]
    along, left = float(arm @ way), float(way[0] * arm[1] - way[1] * arm[0])
    offset = Offset("o", str(p), str(a), str(b), along, left, 0.01, 0.01)
    found = adjust(of.names, exact, offsets=(offset,))
    assert found.t < 1e-6
    assert found.dof == len(of.pairs) + 2 - 13
    assert sum(c.redundancy for c in found.readings) == pytest.approx(found.dof, abs=1e-6)
