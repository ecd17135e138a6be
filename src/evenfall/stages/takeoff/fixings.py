"""Fixings: where every screw of every piece of board goes, and how edges are held."""

from __future__ import annotations

from collections import Counter
from math import floor

import shapely

from evenfall.calc.layout.fixing_pattern import pattern
from evenfall.calc.loads.edge_fixings import edge_centres_mm
from evenfall.calc.loads.fixings import embedment_mm, fixings_in_piece
from evenfall.model.choice import Board, BuildUp
from evenfall.model.designed import Wind, WindZone
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import Ring
from evenfall.model.taken_off import BoardPiece, Fixings, PieceFixed
from evenfall.stages.design.holding import EDGE_ZONES, least_per_board
from evenfall.stages.takeoff.edge_held import (
    UNKNOWN,
    EdgeScrews,
    course_holds,
    tell,
    trim_holds,
)
from evenfall.standards import en_1990, fixing_practice, take_off_practice
from evenfall.working import Cited, Table, Working, measured, total, weakest

MM = 1000
KILO = 1000
PERCENT = 100
TOUCH_M2 = 1e-4  # a square centimetre: less is the rounding of an edge
EDGES = (
    ("edge timber to deck", "pulled out of this deck as those of the boards"),
    ("edge timber to the course below", "wood screws, withdrawn"),
    ("trims to edge timber", "trim screws, withdrawn"),
)
HOLDS = (
    ("interface", "-"), ("held by", "-"), ("pull", "-"), ("holds", "-"), ("in", "-"),
    ("spare", "%"),
)  # fmt: skip
COLUMNS = (("source", "-"), ("says", "-"), ("screws in a board", "each"))


def work(
    pieces: tuple[BoardPiece, ...],
    wind: Wind,
    build: BuildUp,
    screwed: bool,
    screws: EdgeScrews = UNKNOWN,
) -> Fixings:
    """Put the screws into every piece by the worst wind zone that it touches.

    Parameters
    ----------
    pieces : tuple of BoardPiece
        The uppermost layer of boards [mm].
    wind : Wind
        Zones, screws in a whole board, resistance of a screw [-].
    build : BuildUp
        The whole board, and the layers of a thickness [mm].
    screwed : bool
        Whether screws hold the boards; glue leaves only the edges [-].
    screws : EdgeScrews
        Screws of trims and edge timber, as the rates tell them [mm, N/mm2].

    Returns
    -------
    Fixings
        Places, count, the sources side by side, centres along edges [mm].
    """
    board = build.board
    placed = _pieces(pieces, wind.zones, build) if screwed else ()
    count = Counter(p.zone for p in placed for _ in p.places)
    need = total(
        "Screws, piece by piece", "n", "each",
        [(f"zone {zone}", float(n)) for zone, n in sorted(count.items())] or [("glued", 0.0)],
    )  # fmt: skip
    worst = min((z.pressure for z in wind.zones), key=lambda p: p.value)
    timber = take_off_practice.TIMBER_SCREW_SPACING
    trim = take_off_practice.TRIM_SCREWS_PER_M
    alone = (wind.resistance, course_holds(screws.timber), trim_holds(screws.trim))
    weaker = min(alone[:2], key=lambda R: R.value)
    edges = (
        edge_centres_mm.show(worst, weaker, _mm(timber * MM, timber)),
        edge_centres_mm.show(worst, alone[2], _mm(MM / trim, trim)),
    )
    return Fixings(
        placed, need, _least(wind), what_holds_what(wind, board, screwed, alone, edges),
        edges[0], edges[1],
        (*(_tell(placed, wind, board) if screwed else ()), *tell(screws)),
        _depth() if screwed else None,
    )  # fmt: skip


def what_holds_what(
    wind: Wind,
    board: Board,
    screwed: bool,
    alone: tuple[Working, ...],
    edges: tuple[Working, Working],
) -> Table:  # fmt: skip
    """Set every interface from the sheet down beside what holds it, and along the edges.

    Parameters
    ----------
    wind : Wind
        Glued faces, zones, resistance of a screw [-].
    board : Board
        The whole board [mm].
    screwed : bool
        Whether screws hold the boards [-].
    alone : tuple of Working
        One screw of edge timber in the deck, in the course below, and of a trim in timber [N].
    edges : tuple of Working
        Centres of the screws in edge timber and in trims [mm].

    Returns
    -------
    Table
        Interface, what holds it, design pull, what it holds, spare in per cent of the pull [-].
    """
    kilo = float(KILO)
    rows = [
        _row(f.says, f.by, f.pull.value / kilo,
             None if f.holds is None else float(f.holds) / kilo, "kN/m²")
        for f in wind.faces
    ]  # fmt: skip
    if screwed:
        rows.append(_of_board(wind, board))
    worst = min(z.pressure.value for z in wind.zones)
    pull = -en_1990.GAMMA_Q * worst * fixing_practice.EDGE_STRIP
    rows += [
        _row(says, f"screws at {centres.value:.0f} mm: {how}", pull,
             one.value / centres.value * MM, "N/m")
        for (says, how), one, centres in zip(EDGES, alone, (edges[0], *edges), strict=True)
    ]  # fmt: skip
    basis = weakest((wind.bond.basis, *(one.basis for one in alone), *(
        f.holds.basis for f in wind.faces if f.holds is not None)))  # fmt: skip
    return Table("What holds what", HOLDS, tuple(rows), wind.safety, basis)


def _of_board(wind: Wind, board: Board) -> tuple[float | str, ...]:
    """Give the whole board whose screws have least to spare."""
    area = board.length_mm * board.width_mm / MM**2
    loads = [
        (-en_1990.GAMMA_Q * z.pressure.value * area, z.per_board * wind.resistance.value, z)
        for z in wind.zones
    ]
    pull, holds, zone = min(loads, key=lambda row: row[1] / row[0])
    by = f"{zone.per_board} screws in a whole board, zone {zone.zone}"
    return _row("boards and VCL to deck", by, pull, holds, "N")


def _row(
    says: str, by: str, pull: float, holds: float | None, unit: str
) -> tuple[float | str, ...]:  # fmt: skip
    if holds is None:
        return says, by, pull, "ask the maker", unit, "not declared"
    return says, by, pull, holds, unit, float(floor(PERCENT * (holds / pull - 1)))


def _mm(value: float, of: Cited) -> Cited:
    return Cited(value, "mm", of.source, of.where, of.basis)


def _pieces(
    pieces: tuple[BoardPiece, ...], zones: tuple[WindZone, ...], build: BuildUp
) -> tuple[PieceFixed, ...]:
    """Screw each piece as a whole board of its worst zone, by its share of the area."""
    board = build.board
    shapes = [(zone, _sound(zone.ring)) for zone in zones]
    worst_first = sorted(shapes, key=lambda pair: (pair[0].pressure.value, -pair[0].per_board))
    rings = [ring for _, ring in worst_first]
    whole = measured(board.length_mm * board.width_mm / MM**2, "m2", board.name, "declared")
    edge = (fixing_practice.EDGE_LEAST_MM + fixing_practice.EDGE_MOST_MM) / 2
    found = []
    for piece in pieces:
        shape = _sound(tuple((x / MM, y / MM) for x, y in piece.ring))
        touched = shapely.area(shapely.intersection(shape, rings)) > TOUCH_M2
        zone = worst_first[int(touched.argmax())][0]  # the first; of none the worst
        number = fixings_in_piece(_whole(zone, piece.total_mm, build), shape.area, whole)
        outline = tuple((x * MM, y * MM) for x, y in shape.exterior.coords[:-1])
        places = pattern(outline, number, edge)
        found.append(
            PieceFixed(piece.number, zone.zone, tuple((round(x), round(y)) for x, y in places))
        )
    return tuple(found)


def _whole(zone: WindZone, total_mm: int, build: BuildUp) -> float:
    """Give the screws of a whole board; where the roof is thinner its own least number counts."""
    if total_mm not in build.totals():
        return zone.per_board
    least = least_per_board(build, build.boards(total_mm), zone.zone in EDGE_ZONES)
    return max(float(zone.per_board), *(float(n) for n in least))


def _sound(ring: Ring) -> shapely.Polygon:
    """Take an outline whose rounded corners touch one another for its largest part."""
    shape = shapely.Polygon(ring)
    parts = (
        [shape] if shape.is_valid else list(getattr(shape.buffer(0), "geoms", (shape.buffer(0),)))
    )
    return max(parts, key=lambda part: part.area)


def _least(wind: Wind) -> Table:
    """Set the sources and the wind side by side, field and edge; the larger governs."""
    rows: list[tuple[float | str, ...]] = [
        (c.source, c.where, float(c))
        for c in dict.fromkeys((*wind.least_per_board, *wind.least_at_edge))
    ]
    told = [str(where) for _, where, _ in rows]
    rows += [
        (c.source, f"{c.where} (not this board)", float(c))
        for _, c in fixing_practice.BY_THICKNESS
        if not any(where.startswith(c.where) for where in told)
    ]
    rows += [("taken", f"zone {zone}", float(n)) for zone, n in sorted(_most(wind).items())]
    source = fixing_practice.MAKERS
    return Table("Screws in a whole board", COLUMNS, tuple(rows), source, "common practice")


def _depth() -> Table:
    """Set the sources for the depth of a screw in the deck side by side; the larger governs."""
    sources = fixing_practice.EMBEDMENTS_MM["timber"]
    rows = (*((c.source, c.where, float(c)) for c in sources),
            ("taken", "the larger", float(embedment_mm())))  # fmt: skip
    columns = (("source", "-"), ("says", "-"), ("depth in the deck", "mm"))
    return Table("Depth of the screw in the deck", columns, rows, sources[-1].source,
                 weakest([c.basis for c in sources]))  # fmt: skip


def _most(wind: Wind) -> dict[str, int]:
    """Most screws in a whole board of each zone; where north is known lee parts have fewer."""
    found: dict[str, int] = {}
    for zone in wind.zones:
        found[zone.zone] = max(zone.per_board, found.get(zone.zone, 0))
    return found


def _tell(placed: tuple[PieceFixed, ...], wind: Wind, board: Board) -> tuple[Finding, ...]:
    """Say what the crew needs to know in a sentence, and where there are too many to place."""
    by_zone = _most(wind)
    told = ", ".join(f"{n} in zone {zone}" for zone, n in sorted(by_zone.items()))
    edge = fixing_practice.EDGE_MOST_MM
    says = (
        f"Screws of a whole board: {told}; {sum(len(p.places) for p in placed)} in all. The outer "
        f"ones stand {fixing_practice.EDGE_LEAST_MM:.0f} to {edge:.0f} mm from the board's edge."
    )
    ask = Remedy("Mark the zones on the deck before the boards come, and count each board.")
    plan = Finding("fixing-plan", "boards", "note", says, edge.source, edge.basis,
                   float(max(by_zone.values())), None, "each", ask)  # fmt: skip
    most = fixing_practice.SCREWS_MOST_M2
    number, zone = max((n, zone) for zone, n in by_zone.items())
    close = number / (board.length_mm * board.width_mm / MM**2)
    if close <= most:
        return (plan,)
    says = (
        f"The wind asks for {number} screws in one board of zone {zone}, {close:.0f} to the square "
        f"metre; beyond {most:.0f} their plates crowd one another. Have the maker of the board "
        "and a structural engineer look."
    )
    ask = Remedy("Take a screw that is declared for more, or test more of them on this deck.")
    crowd = Finding("screws-crowded", "boards", "agree", says, most.source, most.basis, close,
                    float(most), "1/m2", ask)  # fmt: skip
    return (crowd, plan)


def edge_screws(length_m: float, centres: Working) -> float:
    """Count screws along an edge.

    Parameters
    ----------
    length_m : float
        Length of the edge [m].
    centres : Working
        Centres [mm].

    Returns
    -------
    float
        Screws, not yet rounded [each].
    """
    return length_m * MM / centres.value
