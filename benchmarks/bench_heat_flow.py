"""Edge details solved to 0.5 %: against scikit-fem at equal error, and against one factorisation.

The witness gets the same boxes, our grading of the lines, and the coarsest mesh on which its error
is no more than ours; it need not prove its error, nor look for the mesh. The bare factorisation is
that of the elements on our last mesh, in the fastest of the settings tried; ours holds the search
for the mesh, both bounds on each mesh of the way, surfaces and checks. Time is that of the
processor: all of it is one thread of numbers, and a busy machine would drown milliseconds.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from itertools import product
from typing import Any

import numpy as np
import skfem
from benchmarks.timing import Figure, measure
from scipy import sparse
from scipy.sparse.linalg import spsolve
from skfem.helpers import dot, grad

from evenfall.calc.physics.conduction import Box, Detail, Surround, elements, mesh, solve
from evenfall.calc.physics.conduction.kerb import Kerb, kerb_detail
from evenfall.calc.physics.conduction.linear import factor, reduced
from evenfall.calc.physics.conduction.points import Sheet

EQUAL_ERROR_GOAL = 0.1
"""At least ten times faster."""

FACTORISATION_GOAL = 3.0

MOST_NODES = 30_000
"""Of the witness; it is let off where it has not come as near as we are by then."""

LAYERS = (
    Sheet("plasterboard", 0.0125, 0.25),
    Sheet("void", 0.150, 0.9),
    Sheet("deck", 0.018, 0.13),
    Sheet("board", 0.120, 0.022),
)


def eaves() -> Detail:
    """A cavity wall under an eaves, wall head open."""
    out = ("outside", 0.0, 0.04)
    boxes = (
        ("brick", 0.77, (0.0, -1.0), (0.1, 0.0)),
        ("cavity", 0.28, (0.1, -1.0), (0.15, 0.0)),
        ("block", 0.5, (0.15, -1.0), (0.25, 0.0)),
        ("plaster", 0.25, (0.25, -1.0), (0.2625, -0.0125)),
        ("plasterboard", 0.25, (0.25, -0.0125), (1.5, 0.0)),
        ("void", 0.9, (0.25, 0.0), (1.5, 0.15)),
        ("joist end", 0.13, (0.15, 0.0), (0.25, 0.15)),
        ("plate", 0.13, (0.1, 0.0), (0.15, 0.15)),
        ("deck", 0.13, (-0.2, 0.15), (1.5, 0.168)),
        ("board", 0.022, (-0.05, 0.168), (1.5, 0.288)),
        ("edge timber", 0.13, (-0.1, 0.168), (-0.05, 0.288)),
        ("fascia", 0.13, (-0.2, -0.05), (-0.18, 0.15)),
    )
    airs = (
        ("inside", 20.0, 0.13, (0.2625, -1.0), (1.5, -0.0125)),
        (*out, (-1.0, -1.0), (-0.2, 0.4)),
        (*out, (-0.2, -1.0), (-0.18, -0.05)),
        (*out, (-0.18, -1.0), (0.0, 0.15)),
        (*out, (-0.2, 0.288), (1.5, 0.4)),
        (*out, (-0.2, 0.168), (-0.1, 0.288)),
        (*out, (0.0, 0.0), (0.1, 0.15)),
    )
    return Detail(
        tuple(Box(name, lower, upper, k) for name, k, lower, upper in boxes),
        tuple(Surround(name, lower, upper, t, R) for name, t, R, lower, upper in airs),
    )


def metal_edge() -> Detail:
    """Insulation in thin aluminium, as in the second case of ISO 10211."""
    boxes = (
        ("insulation", 0.029, (0.0, 0.0), (0.5, 0.0415)),
        ("concrete", 1.15, (0.0, 0.0415), (0.5, 0.0475)),
        ("wood", 0.12, (0.0, 0.0365), (0.015, 0.0415)),
        ("bottom", 230.0, (0.0, 0.0), (0.5, 0.0015)),
        ("web", 230.0, (0.0, 0.0), (0.0015, 0.0365)),
        ("lip", 230.0, (0.0, 0.035), (0.015, 0.0365)),
    )
    return Detail(
        tuple(Box(name, lower, upper, k) for name, k, lower, upper in boxes),
        (
            Surround("in", (0.0, -1.0), (0.5, 0.0), 20.0, 0.11),
            Surround("out", (0.0, 0.0475), (0.5, 1.0), 0.0, 0.06),
        ),
    )


def kerb() -> Detail:
    """A timber kerb that stands on the deck."""
    return kerb_detail(Kerb(LAYERS, 0.045, 0.13, 0.45, 3, 0.10, 0.13, 0.04), 1.0)


def witness(detail: Detail, lines: mesh.Lines) -> float:
    """Work out the heat of the warm airs with scikit-fem."""
    full = skfem.MeshQuad.init_tensor(*lines)
    middle = full.p[:, full.t].mean(axis=1)
    k = np.zeros(middle.shape[1])
    for box in detail.boxes:
        k[_inside(box, middle)] = box.conductivity
    solid = full.restrict(np.flatnonzero(k > 0))
    basis = skfem.Basis(solid, skfem.ElementQuad1())
    stiff = skfem.BilinearForm(lambda u, v, w: w.k * dot(grad(u), grad(v)))
    per_point = np.repeat(k[k > 0][:, None], basis.X.shape[-1], axis=1)
    matrix = stiff.assemble(basis, k=per_point)
    edge = solid.boundary_facets()
    where = solid.p[:, solid.facets[:, edge]].mean(axis=1)
    right, loads, warmest = np.zeros(matrix.shape[0]), [], max(detail.temperatures)
    for air in detail.surrounds:
        touched = edge[_inside(air, where)]
        if touched.size:
            mass, load = _film(solid, basis, touched)
            matrix = matrix + mass / air.resistance
            right += load * (air.temperature / air.resistance)
            loads.append((air.temperature, load / air.resistance))
    temperature = spsolve(matrix.tocsc(), right)
    return float(sum(f @ (t - temperature) for t, f in loads if t == warmest))


def _film(solid: Any, basis: Any, touched: np.ndarray) -> tuple[Any, np.ndarray]:
    """Integrate films by hand: the witness loses its digits in facets of long thin cells."""
    ends = solid.facets[:, touched]
    length = np.linalg.norm(solid.p[:, ends[0]] - solid.p[:, ends[1]], axis=0)
    a, b = basis.nodal_dofs[0][ends]
    values = np.r_[length / 3, length / 3, length / 6, length / 6]
    entries = values, (np.r_[a, b, a, b], np.r_[a, b, b, a])
    count = basis.N
    load = np.bincount(np.r_[a, b], np.r_[length, length] / 2, count)
    return sparse.coo_array(entries, shape=(count, count)).tocsr(), load


def _inside(part: Any, at: np.ndarray) -> np.ndarray:
    ends = zip(part.lower, part.upper, at, strict=True)
    inside: np.ndarray = np.all([(lo - 1e-9 < x) & (x < up + 1e-9) for lo, up, x in ends], axis=0)
    return inside


def equal_mesh(detail: Detail, error: float, exact: float) -> mesh.Lines:
    """Find the coarsest mesh on which the witness is as good as we are, or the finest tried."""
    tried = {}
    for cells, parts in product((4, 6, 8, 12), range(1, 7)):
        lines = mesh.graded(mesh.part_lines(detail), cells)
        lines = tuple(mesh.divided(x, np.full(len(x) - 1, parts)) for x in lines)
        tried[int(np.prod([len(x) for x in lines]))] = lines
    for size in sorted(n for n in tried if n <= MOST_NODES):
        best = tried[size]
        if abs(witness(detail, best) - exact) <= error:
            break
    return best


def figures() -> list[Figure]:
    """Measure each edge both ways."""
    found = []
    edges: dict[str, Callable[[], Detail]] = {
        "eaves": eaves, "kerb": kerb, "metal edge": metal_edge
    }  # fmt: skip
    for name, make in edges.items():
        detail = make()
        ours = solve(detail)
        exact = solve(detail, accuracy=3e-4).heat.best
        lines = equal_mesh(detail, abs(ours.heat.best - exact), exact)
        system = elements.assembled(detail, ours.mesh)
        matrix = reduced(system.grid)
        found.append(
            measure(
                f"{name}, 0.5 %, by scikit-fem at equal error",
                lambda d=detail: solve(d),
                lambda d=detail, at=lines: witness(d, at),
                EQUAL_ERROR_GOAL,
                clock=time.process_time,
            )
        )
        found.append(
            measure(
                f"{name}, 0.5 %, by one factorisation",
                lambda d=detail: solve(d),
                lambda m=matrix: factor(m),
                FACTORISATION_GOAL,
                clock=time.process_time,
            )
        )
    return found
