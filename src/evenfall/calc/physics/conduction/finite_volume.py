"""Finite volumes: one temperature to a cell, harmonic means between cells.

The flows through the faces of the cells are kept exactly in balance. By Thomson's principle the
heat that such flows give up for a given total is never less than that of the true ones, and the
sum over cells here (which counts each half cell with the flow of its face) is not less than their
own: so the conductance between the airs is never above the true one, on any mesh.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from evenfall.calc.physics.conduction.detail import Detail
from evenfall.calc.physics.conduction.linear import Grid, solve_all
from evenfall.calc.physics.conduction.mesh import Floats, Mesh, area_of_faces, sides


@dataclass(frozen=True, slots=True)
class Volumes:
    """Network of the cells.

    Parameters
    ----------
    grid : Grid
        Conductances between the cells, films on the diagonal [W/(m K)].
    films : array
        Conductance of each cell of the mesh to each air [W/(m K)].
    """

    grid: Grid
    films: Floats


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
        Network and films; in three dimensions in W/K [W/(m K)].
    """
    shape, solid, dimensions = mesh.air.shape, mesh.solid, mesh.air.ndim
    laid = np.zeros((*shape, len(detail.names)))
    for face in mesh.faces:
        half = face.width / 2 / mesh.conductivity[face.cells]
        laid[(*face.cells, face.name)] += face.area / (face.resistance + half)
    diagonal = laid.sum(axis=-1)
    stencil = {(0,) * dimensions: diagonal}
    resistivity = 1 / np.where(solid, mesh.conductivity, np.inf) + np.where(solid, 0.0, np.inf)
    for axis in range(dimensions):
        low, high = sides(axis, dimensions)
        half = mesh.widths[axis] / 2 * resistivity
        area = np.broadcast_to(area_of_faces(mesh, axis), shape)
        g = np.zeros(shape)
        g[low] = area[low] / (half[low] + half[high])  # 0 beside what is not solved
        diagonal += g
        diagonal[high] += g[low]
        stencil[tuple(int(a == axis) for a in range(dimensions))] = -g
    return Volumes(Grid(stencil, solid), laid.reshape(-1, laid.shape[-1]))


def solved(volumes: Volumes) -> tuple[Floats, Floats]:
    """Solve for each air at 1 and the others at 0.

    Parameters
    ----------
    volumes : Volumes
        Network of the cells [-].

    Returns
    -------
    tuple of array
        Conductances between the airs, a lower bound [W/(m K)], and temperature of the cells for
        each air, 0 where there is no solid [-].
    """
    films = volumes.films
    unit = solve_all(volumes.grid, films)
    between = np.diag(films.sum(axis=0)) - films.T @ unit
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
    airs = np.array(detail.temperatures)
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
            given = airs[face.name] - temperature[face.cells]
            density = given / (face.resistance + half[face.cells])
            at = tuple(c + (face.forward if a == axis else 0) for a, c in enumerate(face.cells))
            flux[at] = -density if face.forward else density
    return flux
