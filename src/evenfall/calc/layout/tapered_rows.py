"""Tapered boards in rows along the fall: no piece is joined along the fall within its row.

A row takes its kind and its fill-up from its place, so pieces move only across the fall; an offcut
goes into another row of its kind and is never turned. First pieces of rows are searched by a beam;
the boards of each kind are then proven by the cutting of lengths.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor
from typing import NamedTuple

from shapely import Polygon, box, unary_union
from shapely.affinity import affine_transform

from evenfall.calc.layout.board_plan import BoardRules
from evenfall.calc.layout.courses import roof_less_openings
from evenfall.calc.layout.guillotine import Part, Placed, SawCut, SawnBoard
from evenfall.calc.layout.lengths import first_fit, plan_lengths
from evenfall.calc.layout.piece_shapes import least_width
from evenfall.calc.layout.tapered_plan import (
    Ring,
    Slant,
    TaperedBoards,
    TaperedPiece,
    TaperedPlan,
)
from evenfall.errors import InvalidInput

BEAM = 12  # beginnings kept from row to row
STEP_MM = 100  # between first pieces that are tried
SPECK = 50.0  # mm2; less is the rounding of a corner
NEAR = 1.0  # mm


class _Cell(NamedTuple):
    """A piece as it would lie, in rows: across the fall, up the fall."""

    row: int
    shape: Polygon
    outer: bool
    across: int  # width that it takes of a board


class _Stretch(NamedTuple):
    """One stretch of a row, laid with one first piece."""

    cells: tuple[_Cell, ...]
    joints: tuple[float, ...]
    small: int  # pieces that are smaller than they may be


@dataclass(frozen=True, slots=True)
class _Begun:
    """Rows laid so far."""

    cells: tuple[_Cell, ...] = ()
    joints: tuple[float, ...] = ()  # of the row that is being laid
    below: tuple[float, ...] = ()  # of the row before
    broken: float = 0.0  # rules broken, each by how much more


def lay_rows(
    outline: Ring,
    holes: Sequence[Ring],
    boards: TaperedBoards,
    slant: Slant,
    rules: BoardRules,
) -> TaperedPlan:
    """Lay tapered boards in rows over a roof that falls one way, and saw them out of whole boards.

    Parameters
    ----------
    outline : tuple of (int, int)
        Corners of the roof; none lies below the low edge [mm].
    holes : sequence of tuple
        Openings where no board lies [mm].
    boards : TaperedBoards
        What is sold [mm].
    slant : Slant
        Low edge and way of the fall [mm].
    rules : BoardRules
        Smallest pieces, shift of joints, saw cut [mm].

    Returns
    -------
    TaperedPlan
        Pieces row by row from the low edge, boards with their cuts, bounds, breaches [mm].

    Examples
    --------
    >>> sold = TaperedBoards(60, 1200, 1200, ((30, 50), (50, 70)))
    >>> roof = ((0, 0), (4000, 0), (4000, 3000), (0, 3000))
    >>> plan = lay_rows(roof, (), sold, Slant((0, 0), (0.0, -1.0)), BoardRules())
    >>> [plan.bought(kind) for kind in (0, 1)], plan.bounds, plan.breaches
    ([7, 4], (7, 4), ())
    >>> sorted({(p.row, p.kind, p.fill_mm) for p in plan.pieces})
    [(0, 0, 0), (1, 1, 0), (2, 0, 40)]
    """
    if min(boards.width_mm, boards.length_mm) <= max(rules.min_perimeter_piece, rules.kerf):
        raise InvalidInput(
            f"tapered board {boards.width_mm} x {boards.length_mm}",
            "a board wider than the smallest piece and the saw cut", where="tapers",
        )  # fmt: skip
    roof = unary_union([_level(s, slant) for s in roof_less_openings(outline, holes)])
    if roof.bounds[1] < -2 * NEAR:
        raise InvalidInput(f"{roof.bounds[1]:.0f} mm", "no corner below the low edge", where="foot")
    rows = list(_rows(roof, boards, slant.first_cut_mm))
    edge = unary_union([p.exterior for p in _parts(roof)]).buffer(NEAR)
    kept = [_Begun()]
    for row, parts in enumerate(rows):
        kept = [_Begun(b.cells, (), b.joints, b.broken) for b in kept]
        for part in parts:
            ways = list(_ways(row, part, edge, boards, rules))
            tried = [_after(b, way, rules.stagger) for b in kept for way in ways]
            kept = sorted(tried, key=lambda b: _rank(b, boards, rules))[:BEAM]
    best = min(kept, key=lambda b: _rank(b, boards, rules))
    return _drawn(best, rows, boards, slant, rules)


def _level(shape: Polygon, slant: Slant) -> Polygon:
    """Turn a shape so that x runs across the fall and y up it."""
    (a, b), (u, v) = slant.foot, slant.downhill
    return affine_transform(shape, (-v, u, -u, -v, a * v - b * u, a * u + b * v))


def _plan_of(x: float, y: float, slant: Slant) -> tuple[int, int]:
    """Turn a point back into the plan."""
    (a, b), (u, v) = slant.foot, slant.downhill
    return round(a - v * x - u * y), round(b + u * x - v * y)


def _rows(roof: Polygon, boards: TaperedBoards, cut: int) -> Iterator[list[Polygon]]:
    """Part the roof into rows; each may have several stretches."""
    left, _, right, top = roof.bounds
    for row in range(ceil((top + cut - NEAR) / boards.length_mm)):
        start = row * boards.length_mm - cut
        band = box(left - 1, max(start, -3 * NEAR), right + 1, start + boards.length_mm)
        yield sorted(_parts(roof.intersection(band)), key=lambda p: p.bounds)


def _parts(shape: Polygon) -> list[Polygon]:
    return [g for g in getattr(shape, "geoms", (shape,))
            if isinstance(g, Polygon) and g.area > SPECK]  # fmt: skip


def _ways(
    row: int, part: Polygon, edge: Polygon, boards: TaperedBoards, rules: BoardRules
) -> Iterator[_Stretch]:
    """Lay one stretch of a row with each first piece that is worth trying."""
    left, low, right, high = part.bounds
    for first in _firsts(right - left, boards.width_mm, rules.min_perimeter_piece):
        joints = _joints(left, right, first, boards.width_mm, rules.min_perimeter_piece)
        ends = [left - 1, *joints, right + 1]
        cells = tuple(
            _Cell(row, p, p.exterior.intersection(edge).length > 10 * NEAR, _across(p))
            for a, b in pairwise(ends)
            for p in _parts(part.intersection(box(a, low - 1, b, high + 1)))
        )
        yield _Stretch(cells, tuple(joints), sum(_small(c, rules) for c in cells))


def _joints(left: float, right: float, first: float, width: int, least: int) -> list[float]:
    """Set whole boards after the first piece; a sliver at the end takes from the board before."""
    joints = []
    at = left + first
    while at < right - NEAR:
        joints.append(at)
        at += width
    if len(joints) > 1 and right - joints[-1] < least and right - least - joints[-2] >= least:
        joints[-1] = right - least
    return joints


def _across(shape: Polygon) -> int:
    low, _, high, _ = shape.bounds
    return ceil(float(high - low) - NEAR / 2)


def _after(begun: _Begun, way: _Stretch, stagger: int) -> _Begun:
    """Lay a stretch after what is laid."""
    apart = (abs(x - z) for x in way.joints for z in begun.below)
    close = sum(2 - d / stagger for d in apart if d < stagger - NEAR)
    return _Begun((*begun.cells, *way.cells), (*begun.joints, *way.joints), begun.below,
                  begun.broken + way.small + close)  # fmt: skip


def _firsts(long: float, width: int, least: int) -> list[float]:
    """List first pieces that are worth trying, the likely ones first."""
    rest = long % width
    tried = [float(width), width / 2, rest, (rest + width) / 2, *range(least, width, STEP_MM)]
    return list(dict.fromkeys(round(min(f, long), 3) for f in tried if f >= min(least, long)))


def _small(cell: _Cell, rules: BoardRules) -> bool:
    least = rules.min_perimeter_piece if cell.outer else rules.min_piece
    return _narrowest(cell.shape) < least - 2 * NEAR


def _narrowest(shape: Polygon) -> float:
    return least_width(list(shape.exterior.coords)[:-1])


def _rank(begun: _Begun, boards: TaperedBoards, rules: BoardRules) -> tuple[float, ...]:
    """Broken rules, boards by a quick packing, cuts, pieces, then the first piece."""
    kinds: dict[int, list[int]] = {}
    for c in begun.cells:
        kinds.setdefault(boards.kind_of(c.row), []).append(c.across + rules.kerf)
    room = boards.width_mm + rules.kerf  # each piece takes its cut with it, the last needs none
    bought = sum(len(first_fit(sorted(w, reverse=True), room)) for w in kinds.values())
    cuts = sum(c.across < boards.width_mm for c in begun.cells)
    return (begun.broken, bought, cuts, len(begun.cells), *(round(j, 3) for j in begun.joints[:1]))


def _drawn(
    begun: _Begun,
    rows: list[list[Polygon]],
    boards: TaperedBoards,
    slant: Slant,
    rules: BoardRules,
) -> TaperedPlan:
    """Count the pieces, saw them, and say what is broken."""
    cells = sorted(begun.cells, key=lambda c: (c.row, c.shape.bounds))
    sawn, home = list[SawnBoard](), dict[int, int]()
    kinds, bounds = list[int](), list[int]()
    for kind in range(len(boards.kinds)):
        here = [n for n, c in enumerate(cells, 1) if boards.kind_of(c.row) == kind]
        plan = plan_lengths(
            [(str(n), min(cells[n - 1].across, boards.width_mm)) for n in here],
            [(boards.width_mm, 1)], rules.kerf,
        )  # fmt: skip
        parted = [p for r, ps in enumerate(rows) if boards.kind_of(r) == kind
                  for p in [_shadow(ps)]]  # fmt: skip
        bounds.append(ceil(sum(parted) / boards.width_mm - 1e-6))
        for bar in plan.bars:
            numbers = [int(c.name) for c in bar.cuts]
            home |= dict.fromkeys(numbers, len(sawn))
            sawn.append(_sawn(numbers, cells, boards, slant.first_cut_mm, rules.kerf))
            kinds.append(kind)
    size = {p.piece: (p.part.length, p.part.width) for b in sawn for p in b.placed}
    pieces = tuple(
        TaperedPiece(
            n, c.row, boards.kind_of(c.row), boards.fill_mm(c.row), _ring(c.shape.exterior, slant),
            tuple(_ring(r, slant) for r in c.shape.interiors), size[n], slant.downhill, home[n],
            c.outer,
        )
        for n, c in enumerate(cells, 1)
    )  # fmt: skip
    return TaperedPlan(boards, slant, pieces, tuple(sawn), tuple(kinds), tuple(bounds),
                       tuple(_breaches(cells, rules)))  # fmt: skip


def _shadow(parts: list[Polygon]) -> float:
    """Give the length across the fall over which a row lies at all."""
    total, end = 0.0, float("-inf")
    for low, high in sorted((p.bounds[0], p.bounds[2]) for p in parts):
        total += max(0.0, high - max(low, end))
        end = max(end, high)
    return total


def _sawn(
    numbers: list[int], cells: list[_Cell], boards: TaperedBoards, cut: int, kerf: int
) -> SawnBoard:
    """Saw a board along the fall first, then each strip at its ends."""
    long, wide = boards.length_mm, boards.width_mm
    whole = Part(0, 0, wide, long)
    cuts, placed, rests = list[SawCut](), list[Placed](), list[Part]()
    for number in numbers:
        across = min(cells[number - 1].across, wide)
        strip = whole
        if across < whole.length:
            cuts.append(SawCut(whole, "x", whole.x + across))
            strip = whole._replace(length=across)
            rest = whole.length - across - kerf
            whole = Part(whole.x + across + kerf, 0, max(rest, 0), long)
        else:
            whole = whole._replace(length=0)
        placed.append(Placed(number, _ended(strip, cells[number - 1], boards, cut, kerf, cuts,
                                            rests)))  # fmt: skip
    if whole.length > 0:
        rests.append(whole)
    return SawnBoard(tuple(cuts), tuple(placed), tuple(rests))


def _ended(
    strip: Part,
    cell: _Cell,
    boards: TaperedBoards,
    cut: int,
    kerf: int,
    cuts: list[SawCut],
    rests: list[Part],
) -> Part:
    """Cut a strip at its thin and at its thick end, where the row ends there."""
    start = cell.row * boards.length_mm - cut
    _, low, _, high = cell.shape.bounds
    thin, thick = floor(low - start + NEAR / 2), ceil(high - start - NEAR / 2)
    if thin > kerf:
        cuts.append(SawCut(strip, "y", thin - kerf))
        rests.append(strip._replace(width=thin - kerf))
        strip = strip._replace(y=thin, width=strip.width - thin)
    if strip.y + strip.width - thick > kerf:
        cuts.append(SawCut(strip, "y", thick))
        rests.append(strip._replace(y=thick + kerf, width=strip.y + strip.width - thick - kerf))
        strip = strip._replace(width=thick - strip.y)
    return strip


def _ring(ring: object, slant: Slant) -> Ring:
    """Turn a closed ring back into the plan, without corners that fall together."""
    points = [_plan_of(x, y, slant) for x, y in list(ring.coords)[:-1]]  # type: ignore[attr-defined]
    return tuple(p for p, q in zip(points, points[1:] + points[:1], strict=True) if p != q)


def _breaches(cells: list[_Cell], rules: BoardRules) -> Iterator[str]:
    """Tell small pieces, and joints of two rows that stand too near each other."""
    for n, c in enumerate(cells, 1):
        if _small(c, rules):
            kind = "perimeter piece" if c.outer else "small piece"
            yield f"{kind}: tapered piece T{n} is {_narrowest(c.shape):.0f} mm at its narrowest"
    ends: dict[int, list[tuple[float, int]]] = {}
    for n, c in enumerate(cells, 1):
        right = c.shape.bounds[2]
        if any(o.row == c.row and abs(o.shape.bounds[0] - right) < NEAR for o in cells):
            ends.setdefault(c.row, []).append((right, n))
    for row, found in ends.items():
        for x, n in found:
            for other, m in ends.get(row - 1, []):
                if abs(x - other) < rules.stagger - NEAR:
                    yield (f"stagger: joints {abs(x - other):.0f} mm apart where tapered pieces "
                           f"T{m} and T{n} end, under {rules.stagger} mm")  # fmt: skip
