"""Edge timber: courses of stock timber that make up the height of the boards, side by side."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from evenfall.calc.layout.stacks import stack_up
from evenfall.calc.loads.fixings import embedment_mm
from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Deck
from evenfall.model.surveyed import Falls, Plan, SideAt
from evenfall.model.taken_off import EdgeCourse
from evenfall.stages.design.holding import point_limit_mm
from evenfall.stages.takeoff.sections import Section, of_kind
from evenfall.standards import fixing_practice, take_off_practice
from evenfall.working import Basis

MM = 1000
KIND = "edge-timber"
TIMBERED = ("eaves", "verge", "party_line", "step")
PLACES = 40  # along a side at which tapered boards are measured: 3 mm of fall on 10 m at 1:40


@dataclass(frozen=True, slots=True)
class Under:
    """How far below the top of the deck the point of a screw may end."""

    least_mm: float
    most_mm: float


def under(deck: Deck, cables: bool) -> Under:
    """Tell how far below the top of the deck the screws of the lowest course must and may end.

    Parameters
    ----------
    deck : Deck
        Its thickness [mm].
    cables : bool
        Whether cables lie in the void [-].

    Returns
    -------
    Under
        As deep as the screws of the boards must, and may [mm].
    """
    return Under(float(embedment_mm()), point_limit_mm(deck, cables))


def courses(
    plan: Plan, falls: Falls, boards_mm: float, sold: tuple[Section, ...], under: Under
) -> tuple[EdgeCourse, ...]:
    """Build the edge timber of every open side up to the top of the boards.

    Parameters
    ----------
    plan, falls : Plan, Falls
        Sides; what tapered boards add along them, firrings lie under the deck [m].
    boards_mm : float
        Insulation and the overlay board on it [mm].
    sold : tuple of Section
        Sections that the rates hold [mm].
    under : Under
        What the screws of the lowest course must and may reach [mm].

    Returns
    -------
    tuple of EdgeCourse
        Side by side, the lowest course first; none where the rates tell no thickness [mm].
    """
    named = {round(s.depth_mm or 0): s.name for s in of_kind(KIND, sold)}
    if not named:
        return ()
    plane = float(take_off_practice.TIMBER_PLANE_MM)
    return tuple(
        course
        for side in plan.of_kind(*TIMBERED)
        for course in _side(side, heights(side, falls, boards_mm), named, plane, under)
    )


def heights(side: SideAt, falls: Falls, boards_mm: float) -> tuple[float, float]:
    """Give the lowest and the highest top of the boards along a side, above the deck.

    Parameters
    ----------
    side : SideAt
        The side [m].
    falls : Falls
        What tapered boards add [mm].
    boards_mm : float
        Insulation and the overlay board on it [mm].

    Returns
    -------
    tuple of float
        Lowest, highest [mm].
    """
    if falls.kind != "tapered":
        return boards_mm, boards_mm
    (xa, ya), (xb, yb) = side.a, side.b
    shares = [n / PLACES for n in range(PLACES + 1)]
    found = [falls.added_at((xa + (xb - xa) * s, ya + (yb - ya) * s)) for s in shares]
    return boards_mm + max(0.0, min(found)), boards_mm + max(0.0, *found)


def _side(
    side: SideAt,
    height: tuple[float, float],
    named: dict[int, str],
    plane_mm: float,
    under: Under,
) -> Iterator[EdgeCourse]:
    low, high = height
    stack = stack_up(high, tuple(named), plane_mm)
    over = sum(stack) - ceil(round(high, 6))
    bite = float(fixing_practice.TIMBER_POINT_MM)
    for n, thick in enumerate(stack):
        last, base = n == len(stack) - 1, sum(stack[:n])
        least = thick + (bite if n else under.least_mm)
        thinnest = max(base, min(base + thick, low))  # its top where the boards are lowest
        yield EdgeCourse(
            side.name, n + 1, named[thick], thick, over if last else 0,
            round(side.length_m * MM), (least, thinnest + under.most_mm),
            "the course below" if n else "the deck", high, low, base,
        )  # fmt: skip


def told(courses_: tuple[EdgeCourse, ...], section: str) -> str:
    """Say which courses a section makes, and what is planed off.

    Parameters
    ----------
    courses_ : tuple of EdgeCourse
        All courses [mm].
    section : str
        Name of the section [-].

    Returns
    -------
    str
        Such as ``course 1 of A-B, 2 of A-B (planed 4 mm)``; empty for other sections [-].
    """
    mine = [c for c in courses_ if c.section == section]
    parts = [f"{c.number} of {c.side}" + _top(c) for c in mine]
    turned = ". Turn every other course end for end, so that joints do not meet"
    return f"Courses from the deck up: {', '.join(parts)}{turned}" if parts else ""


def _top(course: EdgeCourse) -> str:
    """Say how the top of a course is brought to the height of the boards."""
    if course.falls_mm >= 1:
        rest = course.thick_mm - course.planed_mm - course.falls_mm
        thin = f"{rest:.0f} mm thick at the low end" if rest >= 1 else "out to nothing"
        return f" (its top sawn to the fall, {thin})"
    return f" (planed down {course.planed_mm} mm)" if course.planed_mm else ""


def findings(
    courses_: tuple[EdgeCourse, ...], plan: Plan, basis: Basis
) -> Iterator[Finding]:  # fmt: skip
    """Say how the edges are built up, and where that is not known.

    Parameters
    ----------
    courses_ : tuple of EdgeCourse
        All courses [mm].
    plan : Plan
        Sides [m].
    basis : str
        Basis of the rates [-].

    Yields
    ------
    Finding
        None where no side has edge timber [-].
    """
    if not plan.of_kind(*TIMBERED):
        return
    rule = take_off_practice.TIMBER_PLANE_MM
    if not courses_:
        says = (
            "The rates name edge timber without its thickness: one length is ordered all round, "
            "whatever the height of the boards, and neither price nor weight follows it."
        )
        cure = Remedy("Give each edge-timber section of the rates its depth_mm.")
        yield Finding("edge-timber-unknown", "edges", "agree", says, "the rates", basis,
                      remedy=cure)  # fmt: skip
        return
    planed = [c for c in courses_ if c.planed_mm > rule]
    if planed:
        worst = max(planed, key=lambda c: c.planed_mm)
        says = (
            f"The edge timber along {worst.side} stands {worst.planed_mm} mm above the boards as "
            f"sold; more than {rule:.0f} is a saw cut along it, not a plane."
        )
        cure = Remedy("Have the uppermost course ripped to height, or add a thinner section.")
        yield Finding("edge-timber-over", f"side:{worst.side}", "note", says, rule.source,
                      rule.basis, worst.planed_mm, float(rule), "mm", cure)  # fmt: skip
