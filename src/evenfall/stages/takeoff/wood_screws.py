"""Wood screws of edge and kerb timber: each course into the one below, the lowest into the deck."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, floor

from evenfall.model.finding import Finding, Remedy
from evenfall.model.rates import Item
from evenfall.model.taken_off import EdgeCourse
from evenfall.stages.takeoff.fixings import edge_screws
from evenfall.standards import fixing_practice
from evenfall.working import Working, total, weakest

MM = 1000
KIND = "wood-screws-"
Chosen = dict[str, list[EdgeCourse]]


def number(course: EdgeCourse, centres: Working) -> int:
    """Count the screws of one course: at centres, and one more at its end.

    Parameters
    ----------
    course : EdgeCourse
        The course [mm].
    centres : Working
        Centres of the screws [mm].

    Returns
    -------
    int
        Screws [each].
    """
    return ceil(edge_screws(course.length_mm / MM, centres)) + 1


def choose(courses: tuple[EdgeCourse, ...], items: tuple[Item, ...]) -> tuple[Chosen, Chosen]:
    """Find a screw for each course: the shortest that bites; where it can, none that goes too far.

    Parameters
    ----------
    courses : tuple of EdgeCourse
        Courses and the screws that they allow [mm].
    items : tuple of Item
        Items of the rates; screws tell their length [mm].

    Returns
    -------
    tuple of dict
        Courses by the name of their screw, and under an empty name those that none is long enough
        for; then the courses whose screw comes out too far below [-].
    """
    sold = sorted((i.length_mm, i.name) for i in items if i.name.startswith(KIND) and i.length_mm)
    found, far = Chosen(), Chosen()
    for course in courses:
        low, high = course.screw_mm
        mm, name = next(((mm, n) for mm, n in sold if mm >= low), (0.0, ""))
        found.setdefault(name, []).append(course)
        if name and mm > high:
            far.setdefault(name, []).append(course)
    return found, far


def need(courses: list[EdgeCourse], centres: Working) -> Working:
    """Count the screws of some courses.

    Parameters
    ----------
    courses : list of EdgeCourse
        Courses that take the same screw [mm].
    centres : Working
        Centres of the screws [mm].

    Returns
    -------
    Working
        Screws before waste [each].
    """
    parts = [(f"{c.side} course {c.number}", float(number(c, centres))) for c in courses]
    found = total("Edge and kerb timber screwed", "need", "each", parts)
    rule = fixing_practice.TIMBER_POINT_MM
    return replace(found, own_basis=weakest(["measured", centres.basis, rule.basis]))


def note(courses: list[EdgeCourse], item: Item) -> str:
    """Tell the lowest and the highest length that each course allows.

    Parameters
    ----------
    courses : list of EdgeCourse
        Courses that take the same screw [mm].
    item : Item
        The screw [mm].

    Returns
    -------
    str
        Words for the order [-].
    """
    alike: dict[str, list[tuple[float, float]]] = {}
    for c in courses:
        alike.setdefault(f"{c.thick_mm} mm timber into {c.into}", []).append(c.screw_mm)
    told = "; ".join(
        f"{says}: {ceil(max(low for low, _ in all_))} to {floor(min(high for _, high in all_))} mm"
        for says, all_ in alike.items()
    )
    return f"allowed through {told}. {item.length_mm:.0f} mm is sold"


def findings(found: Chosen, far: Chosen, centres: Working) -> Iterator[Finding]:
    """Say before ordering where no screw is long enough, or one comes out too far below.

    Parameters
    ----------
    found, far : dict
        As chosen [-].
    centres : Working
        Centres of the screws [mm].

    Yields
    ------
    Finding
        None where every course has its screw [-].
    """
    rule = fixing_practice.TIMBER_POINT_MM
    if short := found.get("", []):
        low = max(c.screw_mm[0] for c in short)
        screws = sum(number(c, centres) for c in short)
        says = (
            f"{screws} wood screws for edge or kerb timber must be up to {ceil(low)} mm long; the "
            "rates sell none so long, so they are neither ordered nor priced."
        )
        cure = Remedy(
            f"Add {KIND}{ceil(low)} with its length_mm to the items of the rates, or build the "
            "edge or kerb from thinner courses."
        )
        yield Finding("edge-screw-short", "edges", "stop", says, rule.source, rule.basis,
                      None, ceil(low), "mm", cure)  # fmt: skip
    for name, courses in far.items():
        first = courses[0]
        says = _too_far(first, name.removeprefix(KIND))
        cure = Remedy("Look for cables and pipes under the edge first, or take another timber.")
        yield Finding("edge-screw-far", "edges", "agree", says, rule.source, rule.basis,
                      float(name.removeprefix(KIND)) if name.removeprefix(KIND).isdigit() else None,
                      floor(first.screw_mm[1]), "mm", cure)  # fmt: skip


def _too_far(course: EdgeCourse, sold: str) -> str:
    """Say that no screw sold is long enough and short enough, and what is ordered instead."""
    low, high = ceil(course.screw_mm[0]), floor(course.screw_mm[1])
    through = f"Screws through the {course.thick_mm} mm timber into {course.into}"
    if low > high:
        return (
            f"{through} must be {low} mm long at the high end of its fall and {high} mm at most "
            f"at the low end: one length does not do. {sold} mm is ordered; take shorter ones "
            "towards the low end."
        )
    return (
        f"{through} may be {low} to {high} mm long; none of these is sold. {sold} mm is ordered "
        "and comes out below further."
    )
