"""Boards: the plan of pieces, what is bought, and the bound that no plan can beat."""

from __future__ import annotations

from evenfall.calc.layout import guillotine
from evenfall.calc.layout.boards import BoardPlan, plan_boards
from evenfall.model.choice import Board
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import Plan, Ring
from evenfall.model.taken_off import (
    BoardPart,
    BoardPiece,
    Boards,
    OrderLine,
    RingMm,
    SawCut,
    SawnBoard,
)
from evenfall.standards import board_practice
from evenfall.working import Basis, Working, measured, weakest

MM = 1000


PROVED = "the board plan; a checker proves it"


def work(
    plan: Plan, board: Board, chosen_mm: int, layers: int, thorough: bool, basis: Basis
) -> Boards:
    """Lay the boards and count what is bought.

    Parameters
    ----------
    plan : Plan
        Deck and openings [m].
    board : Board
        Size of the board [mm].
    chosen_mm : int
        Insulation, all layers together [mm].
    layers : int
        Layers [-].
    thorough : bool
        Search longer [-].
    basis : str
        Basis of the rates [-].

    Returns
    -------
    Boards
        Pieces, boards bought, bound, breaches and the order [mm].
    """
    holes = tuple(in_mm(o.hole) for o in plan.openings if o.diameter_mm is None)
    size = (board.length_mm, board.width_mm)
    found = plan_boards(in_mm(plan.deck), holes, size, quick=not thorough, layers=layers)
    bought = Working(
        "Boards by the board plan", "n", "each", PROVED, float(found.boards_bought),
        (("A_net", "m2", plan.net),
         ("A_board", "m2", measured(board.length_mm * board.width_mm / MM**2, "m2", "the rates",
                                    basis)),
         ("layers", "-", measured(layers, "-", "the job", "measured"))),
        "pieces sawn out of boards",
    )  # fmt: skip
    each = chosen_mm // layers
    order = OrderLine(
        f"board:{board.name}:{each}", f"{board.says}, {each} mm", bought, "each",
        ((found.boards_bought, 1.0, "board"),), bought.value, weakest([bought.basis, basis]),
    )  # fmt: skip
    used = found.net_area_mm2 / (found.boards_bought * board.length_mm * board.width_mm)
    return Boards(
        stock=board.name,
        thickness_mm=each,
        layers=layers,
        pieces=_pieces(found),
        bought=found.boards_bought,
        bound=found.lower_bound,
        waste_percent=100 * (1 - used),
        breaches=found.breaches,
        order=(order,),
        findings=(*_breaches(found), *_layers(layers, chosen_mm)),
        sawn=tuple(_sawn(n, b) for n, b in enumerate(found.boards, start=1) if b.cuts),
        size_mm=size,
        stopped_by="proof" if found.proven else "steps",
    )


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


def _pieces(found: BoardPlan) -> tuple[BoardPiece, ...]:
    return tuple(
        BoardPiece(p.number, p.polygon, *p.size, p.from_board + 1, p.from_offcut, p.layer)
        for p in found.pieces
    )


def _sawn(number: int, board: guillotine.SawnBoard) -> SawnBoard:
    """Tell the cuts as the saw sees them: each from the end of the part that is on the bench."""
    cuts = tuple(
        SawCut(
            "across" if c.axis == "x" else "along",
            c.at - (c.part.x if c.axis == "x" else c.part.y),
            BoardPart(*c.part),
        )
        for c in board.cuts
    )
    pieces = tuple((p.piece, BoardPart(*p.part)) for p in board.placed)
    return SawnBoard(number, cuts, pieces, tuple(BoardPart(*r) for r in board.rests))


def _breaches(found: BoardPlan) -> tuple[Finding, ...]:
    if not found.breaches:
        return ()
    rule = board_practice.SMALLEST_PERIMETER_PIECE_MM
    says = f"The board plan breaks a rule: {found.breaches[0]}."
    more = len(found.breaches) - 1
    says += f" {more} more are listed with the plan." if more else ""
    cure = Remedy("Shift the first course, or take a smaller board.")
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
