"""A searched board plan drawn out: its pieces, the boards sawn, and every rule that it breaks."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from typing import NamedTuple

from evenfall.calc.layout.board_plan import BoardPiece, BoardPlan
from evenfall.calc.layout.board_search import State
from evenfall.calc.layout.board_settings import Setting, Terms, near_joints
from evenfall.calc.layout.courses import Cell, Ring, Turned, cells
from evenfall.calc.layout.guillotine import SawnBoard, Size, saw_boards
from evenfall.calc.layout.piece_shapes import SLACK, shape_of, too_thin


class Laid(NamedTuple):
    """One layer as the search found it."""

    setting: Setting
    state: State


def drawn(
    layers: Sequence[Laid], bound: int, area: int, saws: int, *, share: bool = True
) -> BoardPlan:
    """Draw the pieces of all layers, saw the boards, and list what is broken.

    Parameters
    ----------
    layers : sequence of Laid
        The lowest first [-].
    bound : int
        Boards that no plan can do without [each].
    area : int
        Area of all layers [mm2].
    saws : int
        Ways of sawing tried [-].
    share : bool
        Whether pieces of two layers may come out of one board [-].

    Returns
    -------
    BoardPlan
        The plan [mm].
    """
    terms = layers[0].setting.terms
    board = (terms.length, terms.width)
    laid = [_cells(layer) for layer in layers]
    # a piece may be a millimetre over by rounding of a turned roof
    sizes = [[(min(c.size[0], board[0]), min(c.size[1], board[1])) for _, c in l] for l in laid]
    boards = _sawn(sizes, board, terms.kerf, saws, share)
    first = {b: min(p.piece for p in sawn.placed) for b, sawn in enumerate(boards)}
    home = {p.piece: b for b, sawn in enumerate(boards) for p in sawn.placed}
    pieces: list[BoardPiece] = []
    shaped, thin = 0, list[str]()
    for depth, (layer, own) in enumerate(zip(layers, laid, strict=True), start=1):
        for (course, cell), size in zip(own, sizes[depth - 1], strict=True):
            n = len(pieces) + 1
            shape, edges = shape_of(cell.parts, cell.box)
            shaped += edges
            if edges and too_thin(shape, terms.min_piece):
                thin.append(f"thin part: piece {n} is somewhere under {terms.min_piece} mm")
            thin += _small(n, cell, size, terms)
            roof = layer.setting.roof
            rings = [_ring(roof, r.coords) for r in (shape.exterior, *shape.interiors)]
            pieces.append(
                BoardPiece(
                    n, course, rings[0], tuple(rings[1:]), size, cell.outer, home[n],
                    first[home[n]] < n, depth,
                )
            )  # fmt: skip
    rests = sum(p.length * p.width for sawn in boards for p in sawn.rests)
    cuts = shaped + sum(len(sawn.cuts) for sawn in boards)
    joints, before = list[str](), 0
    for layer, own in zip(layers, laid, strict=True):
        joints += (*_unstaggered(layer, own, before), *_clashes(layer))
        before += len(own)
    one = layers[0].setting
    return BoardPlan(
        one.side, one.roof.along, round(one.first), tuple(pieces), boards, bound, area, rests, cuts,
        (*thin, *joints), 0, len(layers),
    )  # fmt: skip


def _cells(layer: Laid) -> list[tuple[int, Cell]]:
    """Return all pieces in the order of laying, with the number of their course."""
    laid, joints = [], iter(layer.state.joints)
    for number, course in enumerate(layer.setting.courses, start=1):
        for run in course:
            laid += [(number, cell) for cell in cells(run, layer.setting.roof, next(joints))]
    return laid


def _sawn(
    sizes: list[list[Size]], board: Size, kerf: int, saws: int, share: bool
) -> tuple[SawnBoard, ...]:
    """Saw each layer by itself, or all together where that saves a board."""
    apart: list[SawnBoard] = []
    before = 0
    for own in sizes:
        apart += _numbered(saw_boards(own, board, kerf, saws), before)
        before += len(own)
    if len(sizes) > 1 and share:
        together = saw_boards([size for own in sizes for size in own], board, kerf, saws)
        if len(together) < len(apart):
            return tuple(_numbered(together, 0))
    return tuple(apart)


def _numbered(boards: Sequence[SawnBoard], before: int) -> list[SawnBoard]:
    """Count pieces from 1, and put the boards in the order in which they are opened."""
    counted = [
        replace(b, placed=tuple(p._replace(piece=p.piece + before + 1) for p in b.placed))
        for b in boards
    ]
    return sorted(counted, key=lambda b: min(p.piece for p in b.placed))


def _ring(roof: Turned, coords: Sequence[tuple[float, float]]) -> Ring:
    """Turn a closed ring back into the plan, without corners that fall together."""
    points = [roof.plan(x, y) for x, y in list(coords)[:-1]]
    kept = [p for p, q in zip(points, points[1:] + points[:1], strict=True) if p != q]
    twice = sum(p[0] * q[1] - q[0] * p[1] for p, q in zip(kept, kept[1:] + kept[:1], strict=True))
    if twice < 0:
        kept.reverse()
    start = kept.index(min(kept, key=lambda p: (p[1], p[0])))
    return tuple(kept[start:] + kept[:start])


def _small(n: int, cell: Cell, size: Size, terms: Terms) -> Iterator[str]:
    """Tell of a piece that is narrower than it may be."""
    least = terms.min_perimeter_piece if cell.outer else terms.min_piece
    if cell.least_width >= least - SLACK:
        return
    kind, where = (
        ("perimeter piece", " at the edge of the roof") if cell.outer else ("small piece", "")
    )
    yield f"{kind}: piece {n} ({size[0]} x {size[1]} mm) is under {least} mm wide{where}"


def _unstaggered(layer: Laid, own: Sequence[tuple[int, Cell]], before: int) -> list[str]:
    """List joints that stand too close above each other, each by the piece that ends there."""
    told: list[str] = []
    ends = {(course, cell.box[2]): before + n for n, (course, cell) in enumerate(own, start=1)}
    one, joints = layer.setting, iter(layer.state.joints)
    below: tuple[float, ...] = ()
    for number, course in enumerate(one.courses, start=1):
        here: tuple[float, ...] = ()
        for place in range(len(course)):
            lay = one.lay(number - 1, place, next(joints))
            for x in lay.low:
                for other in below:
                    if abs(x - other) < one.terms.stagger - 1:
                        piece = ends.get((number, x))
                        where = f" at the end of piece {piece}" if piece else ""
                        told.append(
                            f"stagger: joints of courses {number - 1} and {number} are "
                            f"{abs(x - other):.0f} mm apart{where}, under {one.terms.stagger} mm"
                        )
            here += lay.high
        below = here
    return told


def _clashes(layer: Laid) -> Iterator[str]:
    """List joints that lie too near above those of the layer below."""
    one, joints = layer.setting, iter(layer.state.joints)
    if one.under is None:
        return
    for y, other in one.near_lines:
        yield (
            f"layers: courses of two layers meet {abs(y - other):.0f} mm apart, "
            f"under {one.terms.offset} mm"
        )
    for course in one.courses:
        for run in course:
            for x, other in near_joints(run, next(joints), one.under, one.terms.offset):
                yield (
                    f"layers: joints of two layers are {abs(x - other):.0f} mm apart, "
                    f"under {one.terms.offset} mm"
                )
