"""Lines between courses where even ones would leave a strip too low at a level edge of the roof."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator, Sequence

from evenfall.calc.layout.board_settings import Terms
from evenfall.calc.layout.courses import FLAT, Turned

Lines = tuple[float, ...]

ODD_COURSE = 0.05
"""What a course lower than a board costs beside its boards, in lengths of its own: it is one more
saw cut on every board."""


def edges_kept(roof: Turned, terms: Terms, lines: Sequence[float]) -> bool:
    """Tell whether no line lies so near a level edge that the strip between is too low.

    Parameters
    ----------
    roof : Turned
        The roof [mm].
    terms : Terms
        Board and rules [mm].
    lines : sequence of float
        Lines between the courses [mm].

    Returns
    -------
    bool
        Whether every strip at a level edge is as wide as a piece must be [-].

    Examples
    --------
    >>> from shapely import Polygon
    >>> from evenfall.calc.layout.courses import turned
    >>> roof = turned([Polygon([(0, 0), (6200, 0), (6200, 2500), (0, 2500)])], (0, 0), (6200, 0))
    >>> terms = Terms(2400, 1200, 150, 300, 300, 4)
    >>> edges_kept(roof, terms, [650.0, 1850.0]), edges_kept(roof, terms, [1200.0, 2400.0])
    (True, False)
    """
    shut = _shut(roof, terms)
    return not any(low + FLAT < y < high - FLAT for y in lines for low, high in shut)


def uneven_lines(
    roof: Turned, terms: Terms, most: int, off: Sequence[float] = ()
) -> tuple[Lines, ...]:
    """Set lines between courses so that each keeps off the level edges, those of least waste first.

    A course may be lower than a board anywhere, not only the first and the last.

    Parameters
    ----------
    roof : Turned
        The roof [mm].
    terms : Terms
        Board and rules [mm].
    most : int
        How many ways to return [-].
    off : sequence of float
        Lines of a layer below, to keep off by its offset [mm].

    Returns
    -------
    tuple of tuple
        Ways to set the lines, each from another first course; none where there is no such way [mm].

    Examples
    --------
    >>> from shapely import Polygon
    >>> from evenfall.calc.layout.courses import turned
    >>> shape = [(0, 0), (9000, 0), (9000, 672), (4000, 672), (4000, 1272), (0, 1272)]
    >>> roof = turned([Polygon(shape)], (0, 0), (9000, 0))
    >>> uneven_lines(roof, Terms(1200, 600, 150, 300, 300, 5), 2)
    ((372.0, 972.0), (300.0, 900.0))
    """
    low, high = roof.heights[0], roof.heights[-1]
    shut = [*_shut(roof, terms), *((y - terms.offset, y + terms.offset) for y in off)]
    places = [y for y in _places(roof, terms) if not any(a + FLAT < y < b - FLAT for a, b in shut)]
    onward: dict[float, tuple[float, float | None]] = {high: (0.0, None)}
    for y in reversed([low, *places]):
        reached = [
            (_cost(roof, terms, y, z) + onward[z][0], -z)
            for z in _next(y, [*places, high], terms) if z in onward
        ]  # fmt: skip
        if y > low and reached:
            onward[y] = (min(reached)[0], -min(reached)[1])
    # of the first lines, each that leads to the other edge
    firsts = sorted(reached)[:most]
    return tuple(_followed(-z, onward) for _, z in firsts)


def _followed(y: float, onward: dict[float, tuple[float, float | None]]) -> Lines:
    lines = []
    while (then := onward[y][1]) is not None:
        lines.append(y)
        y = then
    return tuple(lines)


def _shut(roof: Turned, terms: Terms) -> list[tuple[float, float]]:
    """List the stretches, open at both ends, in which no line may lie."""
    found = []
    for y, above, outer in roof.sills:
        least = terms.min_perimeter_piece if outer else terms.min_piece
        found.append((y, y + least) if above else (y - least, y))
    return found


def _places(roof: Turned, terms: Terms) -> list[float]:
    """List heights at which a line may be set: from every corner on by whole boards and pieces."""
    low, high, whole = roof.heights[0], roof.heights[-1], terms.width
    steps = (0, terms.min_perimeter_piece, terms.min_piece, whole // 2)
    found = set[float]()
    for h in roof.heights:
        for start in {h + d * sign for d in steps for sign in (1, -1)}:
            y = low + (start - low) % whole
            while y < high - FLAT:
                found.add(round(y, 6))
                y += whole
        found.add(round((low + h) / 2, 6))
    return sorted(y for y in found if low + FLAT < y < high - FLAT)


def _next(y: float, places: Sequence[float], terms: Terms) -> Iterator[float]:
    """Yield the places where the course that begins at a line may end."""
    for z in places[bisect_left(places, y + terms.min_perimeter_piece - FLAT) :]:
        if z > y + terms.width + FLAT:
            return
        yield z


def _cost(roof: Turned, terms: Terms, y: float, z: float) -> float:
    """Return how long a course is; a low one counts for a little more [mm]."""
    middle = (y + z) / 2
    cut = sorted(e.at(middle) for e in roof.edges if e.y0 < middle < e.y1)
    length = sum(cut[1::2]) - sum(cut[::2])
    return length * (1 if z - y > terms.width - 1 else 1 + ODD_COURSE)
