"""Where the openings are: along a side and square in from it, or by ties."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from evenfall.calc.geometry import polygon as shapes
from evenfall.calc.geometry.tapes import Adjusted, Corner, Station, Tape, adjust
from evenfall.errors import InvalidInput
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Opening
from evenfall.model.surveyed import OpeningAt, Point, Ring, SideAt
from evenfall.standards import board_practice, edge_practice, roofing_practice, survey_practice

MM = 1000
ROUND = 16  # corners that stand for a circle
WHAT = "middle of the opening"
FRAMED = ("rooflight", "chimney", "post")  # a kerb, or a sheet dressed up four sides
AT_WALLS = ("chimney", "post")  # these may stand against a wall
WALLS = ("wall", "step")
HAIR = 1e-6  # m, so that a place at the limit itself is no fault of rounding


@dataclass(frozen=True, slots=True)
class Located:
    """An opening in its place, and what is to be said of that."""

    at: OpeningAt
    findings: tuple[Finding, ...] = ()


def locate(
    opening: Opening,
    sides: tuple[SideAt, ...],
    places: dict[str, Corner],
    accuracy_mm: float,
    deck: Ring,
) -> Located:
    """Put an opening in its place.

    Parameters
    ----------
    opening : Opening
        Its side and size, and along and in, or ties [m].
    sides : tuple of SideAt
        Sides of the deck [m].
    places : dict of str to Corner
        Corners as taped, and points [m].
    accuracy_mm : float
        What a tie is good to [mm].
    deck : tuple of (x, y)
        Outline of the deck [m].

    Returns
    -------
    Located
        The opening and its findings [-].

    Raises
    ------
    InvalidInput
        Its side is none, or its ties place it nowhere.
    """
    side = next((s for s in sides if s.name == opening.side), None)
    if side is None:
        raise InvalidInput(
            f'"{opening.side}"', f"a side round the roof: {', '.join(s.name for s in sides)}",
            where=f"survey.openings[{opening.name}].side",
        )  # fmt: skip
    if not opening.ties:
        start = side.place(opening.along_m or 0.0, opening.in_m or 0.0)
        at = _built(opening, side, start)
        return Located(at, _at_edge(at, sides, deck))
    return _tied(opening, sides, places, accuracy_mm, deck)


def _tied(
    opening: Opening,
    sides: tuple[SideAt, ...],
    places: dict[str, Corner],
    accuracy_mm: float,
    deck: Ring,
) -> Located:
    """Locate by ties: each is a distance from its corner, shifted by that within the opening."""
    side = next(s for s in sides if s.name == opening.side)
    where = f"survey.openings[{opening.name}].ties"
    stations, tapes = list[Station](), list[Tape]()
    for i, tie in enumerate(opening.ties):
        corner = places[tie.point]
        dx, dy = _within(opening, side, tie.to_corner)
        stations.append(Station(f"{tie.point}:{i}", corner.x - dx, corner.y - dy))
        sigma = math.hypot(accuracy_mm / MM, corner.sigma)
        name = tie.point if tie.to_corner is None else f"{tie.point} to corner {tie.to_corner}"
        name += f" ({i + 1})" if any(t.name == name for t in tapes) else ""
        tapes.append(Tape(name, WHAT, stations[-1].name, tie.length_m, sigma))
    try:
        found = adjust((WHAT,), tuple(tapes), tuple(stations))
    except InvalidInput as wrong:
        raise InvalidInput(wrong.what, wrong.expected, where=where, do=wrong.do) from None
    at = [_built(opening, side, p) for p in _either(found, stations)]
    on = [o for o in at if not _outside(o, deck)]
    chosen = replace((on or at)[0], give_or_take_mm=found.sigma_mm)
    findings = (*_at_edge(chosen, sides, deck), *_wrong_tie(opening, found))
    return Located(chosen, (*findings, *_mirrored(opening)) if len(on) > 1 else findings)


def _within(opening: Opening, side: SideAt, corner: int | None) -> Point:
    """Where a corner lies from the first one, in the axes of the plan."""
    length, width = opening.length_m or 0.0, opening.width_m or 0.0
    along, inwards = {1: (0.0, 0.0), 2: (length, 0.0), 3: (length, width), 4: (0.0, width)}.get(
        corner or 1, (0.0, 0.0)
    )
    (u, v), (nx, ny) = side.along, side.outwards
    return (along * u - inwards * nx, along * v - inwards * ny)


def _either(found: Adjusted, stations: list[Station]) -> list[Point]:
    """Give the place found, and its mirror image where the ties fit that as well."""
    at = (found.corners[0].x, found.corners[0].y)
    if not found.ambiguous:
        return [at]
    a = stations[0]
    b = max(stations, key=lambda s: math.hypot(s.x - a.x, s.y - a.y))
    ux, uy = b.x - a.x, b.y - a.y
    share = ((at[0] - a.x) * ux + (at[1] - a.y) * uy) / (ux * ux + uy * uy)
    foot = (a.x + share * ux, a.y + share * uy)
    return [at, (2 * foot[0] - at[0], 2 * foot[1] - at[1])]


def _built(opening: Opening, side: SideAt, start: Point) -> OpeningAt:
    """Draw the opening from its first corner, or from its middle if it is round."""
    (u, v), (nx, ny) = side.along, side.outwards
    if opening.diameter_mm is not None:
        radius = opening.diameter_mm / MM / 2
        centre = start
        ring, area, around = _circle(centre, radius), math.pi * radius**2, 2 * math.pi * radius
        hole = ring
    else:
        length, width = opening.length_m or 0.0, opening.width_m or 0.0

        def box(less: float) -> Ring:
            ends = ((less, less), (length - less, less), (length - less, width - less),
                    (less, width - less))  # fmt: skip
            return tuple((start[0] + x * u - y * nx, start[1] + x * v - y * ny) for x, y in ends)

        ring = box(0.0)
        centre = ((ring[0][0] + ring[2][0]) / 2, (ring[0][1] + ring[2][1]) / 2)
        area, around = length * width, 2 * (length + width)
        framed = opening.kind == "rooflight" and opening.stands_on == "boards"
        hole = box(roofing_practice.KERB_TIMBER if framed else 0.0)
    return OpeningAt(
        f"opening:{opening.name}", opening.name, opening.kind, ring, hole, centre, area, around,
        opening.stands_on == "boards", opening.kerb_height_mm, opening.diameter_mm,
    )  # fmt: skip


def _circle(centre: Point, radius: float) -> Ring:
    turns = (2 * math.pi * k / ROUND for k in range(ROUND))
    return tuple(
        (centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns
    )


def _outside(at: OpeningAt, deck: Ring) -> tuple[Finding, ...]:
    """Find an opening that reaches past the edge of the roof."""
    if all(shapes.contains(deck, p) for p in at.ring):
        return ()
    says = f"{at.name} reaches past the edge of the roof. Measure its place again."
    cure = Remedy("Measure along the side and square in from it.")
    return (Finding("opening-outside", at.id, "stop", says, "geometry", "measured", remedy=cure),)


def _at_edge(at: OpeningAt, sides: tuple[SideAt, ...], deck: Ring) -> tuple[Finding, ...]:
    """Find an opening past an edge, or one with too little roof left before an edge."""
    outside = _outside(at, deck)
    if outside or at.kind not in FRAMED:
        return outside
    piece, timber = board_practice.SMALLEST_PIECE_MM, edge_practice.EDGE_TIMBER
    least = piece + timber * MM
    found = [(_room(at, s), s) for s in sides if not (at.kind in AT_WALLS and s.kind in WALLS)]
    room, side = min(found, key=lambda one: one[0], default=(math.inf, sides[0]))
    if room * MM >= least - HAIR:
        return ()
    says = (
        f"Between {at.name} and {side.name} {room * MM:.0f} mm of roof are left; an edge timber of "
        f"{timber * MM:.0f} mm and the smallest piece of board, {piece:.0f} mm, with the sheet up "
        f"the kerb want {least:.0f} mm. Measure its place again."
    )
    cure = "If it stands so, its kerb is part of the edge: draw that detail and ask the sheet maker"
    return (
        Finding("opening-at-edge", at.id, "stop", says, f"{piece.source}: {piece.where}",
                piece.basis, room * MM, least, "mm", Remedy(f"Measure it again. {cure}.")),
    )  # fmt: skip


def _room(at: OpeningAt, side: SideAt) -> float:
    """Measure the roof left between an opening and a side, m."""
    from_side = (shapes.distances_to_sides((side.a, side.b), p)[0] for p in at.ring)
    from_ends = (min(shapes.distances_to_sides(at.ring, p)) for p in (side.a, side.b))
    return min(*from_side, *from_ends)


def _mirrored(opening: Opening) -> tuple[Finding, ...]:
    """Tell that the ties fit two places on the roof."""
    source = survey_practice.W_CRITICAL
    says = (
        f"The ties fit two places of {opening.name} on the roof, one the mirror image of the "
        "other. Tape it from one more corner off the line of the others."
    )
    cure = Remedy("Tape it from one more corner off the line of the others.")
    return (
        Finding("opening-mirrored", f"opening:{opening.name}", "stop", says, source.source,
                source.basis, remedy=cure),
    )  # fmt: skip


def _wrong_tie(opening: Opening, found: Adjusted) -> tuple[Finding, ...]:
    """Tell of ties that do not meet in one place."""
    if not found.detected:
        return ()
    worst = max(found.tapes, key=lambda c: abs(c.w))
    limit = survey_practice.W_CRITICAL
    off = abs(worst.error or 0.0) * MM
    says = f"The ties of {opening.name} do not meet: one is wrong by about {off:.0f} mm. "
    cure = "Measure them again."
    if found.located:
        says = f"The tie of {opening.name} from {worst.tape.name} looks {off:.0f} mm wrong. "
        cure = "Measure it again."
    return (
        Finding("tie-wrong", f"opening:{opening.name}", "stop", says + cure, limit.source,
                limit.basis, found.t, found.limit, "-", Remedy(cure)),
    )  # fmt: skip
