"""What stands beside the roof, where it must be clear, and how much height each thing asks for."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

from evenfall.calc.geometry.polygon import contains
from evenfall.model.job import Height, Window
from evenfall.model.surveyed import Plan, Point, SideAt
from evenfall.standards import roofing_practice
from evenfall.working import Known, measured

SWING = tuple(math.pi / 2 * n / 6 for n in range(7))  # a quarter turn in six
SWINGS_WITH = ("leave", "raise_sill")  # treatments that leave a sash to swing over the roof
NEW_SILL = ("raise_sill", "fix_glass")  # treatments that may bring a sill of their own
UP_TO = (0.0, 0.5, 1.0)  # where along an item the finished surface is looked at
REQUIRED = {
    "sill": roofing_practice.UPSTAND,
    "threshold": roofing_practice.UPSTAND,
    "dpc": roofing_practice.UPSTAND,
    "cavity_tray": roofing_practice.UPSTAND,
    "flashing": roofing_practice.UPSTAND,
    "weep": roofing_practice.UPSTAND,
    "air_brick": roofing_practice.UPSTAND,
    "party_line": roofing_practice.UPSTAND,
    "overflow": roofing_practice.OVERFLOW_OVER,
    "flue": roofing_practice.FLUE_ABOVE_ROOF,
    "cable": roofing_practice.CABLE_CLEAR,
}


@dataclass(frozen=True, slots=True)
class Item:
    """Something that does not move when the roof rises."""

    id: str
    name: str
    kind: str
    at: Point  # where its height was measured
    above: Known  # mm above the old covering
    required: Known  # mm above the finished surface
    agreed: bool
    path: str  # its table in the job
    spots: tuple[Point, ...]  # where the finished surface is looked at
    side: str


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


def _along(side: SideAt, start_m: float, width_m: float, in_m: float = 0.0) -> tuple[Point, ...]:
    """Places along an item, kept on its side."""
    places = (min(max(start_m + t * width_m, 0.0), side.length_m) for t in UP_TO)
    return tuple(dict.fromkeys(side.place(p, in_m) for p in places))


def swing(window: Window, side: SideAt, deck: tuple[Point, ...]) -> tuple[Point, ...]:
    """Find the places of the roof that the sash of a window passes over.

    Parameters
    ----------
    window : Window
        A window whose sash opens outwards [m].
    side : SideAt
        Its side [m].
    deck : tuple of (x, y)
        Outline of the deck; beyond it there is no roof to meet [m].

    Returns
    -------
    tuple of (x, y)
        Along the wall, and over the quarter circle of a sash hung at its side; one hung at the
        bottom falls out as far as it is wide, its height not being measured [m].
    """
    wide, start = window.width_m, window.along_m
    closed = _along(side, start, wide)
    if window.hinge == "bottom":
        out = _along(side, start, wide, wide)
    elif window.hinge in ("left", "right"):
        left = window.hinge == "left"  # from the roof, left is where the side ends
        post, way = (start + wide, -1.0) if left else (start, 1.0)
        out = tuple(
            side.place(post + way * wide * math.cos(t), wide * math.sin(t)) for t in SWING[1:]
        )
    else:
        out = ()  # hung at the top its edge rises as it opens
    return (*closed, *(p for p in out if contains(deck, p)))


def _height(height: Height, plan: Plan) -> Item:
    side, wide = plan.side(height.side), height.width_m or 0.0
    path = f"survey.heights[{height.name}]"
    required: Known = REQUIRED[height.kind]
    if height.kind == "threshold" and height.drained_channel:
        required = roofing_practice.UPSTAND_AT_DOOR
    required = _agreed(required, height.agreed_upstand_mm, path)
    return Item(
        f"height:{height.name}", height.name, height.kind,
        side.place(height.along_m, height.in_m),
        measured(height.above_covering_mm, "mm", f"{path}.above_covering_mm"),
        required, height.agreed_upstand_mm is not None, path,
        _along(side, height.along_m - wide / 2, wide, height.in_m), side.name,
    )  # fmt: skip


def _window(window: Window, plan: Plan) -> Iterator[Item]:
    path, side = f"survey.windows[{window.name}]", plan.side(window.side)
    at = side.place(window.along_m + window.width_m / 2)
    upstand = _agreed(roofing_practice.UPSTAND, window.agreed_upstand_mm, path)
    agreed = window.agreed_upstand_mm is not None
    places = _along(side, window.along_m, window.width_m)
    yield Item(f"window:{window.name}", window.name, "sill", at, _sill(window, path), upstand,
               agreed, path, places, side.name)  # fmt: skip
    hung = window.opens == "outwards" and window.hinge not in ("fixed", "sliding")
    if hung and window.treatment in SWINGS_WITH:
        lifted = float(_sill(window, path)) - window.sill_above_covering_mm
        sash = measured(
            window.sash_above_covering_mm + lifted, "mm", f"{path}.sash_above_covering_mm"
        )
        key = "agreed_sash_clear_mm"
        clear = _agreed(roofing_practice.SASH_CLEAR, window.agreed_sash_clear_mm, path, key)
        yield Item(f"sash:{window.name}", window.name, "sash", at, sash, clear,
                   window.agreed_sash_clear_mm is not None, path,
                   swing(window, side, plan.deck), side.name)  # fmt: skip


def _sill(window: Window, path: str) -> Known:
    """Height of the sill as it will be: that of the new window where one is put in."""
    if window.treatment in NEW_SILL and window.new_sill_above_covering_mm is not None:
        key = f"{path}.new_sill_above_covering_mm"
        return measured(window.new_sill_above_covering_mm, "mm", key, "declared")
    return measured(window.sill_above_covering_mm, "mm", f"{path}.sill_above_covering_mm")


def _agreed(
    required: Known, agreed_mm: float | None, path: str, key: str = "agreed_upstand_mm"
) -> Known:
    """Take the height agreed in writing where there is one."""
    if agreed_mm is None:
        return required
    return measured(agreed_mm, "mm", f"{path}.{key}", "declared")
