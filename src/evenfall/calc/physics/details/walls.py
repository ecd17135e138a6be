"""Edges at walls: a wall that goes on up, a parapet, and the line to a neighbour."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.calc.physics.conduction import Box, Surround
from evenfall.calc.physics.details.parts import (
    AIR,
    BEHIND,
    Course,
    Films,
    Flank,
    Roof,
    Section,
    Wall,
    outer,
    pile,
    room,
    section,
    under,
)
from evenfall.errors import InvalidInput


def _roof_boxes(roof: Roof, start: float = 0.0) -> Iterator[Box]:
    """Lay deck and build-up from the wall, or the edge timber, to the cut."""
    yield from pile([roof.deck], 0.0, roof.cut, -roof.deck.thickness)
    yield from pile(roof.above, start, roof.cut, 0.0)
    yield from under(roof, roof.cut)


@dataclass(frozen=True, slots=True)
class Abutment:
    """The wall goes on above the roof, with a warm room behind it; or a step to a higher roof.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    wall : Wall
        The wall; its outer leaf faces the roof [-].
    """

    roof: Roof
    wall: Wall

    @property
    def kind(self) -> str:
        """What it is called."""
        return "wall"

    def section(self, films: Films) -> Section:
        """Draw it.

        Parameters
        ----------
        films : Films
            Surface resistances [m2K/W].

        Returns
        -------
        Section
            Inside dimensions: the roof from the face of the wall; of the wall above only what
            stands out of the roof is counted, from the finished surface up [m].
        """
        roof, wall = self.roof, Wall(self.wall.leaves[::-1])  # its outer leaf is on the right
        head = roof.top + wall.cut
        foot = roof.inside - wall.cut
        flanks = (
            Flank("roof", roof.U(films), roof.cut),
            Flank("wall above", wall.U(films), wall.cut),
        )
        solids = (*wall.boxes(foot, head), *_roof_boxes(roof))
        return section(solids, self._airs(foot, head, films), flanks)

    def _airs(self, foot: float, head: float, films: Films) -> Iterator[Surround]:
        roof, back = self.roof, -self.wall.thickness
        yield from room(0.0, roof.cut, foot, roof.inside, films)
        yield Surround(BEHIND, (back - AIR, foot), (back, head), 1.0, float(films.level))
        yield from outer(0.0, roof.cut, roof.top, head, films.outside)


@dataclass(frozen=True, slots=True)
class Parapet:
    """The wall goes on above the roof with outside air on both sides.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    wall : Wall
        The wall, below and above [-].
    height : float
        Its top above the deck, above the finished surface [m].
    lining : Course, optional
        Insulation on its inner face and its top; none leaves it bare [-].
    """

    roof: Roof
    wall: Wall
    height: float
    lining: Course | None = None

    @property
    def kind(self) -> str:
        """What it is called."""
        return "parapet"

    def section(self, films: Films) -> Section:
        """Draw it.

        Parameters
        ----------
        films : Films
            Surface resistances [m2K/W].

        Returns
        -------
        Section
            Inside dimensions: the roof from the inner face of the wall, the wall from the ceiling
            down [m].

        Raises
        ------
        InvalidInput
            The parapet does not stand above the roof.
        """
        roof, wall = self.roof, self.wall
        if self.height <= roof.top:
            raise InvalidInput(
                f"{self.height:g} m above the deck", f"more than the roof, {roof.top:g} m",
                where="parapet", do="give it as a verge where the roof grows over it",
            )  # fmt: skip
        foot = roof.inside - wall.cut
        flanks = (
            Flank("roof", roof.U(films), roof.cut),
            Flank("wall", wall.U(films), wall.cut),
        )
        solids = (*wall.boxes(foot, self.height), *_roof_boxes(roof), *self._lined())
        return section(solids, self._airs(foot, films), flanks)

    def _lined(self) -> Iterator[Box]:
        if self.lining is None:
            return
        d, lambda_, back = (
            self.lining.thickness,
            float(self.lining.conductivity),
            -self.wall.thickness,
        )
        yield Box("lining of the face", (0.0, self.roof.top), (d, self.height), lambda_)
        yield Box("lining of the top", (back, self.height), (d, self.height + d), lambda_)

    def _airs(self, foot: float, films: Films) -> Iterator[Surround]:
        roof, back = self.roof, -self.wall.thickness
        d = self.lining.thickness if self.lining else 0.0
        top = self.height + d
        yield from room(0.0, roof.cut, foot, roof.inside, films)
        yield from outer(back - AIR, back, foot, top, films.outside)
        yield from outer(back - AIR, d, top, top + AIR, films.outside)
        yield from outer(d, roof.cut, roof.top, top + AIR, films.outside)


@dataclass(frozen=True, slots=True)
class PartyLine:
    """The line to a neighbour: his side is taken as warm and as good, so no heat crosses it.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    wall : Wall
        The whole party wall; half of it is drawn [-].
    timber : float
        Width of the edge timber on the line, as high as the insulation [m].
    wood : float
        Conductivity of timber [W/(m K)].
    """

    roof: Roof
    wall: Wall
    timber: float
    wood: float

    @property
    def kind(self) -> str:
        """What it is called."""
        return "party line"

    def section(self, films: Films) -> Section:
        """Draw it.

        Parameters
        ----------
        films : Films
            Surface resistances [m2K/W].

        Returns
        -------
        Section
            Inside dimensions: the roof from the inner face of the party wall [m].
        """
        roof, line = self.roof, -self.wall.thickness / 2
        foot, deck = roof.inside - self.wall.cut, roof.deck.thickness
        masonry = self.wall.leaves[-1]
        solids = (
            Box("party wall", (line, foot), (0.0, -deck), float(masonry.conductivity)),
            *pile([roof.deck], line, roof.cut, -deck),
            Box("edge timber", (line, 0.0), (line + self.timber, roof.top), self.wood),
            *pile(roof.above, line + self.timber, roof.cut, 0.0),
            *under(roof, roof.cut),
        )
        airs = (
            *room(0.0, roof.cut, foot, roof.inside, films),
            *outer(line, roof.cut, roof.top, roof.top + AIR, films.outside),
        )
        return section(solids, airs, (Flank("roof", roof.U(films), roof.cut),))
