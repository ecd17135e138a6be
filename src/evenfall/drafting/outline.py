"""The lists that a job cannot be without: corners, sides, tapes that hold them, levels, gutter."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any

import numpy as np
from numpy.typing import NDArray

from evenfall.calc.geometry.polygon import turn
from evenfall.calc.geometry.tapes import Offset, Tape, adjust
from evenfall.drafting.around import Around, entries
from evenfall.errors import InvalidInput
from evenfall.working import Basis

Made = tuple[str, Any, str, Basis, tuple[Any, ...]]
SHORT_M = 0.05  # a tape of which nothing is known is no shorter
GUESS_MM = 50  # what a corner put in by eye is said to be good to: the most that a job may say
LINE_MM = 300  # the level line stands so high above the highest corner
TAPED_M = 0.003  # what one tape is good to
BY_EYE_M = (0.05, 0.05)  # and a corner put in by eye, along the line and square to it
OLD_FALL = 150  # 1 in so many: what old flat roofs often lie near
FLATTER, STEEPER = 400, 60  # how flat and how steep they may well lie
LEAST = 3  # levels that make a plane
SAME = 1e-6  # a singular value below, of the largest, is none


def made(a: Around, survey: dict[str, Any]) -> Iterator[Made]:
    """Put in what lists must hold; what stands there stays.

    Parameters
    ----------
    a : Around
        The roof as far as it is known [-].
    survey : dict
        The survey, which is filled in [-].

    Yields
    ------
    tuple
        Path, value, reason, basis, and what else it may be [-].
    """
    yield from _corners(a, survey)
    yield from _sides(a, survey)
    yield from _lengths(a, survey)
    yield from _held(a, survey)
    yield from _levels(a, survey)
    yield from _gutter(a, survey)


def _corners(a: Around, survey: dict[str, Any]) -> Iterator[Made]:
    if survey.get("corners") is None:
        survey["corners"] = list(a.corners)
        says = f"{len(a.corners)} corners, from the house wall round to the right"
        yield "survey.corners", list(a.corners), says, "planning seed", ()


def _sides(a: Around, survey: dict[str, Any]) -> Iterator[Made]:
    """Give each side its entry, in the order round the roof; others stay at the end."""
    given = survey.get("sides")
    listed = given if isinstance(given, list) else []
    named = {e.get("side") for e in listed if isinstance(e, dict)}
    unnamed = [e for e in listed if isinstance(e, dict) and e.get("side") is None]
    for side in a.sides:
        if side not in named:
            entry = unnamed.pop(0) if unnamed else {}
            if entry:
                entry["side"] = side
                yield f"survey.sides[{side}].side", side, "the next side round", "planning seed", ()
            else:
                listed.append({"side": side})
    survey["sides"] = listed
    return


def _lengths(a: Around, survey: dict[str, Any]) -> Iterator[Made]:
    """Give a tape without a length that of the drawing, and the roof one tape at least."""
    given = survey.get("tapes")
    listed: list[Any] = given if isinstance(given, list) else []
    survey["tapes"] = listed
    at = dict(zip(a.corners, a.ring, strict=True))
    for tape in entries(survey, "tapes"):
        p, q = ([at.get(c) for c in str(tape.get("between", "-")).split("-")] + [None, None])[:2]
        if tape.get("length_m") is None and p and q and p != q:
            tape["length_m"] = length = round(max(SHORT_M, math.dist(p, q)), 3)
            tape.setdefault("accuracy_mm", GUESS_MM)
            yield _tape(str(tape["between"]), length)
    first = a.sides[0]
    if first not in {_sorted(str(t.get("between"))) for t in entries(survey, "tapes")} and not any(
        _sorted(str(t.get("between"))) == _sorted(first) for t in entries(survey, "tapes")
    ):
        length = round(math.dist(a.ring[0], a.ring[1]), 3)
        listed.append({"between": first, "length_m": length, "accuracy_mm": GUESS_MM})
        yield _tape(first, length)


def _tape(between: str, length: float) -> Made:
    others = (round(length * 0.9, 3), round(length * 1.1, 3))
    return (
        f"survey.tapes[{between}].length_m",
        length,
        "not taped yet, as drawn",
        "planning seed",
        others,
    )


def _sorted(between: str) -> str:
    return "-".join(sorted(between.split("-")))


def _held(a: Around, survey: dict[str, Any]) -> Iterator[Made]:
    """Hold each corner that the tapes leave loose where square corners put it."""
    held = rows(a, survey)
    if held is None:
        return
    given = survey.get("offsets")
    offsets: list[Any] = given if isinstance(given, list) else []
    loose: list[str] = []
    need = 2 * (len(a.corners) + len(_points(survey))) - 3
    for name in a.corners[2:]:
        if rank(held) >= need:
            break
        more = np.concatenate([held, _offset_rows(a, name, len(held[0]))])
        if rank(more) > rank(held):
            held, loose = more, [*loose, name]
    survey["offsets"] = offsets
    for name in loose or []:
        yield _set(a, offsets, name)
    for name in _folding(a, survey):
        yield _set(a, offsets, name)
    if not offsets:
        del survey["offsets"]


def _set(a: Around, offsets: list[Any], name: str) -> Made:
    """Put a corner in by a string line along the first side."""
    x, y = a.ring[a.corners.index(name)]
    line = a.sides[0]
    entry: dict[str, Any] = {"point": name, "line": line, "along_m": round(x, 3)}
    entry |= {"left_m": round(y, 3)} if y >= 0 else {"right_m": round(-y, 3)}
    offsets.append(entry | {"accuracy_mm": GUESS_MM})
    key = "left_m" if y >= 0 else "right_m"
    says = f"corner {name} where square corners put it, until a diagonal is taped"
    path = f"survey.offsets[{len(offsets) - 1}].{key}"
    far = round(abs(y), 3)
    return path, far, says, "planning seed", (round(far * 0.9, 3), round(far * 1.1 + 0.1, 3))


def _points(survey: dict[str, Any]) -> list[str]:
    found = survey.get("points")
    return [p for p in found if isinstance(p, str)] if isinstance(found, list) else []


def rows(a: Around, survey: dict[str, Any]) -> NDArray[np.float64] | None:
    """Say what the tapes hold of the drawing: one row to a tape.

    Parameters
    ----------
    a : Around
        The roof as far as it is known [m].
    survey : dict
        The survey with its tapes [-].

    Returns
    -------
    array of shape (tapes, coordinates), or None
        None where marks off the roof or a string line are measured too [-].
    """
    if _points(survey) or any(True for _ in entries(survey, "offsets")):
        return None
    at = {c: i for i, c in enumerate(a.corners)}
    xy = np.array(a.ring)
    found = []
    for tape in entries(survey, "tapes"):
        ends = str(tape.get("between", "")).split("-")
        if len(ends) == 2 and ends[0] in at and ends[1] in at and ends[0] != ends[1]:
            i, j = at[ends[0]], at[ends[1]]
            row, way = np.zeros(xy.size), xy[i] - xy[j]
            way = way / max(float(np.hypot(*way)), SAME)
            row[2 * i : 2 * i + 2], row[2 * j : 2 * j + 2] = way, -way
            found.append(row)
    return np.array(found).reshape(-1, xy.size)


def _offset_rows(a: Around, name: str, size: int) -> NDArray[np.float64]:
    """Two readings of a corner from the line of the first side, which lies along x."""
    k = a.corners.index(name)
    (_, _), (base, _), (x, y) = a.ring[0], a.ring[1], a.ring[k]
    rows = np.zeros((2, size))
    rows[0, 2 * k], rows[0, 0] = 1, -1
    rows[0, 3], rows[0, 1] = y / base, -y / base
    rows[1, 2 * k + 1], rows[1, 3], rows[1, 1] = 1, -x / base, x / base - 1
    return rows


def rank(rows: NDArray[np.float64]) -> int:
    """Count how much of the drawing some rows hold.

    Parameters
    ----------
    rows : array of shape (rows, coordinates)
        As of `rows` [-].

    Returns
    -------
    int
        Twice the corners less three where all is held [-].
    """
    return int(np.linalg.matrix_rank(rows, SAME)) if len(rows) else 0


def _folding(a: Around, survey: dict[str, Any]) -> Iterator[str]:
    """Name the corners that the tapes leave free to fold over the other way than was seen."""
    tapes = tuple(
        Tape(f"{t['between']} {k}", *_ends(t, "between"), float(t["length_m"]), TAPED_M)
        for k, t in enumerate(entries(survey, "tapes"))
        if _number(t.get("length_m")) and str(t.get("between")).count("-") == 1
    )
    squares = tuple(
        Offset(str(k), o["point"], *_ends(o, "line"), float(o["along_m"]), _left(o), *BY_EYE_M)
        for k, o in enumerate(entries(survey, "offsets"))
        if {"point", "line", "along_m"} <= set(o) and str(o["line"]).count("-") == 1
    )
    if _points(survey):
        return
    try:
        found = adjust(a.corners, tapes, offsets=squares)
    except (InvalidInput, ValueError, TypeError):
        return
    held = {o.point for o in squares}
    yield from (c for c in found.ambiguous if c not in held and c in a.corners[2:])
    if not found.ambiguous and survey.get("inner_corners"):
        meant, got = _turns(a.ring), _turns(found.polygon)
        if meant != got:
            yield from (c for c in a.corners[2:] if c not in held)


def _ends(entry: dict[str, Any], key: str) -> tuple[str, str]:
    a, b = str(entry[key]).split("-")
    return a, b


def _left(offset: dict[str, Any]) -> float:
    left = offset.get("left_m")
    return float(left) if left is not None else -float(offset.get("right_m") or 0.0)


def _turns(ring: tuple[tuple[float, float], ...]) -> list[bool]:
    n = len(ring)
    return [turn(ring[i - 1], ring[i], ring[(i + 1) % n]) > 0 for i in range(n)]


def _levels(a: Around, survey: dict[str, Any]) -> Iterator[Made]:
    """Give the old roof the fall that such roofs have, where nobody has read a staff."""
    if not isinstance(survey.get("levels"), list):
        survey["levels"] = []
    given = entries(survey, "levels")
    known = [v for v in given if _number(v.get("below_line_mm")) and _spot(a, v) is not None]
    lift = [float(v["below_line_mm"]) - _below(a, _spot(a, v)) for v in known]
    shift = sum(lift) / len(lift) if lift else 0.0
    for v in given:
        at = _spot(a, v)
        if v.get("below_line_mm") is None and at is not None:
            v["below_line_mm"] = value = round(max(1.0, _below(a, at) + shift))
            name = v.get("name") or v.get("corner")
            yield (
                f"survey.levels[{name}].below_line_mm",
                value,
                "no staff read yet",
                "planning seed",
                (),
            )
    if len([v for v in given if _spot(a, v) is not None]) < LEAST:
        yield _at_corners(a, survey["levels"], shift)


def _number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _spot(a: Around, v: dict[str, Any]) -> tuple[float, float] | None:
    if v.get("corner") in a.corners:
        return a.ring[a.corners.index(str(v["corner"]))]
    if v.get("side") in a.sides and _number(v.get("along_m")) and _number(v.get("in_m")):
        side = str(v["side"])
        (x0, y0), _ = a.ends(side)
        ox, oy = a.out(side)
        s, q = float(v["along_m"]), float(v["in_m"])
        return x0 - oy * s - ox * q, y0 + ox * s - oy * q
    return None


def _below(a: Around, at: tuple[float, float] | None, one_in: float = OLD_FALL) -> float:
    (x0, y0), _ = a.ends(a.low_side)
    ox, oy = a.out(a.low_side)
    x, y = at or (x0, y0)
    return LINE_MM - ((x0 - x) * ox + (y0 - y) * oy) * 1000 / one_in + 100


def _at_corners(a: Around, listed: list[Any], shift: float) -> Made:
    taken = {v.get("corner") for v in listed if isinstance(v, dict)}
    names = {v.get("name") for v in listed if isinstance(v, dict)}
    before = list(listed)

    def spots(one_in: float) -> list[dict[str, Any]]:
        return [
            {"name": _free(f"corner-{c.lower()}", names), "corner": c,
             "below_line_mm": round(max(1.0, _below(a, p, one_in) + shift))}
            for c, p in zip(a.corners, a.ring, strict=True) if c not in taken
        ]  # fmt: skip

    listed += spots(OLD_FALL)
    others = tuple((*before, *spots(f)) for f in (FLATTER, STEEPER))
    says = f"a fall of 1 in {OLD_FALL} to {a.low_side}, as old roofs often have"
    return "survey.levels", list(listed), says, "published, second-hand", others


def _free(name: str, taken: set[Any]) -> str:
    while name in taken:
        name += "x"
    return name


def _gutter(a: Around, survey: dict[str, Any]) -> Iterator[Made]:
    eaves = [s for s in a.sides if a.kinds[s] == "eaves"]
    if survey.get("gutters") is None and eaves:
        survey["gutters"] = [{"side": s} for s in eaves]
    return
    yield
