"""Kerb timber: courses on the edge timber of a verge, and the box under each rooflight."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from evenfall.calc.layout.stacks import stack_up
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import Falls, OpeningAt, Plan, SideAt
from evenfall.model.taken_off import EdgeCourse
from evenfall.stages.takeoff.edge_timber import Under
from evenfall.stages.takeoff.sections import Section, of_kind
from evenfall.standards import fixing_practice, roofing_practice, take_off_practice
from evenfall.working import Basis, formula

MM = 1000
KIND = "kerb-timber"
KERBED = ("verge", "party_line")


@dataclass(frozen=True, slots=True)
class KerbsAsked:
    """What says how high the kerbs must be."""

    edge_mm: float  # of a verge, above its boards
    sheet_mm: float
    covering_mm: float = 0.0  # the old covering, which old kerbs were measured from
    structure_mm: float = 0.0  # deck and joist: round a hole a trimmer lies under the deck


@formula("h_kerb", "mm", "150 above the finished covering, never lower than the old kerb")
def box_height(d_boards: float, d_sheet: float, h_upstand: float, h_old: float) -> float:
    """Height of a rooflight kerb above the deck.

    Parameters
    ----------
    d_boards, d_sheet : float
        Boards where they are thickest round it, and the sheet on them [mm].
    h_upstand : float
        What must stand above the finished covering [mm].
    h_old : float
        Top of the old kerb above the deck [mm].

    Returns
    -------
    float
        Height [mm].

    Examples
    --------
    >>> box_height(140, 1.2, 150, 104)
    291.2
    """
    return max(d_boards + d_sheet + h_upstand, h_old)


def courses(
    plan: Plan,
    falls: Falls,
    boards_mm: float,
    sold: tuple[Section, ...],
    under: Under,
    asked: KerbsAsked,
) -> tuple[EdgeCourse, ...]:
    """Build the kerbs of verges and party lines, and the box of every rooflight.

    Parameters
    ----------
    plan, falls : Plan, Falls
        Sides and openings; what falls add under or between the boards [mm].
    boards_mm : float
        Insulation and the overlay board on it [mm].
    sold : tuple of Section
        Sections that the rates hold [mm].
    under : Under
        What the screws of the lowest course must and may reach in the deck [mm].
    asked : KerbsAsked
        What says how high the kerbs must be [mm].

    Returns
    -------
    tuple of EdgeCourse
        The lowest course of each first; none where the rates tell no depth [mm].
    """
    timber = {round(s.depth_mm or 0): s for s in of_kind(KIND, sold)}
    if not timber:
        return ()
    return (
        *(c for side in plan.of_kind(*KERBED)
          for c in _on_edge(side, boards_mm, timber, under, asked.edge_mm)),
        *(c for o in plan.openings if o.kind == "rooflight" and o.diameter_mm is None
          for c in _box(o, falls, boards_mm, timber, under, asked)),
    )  # fmt: skip


def _on_edge(
    side: SideAt, boards_mm: float, timber: dict[int, Section], under: Under, high_mm: float
) -> Iterator[EdgeCourse]:
    """Lay courses on the edge timber; the uppermost is planed down to the height asked for."""
    stack = stack_up(high_mm, tuple(timber), float(take_off_practice.TIMBER_PLANE_MM))
    over = sum(stack) - ceil(round(high_mm, 6))
    bite = float(fixing_practice.TIMBER_POINT_MM)
    for n, thick in enumerate(stack):
        below = boards_mm + sum(stack[: n + 1])
        yield EdgeCourse(
            f"kerb of {side.name}", n + 1, timber[thick].name, thick,
            over if n == len(stack) - 1 else 0, round(side.length_m * MM),
            (thick + bite, below + under.most_mm), "the course below" if n else "the edge timber",
            high_mm, high_mm,
        )  # fmt: skip


def height_mm(opening: OpeningAt, falls: Falls, boards_mm: float, asked: KerbsAsked) -> float:
    """Tell how high the box of a rooflight is, from what it stands on to its top.

    Parameters
    ----------
    opening : OpeningAt
        A rooflight [mm].
    falls : Falls
        Firrings lift the deck, tapered boards grow on it [mm].
    boards_mm : float
        Insulation and the overlay board on it [mm].
    asked : KerbsAsked
        What says how high the kerbs must be [mm].

    Returns
    -------
    float
        Height [mm].
    """
    added = [falls.added_at(p) for p in opening.ring]
    tapered = falls.kind == "tapered"
    thick = boards_mm + (max(0.0, *added) if tapered else 0.0)
    lifted = 0.0 if tapered else max(0.0, min(added))
    old = asked.covering_mm + opening.kerb_height_mm - lifted
    up = float(roofing_practice.UPSTAND)
    whole = box_height(thick, asked.sheet_mm, up, old)
    return whole - (thick if opening.on_boards else 0.0)


def above_mm(opening: OpeningAt, falls: Falls, boards_mm: float, asked: KerbsAsked) -> float:
    """Tell how far the box of a rooflight stands above the finished roof where that is lowest.

    Parameters
    ----------
    opening : OpeningAt
        A rooflight [mm].
    falls : Falls
        Firrings lift the deck, tapered boards grow on it [mm].
    boards_mm : float
        Insulation and the overlay board on it [mm].
    asked : KerbsAsked
        What says how high the kerbs must be [mm].

    Returns
    -------
    float
        Height; at least that of an upstand [mm].
    """
    added = [falls.added_at(p) for p in opening.ring] if falls.kind == "tapered" else [0.0]
    high = height_mm(opening, falls, boards_mm, asked) - asked.sheet_mm
    most, least = max(0.0, *added), max(0.0, min(added))
    return high + (most if opening.on_boards else -boards_mm) - least


def _box(
    opening: OpeningAt,
    falls: Falls,
    boards_mm: float,
    timber: dict[int, Section],
    under: Under,
    asked: KerbsAsked,
) -> Iterator[EdgeCourse]:
    """Lay a box of four timbers to a course; the corners of each course cross those below."""
    high = height_mm(opening, falls, boards_mm, asked)
    stack = stack_up(high, tuple(timber), float(take_off_practice.KERB_OVER_MM))
    bite, most = float(fixing_practice.TIMBER_POINT_MM), max(under.most_mm, asked.structure_mm)
    through = boards_mm if opening.on_boards else 0.0
    ring = opening.ring
    for n, thick in enumerate(stack):
        below = through + sum(stack[: n + 1])
        least = thick + (bite if n else through + under.least_mm)
        into = "deck and trimmer" + (", through the boards" if opening.on_boards else "")
        wide = timber[thick].width_mm or roofing_practice.KERB_TIMBER * MM
        for k, (a, b) in enumerate(zip(ring, (*ring[1:], ring[0]), strict=True)):
            long = ((a[0] - b[0]) ** 2 + (a[1] - b[1]) ** 2) ** 0.5 * MM
            whole = k % 2 == n % 2  # two run through, two stand between them
            yield EdgeCourse(
                f"{opening.name} side {k + 1}", n + 1, timber[thick].name, thick, 0,
                round(long if whole else long - 2 * wide), (least, below + most),
                "the course below" if n else into, high, high,
            )  # fmt: skip


def told(kerbs: tuple[EdgeCourse, ...], section: str) -> str:
    """Say which kerbs a section makes, and how high they become.

    Parameters
    ----------
    kerbs : tuple of EdgeCourse
        All courses [mm].
    section : str
        Name of the section [-].

    Returns
    -------
    str
        Words for the order; empty for other sections [-].
    """
    said = {}
    for c in kerbs:
        if c.section == section:
            name = c.side.partition(" side ")[0]
            courses_ = {k.number: k for k in kerbs if k.side.partition(" side ")[0] == name}
            made = " + ".join(f"{k.thick_mm}" for k in courses_.values())
            planed = sum(k.planed_mm for k in courses_.values())
            down = f", planed down {planed} mm" if planed else ""
            said[name] = f"{name} {c.high_mm:.0f} mm high: {made} from below{down}"
    if not said:
        return ""
    crossed = ". Two sides of a box run through, two stand between: turn each course"
    boxes = any(" side " in c.side for c in kerbs if c.section == section)
    return "; ".join(said.values()) + (crossed if boxes else "")


def findings(kerbs: tuple[EdgeCourse, ...], plan: Plan, basis: Basis) -> Iterator[Finding]:
    """Say where the height of kerbs is not known, and where one is sawn along.

    Parameters
    ----------
    kerbs : tuple of EdgeCourse
        All courses [mm].
    plan : Plan
        Sides and openings [m].
    basis : str
        Basis of the rates [-].

    Yields
    ------
    Finding
        None where the roof has no kerb of timber [-].
    """
    lights = [o for o in plan.openings if o.kind == "rooflight" and o.diameter_mm is None]
    if not lights and not plan.of_kind(*KERBED):
        return
    if not kerbs:
        says = (
            "The rates name kerb timber without its depth: one length is ordered all round, "
            "however high the kerbs become, and neither price nor screws follow it."
        )
        cure = Remedy("Give each kerb-timber section of the rates its width_mm and depth_mm.")
        yield Finding("kerb-timber-unknown", "edges", "agree", says, "the rates", basis,
                      remedy=cure)  # fmt: skip
        return
    rule = take_off_practice.TIMBER_PLANE_MM
    planed = [c for c in kerbs if c.planed_mm > rule]
    if planed:
        worst = max(planed, key=lambda c: c.planed_mm)
        says = (
            f"The {worst.side} stands {worst.planed_mm} mm higher than drawn as sold; more than "
            f"{rule:.0f} is a saw cut along it, not a plane."
        )
        cure = Remedy("Have the uppermost course ripped to height, or add a thinner section.")
        yield Finding("kerb-timber-over", "edges", "note", says, rule.source, rule.basis,
                      worst.planed_mm, float(rule), "mm", cure)  # fmt: skip
