"""A checker of plans of tapered boards that shares no code with the planner.

It lays each piece by what the piece says of itself (its row, its kind, where on the board it is cut
and which way it falls) and compares the thickness at its corners with that of the slope asked for.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import combinations
from typing import TYPE_CHECKING

from shapely import Polygon, unary_union

from evenfall.calc.layout.board_check import cover, narrowest, sawing

if TYPE_CHECKING:
    from evenfall.calc.layout.board_plan import BoardRules
    from evenfall.calc.layout.tapered_plan import Slant, TaperedBoards, TaperedPiece, TaperedPlan

Ring = tuple[tuple[int, int], ...]
NEAR = 2.0  # corners of a turned plan are rounded to the millimetre [mm]
THICK_MM = 0.5  # a board that is out by a row is out by 10 mm or more


def check_tapered_plan(
    plan: TaperedPlan,
    outline: Ring,
    holes: Sequence[Ring],
    boards: TaperedBoards,
    slant: Slant,
    rules: BoardRules,
) -> tuple[str, ...]:
    """Check a plan of tapered boards, whoever made it, and name every fault.

    Parameters
    ----------
    plan : TaperedPlan
        The plan [mm].
    outline : tuple of (int, int)
        Corners of the roof [mm].
    holes : sequence of tuple
        Openings where no board lies [mm].
    boards : TaperedBoards
        What is sold [mm].
    slant : Slant
        The slope asked for [mm].
    rules : BoardRules
        Smallest pieces, shift of joints, saw cut [mm].

    Returns
    -------
    tuple of str
        The faults, none when the plan is right [-].

    Examples
    --------
    >>> from evenfall.calc.layout.board_plan import BoardRules
    >>> from evenfall.calc.layout.tapered_plan import Slant, TaperedBoards
    >>> from evenfall.calc.layout.tapered_rows import lay_rows
    >>> sold = TaperedBoards(60, 1200, 1200, ((30, 50), (50, 70)))
    >>> roof, slant = ((0, 0), (4000, 0), (4000, 3000), (0, 3000)), Slant((0, 0), (0.0, -1.0))
    >>> plan = lay_rows(roof, (), sold, slant, BoardRules())
    >>> check_tapered_plan(plan, roof, (), sold, slant, BoardRules())
    ()
    >>> check_tapered_plan(plan, roof, (), sold, Slant((0, 0), (0.0, 1.0)), BoardRules())[0]
    'turned: piece T1 falls the other way than the roof'
    """
    region = Polygon(outline).difference(unary_union([Polygon(h) for h in holes]))
    shapes = [Polygon(p.polygon, p.cutouts).buffer(0) for p in plan.pieces]
    faults = [*cover(plan.pieces, shapes, region)]
    faults += sawing(plan, (boards.width_mm, boards.length_mm), rules.kerf)
    for piece, shape in zip(plan.pieces, shapes, strict=True):
        faults += _wedge(plan, piece, boards, slant)
        faults += _small(piece, shape, region, rules)
    faults += _joints(plan, shapes, slant, rules)
    return tuple(faults)


def _wedge(
    plan: TaperedPlan, piece: TaperedPiece, boards: TaperedBoards, slant: Slant
) -> Iterator[str]:
    """Compare a piece, as it says that it is cut and turned, with the slope at its corners."""
    (u, v), (s, t) = piece.falls_to, slant.downhill
    if u * s + v * t < 1 - 1e-6:
        yield f"turned: piece T{piece.number} falls the other way than the roof"
        return
    if plan.kinds[piece.from_board] != piece.kind:
        yield f"kind: piece T{piece.number} is cut from a board of another kind"
    part = next(p.part for p in plan.boards[piece.from_board].placed if p.piece == piece.number)
    thin, thick = boards.kinds[piece.kind]
    (a, b), rise = slant.foot, (thick - thin) / boards.length_mm
    ups = [(a - x) * s + (b - y) * t for x, y in piece.polygon]
    out = []
    for up in ups:
        along = up - min(ups) + part.y  # from the thin edge of the board
        asked = boards.kinds[0][0] + (up + slant.first_cut_mm) / boards.one_in
        out.append(piece.fill_mm + thin + along * rise - asked)
    if max(map(abs, out)) > THICK_MM:
        yield (f"wedge: piece T{piece.number} is {max(out, key=abs):+.0f} mm off the slope "
               "where it lies")  # fmt: skip
    if max(ups) - min(ups) > part.width + NEAR:
        yield f"wedge: piece T{piece.number} is longer along the fall than it is cut"


def _small(
    piece: TaperedPiece, shape: Polygon, region: Polygon, rules: BoardRules
) -> Iterator[str]:
    """Measure a piece as it lies, by the rectangle that is turned until it fits best."""
    edge = unary_union([p.exterior for p in getattr(region, "geoms", (region,))]).buffer(NEAR)
    outer = shape.exterior.intersection(edge).length > 10 * NEAR
    least = rules.min_perimeter_piece if outer else rules.min_piece
    wide = narrowest(shape)
    if wide < least - 2 * NEAR:
        yield f"small: piece T{piece.number} is {wide:.0f} mm, under {least} mm"


def _joints(
    plan: TaperedPlan, shapes: list[Polygon], slant: Slant, rules: BoardRules
) -> Iterator[str]:
    """Find wedges that are joined along the fall within a row, and joints of rows too near."""
    (a, b), (u, v) = slant.foot, slant.downhill
    seen = [Polygon([((x - a) * -v + (y - b) * u, (a - x) * u + (b - y) * v) for x, y in p.polygon])
            for p in plan.pieces]  # fmt: skip
    ends: dict[int, list[float]] = {}
    for i, j in combinations(range(len(seen)), 2):
        one, two = plan.pieces[i], plan.pieces[j]
        if one.row != two.row or shapes[i].distance(shapes[j]) > NEAR:
            continue
        (l1, b1, r1, t1), (l2, b2, r2, t2) = seen[i].bounds, seen[j].bounds
        if min(r1, r2) - max(l1, l2) > 5 * NEAR and min(t1, t2) - max(b1, b2) < 5 * NEAR:
            yield f"cut wedge: T{one.number} and T{two.number} are joined along the fall in a row"
        elif min(t1, t2) - max(b1, b2) > 5 * NEAR:
            ends.setdefault(one.row, []).append(min(r1, r2))
    for row, found in ends.items():
        for x in found:
            for other in ends.get(row - 1, []):
                if abs(x - other) < rules.stagger - 2 * NEAR:
                    apart = f"{abs(x - other):.0f} mm apart"
                    yield f"stagger: joints of rows {row} and {row + 1} {apart}"
