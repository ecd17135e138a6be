"""Leaning loads and the night's bath: closed forms against sums over many slices."""

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from evenfall.calc.drainage.bath import bath
from evenfall.calc.loads.leaning_load import leaning_moment
from evenfall.errors import InvalidInput

LOADS = st.floats(0.0, 4000.0)


def sliced_moment(w: float, q: float, a: float, L: float) -> float:
    """Greatest moment of a beam under slices of load, by statics alone."""
    edges = np.linspace(0, L, 4001)
    x = (edges[1:] + edges[:-1]) / 2
    p = (w + np.where(x < a, q * (1 - x / a), 0.0)) * L / 4000
    reaction = float((p * (L - x)).sum() / L)
    at = np.linspace(0, L, 801)
    moments = [reaction * s - float((p[x < s] * (s - x[x < s])).sum()) for s in at]
    return max(moments)


@given(w=LOADS, q=LOADS, share=st.floats(0.05, 1.0), L=st.floats(0.8, 8.0))
def test_the_moment_agrees_with_slices(w, q, share, L):
    if w + q < 1:
        w += 1
    found = leaning_moment(w, q, share * L, L).value
    assert found == pytest.approx(sliced_moment(w, q, share * L, L), rel=2e-4)


@pytest.mark.parametrize(
    ("w", "q", "a", "L"),
    [(100.0, 50.0, 3.1, 3.0), (-1.0, 50.0, 1.0, 3.0), (0.0, 0.0, 1.0, 3.0), (1.0, 1.0, 0.0, 3.0)],
)
def test_impossible_loads_are_refused(w, q, a, L):
    with pytest.raises(InvalidInput):
        leaning_moment(w, q, a, L)


@given(
    rain=st.floats(0.001, 0.2), A=st.floats(3.0, 150.0), S=st.floats(0.0, 0.06),
    b=st.floats(1.0, 15.0), l=st.floats(1.0, 12.0),
)  # fmt: skip
def test_the_bath_holds_what_the_rain_brought(rain, A, S, b, l):
    """Water summed over slices up the fall is the volume, where no brim lets it run over."""
    found = bath(rain, A, S, b, l, 100.0)
    up = (np.arange(20_000) + 0.5) * l / 20_000
    stands = np.clip(found.depth.value - S * up, 0.0, None).sum() * l / 20_000 * b
    assert stands == pytest.approx(rain * A, rel=2e-3)
    assert found.reach_m <= l * (1 + 1e-9)


@given(st.floats(0.001, 0.1), st.floats(0.001, 0.3))
def test_no_more_stands_than_the_edge_timber_holds(rain, brim):
    assert bath(rain, 25.0, 0.0125, 6.2, 4.1, brim).depth.value <= brim
