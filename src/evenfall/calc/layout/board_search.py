"""The search for a board plan: where each course starts and where each run is first cut.

A beam: the few best beginnings are carried on, run by run. A beginning is judged by the rules that
it breaks, the boards that it has opened and the rests that are still of use. Steps are counted.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import combinations, pairwise
from typing import NamedTuple

from evenfall.calc.layout.board_settings import Joints, Lay, Setting, Size, Terms
from evenfall.calc.layout.courses import FLAT, Run

ACROSS = (1.0, 0.5, 0.25)  # shares of a low run in which boards lie across the course
NEAREST = 3  # marks of a run at which it may be broken, all ways; of more only the plain ways


class State(NamedTuple):
    """A beginning of a plan."""

    breaches: int
    boards: int
    free: tuple[Size, ...]
    joints: tuple[tuple[float, ...], ...]
    below: tuple[float, ...]  # joints at the upper line of the course below
    here: tuple[float, ...]  # the same of this course, so far
    pieces: int


NOTHING = State(0, 0, (), (), (), (), 0)


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
    >>> from evenfall.calc.layout.board_settings import setting
    >>> from evenfall.calc.layout.courses import turned
    >>> roof = turned([Polygon([(0, 0), (6200, 0), (6200, 2500), (0, 2500)])], (0, 0), (6200, 0))
    >>> terms = Terms(2400, 1200, 150, 300, 300, 4)
    >>> states, taken = search(setting(0, roof, terms, 650.0), beam=1, starts=3, steps=100)
    >>> states[0].breaches, states[0].boards, taken
    (0, 7, 21)
    """
    states = [NOTHING._replace(breaches=len(one.near_lines))]
    taken = 0
    for c, course in enumerate(one.courses):
        for r, run in enumerate(course):
            tried: list[State] = []
            for state in states[: beam if taken < steps else 1]:
                for joints in _ways(run, state, one, starts):
                    tried.append(_extended(state, one.lay(c, r, joints), one.terms))
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


def _ways(run: Run, state: State, one: Setting, most: int) -> list[Joints]:
    """List the ways to part a run that are worth trying, the likely ones first.

    A run goes on with whole boards from its first cut. Where an opening or a corner reaches into
    it, it may also be broken there, so that no board is notched. In a low stretch boards may also
    lie across the course: what is left of them then is as wide as a course, and ends another.
    """
    terms = one.terms
    ways = [
        _row(run.x0, run.x1, s, terms.length)
        for s in _starts(run, run.x0, run.x1, state, one, most)
    ]
    if _low(run, run.x0, run.x1, terms):
        firsts = _starts(run, run.x0, run.x1, state, one, max(2, most // 2), across=True)
        ways += [row for s in firsts for row in _across(run.x0, run.x1, s, terms)]
    for broken in _breaks(run, terms):
        ways += _broken(run, broken, state, one, max(2, most // 4))
    return list(dict.fromkeys(ways))


def _broken(run: Run, broken: Joints, state: State, one: Setting, most: int) -> Iterator[Joints]:
    """List ways to part a run that is broken at some of its marks."""
    terms, ends = one.terms, (run.x0, *broken, run.x1)
    low = [_low(run, c0, c1, terms) for c0, c1 in pairwise(ends)]
    flat = [False] * len(low)
    for start in _starts(run, ends[0], ends[1], state, one, most):
        first = _row(ends[0], ends[1], start, terms.length)
        yield first + _onward(ends, flat, terms, whole=True)
        yield first + _onward(ends, flat, terms, whole=False)
        if any(low[1:]):
            yield first + _onward(ends, low, terms, whole=True)
    if low[0]:
        for start in _starts(run, ends[0], ends[1], state, one, most, across=True):
            first = _row(ends[0], ends[1], start, terms.width)
            yield first + _onward(ends, low, terms, whole=True)


def _onward(ends: Joints, across: Sequence[bool], terms: Terms, *, whole: bool) -> Joints:
    """Return the joints of a broken run beyond its first stretch."""
    joints: Joints = ()
    for (c0, c1), turned in zip(pairwise(ends[1:]), across[1:], strict=True):
        step = terms.width if turned else terms.length
        rest = (c1 - c0) % step
        start = step if whole or rest < terms.min_piece else rest
        joints += (c0, *_row(c0, c1, start, step))
    return joints


def _low(run: Run, c0: float, c1: float, terms: Terms) -> bool:
    """Tell whether a stretch is so low that two boards lying across it leave a piece."""
    if c1 - c0 < 2 * terms.width:
        return False
    here = [t for t in run.traps if min(t.l0, t.l1) < c1 and max(t.r0, t.r1) > c0]
    height = max(t.y1 for t in here) - min(t.y0 for t in here)
    return terms.length - 2 * (height + terms.kerf) >= terms.min_perimeter_piece


def _across(c0: float, c1: float, start: float, terms: Terms) -> Iterator[Joints]:
    """List rows whose boards lie across, all or the first of them; then whole boards along."""
    for share in ACROSS:
        row = _row(c0, c0 + start + share * (c1 - c0 - start), start, terms.width)
        if row:
            yield (*row, *_row(row[-1], c1, terms.length, terms.length))


def _breaks(run: Run, terms: Terms) -> list[Joints]:
    """List the sets of marks at which a run may be broken."""
    least = terms.min_piece
    marks = [x for x in run.marks if run.x0 + least <= x <= run.x1 - least]
    if len(marks) <= NEAREST:
        sets = [c for n in range(1, len(marks) + 1) for c in combinations(marks, n)]
    else:
        sets = [*((x,) for x in marks), *pairwise(marks), tuple(marks)]
    return [s for s in sets if all(b - a >= least for a, b in pairwise(s))]


def _row(c0: float, c1: float, start: float, step: int) -> Joints:
    """Return the joints after a first cut, one step apart."""
    joints = []
    x = c0 + start
    while x < c1 - FLAT:
        joints.append(x)
        x += step
    return tuple(joints)


def _starts(
    run: Run, c0: float, c1: float, state: State, one: Setting, most: int, *, across: bool = False
) -> list[float]:
    """List first pieces of a stretch worth trying, the likely ones first."""
    terms = one.terms
    whole = float(terms.width if across else terms.length)
    span, least = c1 - c0, terms.min_perimeter_piece
    if span <= whole + FLAT:
        return [whole]
    height = run.y1 - run.y0
    rest = span % whole
    rests = [float(l) for l, w in state.free if w >= height - 1] + [
        float(w) for l, w in state.free if l >= height - 1
    ]
    moved = [(x - c0 + d) % whole for x in state.below[:2] for d in (terms.stagger, -terms.stagger)]
    tried = [
        *_clear(run, c0, one), *rests[:3], whole, rest, whole / 2, (whole + rest) / 2, *moved,
        *((m - c0) % whole for m in run.marks),
    ]  # fmt: skip
    if most > len(tried):
        tried += [float(x) for x in range(least, round(whole), 100)]
    ranked: dict[float, bool] = {}
    for x in tried:
        start = float(round(x))
        last = (span - start) % whole
        if 1 <= start <= whole:
            ranked.setdefault(start, start >= least and (last >= least or last < FLAT))
    good = [x for x, legal in ranked.items() if legal]
    return (good or list(ranked))[:most]


def _clear(run: Run, c0: float, one: Setting) -> list[float]:
    """List first cuts that keep all joints of a stretch off those of the layer below."""
    if one.under is None:
        return []
    whole, offset = float(one.terms.length), one.terms.offset
    taken = {
        (x - c0) % whole for x, low, high in one.under.joints if low < run.y1 and high > run.y0
    }
    tried = [(x + d) % whole for x in sorted(taken) for d in (offset, -offset, whole / 2)]
    return [
        x for x in tried
        if all(min((x - t) % whole, (t - x) % whole) >= offset - 1 for t in taken)
    ]  # fmt: skip


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
