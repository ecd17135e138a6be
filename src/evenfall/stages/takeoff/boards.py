"""Boards: the plan of pieces, what is bought, and the bound that no plan can beat."""

from __future__ import annotations

from evenfall.calc.layout.boards import BoardPlan, plan_boards
from evenfall.model.choice import Board
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import Plan, Ring
from evenfall.model.taken_off import BoardPiece, Boards, OrderLine, RingMm
from evenfall.standards import board_practice
from evenfall.working import Basis, Working, formula, measured

MM = 1000


@formula("n", "each", "the board plan")
def bought_boards(n_plan: float, layers: float) -> float:
    """Boards to buy.

    Parameters
    ----------
    n_plan : float
        Boards that the plan of one layer saws up [each].
    layers : float
        Layers [-].

    Returns
    -------
    float
        Boards [each].

    Examples
    --------
    >>> bought_boards(11, 2)
    22
    """
    return n_plan * layers


def work(
    plan: Plan, board: Board, layers_mm: tuple[int, ...], thorough: bool, basis: Basis
) -> Boards:
    """Lay the boards and count what is bought.

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

    Returns
    -------
    Boards
        Pieces, boards bought, bound, breaches and the order [mm].
    """
    holes = tuple(in_mm(o.hole) for o in plan.openings if o.diameter_mm is None)
    found = plan_boards(
        in_mm(plan.deck), holes, (board.length_mm, board.width_mm), quick=not thorough
    )
    one = Working(
        "Boards of one layer, by the board plan", "n_plan", "each",
        "the board plan; a checker proves it", float(found.boards_bought),
        (("A_net", "m2", plan.net),
         ("A_board", "m2", measured(board.length_mm * board.width_mm / MM**2, "m2", "the rates",
                                    basis))),
        "pieces sawn out of boards",
    )  # fmt: skip
    order = tuple(
        _line(board, mm, bought_boards.show(one, layers_mm.count(mm)))
        for mm in dict.fromkeys(layers_mm)
    )
    bought, layers = sum(round(line.bought) for line in order), len(layers_mm)
    used = found.net_area_mm2 / (found.boards_bought * board.length_mm * board.width_mm)
    return Boards(
        stock=board.name,
        layers_mm=layers_mm,
        pieces=_pieces(found),
        bought=bought,
        bound=found.lower_bound * layers,
        waste_percent=100 * (1 - used),
        breaches=found.breaches,
        order=order,
        findings=(*_breaches(found), *_layers(layers, sum(layers_mm))),
    )


def _line(board: Board, mm: int, bought: Working) -> OrderLine:
    return OrderLine(
        f"board:{board.name}:{mm}", f"{board.says}, {mm} mm", bought, "each",
        ((round(bought.value), 1.0, "board"),), bought.value, bought.basis,
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


def _pieces(found: BoardPlan) -> tuple[BoardPiece, ...]:
    return tuple(
        BoardPiece(p.number, p.polygon, *p.size, p.from_board + 1, p.from_offcut)
        for p in found.pieces
    )


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
            "the first, both ways. The plan shows the first layer."
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
