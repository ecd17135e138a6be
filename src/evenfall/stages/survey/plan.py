"""Plan: the roof from its tapes, with its faces, openings and areas."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from evenfall.calc.geometry import polygon as shapes
from evenfall.calc.geometry.clipping import net_area
from evenfall.calc.geometry.setting_out import offset_sides
from evenfall.calc.geometry.tapes import Adjusted, Corner, Offset, Tape, adjust
from evenfall.errors import InvalidInput
from evenfall.model.job import Offset as Square
from evenfall.model.job import Opening, Side, Window
from evenfall.model.job import Tape as Reading
from evenfall.model.surveyed import CornerAt, Plan, Point, Ring, SashAt, SideAt, TapeAt
from evenfall.stages.survey import openings as openings_
from evenfall.stages.survey import plan_words as words
from evenfall.stages.survey import quality
from evenfall.standards import survey_practice
from evenfall.working import Working, formula, measured, total

MM = 1000


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
    points: tuple[str, ...] = (),
    offsets: tuple[Square, ...] = (),
    inner: tuple[str, ...] = (),
    windows: tuple[Window, ...] = (),
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
        Openings, located along a side and in from it, or by ties [m].
    points : tuple of str
        Marks that are no corners of the roof [-].
    offsets : tuple of Offset
        Corners and points by right-angle offsets [m].
    inner : tuple of str
        Corners at which the roof turns in, where somebody said so [-].
    windows : tuple of Window
        Windows beside the roof [m].

    Returns
    -------
    Plan
        Corners, sides, faces, openings, areas and findings [m].

    Raises
    ------
    InvalidInput
        The tapes make no plan.
    """
    read, square = _read(tapes, accuracy_mm), _squares(offsets)
    found = adjust(corners, read, points=points, offsets=square)

    def again(change: Callable[[Tape], Tape]) -> Adjusted:
        return adjust(corners, tuple(map(change, read)), points=points, offsets=square)

    ordered = _in_order(corners, sides)
    deck = _shift(found.polygon, tuple(_to_deck(s) for s in ordered))
    fascia = _shift(deck, tuple(s.fascia_thickness_mm / MM for s in ordered))
    wall = _shift(fascia, tuple(-s.overhang_mm / MM for s in ordered))
    placed = _sides(ordered, deck)
    places = {c.name: c for c in (*found.corners, *found.points)}
    located = tuple(openings_.locate(o, placed, places, accuracy_mm, deck) for o in openings)
    holes = tuple(o.at for o in located)
    gross = _gross(deck)
    lost = gross.value - net_area(deck, tuple(o.hole for o in holes))
    return Plan(
        corners=tuple(_corner(c, *p) for c, p in zip(found.corners, deck, strict=True)),
        sides=placed,
        openings=holes,
        deck=deck,
        fascia=fascia,
        wall=wall,
        gross=gross,
        net=net.show(gross, measured(lost, "m2", "survey.openings")),
        perimeter=total("Perimeter of the deck", "P", "m", [(s.name, s.length_m) for s in placed]),
        good_to_mm=found.sigma_mm,
        tapes=quality.tapes(found),
        findings=(
            *words.about(found, again),
            *words.square(found),
            *words.turned(found, inner),
            *words.large(max(s.length_m for s in placed), gross.value),
            *(f for o in located for f in o.findings),
        ),
        taped=_taped(found),
        points=tuple(_corner(c, c.x, c.y) for c in found.points),
        quality=quality.shown(found, accuracy_mm),
        gross_give_or_take_m2=found.sigma_area,
        sashes=tuple(_sashes(windows, placed)),
    )


def _sashes(windows: tuple[Window, ...], sides: tuple[SideAt, ...]) -> Iterator[SashAt]:
    """Find the windows beside the roof that open, or whose frame is taken out."""
    at = {s.name: s for s in sides}
    for w in windows:
        if w.side in at and (w.opens != "no" or w.treatment != "leave"):
            middle = at[w.side].place(w.along_m + w.width_m / 2)
            yield SashAt(f"window:{w.name}", w.name, at[w.side].id, middle, w.treatment)


def _read(tapes: tuple[Reading, ...], accuracy_mm: float) -> tuple[Tape, ...]:
    seen: dict[frozenset[str], int] = {}
    read = []
    for tape in tapes:
        a, b = tape.between.split("-")
        again = seen[frozenset((a, b))] = seen.get(frozenset((a, b)), 0) + 1
        name = tape.between + (f" ({again})" if again > 1 else "")
        read.append(Tape(name, a, b, tape.length_m, (tape.accuracy_mm or accuracy_mm) / MM))
    return tuple(read)


def _squares(offsets: tuple[Square, ...]) -> tuple[Offset, ...]:
    """Read offsets; the right angle is worth more the further out the point lies."""
    found, seen = [], dict[str, int]()
    for o in offsets:
        a, b = o.line.split("-")
        left = o.left_m if o.left_m is not None else -(o.right_m or 0.0)
        sigma = o.accuracy_mm / MM if o.accuracy_mm else float(survey_practice.OFFSET_SIGMA)
        turned = abs(left) * survey_practice.RIGHT_ANGLE_SIGMA
        name = f"{o.point} from {o.line}"
        seen[name] = seen.get(name, 0) + 1
        name += f" ({seen[name]})" if seen[name] > 1 else ""
        found.append(Offset(name, o.point, a, b, o.along_m, left, math.hypot(sigma, turned), sigma))
    return tuple(found)


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


def _corner(c: Corner, x: float, y: float) -> CornerAt:
    long, short, turn = c.ellipse
    return CornerAt(c.name, x, y, c.sigma * MM, (long * MM, short * MM), turn)


def _taped(found: Adjusted) -> tuple[TapeAt, ...]:
    at = {c.name: (c.x, c.y) for c in (*found.corners, *found.points)}
    return tuple(
        TapeAt(
            f"tape:{c.tape.name}", c.tape.name, at[c.tape.a], at[c.tape.b], float(c.tape.length),
            c.residual * MM, c.redundancy, c.w,
            None if c.least_seen is None else c.least_seen * MM,
        )
        for c in found.tapes
    )  # fmt: skip


def _cross(a: Point, b: Point) -> str:
    """Write one term of the area; a number below 0 stands in brackets."""
    ax, ay, bx, by = (f"({n:.3f})" if n < 0 else f"{abs(n):.3f}" for n in (*a, *b))
    return f"({ax}×{by}−{bx}×{ay})/2"


def _gross(deck: Ring) -> Working:
    """Area from the corners; each product of the sum is one part."""
    of = tuple((_cross(a, b), "m2", (a[0] * b[1] - b[0] * a[1]) / 2) for a, b in shapes.sides(deck))
    value = shapes.area(deck)
    source = "corner coordinates of the adjusted plan"
    expression = " + ".join(name for name, _, _ in of)
    return Working(
        "Gross area of the deck", "A_gross", "m2", source, value, of, expression, "measured"
    )
