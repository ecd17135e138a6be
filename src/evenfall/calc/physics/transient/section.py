"""A roof cut into cells between its two airs, and several starts of it worked side by side."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from evenfall.calc.physics.transient.materials import STEPS, Array, Material
from evenfall.errors import InvalidInput
from evenfall.standards import en_15026, iso_13788


@dataclass(frozen=True, slots=True, eq=False)
class Slab:
    """A layer that holds heat and water.

    Parameters
    ----------
    name : str
        What it is [-].
    material : Material
        Its tables [-].
    cells : tuple of float
        Thickness of each cell from outside to inside [m].
    """

    name: str
    material: Material
    cells: tuple[float, ...]

    def __post_init__(self) -> None:
        """Refuse cells of no thickness."""
        if not self.cells or not all(0 < d < np.inf for d in self.cells):
            raise InvalidInput(f"cells {self.cells}", "thicknesses above 0", where=self.name)


@dataclass(frozen=True, slots=True)
class Sheet:
    """A layer that only resists: VCL, rubber, a still air space, the air at a surface.

    Parameters
    ----------
    name : str
        What it is [-].
    R : float
        Thermal resistance [m2K/W].
    s_d : float
        Equivalent air-layer thickness [m].
    """

    name: str
    R: float
    s_d: float

    def __post_init__(self) -> None:
        """Refuse negative and endless resistances."""
        if not (0 <= self.R < np.inf and 0 <= self.s_d < np.inf):
            raise InvalidInput(f"R {self.R}, s_d {self.s_d}", "0 or more", where=self.name)


def even(d: float, n: int) -> tuple[float, ...]:
    """Cut a layer into cells of one thickness.

    Parameters
    ----------
    d : float
        Thickness of the layer [m].
    n : int
        Number of cells [-].

    Returns
    -------
    tuple of float
        Thicknesses [m].

    Examples
    --------
    >>> even(0.02, 4)
    (0.005, 0.005, 0.005, 0.005)
    """
    return (d / n,) * n


@dataclass(slots=True, eq=False)
class Section:
    """The cells of a roof, with the tables of all materials one after another.

    Parameters
    ----------
    slabs : tuple of Slab
        Layers that hold, from outside to inside [-].
    between : tuple of tuple of Sheet
        Layers that resist: outside the first slab, between slabs, inside the last [-].
    """

    slabs: tuple[Slab, ...]
    between: tuple[tuple[Sheet, ...], ...]
    d: Array = field(init=False)
    R: Array = field(init=False)
    s_d: Array = field(init=False)
    tight: NDArray[np.bool_] = field(init=False)
    rows: NDArray[np.intp] = field(init=False)
    per_w: Array = field(init=False)
    heat: Array = field(init=False)
    conductivity: Array = field(init=False)
    slope: Array = field(init=False)
    tables: tuple[Array, ...] = field(init=False)

    def __post_init__(self) -> None:
        """Lay the cells out."""
        if len(self.between) != len(self.slabs) + 1 or not self.slabs:
            raise InvalidInput(f"{len(self.slabs)} slabs", "one, with sheets on both sides")
        counts = [len(s.cells) for s in self.slabs]
        materials = [s.material for s in self.slabs]
        self.d = np.concatenate([np.array(s.cells) for s in self.slabs])
        faces = np.cumsum([0, *counts])
        self.R, self.s_d = np.zeros(self.d.size + 1), np.zeros(self.d.size + 1)
        self.tight = np.zeros(self.d.size + 1, dtype=bool)
        for face, sheets in zip(faces, self.between, strict=True):
            self.R[face] = sum(a.R for a in sheets)
            self.s_d[face] = sum(a.s_d for a in sheets)
            self.tight[face] = bool(sheets)
        self.tight[[0, -1]] = True
        self.rows = np.repeat([i * (STEPS + 1) for i in range(len(counts))], counts)
        self.per_w = np.repeat([STEPS / m.w_top for m in materials], counts)
        self.heat = np.repeat([m.heat_capacity for m in materials], counts)
        self.conductivity = np.repeat([m.conductivity for m in materials], counts)
        self.slope = np.repeat([m.conductivity_slope for m in materials], counts)
        self.tables = tuple(np.concatenate(t) for t in zip(*map(_columns, materials), strict=True))

    def cells_of(self, name: str) -> slice:
        """Find the cells of a slab.

        Parameters
        ----------
        name : str
            The slab [-].

        Returns
        -------
        slice
            Its cells [-].
        """
        start = 0
        for slab in self.slabs:
            if slab.name == name:
                return slice(start, start + len(slab.cells))
            start += len(slab.cells)
        raise InvalidInput(name, "a slab of the section", where="section")

    def water_at(self, phi: float, theta: float) -> Array:
        """Give the water of each cell in equilibrium with air.

        Parameters
        ----------
        phi : float
            Relative humidity as a fraction, more than 0, at most 1 [-].
        theta : float
            Temperature [C].

        Returns
        -------
        array
            Water content of the cells [kg/m3].
        """
        if not 0 < phi <= 1:
            raise InvalidInput(f"humidity {phi}", "above 0, at most 1", where="section")
        kelvin = (theta + iso_13788.KELVIN) * np.log(phi)
        held = []
        for slab in self.slabs:
            grid = np.linspace(0.0, slab.material.w_top, STEPS + 1)
            held += [np.interp(kelvin, slab.material.kelvin, grid)] * len(slab.cells)
        return np.array(held)


def _columns(material: Material) -> tuple[Array, ...]:
    """Slope and start of each interval of ``kelvin``, resistance factor, liquid conductivity."""
    step = material.w_top / STEPS
    slope = np.append(np.diff(material.kelvin) / step, 0.0)
    start = material.kelvin - slope * np.arange(STEPS + 1) * step
    middle = np.append((material.ease[:-1] + material.ease[1:]) / 2, material.ease[-1])
    liquid = np.append((material.liquid[:-1] + material.liquid[1:]) / 2, material.liquid[-1])
    start[-1] = 0.0
    return slope, start, 1 / middle, liquid


def surface(name: str, R: float, transfer: float = en_15026.SURFACE_TRANSFER) -> Sheet:
    """Make the still air at a surface.

    Parameters
    ----------
    name : str
        Which surface [-].
    R : float
        Surface resistance [m2K/W].
    transfer : float
        Transfer of vapour [s/m].

    Returns
    -------
    Sheet
        Its resistances [m2K/W].

    Examples
    --------
    >>> surface("inside", 0.1)
    Sheet(name='inside', R=0.1, s_d=0.01)
    """
    return Sheet(name, R, float(iso_13788.DELTA_0) / transfer)


def starts(section: Section, waters: Sequence[Array]) -> Array:
    """Stack the water of several starts.

    Parameters
    ----------
    section : Section
        The roof [-].
    waters : sequence of array
        Water of each cell, one array for each start [kg/m3].

    Returns
    -------
    array
        A row for each start [kg/m3].
    """
    stacked = np.array(waters, dtype=float).reshape(len(waters), -1)
    if stacked.shape[1] != section.d.size or not np.all(stacked >= 0):
        raise InvalidInput("water of another shape or below 0", f"{section.d.size} cells of 0+")
    return stacked
