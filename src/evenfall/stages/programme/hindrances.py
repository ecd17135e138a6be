"""What stands in the way of a roof that is shut every evening, and what clears it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evenfall.model.finding import Change, Finding, Remedy
from evenfall.model.words import clock
from evenfall.stages.programme.draft import QUICK, Draft, draft
from evenfall.stages.programme.outputs import Outputs
from evenfall.stages.programme.roof import Roof, When
from evenfall.stages.programme.site import Slot
from evenfall.standards import programme_practice as practice
from evenfall.working import Basis, Known, measured

MOST_PEOPLE = 8  # as many as a job may name
COVERED = Remedy(
    "Put a temporary roof over the whole of it, or hire more hands than the job names."
)


def nights_on_vcl(slots: tuple[Slot, ...]) -> int:
    """Count the nights that the VCL is the roof, of the bay that waits longest.

    Parameters
    ----------
    slots : tuple of Slot
        The days [-].

    Returns
    -------
    int
        Nights, those of weekends too [-].
    """
    opened = {bay: s.span.on for s in slots for bay in s.opened}
    covered: dict[int, int] = {}
    for n, slot in enumerate(slots):
        late = slot.way == "bare" and n + 1 < len(slots)
        on = slots[n + 1].span.on if late else slot.span.on
        covered |= {bay: (on - opened[bay]).days for bay in slot.zone}
    return max(covered.values(), default=0)


def hindrances(roof: Roof, plan: Draft, basis: Basis) -> Iterator[Finding]:
    """Find all that keeps a draft from being shut every evening, without remedies.

    Parameters
    ----------
    roof : Roof
        The roof and its VCL [-].
    plan : Draft
        Bays and days [-].
    basis : str
        Basis of the rates [-].

    Yields
    ------
    Finding
        Each a stop [-].
    """
    one = plan.people == 1
    people, have = ("1 person", "has") if one else (f"{plan.people} people", "have")
    yield from _open_bays(plan, f"{people} {have}")
    margin = practice.SEAL_MARGIN
    if any(s.way == "bare" for s in plan.slots):
        yield _stop(
            "boards-bare",
            f"{people} cannot get the boards down and a sheet over them in one day, not even part "
            "by part: boards would lie bare overnight.",
            margin,
        )
    yield from _vcl(roof, plan, basis)
    hands = practice.SHEET_HANDS
    if plan.people < hands:
        two = [t for t in plan.tasks if t.least_people > plan.people]
        kinds = dict.fromkeys(t.says.split(",")[0].lower() for t in two)
        says = (
            f"The sheet takes {hands:.0f} people to lay, however light; {people} is there. "
            f"Two-handed are: {', '.join(kinds)}: {sum(t.hours.value for t in two):.0f} hours in "
            "all, for which a second pair of hands must be there."
        )
        yield _stop("hands-short", says, hands, float(plan.people))


def _open_bays(plan: Draft, there_are: str) -> Iterator[Finding]:
    margin = practice.SEAL_MARGIN
    if plan.short is not None:
        wanted, there, size = plan.short
        most = max(0.0, there) / wanted * size
        yield Finding(
            "bay-open", "roof", "stop",
            f"Even the smallest part of the roof takes {wanted:.1f} hours of work to strip, mend "
            f"and close on a slow day; {there_are} {max(0.0, there):.1f} before it must be shut. "
            f"The largest bay that they close is about {most:.1f} m².",
            margin.source, margin.basis, wanted, max(0.0, there), "h",
        )  # fmt: skip
        return
    late = [s for s in plan.slots if s.opened and not s.sure]
    if late:
        says = (
            f"On {late[0].span.on:%a %d %b} it is dark at {clock(late[0].span.dusk)}: bay "
            f"{late[0].opened[0]} would not be closed on a slow day."
        )
        yield _stop("bay-open", says, margin)


def _vcl(roof: Roof, plan: Draft, basis: Basis) -> Iterator[Finding]:
    nights, vcl = nights_on_vcl(plan.slots), roof.vcl
    if nights <= vcl.nights:
        return
    limit = measured(vcl.nights, "nights", f"the rates: vcls[{vcl.name}].nights", basis)
    if vcl.nights == 0:
        says = (
            "This VCL cannot be tonight's roof, so boards and sheet must follow on the same day; "
            f"with this crew it would lie open to the weather for {_nights(nights)}."
        )
    else:
        says = (
            f"The VCL would be the roof for {_nights(nights)}; this kind stands {vcl.nights}. "
            "Weekends count."
        )
    yield Finding(
        "vcl-nights", "roof", "stop", says, limit.where, basis, float(nights), limit.value, "nights"
    )


def _nights(number: int) -> str:
    return f"{number} night{'s' * (number != 1)}"


def _stop(code: str, says: str, by: Known, value: float | None = None) -> Finding:
    limit = None if value is None else by.value
    return Finding(code, "roof", "stop", says, by.source, by.basis, value, limit, by.unit)


def with_remedies(
    roof: Roof, when: When, outputs: Outputs, plan: Draft, basis: Basis
) -> tuple[Finding, ...]:
    """Find what stands in the way, and try what clears it: another VCL, then more people.

    Parameters
    ----------
    roof, when, outputs : Roof, When, Outputs
        As for the draft [-].
    plan : Draft
        Bays and days [-].
    basis : str
        Basis of the rates [-].

    Returns
    -------
    tuple of Finding
        Stops with remedies; each remedy with a change was tried [-].
    """
    found = tuple(hindrances(roof, plan, basis))
    cures: dict[str, Remedy] = {}
    for remedy, left in _tries(roof, when, outputs, plan, basis) if found else ():
        cures |= {f.code: remedy for f in found if f.code not in left and f.code not in cures}
        if all(f.code in cures for f in found):
            break
    return tuple(replace(f, remedy=cures.get(f.code, COVERED)) for f in found)


def _tries(
    roof: Roof, when: When, outputs: Outputs, plan: Draft, basis: Basis
) -> Iterator[tuple[Remedy, set[str]]]:
    """Yield each remedy with the codes that are left after it."""
    for name, kind, nights in sorted(roof.other_vcls, key=lambda v: -v[2]):
        if nights > roof.vcl.nights:
            other = replace(roof, vcl=replace(roof.vcl, name=name, kind=kind, nights=nights))
            left = hindrances(other, draft(other, when, outputs, plan.people, QUICK), basis)
            words = f"Take the VCL {name}: it stands {_nights(nights)}."
            yield Remedy(words, (Change("design.vcl", name),)), {f.code for f in left}
    for people in range(plan.people + 1, MOST_PEOPLE + 1):
        left = hindrances(roof, draft(roof, when, outputs, people, QUICK), basis)
        words = f"Send {people} people."
        yield Remedy(words, (Change("crew.people", people),)), {f.code for f in left}
