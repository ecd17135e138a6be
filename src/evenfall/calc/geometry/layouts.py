"""Which of the ways to lay out the tapes is the roof: adjust each, keep the one that fits.

Good are outlines that do not cross themselves and go anticlockwise. Of those that fit as well as
the best, one with square corners is taken, else the one with the fewest triangles folded over;
the others are told of.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import combinations

import numpy as np

from evenfall.calc.geometry.critical_values import chi_square_limit
from evenfall.calc.geometry.lines_of_sight import on_roof
from evenfall.calc.geometry.network import Array, Network, Solution, solve
from evenfall.calc.geometry.polygon import (
    Polygon,
    corner_angles,
    crossing_sides,
    side_names,
    signed_area,
)
from evenfall.calc.geometry.start_values import CannotClose, Start, start_values
from evenfall.errors import InvalidInput
from evenfall.standards.survey_practice import GROSS_MISCLOSURE, MISCLOSURE, ONE_MORE

TRIED = 10  # starts that are adjusted
SQUARE = 0.1  # mean square of the cosines of the corners, below which a roof is square


@dataclass(frozen=True, slots=True)
class Layout:
    """One way to lay out the tapes, in the frame of the plan.

    ``turned`` rotates (or reflects) into that frame; ``ambiguous`` names corners that may be
    folded over, ``settled_by`` the distance that would tell.
    """

    solution: Solution
    start: Start
    xy: Array
    turned: Array
    ring: Polygon
    ambiguous: tuple[str, ...] = ()
    settled_by: tuple[str, str] | None = None

    @property
    def unsquare(self) -> float:
        """0 if every corner is square, and more the less they are; straight ones count most."""
        return _unsquare(self.ring)


def layouts(net: Network, tapes: tuple[str, ...], where: str) -> Layout:
    """Adjust the tapes in each way in which they can be laid out, and choose the roof.

    Parameters
    ----------
    net : Network
        Tapes and known points [m].
    tapes : tuple of str
        Names of the tapes, for errors [-].
    where : str
        Place in the input, for errors [-].

    Returns
    -------
    Layout
        The one that is the roof; `InvalidInput` if there is none [m].
    """
    starts = start_values(net, where)
    tried = [_laid(net, start) for start in _worth_trying(net, starts)]
    close = [t for t in tried if _largest(net, t.solution) <= GROSS_MISCLOSURE]
    if not close:
        raise _cannot_close(net, min(tried, key=lambda t: t.solution.t).solution, tapes, where)
    held = [t for t in close if t.solution.loose is None]
    if not held:
        raise _loose(net, close[0].solution, where)
    good = [
        t for t in held if not t.ring or (signed_area(t.ring) > 0 and not crossing_sides(t.ring))
    ]
    if not good:
        raise _crosses(net, min(held, key=lambda t: t.solution.t), where)
    return _choose(net, good)


def _worth_trying(net: Network, starts: tuple[Start, ...]) -> tuple[Start, ...]:
    """Take the starts of best rank, and those whose outline is squarest."""
    if len(starts) <= TRIED:
        return starts
    first, rest = starts[: TRIED // 2], starts[TRIED // 2 :]
    plain = [s for s in rest if not s.crossings] or list(rest)
    plain.sort(key=lambda s: _unsquare(tuple(s.xy[i] for i in range(net.corners))))
    return (*first, *plain[: TRIED - len(first)])


def _unsquare(ring: Polygon) -> float:
    """Return the mean square of the cosines of the corners."""
    return sum(math.cos(a) ** 2 for a in corner_angles(ring)) / len(ring) if ring else 0.0


def _laid(net: Network, start: Start) -> Layout:
    """Adjust one start and put it into the frame of the plan."""
    return framed(net, solve(net, start.array(len(net.names))), start)


def framed(net: Network, s: Solution, start: Start) -> Layout:
    """Put a solution into the frame of the plan.

    Parameters
    ----------
    net : Network
        Names and known points [-].
    s : Solution
        The adjusted places [m].
    start : Start
        What it was started from [m].

    Returns
    -------
    Layout
        The first corner at the origin, the second on the x axis, unless points are known [m].
    """
    xy, turned = s.xy, np.eye(2)
    if not net.known:
        (x, y), (u, v) = s.xy[0], s.xy[1]
        size = math.hypot(u - x, v - y)
        turned = np.array([[u - x, v - y], [y - v, u - x]]) / size
        ring = tuple((float(p), float(q)) for p, q in s.xy[: net.corners])
        if signed_area(ring) < 0:
            turned[1] = -turned[1]
        xy = (s.xy - s.xy[0]) @ turned.T
        xy[0], xy[1, 1] = 0.0, 0.0
    ring = tuple((float(p), float(q)) for p, q in xy[: net.corners]) if net.corners > 2 else ()
    return Layout(s, start, xy, turned, ring)


def _choose(net: Network, good: list[Layout]) -> Layout:
    dof = net.dof
    limit = chi_square_limit(dof) if dof else 0.0
    squares = [t.solution.t for t in good]
    if dof and min(squares) > limit:  # some tape is wrong: compare what is left without it
        squares = [t.solution.without_worst for t in good]
        limit = chi_square_limit(dof - 1) if dof > 1 else 0.0
    best = min(squares)
    alike = [t for t, s in zip(good, squares, strict=True) if s <= best + ONE_MORE]
    fit = [t for t, s in zip(good, squares, strict=True) if s <= max(limit, best + ONE_MORE)]
    least = min(t.solution.t for t in alike)  # the smaller blunder is the likelier
    alike = [t for t in alike if t.solution.t <= least + ONE_MORE]
    chosen = min(alike, key=lambda t: round(t.unsquare, 6))
    if chosen.unsquare > SQUARE:
        chosen = min(alike, key=lambda t: (t.start.folds, round(t.unsquare, 6)))
    return _told(net, chosen, fit)


def _told(net: Network, chosen: Layout, fit: list[Layout]) -> Layout:
    """Name the corners in which layouts that fit as well differ, and the tape that tells."""
    gaps = [gap(net, chosen, t) for t in fit]
    others = [(t, g) for t, g in zip(fit, gaps, strict=True) if g.max() > MISCLOSURE]
    if not others:
        return chosen
    folded = {
        i for t, _ in others for i, image in t.start.images if (i, image) not in chosen.start.images
    }
    least = np.min([g for _, g in others], axis=0)
    return replace(
        chosen,
        ambiguous=tuple(net.names[k] for k in sorted(folded)),
        settled_by=telling(net, chosen, least),
    )


def telling(net: Network, layout: Layout, gaps: Array) -> tuple[str, str] | None:
    """Choose the distance in which layouts differ most, on the roof if there is one.

    Parameters
    ----------
    net : Network
        Names of the points [-].
    layout : Layout
        One of them [m].
    gaps : array of shape (points, points)
        By how much each distance differs at least [m].

    Returns
    -------
    (name, name) or None
        Both ends; None where no distance tells [-].
    """
    pairs = [p for p in combinations(range(len(net.names)), 2) if gaps[p] > MISCLOSURE]
    on = on_roof(layout.xy, net.corners, pairs) if layout.ring else [True] * len(pairs)
    best = max(zip(on, pairs, strict=True), key=lambda p: (p[0], gaps[p[1]]), default=None)
    return (net.names[best[1][0]], net.names[best[1][1]]) if best else None


def gap(net: Network, one: Layout, other: Layout) -> Array:
    """Compare two layouts.

    Parameters
    ----------
    net : Network
        Whether there are known points [-].
    one, other : Layout
        Two layouts [m].

    Returns
    -------
    array of shape (points, points)
        Difference of each distance between two points; on the diagonal, where points are known,
        that of the places [m].
    """

    def distances(xy: Array) -> Array:
        way = xy[:, None] - xy[None]
        d: Array = np.hypot(way[..., 0], way[..., 1])
        return d

    found: Array = np.abs(distances(one.xy) - distances(other.xy))
    if net.known:
        np.fill_diagonal(found, np.hypot(*(one.xy - other.xy).T))
    return found


def _largest(net: Network, s: Solution) -> float:
    return float(np.abs(s.f * net.sigma).max())


def _cannot_close(net: Network, s: Solution, tapes: tuple[str, ...], where: str) -> CannotClose:
    off = s.f * net.sigma
    order = [int(i) for i in np.argsort(-np.abs(off)) if abs(off[i]) > GROSS_MISCLOSURE]
    told = ", ".join(f"{tapes[i]} by {abs(float(off[i])):.2f} m" for i in order[:3])
    return CannotClose(
        f"tapes that cannot close: {told}",
        f"a plan that meets every tape within {float(GROSS_MISCLOSURE):g} m",
        where=where,
        do="measure them again (feet typed as metres? figures swapped? wrong corner?)",
    )


def _loose(net: Network, s: Solution, where: str) -> InvalidInput:
    name = net.names[s.loose or 0]
    return InvalidInput(
        f"corner {name} held by tapes that lie in one line, or nearly",
        "tapes from two directions",
        where=where,
        do=f"tape {name} from a corner off that line",
    )


def _crosses(net: Network, layout: Layout, where: str) -> InvalidInput:
    sides = side_names(net.names[: net.corners])
    pairs = crossing_sides(layout.ring)
    if not pairs:
        return InvalidInput(
            "a plan that goes clockwise", "corners anticlockwise", where=where, do="turn the order"
        )
    i, j = pairs[0]
    return InvalidInput(
        f"polygon crosses itself: sides {sides[i]} and {sides[j]}",
        "corners in order round the roof",
        where=where,
    )
