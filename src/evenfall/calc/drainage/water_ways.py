"""The way that a drop of water takes over flat cells: down each cell, along valleys."""

from __future__ import annotations

from dataclasses import dataclass
from math import dist, hypot

from evenfall.calc.geometry.contours import cells_at
from evenfall.calc.geometry.polygon import Point
from evenfall.calc.geometry.relief import Relief

LEVEL = 1e-6  # a slighter fall moves no drop
STEP = 1e-7  # m; a shorter step is the rounding of a corner
ALIKE = 1e-4  # m; edges that run on in a line are met in one place, corners rounded
STEPS = 400  # a drop that has crossed so many cells is followed no further
SHORT = 0.1  # m; the fall of a shorter stretch is no fall of the roof


@dataclass(frozen=True, slots=True)
class WaterWay:
    """A drop's way from its start; ``ends`` is "drain", or "rest" where it can run no lower."""

    line: tuple[Point, ...]
    levels: tuple[float, ...]  # along it
    mean: float  # fall from end to end of the way
    least: float  # of its flattest stretch
    ends: str


class Ground:
    """A surface with its neighbourhoods, for drops to run over.

    Parameters
    ----------
    relief : Relief
        The surface [m].
    leaves : set of int
        Corners at which water leaves [-].
    """

    def __init__(self, relief: Relief, leaves: frozenset[int]) -> None:
        self.relief, self.leaves = relief, leaves
        self.cells: dict[frozenset[int], list[int]] = {}
        self.round: dict[int, list[int]] = {}
        for n, cell in enumerate(relief.net.cells):
            for i, j in zip(cell, (*cell[1:], cell[0]), strict=True):
                self.cells.setdefault(frozenset((i, j)), []).append(n)
                self.round.setdefault(i, []).append(n)

    def way(self, start: Point) -> WaterWay | None:
        """Follow a drop.

        Parameters
        ----------
        start : (x, y)
            Where it falls [m].

        Returns
        -------
        WaterWay, optional
            Its way; none beside the roof [m].

        Examples
        --------
        >>> from evenfall.calc.geometry.relief import net, relief
        >>> plan = net(((0, 0), (6, 0), (6, 4), (0, 4)))
        >>> slope = relief(plan, lambda p: tuple(y / 40 for _, y in p))
        >>> low = frozenset(i for i, (_, y) in enumerate(plan.points) if y == 0)
        >>> way = Ground(slope, low).way((3.0, 2.0))
        >>> way.line, way.mean, way.ends
        (((3.0, 2.0), (3.0, 0.0)), 0.025, 'drain')
        """
        (cell,) = cells_at(self.relief, (start,))
        if cell is None:
            return None
        line, levels, ends = [start], [self._level(cell, start)], "rest"
        corner: int | None = None
        for _ in range(STEPS):
            if corner is not None:
                if corner in self.leaves:
                    ends = "drain"
                    break
                cell, corner = self._from_corner(corner)
                if corner is not None:
                    line.append(self.relief.net.points[corner])
                    levels.append(self.relief.levels[corner])
                    continue
            if cell is None:
                break
            step = self._across(cell, line[-1])
            if step is None:
                break
            at, edge = step
            if dist(at, line[-1]) > STEP:
                line.append(at)
                levels.append(self._level(cell, at))
            if edge <= self.leaves:
                ends = "drain"
                break
            cell, corner = self._over(cell, edge)
            if corner is not None:
                line.append(self.relief.net.points[corner])
                levels.append(self.relief.levels[corner])
        return _told(line, levels, ends)

    def _level(self, cell: int, at: Point) -> float:
        p = self.relief.planes[cell]
        return p.level + p.rise_x * at[0] + p.rise_y * at[1]

    def _downhill(self, cell: int) -> tuple[float, Point]:
        p = self.relief.planes[cell]
        size = hypot(p.rise_x, p.rise_y)
        return (size, (-p.rise_x / size, -p.rise_y / size)) if size > LEVEL else (0.0, (0.0, 0.0))

    def _across(self, cell: int, at: Point) -> tuple[Point, frozenset[int]] | None:
        """Run down a cell to one of its edges; none on a level one."""
        size, (u, v) = self._downhill(cell)
        if not size:
            return None
        ring, found = self.relief.net.cells[cell], []
        for i, j in zip(ring, (*ring[1:], ring[0]), strict=True):
            (xa, ya), (xb, yb) = self.relief.net.points[i], self.relief.net.points[j]
            ex, ey = xb - xa, yb - ya
            gain = u * ey - v * ex  # towards the outside
            if gain > STEP:
                inside = ex * (at[1] - ya) - ey * (at[0] - xa)
                found.append((max(inside, 0.0) / gain, frozenset((i, j))))
        first = min(t for t, _ in found)
        to = (at[0] + first * u, at[1] + first * v)
        straight = [edge for t, edge in found if t < first + ALIKE]
        return to, min(straight, key=lambda edge: self._off(edge, to))

    def _off(self, edge: frozenset[int], at: Point) -> float:
        """Tell how far a point in line with an edge lies beyond its ends."""
        p, q = (self.relief.net.points[i] for i in edge)
        return dist(p, at) + dist(at, q) - dist(p, q)

    def _over(self, cell: int, edge: frozenset[int]) -> tuple[int | None, int | None]:
        """Run on into the next cell, or along the edge to its lower corner."""
        beyond = next((n for n in self.cells[edge] if n != cell), None)
        if beyond is not None:
            size, (u, v) = self._downhill(beyond)
            ring = self.relief.net.cells[beyond]
            i, j = next(
                (i, j) for i, j in zip(ring, (*ring[1:], ring[0]), strict=True) if {i, j} == edge
            )
            (xa, ya), (xb, yb) = self.relief.net.points[i], self.relief.net.points[j]
            if size and (xb - xa) * v - (yb - ya) * u > STEP:
                return beyond, None
        return None, min(edge, key=self.relief.levels.__getitem__)

    def _from_corner(self, corner: int) -> tuple[int | None, int | None]:
        """Leave a corner the steepest way: down a cell, or along an edge; neither at a bottom."""
        best: tuple[float, int | None, int | None] = (LEVEL, None, None)
        at = self.relief.net.points[corner]
        for n in self.round[corner]:
            ring = self.relief.net.cells[n]
            k = ring.index(corner)
            before, after = ring[k - 1], ring[(k + 1) % len(ring)]
            for other in (before, after):
                drop = self.relief.levels[corner] - self.relief.levels[other]
                fall = drop / dist(at, self.relief.net.points[other])
                best = max(best, (fall, None, other), key=lambda b: b[0])
            size, (u, v) = self._downhill(n)
            (xa, ya), (xb, yb) = self.relief.net.points[after], self.relief.net.points[before]
            left = (xa - at[0]) * v - (ya - at[1]) * u
            right = (xb - at[0]) * v - (yb - at[1]) * u
            if left > STEP and right < -STEP:
                best = max(best, (size, n, None), key=lambda b: b[0])
        return best[1], best[2]


def _told(line: list[Point], levels: list[float], ends: str) -> WaterWay:
    """Give the falls of a way; stretches too short to tell are left to the mean."""
    long = sum(map(dist, line, line[1:]))
    mean = (levels[0] - levels[-1]) / long if long > STEP else 0.0
    stretches = [
        (a - b) / dist(p, q)
        for p, q, a, b in zip(line, line[1:], levels, levels[1:], strict=False)
        if dist(p, q) > SHORT
    ]
    return WaterWay(tuple(line), tuple(levels), mean, min(stretches, default=mean), ends)
