"""The search for a board plan: where each course starts and where each run is first cut.

A beam: the few best beginnings are carried on, run by run. A beginning is judged by the rules that
it breaks, the boards that it has opened and the rests that are still of use. Steps are counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from evenfall.calc.layout.courses import FLAT, Run, Turned, cells, open_joints, runs

Size = tuple[int, int]


@dataclass(frozen=True, slots=True)
class Terms:
    """Board and rules, as the search needs them [mm]."""

    length: int
    width: int
    min_piece: int
    min_perimeter_piece: int
    stagger: int
    kerf: int


class Lay(NamedTuple):
    """One run laid from one first cut."""

    joints: tuple[float, ...]
    low: tuple[float, ...]
    high: tuple[float, ...]
    whole: int
    cut: tuple[Size, ...]
    small: int


class State(NamedTuple):
    """A beginning of a plan."""

    breaches: int
    boards: int
    free: tuple[Size, ...]
    joints: tuple[tuple[float, ...], ...]
    below: tuple[float, ...]  # joints at the upper line of the course below
    here: tuple[float, ...]  # the same of this course, so far
    pieces: int


@dataclass(slots=True)
class Setting:
    """A direction and a first course: its runs, and what has been laid on them so far."""

    side: int
    roof: Turned
    terms: Terms
    first: float
    courses: tuple[tuple[Run, ...], ...]
    lays: dict[tuple[int, int, float], Lay] = field(default_factory=dict)

    def lay(self, course: int, place: int, start: float) -> Lay:
        """Lay one run; what was laid before is remembered."""
        key = (course, place, start)
        if key not in self.lays:
            self.lays[key] = _lay(self.courses[course][place], self.roof, self.terms, start)
        return self.lays[key]


def setting(side: int, roof: Turned, terms: Terms, first: float) -> Setting:
    """Cut the roof into courses.

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
    lines = [low]
    y = low + first
    while y < high - FLAT:
        lines.append(y)
        y += terms.width
    lines.append(high)
    return Setting(
        side,
        roof,
        terms,
        first,
        tuple(runs(roof, a, b) for a, b in pairwise(lines)),
    )


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
        tried += [float(q) for q in range(least, width, max(least // 2, 1))]
    legal: list[float] = []
    other: list[float] = []
    for q in dict.fromkeys(round(q, 6) for q in tried if q > FLAT):
        last = (high - low - q) % whole
        good = q >= least - FLAT and (last >= least - FLAT or last < FLAT)
        (legal if good else other).append(q)
    chosen = legal or other
    return tuple(chosen[:2] if quick else chosen)


def search(one: Setting, beam: int, starts: int, steps: int) -> tuple[list[State], int]:
    """Carry the best beginnings from run to run.

    Parameters
    ----------
    one : Setting
        Courses and runs [-].
    beam : int
        How many beginnings are carried on [-].
    starts : int
        How many first cuts are tried for each run [-].
    steps : int
        Most beginnings to be looked at; the beam narrows to one when they run out [-].

    Returns
    -------
    tuple of (list of State, int)
        The best plans, and the steps taken [-].

    Examples
    --------
    >>> from shapely import Polygon
    >>> from evenfall.calc.layout.courses import turned
    >>> roof = turned([Polygon([(0, 0), (6200, 0), (6200, 2500), (0, 2500)])], (0, 0), (6200, 0))
    >>> terms = Terms(2400, 1200, 150, 300, 300, 4)
    >>> states, taken = search(setting(0, roof, terms, 650.0), beam=1, starts=3, steps=100)
    >>> states[0].breaches, states[0].boards, taken
    (0, 8, 9)
    """
    states = [State(0, 0, (), (), (), (), 0)]
    taken = 0
    for c, course in enumerate(one.courses):
        for r, run in enumerate(course):
            tried: list[State] = []
            for state in states[: beam if taken < steps else 1]:
                for start in _starts(run, state, one.terms, starts):
                    tried.append(_extended(state, one.lay(c, r, start), one.terms))
                    taken += 1
            tried.sort(key=lambda s: _merit(s, one.terms))
            states = _different(tried, beam)
        states = [s._replace(below=s.here, here=()) for s in states]
    return states, taken


def _different(tried: Iterable[State], beam: int) -> list[State]:
    """Keep the best, but only one of those that leave the same behind."""
    kept: dict[tuple[object, ...], State] = {}
    for state in tried:
        kept.setdefault((state.here, state.below, state.free, state.boards), state)
        if len(kept) >= beam:
            break
    return list(kept.values())


def _merit(state: State, terms: Terms) -> tuple[int, float, int]:
    """Judge a beginning: a useful rest counts for half of its area."""
    useful = sum(l * w for l, w in state.free if min(l, w) >= terms.min_perimeter_piece)
    return state.breaches, state.boards * terms.length * terms.width - useful / 2, state.pieces


def _starts(run: Run, state: State, terms: Terms, most: int) -> list[float]:
    """List first pieces of a run worth trying, the likely ones first."""
    span, whole, least = run.x1 - run.x0, float(terms.length), terms.min_perimeter_piece
    if span <= whole + FLAT:
        return [whole]
    height = run.y1 - run.y0
    rest = span % whole
    rests = [float(l) for l, w in state.free if w >= height - 1] + [
        float(w) for l, w in state.free if l >= height - 1
    ]
    moved = [
        (x - run.x0 + d) % whole for x in state.below[:2] for d in (terms.stagger, -terms.stagger)
    ]
    tried = [
        *rests[:3], whole, rest, whole / 2, (whole + rest) / 2, *moved,
        *((m - run.x0) % whole for m in run.marks),
    ]  # fmt: skip
    if most > len(tried):
        tried += [float(x) for x in range(least, terms.length, 100)]
    ranked: dict[float, bool] = {}
    for x in tried:
        start = float(int(x))
        last = (span - start) % whole
        if 1 <= start <= whole:
            ranked.setdefault(start, start >= least and (last >= least or last < FLAT))
    good = [x for x, legal in ranked.items() if legal]
    return (good or list(ranked))[:most]


def _lay(run: Run, roof: Turned, terms: Terms, start: float) -> Lay:
    """Lay boards along a run and tell what they take."""
    joints = []
    x = run.x0 + start
    while x < run.x1 - FLAT:
        joints.append(x)
        x += terms.length
    whole, cut, small = 0, [], 0
    for cell in cells(run, roof, joints):
        size = cell.size
        if size[0] >= terms.length and size[1] >= terms.width:
            whole += 1
            continue
        least = terms.min_perimeter_piece if cell.outer else terms.min_piece
        small += min(size) < least
        cut.append(size)
    cut.sort(key=lambda s: (-s[0] * s[1], s))
    low, high = open_joints(run, joints)
    return Lay(tuple(joints), low, high, whole, tuple(cut), small)


def _extended(state: State, lay: Lay, terms: Terms) -> State:
    """Add a laid run to a beginning."""
    breaches = state.breaches + lay.small
    for x in lay.low:
        for other in state.below:
            if abs(x - other) < terms.stagger - 1:
                breaches += 1
    boards, free = state.boards + lay.whole, list(state.free)
    for length, width in lay.cut:
        if not put(free, length, width, terms.kerf):
            boards += 1
            free.append((terms.length, terms.width))
            put(free, length, width, terms.kerf)
    free.sort(key=lambda s: (-s[0] * s[1], s))
    return State(
        breaches,
        boards,
        tuple(free[:12]),
        (*state.joints, lay.joints),
        state.below,
        state.here + lay.high,
        state.pieces + lay.whole + len(lay.cut),
    )


def put(free: list[Size], length: int, width: int, kerf: int) -> bool:
    """Cut a piece out of the smallest rest that holds it.

    Parameters
    ----------
    free : list of (int, int)
        Rests; changed in place [mm].
    length, width : int
        The piece [mm].
    kerf : int
        Width of a saw cut [mm].

    Returns
    -------
    bool
        Whether any rest held it [-].

    Examples
    --------
    >>> rests = [(2400, 1200), (1396, 1200)]
    >>> put(rests, 1000, 1200, 4), rests
    (True, [(2400, 1200), (392, 1200)])
    """
    best, index = 0, -1
    for i, (l, w) in enumerate(free):
        fits = (length <= l and width <= w) or (length <= w and width <= l)
        if fits and (index < 0 or l * w < best):
            best, index = l * w, i
    if index < 0:
        return False
    l, w = free.pop(index)
    if length > l or width > w or (width <= l and length == w):
        length, width = width, length
    dx, dy = l - length - kerf, w - width - kerf
    across_first = max(dx * w, length * dy) >= max(dy * l, width * dx)
    if across_first:
        rests = [(dx, w), (length, dy)]
    else:
        rests = [(dx, width), (l, dy)]
    free.extend(s for s in rests if min(s) > 0)
    return True


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
