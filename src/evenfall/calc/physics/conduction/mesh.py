"""Rectilinear mesh: its lines, what lies in each cell, and what cannot be solved."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cached_property

import numpy as np
from numpy.typing import NDArray
from scipy import ndimage

from evenfall.calc.physics.conduction.detail import SAME, Detail, Part
from evenfall.errors import InvalidInput

Floats = NDArray[np.float64]
Ints = NDArray[np.intp]
Bools = NDArray[np.bool_]
Lines = tuple[Floats, ...]

GROWTH = 2.0
"""A cell of the first mesh is at most this many times its neighbour nearer to a corner."""


@dataclass(frozen=True, slots=True)
class Faces:
    """Faces of solid cells with airs, all across one axis and looking one way.

    No cell has two of them, and no node is the same corner of two of them.

    Parameters
    ----------
    name : array
        Number of the name of the air of each face [-].
    resistance : array
        Surface resistance of each face [m2K/W].
    axis : int
        Axis that the faces are across [-].
    forward : bool
        Whether the air lies after the cell [-].
    cells : tuple of array
        Place of each solid cell along each axis [-].
    area : array
        Area of each face [m2].
    width : array
        Width of each cell across the face [m].
    """

    name: Ints
    resistance: Floats
    axis: int
    forward: bool
    cells: tuple[Ints, ...]
    area: Floats
    width: Floats


@dataclass(frozen=True)
class Mesh:
    """Lines along each axis and what lies between them.

    Parameters
    ----------
    lines : tuple of array
        Lines along each axis, rising [m].
    conductivity : array
        Of each cell, 0 where nothing is solved [W/(m K)].
    air : array
        Index of the surround in each cell, -1 where there is none [-].
    faces : tuple of Faces
        Faces that solids share with airs [-].
    """

    lines: Lines
    conductivity: Floats
    air: Ints
    faces: tuple[Faces, ...] = ()

    @cached_property
    def solid(self) -> Bools:
        """Whether a cell is solved [-]."""
        return self.conductivity > 0

    @cached_property
    def widths(self) -> Lines:
        """Width of the cells along each axis, shaped to broadcast over the mesh [m]."""
        n = len(self.lines)
        return tuple(
            np.diff(x).reshape([-1 if a == axis else 1 for a in range(n)])
            for axis, x in enumerate(self.lines)
        )


def part_lines(detail: Detail) -> Lines:
    """Collect the lines on which parts begin and end.

    Parameters
    ----------
    detail : Detail
        Boxes and airs [-].

    Returns
    -------
    tuple of array
        Lines along each axis, those nearer than noise made one [m].

    Examples
    --------
    >>> from evenfall.calc.physics.conduction.detail import Box, Surround
    >>> board = Box("board", (0.0, 0.0), (1.0, 0.1 + 0.2), 0.022)
    >>> air = Surround("air", (0.0, 0.3), (1.0, 1.0), 0.0, 0.04)
    >>> part_lines(Detail((board,), (air,)))[1].tolist()
    [0.0, 0.3, 1.0]
    """
    parts: list[Part] = [*detail.boxes, *detail.surrounds]
    found = []
    for axis in range(detail.dimensions):
        x = np.unique([p.lower[axis] for p in parts] + [p.upper[axis] for p in parts])
        found.append(x[np.r_[True, np.diff(x) > SAME]])
    return tuple(found)


def graded(lines: Lines, cells: int) -> Lines:
    """Divide each gap into cells that grow away from its ends.

    Parameters
    ----------
    lines : tuple of array
        Lines along each axis [m].
    cells : int
        Cells in each gap [-].

    Returns
    -------
    tuple of array
        Lines along each axis [m].

    Examples
    --------
    >>> import numpy as np
    >>> graded((np.array([0.0, 6.0]),), 4)[0].tolist()
    [0.0, 1.0, 3.0, 5.0, 6.0]
    """
    size = GROWTH ** np.minimum(np.arange(cells), np.arange(cells)[::-1])
    share = np.r_[0.0, np.cumsum(size) / size.sum()][:-1]
    return tuple(np.r_[(x[:-1, None] + np.diff(x)[:, None] * share).ravel(), x[-1]] for x in lines)


def divided(line: Floats, parts: Ints) -> Floats:
    """Divide each gap of a line into equal parts.

    Parameters
    ----------
    line : array
        Lines along one axis [m].
    parts : array
        Parts of each gap [-].

    Returns
    -------
    array
        Finer lines along the axis [m].

    Examples
    --------
    >>> import numpy as np
    >>> divided(np.array([0.0, 1.0, 3.0]), np.array([1, 2])).tolist()
    [0.0, 1.0, 2.0, 3.0]
    """
    start = np.repeat(np.cumsum(parts) - parts, parts)
    share = (np.arange(parts.sum()) - start) / np.repeat(parts, parts)
    fine = np.repeat(line[:-1], parts) + np.repeat(np.diff(line), parts) * share
    closed: Floats = np.r_[fine, line[-1]]
    return closed


def painted(detail: Detail, lines: Lines) -> Mesh:
    """Say what lies in each cell.

    Parameters
    ----------
    detail : Detail
        Boxes and airs [-].
    lines : tuple of array
        Lines along each axis, those of the parts among them [m].

    Returns
    -------
    Mesh
        Lines, conductivities and airs of the cells [-].
    """
    bare = _laid(detail, lines)
    return Mesh(lines, bare.conductivity, bare.air, tuple(_faces(detail, bare)))


def _laid(detail: Detail, lines: Lines) -> Mesh:
    """Lay the boxes and airs into the cells; faces are not looked for."""
    shape = tuple(len(x) - 1 for x in lines)
    conductivity, air = np.zeros(shape), np.full(shape, -1)
    boxes = len(detail.boxes)
    cells = _cells(lines, (*detail.boxes, *detail.surrounds))
    for box, place in zip(detail.boxes, cells[:boxes], strict=True):
        conductivity[place] = box.conductivity
    for n, place in enumerate(cells[boxes:]):
        air[place] = n
    return Mesh(lines, conductivity, air)


def _cells(lines: Lines, parts: tuple[Part, ...]) -> list[tuple[slice, ...]]:
    """Find the cells of each part."""
    found = []
    for axis, x in enumerate(lines):
        ends = np.array([(p.lower[axis], p.upper[axis]) for p in parts]) - SAME
        found.append([slice(a, b) for a, b in np.searchsorted(x, ends).tolist()])
    return list(zip(*found, strict=True))


def check(detail: Detail) -> None:
    """Refuse a detail with a part that is hidden, cut off or touches nothing.

    Parameters
    ----------
    detail : Detail
        Boxes and airs [-].

    Raises
    ------
    InvalidInput
        If a box is wholly covered by later ones, if a box can give its heat to no air, or if an
        air touches no solid.
    """
    lines = part_lines(detail)
    mesh = _laid(detail, lines)
    owner = np.full(mesh.air.shape, -1)
    for n, place in enumerate(_cells(lines, detail.boxes)):
        owner[place] = n
    for n, box in enumerate(detail.boxes):
        if not (owner == n).any():
            raise InvalidInput(
                "wholly covered by later boxes",
                "a part that is seen",
                where=box.name,
                do="leave it out, or put it after the box that covers it",
            )
    touched, warm = _touched(mesh)
    for n, air in enumerate(detail.surrounds):
        if n not in touched:
            raise InvalidInput("touches no solid", "a shared face", where=air.name)
    for n, box in enumerate(detail.boxes):
        if not warm[owner == n].all():
            raise InvalidInput(
                "has a part cut off from every air", "a way for its heat", where=box.name
            )


def _touched(mesh: Mesh) -> tuple[set[int], Bools]:
    """Find the airs that touch a solid, and the cells that hang together with such a face."""
    labels, _ = ndimage.label(mesh.solid)
    airs: set[int] = set()
    groups: set[int] = set()
    for axis in range(mesh.air.ndim):
        label, air = np.moveaxis(labels, axis, 0), np.moveaxis(mesh.air, axis, 0)
        for a, b in ((slice(1, None), slice(None, -1)), (slice(None, -1), slice(1, None))):
            face = (label[a] > 0) & (air[b] >= 0)
            airs |= set(air[b][face].tolist())
            groups |= set(label[a][face].tolist())
    return airs, np.isin(labels, list(groups))


def area_of_faces(mesh: Mesh, axis: int) -> Floats:
    """Work out the area of the faces of each cell across an axis.

    Parameters
    ----------
    mesh : Mesh
        Mesh of the cells [-].
    axis : int
        Axis that the faces are across [-].

    Returns
    -------
    array
        Areas, in two dimensions for 1 m of length, to broadcast over the mesh [m2].
    """
    area: Floats = np.ones([1] * mesh.air.ndim)
    for other, width in enumerate(mesh.widths):
        if other != axis:
            area = area * width
    return area


def sides(axis: int, dimensions: int) -> tuple[tuple[slice, ...], tuple[slice, ...]]:
    """Cut out the cells before and after each line across an axis.

    Parameters
    ----------
    axis : int
        Axis that the lines are across [-].
    dimensions : int
        Axes of the mesh [-].

    Returns
    -------
    tuple of tuple of slice
        All cells but the last, and all but the first [-].

    Examples
    --------
    >>> sides(0, 1)
    ((slice(None, -1, None),), (slice(1, None, None),))
    """
    before = [slice(None)] * axis
    after = [slice(None)] * (dimensions - axis - 1)
    return (*before, slice(None, -1), *after), (*before, slice(1, None), *after)


def _faces(detail: Detail, mesh: Mesh) -> Iterator[Faces]:
    """Find the faces that solids share with airs, those that look one way at a time."""
    names = detail.names
    name = np.array([names.index(air.name) for air in detail.surrounds])
    resistance = np.array([air.resistance for air in detail.surrounds])
    shape = mesh.air.shape
    for axis in range(len(shape)):
        low, high = sides(axis, len(shape))
        area = np.broadcast_to(area_of_faces(mesh, axis), shape)
        width = np.diff(mesh.lines[axis])
        for forward, cell, other in ((True, low, high), (False, high, low)):
            air = mesh.air[other]
            places = list(np.nonzero(mesh.solid[cell] & (air >= 0)))
            if not len(places[0]):
                continue
            n = air[tuple(places)]
            places[axis] = places[axis] + (0 if forward else 1)
            cells = tuple(places)
            yield Faces(
                name[n], resistance[n], axis, forward, cells, area[cells], width[cells[axis]]
            )
