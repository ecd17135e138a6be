"""Lines for the picture of a solved section: isotherms and the ways of the heat."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np

from evenfall.calc.physics.conduction.finite_volume import flux_density
from evenfall.calc.physics.conduction.mesh import Floats
from evenfall.calc.physics.conduction.solve import Solution
from evenfall.errors import InvalidInput

Point = tuple[float, float]
Edge = tuple[int, int, int]  # axis along which the edge of a cell runs, and its first node

ALL_FOUR = 15
"""Sum of the marks 1, 2, 4 and 8 of the corners of a cell."""

MOST_STEPS = 100_000
"""Cells that one way of the heat may cross; a way of a real section crosses some hundreds."""


def isotherms(solution: Solution, levels: Sequence[float]) -> dict[float, list[list[Point]]]:
    """Draw the lines of equal temperature of a section.

    Parameters
    ----------
    solution : Solution
        Solved detail in two dimensions [-].
    levels : sequence of float
        Temperatures [C].

    Returns
    -------
    dict of float to list
        Lines of each temperature, each a list of points [m].

    Raises
    ------
    InvalidInput
        If the detail has three dimensions.

    Examples
    --------
    >>> from evenfall.calc.physics.conduction import Box, Detail, Surround, solve
    >>> board = Box("board", (0.0, 0.0), (1.0, 0.1), 0.1)
    >>> inside = Surround("inside", (0.0, -1.0), (1.0, 0.0), 20.0, 0.5)
    >>> outside = Surround("outside", (0.0, 0.1), (1.0, 1.0), 0.0, 0.5)
    >>> (line,) = isotherms(solve(Detail((board,), (inside, outside))), [10.0])[10.0]
    >>> sorted((round(x, 6), round(y, 6)) for x, y in (line[0], line[-1]))
    [(0.0, 0.05), (1.0, 0.05)]
    """
    _check_flat(solution)
    return {level: _joined(_crossings(solution, level)) for level in levels}


def _check_flat(solution: Solution) -> None:
    if solution.detail.dimensions != 2:
        raise InvalidInput("3 dimensions", "a section in two", where="picture")


def _crossings(solution: Solution, level: float) -> Iterator[tuple[Edge, Point, Edge, Point]]:
    """Yield the piece of an isotherm in each cell, by the edges of the cell that it joins."""
    field, mesh = solution.temperature, solution.mesh
    # a node that lies on the level by chance is moved off it, so that each line crosses edges
    above = field > level
    corner = above[:-1, :-1] * 1 + above[1:, :-1] * 2 + above[1:, 1:] * 4 + above[:-1, 1:] * 8
    for i, j in np.argwhere(mesh.solid & (corner > 0) & (corner < ALL_FOUR)).tolist():
        around: list[Edge] = [(0, i, j), (1, i + 1, j), (0, i, j + 1), (1, i, j)]
        hit = [e for e in around if above[e[1], e[2]] != above[e[1] + (e[0] == 0), e[2] + e[0]]]
        if len(hit) == 4 and (field[i : i + 2, j : j + 2].mean() > level) == above[i, j]:
            hit = [hit[0], hit[1], hit[2], hit[3]]
        elif len(hit) == 4:
            hit = [hit[3], hit[0], hit[1], hit[2]]
        for a, b in zip(hit[::2], hit[1::2], strict=True):
            yield a, _on_edge(solution, a, level), b, _on_edge(solution, b, level)


def _on_edge(solution: Solution, edge: Edge, level: float) -> Point:
    axis, i, j = edge
    x, y = solution.lines
    field = solution.temperature
    start, end = field[i, j], field[i + (axis == 0), j + axis]
    share = float((level - start) / (end - start))
    if axis == 0:
        return float(x[i] + share * (x[i + 1] - x[i])), float(y[j])
    return float(x[i]), float(y[j] + share * (y[j + 1] - y[j]))


def _joined(pieces: Iterator[tuple[Edge, Point, Edge, Point]]) -> list[list[Point]]:
    """Join pieces that meet in an edge; open lines first, then rings."""
    place: dict[Edge, Point] = {}
    next_to: dict[Edge, list[Edge]] = {}
    for a, at_a, b, at_b in pieces:
        place[a], place[b] = at_a, at_b
        next_to.setdefault(a, []).append(b)
        next_to.setdefault(b, []).append(a)
    ends = [e for e, others in next_to.items() if len(others) == 1]
    found, seen = [], set[Edge]()
    for start in [*ends, *next_to]:
        if start in seen:
            continue
        line, here = [start], start
        seen.add(start)
        while ahead := [e for e in next_to[here] if e not in seen]:
            here = ahead[0]
            seen.add(here)
            line.append(here)
        if len(line) > 2 and start in next_to[here]:
            line.append(start)
        found.append([place[e] for e in line])
    return found


def flow_lines(solution: Solution, count: int) -> list[list[Point]]:
    """Draw the ways of the heat through a section, an equal share of it between each two.

    The flows of the finite volumes run straight through a cell in each direction, so a way
    through it is known exactly and no heat is lost or made along it.

    Parameters
    ----------
    solution : Solution
        Solved detail in two dimensions [-].
    count : int
        Ways to draw [-].

    Returns
    -------
    list of list
        Each way from the air that gives the heat to the one that takes it [m].

    Raises
    ------
    InvalidInput
        If the detail has three dimensions, or fewer than one way is asked for.

    Examples
    --------
    >>> from evenfall.calc.physics.conduction import Box, Detail, Surround, solve
    >>> board = Box("board", (0.0, 0.0), (1.0, 0.1), 0.1)
    >>> inside = Surround("inside", (0.0, -1.0), (1.0, 0.0), 20.0, 0.5)
    >>> outside = Surround("outside", (0.0, 0.1), (1.0, 1.0), 0.0, 0.5)
    >>> ways = flow_lines(solve(Detail((board,), (inside, outside))), 2)
    >>> [(round(w[0][0], 6), round(w[-1][0], 6), round(w[-1][1], 6)) for w in ways]
    [(0.25, 0.25, 0.1), (0.75, 0.75, 0.1)]
    """
    _check_flat(solution)
    if count < 1:
        raise InvalidInput(f"{count} ways", "one or more", where="picture")
    fluxes = [
        flux_density(solution.detail, solution.mesh, solution.cell_temperature, axis)
        for axis in (0, 1)
    ]
    return [_way(solution, fluxes, start, cell) for start, cell in _starts(solution, count)]


def _starts(solution: Solution, count: int) -> list[tuple[Point, tuple[int, int]]]:
    """Find where the ways begin: in the middle of equal shares of the heat that is given."""
    rows = []
    for face in solution.mesh.faces:
        t = solution.cell_temperature[face.cells]
        half = face.width / 2 / solution.mesh.conductivity[face.cells]
        rise = np.array(solution.detail.temperatures)[face.name] - t
        heat = face.area * rise / (face.resistance + half)
        for i, j, q in zip(*face.cells, heat, strict=True):
            if q > 0:
                rows.append((face.axis, face.forward, int(i), int(j), float(q)))
    if not rows:
        return []
    total = np.cumsum([r[-1] for r in rows])
    found = []
    for wanted in (np.arange(count) + 0.5) / count * total[-1]:
        n = int(np.searchsorted(total, wanted))
        axis, forward, i, j, q = rows[n]
        share = 1 - (total[n] - wanted) / q
        cell = (i, j)
        point = [0.0, 0.0]
        point[axis] = float(solution.lines[axis][cell[axis] + forward])
        along = solution.lines[1 - axis]
        k = cell[1 - axis]
        point[1 - axis] = float(along[k] + share * (along[k + 1] - along[k]))
        found.append(((point[0], point[1]), cell))
    return found


def _way(
    solution: Solution, fluxes: list[Floats], start: Point, cell: tuple[int, int]
) -> list[Point]:
    """Follow the heat from cell to cell until it leaves the solid."""
    point, here = list(start), list(cell)
    way = [start]
    for _ in range(MOST_STEPS):
        steps = [_exit(solution.lines[a], fluxes[a], point[a], here, a) for a in (0, 1)]
        axis = 0 if steps[0][0] <= steps[1][0] else 1
        time, forward = steps[axis][0], steps[axis][1]
        if not np.isfinite(time):
            break
        other = 1 - axis
        line = solution.lines[axis]
        point[axis] = float(line[here[axis] + forward])
        point[other] = _moved(solution.lines[other], fluxes[other], point[other], here, other, time)
        way.append((point[0], point[1]))
        here[axis] += 1 if forward else -1
        if not 0 <= here[axis] < solution.mesh.solid.shape[axis]:
            break
        if not solution.mesh.solid[here[0], here[1]]:
            break
    return way


def _speeds(
    line: Floats, flux: Floats, x: float, cell: list[int], axis: int
) -> tuple[float, float, float, float, float]:
    """Give both ends of a cell, the speed at them, and the speed at a place between."""
    n = cell[axis]
    after = list(cell)
    after[axis] += 1
    low, high = float(line[n]), float(line[n + 1])
    first, last = float(flux[cell[0], cell[1]]), float(flux[after[0], after[1]])
    return low, high, first, last, first + (last - first) * (x - low) / (high - low)


def _exit(line: Floats, flux: Floats, x: float, cell: list[int], axis: int) -> tuple[float, bool]:
    """Time until the way leaves the cell along one axis, and whether forward."""
    low, high, first, last, now = _speeds(line, flux, x, cell, axis)
    forward = now > 0
    end, at_end = (high, last) if forward else (low, first)
    if now == 0 or at_end * now <= 0:
        return np.inf, forward
    growth = (last - first) / (high - low)
    if abs(growth * (end - x)) < 1e-9 * abs(now):
        return (end - x) / now, forward
    return float(np.log(at_end / now) / growth), forward


def _moved(line: Floats, flux: Floats, x: float, cell: list[int], axis: int, time: float) -> float:
    """Place along an axis after some time in the cell."""
    low, high, first, last, now = _speeds(line, flux, x, cell, axis)
    growth = (last - first) / (high - low)
    step = now * time if abs(growth * time) < 1e-9 else now * np.expm1(growth * time) / growth
    return float(min(max(x + step, low), high))
