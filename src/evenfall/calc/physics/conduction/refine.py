"""Where to divide a mesh."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from evenfall.calc.physics.conduction.finite_volume import flux_density
from evenfall.calc.physics.conduction.mesh import Floats, Ints, Lines, divided, sides

if TYPE_CHECKING:
    from evenfall.calc.physics.conduction.solve import Solution

MOST_PARTS = 6
"""Parts of a gap in one round: beyond that the estimate from the coarser mesh is not to be relied
on."""

LEAST_SHARE = 1e-3
"""Added to all shares, so that even a gap that adds nothing is divided at last."""

REACH = 1.2
"""How much further each try reaches: a coarse step costs cells, a fine one only time."""

TRIES = 40
"""Reaches looked at; at the last, every gap that counts is in the most parts."""

MARGIN = 1.2
"""How much more than the wanted gain is aimed at, because corners gain less than smooth parts."""


def finer(solution: Solution, gain: float) -> Lines:
    """Divide the lines of a mesh where the flows bend most, to narrow the bracket by a factor.

    The share of a gap in the width of the bracket falls with the square of its parts; for a given
    gain the fewest lines are those with parts in proportion to the cube root of the shares.

    Parameters
    ----------
    solution : Solution
        Answer on the mesh to divide [-].
    gain : float
        Wanted narrowing of the bracket [-].

    Returns
    -------
    tuple of array
        Lines along each axis, with at least twice the cells between them [m].
    """
    shares = _shares(solution)
    total = sum(float(s.sum()) for s in shares)
    cells = np.prod([s.size for s in shares])
    reach: Floats = REACH ** np.arange(TRIES, dtype=float)
    parts = [_parts(s, total, reach) for s in shares]
    left = sum((s / p**2).sum(axis=1) for s, p in zip(shares, parts, strict=True))
    finer_cells = np.prod([p.sum(axis=1) for p in parts], axis=0)
    enough = (left * gain * MARGIN <= total) & (finer_cells >= 2 * cells)
    first = int(np.argmax(enough)) if enough.any() else TRIES - 1
    return tuple(divided(x, p[first]) for x, p in zip(solution.lines, parts, strict=True))


def _parts(share: Floats, total: float, reach: Floats) -> Ints:
    """Work out the parts of each gap, a row for each reach."""
    root = np.cbrt(LEAST_SHARE + (share / total * share.size if total > 0 else np.ones_like(share)))
    return np.minimum(np.maximum(np.rint(root * reach[:, None]), 1), MOST_PARTS).astype(np.intp)


def _shares(solution: Solution) -> list[Floats]:
    """Estimate what each gap of each axis adds to the width of the bracket."""
    mesh = solution.mesh
    dimensions = mesh.air.ndim
    volume = np.ones([1] * dimensions)
    for width in mesh.widths:
        volume = volume * width
    slopes = [_slopes(solution, axis) for axis in range(dimensions)]
    found = []
    for axis in range(dimensions):
        before, after = slopes[axis]
        bend = (after - before) ** 2
        low, high = sides(axis, dimensions)
        both = mesh.solid[low] & mesh.solid[high]
        for other in range(dimensions):
            if other != axis:
                mean = (slopes[other][0] + slopes[other][1]) / 2
                step = np.where(both, (mean[high] - mean[low]) ** 2, 0.0) / 2
                bend[low] += step
                bend[high] += step
        rest = tuple(a for a in range(dimensions) if a != axis)
        found.append((bend * mesh.conductivity * volume).sum(axis=rest))
    return found


def _slopes(solution: Solution, axis: int) -> tuple[Floats, Floats]:
    """Slope of the temperature at both faces of each cell, from the flows through them."""
    mesh = solution.mesh
    flux = flux_density(solution.detail, mesh, solution.cell_temperature, axis)
    low, high = sides(axis, flux.ndim)
    k = np.where(mesh.solid, mesh.conductivity, 1.0)
    return -flux[low] / k, -flux[high] / k
