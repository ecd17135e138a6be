"""Board plans: insulation boards laid in courses over a roof, and sawn out of real boards.

A quick answer and a searched one; both keep the rules where a plan that keeps them is found, and
list what they break where not. All sizes in whole millimetres.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil

from shapely import MultiPolygon, Polygon, union_all

from evenfall.calc.layout.board_search import (
    Setting,
    State,
    Terms,
    first_courses,
    search,
    setting,
    sides_to_try,
)
from evenfall.calc.layout.courses import Cell, Ring, Turned, cells, roof_less_openings, turned
from evenfall.calc.layout.guillotine import SawnBoard, saw_boards
from evenfall.errors import InvalidInput
from evenfall.standards.board_practice import (
    KERF_MM,
    SMALLEST_PERIMETER_PIECE_MM,
    SMALLEST_PIECE_MM,
    SMALLEST_STAGGER_MM,
)

GRID = 0.001  # parts of a piece are joined to a thousandth [mm]
STRAIGHT = 0.02  # a corner that bends less is none [mm]
STEPS = 12_000  # beginnings looked at by the searched answer
QUICK = (1, 5)  # the quick answer: plans kept, and beginnings tried, for each course
FIRST = (3, 8)  # the searched answer, at all settings
CLOSE = (16, 40)  # the searched answer, at the best settings
SAWS_QUICK = 6  # ways of sawing tried
SAWS_CLOSE = 120  # the same, for the searched answer
FINALISTS = 8  # plans drawn out and compared


@dataclass(frozen=True, slots=True)
class BoardRules:
    """Smallest piece inside and at the perimeter, shift of end joints, saw cut [mm]."""

    min_piece: int = int(SMALLEST_PIECE_MM)
    min_perimeter_piece: int = int(SMALLEST_PERIMETER_PIECE_MM)
    stagger: int = int(SMALLEST_STAGGER_MM)
    kerf: int = int(KERF_MM)


@dataclass(frozen=True, slots=True)
class BoardPiece:
    """One piece as it lies: its corners in the plan, and the rectangle that it is cut from."""

    number: int  # in the order of laying, from 1
    course: int  # from 1
    polygon: Ring
    cutouts: tuple[Ring, ...]  # openings that lie wholly inside the piece
    size: tuple[int, int]  # along the course and across it
    is_perimeter: bool
    from_board: int  # index in BoardPlan.boards
    from_offcut: bool  # an earlier piece came from the same board


@dataclass(frozen=True, slots=True)
class BoardPlan:
    """A whole plan; ``breaches`` names every rule that it breaks."""

    side: int  # the courses follow the side from this corner to the next
    along: tuple[float, float]  # unit vector of the courses in the plan
    first_course: int  # width of the first course, rounded
    pieces: tuple[BoardPiece, ...]
    boards: tuple[SawnBoard, ...]  # each with its saw cuts; Placed.piece is the number of a piece
    lower_bound: int
    net_area_mm2: int
    offcut_mm2: int  # rests left whole
    cuts: int  # through boards, and along shaped edges of pieces
    breaches: tuple[str, ...]
    steps: int

    @property
    def boards_bought(self) -> int:
        """How many boards to buy."""
        return len(self.boards)


def plan_boards(
    outline: Ring,
    holes: Sequence[Ring],
    board: tuple[int, int],
    rules: BoardRules = BoardRules(),
    *,
    quick: bool = False,
    steps: int = STEPS,
) -> BoardPlan:
    """Lay boards in courses over a roof and saw the pieces out of as few boards as found.

    Parameters
    ----------
    outline : tuple of (int, int)
        Corners of the roof; a simple polygon, square or not [mm].
    holes : sequence of tuple
        Openings where no board lies [mm].
    board : tuple of int
        Length and width of a board; the courses are as wide as it [mm].
    rules : BoardRules
        Smallest pieces, shift of joints, saw cut [mm].
    quick : bool
        Only the likeliest beginnings [-].
    steps : int
        Most beginnings to be looked at [-].

    Returns
    -------
    BoardPlan
        Pieces in the order of laying, boards with their saw cuts, bound, breaches [mm].

    Examples
    --------
    >>> roof = ((0, 0), (7000, 0), (7000, 3000), (3500, 3000), (3500, 5600), (0, 5600))
    >>> plan = plan_boards(roof, [], (2400, 1200), quick=True)
    >>> plan.boards_bought, plan.lower_bound, plan.breaches
    (11, 11, ())
    """
    length, width = max(board), min(board)
    if width <= max(rules.min_perimeter_piece, rules.kerf):
        raise InvalidInput(f"board {board}", "a board wider than the smallest piece", where="board")
    terms = Terms(
        length, width, rules.min_piece, rules.min_perimeter_piece, rules.stagger, rules.kerf
    )
    parts = roof_less_openings(outline, holes)
    area = sum(p.area for p in parts)
    settings = _settings(outline, parts, terms, quick=quick)
    found, taken = _searched(settings, terms, quick=quick, steps=steps)
    bound = ceil(area / (length * width) - 1e-9)
    best: BoardPlan | None = None
    for one, state in found:
        plan = _drawn(
            one, state, bound, round(area), taken, saws=SAWS_QUICK if quick else SAWS_CLOSE
        )
        if best is None or _rank(plan) < _rank(best):
            best = plan
        if not best.breaches and best.boards_bought == bound and quick:
            break
    assert best is not None
    return best


def _rank(plan: BoardPlan) -> tuple[int, int, int]:
    return len(plan.breaches), plan.boards_bought, plan.cuts


def _settings(
    outline: Ring, parts: Sequence[Polygon], terms: Terms, *, quick: bool
) -> list[Setting]:
    """Every direction with every first course worth trying."""
    settings = []
    for side in sides_to_try(outline, quick=quick):
        roof = turned(parts, outline[side], outline[(side + 1) % len(outline)])
        settings += [
            setting(side, roof, terms, first) for first in first_courses(roof, terms, quick=quick)
        ]
    return settings


def _searched(
    settings: list[Setting], terms: Terms, *, quick: bool, steps: int
) -> tuple[list[tuple[Setting, State]], int]:
    """Look quickly at all settings, then closely at the best ones while steps last."""
    found: list[tuple[Setting, State]] = []
    taken = 0
    for one in settings:
        states, used = search(one, *(QUICK if quick else FIRST), steps)
        found += [(one, state) for state in states[:1]]
        taken += used
    found.sort(key=lambda f: _promise(f, terms))
    if quick:
        return found[:2], taken
    for one, _ in tuple(found):
        if taken >= steps:
            break
        states, used = search(one, *CLOSE, steps - taken)
        found += [(one, state) for state in states[:4]]
        taken += used
    found.sort(key=lambda f: _promise(f, terms))
    return found[:FINALISTS], taken


def _promise(found: tuple[Setting, State], terms: Terms) -> tuple[int, int, float, int]:
    state = found[1]
    largest = max((l * w for l, w in state.free), default=0)
    return state.breaches, state.boards, -largest / terms.length, state.pieces


# --- drawing the plan --------------------------------------------------------------------------


def _drawn(
    one: Setting, state: State, bound: int, area: int, steps: int, *, saws: int
) -> BoardPlan:
    """Draw the pieces, saw the boards, and list what is broken."""
    laid = _laid(one, state)
    sizes = [cell.size for _, cell in laid]
    terms = one.terms
    board = (terms.length, terms.width)
    # a piece may be a millimetre over by rounding of a turned roof
    sizes = [(min(l, board[0]), min(w, board[1])) for l, w in sizes]
    boards = _numbered(saw_boards(sizes, board, terms.kerf, saws))
    first = {b: min(p.piece for p in sawn.placed) for b, sawn in enumerate(boards)}
    home = {p.piece: b for b, sawn in enumerate(boards) for p in sawn.placed}
    pieces, shaped, thin = [], 0, []
    for n, ((course, cell), size) in enumerate(zip(laid, sizes, strict=True), start=1):
        shape, edges = _shape(cell)
        shaped += edges
        if edges and _too_thin(shape, terms.min_piece):
            thin.append(f"thin part: piece {n} is somewhere under {terms.min_piece} mm")
        rings = [_ring(one.roof, r.coords) for r in (shape.exterior, *shape.interiors)]
        pieces.append(
            BoardPiece(
                n, course, rings[0], tuple(rings[1:]), size, cell.outer, home[n], first[home[n]] < n
            )
        )
    rests = sum(p.length * p.width for sawn in boards for p in sawn.rests)
    cuts = shaped + sum(len(sawn.cuts) for sawn in boards)
    breaches = (*_small(pieces, terms), *_unstaggered(one, state), *thin)
    return BoardPlan(
        one.side, one.roof.along, round(one.first), tuple(pieces), boards, bound, area, rests, cuts,
        breaches, steps,
    )  # fmt: skip


def _laid(one: Setting, state: State) -> list[tuple[int, Cell]]:
    """Return all pieces in the order of laying, with the number of their course."""
    laid, joints = [], iter(state.joints)
    for number, course in enumerate(one.courses, start=1):
        for run in course:
            laid += [(number, cell) for cell in cells(run, one.roof, next(joints))]
    return laid


def _numbered(boards: Sequence[SawnBoard]) -> tuple[SawnBoard, ...]:
    """Count pieces from 1, and put the boards in the order in which they are opened."""
    counted = [
        SawnBoard(b.cuts, tuple(p._replace(piece=p.piece + 1) for p in b.placed), b.rests)
        for b in boards
    ]
    return tuple(sorted(counted, key=lambda b: min(p.piece for p in b.placed)))


def _shape(cell: Cell) -> tuple[Polygon, int]:
    """Join the parts of a cell; count the edges that are cut by hand, beside its box."""
    x0, y0, x1, y1 = cell.box
    if len(cell.parts) == 1 and len(set(cell.parts[0])) == 4:
        corners = cell.parts[0]
        if all(x in (x0, x1) and y in (y0, y1) for x, y in corners):
            return Polygon(corners), 0
    joined = union_all([Polygon(p) for p in cell.parts], grid_size=GRID)
    if isinstance(joined, MultiPolygon):  # parts that meet in less than a millimetre
        joined = max(joined.geoms, key=lambda g: g.area)
    shape = joined.simplify(STRAIGHT)
    points = list(shape.exterior.coords)
    lines = ((0, x0), (0, x1), (1, y0), (1, y1))
    own = sum(
        not any(abs(p[k] - v) < 1 and abs(q[k] - v) < 1 for k, v in lines)
        for p, q in pairwise(points)
    )
    return shape, own + sum(len(ring.coords) - 1 for ring in shape.interiors)


def _too_thin(shape: Polygon, least: int) -> bool:
    """Tell whether some part of a shaped piece is narrower than a board may be."""
    half = (least - 1) / 2
    opened = shape.buffer(-half, join_style="mitre").buffer(half, join_style="mitre")
    return bool(shape.difference(opened).area > least * least / 2)


def _ring(roof: Turned, coords: Sequence[tuple[float, float]]) -> Ring:
    """Turn a closed ring back into the plan, without corners that fall together."""
    points = [roof.plan(x, y) for x, y in list(coords)[:-1]]
    kept = [p for p, q in zip(points, points[1:] + points[:1], strict=True) if p != q]
    twice = sum(p[0] * q[1] - q[0] * p[1] for p, q in zip(kept, kept[1:] + kept[:1], strict=True))
    if twice < 0:
        kept.reverse()
    start = kept.index(min(kept, key=lambda p: (p[1], p[0])))
    return tuple(kept[start:] + kept[:start])


def _small(pieces: Sequence[BoardPiece], terms: Terms) -> list[str]:
    told = []
    for piece in pieces:
        if piece.is_perimeter and min(piece.size) < terms.min_perimeter_piece:
            told.append(
                f"perimeter piece: piece {piece.number} is {piece.size[0]} x {piece.size[1]} mm, "
                f"under {terms.min_perimeter_piece} mm at the edge of the roof"
            )
        elif min(piece.size) < terms.min_piece:
            told.append(
                f"small piece: piece {piece.number} is {piece.size[0]} x {piece.size[1]} mm, "
                f"under {terms.min_piece} mm"
            )
    return told


def _unstaggered(one: Setting, state: State) -> list[str]:
    """List joints that stand too close above each other."""
    told: list[str] = []
    joints = iter(state.joints)
    below: tuple[float, ...] = ()
    for number, course in enumerate(one.courses, start=1):
        here: tuple[float, ...] = ()
        for place in range(len(course)):
            own = next(joints)
            start = own[0] - course[place].x0 if own else float(one.terms.length)
            lay = one.lay(number - 1, place, start)
            for x in lay.low:
                for other in below:
                    if abs(x - other) < one.terms.stagger - 1:
                        told.append(
                            f"stagger: joints of courses {number - 1} and {number} are "
                            f"{abs(x - other):.0f} mm apart, under {one.terms.stagger} mm"
                        )
            here += lay.high
        below = here
    return told
