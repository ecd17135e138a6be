"""Solving the symmetric systems of the networks."""

from __future__ import annotations

from collections.abc import Callable

from scipy import sparse
from scipy.sparse.linalg import splu

from evenfall.calc.physics.conduction.mesh import Floats

Solver = Callable[[Floats], Floats]
"""From right sides to solutions, several at once in columns."""


def factor(matrix: sparse.csc_array) -> Solver:
    """Factorise a symmetric positive definite matrix.

    Parameters
    ----------
    matrix : sparse array
        Matrix of a network [any].

    Returns
    -------
    callable
        From right sides to solutions [any].

    Examples
    --------
    >>> import numpy as np
    >>> solve = factor(sparse.csc_array(np.array([[2.0, -1.0], [-1.0, 2.0]])))
    >>> solve(np.array([1.0, 1.0])).round(9).tolist()
    [1.0, 1.0]
    """
    found: Solver = splu(
        matrix,
        permc_spec="MMD_AT_PLUS_A",
        diag_pivot_thresh=0.0,
        options={"SymmetricMode": True},
    ).solve
    return found
