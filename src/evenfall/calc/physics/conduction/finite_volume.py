"""Finite volumes: one temperature to a cell, harmonic means between cells.

The flows through the faces of the cells are kept exactly in balance. By Thomson's principle the
heat that such flows give up for a given total is never less than that of the true ones, and the
sum over cells here (which counts each half cell with the flow of its face) is not less than their
own: so the conductance between the airs is never above the true one, on any mesh.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from scipy import sparse

from evenfall.calc.physics.conduction.detail import Detail
from evenfall.calc.physics.conduction.linear import solve_all
from evenfall.calc.physics.conduction.mesh import (
    Floats,
    Ints,
    Mesh,
    area_of_faces,
    sides,
)


@dataclass(frozen=True, slots=True)
class Volumes:
    """Network of the cells.

    Parameters
    ----------
    mesh : Mesh
        Mesh of the cells [-].
    index : array
        Number of each solid cell, -1 elsewhere [-].
    matrix : sparse array
        Conductances between the cells, films on the diagonal [W/(m K)].
    films : array
        Conductance of each solid cell to each air [W/(m K)].
    """

    mesh: Mesh
    index: Ints
    matrix: sparse.csc_array
    films: Floats

    def field(self, values: Floats) -> Floats:
        """Lay the values of the solid cells out over the mesh, 0 elsewhere."""
        laid = np.zeros(self.index.shape)
        laid[self.mesh.solid] = values
        return laid


def network(detail: Detail, mesh: Mesh) -> Volumes:
    """Assemble the conductances between the cells and to the airs.

    Parameters
    ----------
    detail : Detail
        Boxes and airs [-].
    mesh : Mesh
        Mesh painted with the detail [-].

    Returns
    -------
    Volumes
        Matrix and films; in three dimensions in W/K [W/(m K)].
    """
    index = np.full(mesh.air.shape, -1)
    count = int(mesh.solid.sum())
    index[mesh.solid] = np.arange(count)
    films = np.zeros((count, len(detail.names)))
    for face in mesh.faces:
        half = face.width / 2 / mesh.conductivity[face.cells]
        np.add.at(films[:, face.name], index[face.cells], face.area / (face.resistance + half))
    rows, columns, values = [], [], []
    for axis in range(mesh.air.ndim):
        i, j, g = _between(mesh, index, axis)
        rows.append(i)
        columns.append(j)
        values.append(g)
    i, j, g = np.concatenate(rows), np.concatenate(columns), np.concatenate(values)
    diagonal = films.sum(axis=1) + np.bincount(i, g, count) + np.bincount(j, g, count)
    own = np.arange(count)
    matrix = sparse.coo_array(
        (np.r_[diagonal, -g, -g], (np.r_[own, i, j], np.r_[own, j, i])), (count, count)
    ).tocsc()
    return Volumes(mesh, index, matrix, films)


def _between(mesh: Mesh, index: Ints, axis: int) -> tuple[Ints, Ints, Floats]:
    """Find the pairs of solid cells that share a face across an axis, and their conductance."""
    low, high = sides(axis, mesh.air.ndim)
    half = np.divide(
        mesh.widths[axis] / 2, mesh.conductivity, out=np.ones(index.shape), where=mesh.solid
    )
    both = mesh.solid[low] & mesh.solid[high]
    g = np.broadcast_to(area_of_faces(mesh, axis), index.shape)[low] / (half[low] + half[high])
    return index[low][both], index[high][both], g[both]


def solved(volumes: Volumes) -> tuple[Floats, Floats]:
    """Solve for each air at 1 and the others at 0.

    Parameters
    ----------
    volumes : Volumes
        Network of the cells [-].

    Returns
    -------
    tuple of array
        Conductances between the airs, a lower bound [W/(m K)], and temperature of the solid cells
        for each air [-].
    """
    unit = solve_all(volumes.matrix, volumes.films, volumes.mesh.air.ndim)
    between = np.diag(volumes.films.sum(axis=0)) - volumes.films.T @ unit
    return (between + between.T) / 2, unit


def flux_density(detail: Detail, mesh: Mesh, temperature: Floats, axis: int) -> Floats:
    """Work out the density of the heat flow through the lines across an axis.

    Parameters
    ----------
    detail : Detail
        Boxes and airs [-].
    mesh : Mesh
        Mesh painted with the detail [-].
    temperature : array
        Temperature of each cell [C].
    axis : int
        Axis along which the heat flows [-].

    Returns
    -------
    array
        Positive along the axis, for each line of each row of cells [W/m2].
    """
    half = np.divide(
        mesh.widths[axis] / 2, mesh.conductivity, out=np.ones(mesh.air.shape), where=mesh.solid
    )
    low, high = sides(axis, mesh.air.ndim)
    flux = np.zeros(tuple(n + (a == axis) for a, n in enumerate(mesh.air.shape)))
    inner = tuple(slice(1, -1) if a == axis else slice(None) for a in range(mesh.air.ndim))
    flux[inner] = np.where(
        mesh.solid[low] & mesh.solid[high],
        (temperature[low] - temperature[high]) / (half[low] + half[high]),
        0.0,
    )
    for face in mesh.faces:
        if face.axis == axis:
            given = detail.temperatures[face.name] - temperature[face.cells]
            density = given / (face.resistance + half[face.cells])
            at = tuple(c + (face.forward if a == axis else 0) for a, c in enumerate(face.cells))
            flux[at] = -density if face.forward else density
    return flux
