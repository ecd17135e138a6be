"""Whether tapes can make a plan at all: names, numbers, sides taped, enough diagonals."""

from __future__ import annotations

import math
from itertools import combinations

from evenfall.calc.geometry.polygon import side_names
from evenfall.calc.geometry.start_values import Lengths, reached, triangles_of
from evenfall.errors import InvalidInput
from evenfall.standards.survey_practice import GROSS_MISCLOSURE

Reading = tuple[str, str, str, float, float]  # name, both ends, length, sigma

MOST_CORNERS = 30  # more is no roof of this trade, and the search for a start grows
NAMED = 4  # suggestions in one sentence


def check_tapes(
    corners: tuple[str, ...], readings: tuple[Reading, ...], held: set[str], where: str
) -> None:
    """Refuse tapes that cannot make a plan, in words that say what to tape.

    Parameters
    ----------
    corners : tuple of str
        Names in order round the roof [-].
    readings : tuple of (name, a, b, length, sigma)
        Tapes [m].
    held : set of str
        Names of known points [-].
    where : str
        Place in the input [-].

    Returns
    -------
    None
        Or raises `InvalidInput` [-].

    Examples
    --------
    >>> sides = tuple((a + b, a, b, 5.0, 0.003) for a, b in ("AB", "BC", "CD", "DA"))
    >>> check_tapes(("A", "B", "C", "D"), sides, set(), "survey.tapes")
    Traceback (most recent call last):
    evenfall.errors.InvalidInput: survey.tapes: missing a diagonal: tape A-C or B-D, expected ...
    """
    _check_corners(corners, held)
    _check_readings(corners, readings, held, where)
    names = corners + tuple(sorted(held - set(corners)))
    index = {name: i for i, name in enumerate(names)}
    lengths: Lengths = {}
    for _, a, b, length, _ in readings:
        lengths[index[a], index[b]] = lengths[index[b], index[a]] = length
    if held:
        _check_reach(names, lengths, {index[h] for h in held}, where)
        return
    n = len(corners)
    untaped = [s for i, s in enumerate(side_names(corners)) if (i, (i + 1) % n) not in lengths]
    if untaped:
        raise InvalidInput(
            f"side {' and '.join(untaped)} not taped", "every side taped", where=where
        )
    _check_reach(names, lengths, set(), where)


def _check_corners(corners: tuple[str, ...], held: set[str]) -> None:
    least = 1 if held else 3
    if not least <= len(corners) <= MOST_CORNERS:
        raise InvalidInput(
            f"{len(corners)} corners", f"{least} to {MOST_CORNERS}", where="survey.corners"
        )
    if len(set(corners)) < len(corners):
        raise InvalidInput("a corner named twice", "each name once", where="survey.corners")
    if len(held) == 1:
        raise InvalidInput("one known point", "none, or two or more", where="survey.corners")


def _check_readings(
    corners: tuple[str, ...], readings: tuple[Reading, ...], held: set[str], where: str
) -> None:
    known = set(corners) | held
    seen: dict[frozenset[str], tuple[str, float]] = {}
    names: set[str] = set()
    for name, a, b, length, sigma in readings:
        if name in names:
            raise InvalidInput(f"tape {name} named twice", "each name once", where=where)
        names.add(name)
        if a not in known or b not in known or a == b:
            raise InvalidInput(f"tape {name} from {a} to {b}", "two named points", where=where)
        if not (math.isfinite(length) and length > 0):
            raise InvalidInput(f"tape {name} of {length} m", "a length above 0", where=where)
        if not (math.isfinite(sigma) and sigma > 0):
            raise InvalidInput(f"tape {name} good to {sigma} m", "above 0", where=where)
        other, was = seen.setdefault(frozenset((a, b)), (name, length))
        if abs(length - was) > GROSS_MISCLOSURE:
            raise InvalidInput(
                f"tapes that cannot close: {other} {was:.3f} m and {name} {length:.3f} m "
                f"are of one distance",
                "readings alike",
                where=where,
                do="take the wrong one out",
            )


def _check_reach(names: tuple[str, ...], lengths: Lengths, first: set[int], where: str) -> None:
    """Refuse tapes that leave a corner loose, and say which tapes would hold it."""
    n = len(names)
    known = reached(n, lengths, first) if first else _largest(n, lengths)
    if len(known) == n:
        return
    loose = [i for i in range(n) if i not in known]
    pairs = _helpful(n, lengths, known, loose)
    need = 2 * n - 3
    kind = "tape" if first else "diagonal"
    told = " or ".join(f"{names[i]}-{names[j]}" for i, j in pairs[:NAMED])
    expected = (
        f"each of {', '.join(names[i] for i in loose)} taped from two known points"
        if first
        else f"{need} distances or more for {n} corners, each on two tapes from others"
    )
    raise InvalidInput(f"missing a {kind}: tape {told}", expected, where=where)


def _largest(n: int, lengths: Lengths) -> set[int]:
    """Find the largest part of the plan that hangs together from some triangle."""
    best: set[int] = set()
    for triangle in triangles_of(n, lengths):
        if not set(triangle) <= best:
            best = max(best, reached(n, lengths, set(triangle)), key=len)
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
