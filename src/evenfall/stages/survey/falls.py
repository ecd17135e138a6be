"""Falls: how the finished roof drains, and the firrings that make it so."""

from __future__ import annotations

from evenfall.calc.geometry.polygon import Point
from evenfall.calc.geometry.slopes import crossings, finished_fall, reach
from evenfall.model.finding import Change, Finding, Level, Remedy
from evenfall.model.job import Falls as Chosen
from evenfall.model.job import Joists
from evenfall.model.surveyed import FallLine, Falls, Firring, Levels, Plan, Slope, SpotAt
from evenfall.stages.survey import deck
from evenfall.standards import falls_practice
from evenfall.working import Known, Working, measured

MM = 1000
ALONG = 0.9  # cosine above which joists count as running with the fall
ALIKE = 1e-6  # mm per m; less is the rounding of a sum


def work(chosen: Chosen, joists: Joists, plan: Plan, levels: Levels) -> Falls:
    """Work out the finished fall and what makes it.

    Parameters
    ----------
    chosen : Falls
        What the owner chose: keep, firrings or tapered boards, and the low side [-].
    joists : Joists
        Spacing and direction of the joists [-].
    plan : Plan
        The plan [m].
    levels : Levels
        The old surface [mm].

    Returns
    -------
    Falls
        Added thickness as a plane, falls before and after, firrings and findings [mm].
    """
    downhill = plan.side(chosen.low_side).outwards
    before = _towards(levels.plane, downhill)
    added = _adds(chosen, before)
    rise = rise_to(chosen, plan, levels.plane)
    finished = finished_fall.show(measured(before, "mm/m", "survey.levels"), _added(chosen, added))
    lines = (
        FallLine("fall:field", f"field, towards {chosen.low_side}", before, finished.value),
        *_edges(plan, levels.plane, rise),
    )
    firrings = _firrings(joists, plan, downhill, rise) if chosen.kind == "firrings" else ()
    after = Slope(
        levels.plane.z_mm + rise.z_mm,
        levels.plane.x_mm_m + rise.x_mm_m,
        levels.plane.y_mm_m + rise.y_mm_m,
    )
    raised = tuple(SpotAt(s.name, s.at, s.z_mm + rise.at(s.at)) for s in levels.spots)
    relief = deck.deck_relief(raised, after, plan)
    return Falls(
        chosen.kind, chosen.low_side, downhill, rise, finished, lines, firrings,
        (*_findings(chosen, finished), *_wedges(chosen)),
        ponds=deck.ponds(deck.filled(relief, plan, chosen.low_side), "after"),
        contours=deck.contours(relief),
        arrows=deck.arrows(relief, plan),
    )  # fmt: skip


def _towards(slope: Slope, way: Point) -> float:
    """Fall of a slope along a way, mm per m."""
    return -(slope.x_mm_m * way[0] + slope.y_mm_m * way[1])


def _added(chosen: Chosen, added: float) -> Known:
    where = "kept as it is" if chosen.kind == "keep" else f"1:{chosen.one_in:g}"
    return measured(added, "mm/m", f"design.falls, {where}", "declared")


def _adds(chosen: Chosen, before: float) -> float:
    """Fall that is still to be made, mm per m."""
    return 0.0 if chosen.kind == "keep" else max(0.0, MM / chosen.one_in - before)


def rise_to(chosen: Chosen, plan: Plan, old: Slope) -> Slope:
    """Work out what lies under the boards: the thin end along the low line, more uphill of it.

    Parameters
    ----------
    chosen : Falls
        What the owner chose, its low side among it [-].
    plan : Plan
        The plan [m].
    old : Slope
        The old surface [mm].

    Returns
    -------
    Slope
        Added thickness as a plane, as if the old roof were one [mm].
    """
    if chosen.kind == "keep":
        return Slope(0.0, 0.0, 0.0)
    downhill = plan.side(chosen.low_side).outwards
    added = _adds(chosen, _towards(old, downhill))
    thin = chosen.thin_end_mm if chosen.kind == "firrings" else 0.0
    _, low = reach(plan.deck, downhill)
    return Slope(thin + added * low, -added * downhill[0], -added * downhill[1])


def _edges(plan: Plan, old: Slope, rise: Slope) -> tuple[FallLine, ...]:
    """Falls along each side, from its first corner to its second."""
    return tuple(
        FallLine(
            s.id, f"along {s.name}", _towards(old, s.along),
            _towards(old, s.along) + _towards(rise, s.along),
        )
        for s in plan.sides
    )  # fmt: skip


def _firrings(joists: Joists, plan: Plan, downhill: Point, rise: Slope) -> tuple[Firring, ...]:
    """One wedge for each joist and stretch; joists across the fall get level pieces."""
    way = plan.side(joists.along).along
    with_fall = abs(way[0] * downhill[0] + way[1] * downhill[1]) >= ALONG
    if with_fall and way[0] * downhill[0] + way[1] * downhill[1] > 0:
        way = (-way[0], -way[1])  # from the low end upwards
    across = (-way[1], way[0])
    least, most = reach(plan.deck, across)
    step, found = joists.spacing_mm / MM, list[Firring]()
    count = int((most - least) / step) + 1
    for n in range(count):
        offset = least + step / 2 + n * step
        for start, end in crossings(plan.deck, way, offset):
            ends = [_on(way, across, at, offset) for at in (start, end)]
            low, high = sorted(rise.at(p) for p in ends)
            name = f"firring-{len(found) + 1}"
            found.append(Firring(name, round((end - start) * MM), round(low), round(high)))
    return tuple(found)


def _on(way: Point, across: Point, along: float, offset: float) -> Point:
    return (along * way[0] + offset * across[0], along * way[1] + offset * across[1])


def _findings(chosen: Chosen, finished: Working) -> tuple[Finding, ...]:
    least, design = falls_practice.FINISHED_FALL, falls_practice.DESIGN_FALL
    fall, subject = finished.value, f"side:{chosen.low_side}"
    remedy = Remedy(
        f"Make the fall with firrings, 1:{1 / design:.0f}.",
        (Change("design.falls.kind", "firrings"), Change("design.falls.one_in", 1 / design)),
    )
    if fall <= ALIKE:
        says = (
            f"The finished roof is level or falls away from {chosen.low_side}: water does not get "
            "to that side."
        )
        return (_finding("fall-back", subject, "stop", says, fall, least, remedy),)
    if fall < least * MM - ALIKE:
        says = (
            f"The finished fall to {chosen.low_side} is 1:{MM / fall:.0f}; less than "
            f"1:{1 / least:.0f} holds water."
        )
        return (_finding("fall-short", subject, "stop", says, fall, least, remedy),)
    if fall < design * MM - ALIKE:
        says = (
            f"The finished fall is 1:{MM / fall:.0f}. Design for 1:{1 / design:.0f}, so that "
            f"1:{1 / least:.0f} is left everywhere."
        )
        return (_finding("fall-slight", subject, "note", says, fall, design, remedy),)
    says = f"The roof falls 1:{MM / fall:.0f} to {chosen.low_side}."
    return (_finding("fall-good", subject, "fine", says, fall, least, None),)


def _wedges(chosen: Chosen) -> tuple[Finding, ...]:
    """Say what firrings or tapered boards still need."""
    thin, least = chosen.thin_end_mm, falls_practice.THIN_END_LEAST_MM
    if chosen.kind == "firrings" and thin < least:
        says = (
            f"The firrings run out to {thin:.0f} mm: under {least:.0f} they split when they are "
            "fixed."
        )
        thicker = (Change("design.falls.thin_end_mm", least.value),)
        cure = Remedy(f"Start them at {least:.0f} mm.", thicker)
        return (
            Finding(
                "firring-thin", "fall:field", "note", says, least.source, least.basis, thin,
                least.value, "mm", cure,
            ),
        )  # fmt: skip
    if chosen.kind == "tapered":
        by = falls_practice.TAPERED_FALLS[0]
        says = (
            "Tapered boards are cut to a scheme by whoever makes them: they are neither in the "
            "order nor in the price, and heat counts the even boards alone."
        )
        cure = Remedy("Ask for a scheme and a price, or make the fall with firrings.",
                      (Change("design.falls.kind", "firrings"),))  # fmt: skip
        return (
            Finding("taper-by-scheme", "fall:field", "agree", says, by.source, by.basis,
                    remedy=cure),
        )  # fmt: skip
    return ()


def _finding(
    code: str,
    subject: str,
    level: Level,
    says: str,
    fall: float,
    limit: Known,
    remedy: Remedy | None,
) -> Finding:
    return Finding(
        code, subject, level, says, limit.source, limit.basis, fall, limit * MM, "mm/m", remedy
    )
