"""What is known round a job that is only begun: its corners, its sides, the shape so far."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date
from typing import Any

from evenfall.calc.geometry.polygon import Polygon
from evenfall.calc.geometry.sketch import sketch
from evenfall.errors import InvalidInput
from evenfall.model.rates import Rates

USUAL_SIDE_M = 4.0  # a flat roof on a house is about so wide and so deep
FIRST = ("A", "B", "C", "D")  # the corners of a roof of which nothing is known
_BETWEEN = re.compile(r"([A-Za-z][A-Za-z0-9]{0,3})-([A-Za-z][A-Za-z0-9]{0,3})")


@dataclass(frozen=True)
class Around:
    """The roof so far, the firm's rates and the date: what a default may look at."""

    document: dict[str, Any]
    rates: Rates
    on: date
    corners: tuple[str, ...]
    ring: Polygon
    kinds: dict[str, str] = field(default_factory=dict)  # of each side

    @property
    def sides(self) -> tuple[str, ...]:
        """Names of the sides, anticlockwise from the first corner."""
        return ring_names(self.corners)

    def length_m(self, side: str) -> float:
        """Length of a side as drawn, in m."""
        return math.dist(*self.ends(side))

    def ends(self, side: str) -> tuple[tuple[float, float], tuple[float, float]]:
        """Both ends of a side; those of the first where there is no such side."""
        i = self.sides.index(side) if side in self.sides else 0
        return self.ring[i], self.ring[(i + 1) % len(self.ring)]

    def out(self, side: str) -> tuple[float, float]:
        """Return the unit vector out of the roof over a side."""
        (x0, y0), (x1, y1) = self.ends(side)
        length = math.dist((x0, y0), (x1, y1))
        return (y1 - y0) / length, (x0 - x1) / length

    @property
    def low_side(self) -> str:
        """Where the water runs to: the longest eaves, else the longest side without a wall."""
        falls = section(section(self.document, "design"), "falls").get("low_side")
        if falls in self.sides:
            return str(falls)
        for wanted in (("eaves",), ("verge", "parapet"), ("wall", "step", "party_line")):
            found = [s for s in self.sides if self.kinds.get(s) in wanted]
            if found:
                return max(found, key=lambda s: (round(self.length_m(s), 2), s))
        return self.sides[0]

    @property
    def along(self) -> str:
        """The side that the joists run along: that which runs most nearly down the fall."""
        ox, oy = self.out(self.low_side)

        def straight(side: str) -> float:
            x, y = self.out(side)
            return round(abs(x * oy - y * ox), 2)

        return max(self.sides, key=lambda s: (straight(s), round(self.length_m(s), 2)))

    def reach_m(self, side: str) -> float:
        """How far the roof reaches in the direction of a side, in m."""
        x, y = self.out(side)
        along = [-y * px + x * py for px, py in self.ring]
        return max(along) - min(along)

    def down_m(self, corner: int) -> float:
        """How far a corner lies from the low side, in m."""
        (x0, y0), _ = self.ends(self.low_side)
        ox, oy = self.out(self.low_side)
        x, y = self.ring[corner]
        return -((x - x0) * ox + (y - y0) * oy)


def section(document: Mapping[str, Any], key: str) -> dict[str, Any]:
    """Return a table of a document, or an empty one.

    Parameters
    ----------
    document : mapping
        Any table [-].
    key : str
        A key of it [-].

    Returns
    -------
    dict
        What stands there, if it is a table [-].
    """
    found = document.get(key)
    return found if isinstance(found, dict) else {}


def entries(survey: Mapping[str, Any], key: str) -> list[dict[str, Any]]:
    """Return the tables of a list.

    Parameters
    ----------
    survey : mapping
        The table that holds the list [-].
    key : str
        Its key [-].

    Returns
    -------
    list of dict
        Empty where there is no such list [-].
    """
    found = survey.get(key)
    return [e for e in found if isinstance(e, dict)] if isinstance(found, list) else []


def ring_names(corners: tuple[str, ...]) -> tuple[str, ...]:
    """Name the sides round a roof.

    Parameters
    ----------
    corners : tuple of str
        Corners, anticlockwise [-].

    Returns
    -------
    tuple of str
        Each side by its two corners [-].

    Examples
    --------
    >>> ring_names(("A", "B", "C"))
    ('A-B', 'B-C', 'C-A')
    """
    return tuple(f"{a}-{b}" for a, b in zip(corners, (*corners[1:], *corners[:1]), strict=True))


def look_around(document: dict[str, Any], rates: Rates, on: date) -> Around:
    """See what roof a document speaks of.

    Parameters
    ----------
    document : dict
        A job as far as it is known [-].
    rates : Rates
        What the firm buys [-].
    on : date
        The day on which it is asked [-].

    Returns
    -------
    Around
        Corners, shape, kinds of the sides [-].
    """
    survey = section(document, "survey")
    corners = _corners(document)
    seen = Around(document, rates, on, corners, _drawn(survey, corners))
    building = section(document, "job").get("building")
    return Around(document, rates, on, corners, seen.ring, _kinds(seen, survey, building))


def _corners(document: Mapping[str, Any]) -> tuple[str, ...]:
    """Take the corners as listed, else all that anything names, in the order of the sides."""
    survey = section(document, "survey")
    given = survey.get("corners")
    if isinstance(given, list) and len(given) >= 3 and all(isinstance(c, str) for c in given):
        return tuple(dict.fromkeys(given))
    points = survey.get("points")
    other = set(points) if isinstance(points, list) else set()
    after = dict(_two(t) for t in _texts(document))
    named = {*after, *after.values()}
    tapes = _sides_in(t.get("between") for t in entries(survey, "tapes"))
    named |= {c for t in tapes for c in t.split("-")}
    named |= {str(v["corner"]) for v in entries(survey, "levels") if v.get("corner")}
    rest = [c for c in FIRST if c not in named]
    return _ordered(named - other, after) + tuple(rest[: max(0, len(FIRST) - len(named - other))])


def _two(between: str) -> tuple[str, str]:
    a, b = between.split("-")
    return a, b


def _ordered(named: set[str], after: Mapping[str, str]) -> tuple[str, ...]:
    """Put corners in the order in which sides are named, else in that of the alphabet."""
    for head in sorted(named):
        round_ = [head]
        while (at := after.get(round_[-1])) in named and at not in round_:
            round_.append(str(at))
        if at == head and len(round_) >= len(FIRST) - 1:
            return tuple(round_)  # the sides close; what else is named is no corner
    left, ring = set(named), list[str]()
    heads = sorted(named - set(after.values())) + sorted(named)
    for head in heads:
        at = head
        while at in left:
            left.discard(at)
            ring.append(at)
            at = after.get(at, "")
    return tuple(ring)


def _texts(document: Mapping[str, Any]) -> Iterable[str]:
    survey = section(document, "survey")
    for key in ("sides", "openings", "heights", "windows", "levels", "gutters"):
        yield from _sides_in(e.get("side") for e in entries(survey, key))
    yield from _sides_in([section(survey, "joists").get("along")])
    yield from _sides_in([section(section(document, "design"), "falls").get("low_side")])


def _sides_in(found: Iterable[Any]) -> Iterable[str]:
    yield from (s for s in found if isinstance(s, str) and _BETWEEN.fullmatch(s))


def taped(survey: Mapping[str, Any], corners: tuple[str, ...]) -> dict[tuple[int, int], float]:
    """Collect the taped distances between corners, the last reading of each.

    Parameters
    ----------
    survey : mapping
        The survey as far as it is known [-].
    corners : tuple of str
        Names of the corners [-].

    Returns
    -------
    dict
        Length by the indices of both corners [m].
    """
    at = {c: i for i, c in enumerate(corners)}
    found = {}
    for tape in entries(survey, "tapes"):
        ends = str(tape.get("between", "")).split("-")
        length = tape.get("length_m")
        if len(ends) == 2 and ends[0] in at and ends[1] in at and _number(length):
            i, j = sorted((at[ends[0]], at[ends[1]]))
            if i != j and float(length) > 0:  # type: ignore[arg-type]
                found[i, j] = float(length)  # type: ignore[arg-type]
    return found


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool) and math.isfinite(value)


def _drawn(survey: Mapping[str, Any], corners: tuple[str, ...]) -> Polygon:
    inner = survey.get("inner_corners")
    turned = inner if isinstance(inner, list) else []
    at = frozenset(corners.index(c) for c in turned if c in corners)
    lengths = taped(survey, corners)
    reached = _reached(survey, ring_names(corners))
    try:
        return sketch(len(corners), at, lengths, _usual(lengths), reached)
    except InvalidInput:
        return sketch(max(len(corners), 3), frozenset(), lengths, USUAL_SIDE_M, reached)


def _reached(survey: Mapping[str, Any], sides: tuple[str, ...]) -> dict[int, float]:
    """Say how far along each side something was measured: it is no shorter than that."""
    found: dict[int, float] = {}
    for key in ("openings", "heights", "windows", "levels"):
        for e in entries(survey, key):
            side, along = e.get("side", sides[0]), e.get("along_m")
            if side in sides and _number(along):
                i = sides.index(side)
                found[i] = max(found.get(i, 0.0), float(along))  # type: ignore[arg-type]
    return found


def _usual(lengths: Mapping[tuple[int, int], float]) -> float:
    return min(USUAL_SIDE_M, max(lengths.values())) if lengths else USUAL_SIDE_M


def _kinds(seen: Around, survey: Mapping[str, Any], building: object) -> dict[str, str]:
    """Say what each side is: as told, else wall first, eaves over against it, the rest verges."""
    told = {str(s.get("side")): str(s["kind"]) for s in entries(survey, "sides") if s.get("kind")}
    kinds = {s: told[s] for s in seen.sides if s in told}
    free = [s for s in seen.sides if s not in kinds]
    if free and building != "garage" and free[0] == seen.sides[0]:
        kinds[free.pop(0)] = "wall"  # the walk begins with the house at one's back
    if free and "eaves" not in kinds.values():
        wall = next((s for s in seen.sides if kinds.get(s) == "wall"), None)
        kinds[_facing(seen, free, wall)] = "eaves"
    return {s: kinds.get(s, "verge") for s in seen.sides}


def _facing(seen: Around, free: list[str], wall: str | None) -> str:
    """Choose among some sides the one that faces away from the wall, of those the longest."""
    x, y = seen.out(wall) if wall else (0.0, 0.0)

    def away(side: str) -> tuple[float, float]:
        u, v = seen.out(side)
        return round(-(u * x + v * y), 1), round(seen.length_m(side), 2)

    return max(free, key=away)
