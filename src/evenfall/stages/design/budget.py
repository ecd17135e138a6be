"""The height budget: what is left at each thing beside the roof, and how thick a board fits.

An item is level, the roof beside it is not: it is checked where the finished surface stands highest
along it, or anywhere under the swing of a sash.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from evenfall.model.choice import BuildUp
from evenfall.model.job import Covering
from evenfall.model.standing import SLACK_MM, ZoneAt
from evenfall.model.surveyed import Falls, Point, Slope
from evenfall.stages.design.beside import Item
from evenfall.standards import roofing_practice
from evenfall.working import Working, formula, measured, total

FITS = -SLACK_MM  # mm; a margin that is short by less is the rounding of a sum
NEAR_M = 0.001  # an item that ends where a zone ends lies in it


@dataclass(frozen=True, slots=True)
class Ground:
    """What makes one place of the roof unlike another: the old slope and the thinner zones."""

    plane: Slope
    zones: tuple[ZoneAt, ...] = ()

    def thickness(self, at: Point, field_mm: float) -> float:
        """Insulation at a place, mm; a zone never makes it thicker than the field."""
        within = (float(z.thickness_mm) for z in self.zones if z.holds(at, NEAR_M))
        return min((field_mm, *within))


FLAT = Ground(Slope(0.0, 0.0, 0.0))


@formula("H", "mm", "the height budget")
def available(h: float, t_cov: float) -> float:
    """Height of an item above the deck.

    Parameters
    ----------
    h : float
        Height above the old covering [mm].
    t_cov : float
        Thickness of the old covering [mm].

    Returns
    -------
    float
        Height above the deck [mm].

    Examples
    --------
    >>> available(275, 12)
    287
    """
    return h + t_cov


@formula("margin", "mm", "the height budget")
def margin(H: float, build_up: float, upstand: float) -> float:
    """Height left over at an item.

    Parameters
    ----------
    H : float
        Height of the item above the deck [mm].
    build_up : float
        Finished surface above the deck, there [mm].
    upstand : float
        Height that must stay above the finished surface [mm].

    Returns
    -------
    float
        What is left; negative is short [mm].

    Examples
    --------
    >>> margin(287, 129, 150)
    8
    """
    return H - build_up - upstand


def worst_spot(item: Item, thickness_mm: float, falls: Falls, ground: Ground) -> Point:
    """Find where along an item the finished surface stands highest.

    Parameters
    ----------
    item : Item
        With the places to look at [-].
    thickness_mm : float
        Insulation of the field [mm].
    falls : Falls
        What firrings or tapers add [mm].
    ground : Ground
        Old slope and thinner zones [mm].

    Returns
    -------
    (x, y)
        The first of the highest places [m].
    """

    def surface(spot: Point) -> float:
        return uphill(item.at, spot, falls, ground) + ground.thickness(spot, thickness_mm)

    return max(item.spots, key=surface)


def uphill(at: Point, spot: Point, falls: Falls, ground: Ground) -> float:
    """Work out how much the finished roof rises from one place to another, boards being even.

    Parameters
    ----------
    at, spot : (x, y)
        From and to [m].
    falls : Falls
        What firrings or tapers add [mm].
    ground : Ground
        Old slope [mm].

    Returns
    -------
    float
        Rise; below nought it falls [mm].
    """
    added = falls.added_at if falls.tapers else falls.rise.at
    return added(spot) - added(at) + ground.plane.at(spot) - ground.plane.at(at)


def build_up(
    item: Item, build: BuildUp, thickness_mm: float, falls: Falls, ground: Ground = FLAT
) -> Working:
    """Add up the finished surface above the deck, at an item.

    Parameters
    ----------
    item : Item
        Where [-].
    build : BuildUp
        The layers [-].
    thickness_mm : float
        Insulation of the field [mm].
    falls : Falls
        What firrings or tapers add there [mm].
    ground : Ground
        Old slope and thinner zones [mm].

    Returns
    -------
    Working
        Build-up above the deck where the item was measured [mm].
    """
    spot = worst_spot(item, thickness_mm, falls, ground)
    lies, more = ground.thickness(spot, thickness_mm), uphill(item.at, spot, falls, ground)
    key = "design.thickness_mm" if lies == thickness_mm else "design.thin_zones"
    parts = [
        ("firring", measured(falls.added_at(item.at), "mm", "falls, at the item", "declared")),
        *([("uphill", measured(more, "mm", "falls, to the highest place along it", "declared"))]
          if abs(more) > SLACK_MM else []),
        ("VCL", measured(build.vcl.thickness_mm, "mm", "the rates", build.basis)),
        ("board", measured(lies, "mm", key, "declared")),
        *([("overlay", measured(build.overlay_mm, "mm", "design.overlay_mm", "declared"))]
          if build.overlay_mm else []),
        ("sheet", roofing_practice.MEMBRANE_ALLOWED),
    ]  # fmt: skip
    return total("Build-up above the deck", "build_up", "mm", parts)


def left(
    item: Item,
    build: BuildUp,
    thickness_mm: float,
    falls: Falls,
    covering: Covering,
    ground: Ground = FLAT,
) -> Working:
    """Work out what is left at an item.

    Parameters
    ----------
    item : Item
        Where, how high, and what it asks for [mm].
    build : BuildUp
        The layers [-].
    thickness_mm : float
        Insulation of the field [mm].
    falls : Falls
        What firrings or tapers add there [mm].
    covering : Covering
        The old covering, whose thickness hides the deck [mm].
    ground : Ground
        Old slope and thinner zones [mm].

    Returns
    -------
    Working
        Margin [mm].
    """
    t_cov = measured(covering.thickness_mm, "mm", "survey.covering.thickness_mm")
    height = available.show(item.above, t_cov)
    return margin.show(height, build_up(item, build, thickness_mm, falls, ground), item.required)


@formula("room", "mm", "the height budget, turned round")
def thickest(H: float, others: float, upstand: float) -> float:
    """Thickest even insulation that an item leaves room for.

    Parameters
    ----------
    H : float
        Height of the item above the deck [mm].
    others : float
        All that lies on the deck there but the insulation [mm].
    upstand : float
        Height that must stay above the finished surface [mm].

    Returns
    -------
    float
        Insulation; below nought nothing fits [mm].

    Examples
    --------
    >>> thickest(287, 29, 150)
    108
    """
    return H - others - upstand


def room(
    item: Item, build: BuildUp, falls: Falls, covering: Covering, ground: Ground = FLAT
) -> Working:
    """Work out the thickest even insulation that an item leaves room for.

    Parameters
    ----------
    item : Item
        Where, how high, and what it asks for [mm].
    build : BuildUp
        The layers [-].
    falls : Falls
        What firrings or tapers add there [mm].
    covering : Covering
        The old covering [mm].
    ground : Ground
        Old slope; its thinner zones do not count, the insulation being even [mm].

    Returns
    -------
    Working
        Insulation [mm].
    """
    even = Ground(ground.plane)
    t_cov = measured(covering.thickness_mm, "mm", "survey.covering.thickness_mm")
    height = available.show(item.above, t_cov)
    return thickest.show(height, build_up(item, build, 0.0, falls, even), item.required)


def fitting(sold: Iterable[int], most_mm: float) -> int | None:
    """Pick the thickest insulation that is sold and fits.

    Parameters
    ----------
    sold : iterable of int
        Total thicknesses [mm].
    most_mm : float
        What there is room for [mm].

    Returns
    -------
    int or None
        None where none fits [mm].

    Examples
    --------
    >>> fitting((50, 60, 75), 74.9), fitting((50,), 12.0)
    (60, None)
    """
    return max((mm for mm in sold if mm <= most_mm - FITS), default=None)
