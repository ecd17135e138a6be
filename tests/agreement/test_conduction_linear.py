"""The banded solve of a grid beside the sparse one, which orders its unknowns and knows no band."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenfall.calc.physics.conduction import linear
from evenfall.calc.physics.conduction.linear import Grid

OFFSETS = ((0, 0), (0, 1), (1, -1), (1, 0), (1, 1))


def grid(long, short, seed, closed=0.2):
    """Make a grid of random neighbours, some places shut, positive definite."""
    rng = np.random.default_rng(seed)
    shape = (long, short)
    free = rng.random(shape) > closed
    free[0, 0] = True
    stencil = {o: np.zeros(shape) for o in OFFSETS}
    for i, j in OFFSETS[1:]:
        here = (slice(0, long - i), slice(max(-j, 0), short - max(j, 0)))
        there = (slice(i, long), slice(max(j, 0), short + min(j, 0)))
        g = rng.uniform(0.01, 5.0, stencil[i, j][here].shape)
        stencil[i, j][here] = -g
        stencil[0, 0][here] += g
        stencil[0, 0][there] += g
    stencil[0, 0] += rng.uniform(0.001, 0.1, shape)
    return Grid(stencil, free), rng.uniform(0.0, 1.0, (long * short, 3))


def both(made, right, monkeypatch):
    banded = linear.solve_all(made, right)
    monkeypatch.setattr(linear, "BAND", 0)
    return banded, linear.solve_all(made, right)


@pytest.mark.parametrize("shape", [(9, 5), (5, 9), (1, 7), (7, 1), (1, 1), (6, 6)])
def test_band_and_ordered_factors_agree_whichever_side_is_short(shape, monkeypatch):
    banded, ordered = both(*grid(*shape, seed=sum(shape)), monkeypatch)
    assert banded == pytest.approx(ordered, rel=1e-9, abs=1e-12)


def test_what_is_not_solved_is_0_in_both(monkeypatch):
    made, right = grid(8, 5, seed=3, closed=0.5)
    for found in both(made, right, monkeypatch):
        assert not found[~made.free.reshape(-1)].any()
        assert found[made.free.reshape(-1)].sum(axis=1) == pytest.approx(1)


@given(st.integers(1, 9), st.integers(1, 9), st.integers(0, 10**6))
def test_a_grid_multiplies_as_its_full_matrix_turned_or_not(long, short, seed):
    made, values = grid(long, short, seed, closed=0.0)
    full = linear.reduced(made).toarray()
    assert made.times(values) == pytest.approx(full @ values, rel=1e-12, abs=1e-12)
    order = np.arange(long * short).reshape(long, short).T.reshape(-1)
    turned = linear.reduced(made.turned()).toarray()
    assert turned == pytest.approx(full[np.ix_(order, order)], abs=1e-15)
