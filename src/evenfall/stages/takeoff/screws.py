"""Screws: each length that the boards take, in boxes, and what may stand in its place."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from math import ceil, floor

from evenfall.model.rates import Screw
from evenfall.model.taken_off import OrderLine
from evenfall.stages.takeoff.packed import units
from evenfall.standards import board_practice
from evenfall.working import Basis, measured, total, weakest

PERCENT = 100


@dataclass(frozen=True, slots=True)
class Screwed:
    """Screws of one length: how many in each wind zone, and what may stand in their place."""

    length_mm: int
    by_zone: tuple[tuple[str, float], ...]
    limits_mm: tuple[float, float]  # shortest and longest allowed


def screw_lines(
    screws: tuple[Screwed, ...],
    zone_screws: tuple[tuple[float, int], ...],
    most_per_m2: float,
    screw: Screw,
    basis: Basis,
) -> Iterator[OrderLine]:
    """Order the screws of the boards, as the fixing plan places them.

    Parameters
    ----------
    screws : tuple of Screwed
        Every length with its screws [-].
    zone_screws : tuple of (area, length)
        Thinner zones and their screws [m2, mm].
    most_per_m2 : float
        Screws where the wind pulls hardest [1/m2].
    screw : Screw
        The screw of the rates [-].
    basis : str
        Basis of the rates [-].

    Yields
    ------
    OrderLine
        The longest first [each].
    """
    limits = {s.length_mm: s.limits_mm for s in screws}
    by_length = {s.length_mm: list(s.by_zone) for s in screws}
    for n, (area, mm) in enumerate(zone_screws, 1):
        if mm not in limits:  # as many as anywhere on the roof; the field keeps its own as well
            more = (f"thinner zone {n}", float(ceil(area * most_per_m2)))
            by_length.setdefault(mm, []).append(more)
    for mm, counted in sorted(by_length.items(), reverse=True):
        yield _screw_line(mm, counted, screw, basis, limits.get(mm))


def _screw_line(
    mm: int,
    parts: list[tuple[str, float]],
    screw: Screw,
    basis: Basis,
    limits: tuple[float, float] | None,
) -> OrderLine:
    need = replace(total("Screws, piece by piece", "need", "each", parts), own_basis="measured")
    waste = measured(
        board_practice.WASTE_LEAST * PERCENT, "%", "take-off practice", "planning seed"
    )
    wanted = units.show(need, 1.0, waste)
    packs = ceil(round(wanted.value / screw.pack, 9))
    sunk = f"tube washers of {screw.tube_mm:.0f} mm" if screw.tube_mm else "plates"
    says = f"Screws, {mm} mm, with {sunk}"
    words = f"box of {screw.pack}"
    return OrderLine(
        f"screw:{mm}", says, wanted, "each", ((packs, float(screw.pack), words),),
        float(packs * screw.pack), weakest([wanted.basis, basis]), _allowed(mm, limits),
    )  # fmt: skip


def _allowed(mm: int, limits: tuple[float, float] | None) -> str:
    """Tell the lowest and the highest length between which the stock length lies."""
    if limits is None:
        return ""
    low, high = limits
    if ceil(low) > floor(high):
        return (
            f"{ceil(low)} mm at least to bite, {floor(high)} at most so as not to come out far "
            f"below: none does both. {mm} mm is taken; look for cables and ceilings first"
        )
    told = f"allowed {ceil(low)} to {floor(high)} mm; {mm} mm is sold"
    over = "; it comes out below further than that: look for cables and ceilings first"
    return told + (over if mm > high else "")
