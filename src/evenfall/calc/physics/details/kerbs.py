"""Rooflight kerb: a timber box that stands on the deck or on the boards, bare or insulated."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.calc.physics.conduction import Box, Surround
from evenfall.calc.physics.details.parts import (
    AIR,
    INSIDE,
    Course,
    Films,
    Flank,
    Roof,
    Section,
    outer,
    pile,
    section,
)
from evenfall.errors import InvalidInput


@dataclass(frozen=True, slots=True)
class RooflightKerb:
    """The kerb round a rooflight; the light itself is left out, no heat passes its frame.

    Parameters
    ----------
    roof : Roof
        The roof [-].
    timber : float
        Thickness of the kerb [m].
    above : float
        How far it stands above the finished surface [m].
    wood : float
        Conductivity of timber [W/(m K)].
    on_boards : bool
        Whether it stands on the boards, else on the deck [-].
    lining : Course, optional
        Insulation on its outer face; none leaves it bare [-].
    """

    roof: Roof
    timber: float
    above: float
    wood: float
    on_boards: bool = False
    lining: Course | None = None

    @property
    def kind(self) -> str:
        """What it is called."""
        return "rooflight kerb"

    def section(self, films: Films) -> Section:
        """Draw it.

        Parameters
        ----------
        films : Films
            Surface resistances [m2K/W].

        Returns
        -------
        Section
            Inside dimensions: the roof from the inner face of the kerb [m].
        """
        roof, head = self.roof, self.roof.top + self.above
        if self.above <= 0:
            raise InvalidInput(
                f"{self.above:g} m above the surface", "more than 0", where="rooflight kerb"
            )
        stands = roof.top if self.on_boards else 0.0
        solids = (
            *pile([roof.deck], 0.0, roof.cut, -roof.deck.thickness),
            *pile(roof.above, 0.0 if self.on_boards else self.timber, roof.cut, 0.0),
            Box("kerb", (0.0, stands), (self.timber, head), self.wood),
            *self._lined(head),
            *self._trimmer(),
        )
        return section(solids, self._airs(head, films), (Flank("roof", roof.U(films), roof.cut),))

    def _lined(self, head: float) -> Iterator[Box]:
        if self.lining is not None:
            outer_face = self.timber + self.lining.thickness
            lambda_ = float(self.lining.conductivity)
            yield Box("kerb lining", (self.timber, self.roof.top), (outer_face, head), lambda_)

    def _trimmer(self) -> Iterator[Box]:
        """Close the joists round the hole with a trimmer, whichever way they run."""
        roof = self.roof
        if not roof.between:
            return
        width, foot = roof.joists.width, roof.underside
        head = -roof.deck.thickness
        yield Box("trimmer", (0.0, foot), (width, head), float(roof.joists.conductivity))
        yield from pile(reversed(roof.mixed), width, roof.cut, foot)
        if roof.ceiling:
            yield from pile([roof.ceiling], 0.0, roof.cut, roof.inside)

    def _airs(self, head: float, films: Films) -> Iterator[Surround]:
        roof = self.roof
        face = self.timber + (self.lining.thickness if self.lining else 0.0)
        low = roof.inside - AIR
        yield Surround(INSIDE, (-AIR, low), (0.0, head), 1.0, float(films.level))
        yield Surround(INSIDE, (0.0, low), (roof.cut, roof.inside), 1.0, float(films.up))
        yield from outer(face, roof.cut, roof.top, head, films.outside)
