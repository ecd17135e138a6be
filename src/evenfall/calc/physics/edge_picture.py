"""What is drawn of a solved edge: its parts, lines of one temperature, and how the heat goes."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache

import shapely

from evenfall.calc.physics.conduction import Solution, flow_lines, isotherms
from evenfall.calc.physics.details import Edge, Films, Roof
from evenfall.calc.physics.edge_values import solved

Point = tuple[float, float]
Lines = tuple[tuple[Point, ...], ...]

WIDE = 0.9  # every picture is as wide as this, so that all have one scale [m]
ABOVE = 0.28  # most that is shown above the finished surface [m]
BELOW = 0.18  # below the plane seen from the room [m]
BESIDE = 0.06  # outside the outermost part [m]
OVER = 0.09  # above the highest part, or the surface [m]
WAYS = 24  # ways of the heat through the whole section
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
    ways : tuple
        The ways of the heat, the same share of it between each two [m].
    """

    window: tuple[float, float, float, float]
    parts: tuple[tuple[str, Point, Point], ...]
    isotherms: tuple[Lines, ...]
    ways: Lines


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
    drawn = isotherms(found, shares)
    return Picture(
        window,
        tuple(_parts(found, window)),
        tuple(_cut(drawn[s], window) for s in shares),
        _cut(flow_lines(found, WAYS), window),
    )


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


def _cut(lines: Iterable[Sequence[Point]], window: tuple[float, float, float, float]) -> Lines:
    """Cut lines to the window; a line that leaves it and comes back is two."""
    x0, x1, z0, z1 = window
    kept = (shapely.clip_by_rect(shapely.LineString(line), x0, z0, x1, z1) for line in lines)
    return tuple(
        tuple((float(x), float(y)) for x, y in piece.coords)
        for line in kept
        for piece in shapely.get_parts(line)
        if piece.geom_type == "LineString" and piece.length > 0
    )
