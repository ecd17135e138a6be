"""Zones: the parts of the roof where the insulation is thinner, in their places."""

from __future__ import annotations

from itertools import combinations

from evenfall.errors import InvalidInput
from evenfall.model.choice import BuildUp
from evenfall.model.job import ThinZone
from evenfall.model.standing import Zones
from evenfall.model.surveyed import Plan
from evenfall.stages.design import zoning

SHARED_M2 = 0.001  # two zones that share less only touch


def work(thin: tuple[ThinZone, ...], build: BuildUp, plan: Plan) -> Zones:
    """Put every thinner zone in its place.

    Parameters
    ----------
    thin : tuple of ThinZone
        Zones as chosen [m].
    build : BuildUp
        Boards that are sold [mm].
    plan : Plan
        The deck [m].

    Returns
    -------
    Zones
        In the order given [-].

    Raises
    ------
    InvalidInput
        A thickness that nobody sells, a zone beside the deck, or two zones over one another.
    """
    totals = build.totals()
    for zone in thin:
        if zone.thickness_mm not in totals:
            raise InvalidInput(
                f"{zone.thickness_mm} mm",
                f"a thickness that {build.layers} of the boards sold make: "
                f"{', '.join(map(str, totals))}",
                where=f"design.thin_zones[{zone.name}].thickness_mm",
            )  # fmt: skip
    found = tuple(zoning.placed(z, plan) for z in thin)
    for one, other in combinations(found, 2):
        if zoning.overlap(one, other) > SHARED_M2:
            raise InvalidInput(
                f"{one.name} and {other.name} lie over one another", "zones beside one another",
                where=f"design.thin_zones[{other.name}]", do="make one of them shorter",
            )  # fmt: skip
    return Zones(found, "" if found else "The insulation is equally thick all over.")
