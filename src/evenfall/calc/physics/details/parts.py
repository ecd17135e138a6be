"""What an edge is drawn from: courses, the roof beside it, the wall below it, films of air."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import combinations
from typing import Literal

from evenfall.calc.physics.conduction import Box, Detail, Surround
from evenfall.errors import InvalidInput
from evenfall.standards import edge_practice

INSIDE, OUTSIDE = "inside", "outside"
BEHIND = "room behind the wall"
AIR = 0.1  # how far a box of air reaches from the surface it lies on [m]
STRIP = 0.01  # the air beside a wall that has the film of a wall [m]
SAME = 1e-6  # parts that share less than this only touch [m]

Way = Literal["to", "along"]
"""Joists run to the edge, or along it."""


@dataclass(frozen=True, slots=True)
class Course:
    """One material of a thickness.

    Parameters
    ----------
    name : str
        What it is, as errors shall call it [-].
    thickness : float
        Thickness, more than 0 [m].
    conductivity : float
        Thermal conductivity, more than 0; of air, thickness over resistance [W/(m K)].

    Examples
    --------
    >>> Course("board", 0.11, 0.022).R
    5.0
    """

    name: str
    thickness: float
    conductivity: float

    def __post_init__(self) -> None:
        for what, value, unit in (
            ("thickness", self.thickness, "m"),
            ("conductivity", self.conductivity, "W/(m K)"),
        ):
            if not (math.isfinite(value) and value > 0):
                raise InvalidInput(
                    f"{what} {value:g} {unit}", "more than 0", where=self.name,
                    do="leave out what is not there",
                )  # fmt: skip

    @property
    def R(self) -> float:
        """Thermal resistance [m2K/W]."""
        return self.thickness / self.conductivity


@dataclass(frozen=True, slots=True)
class Timbers:
    """The joists.

    Parameters
    ----------
    width, spacing : float
        Width, and distance from one to the next [m].
    conductivity : float
        Of the timber [W/(m K)].
    way : str
        ``to`` the edge or ``along`` it [-].
    """

    width: float
    spacing: float
    conductivity: float
    way: Way = "to"

    def __post_init__(self) -> None:
        if not 0 < self.width < self.spacing:
            raise InvalidInput(
                f"width {self.width:g} m at {self.spacing:g} m", "0 < width < spacing",
                where="joists",
            )  # fmt: skip

    def among(self, course: Course) -> Course:
        """Spread the joists evenly through what lies between them."""
        share = self.width / self.spacing
        mixed = share * self.conductivity + (1 - share) * course.conductivity
        return Course(course.name, course.thickness, mixed)


@dataclass(frozen=True, slots=True)
class Films:
    """Surface resistances.

    Parameters
    ----------
    up : float
        Inside, under a ceiling [m2K/W].
    level : float
        Inside, on a wall [m2K/W].
    outside : float
        Outside [m2K/W].
    sheltered : float
        Where outside air stands in a slot [m2K/W].
    """

    up: float
    level: float
    outside: float
    sheltered: float


@dataclass(frozen=True, slots=True)
class Roof:
    """The roof beside the edge; heights are taken from the top of the deck.

    Parameters
    ----------
    above : tuple of Course
        From the deck up; thin sheets are left out [-].
    deck : Course
        The boarding [-].
    between : tuple of Course
        Void and quilt between the joists, from the deck down [-].
    ceiling : Course, optional
        None where the joists are seen from the room [-].
    joists : Timbers
        The joists [-].
    """

    above: tuple[Course, ...]
    deck: Course
    between: tuple[Course, ...]
    ceiling: Course | None
    joists: Timbers

    @property
    def top(self) -> float:
        """Height of the finished surface [m]."""
        return sum(c.thickness for c in self.above)

    @property
    def underside(self) -> float:
        """Height of the underside of the joists [m]."""
        return -self.deck.thickness - sum(c.thickness for c in self.between)

    @property
    def inside(self) -> float:
        """Height of the plane seen from the room [m]."""
        return self.underside - (self.ceiling.thickness if self.ceiling else 0.0)

    @property
    def mixed(self) -> tuple[Course, ...]:
        """Void and quilt with the joists spread through them."""
        return tuple(self.joists.among(c) for c in self.between)

    def U(self, films: Films) -> float:
        """Transmittance away from the edge, of the same courses [W/(m2K)]."""
        courses = (*self.above, self.deck, *self.mixed, *([self.ceiling] if self.ceiling else []))
        return 1 / (films.outside + sum(c.R for c in courses) + films.up)

    @property
    def cut(self) -> float:
        """How far from the edge the section is cut [m]."""
        return _cut(self.top - self.inside)


@dataclass(frozen=True, slots=True)
class Wall:
    """A wall in courses from outside to inside.

    Parameters
    ----------
    leaves : tuple of Course
        At least one [-].
    """

    leaves: tuple[Course, ...]

    def __post_init__(self) -> None:
        if not self.leaves:
            raise InvalidInput("no leaf", "at least one", where="wall")

    @property
    def thickness(self) -> float:
        """Thickness of all leaves [m]."""
        return sum(c.thickness for c in self.leaves)

    def U(self, films: Films) -> float:
        """Transmittance away from the edge [W/(m2K)]."""
        return 1 / (films.outside + sum(c.R for c in self.leaves) + films.level)

    @property
    def cut(self) -> float:
        """How far from the edge the section is cut [m]."""
        return _cut(self.thickness)

    def boxes(self, z0: float, z1: float, inner: float = 0.0) -> Iterator[Box]:
        """Stand the leaves up, their inner face at ``inner``."""
        x = inner - self.thickness
        for leaf in self.leaves:
            yield Box(leaf.name, (x, z0), (x + leaf.thickness, z1), float(leaf.conductivity))
            x += leaf.thickness


@dataclass(frozen=True, slots=True)
class Flank:
    """A plane part beside the edge, to which psi is the difference.

    Parameters
    ----------
    name : str
        What it is [-].
    U : float
        Its transmittance, of the same courses and films [W/(m2K)].
    length : float
        Along its inner face, from where the inner planes meet to the cut [m].
    """

    name: str
    U: float
    length: float


@dataclass(frozen=True, slots=True)
class Section:
    """An edge in two dimensions, and the plane parts that it is compared with.

    Parameters
    ----------
    detail : Detail
        Boxes and airs; x runs inwards from the inner face, z up from the deck [m].
    flanks : tuple of Flank
        What the whole roof counts already [-].
    """

    detail: Detail
    flanks: tuple[Flank, ...]


def section(boxes: Iterable[Box], airs: Iterable[Surround], flanks: Sequence[Flank]) -> Section:
    """Put a section together, and refuse parts that lie in one another.

    Parameters
    ----------
    boxes : iterable of Box
        Solids, none in another [m].
    airs : iterable of Surround
        Air on both sides [m].
    flanks : sequence of Flank
        Plane parts [-].

    Returns
    -------
    Section
        The edge [m].

    Raises
    ------
    InvalidInput
        Two parts overlap; both are named.

    Examples
    --------
    >>> one = Box("board", (0.0, 0.0), (1.0, 0.10), 0.022)
    >>> two = Box("kerb", (0.9, 0.0), (1.0, 0.25), 0.13)
    >>> section([one, two], [], [])
    Traceback (most recent call last):
    evenfall.errors.InvalidInput: kerb: lies in board, expected parts that meet only in a face
    """
    solid = tuple(boxes)
    for a, b in combinations(solid, 2):
        if _shared(a, b):
            raise InvalidInput(f"lies in {a.name}", "parts that meet only in a face", where=b.name)
    return Section(Detail(solid, tuple(airs)), tuple(flanks))


def pile(courses: Iterable[Course], x0: float, x1: float, z: float) -> Iterator[Box]:
    """Lay courses on one another, from a height up.

    Parameters
    ----------
    courses : iterable of Course
        The lowest first [-].
    x0, x1 : float
        Where they begin and end [m].
    z : float
        Underside of the lowest [m].

    Yields
    ------
    Box
        One a course [m].

    Examples
    --------
    >>> [b.upper for b in pile([Course("deck", 0.5, 0.13)], 0.0, 2.0, 1.0)]
    [(2.0, 1.5)]
    """
    for course in courses:
        top = z + course.thickness
        yield Box(course.name, (x0, z), (x1, top), float(course.conductivity))
        z = top


def under(roof: Roof, x1: float, x0: float = 0.0) -> Iterator[Box]:
    """Draw what hangs below the deck: joists, void, quilt, ceiling.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    x1 : float
        Where the section is cut [m].
    x0 : float
        Inner face of wall or hole [m].

    Yields
    ------
    Box
        A joist along the edge is drawn as it is; the others are spread through the void [m].
    """
    start, depth = x0, roof.underside
    if roof.between and roof.joists.way == "along":
        start = x0 + roof.joists.width
        foot, head = (x0, depth), (start, -roof.deck.thickness)
        yield Box("joist", foot, head, float(roof.joists.conductivity))
    yield from pile(reversed(roof.mixed), start, x1, depth)
    if roof.ceiling:
        yield from pile([roof.ceiling], x0, x1, roof.inside)


def room(x0: float, x1: float, z0: float, z1: float, films: Films) -> Iterator[Surround]:
    """Fill the corner under the ceiling with the air of the room, the wall on its left.

    Parameters
    ----------
    x0, x1, z0, z1 : float
        The room, as far as it is drawn [m].
    films : Films
        Surface resistances [m2K/W].

    Yields
    ------
    Surround
        A strip with the film of the wall, and the rest with that of the ceiling [m].
    """
    if films.level == films.up:
        yield Surround(INSIDE, (x0, z0), (x1, z1), 1.0, float(films.up))
        return
    yield Surround(INSIDE, (x0, z0), (x0 + STRIP, z1), 1.0, float(films.level))
    yield Surround(INSIDE, (x0 + STRIP, z0), (x1, z1), 1.0, float(films.up))


def outer(x0: float, x1: float, z0: float, z1: float, film: float) -> Iterator[Surround]:
    """Put outside air in a rectangle, if it has any size.

    Parameters
    ----------
    x0, x1, z0, z1 : float
        The rectangle [m].
    film : float
        Surface resistance [m2K/W].

    Yields
    ------
    Surround
        Outside air, at most one [m].

    Examples
    --------
    >>> list(outer(0.0, 0.0, 0.0, 1.0, 0.04))
    []
    """
    if x1 - x0 > SAME and z1 - z0 > SAME:
        yield Surround(OUTSIDE, (x0, z0), (x1, z1), 0.0, float(film))


def _cut(thickness: float) -> float:
    return max(float(edge_practice.CUT_LEAST), edge_practice.CUT_TIMES * thickness)


def _shared(a: Box, b: Box) -> bool:
    sides = zip(a.lower, a.upper, b.lower, b.upper, strict=True)
    return all(min(ua, ub) - max(la, lb) > SAME for la, ua, lb, ub in sides)
