"""Fascia and soffit: boards deep and wide enough from what is sold, and the soffit's battens."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil

from evenfall.model.finding import Finding, Remedy
from evenfall.model.job import Side
from evenfall.model.surveyed import Falls, Plan, SideAt
from evenfall.stages.takeoff.sections import Section, Wish, of_kind
from evenfall.standards import take_off_practice

MM = 1000
OPEN = ("eaves", "verge")
SOFFIT, BATTEN = "soffit", "batten"


def fascias(
    plan: Plan,
    falls: Falls,
    sides: tuple[Side, ...],
    structure_mm: float,
    chosen_mm: float,
    sold: tuple[Section, ...],
    outer: dict[str, int],
) -> tuple[list[Wish], tuple[Finding, ...]]:
    """Choose the shallowest fascia that covers the old face and the rise, for each open side.

    Parameters
    ----------
    plan, falls : Plan, Falls
        Sides; what firrings add [mm].
    sides : tuple of Side
        Depth of the old fascia by side [mm].
    structure_mm : float
        Joist and deck [mm].
    chosen_mm : float
        Insulation and the overlay board on it [mm].
    sold : tuple of Section
        Sections that the rates hold [mm].
    outer : dict
        Length of each side along its outer face [mm].

    Returns
    -------
    tuple
        What is wanted, and where no board is deep enough [mm].
    """
    depths = [(float(s.depth_mm or 0), s.name) for s in of_kind("fascia", sold)]
    old = {s.side: s.fascia_depth_mm for s in sides}
    wishes, findings = [], list[Finding]()
    for side in plan.of_kind(*OPEN):
        need = fascia_need(side, old[side.name], structure_mm, falls, chosen_mm)
        names = boards_for(need, depths, take_off_practice.FASCIA_LAP_MM) or ("fascia",)
        if len(names) > 1:
            findings.append(_too_deep(side, need, depths, names))
        wishes += [Wish(name, side.name, outer[side.name]) for name in names]
    return wishes, tuple(findings)


def fascia_need(
    side: SideAt, old_mm: float | None, structure_mm: float, falls: Falls, chosen_mm: float
) -> float:
    """Work out how deep the new fascia must be.

    Parameters
    ----------
    side : SideAt
        The side; the rise is taken at its higher end [-].
    old_mm : float, optional
        Depth of the old fascia; if it was not measured, joist and deck stand for it [mm].
    structure_mm : float
        Joist and deck [mm].
    falls : Falls
        What firrings add [mm].
    chosen_mm : float
        Insulation and the overlay board on it [mm].

    Returns
    -------
    float
        Depth [mm].
    """
    rise = max(falls.added_at(side.a), falls.added_at(side.b)) + chosen_mm
    return (old_mm or structure_mm) + rise + take_off_practice.FASCIA_COVER_MM


def boards_for(need: float, depths: list[tuple[float, str]], lap: float) -> tuple[str, ...]:
    """Take the shallowest board that is deep enough, else the two that lap with the least waste.

    Parameters
    ----------
    need : float
        Depth, or width, that is covered [mm].
    depths : list of (float, str)
        Depths that are sold, the shallowest first, with their names [mm].
    lap : float
        How far one board covers another [mm].

    Returns
    -------
    tuple of str
        Names, the deeper first; more than two of the deepest where two are too few [-].

    Examples
    --------
    >>> sold = [(150.0, "a"), (200.0, "b"), (300.0, "c")]
    >>> boards_for(190, sold, 25), boards_for(340, sold, 25)
    (('b',), ('b', 'b'))
    """
    one = next((n for d, n in depths if d >= need), None)
    if one is not None:
        return (one,)
    if not depths:
        return ()
    pairs = [(a + b, m, n) for a, m in depths for b, n in depths if a + b - lap >= need and a >= b]
    if pairs:
        return min(pairs)[1:]
    deepest, name = depths[-1]
    return (name,) * ceil((need - lap) / (deepest - lap))


def _too_deep(
    side: SideAt, need: float, depths: list[tuple[float, str]], names: tuple[str, ...]
) -> Finding:
    cover, most = take_off_practice.FASCIA_COVER_MM, depths[-1][0]
    known = {n: d for d, n in depths}
    told = " and ".join(f"{known[n]:.0f}" for n in names)
    says = (
        f"The fascia along {side.name} must be {need:.0f} mm deep; the deepest sold is {most:.0f}. "
        f"Boards of {told} mm are ordered, the upper over the lower."
    )
    return Finding(
        "fascia-deep", side.id, "note", says, cover.source, cover.basis, need, most, "mm",
        Remedy("Two boards with a shadow gap, or a step back under the drip."),
    )  # fmt: skip


def soffit_widths(plan: Plan, sides: tuple[Side, ...]) -> dict[str, float]:
    """Measure the soffit of each open side: from the wall to the back of the fascia.

    Parameters
    ----------
    plan : Plan
        Sides [-].
    sides : tuple of Side
        Overhang to the face of the fascia, and the fascia's thickness [mm].

    Returns
    -------
    dict of str to float
        Width by side; a strip too narrow for a board is left out [mm].
    """
    known = {s.side: s for s in sides}
    wide = {
        s.name: known[s.name].overhang_mm - known[s.name].fascia_thickness_mm
        for s in plan.of_kind(*OPEN)
    }
    return {name: mm for name, mm in wide.items() if mm >= take_off_practice.SOFFIT_LEAST_MM}


def soffits(
    plan: Plan, sides: tuple[Side, ...], sold: tuple[Section, ...], outer: dict[str, int]
) -> Iterator[Wish]:
    """Take the narrowest soffit boards that close each overhang, and the battens that hold them.

    Parameters
    ----------
    plan : Plan
        Sides [m].
    sides : tuple of Side
        Overhangs [mm].
    sold : tuple of Section
        Sections that the rates hold [mm].
    outer : dict
        Length of each side along its outer face [mm].

    Yields
    ------
    Wish
        Boards; a batten along the wall and one behind the fascia [mm].
    """
    depths = [(float(s.depth_mm or 0), s.name) for s in of_kind(SOFFIT, sold)]
    for name, wide in soffit_widths(plan, sides).items():
        for board in boards_for(wide, depths, 0.0) or (SOFFIT,):
            yield Wish(board, name, outer[name])
        for where in ("at the wall", "behind the fascia"):
            yield Wish(BATTEN, f"{name} {where}", outer[name])


def soffit_findings(
    plan: Plan, sides: tuple[Side, ...], sold: tuple[Section, ...]
) -> Iterator[Finding]:
    """Say where a soffit was asked for and no overhang has room for one, or boards lie in pairs.

    Parameters
    ----------
    plan : Plan
        Sides [-].
    sides : tuple of Side
        Overhangs [mm].
    sold : tuple of Section
        Sections that the rates hold [mm].

    Yields
    ------
    Finding
        None where one board closes each overhang [-].
    """
    rule = take_off_practice.SOFFIT_LEAST_MM
    wide = soffit_widths(plan, sides)
    if not wide:
        says = (
            f"No eaves or verge overhangs its wall by the fascia and {rule:.0f} mm more: there is "
            "no soffit to renew, and none is ordered."
        )
        cure = Remedy("Measure the overhang from the wall to the face of the fascia.")
        yield Finding("soffit-none", "edges", "note", says, rule.source, rule.basis, None,
                      float(rule), "mm", cure)  # fmt: skip
    widest = max((s.depth_mm or 0.0 for s in of_kind(SOFFIT, sold)), default=0.0)
    for name, mm in wide.items():
        if widest and mm > widest:
            says = (
                f"The soffit along {name} is {mm:.0f} mm wide; the widest board sold is "
                f"{widest:.0f}. Boards lie side by side, with a bearer under each joint."
            )
            yield Finding("soffit-wide", f"side:{name}", "note", says, rule.source, rule.basis,
                          mm, widest, "mm")  # fmt: skip
