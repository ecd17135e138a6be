"""Bilinear (in three dimensions trilinear) elements on the mesh of the finite volumes.

Any temperature field that is continuous and keeps to the fixed temperatures gives, by Dirichlet's
principle, a conductance between the airs that is never below the true one; the elements find the
least of all fields that are linear along the lines of the mesh.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from itertools import product
from math import prod

import numpy as np

from evenfall.calc.physics.conduction.detail import Detail
from evenfall.calc.physics.conduction.linear import Grid, Offset, solve_all
from evenfall.calc.physics.conduction.mesh import (
    Bools,
    Faces,
    Floats,
    Ints,
    Mesh,
    area_of_faces,
)


@dataclass(frozen=True, slots=True)
class Elements:
    """Matrix of the nodes.

    Parameters
    ----------
    grid : Grid
        Of all nodes; those that no solid touches have zeros, those held are not free [W/(m K)].
    sources : array
        Of each node from each air [W/(m K)].
    constant : array
        Conductance of all films of each air [W/(m K)].
    active : array
        Whether a solid touches a node [-].
    held : array
        Share of each air in a node that is held at its temperature, 0 if it is free [-].
    """

    grid: Grid
    sources: Floats
    constant: Floats
    active: Bools
    held: Floats

    @property
    def shape(self) -> tuple[int, ...]:
        """Nodes along each axis [-]."""
        return self.grid.free.shape

    def clash(self, temperatures: Floats) -> bool:
        """Tell whether a node is held at two temperatures at once."""
        both = self.held[np.count_nonzero(self.held, axis=1) > 1]
        held = np.where(both > 0, temperatures, np.nan)
        return bool(held.size and (np.nanmax(held, axis=1) > np.nanmin(held, axis=1)).any())

    def between(self, unit: Floats) -> Floats:
        """Work out the conductances between the airs from any fields, an upper bound."""
        cross = self.sources.T @ unit
        found: Floats = unit.T @ self.grid.times(unit) - cross - cross.T + np.diag(self.constant)
        return found


def assembled(detail: Detail, mesh: Mesh) -> Elements:
    """Assemble the matrix of the nodes.

    Parameters
    ----------
    detail : Detail
        Boxes and airs [-].
    mesh : Mesh
        Mesh painted with the detail [-].

    Returns
    -------
    Elements
        Matrix and sources; in three dimensions in W/K [W/(m K)].
    """
    shape = mesh_nodes(mesh)
    count, n = prod(shape), len(detail.names)
    stencil = {o: np.zeros(shape) for o in _offsets(len(shape))}
    _add_solids(mesh, stencil)
    sources, held, constant = np.zeros((count, n)), np.zeros((count, n)), np.zeros(n)
    for face in mesh.faces:
        corners = face_nodes(mesh, face)
        fixed = face.resistance == 0
        if fixed.any():
            for nodes in corners:
                held[nodes[fixed], face.name[fixed]] = 1.0
        g = np.where(fixed, 0.0, face.area / np.where(fixed, 1.0, face.resistance))
        constant += np.bincount(face.name, g, n)
        _add_film(stencil, corners, face.axis, g)
        for nodes in corners:
            sources[nodes, face.name] += g / len(corners)
    held /= np.maximum(held.sum(axis=1, keepdims=True), 1.0)
    active = np.zeros(shape, dtype=bool)
    for corner in _corners(len(shape)):
        active[_at(corner, shape)] |= mesh.solid
    free = active & ~held.any(axis=1).reshape(shape)
    return Elements(Grid(stencil, free), sources, constant, active.reshape(-1), held)


@cache
def _corners(dimensions: int) -> list[Offset]:
    return list(product((0, 1), repeat=dimensions))


@cache
def _offsets(dimensions: int) -> list[Offset]:
    """List the neighbours of a node that come after it, itself first."""
    return [o for o in product((-1, 0, 1), repeat=dimensions) if o >= (0,) * dimensions]


@cache
def _pairs(dimensions: int) -> list[tuple[Offset, Offset, Offset]]:
    """List the pairs of corners of a cell of which the second comes after, and how far."""
    found = []
    for a, b in product(_corners(dimensions), repeat=2):
        offset = tuple(j - i for i, j in zip(a, b, strict=True))
        if offset >= (0,) * dimensions:
            found.append((a, b, offset))
    return found


def _at(corner: Offset, shape: tuple[int, ...]) -> tuple[slice, ...]:
    """Cut the nodes at one corner of all cells out of the nodes."""
    return tuple(slice(c, n - 1 + c) for c, n in zip(corner, shape, strict=True))


def _add_solids(mesh: Mesh, stencil: dict[Offset, Floats]) -> None:
    """Add the stiffness of the cells: slope along one axis, straight lines along the others."""
    dimensions, shape = mesh.air.ndim, mesh_nodes(mesh)
    along = [mesh.conductivity * (area_of_faces(mesh, a) / mesh.widths[a])
             for a in range(dimensions)]  # fmt: skip
    value = {}
    for apart in _corners(dimensions):
        shares = [1 / 6 if a else 1 / 3 for a in apart]
        value[apart] = sum(
            w * ((-1.0 if apart[axis] else 1.0) * prod(shares) / shares[axis])
            for axis, w in enumerate(along)
        )
    for a, _, offset in _pairs(dimensions):
        stencil[offset][_at(a, shape)] += value[tuple(abs(o) for o in offset)]


def _add_film(stencil: dict[Offset, Floats], corners: list[Ints], axis: int, g: Floats) -> None:
    """Add the films of some faces, of a temperature that is straight along their edges."""
    dimensions = len(next(iter(stencil)))
    places = [c for c in _corners(dimensions) if c[axis] == 0]
    number = dict(zip(places, corners, strict=True))
    for a, b, offset in _pairs(dimensions):
        if a in number and b in number:
            share = prod(1 / 6 if o else 1 / 3 for o in offset) * 3  # none across the face
            stencil[offset].reshape(-1)[number[a]] += g * share


def mesh_nodes(mesh: Mesh) -> tuple[int, ...]:
    """Count the nodes along each axis.

    Parameters
    ----------
    mesh : Mesh
        Mesh of the cells [-].

    Returns
    -------
    tuple of int
        Nodes along each axis [-].
    """
    return tuple(len(x) for x in mesh.lines)


def face_nodes(mesh: Mesh, face: Faces) -> list[Ints]:
    """Find the number of the node at each corner of some faces.

    Parameters
    ----------
    mesh : Mesh
        Mesh of the cells [-].
    face : Faces
        Faces across one axis [-].

    Returns
    -------
    list of array
        Number of the node of each face, for each corner of a face [-].
    """
    shape = mesh_nodes(mesh)
    strides = [prod(shape[a + 1 :]) for a in range(len(shape))]
    first = np.asarray(sum(c * s for c, s in zip(face.cells, strides, strict=True)))
    return [
        first + sum(o * s for o, s in zip(corner, strides, strict=True))
        for corner in _corners(len(shape))
        if corner[face.axis] == face.forward
    ]


def solved(system: Elements) -> Floats:
    """Solve for each air at 1 and the others at 0.

    Parameters
    ----------
    system : Elements
        Matrix of the nodes [-].

    Returns
    -------
    array
        Temperature of the nodes for each air [-].
    """
    held = system.held
    if not held.any():
        return solve_all(system.grid, system.sources)
    found = solve_all(system.grid, system.sources - system.grid.times(held))
    return np.where(system.grid.free.reshape(-1, 1), found, held)
