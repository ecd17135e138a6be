"""Bilinear (in three dimensions trilinear) elements on the mesh of the finite volumes.

Any temperature field that is continuous and keeps to the fixed temperatures gives, by Dirichlet's
principle, a conductance between the airs that is never below the true one; the elements find the
least of all fields that are linear along the lines of the mesh.
"""

from __future__ import annotations

from dataclasses import dataclass
from itertools import product

import numpy as np
from scipy import sparse

from evenfall.calc.physics.conduction.detail import Detail
from evenfall.calc.physics.conduction.linear import solve_all
from evenfall.calc.physics.conduction.mesh import (
    Bools,
    Faces,
    Floats,
    Ints,
    Mesh,
    area_of_faces,
)

Offset = tuple[int, ...]


@dataclass(frozen=True, slots=True)
class Elements:
    """Matrix of the nodes.

    Parameters
    ----------
    shape : tuple of int
        Nodes along each axis [-].
    matrix : sparse array
        Of all nodes; those that no solid touches have zeros [W/(m K)].
    sources : array
        Of each node from each air [W/(m K)].
    constant : array
        Conductance of all films of each air [W/(m K)].
    active : array
        Whether a solid touches a node [-].
    held : array
        Share of each air in a node that is held at its temperature, 0 if it is free [-].
    """

    shape: tuple[int, ...]
    matrix: sparse.dia_array
    sources: Floats
    constant: Floats
    active: Bools
    held: Floats

    @property
    def free(self) -> Bools:
        """Whether a node is to be solved [-]."""
        free: Bools = self.active & (self.held.sum(axis=1) == 0)
        return free

    def clash(self, temperatures: Floats) -> bool:
        """Tell whether a node is held at two temperatures at once."""
        both = self.held[np.count_nonzero(self.held, axis=1) > 1]
        held = np.where(both > 0, temperatures, np.nan)
        return bool(held.size and (np.nanmax(held, axis=1) > np.nanmin(held, axis=1)).any())

    def between(self, unit: Floats) -> Floats:
        """Work out the conductances between the airs from any fields, an upper bound."""
        cross = self.sources.T @ unit
        found: Floats = unit.T @ (self.matrix @ unit) - cross - cross.T + np.diag(self.constant)
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
    shape = tuple(len(x) for x in mesh.lines)
    count, n = int(np.prod(shape)), len(detail.names)
    stencil = {o: np.zeros(shape) for o in _offsets(len(shape))}
    _add_solids(mesh, stencil)
    sources, held, constant = np.zeros((count, n)), np.zeros((count, n)), np.zeros(n)
    for face in mesh.faces:
        corners = face_nodes(mesh, face)
        if face.resistance == 0:
            held[np.concatenate(corners), face.name] = 1.0
            continue
        g = face.area / face.resistance
        constant[face.name] += g.sum()
        _add_film(stencil, corners, g, shape)
        for nodes in corners:
            np.add.at(sources[:, face.name], nodes, g / len(corners))
    held /= np.maximum(held.sum(axis=1, keepdims=True), 1.0)
    active = np.zeros(shape, dtype=bool)
    for corner in _corners(len(shape)):
        active[_at(corner, shape)] |= mesh.solid
    return Elements(shape, _matrix(stencil, shape), sources, constant, active.ravel(), held)


def _corners(dimensions: int) -> list[Offset]:
    return list(product((0, 1), repeat=dimensions))


def _offsets(dimensions: int) -> list[Offset]:
    """List the neighbours of a node that come after it, itself first."""
    return [o for o in product((-1, 0, 1), repeat=dimensions) if o >= (0,) * dimensions]


def _at(corner: Offset, shape: tuple[int, ...]) -> tuple[slice, ...]:
    """Cut the nodes at one corner of all cells out of the nodes."""
    return tuple(slice(c, n - 1 + c) for c, n in zip(corner, shape, strict=True))


def _add_solids(mesh: Mesh, stencil: dict[Offset, Floats]) -> None:
    """Add the stiffness of the cells: slope along one axis, straight lines along the others."""
    dimensions = mesh.air.ndim
    along = [mesh.conductivity * area_of_faces(mesh, a) / mesh.widths[a] for a in range(dimensions)]
    value = {}
    for apart in _corners(dimensions):
        shares = [1 / 6 if a else 1 / 3 for a in apart]
        value[apart] = sum(
            w * ((-1.0 if apart[axis] else 1.0) * np.prod(shares) / shares[axis])
            for axis, w in enumerate(along)
        )
    for a, b in product(_corners(dimensions), repeat=2):
        offset = tuple(j - i for i, j in zip(a, b, strict=True))
        if offset in stencil:
            stencil[offset][_at(a, mesh_nodes(mesh))] += value[tuple(abs(o) for o in offset)]


def _add_film(
    stencil: dict[Offset, Floats], corners: list[Ints], g: Floats, shape: tuple[int, ...]
) -> None:
    """Add the films of some faces, of a temperature that is straight along their edges."""
    places = [np.array(np.unravel_index(c[0], shape)) for c in corners]
    for (i, a), (_, b) in product(enumerate(places), repeat=2):
        offset = tuple(int(x) for x in b - a)
        if offset in stencil:
            share = np.prod([1 / 6 if o else 1 / 3 for o in offset]) * 3  # none across the face
            np.add.at(stencil[offset].reshape(-1), corners[i], g * share)


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
    found = []
    for corner in _corners(len(shape)):
        if corner[face.axis] == face.forward:
            places = tuple(c + o for c, o in zip(face.cells, corner, strict=True))
            found.append(np.ravel_multi_index(places, shape))
    return found


def _matrix(stencil: dict[Offset, Floats], shape: tuple[int, ...]) -> sparse.dia_array:
    """Put the upper half on diagonals, and its mirror below."""
    strides = [int(np.prod(shape[a + 1 :])) for a in range(len(shape))]
    data, offsets = [], []
    for offset, c in stencil.items():
        step = sum(o * s for o, s in zip(offset, strides, strict=True))
        upper = np.zeros(c.size)
        upper[step:] = c.reshape(-1)[: c.size - step]
        data.append(upper)
        offsets.append(step)
        if step:
            data.append(c.reshape(-1))
            offsets.append(-step)
    return sparse.dia_array((np.array(data), offsets), shape=(data[0].size, data[0].size))


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
    free = np.flatnonzero(system.free)
    unit = system.held.copy()
    right = system.sources - system.matrix @ system.held
    inner = reduced(system)
    unit[free] = solve_all(inner, right[free], len(system.shape))
    return unit


def reduced(system: Elements) -> sparse.csc_array:
    """Leave out the rows and columns of the nodes that are held or that no solid touches.

    Parameters
    ----------
    system : Elements
        Matrix of the nodes [-].

    Returns
    -------
    sparse array
        Matrix of the free nodes [W/(m K)].
    """
    free = np.flatnonzero(system.free)
    number = np.full(len(system.active), -1)
    number[free] = np.arange(len(free))
    rows, columns, values = [], [], []
    for step, c in zip(system.matrix.offsets.tolist(), system.matrix.data, strict=True):
        if step >= 0:
            i = free[free < len(number) - step]
            kept = i[(number[i + step] >= 0) & (c[i + step] != 0)]
            rows.append(number[kept])
            columns.append(number[kept + step])
            values.append(c[kept + step])
            if step:
                rows.append(columns[-1])
                columns.append(rows[-2])
                values.append(values[-1])
    entries = np.concatenate(values), (np.concatenate(rows), np.concatenate(columns))
    return sparse.coo_array(entries, shape=(len(free), len(free))).tocsc()
