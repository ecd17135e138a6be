"""What each edge is drawn from: nothing but what heat can feel, so that nothing else solves it."""

from __future__ import annotations

from dataclasses import dataclass, replace
from functools import partial
from math import ceil
from typing import Literal

from evenfall.calc.physics.details import (
    Abutment,
    Course,
    Edge,
    Head,
    OpenEdge,
    Parapet,
    PartyLine,
    Roof,
    RooflightKerb,
    Timbers,
    Wall,
)
from evenfall.calc.physics.transmittance import Layer
from evenfall.errors import InvalidInput
from evenfall.model.choice import BuildUp
from evenfall.model.job import Covering, Design, Job, Joists, Side, Survey
from evenfall.model.surveyed import OpeningAt, Plan, SideAt
from evenfall.stages.design import layering
from evenfall.standards import edge_practice, roofing_practice
from evenfall.standards.iso_6946 import AIR_LAYERS
from evenfall.standards.iso_10456 import MATERIALS

MM = 1000
THIN = 0.004  # sheets below this are left out of a section: no heat runs along them [m]
RUNS_ALONG = 0.7  # cosine from which joists count as lying along a side: half a right angle

NEAR = 0.025  # leaves of a wall that differ by less are of one build [m]

Way = Literal["to", "along"]
Made = Literal["open_edge", "wall", "parapet", "party_line", "kerb"]


@dataclass(frozen=True, slots=True)
class Given:
    """An edge without its roof: what is the same at every thickness of the boards."""

    made: Made
    way: Way = "to"
    wall: Wall | None = None
    out: float = 0.0  # deck past the outer face of the wall [m]
    fascia: float = 0.0  # [m]
    upstand: float = 0.0  # kerb of a verge, or height of a parapet or kerb above the deck [m]
    head: Head | None = None
    on_boards: bool = False
    lining: Course | None = None
    other_lining: Course | None = None

    def edge(self, roof: Roof) -> Edge:
        """Draw it with a roof."""
        roof = replace(roof, joists=replace(roof.joists, way=self.way))
        return _MAKERS[self.made](self, roof)

    def raised(self, roof: Roof) -> float:
        """Give how much higher a parapet must stand than it was found, for its upstand [m]."""
        return _above(self, roof) - self.upstand if self.made == "parapet" else 0.0

    @property
    def build(self) -> Given:
        """What it has in common with edges that differ by little: their curves bend alike."""
        wall = self.wall and Wall(tuple(Course(c.name, _near(c), 1.0) for c in self.wall.leaves))
        up = float(self.upstand > 0)
        return replace(self, way="to", wall=wall, out=0.0, fascia=0.0, upstand=up)

    @property
    def says(self) -> str:
        """How its detail is done; empty where there is no choice."""
        if self.head is not None:
            word = {"open": "left open", "half": "half filled", "filled": "filled"}
            return f"wall head {word[self.head.state]}"
        if self.lining or self.other_lining:
            what = "kerb" if self.made == "kerb" else "parapet"
            return f"{what} {'insulated' if self.lining else 'not insulated'}"
        return ""

    @property
    def other(self) -> Given | None:
        """The same edge with its detail done the other way."""
        if self.head is not None:
            state: Literal["open", "filled"] = "open" if self.head.state == "filled" else "filled"
            return replace(self, head=replace(self.head, state=state))
        if self.lining or self.other_lining:
            return replace(self, lining=self.other_lining, other_lining=self.lining)
        return None


@dataclass(frozen=True, slots=True)
class EdgeOf:
    """One edge of the job, and what it is drawn from."""

    id: str
    given: Given
    wall_says: str = ""
    out_m: float = 0.0  # inner face of the wall to the edge of the deck


def edges_of(job: Job, plan: Plan, build: BuildUp) -> tuple[EdgeOf, ...]:
    """Gather what every edge is drawn from.

    Parameters
    ----------
    job : Job
        Sides, joists, old felt; wall heads, kerbs and parapets done or left [mm].
    plan : Plan
        Directions of the sides, and the rooflights [m].
    build : BuildUp
        Board, of which linings are cut [-].

    Returns
    -------
    tuple of EdgeOf
        Sides in their order, then rooflights [-].
    """
    survey, design = job.survey, job.design
    known = {s.side: s for s in survey.sides}
    lining = Course("lining", float(edge_practice.LINING), build.board.sizes[0][1])
    along, covering = plan.side(survey.joists.along), survey.covering
    found = [_side(known[at.name], _way(at, along), covering, design, lining) for at in plan.sides]
    lights = (o for o in plan.openings if o.kind == "rooflight")
    return (*found, *(_kerb(o, covering, design, lining) for o in lights))


def any_mm(
    job: Job, plan: Plan, build: BuildUp
) -> tuple[tuple[EdgeOf, ...], tuple[tuple[int, Roof], ...]]:
    """Gather the edges, and the roof at every thickness that is sold.

    Parameters
    ----------
    job, plan, build : Job, Plan, BuildUp
        What was found, measured and chosen [-].

    Returns
    -------
    tuple of (tuple of EdgeOf, tuple of (int, Roof))
        Edges [m]; insulation [mm] and roof, the thinnest first [m].
    """
    roofs = tuple((mm, roof_at(mm, job.survey, build)) for mm in build.totals())
    return edges_of(job, plan, build), roofs


def at_mm(mm: int, job: Job, plan: Plan, build: BuildUp) -> tuple[tuple[EdgeOf, ...], Roof]:
    """Gather the edges, and the roof at one thickness.

    Parameters
    ----------
    mm : int
        Insulation [mm].
    job, plan, build : Job, Plan, BuildUp
        What was found, measured and chosen [-].

    Returns
    -------
    tuple of (tuple of EdgeOf, Roof)
        Edges and roof [m].
    """
    return edges_of(job, plan, build), roof_at(mm, job.survey, build)


def roof_at(mm: int, survey: Survey, build: BuildUp) -> Roof:
    """Draw the roof at one thickness.

    Parameters
    ----------
    mm : int
        Insulation [mm].
    survey : Survey
        What stays: deck, joists, what lies below [-].
    build : BuildUp
        The layers [-].

    Returns
    -------
    Roof
        The roof, sheets left out [m].
    """
    layers = layering.finished(build, mm, survey.deck, survey.below, survey.joists)
    return roof_of(layers, survey.joists)


def roof_of(layers: tuple[Layer, ...], joists: Joists) -> Roof:
    """Turn the layers of the roof into the courses of a section.

    Parameters
    ----------
    layers : tuple of Layer
        From outside to inside [m].
    joists : Joists
        The joists [mm].

    Returns
    -------
    Roof
        The roof; sheets are left out [m].
    """
    names = [a.name for a in layers]
    cut = names.index("deck")
    thick = [a for a in layers[:cut] if a.thickness > THIN]
    between = tuple(_course(a) for a in layers[cut + 1 :] if a.bridge is not None)
    ceiling = next((_course(a) for a in layers if a.name == "ceiling"), None)
    timbers = Timbers(joists.width_mm / MM, joists.spacing_mm / MM, _wood())
    above = tuple(_course(a) for a in reversed(thick))
    return Roof(above, _course(layers[cut]), between, ceiling, timbers)


def wall_of(side: Side) -> tuple[Wall, str]:
    """Build the wall at a side from its thickness.

    Parameters
    ----------
    side : Side
        What was found; a wall without a thickness is taken as thick as its head, or as usual [mm].

    Returns
    -------
    tuple of (Wall, str)
        The wall from outside to inside [m], and what it was taken for [-].

    Raises
    ------
    InvalidInput
        A filled cavity in a wall too thin to have one.
    """
    t, how = _thickness(side)
    p = edge_practice
    cavity = t - 2 * p.LEAF - p.PLASTER
    if cavity < p.LEAST_CAVITY:
        if side.wall_cavity == "filled":
            raise InvalidInput(
                f"a filled cavity in a wall of {t * MM:.0f} mm", "a wall with two leaves",
                where=f"survey.sides[{side.side}].wall_cavity", do="measure the wall at an opening",
            )  # fmt: skip
        plaster = float(p.PLASTER) if t > p.LEAF + p.PLASTER else 0.0
        brick = Course("brickwork", t - plaster, float(p.BRICK_OUTSIDE))
        return Wall((brick, *_plaster(plaster))), f"solid brick {t * MM:.0f} mm{how}"
    filled = side.wall_cavity == "filled"
    lambda_ = p.CAVITY_FILL if filled else cavity / AIR_LAYERS[-1].horizontal
    leaves = (
        Course("outer leaf", float(p.LEAF), float(p.BRICK_OUTSIDE)),
        Course("cavity filling" if filled else "cavity", cavity, float(lambda_)),
        Course("inner leaf", float(p.LEAF), float(p.BRICK_INSIDE)),
    )
    state = "filled" if filled else "empty"
    says = f"cavity wall {t * MM:.0f} mm, cavity {state}{how}"
    return Wall((*leaves, *_plaster(float(p.PLASTER)))), says


def _thickness(side: Side) -> tuple[float, str]:
    if side.wall_thickness_mm is not None:
        return side.wall_thickness_mm / MM, ""
    if side.wall_head is not None:
        return side.wall_head.slot_width_mm / MM, " (as its head)"
    return float(edge_practice.WALL_NOT_MEASURED), " (not measured: taken so)"


def _plaster(thickness: float) -> tuple[Course, ...]:
    lambda_ = float(MATERIALS["gypsum plaster"].conductivity)
    return (Course("plaster", thickness, lambda_),) if thickness else ()


def _side(side: Side, way: Way, covering: Covering, design: Design, lining: Course) -> EdgeOf:
    wall, says = wall_of(side)
    at = f"side:{side.side}"
    beside = partial(Given, way=way, wall=wall)
    if side.kind == "wall" or (side.kind == "step" and side.wall_height_m):
        return EdgeOf(at, beside("wall"), says)
    if side.kind == "party_line":
        return EdgeOf(at, beside("party_line"), says, wall.thickness / 2)
    if side.kind == "parapet":
        above = (covering.thickness_mm + (side.parapet_height_mm or 0.0)) / MM
        a, b = _choice(design.parapets == "insulate", lining)
        given = beside("parapet", upstand=above, lining=a, other_lining=b)
        return EdgeOf(at, given, says)
    fascia = side.fascia_thickness_mm / MM
    out = max(0.0, side.overhang_mm / MM - fascia)
    kerb = design.kerb_height_mm / MM if side.kind == "verge" else 0.0
    head = _head(side, design.wall_head)
    given = beside("open_edge", out=out, fascia=fascia, upstand=kerb, head=head)
    return EdgeOf(at, given, says, wall.thickness + out)


def _head(side: Side, wall_head: str) -> Head | None:
    head = side.wall_head
    if head is None:
        return None
    left: Literal["open", "half"] = "half" if head.state == "part_filled" else "open"
    filled = wall_head == "fill" or head.state == "filled"
    packing = float(edge_practice.HEAD_PACKING)
    return Head(head.slot_height_mm / MM, packing, "filled" if filled else left)


def _kerb(o: OpeningAt, covering: Covering, design: Design, lining: Course) -> EdgeOf:
    a, b = _choice(design.rooflight_kerbs == "insulate", lining)
    old = (covering.thickness_mm + o.kerb_height_mm) / MM
    given = Given("kerb", upstand=old, on_boards=o.on_boards, lining=a, other_lining=b)
    return EdgeOf(o.id, given)


def _choice(done: bool, lining: Course) -> tuple[Course | None, Course | None]:
    return (lining, None) if done else (None, lining)


def _way(side: SideAt, joists_along: SideAt) -> Way:
    (a, b), (c, d) = side.along, joists_along.along
    return "along" if abs(a * c + b * d) > RUNS_ALONG else "to"


def _near(leaf: Course) -> float:
    """Round a leaf up, so that measures of one kind of wall fall together."""
    return ceil(leaf.thickness / NEAR) * NEAR


def _course(layer: Layer) -> Course:
    return Course(layer.name, layer.thickness, layer.thickness / layer.R)


def _wood() -> float:
    return float(MATERIALS["timber 500"].conductivity)


def _needed(given: Given) -> Wall:
    assert given.wall is not None
    return given.wall


def _above(given: Given, roof: Roof) -> float:
    """Height of a parapet or kerb above the deck: it grows with the roof where it is too low."""
    return max(given.upstand, roof.top + roofing_practice.UPSTAND / MM)


def _open_edge(given: Given, roof: Roof) -> Edge:
    timber = float(edge_practice.EDGE_TIMBER)
    return OpenEdge(
        roof, _needed(given), given.out, given.fascia, timber, given.upstand, _wood(), given.head
    )


def _parapet(given: Given, roof: Roof) -> Edge:
    return Parapet(roof, _needed(given), _above(given, roof), given.lining)


def _light(given: Given, roof: Roof) -> Edge:
    timber, above = float(roofing_practice.KERB_TIMBER), _above(given, roof) - roof.top
    return RooflightKerb(roof, timber, above, _wood(), given.on_boards, given.lining)


_MAKERS = {
    "open_edge": _open_edge,
    "wall": lambda given, roof: Abutment(roof, _needed(given)),
    "parapet": _parapet,
    "party_line": lambda given, roof: PartyLine(
        roof, _needed(given), float(edge_practice.EDGE_TIMBER), _wood()
    ),
    "kerb": _light,
}
