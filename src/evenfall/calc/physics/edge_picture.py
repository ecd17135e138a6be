"""What is drawn of a solved edge: its parts, lines of one temperature, and how the heat goes."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import lru_cache

import numpy as np
import shapely
from numpy.typing import NDArray

from evenfall.calc.physics.conduction import Solution
from evenfall.calc.physics.details import Edge, Films, Roof
from evenfall.calc.physics.edge_values import solved

Point = tuple[float, float]
Lines = tuple[tuple[Point, ...], ...]
Floats = NDArray[np.float64]

WIDE = 0.9  # every picture is as wide as this, so that all have one scale [m]
ABOVE = 0.28  # most that is shown above the finished surface [m]
BELOW = 0.18  # below the plane seen from the room [m]
BESIDE = 0.06  # outside the outermost part [m]
OVER = 0.09  # above the highest part, or the surface [m]
APART = 0.085  # distance of two arrows of heat flow [m]
JOIN = 1e-7  # ends of lines nearer than this are one [m]
KEPT = 512  # pictures kept in memory: a page drawn again solves nothing


@dataclass(frozen=True, slots=True)
class Picture:
    """What is drawn of an edge, cut to a window.

    Parameters
    ----------
    window : tuple of float
        Least and greatest x, least and greatest z [m].
    parts : tuple
        Name, lower and upper corner of each part [m].
    isotherms : tuple
        For each share that was asked, its lines [m].
    flow : tuple
        Place [m], and heat flow inwards and upwards for one kelvin [W/(m2K)].
    """

    window: tuple[float, float, float, float]
    parts: tuple[tuple[str, Point, Point], ...]
    isotherms: tuple[Lines, ...]
    flow: tuple[tuple[Point, Point], ...]


@lru_cache(maxsize=KEPT)
def picture(edge: Edge, films: Films, shares: tuple[float, ...]) -> Picture:
    """Make the picture of an edge.

    Parameters
    ----------
    edge : Edge
        Any edge that can be drawn [m].
    films : Films
        Surface resistances [m2K/W].
    shares : tuple of float
        Where each line lies between outside, 0, and inside, 1 [-].

    Returns
    -------
    Picture
        Cut to what surrounds the edge [m].
    """
    _, found = solved(edge.section(films), quick=True)
    window = _window(found, edge.roof)
    lines = tuple(_isotherm(found, s, window) for s in shares)
    return Picture(window, tuple(_parts(found, window)), lines, tuple(_flow(found, window)))


def _window(found: Solution, roof: Roof) -> tuple[float, float, float, float]:
    boxes = found.detail.boxes
    left = min(b.lower[0] for b in boxes) - BESIDE
    top = min(max(b.upper[1] for b in boxes) + OVER, roof.top + ABOVE)
    return left, left + WIDE, roof.inside - BELOW, top


def _parts(
    found: Solution, window: tuple[float, float, float, float]
) -> Iterator[tuple[str, Point, Point]]:
    x0, x1, z0, z1 = window
    for b in found.detail.boxes:
        low = max(b.lower[0], x0), max(b.lower[1], z0)
        high = min(b.upper[0], x1), min(b.upper[1], z1)
        if low[0] < high[0] and low[1] < high[1]:
            yield b.name, low, high


def _isotherm(found: Solution, share: float, window: tuple[float, float, float, float]) -> Lines:
    """Join the pieces of one line, cut to the window."""
    x0, x1, z0, z1 = window
    cuts = _cuts(found, share)
    if not len(cuts):
        return ()
    whole = shapely.line_merge(shapely.union_all(shapely.linestrings(cuts), grid_size=JOIN))
    kept = shapely.clip_by_rect(whole, x0, z0, x1, z1)
    return tuple(
        tuple((float(x), float(y)) for x, y in line.coords)
        for line in shapely.get_parts(shapely.line_merge(kept))
        if line.geom_type == "LineString" and line.length > JOIN
    )


def _cuts(found: Solution, share: float) -> Floats:
    """Cut every half cell by a temperature: two ends for each half that it passes through."""
    x, z = found.lines
    t = found.temperature
    whole = found.mesh.solid
    nodes = np.stack(np.meshgrid(x, z, indexing="ij"), axis=-1)
    low, high = slice(None, -1), slice(1, None)
    corners = [(low, low), (high, low), (high, high), (low, high)]
    pieces = []
    for triangle in ((0, 1, 2), (0, 2, 3)):
        at = np.stack([nodes[corners[n]][whole] for n in triangle], axis=1)
        over = np.stack([t[corners[n]][whole] for n in triangle], axis=1) - share
        pieces.append(_crossed(at, over))
    return np.concatenate(pieces)


def _crossed(at: Floats, over: Floats) -> Floats:
    """Find where nought lies on the sides of triangles that it passes through."""
    above = over >= 0
    passed = above.any(axis=1) & ~above.all(axis=1)
    at, over, above = at[passed], over[passed], above[passed]
    alone = np.where(above.sum(axis=1) == 1, above.argmax(axis=1), (~above).argmax(axis=1))
    rows = np.arange(len(at))
    ends = []
    for turn in (1, 2):
        other = (alone + turn) % 3
        a, b = over[rows, alone], over[rows, other]
        share = (a / (a - b))[:, None]
        ends.append(at[rows, alone] + share * (at[rows, other] - at[rows, alone]))
    return np.stack(ends, axis=1)


def _flow(
    found: Solution, window: tuple[float, float, float, float]
) -> Iterator[tuple[Point, Point]]:
    """Read the heat flow in the middle of the cells that lie under a loose grid."""
    x0, x1, z0, z1 = window
    x, z = found.lines
    for px in np.arange(x0 + APART / 2, x1 - APART / 2, APART):
        for pz in np.arange(z0 + APART / 2, z1, APART):
            i, j = int(np.searchsorted(x, px)) - 1, int(np.searchsorted(z, pz)) - 1
            if not (0 <= i < len(x) - 1 and 0 <= j < len(z) - 1 and found.mesh.solid[i, j]):
                continue
            t = found.temperature[i : i + 2, j : j + 2]
            k = found.mesh.conductivity[i, j]
            along = (t[1].mean() - t[0].mean()) / (x[i + 1] - x[i])
            up = (t[:, 1].mean() - t[:, 0].mean()) / (z[j + 1] - z[j])
            yield (float(px), float(pz)), (float(-k * along), float(-k * up))
