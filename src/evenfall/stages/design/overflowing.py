"""Overflowing: the second way out that is missing, too small or too high, and one that would do."""

from __future__ import annotations

from collections.abc import Iterator
from math import ceil, inf

from evenfall.calc.drainage.outlet import circular_outlet, slot_length_mm
from evenfall.model.designed import Blocked, GutterCheck
from evenfall.model.drained import Overflow
from evenfall.model.finding import Finding, Remedy
from evenfall.model.surveyed import OpeningAt, Plan
from evenfall.stages.design.blocked import HEIGHT_MM, HEIGHTS_MM, Full, Lie
from evenfall.stages.design.rain import OPEN
from evenfall.stages.design.saying import cure, finding, rain_limit
from evenfall.standards import approved_document_h as ad_h
from evenfall.standards import en_12056_3 as en
from evenfall.standards import gutter_practice as practice
from evenfall.standards import roofing_practice
from evenfall.working import Cited, Known, Working, total

MM = 1000
SILLS_MM = (40.0, 30.0, 20.0)  # above the roof, so that it does not run while the outlet works
LEAST_MM = 100.0  # narrower is stopped up by one leaf
TENS = 10  # mm, to which a slot is cut


def tell(
    plan: Plan,
    outlets: tuple[OpeningAt, ...],
    drains: list[GutterCheck],
    full: Full,
    lie: Lie | None,
    overflows: tuple[Overflow, ...],
    flow: Working,
) -> Iterator[Finding]:
    """Ask for the second way out, and judge the one that is planned.

    Parameters
    ----------
    plan : Plan
        Sides [m].
    outlets : tuple of OpeningAt
        Outlets in the roof [-].
    drains : list of GutterCheck
        What they carry [l/s].
    full : Full
        The roof with its outlets blocked [-].
    lie : Lie, optional
        How the finished roof lies [mm].
    overflows : tuple of Overflow
        Slots that are to be cut [mm].
    flow : Working
        The hardest rain on roof and walls [l/s].

    Yields
    ------
    Finding
        What is missing, too small, too high, or fine [-].
    """
    shut = not any(s.kind in OPEN for s in plan.sides)
    least, count = ad_h.OUTLETS_LEAST, len(outlets)
    ask = _cut(plan, full, lie, overflows, flow)
    if outlets and count < least and not full.slots:
        says = (
            "The roof has one outlet: when leaves block it, there is no other way. It needs a "
            "second one, or an overflow as large."
        )
        yield finding("outlet-alone", outlets[0].id, "agree", says, least, count, ask)
    if outlets and shut and not full.slots:
        slot = slot_length_mm(flow.value, HEIGHT_MM)
        says = (
            "Walls or parapets stand all round and no overflow is recorded: blocked outlets would "
            f"fill the roof like a bath{_bath(full)}."
        )
        by = Cited(slot, "mm", ad_h.NHBC, "7.1.5, overflow", "published")
        yield finding("overflow-missing", "roof", "agree", says, by, 0.0, ask)
    if full.slots:
        yield from _small(full, flow, overflows, ask)
        yield from _under_outlets(full, drains)
        yield from _high(full, overflows)
    if full.held is not None and full.slots:
        yield _stands(full, full.held)


def _bath(full: Full) -> str:
    """Say how deep and how heavy, and where it would come out."""
    if full.held is None:
        return ""
    held = full.held
    return (
        f", {held.depth.value * MM:.0f} mm deep at the lowest place ({held.load.value:.0f} N/m²), "
        f"until it runs over at {held.stops_at}"
    )


def _cut(
    plan: Plan, full: Full, lie: Lie | None, overflows: tuple[Overflow, ...], flow: Working
) -> Remedy:
    """Propose a slot through the lowest parapet, where its water stays under every way in."""
    walls = plan.of_kind("parapet")
    if lie is None or not walls:
        return cure(f"Cut an overflow under every threshold, or {_second(flow)}.")
    side = min(walls, key=lambda s: lie.finished(s.place(s.length_m / 2)))
    at = side.place(side.length_m / 2)
    top = lie.plane.at(at) + side.parapet_height_mm
    most = min(top, full.door[1] if full.door else inf) - lie.finished(at)
    fits = (
        (sill, height, _width(flow, height)) for sill in SILLS_MM for height in HEIGHTS_MM
        if sill + height < most and _width(flow, height) < side.length_m * MM
    )  # fmt: skip
    found = next(fits, None)
    if found is None:
        return cure(f"There is no room for a slot under the lowest way in: {_second(flow)}.")
    sill, height, width = found
    taken = {o.name for o in overflows}
    name = next(n for i in range(len(taken) + 1) if (n := f"overflow-{i + 1}") not in taken)
    slot = {
        "name": name, "side": side.name, "along_m": round(side.length_m / 2, 3),
        "width_mm": width, "height_mm": height, "sill_above_roof_mm": sill,
    }  # fmt: skip
    says = (
        f"Cut an overflow slot through {side.name}, {width:.0f} mm wide and {height:.0f} mm high, "
        f"{sill:.0f} mm above the roof."
    )
    table = [*(o.model_dump(mode="json") for o in overflows), slot]
    return cure(says, ("design.overflows", table))


def _second(flow: Working) -> str:
    """Say how large a second outlet must be to carry all of the rain by itself."""
    sold = practice.ROOF_OUTLETS_MM
    fits = (d for d in sold if circular_outlet(d, grated=True).value >= flow.value)
    size = next(fits, None)
    if size is None:
        return f"make more outlets: none sold carries {flow.value:.2f} l/s through its leaf guard"
    return f"make a second outlet of {size:.0f} mm, which carries {flow.value:.2f} l/s by itself"


def _width(flow: Working, height_mm: float) -> float:
    """Width of a slot that carries the rain at its full height, in whole tens."""
    return max(float(ceil(slot_length_mm(flow.value, height_mm) / TENS) * TENS), LEAST_MM)


def _small(
    full: Full, flow: Working, overflows: tuple[Overflow, ...], ask: Remedy
) -> Iterator[Finding]:
    carried = total("Overflows together", "Q", "l/s", [
        (c.id.removeprefix("overflow:"), c.capacity) for c in full.checks
    ])  # fmt: skip
    if carried.value >= flow.value:
        return
    says = (
        f"The overflows carry {carried.value:.2f} l/s at their full height; with the outlets "
        f"blocked the rain brings {flow.value:.2f} l/s."
    )
    if len(overflows) == 1 and len(full.slots) == 1:
        o = overflows[0]
        width = _width(flow, o.height_mm)
        path = f"design.overflows[{o.name}].width_mm"
        ask = cure(f"Make {o.name} {width:.0f} mm wide.", (path, width))
    subject = full.checks[0].id
    yield finding("overflow-small", subject, "stop", says, rain_limit(flow), carried.value, ask)


def _under_outlets(full: Full, drains: list[GutterCheck]) -> Iterator[Finding]:
    """Hold the overflows against the outlets together, as the warranty standard does."""
    carried, out = sum(c.capacity.value for c in full.checks), sum(c.outlet.value for c in drains)
    if carried < out:
        by = Cited(out, "l/s", ad_h.NHBC, "7.2.22, overflow no less than the outlets", "published")
        says = (
            f"The overflows carry {carried:.2f} l/s, the outlets together {out:.2f}: a warranty "
            "standard for new homes asks for as much of them (for parapet gutters)."
        )
        yield finding("overflow-under-outlets", full.checks[0].id, "note", says, by, carried)


def _high(full: Full, overflows: tuple[Overflow, ...]) -> Iterator[Finding]:
    """Stop an overflow whose water stands at a way in before it runs."""
    if full.door is None:
        return
    name, door = full.door
    under: Known = roofing_practice.OVERFLOW_UNDER
    for slot in full.slots:
        head = min(slot.height_mm, HEIGHT_MM)
        over = slot.sill + head - door
        if over < under:
            continue
        says = (
            f"With the outlets blocked {slot.name} runs {head:.0f} mm deep, {over:.0f} mm above "
            f"{name}: water comes in there first."
        )
        mine = next((o for o in overflows if o.name == slot.name), None)
        ask = cure("Cut it lower than every door and sill.")
        if mine is not None and mine.sill_above_roof_mm > over:
            lower = float(int(mine.sill_above_roof_mm - over - 1))
            if lower > 0:
                path = f"design.overflows[{slot.name}].sill_above_roof_mm"
                ask = cure(f"Cut it {lower:.0f} mm above the roof.", (path, lower))
        yield finding("overflow-late", f"overflow:{slot.name}", "stop", says, under, over, ask)


def _stands(full: Full, held: Blocked) -> Finding:
    """Say how deep the water stands while the overflow runs."""
    says = (
        f"With every outlet blocked water stands {held.depth.value * MM:.0f} mm deep at the "
        f"lowest place, {held.load.value:.0f} N/m², and runs over at {held.stops_at}. It is to be "
        "seen from below: that is the sign to clear the outlet."
    )
    by = Cited(held.depth.value * MM, "mm", en.SOURCE, held.depth.line, held.depth.basis)
    return finding("blocked-depth", "roof", "note", says, by, held.depth.value * MM)
