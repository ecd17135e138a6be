"""Tapered boards: rows along the fall, the even boards that fill up under them, and the order."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from shapely import Polygon
from shapely import box as rectangle
from shapely.affinity import affine_transform

from evenfall.calc.layout.board_plan import BoardRules
from evenfall.calc.layout.tapered_plan import Slant, TaperedBoards, TaperedPlan
from evenfall.calc.layout.tapered_rows import lay_rows
from evenfall.model.choice import Board
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import Plan, Point, TaperRows
from evenfall.model.taken_off import (
    BoardPart,
    OrderLine,
    RingMm,
    SawCut,
    SawnBoard,
    TaperKind,
    TaperLaid,
    TaperPiece,
)
from evenfall.standards import falls_practice, take_off_practice
from evenfall.working import Basis, Working, measured, weakest

MM = 1000
MOST_LAYERS = 2  # of fill-up boards under a row
SPECK_MM2 = 100.0
PROVED = "rows of tapered boards; a checker proves them"


@dataclass(frozen=True, slots=True)
class Fill:
    """A part of the deck under fill-up boards: its outline and the boards from the deck up."""

    ring: RingMm
    layers_mm: tuple[int, ...]


def lay(
    plan: Plan, rows: TaperRows, downhill: Point, board: Board, kerf_mm: int
) -> tuple[TaperedPlan, tuple[Fill, ...], tuple[Finding, ...]]:
    """Lay the rows, and part the deck by the thickness of what fills up under them.

    Parameters
    ----------
    plan : Plan
        Deck and openings [m].
    rows : TaperRows
        What is bought, and how it lies [mm].
    downhill : (x, y)
        Unit vector to the low side [-].
    board : Board
        The even board, which fills up [mm].
    kerf_mm : int
        Width of a saw cut [mm].

    Returns
    -------
    (plan, fills, findings)
        Rows; parts of the deck with fill-up boards; what cannot be filled up [mm].
    """
    stock = rows.stock
    boards = TaperedBoards(stock.one_in, stock.width_mm, stock.length_mm, stock.kinds)
    slant = Slant((rows.foot[0] * MM, rows.foot[1] * MM), downhill, rows.first_cut_mm)
    deck = tuple((round(x * MM), round(y * MM)) for x, y in plan.deck)
    holes = tuple(
        tuple((round(x * MM), round(y * MM)) for x, y in o.hole)
        for o in plan.openings if o.diameter_mm is None
    )  # fmt: skip
    found = lay_rows(deck, holes, boards, slant, BoardRules(kerf=kerf_mm))
    fills, lacking = list[Fill](), list[int]()
    for deep in sorted({p.fill_mm for p in found.pieces} - {0}):
        layers = next((n for n in range(1, MOST_LAYERS + 1) if deep in board.totals(n)), None)
        if layers is None:
            lacking.append(deep)
        else:
            fills += [Fill(r, board.made_of(deep, layers)) for r in _band(deck, found, deep)]
    return found, tuple(fills), tuple(_lacking(lacking, board))


def _band(deck: RingMm, plan: TaperedPlan, deep: int) -> Iterator[RingMm]:
    """Cut out of the deck what lies under the rows with one thickness of fill-up."""
    boards, slant = plan.boards_of, plan.slant
    turn = deep // boards.repeat_mm
    high = boards.length_mm * len(boards.kinds)
    (a, b), (u, v) = slant.foot, slant.downhill
    reach = max(abs(c) for p in deck for c in p) * 4 + high
    up = rectangle(-reach, turn * high - slant.first_cut_mm,
                   reach, (turn + 1) * high - slant.first_cut_mm)  # fmt: skip
    lying = affine_transform(up, (-v, -u, u, -v, a, b))
    found = Polygon(deck).intersection(lying)
    for part in getattr(found, "geoms", (found,)):
        if isinstance(part, Polygon) and part.area > SPECK_MM2:
            yield tuple((round(x), round(y)) for x, y in list(part.exterior.coords)[:-1])


def _lacking(deep: list[int], board: Board) -> Iterator[Finding]:
    """Say which fill-up no boards of the rates make: it is not ordered."""
    if not deep:
        return
    by = falls_practice.TAPERED_FALLS[0]
    told = ", ".join(f"{mm}" for mm in deep)
    says = (
        f"Under the upper rows of tapered boards {told} mm is to be filled up, and no one or two "
        f"thicknesses of {board.name} make that: this fill-up is neither in the order nor in the "
        "price, so this price is not ready to send."
    )
    cure = Remedy(f"Write such a thickness into the rates: boards[{board.name}].sizes, or take "
                  "another board.")  # fmt: skip
    yield Finding("fill-not-sold", "boards", "stop", says, by.source, by.basis, float(deep[0]),
                  None, "mm", cure)  # fmt: skip


def told(found: TaperedPlan, rows: TaperRows, basis: Basis) -> TaperLaid:
    """Tell the rows as the papers do: pieces, kinds bought, boards as sawn, the order.

    Parameters
    ----------
    found : TaperedPlan
        The rows [mm].
    rows : TaperRows
        What is bought [mm].
    basis : str
        Basis of the rates [-].

    Returns
    -------
    TaperLaid
        As handed on; the fill-up is with the even boards [mm].
    """
    stock = rows.stock
    kinds = tuple(
        TaperKind(thin, thick, found.bought(n), found.bounds[n])
        for n, (thin, thick) in enumerate(stock.kinds)
        if found.bought(n)
    )
    return TaperLaid(
        stock.name, stock.one_in, (stock.width_mm, stock.length_mm),
        tuple(_pieces(found)), kinds, tuple(_sawn(found)), tuple(_order(rows, kinds, basis)),
        found.breaches,
    )  # fmt: skip


def _pieces(found: TaperedPlan) -> Iterator[TaperPiece]:
    boards, opened = found.boards_of, set[int]()
    for p in found.pieces:
        thin, thick = boards.kinds[p.kind]
        part = next(x.part for x in found.boards[p.from_board].placed if x.piece == p.number)
        low = thin + part.y / boards.one_in
        yield TaperPiece(
            p.number, p.polygon, *p.size, p.row + 1, thin, thick, round(low),
            round(low + part.width / boards.one_in), p.fill_mm, p.from_board + 1,
            p.from_board in opened,
        )  # fmt: skip
        opened.add(p.from_board)


def _sawn(found: TaperedPlan) -> Iterator[SawnBoard]:
    for n, one in enumerate(found.boards, 1):
        if one.cuts:
            cuts = tuple(
                SawCut("across" if c.axis == "x" else "along",
                       c.at - (c.part.x if c.axis == "x" else c.part.y), BoardPart(*c.part))
                for c in one.cuts
            )  # fmt: skip
            pieces = tuple((p.piece, BoardPart(*p.part)) for p in one.placed)
            yield SawnBoard(n, cuts, pieces, tuple(BoardPart(*r) for r in one.rests))


def _order(rows: TaperRows, kinds: tuple[TaperKind, ...], basis: Basis) -> Iterator[OrderLine]:
    """Order each kind on a line of its own."""
    stock = rows.stock
    area = measured(stock.length_mm * stock.width_mm / MM**2, "m2", "the rates", basis)
    for kind in kinds:
        need = Working(
            "Tapered boards by their rows", "n", "each", PROVED, float(kind.bought),
            (("A_board", "m2", area),), "pieces of the rows of this kind sawn out of boards",
        )  # fmt: skip
        yield OrderLine(
            f"taper:{stock.name}:{kind.thin_mm}",
            f"{stock.says}, {kind.thin_mm} to {kind.thick_mm} mm", need, "each",
            ((kind.bought, 1.0, "board"),), need.value, weakest([need.basis, basis]),
        )  # fmt: skip


def tapered_m2(laid: TaperLaid | None) -> tuple[tuple[str, float], ...]:
    """Measure the layers that tapered boards add: themselves and what fills up under them.

    Parameters
    ----------
    laid : TaperLaid or None
        The rows [mm].

    Returns
    -------
    tuple of (str, float)
        What, and its area; nothing without tapered boards [m2].
    """
    if laid is None:
        return ()
    found = (("tapered boards", laid.pieces), ("fill-up", laid.fill))
    return tuple(
        (name, sum(Polygon(p.ring).area for p in pieces) / MM**2)
        for name, pieces in found if pieces
    )  # fmt: skip


def tapered_faces(laid: TaperLaid | None, bead_mm: float) -> list[tuple[str, float]]:
    """Count the faces of tapered boards and fill-up that are glued, as at the usual beads.

    Parameters
    ----------
    laid : TaperLaid or None
        The rows [mm].
    bead_mm : float
        Spacing of the beads, that of the worst zone [mm].

    Returns
    -------
    list of (str, float)
        What, and its area as at 300 mm beads [m2].
    """
    usual = take_off_practice.BEAD_REFERENCE_MM
    return [(f"{name}, at {bead_mm:g}", m2 * usual / bead_mm) for name, m2 in tapered_m2(laid)]
