"""Solving the symmetric systems of the networks on a rectilinear mesh."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import prod

import numpy as np
from scipy import sparse
from scipy.linalg.lapack import dpbsv
from scipy.sparse.linalg import cg, splu

from evenfall.calc.physics.conduction.mesh import Bools, Floats

Solver = Callable[[Floats], Floats]
"""From right sides to solutions, several at once in columns."""

Offset = tuple[int, ...]
"""Steps along each axis from a place to its neighbour."""


@dataclass(frozen=True, slots=True)
class Grid:
    """Symmetric matrix of the places of a mesh, by the neighbours of each place.

    Parameters
    ----------
    stencil : dict of Offset to array
        Entry of each place with its neighbour at that offset, 0 where it has none; only offsets
        that come after, that of the place itself among them [any].
    free : array
        Whether a place is solved [-].
    """

    stencil: dict[Offset, Floats]
    free: Bools

    def diagonals(self) -> Iterator[tuple[int, Floats]]:
        """Yield each diagonal from the main one up: how far off, and its entries by row."""
        shape = self.free.shape
        strides = [prod(shape[a + 1 :]) for a in range(len(shape))]
        for offset, c in self.stencil.items():
            yield sum(o * s for o, s in zip(offset, strides, strict=True)), c.reshape(-1)

    def times(self, values: Floats) -> Floats:
        """Multiply columns of values, one row to a place."""
        found = np.zeros_like(values)
        for step, c in self.diagonals():
            if step == 0:
                found += c[:, None] * values
            else:
                inner = c[:-step, None]
                found[:-step] += inner * values[step:]
                found[step:] += inner * values[:-step]
        return found

    def turned(self) -> Grid:
        """Swap the axes of a mesh in two dimensions."""
        stencil: dict[Offset, Floats] = {}
        for (i, j), c in self.stencil.items():
            t = c.T
            if j < 0:  # the neighbour comes before now: it keeps the entry
                moved = np.zeros_like(t)
                moved[:j, i:] = t[-j:, :-i]
                t = moved
            stencil[(abs(j), i if j >= 0 else -i)] = t
        return Grid(stencil, self.free.T)


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


BAND = 80
"""Places along the shorter axis up to which factors within a band are used: they need no ordering
and no lists of entries. Against the ordered ones they took a seventh of the time with 31 places,
a third with 91 and 0.6 with 121; beyond, the store of the band grows too far."""

DIRECT_DIMENSIONS = 2
"""In two dimensions the factors stay thin and a direct solve is the fastest; in three they fill
up, and conjugate gradients were faster from 2000 cells on, 4 times at 4000 and ever more beyond.
An incomplete factorisation cost more than the steps that it saved, and once did not converge."""

RESIDUAL = 1e-10
"""Of conjugate gradients: far below what the mesh leaves open, far above rounding."""

ROUNDS = 10_000
"""Of conjugate gradients; details have needed a few hundred, and what is left shows in the sum of
the flows."""


def solve_all(grid: Grid, right: Floats) -> Floats:
    """Solve for each air at 1 and the others at 0, the last as what the others leave of 1.

    Parameters
    ----------
    grid : Grid
        Matrix of a network or of elements [any].
    right : array
        Right side of each place for each air [any].

    Returns
    -------
    array
        Solution of each place for each air, 0 where nothing is solved [-].
    """
    shape, free = grid.free.shape, grid.free.reshape(-1)
    found = np.zeros(right.shape)
    if len(shape) == DIRECT_DIMENSIONS and min(shape) <= BAND:
        found[:, :-1] = _banded(grid, np.where(free[:, None], right[:, :-1], 0.0))
    else:
        places = np.flatnonzero(free)
        matrix = reduced(grid)
        if len(shape) <= DIRECT_DIMENSIONS:
            found[places, :-1] = factor(matrix)(right[places, :-1])
        else:
            for n in range(right.shape[1] - 1):
                found[places, n] = _iterated(matrix, right[places, n])
    found[:, -1] = np.where(free, 1 - found[:, :-1].sum(axis=1), 0.0)
    return found


def _banded(grid: Grid, right: Floats) -> Floats:
    """Solve by Cholesky factors within a band along the shorter axis."""
    long, short = grid.free.shape
    if short > long:
        order = np.arange(long * short).reshape(long, short).T.reshape(-1)
        found = np.empty_like(right)
        found[order] = _banded(grid.turned(), right[order])
        return found
    free = grid.free.reshape(-1)
    diagonals = list(grid.diagonals())
    band = np.zeros((free.size, max(step for step, _ in diagonals) + 1))
    band[:, 0] = ~free
    for step, c in diagonals:  # two of them fall on one where the mesh is one place wide
        last = free.size - step
        band[:last, step] += np.where(free[:last] & free[step:], c[:last], 0.0)
    _, answer, failed = dpbsv(band.T, right, lower=1, overwrite_ab=1)
    if failed:
        raise ArithmeticError("the matrix of a checked detail is positive definite")
    solution: Floats = answer
    return solution


def reduced(grid: Grid) -> sparse.csc_array:
    """Leave out the rows and columns of the places that are not solved.

    Parameters
    ----------
    grid : Grid
        Matrix of all places [any].

    Returns
    -------
    sparse array
        Matrix of the free places [any].
    """
    free = np.flatnonzero(grid.free)
    number = np.full(grid.free.size, -1)
    number[free] = np.arange(len(free))
    rows, columns, values = [], [], []
    for step, c in grid.diagonals():
        i = free[free < len(number) - step]
        kept = i[(number[i + step] >= 0) & (c[i] != 0)]
        rows.append(number[kept])
        columns.append(number[kept + step])
        values.append(c[kept])
        if step:
            rows.append(columns[-1])
            columns.append(rows[-2])
            values.append(values[-1])
    entries = np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))
    return sparse.coo_array(entries, shape=(len(free), len(free))).tocsc()


def _iterated(matrix: sparse.csc_array, right: Floats) -> Floats:
    """Solve by conjugate gradients on the matrix scaled to a diagonal of 1."""
    scale = 1 / np.sqrt(matrix.diagonal())
    scaled = sparse.csr_array(matrix)
    scaled.data = scaled.data * scale[scaled.indices] * np.repeat(scale, np.diff(scaled.indptr))
    found, _ = cg(scaled, right * scale, rtol=RESIDUAL, maxiter=ROUNDS)
    answer: Floats = found * scale
    return answer
