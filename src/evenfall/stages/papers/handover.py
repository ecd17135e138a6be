"""The handover file: what was built, agreed and read, what is still missing and who brings it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import date, timedelta

from evenfall.model.choice import build_up
from evenfall.model.words import day
from evenfall.stages.papers import terms
from evenfall.stages.papers.from_the_roof import (
    OFFICE,
    SITE,
    BayBuilt,
    DayOfWeather,
    HoldRow,
    HoursRow,
    Piece,
    batches_of,
    bays_built,
    hold_rows,
    hours_rows,
    pieces_of_roof,
    signed_at_handover,
    weather_days,
)
from evenfall.stages.papers.notes_of_roof import NoteRow, note_rows
from evenfall.stages.papers.scope import Layer, Part, layers, parts
from evenfall.stages.papers.words import listed, sentence, spoken
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.standards import care_practice as practice_of_care
from evenfall.standards import site_duties as duties

FEBRUARY = 2  # the month with a leap day
SHORTEST = 28  # its last day in most years: where a guarantee from a leap day ends
REMINDED_YEARS = 2  # reminders that are printed; the calendar file goes on
MAKER, COUNCIL = "the maker of the sheet", "building control"


@dataclass(frozen=True, slots=True)
class Departure:
    """Something that was agreed to be otherwise than the rule."""

    what: str
    by: str
    on: date


@dataclass(frozen=True, slots=True)
class Reading:
    """A reading of the timber."""

    where: str
    says: str
    when: str


@dataclass(frozen=True, slots=True)
class Product:
    """What was built in; the batch is empty until it is recorded, or written in by hand."""

    what: str
    says: str
    batch: str


@dataclass(frozen=True, slots=True)
class Handover:
    """All of it."""

    pieces: tuple[Piece, ...]
    figures: tuple[tuple[str, str], ...]
    layers: tuple[Layer, ...]
    parts: tuple[Part, ...]
    departures: tuple[Departure, ...]
    readings: tuple[Reading, ...]
    holds: tuple[HoldRow, ...]
    weather: tuple[DayOfWeather, ...]
    notes: tuple[NoteRow, ...]
    bays: tuple[BayBuilt, ...]
    hours: tuple[HoursRow, ...]
    marks: tuple[str, ...]
    initialled: str
    products: tuple[Product, ...]
    guarantee: str
    care: tuple[str, ...]
    not_normal: str
    reminders: tuple[tuple[str, str], ...]
    later: tuple[str, ...]
    contact: str


def handover(worked: WorkedRoof) -> Handover:
    """Gather the handover file from what was worked and what the site recorded.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    Handover
        What is there, and what is missing and by whom [-].
    """
    firm = worked.case.rates.firm
    return Handover(
        pieces=tuple(_pieces(worked)), figures=tuple(_figures(worked)),
        layers=layers(worked), parts=parts(worked),
        departures=tuple(_departures(worked)), readings=tuple(_readings(worked)),
        holds=hold_rows(worked), weather=weather_days(worked), notes=note_rows(worked),
        bays=bays_built(worked),
        hours=hours_rows(worked), marks=tuple(f"{name}: {says}" for _, name, says in terms.NORMAL),
        initialled=signed_at_handover(worked), products=products(worked),
        guarantee=_guarantee(worked), care=terms.CARE,
        not_normal=terms.NOT_NORMAL, reminders=tuple(_reminders(worked)),
        later=tuple(_later(worked)),
        contact=f"{firm.name}, {firm.address}, {firm.telephone}, {firm.email}",
    )  # fmt: skip


def finished_on(worked: WorkedRoof) -> date:
    """Find the day of handover: as recorded, else the last day planned.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    date
        The day [-].
    """
    return worked.case.job.record.finished_on or worked.programme.finish_on


def reminder_days(worked: WorkedRoof) -> tuple[date, date]:
    """Find the first spring and the first autumn after handover.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of date
        Spring and autumn, in that order of the year [-].
    """
    done = finished_on(worked)
    first = []
    for month in (practice_of_care.SPRING_MONTH, practice_of_care.AUTUMN_MONTH):
        this = date(done.year, int(month), int(practice_of_care.DAY))
        first.append(this if this > done else this.replace(year=done.year + 1))
    return first[0], first[1]


def guarantee_ends(worked: WorkedRoof) -> date:
    """Find the last day of the guarantee on the work.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    date
        The day before as many years are over [-].
    """
    done, years = finished_on(worked), worked.case.rates.terms.workmanship_years
    leap = done.month == FEBRUARY and done.day > SHORTEST
    over = date(done.year + years, done.month, SHORTEST if leap else done.day)
    return over - timedelta(days=0 if leap else 1)


def _pieces(worked: WorkedRoof) -> Iterator[Piece]:
    record, survey = worked.case.job.record, worked.case.job.survey
    route = next((f for f in worked.findings if f.code.startswith("notice-")), None)
    told = route.says if route else "Nothing has to be certified."
    yield Piece("Certificate of building control", route is None, told, COUNCIL)
    yield Piece("Plan, sections and layers", True, "In this file, and in the drawings.", "")
    yield Piece("Heat and moisture", True, "In the calculation sheets.", "")
    agreed = len(record.agreed)
    open_points = [f for f in worked.findings if f.level == "agree" and f.subject != "price"]
    words = f"{agreed} recorded, {len(open_points)} not yet answered in writing"
    yield Piece("What was agreed", not open_points, sentence(words), OFFICE)
    done, bays = record.done, len(worked.programme.bays)
    closed = len({d.bay for d in done if d.bay is not None})
    days = f", finished on {day(record.finished_on)}" if record.finished_on else ""
    says = f"{closed} of {bays} bays recorded as closed, {len(done)} entries{days}."
    yield Piece("What was done, and when", record.finished_on is not None, says,
                "" if record.finished_on else SITE)  # fmt: skip
    unknown = [p.what for p in products(worked) if not p.batch]
    says = f"Missing: {listed(unknown)}." if unknown else "Of every product named below."
    yield Piece("Batch numbers", not unknown, says, SITE if unknown else "")
    yield from pieces_of_roof(worked)
    yield Piece("Our guarantee", True, _guarantee(worked), "")
    yield Piece("The maker's guarantee", False, "Named by number and first day.", MAKER)
    yield Piece("Waste notes", False, f"Kept {duties.TRANSFER_NOTE_YEARS:.0f} years at the least.",
                SITE)  # fmt: skip
    tested = survey.covering.asbestos
    says = {"none_found": "Sampled, none found.", "found": "Found: the surveyor's papers.",
            "not_sampled": "Not sampled."}[tested]  # fmt: skip
    yield Piece("Asbestos result", tested == "none_found", says, "" if tested == "none_found"
                else OFFICE)  # fmt: skip
    reports = record.fire_tests
    named = "; ".join(f"{r.document}: {r.fire_class}" for r in reports)
    yield Piece("Test of fire from outside", bool(reports), named or "Report of this build-up.",
                MAKER)  # fmt: skip
    yield _last_invoice(worked)


def _last_invoice(worked: WorkedRoof) -> Piece:
    final = next((m for m in worked.invoices.invoices if m.final), None)
    if final is None:
        return Piece("Invoice with VAT", False, "The last one, paid.", OFFICE)
    return Piece("Invoice with VAT", True, f"The last one: {final.number}, {day(final.on)}.", "")


def _figures(worked: WorkedRoof) -> Iterator[tuple[str, str]]:
    yield "Area", f"{worked.plan.gross.value:.2f} m²"
    yield "Heat let through", f"{worked.heat.u.value:.2f} W/(m²K)"
    yield "before", f"{worked.rise.before_u.value:.2f} W/(m²K)"
    slope = worked.falls.finished.value
    yield "Fall", f"1 in {1000 / slope:.0f} to {worked.falls.low_side}" if slope > 0 else "none"
    yield "Higher at the edge, at most", f"{worked.heights.rise_at_edge.value:.0f} mm"
    yield "Handed over", day(finished_on(worked))


def _departures(worked: WorkedRoof) -> Iterator[Departure]:
    said = {(f.code, f.subject): f.says for f in worked.findings}
    for a in worked.case.job.record.agreed:
        words = said.get((a.finding, a.subject), spoken(f"{a.finding} {a.subject}"))
        yield Departure(words, f"{a.by}, {a.reference}" if a.reference else a.by, a.on)
    for answer in worked.case.job.record.answers:
        needed = "needed" if answer.needed else "not needed"
        told = f" ({answer.reference})" if answer.reference else ""
        yield Departure(sentence(f"{answer.about}: {needed}{told}"), answer.by, answer.on)
    for hold in worked.record.holds:
        if hold.state == "agreed":
            what = f"Hold point {hold.number}, {hold.where}: {hold.says}"
            yield Departure(what, hold.agreed_by, hold.by[-1].on)
    for note in note_rows(worked):
        if note.by:
            yield Departure(note.says, note.by, note.on)
    for slip in worked.extras.slips:
        if slip.signed_on is not None:
            what = f"{slip.where}: {slip.says.lower()}, {slip.found.value:g} {slip.unit}"
            yield Departure(sentence(what), slip.signed_by, slip.signed_on)


def _readings(worked: WorkedRoof) -> Iterator[Reading]:
    on = day(worked.meta.surveyed_on)
    for r in worked.given.job.survey.readings:
        yield Reading(spoken(r.name), f"{r.percent:g} %", f"survey, {on}")
    for stamp, e in worked.record.readings:
        if e.what == "moisture":
            where = spoken(e.name) if e.name else f"bay {e.bay}" if e.bay else "deck"
            yield Reading(where, f"{e.value:g} %", stamp.says)


def products(worked: WorkedRoof) -> tuple[Product, ...]:
    """List what was built in.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    tuple of Product
        With the batches that were recorded [-].
    """
    return tuple(Product(p, says, batches_of(worked, p)) for p, says in _products(worked))


def _products(worked: WorkedRoof) -> Iterator[tuple[str, str]]:
    build = build_up(worked.case.job.design, worked.case.rates)
    laid = " + ".join(f"{mm}" for mm in worked.boards.layers_mm)
    yield "Sheet", build.rubber.says
    yield "Insulation", f"{build.board.says}, {laid} mm"
    for line in worked.boards.tapered.order if worked.boards.tapered else ():
        yield "Insulation to falls", line.says
    yield "Vapour control layer", build.vcl.says
    for line in worked.items.order:
        if any(word in line.id for word in ("adhesive", "primer", "sealant", "tape")):
            yield sentence(spoken(line.id.partition(":")[2]))[:-1], line.says


def _guarantee(worked: WorkedRoof) -> str:
    years, done = worked.case.rates.terms.workmanship_years, finished_on(worked)
    return f"{years} years on our work, from {day(done)} to {day(guarantee_ends(worked))}."


def _reminders(worked: WorkedRoof) -> Iterator[tuple[str, str]]:
    spring, autumn = reminder_days(worked)
    for year in range(REMINDED_YEARS):
        told = ((spring, "gutters and outlets cleared, trims and seams looked over after winter"),
                (autumn, "leaves out of gutters and outlets"))  # fmt: skip
        for on, says in sorted(told):
            yield day(on.replace(year=on.year + year)), sentence(says)


def _later(worked: WorkedRoof) -> Iterator[str]:
    """Tell what must be known to whoever works on this roof later."""
    for o in worked.plan.openings:
        if o.kind == "rooflight":
            yield sentence(f"{spoken(o.name)}: it does not bear a person")
    yield "No flame on this roof, and no solvent, oil or bitumen on the sheet."
    yield "No screw through the sheet; a new pipe or cable is made tight by whoever laid it."
    yield "No rail is fixed to the roof: bring edge protection."
    yield "Packs and tubs are spread over the joists, not stacked."
