"""Sections that are sold by length, and the stretches that they are wanted for."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from evenfall.standards.board_practice import METAL_KERF_MM


@dataclass(frozen=True, slots=True)
class Section:
    """A section that is sold by length, without its price."""

    name: str
    says: str
    lengths_mm: tuple[int, ...]
    depth_mm: float | None
    joint_gap_mm: float
    width_mm: float | None = None
    paint_thick_mm: float | None = None  # None where it is not painted
    fittings: tuple[tuple[str, str], ...] = ()  # name and words of each
    kerf_mm: int = int(METAL_KERF_MM)


@dataclass(frozen=True, slots=True)
class Wish:
    """A stretch that a section is wanted for."""

    section: str
    where: str
    length_mm: int


def of_kind(kind: str, sold: Iterable[Section]) -> list[Section]:
    """Pick the sections of a kind whose depth the rates tell, the shallowest first.

    Parameters
    ----------
    kind : str
        Beginning of the name [-].
    sold : iterable of Section
        Sections of the rates [mm].

    Returns
    -------
    list of Section
        Sections with a depth [mm].
    """
    found = [s for s in sold if s.name.startswith(kind) and s.depth_mm is not None]
    return sorted(found, key=lambda s: (s.depth_mm or 0.0, s.width_mm or 0.0))
