"""What holds boards, battens, bars and firrings: fixings, plugs and wedges, counted piece by piece.

The screws of edge and kerb timber are in `wood_screws`, those of the boards in `screws`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from math import ceil, floor

from evenfall.model.job import Side
from evenfall.model.taken_off import Lengths
from evenfall.standards import take_off_practice as practice
from evenfall.working import Known, Working, total, weakest

MM = 1000
Part = tuple[str, float]


def held(
    lengths: Lengths, sides: tuple[Side, ...], trims: Working
) -> Iterator[tuple[str, Working]]:
    """Count what holds the lengths.

    Parameters
    ----------
    lengths : Lengths
        Everything that is cut from stock lengths [mm].
    sides : tuple of Side
        What the walls are of [-].
    trims : Working
        Centres of the screws in trims and bars [mm].

    Yields
    ------
    tuple of (str, Working)
        Item and need [each, m].
    """
    clad = {s.side for s in sides if s.wall_of == "cladding"}
    yield "firring-screws", _counted("Firrings screwed to the joists", _firrings(lengths),
                                     practice.FIRRING_FIXED, practice.FIRRING_SCREWS)  # fmt: skip
    boards = _places(lengths, ("fascia", "soffit"), practice.FASCIA_FIXED, practice.FASCIA_FIXINGS)
    yield "fascia-fixings", _counted("Fascia and soffit fixed", boards, practice.FASCIA_FIXED,
                                     practice.FASCIA_FIXINGS)  # fmt: skip
    battens = _places(lengths, ("batten",), practice.BATTEN_FIXED)
    yield "batten-screws", _counted("Battens screwed", battens, practice.BATTEN_FIXED)
    into_wall = [(name, n) for name, n in battens if name.endswith("at the wall")]
    bars = _places(lengths, ("wall-bar",), trims.value / MM, without=clad)
    yield "wall-plugs", _counted("Screws of bars and battens plugged into walls",
                                 [*bars, *into_wall], trims, practice.BATTEN_FIXED)  # fmt: skip
    chased = [(where, mm / MM) for where, mm in _cuts(lengths, ("cover-flashing",))
              if where not in clad]  # fmt: skip
    wedges = [(where, floor(m / practice.CHASE_WEDGES) + 1.0) for where, m in chased]
    yield "flashing-wedges", _counted("Flashings wedged in their chase", wedges,
                                      practice.CHASE_WEDGES)  # fmt: skip
    yield (
        "chase-sealant",
        replace(total("Chases pointed", "need", "m", _joined(chased)), own_basis="measured"),
    )


def _firrings(lengths: Lengths) -> list[Part]:
    """Two screws at each place; every firring starts and ends with them."""
    timbers = lengths.firrings
    pieces = [(name, t.length_mm) for t in timbers for name in t.firrings]
    if not timbers:
        pieces = _cuts(lengths, ("firring-timber",))
    each = practice.FIRRING_SCREWS
    return [(name, each * (ceil(mm / MM / practice.FIRRING_FIXED) + 1.0)) for name, mm in pieces]


def _cuts(lengths: Lengths, kinds: tuple[str, ...]) -> list[tuple[str, int]]:
    return [
        cut for run in lengths.runs if run.id.partition(":")[2].startswith(kinds)
        for bar in run.bars for cut in bar.cuts
    ]  # fmt: skip


def _places(
    lengths: Lengths,
    kinds: tuple[str, ...],
    apart_m: float,
    each: float = 1.0,
    without: set[str] | None = None,
) -> list[Part]:
    """Count places along each piece: at centres, and one more at its end."""
    return [
        (where, each * (ceil(mm / MM / apart_m) + 1.0))
        for where, mm in _cuts(lengths, kinds) if where not in (without or set())
    ]  # fmt: skip


def _counted(title: str, parts: list[Part], *by: Known | Working) -> Working:
    found = total(title, "need", "each", _joined(parts))
    return replace(found, own_basis=weakest(["measured", *(k.basis for k in by)]))


def _joined(parts: list[Part]) -> list[Part]:
    """Add up what stands in one place; nothing is told as one part of nought."""
    found: dict[str, float] = {}
    for where, number in parts:
        found[where] = found.get(where, 0.0) + number
    return list(found.items()) or [("none", 0.0)]
