"""Fire from outside: the distance of every edge to the boundary, and what the covering must be."""

from __future__ import annotations

from collections.abc import Iterator
from math import hypot
from typing import NamedTuple

from evenfall.model.designed import Fire
from evenfall.model.finding import Finding
from evenfall.model.job import FireTest, Side
from evenfall.model.surveyed import OpeningAt, Plan, Point, Ring, SideAt
from evenfall.stages.design.saying import cure, finding
from evenfall.standards import approved_document_b as fire
from evenfall.working import Known, Table, measured

BEST = fire.CLASSES[0]
COLUMNS = (("side", "-"), ("to the boundary", "m"), ("lowest class that will do", "-"))


class BuiltUp(NamedTuple):
    """What a test report must have tested: the same words as in the job."""

    sheet: str = ""
    board: str = ""
    deck: str = ""
    boards_held_by: str = ""
    overlay_mm: float = 0.0


NOTHING_BUILT = BuiltUp()


def work(
    sides: tuple[Side, ...],
    building: str,
    tests: tuple[FireTest, ...] = (),
    built: BuiltUp = NOTHING_BUILT,
    plastic: tuple[OpeningAt, ...] = (),
    plan: Plan | None = None,
) -> Fire:
    """Say what the roof covering must be, by its distance to the boundary, and hold proof to it.

    Parameters
    ----------
    sides : tuple of Side
        Every side with its distance to the boundary [m].
    building : str
        House, flat or garage [-].
    tests : tuple of FireTest
        Test reports on record [-].
    built : BuiltUp
        The build-up as it is to be built [-].
    plastic : tuple of OpeningAt
        Rooflights glazed with plastic [m].
    plan : Plan, optional
        Where they lie [m].

    Returns
    -------
    Fire
        The nearest edge, all edges, the reports, and the evidence to be had [m].
    """
    nearest = min(sides, key=lambda s: s.boundary_m)
    distance = measured(nearest.boundary_m, "m", f"survey.sides[{nearest.side}].boundary_m")
    rows = tuple((s.side, s.boundary_m, lowest_class(s.boundary_m)) for s in sides)
    table = Table("Fire from outside", COLUMNS, rows, BEST.from_m.source, BEST.from_m.basis)
    held = tuple((t, differences(t, built)) for t in tests)
    found = _proved(nearest.side, distance, held, building) if tests else None
    told = found or _findings(nearest.side, distance, building)
    return Fire(distance, table, (*told, *rooflights(plastic, plan)), _reports(held, distance))


def differences(test: FireTest, built: BuiltUp) -> tuple[str, ...]:
    """Name in what the tested build-up differs from the one that is to be built.

    Parameters
    ----------
    test : FireTest
        A report [-].
    built : BuiltUp
        What is to be built [-].

    Returns
    -------
    tuple of str
        Such as ``deck: osb tested, planks here``; empty where all is the same [-].
    """
    return tuple(
        f"{name.replace('_', ' ').removesuffix(' mm')}: {getattr(test, name)} tested, "
        f"{getattr(built, name)} here"
        for name in BuiltUp._fields
        if getattr(test, name) != getattr(built, name)
    )


def _rank(name: str) -> int:
    return [c.name for c in fire.CLASSES].index(name)


def _proved(
    side: str,
    distance: Known,
    held: tuple[tuple[FireTest, tuple[str, ...]], ...],
    building: str,
) -> tuple[Finding, ...]:
    """Settle the finding by the best report, or say why it does not."""
    wanted, subject = lowest_class(distance), f"side:{side}"
    fits = [t for t, differs in held if not differs]
    best = min(fits, key=lambda t: _rank(t.fire_class), default=None)
    where = f"{side}, {distance:.1f} m from the boundary, asks for {wanted} or better"
    by = fire.FAR if distance >= fire.NEAR else fire.NEAR
    if best is not None and _rank(best.fire_class) <= _rank(wanted):
        says = f"“{best.document}” proves {best.fire_class} for this build-up; {where}."
        other = _terrace(building) if best.fire_class != BEST.name else ()
        return (finding("fire-proved", subject, "fine", says, by, distance), *other)
    if best is not None:
        says = f"“{best.document}” proves only {best.fire_class}; {where}."
        ask = cure("Choose a build-up with a report of that class.")
        return (finding("fire-class-low", subject, "stop", says, by, distance, ask),)
    test, differs = min(held, key=lambda one: len(one[1]))
    says = (
        f"“{test.document}” ({test.fire_class}) does not cover this build-up: "
        f"{'; '.join(differs)}. A system is tested, not a sheet."
    )
    ask = cure("Get a report, or an assessment by the test house, of this build-up.")
    return (finding("fire-proof-differs", subject, "agree", says, by, distance, ask),)


def _reports(
    held: tuple[tuple[FireTest, tuple[str, ...]], ...], distance: Known
) -> tuple[Table, ...]:
    """Set the reports side by side."""
    if not held:
        return ()
    wanted = _rank(lowest_class(distance))
    rows = tuple(
        (t.document, t.fire_class, "yes" if _rank(t.fire_class) <= wanted else "no",
         "; ".join(differs) or "the same")
        for t, differs in held
    )  # fmt: skip
    columns = (("report", "-"), ("class", "-"), ("class will do", "-"), ("build-up", "-"))
    return (Table("Reports of fire tests", columns, rows, "record.fire_tests", "declared"),)


def rooflights(plastic: tuple[OpeningAt, ...], plan: Plan | None) -> Iterator[Finding]:
    """Hold plastic rooflights to their size, their distance apart and to the boundary.

    Parameters
    ----------
    plastic : tuple of OpeningAt
        Rooflights glazed with plastic [m].
    plan : Plan, optional
        Sides with their distance to the boundary [m].

    Yields
    ------
    Finding
        One for each limit that is passed; a note where all are kept [m2, m].
    """
    for n, light in enumerate(plastic):
        glass = cure("Glaze it with glass.", (f"survey.openings[{light.name}].glazing", "glass"))
        n_found = 0
        if light.area_m2 > fire.PLASTIC_ROOFLIGHT:
            says = (
                f"{light.name} is of plastic and has {light.area_m2:.2f} m²; the most is "
                f"{fire.PLASTIC_ROOFLIGHT:g} m²."
            )
            by, n_found = fire.PLASTIC_ROOFLIGHT, n_found + 1
            yield finding("rooflight-large", light.id, "stop", says, by, light.area_m2, glass)
        for other in plastic[:n]:
            apart = _apart(light.ring, other.ring)
            if apart < fire.PLASTIC_APART:
                says = (
                    f"{other.name} and {light.name} are of plastic and {apart:.2f} m "
                    f"apart; the least is {fire.PLASTIC_APART:g} m."
                )
                by, n_found = fire.PLASTIC_APART, n_found + 1
                yield finding("rooflights-near", light.id, "stop", says, by, apart, glass)
        if plan is not None:
            near = min(_to_boundary(light.ring, side) for side in plan.sides)
            if near < fire.PLASTIC_BOUNDARY:
                says = (
                    f"{light.name} is of plastic, {near:.1f} m from the boundary; the "
                    f"least is {fire.PLASTIC_BOUNDARY:g} m, by its class."
                )
                by, n_found = fire.PLASTIC_BOUNDARY, n_found + 1
                yield finding("rooflight-boundary", light.id, "agree", says, by, near, glass)
        if not n_found:
            says = f"{light.name} is of plastic and keeps its size and its distances."
            by = fire.PLASTIC_ROOFLIGHT
            yield finding("rooflight-plastic", light.id, "fine", says, by, light.area_m2)


def _apart(one: Ring, other: Ring) -> float:
    """Least distance of two outlines that do not cross."""
    return min(
        _to_line(p, a, b)
        for ring, edge in ((one, other), (other, one))
        for p in ring
        for a, b in zip(edge, (*edge[1:], edge[0]), strict=True)
    )


def _to_line(p: Point, a: Point, b: Point) -> float:
    dx, dy = b[0] - a[0], b[1] - a[1]
    t = ((p[0] - a[0]) * dx + (p[1] - a[1]) * dy) / (dx * dx + dy * dy)
    t = min(max(t, 0.0), 1.0)
    return hypot(p[0] - a[0] - t * dx, p[1] - a[1] - t * dy)


def _to_boundary(ring: Ring, side: SideAt) -> float:
    """Distance past one side: square to it over the roof, and on to the boundary."""
    (x0, y0), (u, v) = side.a, side.outwards
    return side.boundary_m + max(min((x0 - x) * u + (y0 - y) * v for x, y in ring), 0.0)


def lowest_class(boundary_m: float) -> str:
    """Give the lowest class of covering that may be this near to the boundary.

    Parameters
    ----------
    boundary_m : float
        Distance of the edge to the boundary, 0 or more [m].

    Returns
    -------
    str
        Class by EN 13501-5 [-].

    Examples
    --------
    >>> lowest_class(5.9), lowest_class(6.0), lowest_class(20.0)
    ('BROOF(t4)', 'CROOF(t4)', 'EROOF(t4)')
    """
    return next(c.name for c in reversed(fire.WHOLE) if boundary_m >= c.from_m)


def _findings(side: str, distance: Known, building: str) -> tuple[Finding, ...]:
    subject, lowest = f"side:{side}", lowest_class(distance)
    if distance < fire.NEAR:
        says = (
            f"Side {side} is {distance:.1f} m from the boundary; nearer than {fire.NEAR:.0f} m "
            f"only {BEST.name} will do. Get the test report of this very build-up."
        )
        ask = "Ask the maker of the sheet for the report that covers deck, board, glue and sheet."
        return (
            finding("fire-proof-missing", subject, "agree", says, fire.NEAR, distance, cure(ask)),
            *_terrace(building),
        )
    if distance < fire.FAR:
        says = (
            f"The nearest edge, {side}, is {distance:.1f} m from the boundary: {lowest} or better "
            "will do. Keep the test report."
        )
        return (
            finding("fire-class", subject, "note", says, fire.FAR, distance),
            *_terrace(building),
        )
    says = f"Every edge is {distance:.0f} m or more from the boundary: {lowest} or better will do."
    return (finding("fire-far", subject, "fine", says, fire.FAR, distance), *_terrace(building))


def _terrace(building: str) -> tuple[Finding, ...]:
    """Lower classes are shut out for terraces; a house may be one of three."""
    if building == "garage":
        return ()
    says = f"In a terrace of {fire.TERRACE:.0f} houses or more only {BEST.name} will do."
    return (finding("fire-terrace", "roof", "note", says, fire.TERRACE),)
