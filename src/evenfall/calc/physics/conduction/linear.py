"""Solving the symmetric systems of the networks."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from scipy import sparse
from scipy.sparse.linalg import cg, splu

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


DIRECT_DIMENSIONS = 2
"""In two dimensions the factors stay thin and a direct solve is the fastest; in three they fill
up, and conjugate gradients were faster from 2000 cells on, 4 times at 4000 and ever more beyond.
An incomplete factorisation cost more than the steps that it saved, and once did not converge."""

RESIDUAL = 1e-10
"""Of conjugate gradients: far below what the mesh leaves open, far above rounding."""

ROUNDS = 10_000
"""Of conjugate gradients; details have needed a few hundred, and what is left shows in the sum of
the flows."""


def solve_all(matrix: sparse.csc_array, right: Floats, dimensions: int) -> Floats:
    """Solve for each air at 1 and the others at 0, the last as what the others leave of 1.

    Parameters
    ----------
    matrix : sparse array
        Matrix of a network or of elements [any].
    right : array
        Right side for each air [any].
    dimensions : int
        Dimensions of the detail [-].

    Returns
    -------
    array
        Solution for each air [-].
    """
    if dimensions <= DIRECT_DIMENSIONS:
        first = factor(matrix)(right[:, :-1])
    else:
        first = np.empty((len(right), right.shape[1] - 1))
        for n, column in enumerate(right[:, :-1].T):
            first[:, n] = _iterated(matrix, column)
    return np.column_stack([first, 1 - first.sum(axis=1)])


def _iterated(matrix: sparse.csc_array, right: Floats) -> Floats:
    """Solve by conjugate gradients on the matrix scaled to a diagonal of 1."""
    scale = 1 / np.sqrt(matrix.diagonal())
    scaled = sparse.csr_array(matrix)
    scaled.data = scaled.data * scale[scaled.indices] * np.repeat(scale, np.diff(scaled.indptr))
    found, _ = cg(scaled, right * scale, rtol=RESIDUAL, maxiter=ROUNDS)
    answer: Floats = found * scale
    return answer
