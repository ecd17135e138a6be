"""Eaves and verge: the roof runs out over its wall, and the wall head is filled or stays open."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from evenfall.calc.physics.conduction import Box, Surround
from evenfall.calc.physics.details.parts import (
    AIR,
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

State = Literal["open", "half", "filled"]


@dataclass(frozen=True, slots=True)
class Head:
    """The slot between the top of the wall and the underside of the deck.

    Parameters
    ----------
    height : float
        Height of the slot [m].
    conductivity : float
        Of what it is filled with [W/(m K)].
    state : str
        ``open``: outside air comes as far as the inner face of the wall; ``half``: filled over the
        inner half of the wall; ``filled``: all of it [-].
    """

    height: float
    conductivity: float
    state: State = "filled"


@dataclass(frozen=True, slots=True)
class OpenEdge:
    """Eaves or verge.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    wall : Wall
        The wall below [-].
    out : float
        How far the deck reaches past the outer face of the wall [m].
    fascia : float
        Thickness of the fascia, 0 for none [m].
    timber : float
        Width of the edge timber, as high as the insulation [m].
    kerb : float
        How far the edge timber stands above the surface, 0 at eaves [m].
    wood : float
        Conductivity of timber [W/(m K)].
    head : Head, optional
        None where the wall goes up to the deck [-].
    """

    roof: Roof
    wall: Wall
    out: float
    fascia: float
    timber: float
    kerb: float
    wood: float
    head: Head | None = None

    @property
    def kind(self) -> str:
        """What it is called."""
        return "verge" if self.kerb else "eaves"

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
        """
        roof, wall = self.roof, self.wall
        foot = roof.inside - wall.cut
        flanks = (
            Flank("roof", roof.U(films), roof.cut),
            Flank("wall", wall.U(films), wall.cut),
        )
        return section(self._solids(foot), self._airs(foot, films), flanks)

    @property
    def _edge(self) -> float:
        return -self.wall.thickness - self.out

    @property
    def _slot(self) -> float:
        """Height of the wall top."""
        height = self.head.height if self.head else 0.0
        room_for = self.roof.between and -self.roof.deck.thickness - self.roof.underside
        if height < 0 or (room_for and height >= room_for):
            raise InvalidInput(
                f"slot of {height:g} m", f"less than the joists are deep, {room_for:g} m",
                where="wall head", do="measure from the top of the wall to the deck",
            )  # fmt: skip
        return -self.roof.deck.thickness - height

    def _solids(self, foot: float) -> Iterator[Box]:
        roof, edge, deck = self.roof, self._edge, self.roof.deck.thickness
        yield from self.wall.boxes(foot, self._slot)
        yield from pile([roof.deck], edge, roof.cut, -deck)
        yield Box("edge timber", (edge, 0.0), (edge + self.timber, roof.top + self.kerb), self.wood)
        yield from pile(roof.above, edge + self.timber, roof.cut, 0.0)
        if self.fascia:
            yield Box("fascia", (edge - self.fascia, -deck), (edge, roof.top), self.wood)
        if self.head and self.head.height and self.head.state != "open":
            yield Box(
                "wall head filling", (self._filled_from, self._slot), (0.0, -deck),
                self.head.conductivity,
            )  # fmt: skip
        yield from under(roof, roof.cut)

    @property
    def _filled_from(self) -> float:
        half = self.head is not None and self.head.state == "half"
        return -self.wall.thickness / (2 if half else 1)

    def _airs(self, foot: float, films: Films) -> Iterator[Surround]:
        roof, face = self.roof, self._edge - self.fascia
        wall, deck, top = -self.wall.thickness, -self.roof.deck.thickness, self.roof.top
        yield from room(0.0, roof.cut, foot, roof.inside, films)
        yield from outer(face - AIR, face, foot, top, films.outside)
        yield from outer(face, wall, foot, deck, films.outside)
        high = top + self.kerb + AIR
        inner = self._edge + self.timber
        yield from outer(face, self._edge, top, high, films.outside)
        yield from outer(self._edge, inner, top + self.kerb, high, films.outside)
        yield from outer(inner, roof.cut, top, high, films.outside)
        if self.head and self.head.height and self.head.state != "filled":
            end = 0.0 if self.head.state == "open" else self._filled_from
            yield from outer(wall, end, self._slot, deck, films.sheltered)
