"""Whether tapes can make a plan at all: names, numbers, sides taped, enough diagonals."""

from __future__ import annotations

import math
from itertools import combinations

from evenfall.calc.geometry.network import Network
from evenfall.calc.geometry.polygon import side_names
from evenfall.calc.geometry.start_values import (
    Lengths,
    lengths_of,
    reached,
    squares,
    triangles_of,
)
from evenfall.errors import InvalidInput
from evenfall.standards.survey_practice import GROSS_MISCLOSURE

Reading = tuple[str, str, str, float, float]  # name, both ends, length, sigma
Square = tuple[str, str, str, str, float, float, float, float]
"""Name, point, both ends of the line, along, to the left, and the sigma of each."""

MOST_CORNERS = 30  # more is no roof of this trade, and the search for a start grows
NAMED = 4  # suggestions in one sentence


def check_readings(
    corners: tuple[str, ...],
    others: tuple[str, ...],
    held: set[str],
    tapes: tuple[Reading, ...],
    offsets: tuple[Square, ...],
    where: str,
) -> None:
    """Refuse readings that are none, each for itself.

    Parameters
    ----------
    corners : tuple of str
        Names in order round the roof [-].
    others : tuple of str
        Names of points that are no corners [-].
    held : set of str
        Names of known points [-].
    tapes : tuple of (name, a, b, length, sigma)
        Tapes [m].
    offsets : tuple of (name, point, a, b, along, left, sigma, sigma)
        Offsets [m].
    where : str
        Place in the input [-].

    Returns
    -------
    None
        Or raises `InvalidInput` [-].

    Examples
    --------
    >>> same = (("A-A", "A", "A", 5.0, 0.003),)
    >>> check_readings(("A", "B", "C", "D"), (), set(), same, (), "survey.tapes")
    Traceback (most recent call last):
    evenfall.errors.InvalidInput: survey.tapes: tape A-A from A to A, expected two named points
    """
    _check_corners(corners, others, held)
    known, names = {*corners, *others, *held}, set[str]()
    for name, a, b, length, sigma in tapes:
        _once(f"tape {name}", names, where)
        if a not in known or b not in known or a == b:
            raise InvalidInput(f"tape {name} from {a} to {b}", "two named points", where=where)
        if not (math.isfinite(length) and length > 0):
            raise InvalidInput(f"tape {name} of {length} m", "a length above 0", where=where)
        _good(f"tape {name}", sigma, where)
    for name, point, a, b, *read, along_sigma, left_sigma in offsets:
        _once(f"offset {name}", names, where)
        if not {point, a, b} <= known or len({point, a, b}) < 3:
            raise InvalidInput(
                f"offset {name}", "a point and a line between two others", where=where
            )
        if not all(math.isfinite(r) for r in read):
            raise InvalidInput(f"offset {name} of {read} m", "two lengths", where=where)
        _good(f"offset {name}", min(along_sigma, left_sigma), where)


def _once(name: str, names: set[str], where: str) -> None:
    if name in names:
        raise InvalidInput(f"{name} named twice", "each name once", where=where)
    names.add(name)


def _good(name: str, sigma: float, where: str) -> None:
    if not (math.isfinite(sigma) and sigma > 0):
        raise InvalidInput(f"{name} good to {sigma} m", "above 0", where=where)


def _check_corners(corners: tuple[str, ...], others: tuple[str, ...], held: set[str]) -> None:
    least = 1 if held else 3
    if not least <= len(corners) <= MOST_CORNERS:
        raise InvalidInput(
            f"{len(corners)} corners", f"{least} to {MOST_CORNERS}", where="survey.corners"
        )
    if len({*corners, *others}) < len(corners) + len(others):
        raise InvalidInput("a corner named twice", "each name once", where="survey.corners")
    if len(held) == 1:
        raise InvalidInput("one known point", "none, or two or more", where="survey.corners")


def check_reach(net: Network, where: str, sides: bool = True) -> None:
    """Refuse readings that leave a corner loose, and say which tapes would hold it.

    Parameters
    ----------
    net : Network
        Tapes, offsets and points [m].
    where : str
        Place in the input [-].
    sides : bool
        Whether every side must be taped, where there are neither points nor offsets [-].

    Returns
    -------
    None
        Or raises `InvalidInput` [-].
    """
    lengths, n, names = lengths_of(net), len(net.names), net.names
    first = {i for i, _, _ in net.known}
    if sides and not first and n == net.corners and not len(net.point):
        ring = zip(side_names(names), range(n), strict=True)
        untaped = [s for s, i in ring if (i, (i + 1) % n) not in lengths]
        if untaped:
            raise InvalidInput(
                f"side {' and '.join(untaped)} not taped", "every side taped", where=where
            )
    known = reached(n, lengths, first, squares(net)) if first else _largest(net, lengths)
    if len(known) == n:
        return
    loose = [i for i in range(n) if i not in known]
    pairs = _helpful(n, lengths, known, loose)
    plain = not first and n == net.corners
    told = " or ".join(f"{names[i]}-{names[j]}" for i, j in pairs[:NAMED])
    expected = (
        f"{2 * n - 3} distances or more for {n} corners, each on two tapes from others"
        if plain
        else f"each of {', '.join(names[i] for i in loose)} taped from two known points"
    )
    raise InvalidInput(
        f"missing a {'diagonal' if plain else 'tape'}: tape {told}", expected, where=where
    )


def contradiction(tapes: tuple[Reading, ...], where: str) -> InvalidInput | None:
    """Find two readings of one distance that cannot both be right.

    Parameters
    ----------
    tapes : tuple of (name, a, b, length, sigma)
        Tapes [m].
    where : str
        Place in the input [-].

    Returns
    -------
    InvalidInput or None
        To be raised [-].
    """
    seen: dict[frozenset[str], tuple[str, float]] = {}
    for name, a, b, length, _ in tapes:
        other, was = seen.setdefault(frozenset((a, b)), (name, length))
        if abs(length - was) > GROSS_MISCLOSURE:
            return InvalidInput(
                f"tapes that cannot close: {other} {was:.3f} m and {name} {length:.3f} m "
                f"are of one distance",
                "readings alike",
                where=where,
                do="tape it a third time and take the wrong one out",
            )
    return None


def _largest(net: Network, lengths: Lengths) -> set[int]:
    """Find the largest part of the plan that hangs together from some triangle."""
    best, n = set[int](), len(net.names)
    for triangle in triangles_of(n, lengths):
        if not set(triangle) <= best:
            best = max(best, reached(n, lengths, set(triangle), squares(net)), key=len)
            if len(best) == n:
                break
    return best


def _helpful(n: int, lengths: Lengths, known: set[int], loose: list[int]) -> list[tuple[int, int]]:
    """List distances not taped that would place one more corner, the shortest way round first."""
    if known:
        on_one = [i for i in loose if any((i, k) in lengths for k in known)]
        pairs = [
            tuple(sorted((i, k))) for i in on_one or loose for k in known if (i, k) not in lengths
        ]
    else:
        pairs = [p for p in combinations(range(n), 2) if p not in lengths]
    ring = sorted(set(pairs), key=lambda p: (min(p[1] - p[0], n - p[1] + p[0]), p))
    return [(i, j) for i, j in ring]
