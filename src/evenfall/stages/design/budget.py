"""The height budget: what may stand beside the roof, and how thick a board fits under it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.model.choice import BuildUp
from evenfall.model.job import Covering, Height, Window
from evenfall.model.surveyed import Falls, Plan, Point
from evenfall.standards import roofing_practice
from evenfall.working import Known, Working, formula, measured, total

FITS = -1e-6  # mm; a margin that is short by less is the rounding of a sum
REQUIRED = {
    "sill": roofing_practice.UPSTAND,
    "threshold": roofing_practice.UPSTAND,
    "dpc": roofing_practice.UPSTAND,
    "flashing": roofing_practice.UPSTAND,
    "weep": roofing_practice.UPSTAND,
    "air_brick": roofing_practice.UPSTAND,
    "flue": roofing_practice.FLUE_ABOVE_ROOF,
    "cable": roofing_practice.CABLE_CLEAR,
}


@dataclass(frozen=True, slots=True)
class Item:
    """Something that does not move when the roof rises."""

    id: str
    name: str
    kind: str
    at: Point
    above: Known  # mm above the old covering
    required: Known  # mm above the finished surface
    agreed: bool
    path: str  # its table in the job


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


def items(heights: tuple[Height, ...], windows: tuple[Window, ...], plan: Plan) -> tuple[Item, ...]:
    """List everything that sets a ceiling, with what it asks for.

    Parameters
    ----------
    heights : tuple of Height
        Measured items [mm].
    windows : tuple of Window
        Windows beside the roof: the sill, and the sash if it swings over the roof; under the sill
        an upstand must stand, the sash must only swing clear [mm].
    plan : Plan
        The plan [m].

    Returns
    -------
    tuple of Item
        In the order of the survey [-].
    """
    listed = [_height(h, plan) for h in heights]
    for window in windows:
        listed.extend(_window(window, plan))
    return tuple(listed)


def _height(height: Height, plan: Plan) -> Item:
    path = f"survey.heights[{height.name}]"
    required: Known = REQUIRED[height.kind]
    if height.kind == "threshold" and height.drained_channel:
        required = roofing_practice.UPSTAND_AT_DOOR
    required = _agreed(required, height.agreed_upstand_mm, path)
    return Item(
        f"height:{height.name}", height.name, height.kind,
        plan.side(height.side).place(height.along_m),
        measured(height.above_covering_mm, "mm", f"{path}.above_covering_mm"),
        required, height.agreed_upstand_mm is not None, path,
    )  # fmt: skip


def _window(window: Window, plan: Plan) -> Iterator[Item]:
    path = f"survey.windows[{window.name}]"
    at = plan.side(window.side).place(window.along_m + window.width_m / 2)
    upstand = _agreed(roofing_practice.UPSTAND, window.agreed_upstand_mm, path)
    agreed = window.agreed_upstand_mm is not None
    sill = measured(window.sill_above_covering_mm, "mm", f"{path}.sill_above_covering_mm")
    yield Item(f"window:{window.name}", window.name, "sill", at, sill, upstand, agreed, path)
    if window.opens == "outwards" and window.hinge not in ("fixed", "sliding"):
        sash = measured(window.sash_above_covering_mm, "mm", f"{path}.sash_above_covering_mm")
        clear = roofing_practice.SASH_CLEAR
        yield Item(f"sash:{window.name}", window.name, "sash", at, sash, clear, False, path)


def _agreed(required: Known, agreed_mm: float | None, path: str) -> Known:
    """Take the upstand agreed in writing where there is one."""
    if agreed_mm is None:
        return required
    return measured(agreed_mm, "mm", f"{path}.agreed_upstand_mm", "declared")


def build_up(item: Item, build: BuildUp, thickness_mm: float, falls: Falls) -> Working:
    """Add up the finished surface above the deck, at an item.

    Parameters
    ----------
    item : Item
        Where [-].
    build : BuildUp
        The layers [-].
    thickness_mm : float
        Insulation [mm].
    falls : Falls
        What firrings or tapers add there [mm].

    Returns
    -------
    Working
        Build-up [mm].
    """
    parts = [
        ("firring", measured(falls.added_at(item.at), "mm", "falls, at the item", "declared")),
        ("VCL", measured(build.vcl.thickness_mm, "mm", "the rates", build.basis)),
        ("board", measured(thickness_mm, "mm", "design.thickness_mm", "declared")),
        *([("overlay", measured(build.overlay_mm, "mm", "design.overlay_mm", "declared"))]
          if build.overlay_mm else []),
        ("sheet", roofing_practice.MEMBRANE_ALLOWED),
    ]  # fmt: skip
    return total("Build-up above the deck", "build_up", "mm", parts)


def left(
    item: Item, build: BuildUp, thickness_mm: float, falls: Falls, covering: Covering
) -> Working:
    """Work out what is left at an item.

    Parameters
    ----------
    item : Item
        Where, how high, and what it asks for [mm].
    build : BuildUp
        The layers [-].
    thickness_mm : float
        Insulation [mm].
    falls : Falls
        What firrings or tapers add there [mm].
    covering : Covering
        The old covering, whose thickness hides the deck [mm].

    Returns
    -------
    Working
        Margin [mm].
    """
    t_cov = measured(covering.thickness_mm, "mm", "survey.covering.thickness_mm")
    height = available.show(item.above, t_cov)
    return margin.show(height, build_up(item, build, thickness_mm, falls), item.required)
