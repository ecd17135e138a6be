"""Bays: the deck cut so that each part is stripped and closed in a day, from the high end down."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, dist, sqrt

from evenfall.calc.geometry.polygon import area
from evenfall.model.programmed import Bay
from evenfall.model.surveyed import Plan, Point
from evenfall.stages.programme.roof import Part
from evenfall.stages.programme.slices import (
    NEAR,
    Piece,
    Rates,
    Slice,
    between,
    deck,
    slice_along,
)
from evenfall.standards import programme_practice as practice

HALVINGS = 8  # steps to even out the bays
CELLS = 4  # bays side by side in one band, at most: more is a band that is too deep
TRIES = 6  # ends of a band that are looked at, from the furthest that its hours allow
Pieces = tuple[tuple[Piece, int], ...]


@dataclass(frozen=True, slots=True)
class Cut:
    """One bay as it is cut; bays of one band lie beside one another."""

    bay: Bay
    part: Part
    band: int


@dataclass(frozen=True, slots=True)
class Cuts:
    """All bays; ``short`` tells of one that cannot be closed: hours wanted, hours there, its m2."""

    cut: tuple[Cut, ...]
    short: tuple[float, float, float] | None = None


@dataclass(frozen=True, slots=True)
class _Bands:
    """Indices of the places at which a slice is cut, both ends included."""

    at: tuple[int, ...]
    slow: tuple[bool, ...]  # bands that take more than their day

    @property
    def closes(self) -> bool:
        return not any(self.slow)


def cut(
    plan: Plan, ways: tuple[Point, ...], each: Rates, set_up: float, room: float
) -> Cuts:  # fmt: skip
    """Cut the deck into bays that close in their day.

    Straight across along the first of some ways that does; where none does, bands are cut again
    the other way.

    Parameters
    ----------
    plan : Plan
        The deck [m].
    ways : tuple of (x, y)
        Unit vectors to try, the best first [-].
    each : Rates
        Slow hours of one of each thing [h].
    set_up, room : float
        Hours of setting up, and hours of a day until the roof must be shut [h].

    Returns
    -------
    Cuts
        Bays in the order of work [-].
    """
    sliced = list[Slice]()
    for way in ways:
        one = slice_along(deck(plan), way, each)
        sliced.append(one)
        bands = _with_set_up(one, set_up, room)
        if bands.closes:
            return Cuts(_pieces(one, bands))
    tried = [_crossed(one, each, room) for one in sliced]
    return next((t for t in tried if t.short is None), tried[0])


def others(
    plan: Plan, ways: tuple[Point, ...], each: Rates, set_up: float, room: float
) -> Iterator[Cuts]:
    """Cut the deck straight in other ways that close: as full as a day allows, the rest left last.

    Parameters
    ----------
    plan, ways, each, set_up, room : Plan, tuple, Rates, float, float
        As for `cut` [h].

    Yields
    ------
    Cuts
        Bays in the order of work [-].
    """
    for way in ways:
        one = slice_along(deck(plan), way, each)
        evened = _evened(one, room, room)
        firsts = (room, room - set_up) if set_up < room else (room,)
        full = (_furthest(one, first, room) for first in firsts)
        for bands in (evened, *full):
            if bands.closes:
                yield Cuts(_pieces(one, bands))


def banded(
    plan: Plan, ways: tuple[Point, ...], each: Rates, set_up: float, room: float, most: int
) -> Iterator[Cuts]:
    """Cut the deck into the fewest bays: bands, each of one bay or of some side by side.

    Of every number of bays the furthest place is kept that they reach. First with the first bay
    beside the set-up, then without it where that has fewer.

    Parameters
    ----------
    plan, ways, each, set_up, room : Plan, tuple, Rates, float, float
        As for `cut` [h].
    most : int
        Bays beside the set-up, at most; without it one fewer [-].

    Yields
    ------
    Cuts
        Bays in the order of work, each time fewer than the last [-].
    """
    sliced = [slice_along(deck(plan), way, each) for way in ways]
    for first, limit in ((room - set_up, most), (room, most - 1)):
        for one in sliced if first > 0 else ():
            pieces = _banded(one, each, (first, room), min(limit, most))
            if pieces:
                most = len(pieces) - 1
                yield Cuts(_numbered(list(pieces)))


def _banded(sliced: Slice, each: Rates, rooms: tuple[float, float], most: int) -> Pieces:
    """Reach as far as one bay, two, three and more can, band by band; empty if not to the end."""
    reached: list[tuple[int, Pieces]] = [(0, ())]  # by the number of bays
    room, last = max(rooms[1] - each.night, NEAR), len(sliced.places) - 1
    while reached[-1][0] < last:
        best = reached[-1]
        rest = sliced.work[last] - sliced.work[best[0]] - each.night
        if len(reached) - 1 + max(1, ceil(rest / room - NEAR)) > most:
            return ()
        for cells in range(1, min(CELLS, len(reached)) + 1):
            here, before = reached[-cells]
            begin = rooms[min(here, 1)]
            there, made = _band(sliced, each, (here, best[0]), cells, (begin, rooms[1]))
            if there > best[0]:
                best = (there, (*before, *((piece, len(before)) for piece in made)))
        reached.append(best)
    return reached[-1][1]


def _band(
    sliced: Slice, each: Rates, ends: tuple[int, int], cells: int, rooms: tuple[float, float]
) -> tuple[int, tuple[Piece, ...]]:
    """Find the furthest place, beyond one, to which so many bays side by side close in time."""
    (here, beyond), (first, room) = ends, rooms
    if cells == 1:
        there = _reach(sliced, here, first)
        return (there, between(sliced, here, there)) if there else (0, ())
    most = first + (cells - 1) * (room - each.night)
    further = [n for n in _ends(sliced, here) if n > beyond and sliced.hours(here, n) <= most]
    for there in reversed(further[-TRIES:]):
        for turn in (1, -1):
            made = tuple(_side_by_side(sliced, each, (here, there), turn, rooms))
            if len(made) == cells:
                return there, made
    return 0, ()


def _side_by_side(
    sliced: Slice, each: Rates, ends: tuple[int, int], turn: int, rooms: tuple[float, float]
) -> Iterator[Piece]:
    """Cut a band the other way, from one end or the other; nothing where a bay does not close."""
    (u, v), (first, room) = sliced.way, rooms
    for piece in between(sliced, *ends):
        across = slice_along(piece, (-v * turn, u * turn), each)
        cells = _furthest(across, first, room)
        if not cells.closes:
            return
        first = room
        for a, b in pairwise(cells.at):
            yield from between(across, a, b)


def _pieces(sliced: Slice, bands: _Bands) -> tuple[Cut, ...]:
    ends = enumerate(pairwise(bands.at))
    return _numbered([(piece, n) for n, (a, b) in ends for piece in between(sliced, a, b)])


def _with_set_up(sliced: Slice, set_up: float, room: float) -> _Bands:
    """Start on the first day beside the set-up, if that saves a day; else on the second."""
    after = _evened(sliced, room, room)
    if not after.closes or set_up > room:
        return after
    beside = _evened(sliced, room - set_up, room)
    return beside if beside.closes and len(beside.at) <= len(after.at) else after


def _evened(sliced: Slice, first: float, room: float) -> _Bands:
    """Cut the fewest bays, and make them as even as that allows."""
    best = _furthest(sliced, first, room)
    if not best.closes:
        return best
    low, high = 0.0, 1.0
    for _ in range(HALVINGS):
        middle = (low + high) / 2
        evened = _furthest(sliced, first - (1 - middle) * room, middle * room)
        if evened.closes and len(evened.at) == len(best.at):
            best, high = evened, middle
        else:
            low = middle
    return best


def _furthest(sliced: Slice, first: float, room: float) -> _Bands:
    """Make each bay in turn as deep as its day allows; no other way has fewer."""
    at, slow = [0], list[bool]()
    last = len(sliced.places) - 1
    while at[-1] < last:
        there = _reach(sliced, at[-1], first if len(at) == 1 else room)
        slow.append(there is None)
        at.append(_square(sliced, at[-1], room) if there is None else there)
    return _Bands(tuple(at), tuple(slow))


def _ends(sliced: Slice, here: int) -> tuple[int, ...]:
    """Places at which a bay may end that begins here."""
    deep = bisect_left(sliced.places, sliced.places[here] + practice.SMALLEST_BAY - NEAR)
    ends = sliced.allowed[bisect_left(sliced.allowed, max(deep, here + 1)) :]
    return ends or sliced.allowed[-1:]


def _reach(sliced: Slice, here: int, room: float) -> int | None:
    """Find the furthest place at which a bay closes in time."""
    found, work, joint = None, sliced.work, sliced.joint
    room += work[here]
    for there in _ends(sliced, here):
        if work[there] > room:
            break
        if work[there] + joint[there] <= room and not sliced.bare(here, there):
            found = there
    return found


def _square(sliced: Slice, here: int, room: float) -> int:
    """Find the place that makes a band about as deep as one bay of it will be wide."""
    dense = sliced.work[-1] / area(sliced.piece.ring)
    deep = sqrt(max(room, NEAR) / dense)
    return min(
        _ends(sliced, here), key=lambda n: abs(sliced.places[n] - sliced.places[here] - deep)
    )


def _crossed(sliced: Slice, each: Rates, room: float) -> Cuts:
    """Cut the bands that are too long for a day once more, the other way."""
    bands, pieces = _furthest(sliced, room, room), list[tuple[Piece, int]]()
    short: tuple[float, float, float] | None = None
    u, v = sliced.way
    for n, ((a, b), slow) in enumerate(zip(pairwise(bands.at), bands.slow, strict=True)):
        for piece in between(sliced, a, b):
            across = slice_along(piece, (-v, u), each)
            cells = _evened(across, room, room) if slow else _Bands((0, -1), (False,))
            if slow and not cells.closes:
                short = short or _shortfall(across, cells, room)
            ends = pairwise(cells.at) if slow else ()
            cut_again = [p for c, d in ends for p in between(across, c, d)]
            pieces += [(p, n) for p in cut_again or [piece]]
    return Cuts(_numbered(pieces), short)


def _shortfall(sliced: Slice, cells: _Bands, room: float) -> tuple[float, float, float] | None:
    """Tell of the smallest part that takes too long; None where it is covers that are short."""
    hours = [
        (sliced.hours(a, b), sum(area(p.ring) for p in between(sliced, a, b)))
        for (a, b), slow in zip(pairwise(cells.at), cells.slow, strict=True)
        if slow
    ]
    wanted, size = min((h for h in hours if h[0] > room), default=(0.0, 0.0))
    return (wanted, room, size) if wanted else None


def _numbered(pieces: list[tuple[Piece, int]]) -> tuple[Cut, ...]:
    return tuple(
        Cut(
            Bay(
                number, piece.ring, area(piece.ring),
                max(piece.nights, key=lambda line: dist(*line), default=None), piece.nights,
            ),
            piece.part(), band,
        )
        for number, (piece, band) in enumerate(pieces, 1)
    )  # fmt: skip


def zones(
    bands: tuple[int, ...], areas: tuple[float, ...], number: int
) -> tuple[tuple[int, ...], ...]:
    """Group whole bands into zones of about one size.

    Parameters
    ----------
    bands : tuple of int
        Band of each bay, in the order of work [-].
    areas : tuple of float
        Areas of the bays [m2].
    number : int
        How many zones, no more than bands [-].

    Returns
    -------
    tuple of tuple of int
        Bay numbers of each zone [-].

    Examples
    --------
    >>> zones((0, 1, 2, 2), (6.0, 6.5, 5.0, 7.0), 2)
    ((1, 2), (3, 4))
    """
    grouped: list[list[int]] = [[]]
    whole, so_far = sum(areas), 0.0
    left = len(set(bands))  # bands not yet begun
    for n, (band, size) in enumerate(zip(bands, areas, strict=True), 1):
        if n == 1 or band != bands[n - 2]:
            wanted = number - len(grouped)
            due = so_far >= whole * len(grouped) / number - NEAR or left == wanted
            if grouped[-1] and wanted and due:
                grouped.append([])
            left -= 1
        grouped[-1].append(n)
        so_far += size
    return tuple(map(tuple, grouped))
