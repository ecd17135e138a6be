"""Boards: the plan of pieces, what is bought, and the bound that no plan can beat."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from shapely import Polygon

from evenfall.calc.geometry.clipping import clip_polygon, cut_out
from evenfall.calc.layout import guillotine
from evenfall.calc.layout.boards import BoardPlan, BoardRules, plan_boards
from evenfall.model.choice import Board
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import Falls, Plan, Ring
from evenfall.model.taken_off import (
    BoardPart,
    BoardPiece,
    Boards,
    OrderLine,
    RingMm,
    SawCut,
    SawnBoard,
)
from evenfall.stages.takeoff.tapered_boards import lay, told
from evenfall.standards import board_practice
from evenfall.working import Basis, Working, measured, weakest

MM = 1000


PROVED = "the board plan; a checker proves it"


@dataclass(frozen=True, slots=True)
class _Part:
    """A part of the deck under one stack of boards, and the plan of one layer of it."""

    layers_mm: tuple[int, ...]
    narrow_mm: int  # its lesser side
    found: BoardPlan


def work(
    plan: Plan,
    board: Board,
    layers_mm: tuple[int, ...],
    thorough: bool,
    basis: Basis,
    thin: tuple[tuple[tuple[Ring, ...], tuple[int, ...]], ...] = (),
    falls: Falls | None = None,
    kerf_mm: int = int(board_practice.KERF_MM),
) -> Boards:
    """Lay the boards and count what is bought; a thinner zone is laid by itself.

    Parameters
    ----------
    plan : Plan
        Deck and openings [m].
    board : Board
        Size of the board [mm].
    layers_mm : tuple of int
        Thickness of each layer, from the deck up [mm].
    thorough : bool
        Search longer [-].
    basis : str
        Basis of the rates [-].
    thin : tuple of (rings, layers)
        Parts of the deck with thinner boards, and these from the deck up [any].
    falls : Falls, optional
        The fall, with the tapered boards that are bought [-].
    kerf_mm : int
        Width of a saw cut [mm].

    Returns
    -------
    Boards
        Pieces, boards bought, bound, breaches and the order [mm].
    """
    holes = tuple(in_mm(o.hole) for o in plan.openings if o.diameter_mm is None)
    size, rules = (board.length_mm, board.width_mm), BoardRules(kerf=kerf_mm)
    parts = tuple(
        _Part(laid, _narrow(in_mm(ring)), plan_boards(
            in_mm(ring), _within(holes, ring), size, rules, quick=not thorough, layers=len(laid),
            share=len(set(laid)) == 1,
        ))
        for laid, ring in _regions(plan, layers_mm, thin)
    )  # fmt: skip
    rows, fills, lacking = (
        lay(plan, falls.rows, falls.downhill, board, kerf_mm) if falls and falls.rows
        else (None, (), ())
    )  # fmt: skip
    filled = tuple(
        _Part(f.layers_mm, _narrow(f.ring), plan_boards(
            f.ring, _over(holes, f.ring), size, rules, quick=True, layers=len(f.layers_mm),
            share=len(set(f.layers_mm)) == 1,
        ))
        for f in fills
    )  # fmt: skip
    pieces = _pieces((*parts, *filled))
    laid_even = sum(len(p.found.pieces) for p in parts)
    tapered = None
    if rows and falls and falls.rows:
        tapered = replace(told(rows, falls.rows, basis), fill=pieces[laid_even:])
    parts, even = (*parts, *filled), parts
    order = tuple(_order(parts, plan, board, basis))
    net = sum(p.found.net_area_mm2 for p in parts)
    bought = sum(p.found.boards_bought for p in parts)
    breaches = tuple(b for p in parts for b in p.found.breaches)
    breaches += tapered.breaches if tapered else ()
    return Boards(
        stock=board.name,
        layers_mm=layers_mm,
        pieces=pieces[:laid_even],
        bought=bought,
        bound=sum(p.found.lower_bound for p in parts),
        waste_percent=100 * (1 - net / (bought * board.length_mm * board.width_mm)),
        breaches=breaches,
        order=(*order, *(tapered.order if tapered else ())),
        findings=(
            *rules_broken(breaches, min(p.narrow_mm for p in even)),
            *lacking,
            *_layers(len(layers_mm), sum(layers_mm)),
        ),
        sawn=tuple(_sawn(parts)),
        size_mm=size,
        stopped_by="proof" if all(p.found.proven for p in parts) else "steps",
        tapered=tapered,
    )


def _regions(
    plan: Plan,
    layers_mm: tuple[int, ...],
    thin: tuple[tuple[tuple[Ring, ...], tuple[int, ...]], ...],
) -> Iterator[tuple[tuple[int, ...], Ring]]:
    """Part the deck by thickness: the field, then each zone that is thinner."""
    rings = tuple(r for zone, _ in thin for r in zone)
    for ring in cut_out(plan.deck, rings) if rings else (plan.deck,):
        yield layers_mm, ring
    for zone, laid in thin:
        for ring in zone:
            yield laid, ring


def _within(holes: tuple[RingMm, ...], ring: Ring) -> tuple[RingMm, ...]:
    """Pick the openings that reach into a part of the deck."""
    metres = [tuple((x / MM, y / MM) for x, y in hole) for hole in holes]
    return tuple(h for h, m in zip(holes, metres, strict=True) if clip_polygon(ring, m))


def _over(holes: tuple[RingMm, ...], ring: RingMm) -> tuple[RingMm, ...]:
    """Pick the openings that reach into a part of the deck under fill-up boards."""
    part = Polygon(ring)
    return tuple(h for h in holes if part.intersection(Polygon(h)).area > 1)


def _order(parts: tuple[_Part, ...], plan: Plan, board: Board, basis: Basis) -> Iterator[OrderLine]:
    """Order each thickness on a line of its own, that of the field first."""
    area = measured(board.length_mm * board.width_mm / MM**2, "m2", "the rates", basis)
    for mm in dict.fromkeys(mm for p in parts for mm in p.layers_mm):
        here = [p for p in parts if mm in p.layers_mm]
        net = measured(sum(p.found.net_area_mm2 for p in here) / MM**2, "m2", "the board plan")
        bought = Working(
            "Boards by the board plan", "n", "each", PROVED,
            float(sum(_of_thickness(p, mm) for p in here)),
            (("A_net", "m2", plan.net if len(parts) == 1 and len(parts[0].layers_mm) == 1 else net),
             ("A_board", "m2", area)),
            "pieces of all layers sawn out of boards",
        )  # fmt: skip
        yield _line(board, mm, bought, basis)


def _of_thickness(part: _Part, mm: int) -> int:
    """Count the boards of one thickness: each goes by the layer of its pieces."""
    layer = {p.number: p.layer for p in part.found.pieces}
    return sum(part.layers_mm[layer[b.placed[0].piece] - 1] == mm for b in part.found.boards)


def _line(board: Board, mm: int, bought: Working, basis: Basis) -> OrderLine:
    return OrderLine(
        f"board:{board.name}:{mm}", f"{board.says}, {mm} mm", bought, "each",
        ((round(bought.value), 1.0, "board"),), bought.value, weakest([bought.basis, basis]),
    )  # fmt: skip


def in_mm(ring: Ring) -> RingMm:
    """Round a ring to whole millimetres.

    Parameters
    ----------
    ring : tuple of (x, y)
        Corners [m].

    Returns
    -------
    tuple of (int, int)
        Corners [mm].

    Examples
    --------
    >>> in_mm(((0.0, 0.0), (5.4124, 0.0)))
    ((0, 0), (5412, 0))
    """
    return tuple((round(x * MM), round(y * MM)) for x, y in ring)


def _pieces(parts: tuple[_Part, ...]) -> tuple[BoardPiece, ...]:
    """List all pieces; numbers and boards run on from part to part."""
    pieces, boards, made = 0, 0, list[BoardPiece]()
    for part in parts:
        made += [
            BoardPiece(pieces + p.number, p.polygon, *p.size, boards + p.from_board + 1,
                       p.from_offcut, sum(part.layers_mm), p.layer)
            for p in part.found.pieces
        ]  # fmt: skip
        pieces, boards = len(made), boards + part.found.boards_bought
    return tuple(made)


def _sawn(parts: tuple[_Part, ...]) -> Iterator[SawnBoard]:
    """Tell the cuts as the saw sees them: each from the end of the part that is on the bench."""
    pieces = boards = 0
    for part in parts:
        for n, one in enumerate(part.found.boards, start=boards + 1):
            if one.cuts:
                yield _saw(n, one, pieces)
        pieces, boards = pieces + len(part.found.pieces), boards + part.found.boards_bought


def _saw(number: int, board: guillotine.SawnBoard, before: int) -> SawnBoard:
    cuts = tuple(
        SawCut(
            "across" if c.axis == "x" else "along",
            c.at - (c.part.x if c.axis == "x" else c.part.y),
            BoardPart(*c.part),
        )
        for c in board.cuts
    )
    pieces = tuple((before + p.piece, BoardPart(*p.part)) for p in board.placed)
    return SawnBoard(number, cuts, pieces, tuple(BoardPart(*r) for r in board.rests))


def _narrow(ring: RingMm) -> int:
    """Measure the lesser side of a part, as boards are laid in it."""
    xs, ys = zip(*ring, strict=True)
    return int(min(max(xs) - min(xs), max(ys) - min(ys)))


TRIED = "None of the plans that were tried keeps all rules."
CURES = {
    "perimeter piece": "Lay it as one with the piece beside it out of a larger board, or hold it "
    "down by itself; a smaller board may clear it.",
    "small piece": "Bed it on adhesive against the piece beside it, or let a larger board span it.",
    "thin part": "Part that piece at the corner of the opening and bed the narrow strip on "
    "adhesive.",
    "stagger": "Tape that joint, and put a fixing on either side of it; a longer board clears it.",
    "layers": "Tape that joint in the lower layer before the upper one is laid.",
}


def rules_broken(breaches: tuple[str, ...], narrow_mm: int) -> tuple[Finding, ...]:
    """Tell the first rule that the plan cannot keep, where, and what to do about it.

    Parameters
    ----------
    breaches : tuple of str
        As the plan tells them, each begun with its kind [-].
    narrow_mm : int
        Lesser side of the narrowest part of the roof [mm].

    Returns
    -------
    tuple of Finding
        One, or none where every rule is kept [-].

    Examples
    --------
    >>> rules_broken(("stagger: joints of courses 1 and 2 are 102 mm apart",), 4000)[0].code
    'board-rule'
    """
    if not breaches:
        return ()
    rule = board_practice.SMALLEST_PERIMETER_PIECE_MM
    says = f"The board plan breaks a rule: {breaches[0]}."
    more = len(breaches) - 1
    says += f" {more} more are listed with the plan." if more else ""
    cure = Remedy(f"{TRIED} {CURES[breaches[0].split(':')[0]]}")
    if narrow_mm < rule:
        cure = Remedy(
            f"No plan clears it: the roof is {narrow_mm} mm wide there. Lay strips of the full "
            "width, as long as the board gives, and hold each one down by itself."
        )
    return (Finding("board-rule", "boards", "note", says, rule.source, rule.basis, remedy=cure),)


def _layers(layers: int, chosen_mm: int) -> tuple[Finding, ...]:
    limit = board_practice.TWO_LAYERS_ABOVE_MM
    if layers == 2:
        offset = board_practice.LAYER_OFFSET_MM
        says = (
            f"Two layers: lay the second with its joints at least {offset:.0f} mm off those of "
            "the first, both ways. The plans of both layers are drawn."
        )
        return (Finding("second-layer", "boards", "note", says, offset.source, offset.basis),)
    if chosen_mm <= limit:
        return ()
    says = f"One layer of {chosen_mm} mm: above {limit:.0f} many lay two, joints staggered."
    return (
        Finding(
            "one-thick-layer", "boards", "note", says, limit.source, limit.basis, chosen_mm,
            limit.value, "mm",
        ),
    )  # fmt: skip
