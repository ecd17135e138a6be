"""The roof as it was built: bays with their days and batches, places where something was found."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from evenfall.drawing import NOTE, Area, Circle, Drawing, Group, Item, Label, Layer, frame_plan
from evenfall.model.logbook import Entry, FoundEntry, HoldEntry, PlanPlace, ReadingEntry, StopEntry
from evenfall.stages.papers.drawn_plan import draw_plan, mm
from evenfall.stages.papers.from_the_roof import BayBuilt, bays_built, unit_of
from evenfall.stages.papers.words import spoken
from evenfall.stages.papers.worked import WorkedRoof

MM = 1000
PLACE_MM = 60.0

LEFT_OUT = ("heights", "names", "zones", "chalk marks")
"""Of the plan, what is no longer of use once the roof is built."""


def draw_as_built(worked: WorkedRoof) -> Drawing:
    """Draw the plan as built; without a log it is the plan.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Drawing
        Bays with the days on which they were closed and covered, and every place of the log [mm].
    """
    plan = draw_plan(worked)
    if not worked.record.kept.entries:
        return plan
    bays = bays_built(worked)
    kept = tuple(layer for layer in plan.layers if layer.name not in LEFT_OUT)
    more = (
        Layer("bays", tuple(_bays(worked))),
        Layer("built", tuple(_built(worked, bays))),
        Layer("places", tuple(_places(worked))),
    )
    title = plan.title.replace("Plan of", "As built:", 1)
    drawing = replace(plan, title=title, alt=_alt(bays), layers=(*kept, *more))
    return frame_plan(drawing, mm(worked.plan.deck[0]))


def _alt(bays: tuple[BayBuilt, ...]) -> str:
    told = "; ".join(f"bay {b.number} closed {b.vcl or 'on a day not recorded'}" for b in bays)
    return f"The roof as built. {told}."


def _bays(worked: WorkedRoof) -> Iterator[Item]:
    for bay in worked.programme.bays:
        ring = tuple(mm(p) for p in bay.ring)
        yield Area((ring,), "none", "evening", "hair")


def _built(worked: WorkedRoof, built: tuple[BayBuilt, ...]) -> Iterator[Item]:
    from shapely.geometry import Polygon

    for bay, told in zip(worked.programme.bays, built, strict=True):
        at = Polygon(bay.ring).representative_point()
        days = [f"closed {told.vcl}" if told.vcl else "not recorded"]
        if told.sheet:
            days.append(f"sheet {told.sheet}")
        says = f"bay {bay.number}: {', '.join(days)}"
        ink = "evening" if told.vcl else "ink"
        yield Group(
            f"bay:{bay.number}", f"{says}. {told.batches}".strip(),
            (Label(at.x * MM, at.y * MM, says, NOTE, ink, bold=True),),  # type: ignore[arg-type]
        )  # fmt: skip


def _places(worked: WorkedRoof) -> Iterator[Item]:
    """Mark each place of the log, one mark to a place."""
    seen: dict[tuple[float, float], str] = {}
    units: dict[str, str] = {r.name: r.unit for r in worked.case.rates.provisional}
    for _, entry in worked.record.kept.entries:
        if entry.place is not None and (words := _words(entry, units)):
            at = _rounded(entry.place)
            seen[at] = f"{seen[at]}, {words}" if at in seen else words
    for (x, y), says in seen.items():
        sign = Circle(x * MM, y * MM, PLACE_MM, ink="chalk")
        word = Label(x * MM, y * MM, says, NOTE, "chalk", seat="beside", clear=10)
        yield Group(f"place:{x:g},{y:g}", says, (sign, word))


def _rounded(place: PlanPlace) -> tuple[float, float]:
    return round(place.x_m, 1), round(place.y_m, 1)


def _words(entry: Entry, units: dict[str, str]) -> str:
    if isinstance(entry, FoundEntry):
        unit = unit_of(units.get(entry.rate, ""))
        return f"{spoken(entry.what)} {entry.quantity:g} {unit}".strip()
    if isinstance(entry, ReadingEntry):
        return f"{spoken(entry.what)} {entry.value:g} {entry.unit}"
    if isinstance(entry, StopEntry):
        return spoken(entry.danger)
    return f"hold point {entry.hold}" if isinstance(entry, HoldEntry) else ""
