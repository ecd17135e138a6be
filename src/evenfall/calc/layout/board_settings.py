"""Settings of a board plan: a direction and a first course, its runs, and how a run is laid."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from evenfall.calc.layout.courses import FLAT, Run, Turned, cells, open_joints, runs
from evenfall.calc.layout.piece_shapes import SLACK, has_rim

Size = tuple[int, int]
Joints = tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Terms:
    """Board and rules, as the search needs them [mm]."""

    length: int
    width: int
    min_piece: int
    min_perimeter_piece: int
    stagger: int
    kerf: int
    offset: int = 0  # of the joints of two layers


class Under(NamedTuple):
    """The layer below: lines between its courses, and its joints as x, lower and upper end."""

    lines: tuple[float, ...]
    joints: tuple[tuple[float, float, float], ...]


class Lay(NamedTuple):
    """One run laid from one first cut."""

    joints: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    whole: int
    cut: tuple[Size, ...]
    small: int


@dataclass(slots=True)
class Setting:
    """A direction and a first course: its runs, and what has been laid on them so far."""

    side: int
    roof: Turned
    terms: Terms
    first: float
    lines: tuple[float, ...]  # between the courses
    under: Under | None = None
    lays: dict[tuple[int, int, Joints], Lay] = field(default_factory=dict)
    cut: tuple[tuple[Run, ...], ...] | None = None

    @property
    def courses(self) -> tuple[tuple[Run, ...], ...]:
        """The runs of each course; the roof is cut when they are first asked for."""
        if self.cut is None:
            heights = self.roof.heights
            between = pairwise((heights[0], *self.lines, heights[-1]))
            self.cut = tuple(runs(self.roof, a, b) for a, b in between)
        return self.cut

    def lay(self, course: int, place: int, joints: Joints) -> Lay:
        """Lay one run; what was laid before is remembered."""
        key = (course, place, joints)
        if key not in self.lays:
            self.lays[key] = _lay(self.courses[course][place], self, joints)
        return self.lays[key]

    @property
    def near_lines(self) -> tuple[tuple[float, float], ...]:
        """Lines that lie too near above those of the layer below."""
        lower = self.under.lines if self.under else ()
        return tuple((y, z) for y in self.lines for z in lower if abs(y - z) < self.terms.offset)


def setting(
    side: int, roof: Turned, terms: Terms, first: float, under: Under | None = None
) -> Setting:
    """Set the lines between the courses.

    Parameters
    ----------
    side : int
        Number of the side that the courses follow [-].
    roof : Turned
        The roof in the frame of that side [mm].
    terms : Terms
        Board and rules [mm].
    first : float
        Width of the first course [mm].
    under : Under, optional
        The layer below, if there is one [mm].

    Returns
    -------
    Setting
        Ready for `search` [-].

    Examples
    --------
    >>> from shapely import Polygon
    >>> from evenfall.calc.layout.courses import turned
    >>> roof = turned([Polygon([(0, 0), (6200, 0), (6200, 2500), (0, 2500)])], (0, 0), (6200, 0))
    >>> terms = Terms(2400, 1200, 150, 300, 300, 4)
    >>> [(run.y0, run.y1) for course in setting(0, roof, terms, 650.0).courses for run in course]
    [(0.0, 650.0), (650.0, 1850.0), (1850.0, 2500.0)]
    """
    low, high = roof.heights[0], roof.heights[-1]
    lines = []
    y = low + first
    while y < high - FLAT:
        lines.append(y)
        y += terms.width
    return Setting(side, roof, terms, first, tuple(lines), under)


def set_at(
    side: int, roof: Turned, terms: Terms, lines: Joints, under: Under | None = None
) -> Setting:
    """Take lines between the courses as they are given.

    Parameters
    ----------
    side : int
        Number of the side that the courses follow [-].
    roof : Turned
        The roof in the frame of that side [mm].
    terms : Terms
        Board and rules [mm].
    lines : tuple of float
        Lines between the courses, the lowest first [mm].
    under : Under, optional
        The layer below, if there is one [mm].

    Returns
    -------
    Setting
        Ready for `search` [-].

    Examples
    --------
    >>> from shapely import Polygon
    >>> from evenfall.calc.layout.courses import turned
    >>> roof = turned([Polygon([(0, 0), (6200, 0), (6200, 2500), (0, 2500)])], (0, 0), (6200, 0))
    >>> set_at(0, roof, Terms(2400, 1200, 150, 300, 300, 4), (700.0, 1900.0)).first
    700.0
    """
    ends = (*lines, roof.heights[-1])
    return Setting(side, roof, terms, ends[0] - roof.heights[0], lines, under)


def first_courses(roof: Turned, terms: Terms, *, quick: bool) -> tuple[float, ...]:
    """List the widths of the first course that are worth trying, the likely ones first.

    Parameters
    ----------
    roof : Turned
        The roof [mm].
    terms : Terms
        Board and rules [mm].
    quick : bool
        Only the two likeliest [-].

    Returns
    -------
    tuple of float
        Widths of the first course [mm].

    Examples
    --------
    >>> from shapely import Polygon
    >>> from evenfall.calc.layout.courses import turned
    >>> roof = turned([Polygon([(0, 0), (6200, 0), (6200, 2500), (0, 2500)])], (0, 0), (6200, 0))
    >>> terms = Terms(2400, 1200, 150, 300, 300, 4)
    >>> first_courses(roof, terms, quick=True)
    (650.0, 600.0)
    """
    low, high, width, least = (
        roof.heights[0], roof.heights[-1], terms.width, terms.min_perimeter_piece,
    )  # fmt: skip
    whole = float(width)
    rest = (high - low) % whole
    tried = [whole, rest, (rest + whole) / 2, *((h - low) % whole for h in roof.heights), whole / 2]
    if not quick:
        strips = [(width + terms.kerf) / n - terms.kerf for n in range(2, width // least + 1)]
        tried += [q for s in strips for q in (s, (rest - s) % whole)]
        tried += [(h - low + d) % whole for h in roof.heights for d in (least, -least)]
        tried += [float(q) for q in range(least, width, max(least // 2, 1))]
    legal: list[float] = []
    other: list[float] = []
    for q in dict.fromkeys(round(q, 6) for q in tried if q > FLAT):
        last = (high - low - q) % whole
        good = q >= least - FLAT and (last >= least - FLAT or last < FLAT)
        (legal if good else other).append(q)
    chosen = legal or other
    return tuple(chosen[:2] if quick else chosen)


def sides_to_try(outline: Sequence[tuple[int, int]], *, quick: bool) -> tuple[int, ...]:
    """List the sides that courses may follow, the longest first; parallel sides once.

    Parameters
    ----------
    outline : sequence of (int, int)
        Corners of the roof [mm].
    quick : bool
        Count sides as parallel that are nearly so [-].

    Returns
    -------
    tuple of int
        Numbers of the sides; side 0 runs from corner 0 to corner 1 [-].

    Examples
    --------
    >>> sides_to_try([(0, 0), (6200, 13), (6200, 4100), (0, 4100)], quick=True)
    (0, 3)
    """
    number = len(outline)
    vectors = [
        (outline[(i + 1) % number][0] - x, outline[(i + 1) % number][1] - y)
        for i, (x, y) in enumerate(outline)
    ]
    squares = [dx * dx + dy * dy for dx, dy in vectors]
    alike = 1 / 1000 if quick else 0
    chosen: list[int] = []
    for i in sorted(range(number), key=lambda i: (-squares[i], i)):
        (ax, ay) = vectors[i]
        if squares[i] and all(
            (ax * vectors[j][1] - ay * vectors[j][0]) ** 2 > alike * squares[i] * squares[j]
            for j in chosen
        ):
            chosen.append(i)
    return tuple(chosen[:2] if quick else chosen)


def near_joints(run: Run, joints: Joints, under: Under, offset: int) -> list[tuple[float, float]]:
    """List the joints of a run that lie too near above those of the layer below.

    Parameters
    ----------
    run : Run
        A stretch of a course [mm].
    joints : tuple of float
        Its joints [mm].
    under : Under
        The layer below [mm].
    offset : int
        How far they should be apart [mm].

    Returns
    -------
    list of (float, float)
        Each pair: the joint, and the one below it [mm].

    Examples
    --------
    >>> run = Run(0.0, 600.0, 0.0, 5000.0, (), ())
    >>> near_joints(run, (1200.0, 3600.0), Under((), ((1300.0, 300.0, 900.0),)), 200)
    [(1200.0, 1300.0)]
    """
    below = [x for x, low, high in under.joints if low < run.y1 - FLAT and high > run.y0 + FLAT]
    return [(x, z) for x in joints for z in below if abs(x - z) < offset - 1]


def _lay(run: Run, one: Setting, joints: Joints) -> Lay:
    """Lay boards along a run and tell what they take."""
    terms = one.terms
    whole, cut, small = 0, [], 0
    if one.under is not None:
        small += len(near_joints(run, joints, one.under, terms.offset))
    for cell in cells(run, one.roof, joints):
        size = cell.size
        small += len(cell.parts) > 1 and has_rim(cell.parts, terms.min_piece)
        if size[0] >= terms.length and size[1] >= terms.width:
            whole += 1
            continue
        least = terms.min_perimeter_piece if cell.outer else terms.min_piece
        small += cell.least_width < least - SLACK
        cut.append(size)
    cut.sort(key=lambda s: (-s[0] * s[1], s))
    low, high = open_joints(run, joints)
    return Lay(joints, low, high, whole, tuple(cut), small)
