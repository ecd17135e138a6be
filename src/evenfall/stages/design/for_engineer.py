"""For the engineer: all that is asked for first, in one table."""

from __future__ import annotations

from collections.abc import Iterator

from evenfall.model.designed import DeckOff, JoistCase, Seldom
from evenfall.model.job import Joists as Found
from evenfall.stages.design.dead_weight import Part
from evenfall.standards import dead_loads, en_1991_1_1
from evenfall.standards import en_1995_1_1 as en
from evenfall.working import Table, Working

MM = 1000
PERCENT = 100
Row = tuple[str, float | str, str]


def table(
    found: Found,
    cases: tuple[JoistCase, ...],
    after: tuple[Part, ...],
    s_k: Working,
    rare: tuple[Seldom, ...],
    bare: DeckOff | None,
) -> Table:
    """Put together what an engineer asks for first.

    Parameters
    ----------
    found : Joists
        The joists of the survey [-].
    cases : tuple of JoistCase
        Before, during, after [-].
    after : tuple
        Permanent parts, then imposed load and snow of the finished roof [Pa].
    s_k : Working
        Snow on the ground [Pa].
    rare : tuple of Seldom
        What comes seldom [-].
    bare : DeckOff or None
        The joists while their deck is off [-].

    Returns
    -------
    Table
        Quantity, value, unit [-].
    """
    *parts, imposed, lying = after
    given = (
        ("joist, width", found.width_mm, "mm"), ("joist, depth", found.depth_mm, "mm"),
        ("joist, centres", found.spacing_mm, "mm"), ("span", found.span_m, "m"),
        ("rows of noggins", found.noggin_rows, "-"),
        ("bearing, assumed", dead_loads.BEARING * MM, "mm"), ("sag found", found.sag_mm, "mm"),
        (f"grade entered: {found.strength_class}; ends", found.ends, "-"),
    )  # fmt: skip
    loads = (
        *((f"after: {name}", float(load), "N/m²") for name, load in parts),
        ("imposed", float(imposed[1]), "N/m²"),
        ("one person", float(en_1991_1_1.POINT_K_UK), "N"),
        ("snow on the ground", s_k.value, "N/m²"),
        ("snow on the roof", float(lying[1]), "N/m²"),
    )
    uses = tuple(row for case in cases for row in _uses(case))
    lean = tuple(row for r in rare for row in _leaning(r))
    columns = (("quantity", "-"), ("value", "-"), ("unit", "-"))
    rows = (*given, *loads, *uses, *_bare(bare), *lean)
    return Table("Joists, for the engineer", columns, rows, en.SOURCE, "from memory")


def _uses(case: JoistCase) -> Iterator[Row]:
    """List what one moment uses up."""
    for of in case.combinations:
        about = f"{case.name}, {of.says}, k_mod {of.k_mod:g}"
        yield f"{about}: bending used", of.bending.value * PERCENT, "%"
        yield f"{about}: shear used", of.shear.value * PERCENT, "%"
        yield f"{about}: bearing used", of.bearing.value * PERCENT, "%"
    yield f"{case.name}: sag at once", case.at_once.value, "mm"
    yield f"{case.name}: final sag, {case.limit_mm:.0f} allowed", case.deflection.value, "mm"
    if case.person_deflection is not None:
        yield f"{case.name}: final sag under one person", case.person_deflection.value, "mm"


def _bare(bare: DeckOff | None) -> Iterator[Row]:
    if bare is not None:
        yield "deck off: joist free sideways over", bare.free_m, "m"
        yield "deck off: one person, bending used", bare.bending.value * PERCENT, "%"


def _leaning(rare: Seldom) -> Iterator[Row]:
    yield f"{rare.says}: deepest", rare.deepest.value, "N/m²"
    yield f"{rare.says}: reach", rare.reach_m, "m"
    yield f"{rare.says}: bending used", rare.bending.value * PERCENT, "%"
    yield f"{rare.says}: shear used", rare.shear.value * PERCENT, "%"
    yield f"{rare.says}: bearing used", rare.bearing.value * PERCENT, "%"
