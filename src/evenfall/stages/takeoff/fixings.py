"""Fixings: where every screw of every piece of board goes, and how edges are held."""

from __future__ import annotations

from collections import Counter

import shapely

from evenfall.calc.layout.fixing_pattern import pattern
from evenfall.calc.loads.edge_fixings import edge_centres_mm
from evenfall.calc.loads.fixings import fixings_in_piece
from evenfall.model.choice import Board
from evenfall.model.designed import Wind, WindZone
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import Ring
from evenfall.model.taken_off import BoardPiece, Fixings, PieceFixed
from evenfall.standards import fixing_practice, take_off_practice
from evenfall.working import Cited, Table, Working, measured, total

MM = 1000
TOUCH_M2 = 1e-4  # a square centimetre: less is the rounding of an edge
COLUMNS = (("source", "-"), ("says", "-"), ("screws in a board", "each"))


def work(pieces: tuple[BoardPiece, ...], wind: Wind, board: Board, screwed: bool) -> Fixings:
    """Put the screws into every piece by the worst wind zone that it touches.

    Parameters
    ----------
    pieces : tuple of BoardPiece
        The uppermost layer of boards [mm].
    wind : Wind
        Zones, screws in a whole board, resistance of a screw [-].
    board : Board
        The whole board [mm].
    screwed : bool
        Whether screws hold the boards; glue leaves only the edges [-].

    Returns
    -------
    Fixings
        Places, count, the sources side by side, centres along edges [mm].
    """
    placed = _pieces(pieces, wind.zones, board) if screwed else ()
    count = Counter(p.zone for p in placed for _ in p.places)
    need = total(
        "Screws, piece by piece", "n", "each",
        [(f"zone {zone}", float(n)) for zone, n in sorted(count.items())] or [("glued", 0.0)],
    )  # fmt: skip
    worst = min((z.pressure for z in wind.zones), key=lambda p: p.value)
    timber = take_off_practice.TIMBER_SCREW_SPACING
    trim = take_off_practice.TRIM_SCREWS_PER_M
    return Fixings(
        placed, need, _least(wind),
        edge_centres_mm.show(worst, wind.resistance, _mm(timber * MM, timber)),
        edge_centres_mm.show(worst, wind.resistance, _mm(MM / trim, trim)),
        _tell(placed, wind) if screwed else (),
    )  # fmt: skip


def _mm(value: float, of: Cited) -> Cited:
    return Cited(value, "mm", of.source, of.where, of.basis)


def _pieces(
    pieces: tuple[BoardPiece, ...], zones: tuple[WindZone, ...], board: Board
) -> tuple[PieceFixed, ...]:
    """Screw each piece as a whole board of its worst zone, by its share of the area."""
    shapes = [(zone, _sound(zone.ring)) for zone in zones]
    worst_first = sorted(shapes, key=lambda pair: (pair[0].pressure.value, -pair[0].per_board))
    whole = measured(board.length_mm * board.width_mm / MM**2, "m2", board.name, "declared")
    edge = (fixing_practice.EDGE_LEAST_MM + fixing_practice.EDGE_MOST_MM) / 2
    found = []
    for piece in pieces:
        shape = _sound(tuple((x / MM, y / MM) for x, y in piece.ring))
        zone = next(
            (z for z, ring in worst_first if shape.intersection(ring).area > TOUCH_M2),
            worst_first[0][0],
        )
        number = fixings_in_piece(zone.per_board, shape.area, whole)
        outline = tuple((x * MM, y * MM) for x, y in shape.exterior.coords[:-1])
        places = pattern(outline, number, edge)
        found.append(
            PieceFixed(piece.number, zone.zone, tuple((round(x), round(y)) for x, y in places))
        )
    return tuple(found)


def _sound(ring: Ring) -> shapely.Polygon:
    """Take an outline whose rounded corners touch one another for its largest part."""
    shape = shapely.Polygon(ring)
    parts = (
        [shape] if shape.is_valid else list(getattr(shape.buffer(0), "geoms", (shape.buffer(0),)))
    )
    return max(parts, key=lambda part: part.area)


def _least(wind: Wind) -> Table:
    """Set the sources and the wind side by side; the larger governs."""
    rows: list[tuple[float | str, ...]] = [
        (c.source, c.where, float(c)) for c in wind.least_per_board
    ]
    seen = {z.zone: z.per_board for z in wind.zones}
    rows += [("taken", f"zone {zone}", float(n)) for zone, n in sorted(seen.items())]
    source = fixing_practice.MAKERS
    return Table("Screws in a whole board", COLUMNS, tuple(rows), source, "common practice")


def _tell(placed: tuple[PieceFixed, ...], wind: Wind) -> tuple[Finding, ...]:
    """Say what the crew needs to know in a sentence."""
    by_zone = {z.zone: z.per_board for z in wind.zones}
    told = ", ".join(f"{n} in zone {zone}" for zone, n in sorted(by_zone.items()))
    edge = fixing_practice.EDGE_MOST_MM
    says = (
        f"Screws of a whole board: {told}; {sum(len(p.places) for p in placed)} in all. The outer "
        f"ones stand {fixing_practice.EDGE_LEAST_MM:.0f} to {edge:.0f} mm from the board's edge."
    )
    ask = Remedy("Mark the zones on the deck before the boards come, and count each board.")
    return (
        Finding("fixing-plan", "boards", "note", says, edge.source, edge.basis,
                float(max(by_zone.values())), None, "each", ask),
    )  # fmt: skip


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
