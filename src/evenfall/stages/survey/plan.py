"""Plan: the roof from its tapes, with its faces, openings and areas."""

from __future__ import annotations

import math

from evenfall.calc.geometry import polygon as shapes
from evenfall.calc.geometry.clipping import net_area
from evenfall.calc.geometry.setting_out import offset_sides
from evenfall.calc.geometry.tapes import Adjusted, Tape, adjust
from evenfall.errors import InvalidInput
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Opening, Side
from evenfall.model.job import Tape as Reading
from evenfall.model.surveyed import CornerAt, OpeningAt, Plan, Point, Ring, SideAt, TapeAt
from evenfall.standards import roofing_practice, survey_practice
from evenfall.working import Table, Working, formula, measured, total

MM = 1000
ROUND = 16  # corners that stand for a circle


@formula("A_net", "m2", "geometry")
def net(A_gross: float, A_openings: float) -> float:
    """Area on which boards lie.

    Parameters
    ----------
    A_gross : float
        Area of the deck [m2].
    A_openings : float
        Area of the openings on which no board lies [m2].

    Returns
    -------
    float
        Net area [m2].

    Examples
    --------
    >>> net(25.42, 1.76)
    23.66
    """
    return A_gross - A_openings


def work(
    corners: tuple[str, ...],
    tapes: tuple[Reading, ...],
    accuracy_mm: float,
    sides: tuple[Side, ...],
    openings: tuple[Opening, ...],
) -> Plan:
    """Make the plan from its tapes.

    Parameters
    ----------
    corners : tuple of str
        Names, anticlockwise [-].
    tapes : tuple of Tape
        Taped distances [m].
    accuracy_mm : float
        What one tape is good to [mm].
    sides : tuple of Side
        What each side is, and which face was taped [-].
    openings : tuple of Opening
        Openings, located along a side and in from it [m].

    Returns
    -------
    Plan
        Corners, sides, faces, openings, areas and findings [m].

    Raises
    ------
    InvalidInput
        The tapes make no plan.
    """
    found = adjust(corners, _read(tapes, accuracy_mm / MM))
    ordered = _in_order(corners, sides)
    deck = _shift(found.polygon, tuple(_to_deck(s) for s in ordered))
    fascia = _shift(deck, tuple(s.fascia_thickness_mm / MM for s in ordered))
    wall = _shift(fascia, tuple(-s.overhang_mm / MM for s in ordered))
    placed = _sides(ordered, deck)
    holes = tuple(_opening(o, placed) for o in openings)
    gross = _gross(deck)
    lost = gross.value - net_area(deck, tuple(o.hole for o in holes))
    return Plan(
        corners=_corners(corners, deck, found),
        sides=placed,
        openings=holes,
        deck=deck,
        fascia=fascia,
        wall=wall,
        gross=gross,
        net=net.show(gross, measured(lost, "m2", "survey.openings")),
        perimeter=total("Perimeter of the deck", "P", "m", [(s.name, s.length_m) for s in placed]),
        good_to_mm=found.sigma_mm,
        tapes=_table(found),
        findings=(*_blunders(found), *_square(corners, found), *_outside(holes, deck)),
        taped=_taped(found),
    )


def _read(tapes: tuple[Reading, ...], sigma: float) -> tuple[Tape, ...]:
    seen: dict[str, int] = {}
    read = []
    for tape in tapes:
        seen[tape.between] = seen.get(tape.between, 0) + 1
        again = f" ({seen[tape.between]})" if seen[tape.between] > 1 else ""
        a, b = tape.between.split("-")
        read.append(Tape(tape.between + again, a, b, tape.length_m, sigma))
    return tuple(read)


def _in_order(corners: tuple[str, ...], sides: tuple[Side, ...]) -> tuple[Side, ...]:
    by_name = {s.side: s for s in sides}
    missing = [n for n in shapes.side_names(corners) if n not in by_name]
    if missing:
        raise InvalidInput(f"nothing about {', '.join(missing)}", "all sides", where="survey.sides")
    return tuple(by_name[name] for name in shapes.side_names(corners))


def _to_deck(side: Side) -> float:
    """How far the deck edge lies outside the face that was taped, m."""
    fascia, overhang = side.fascia_thickness_mm / MM, side.overhang_mm / MM
    if side.taped_at == "fascia":
        return -fascia
    return max(0.0, overhang - fascia) if side.taped_at == "wall_face" else 0.0


def _shift(ring: Ring, distances: tuple[float, ...]) -> Ring:
    if not any(distances):
        return ring
    moved = offset_sides(ring, distances)
    if len(moved) != len(ring):
        raise InvalidInput(
            "two sides in one line with different faces", "a corner with a turn between them",
            where="survey.sides", do="tape both at the same face",
        )  # fmt: skip
    return moved


def _sides(ordered: tuple[Side, ...], deck: Ring) -> tuple[SideAt, ...]:
    return tuple(
        SideAt(
            f"side:{s.side}", s.side, s.kind, a, b, math.dist(a, b), _outwards(a, b),
            s.overhang_mm / MM, s.wall_height_m, s.boundary_m, s.parapet_height_mm or 0.0,
        )
        for s, (a, b) in zip(ordered, shapes.sides(deck), strict=True)
    )  # fmt: skip


def _outwards(a: Point, b: Point) -> Point:
    length = math.dist(a, b)
    return ((b[1] - a[1]) / length, (a[0] - b[0]) / length)


def _corners(names: tuple[str, ...], deck: Ring, found: Adjusted) -> tuple[CornerAt, ...]:
    return tuple(
        CornerAt(n, x, y, c.sigma * MM, (c.ellipse[0] * MM, c.ellipse[1] * MM), c.ellipse[2])
        for n, (x, y), c in zip(names, deck, found.corners, strict=True)
    )


def _taped(found: Adjusted) -> tuple[TapeAt, ...]:
    at = {c.name: (c.x, c.y) for c in found.corners}
    return tuple(
        TapeAt(
            f"tape:{c.tape.name}", c.tape.name, at[c.tape.a], at[c.tape.b], float(c.tape.length),
            c.residual * MM, c.redundancy, c.w,
            None if c.least_seen is None else c.least_seen * MM,
        )
        for c in found.tapes
    )  # fmt: skip


def _opening(opening: Opening, sides: tuple[SideAt, ...]) -> OpeningAt:
    side = next((s for s in sides if s.name == opening.side), None)
    if side is None:
        raise InvalidInput(
            f'"{opening.side}"', f"a side round the roof: {', '.join(s.name for s in sides)}",
            where=f"survey.openings[{opening.name}].side",
        )  # fmt: skip
    if opening.diameter_mm is not None:
        radius = opening.diameter_mm / MM / 2
        centre = side.place(opening.along_m, opening.in_m)
        ring, area, around = _circle(centre, radius), math.pi * radius**2, 2 * math.pi * radius
        hole = ring
    else:
        length, width = opening.length_m or 0.0, opening.width_m or 0.0
        ring = _box(side, opening.along_m, opening.in_m, length, width, 0.0)
        centre = side.place(opening.along_m + length / 2, opening.in_m + width / 2)
        area, around = length * width, 2 * (length + width)
        framed = opening.kind == "rooflight" and opening.stands_on == "boards"
        kerb = roofing_practice.KERB_TIMBER if framed else 0.0
        hole = _box(side, opening.along_m, opening.in_m, length, width, kerb)
    return OpeningAt(
        f"opening:{opening.name}", opening.name, opening.kind, ring, hole, centre, area, around,
        opening.stands_on == "boards", opening.kerb_height_mm, opening.diameter_mm,
    )  # fmt: skip


def _box(
    side: SideAt, along: float, inwards: float, length: float, width: float, less: float
) -> Ring:
    near, far = along + less, along + length - less
    low, high = inwards + less, inwards + width - less
    return tuple(side.place(x, y) for x, y in ((near, low), (far, low), (far, high), (near, high)))


def _circle(centre: Point, radius: float) -> Ring:
    turns = (2 * math.pi * k / ROUND for k in range(ROUND))
    return tuple(
        (centre[0] + radius * math.cos(t), centre[1] + radius * math.sin(t)) for t in turns
    )


def _gross(deck: Ring) -> Working:
    """Area from the corners; each product of the sum is one part."""
    of = tuple(
        (f"({a[0]:.3f}×{b[1]:.3f}−{b[0]:.3f}×{a[1]:.3f})/2", "m2", (a[0] * b[1] - b[0] * a[1]) / 2)
        for a, b in shapes.sides(deck)
    )
    value = shapes.area(deck)
    source = "corner coordinates of the adjusted plan"
    expression = " + ".join(name for name, _, _ in of)
    return Working(
        "Gross area of the deck", "A_gross", "m2", source, value, of, expression, "measured"
    )


def _table(found: Adjusted) -> Table:
    rows = tuple(
        (c.tape.name, float(c.tape.length), c.adjusted, c.residual * MM, c.redundancy, c.w)
        for c in found.tapes
    )
    columns = (
        ("tape", "-"), ("read", "m"), ("adjusted", "m"), ("difference", "mm"),
        ("checked by others", "-"), ("w", "-"),
    )  # fmt: skip
    return Table("Tapes", columns, rows, "least squares; Baarda's test of each tape", "measured")


def _blunders(found: Adjusted) -> tuple[Finding, ...]:
    limit = survey_practice.W_CRITICAL
    if found.ambiguous:
        corners = " and ".join(found.ambiguous)
        ask = (
            ""
            if found.next_tape is None
            else f" Tape {'-'.join(found.next_tape)}: that settles it."
        )
        return (
            Finding(
                "plan-folds", f"corner:{found.ambiguous[0]}", "stop",
                f"The tapes fit two plans: {corners} could lie on either side.{ask}",
                limit.source, limit.basis, remedy=Remedy(ask.strip() or "Tape another diagonal."),
            ),
        )  # fmt: skip
    if not found.detected:
        return ()
    worst = max(found.tapes, key=lambda c: abs(c.w))
    off = abs(worst.error or 0.0) * MM
    if found.located:
        way = "long" if (worst.error or 0.0) > 0 else "short"
        says = f"Tape {worst.tape.name} looks {off:.0f} mm too {way}. Measure it again."
        return (_blunder(f"tape:{worst.tape.name}", says, "Measure it again.", found),)
    settle = (
        f"Tape {'-'.join(found.next_tape)}: that settles it."
        if found.next_tape
        else "Measure all of them again."
    )
    names = ", ".join(found.suspects)
    says = f"One tape is wrong by about {off:.0f} mm, but these cannot say which: {names}. {settle}"
    return (_blunder("plan", says, settle, found),)


def _blunder(subject: str, says: str, cure: str, found: Adjusted) -> Finding:
    """Name the test that failed: that of the one tape, else that of all together."""
    value, limit = max(abs(c.w) for c in found.tapes), float(survey_practice.W_CRITICAL)
    by = survey_practice.W_CRITICAL
    if value <= limit and found.limit is not None:
        value, limit, by = found.t, found.limit, survey_practice.ONE_MORE
    return Finding(
        "tape-wrong", subject, "stop", says, by.source, by.basis, value, limit, "-", Remedy(cure)
    )


def _square(corners: tuple[str, ...], found: Adjusted) -> tuple[Finding, ...]:
    """Say how far a four-sided roof leans, by its diagonals."""
    if len(corners) != 2 + 2:
        return ()
    a, b, c, d = found.polygon
    lean = abs(math.dist(a, c) - math.dist(b, d))
    limit = roofing_practice.OUT_OF_SQUARE
    if lean <= limit:
        return ()
    says = f"The diagonals differ by {lean * MM:.0f} mm: one row of boards is cut at an angle."
    return (
        Finding(
            "out-of-square", "plan", "note", says, limit.source, limit.basis, lean * MM,
            limit * MM, "mm",
        ),
    )  # fmt: skip


def _outside(openings: tuple[OpeningAt, ...], deck: Ring) -> tuple[Finding, ...]:
    """Find openings that reach past the edge of the roof."""
    return tuple(
        Finding(
            "opening-outside", o.id, "stop",
            f"{o.name} reaches past the edge of the roof. Measure its place again.",
            "geometry", "measured", remedy=Remedy("Measure along the side and square in from it."),
        )
        for o in openings
        if not all(shapes.contains(deck, p) for p in o.ring)
    )  # fmt: skip
