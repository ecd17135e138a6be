"""A checker of board plans that shares no code with the planner.

It lays the drawn pieces on the roof and saws every board again, cut by cut.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, sin
from typing import TYPE_CHECKING, NamedTuple, Protocol

from shapely import LineString, MultiPolygon, Point, Polygon, STRtree, unary_union
from shapely.affinity import affine_transform
from shapely.geometry.polygon import orient

if TYPE_CHECKING:
    from evenfall.calc.layout.boards import BoardPiece, BoardPlan, BoardRules
    from evenfall.calc.layout.guillotine import SawnBoard

Ring = tuple[tuple[int, int], ...]

Joint = tuple[float, float, float, frozenset[int]]


class Numbered(Protocol):
    """A piece of any plan: its number, the size it is cut to, the board it comes from."""

    @property
    def number(self) -> int:
        """Its number, from 1."""

    @property
    def size(self) -> tuple[int, int]:
        """Size as cut, mm."""

    @property
    def from_board(self) -> int:
        """Index of its board."""


class Sawn(Protocol):
    """Any plan that is sawn out of whole boards."""

    @property
    def pieces(self) -> Sequence[Numbered]:
        """All pieces."""

    @property
    def boards(self) -> Sequence[SawnBoard]:
        """All boards, each with its cuts."""


CROSS = 4  # pieces that meet in a cross
NEAR = 2.0  # corners of a turned plan are rounded to the millimetre [mm]


def check_board_plan(
    plan: BoardPlan,
    outline: Ring,
    holes: Sequence[Ring],
    board: tuple[int, int],
    rules: BoardRules,
) -> tuple[str, ...]:
    """Check a board plan, whoever made it, and name every fault.

    Parameters
    ----------
    plan : BoardPlan
        The plan [mm].
    outline : tuple of (int, int)
        Corners of the roof [mm].
    holes : sequence of tuple
        Openings where no board lies [mm].
    board : tuple of int
        Length and width of a board [mm].
    rules : BoardRules
        Smallest pieces, shift of joints, saw cut [mm].

    Returns
    -------
    tuple of str
        The faults, none when the plan is right [-].

    Examples
    --------
    >>> from evenfall.calc.layout.boards import BoardRules, plan_boards
    >>> roof = ((0, 0), (4800, 0), (4800, 2400), (0, 2400))
    >>> plan = plan_boards(roof, [], (2400, 1200))
    >>> check_board_plan(plan, roof, [], (2400, 1200), BoardRules())
    ()
    >>> check_board_plan(plan, roof, [], (2400, 1200), BoardRules(min_perimeter_piece=1300))[0]
    'perimeter piece: piece 1 is (2400, 1200) mm, under 1300 mm'
    """
    region = Polygon(outline).difference(unary_union([Polygon(h) for h in holes]))
    faults = [*_numbers(plan), *sawing(plan, (max(board), min(board)), rules.kerf)]
    found: list[_Joints] = []
    for layer in range(1, plan.layers + 1):
        pieces = [p for p in plan.pieces if p.layer == layer]
        faults += [
            f"shape: the outline of piece {p.number} crosses itself"
            for p in pieces if not Polygon(p.polygon).is_valid
        ]  # fmt: skip
        shapes = [_shape(p) for p in pieces]
        lying = [_turned(plan, s) for s in shapes]
        found.append(_joints(lying))
        faults += cover(pieces, shapes, region)
        faults += _sizes(plan, pieces, shapes, region, rules)
        faults += _stagger(pieces, lying, found[-1].ends, rules)
        faults += _crosses(found[-1], lying)
    for below, above in pairwise(found):
        faults += _layers(below, above, rules.layer_offset)
    return tuple(faults)


def _shape(piece: BoardPiece) -> Polygon:
    """Take the cutouts out; by rounding one may reach a millimetre over the edge of its piece."""
    whole = Polygon(piece.polygon).buffer(0)
    left = whole.difference(unary_union([Polygon(c) for c in piece.cutouts]))
    one = max(left.geoms, key=lambda g: g.area) if isinstance(left, MultiPolygon) else left
    return orient(one)  # anticlockwise, so that the right sides of a piece run upwards


class _Joints(NamedTuple):
    """Where pieces meet: place across the joint, its lower and upper end, the two pieces."""

    ends: list[Joint]  # end to end: x, from y to y
    sides: list[Joint]  # course to course: y, from x to x


def _numbers(plan: BoardPlan) -> Iterator[str]:
    if [p.number for p in plan.pieces] != list(range(1, len(plan.pieces) + 1)):
        yield "numbers: the pieces are not numbered from 1 in the order of laying"
    if {p.layer for p in plan.pieces} != set(range(1, plan.layers + 1)):
        yield f"numbers: the pieces are not laid in {plan.layers} layer(s)"


def cover(pieces: Sequence[Numbered], shapes: list[Polygon], region: Polygon) -> Iterator[str]:
    """Look for gaps, overlaps and overhang wider than two millimetres.

    Parameters
    ----------
    pieces : sequence
        Pieces with their numbers [-].
    shapes : list of Polygon
        Each as it lies [mm].
    region : Polygon
        What they are to cover [mm].

    Yields
    ------
    str
        A fault [-].
    """
    laid = unary_union(shapes)
    gap, over = _wide(region.difference(laid)), _wide(laid.difference(region))
    if gap:
        yield f"gap: {gap:.0f} mm2 of the roof bear no board"
    if over:
        yield f"overhang: {over:.0f} mm2 of board lie beside the roof or over an opening"
    tree = STRtree(shapes)
    for i, shape in enumerate(shapes):
        for j in sorted(int(k) for k in tree.query(shape) if k > i):
            both = _wide(shape.intersection(shapes[j]))
            if both:
                one, two = pieces[i].number, pieces[j].number
                yield f"overlap: pieces {one} and {two} share {both:.0f} mm2"


def _wide(shape: Polygon) -> float:
    """Return the area of a shape without what is narrower than the tolerance."""
    return float(shape.buffer(-NEAR / 2).buffer(NEAR / 2).area)


def sawing(plan: Sawn, board: tuple[int, int], kerf: int) -> Iterator[str]:
    """Saw every board again and see whether each piece is among the parts.

    Parameters
    ----------
    plan : BoardPlan or TaperedPlan
        Pieces and boards [mm].
    board : tuple of int
        Size of a whole board along x and along y of its cuts [mm].
    kerf : int
        Width of a saw cut [mm].

    Yields
    ------
    str
        A fault [-].
    """
    wanted = {p.number: p for p in plan.pieces}
    seen: list[int] = []
    for b, sawn in enumerate(plan.boards):
        name = f"board {b + 1}"
        parts = {(0, 0, *board)}
        for cut in sawn.cuts:
            x, y, length, width = cut.part
            if (x, y, length, width) not in parts:
                yield f"sawing: {name} has no part {tuple(cut.part)} to cut"
                continue
            parts.remove((x, y, length, width))
            first = cut.at - (x if cut.axis == "x" else y)
            rest = (length if cut.axis == "x" else width) - first - kerf
            if first <= 0 or rest <= -kerf:
                yield f"sawing: {name} is cut outside the part {tuple(cut.part)}"
                continue
            parts.add((x, y, first, width) if cut.axis == "x" else (x, y, length, first))
            if rest > 0 and cut.axis == "x":
                parts.add((cut.at + kerf, y, rest, width))
            elif rest > 0:
                parts.add((x, cut.at + kerf, length, rest))
        for number, part in sawn.placed:
            seen.append(number)
            if tuple(part) not in parts:
                yield f"sawing: piece {number} does not come out of {name}"
            parts.discard(tuple(part))
            piece = wanted.get(number)
            if piece is None or piece.from_board != b:
                yield f"sawing: piece {number} is not said to come from {name}"
            elif sorted(piece.size) != sorted(part[2:]):
                yield f"sawing: piece {number} is {piece.size}, but {tuple(part[2:])} is cut"
        if not set(map(tuple, sawn.rests)) <= parts:
            yield f"sawing: {name} has rests that are not left"
    if sorted(seen) != sorted(wanted):
        yield "sawing: not every piece is cut exactly once"


def _turned(plan: BoardPlan, shape: Polygon) -> Polygon:
    c, s = plan.along
    return affine_transform(shape, (c, s, -s, c, 0, 0))


def _sizes(
    plan: BoardPlan,
    pieces: list[BoardPiece],
    shapes: list[Polygon],
    region: Polygon,
    rules: BoardRules,
) -> Iterator[str]:
    """Measure each piece as it is drawn."""
    parts = region.geoms if isinstance(region, MultiPolygon) else (region,)
    edge = unary_union([p.exterior for p in parts]).buffer(NEAR)
    for piece, shape in zip(pieces, shapes, strict=True):
        x0, y0, x1, y1 = _turned(plan, shape).bounds
        if x1 - x0 > piece.size[0] + NEAR or y1 - y0 > piece.size[1] + NEAR:
            yield f"size: piece {piece.number} is drawn larger than {piece.size}"
        shared = shape.exterior.intersection(edge).length
        at_edge = shared > 5 * NEAR
        if (at_edge and not piece.is_perimeter) or (piece.is_perimeter and shared == 0):
            yield f"perimeter: piece {piece.number} is told wrongly"
        yield from _small(piece, at_edge, min(x1 - x0, y1 - y0, narrowest(shape)), rules)
        if len(piece.polygon) != 4 or piece.cutouts:
            half = (rules.min_piece - 1) / 2
            opened = shape.buffer(-half, join_style="mitre").buffer(half, join_style="mitre")
            if shape.difference(opened).area > rules.min_piece**2 / 2:
                yield f"thin part: piece {piece.number} is somewhere under {rules.min_piece} mm"


def _small(piece: BoardPiece, at_edge: bool, width: float, rules: BoardRules) -> Iterator[str]:
    least = rules.min_perimeter_piece if at_edge else rules.min_piece
    if min(width, *piece.size) < least - NEAR:
        kind = "perimeter piece" if at_edge else "small piece"
        yield f"{kind}: piece {piece.number} is {piece.size} mm, under {least} mm"


def narrowest(shape: Polygon) -> float:
    """Turn a piece until it stands on each side of its hull in turn: the least height.

    Parameters
    ----------
    shape : polygon
        The piece as it lies [mm].

    Returns
    -------
    float
        Its least width [mm].

    Examples
    --------
    >>> round(narrowest(Polygon([(0, 0), (400, 0), (0, 300)])), 6)
    240.0
    """
    hull = shape.convex_hull
    found = []
    for (px, py), (qx, qy) in _edges(hull):
        angle = atan2(qy - py, qx - px)
        c, s = cos(angle), sin(angle)
        _, low, _, high = affine_transform(hull, (c, s, -s, c, 0, 0)).bounds
        found.append(high - low)
    return float(min(found))


def _joints(lying: list[Polygon]) -> _Joints:
    """Find all joints of a layer, end to end and side by side."""
    upright = [affine_transform(s, (0, -1, 1, 0, 0, 0)) for s in lying]  # x' = -y, y' = x
    tree = STRtree([s.buffer(3 * NEAR) for s in lying])
    ends, sides = [], []
    for i, shape in enumerate(lying):
        for j in sorted(int(k) for k in tree.query(shape) if k > i):
            both = frozenset((i, j))
            ends += [(*end, both) for end in _shared_ends(shape, lying[j])]
            sides += [
                (-y, low, high, both) for y, low, high in _shared_ends(upright[i], upright[j])
            ]
    return _Joints(ends, sides)


def _stagger(
    pieces: list[BoardPiece], lying: list[Polygon], joints: list[Joint], rules: BoardRules
) -> Iterator[str]:
    """Find joints that stand too close above each other.

    Two that follow on along the straight end of one piece are a single joint, as where an opening
    parts what lies beside that piece.
    """
    for x, _, high, those in joints:
        for other, low, _, these in joints:
            if abs(high - low) > 2 * NEAR or abs(x - other) >= rules.stagger - NEAR:
                continue
            if abs(x - other) <= 2 * NEAR and those & these:
                continue
            yield (
                f"stagger: joints {abs(x - other):.0f} mm apart where piece "
                f"{pieces[min(those)].number} meets piece {pieces[min(these)].number}, under "
                f"{rules.stagger} mm"
            )


def _crosses(joints: _Joints, lying: list[Polygon]) -> Iterator[str]:
    """Find places where the corners of four pieces meet, whatever shift is asked."""
    for x, _, high, _ in joints.ends:
        for other, low, _, _ in joints.ends:
            if abs(high - low) <= 2 * NEAR and abs(x - other) <= 2 * NEAR:
                spot = Point(x, high).buffer(3 * NEAR)
                if sum(s.intersects(spot) for s in lying) >= CROSS:
                    yield f"cross joint: four corners meet at {x:.0f}, {high:.0f} along the courses"


def _layers(below: _Joints, above: _Joints, offset: int) -> Iterator[str]:
    """Find joints of two layers that run side by side too near to each other."""
    for lower, upper in ((below.ends, above.ends), (below.sides, above.sides)):
        for at, low, high, _ in upper:
            for other, start, end, _ in lower:
                shared = min(high, end) - max(low, start)
                if abs(at - other) < offset - NEAR and shared > 5 * NEAR:
                    yield (
                        f"layers: joints of two layers run {abs(at - other):.0f} mm apart for "
                        f"{shared:.0f} mm, under {offset} mm"
                    )


def _shared_ends(one: Polygon, two: Polygon) -> Iterator[tuple[float, float, float]]:
    """Yield the stretches along which two pieces meet end to end: x, lower and upper end."""
    if one.bounds[0] > two.bounds[0]:
        one, two = two, one
    if abs(one.bounds[2] - two.bounds[0]) > 2 * NEAR:
        return
    for (px, py), (qx, qy) in _edges(one):
        if abs(px - qx) > NEAR or qy - py < 5 * NEAR:  # the right sides of a piece run upwards
            continue
        for (rx, ry), (sx, sy) in _edges(two):
            if abs(rx - sx) > NEAR or ry - sy < 5 * NEAR or abs(px - rx) > NEAR:
                continue
            low, high = max(py, sy), min(qy, ry)
            if high - low > 5 * NEAR:
                yield (px + rx) / 2, low, high


def _edges(shape: Polygon) -> Iterator[tuple[tuple[float, float], tuple[float, float]]]:
    points = list(LineString(shape.exterior.coords).coords)
    return pairwise(points)
