"""What the desk shows of a worked job: plain page data, every field with its help text."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date

from evenfall.app.summary import near
from evenfall.app.web import money as of_money
from evenfall.app.web import rooms, slips, stick
from evenfall.app.web.money import Group, Line, Offer, Owner
from evenfall.app.web.pictures import Evening, View, evenings, of_room, section, views
from evenfall.app.web.rooms import Room
from evenfall.app.web.slips import Row, Slip
from evenfall.app.web.stick import Fact, Hole
from evenfall.app.web.words import measure, money
from evenfall.flow import WorkedJob
from evenfall.model.finding import Finding
from evenfall.working import weakest

OPEN_MARKS = 6
"""Chalk marks that stand open in the margin; all stops do, however many there are."""

OWN_RATES = "Put your own into rates.yaml beside the job file."


@dataclass(frozen=True, slots=True)
class Figure:
    """One quiet number at the head of the sheet."""

    key: str = field(metadata={"help": "Short name, for links."})
    text: str = field(metadata={"help": "The number as printed."})
    label: str = field(metadata={"help": "What it is, with its unit."})
    trouble: bool = field(metadata={"help": "Whether it is wrong as it stands."})
    slip: Slip = field(metadata={"help": "How it came about."})


@dataclass(frozen=True, slots=True)
class Chalk:
    """One chalk mark: a finding as it stands in the margin."""

    number: int = field(metadata={"help": "Number in the margin and on the plan; 0 when fine."})
    level: str = field(metadata={"help": "stop, agree, note or fine."})
    says: str = field(metadata={"help": "The finding in one or two sentences."})
    remedy: str = field(metadata={"help": "What clears it; empty where the sentence says it."})
    why: str = field(metadata={"help": "Number, limit, source and basis."})
    code: str = field(metadata={"help": "Name of the finding and its subject."})


@dataclass(frozen=True, slots=True)
class Page:
    """The desk."""

    title: str = field(metadata={"help": "Title of the job."})
    about: str = field(metadata={"help": "Client, address, reference."})
    worked_on: str = field(metadata={"help": "When it was surveyed and worked."})
    prices: str = field(metadata={"help": "Whose prices, and of when."})
    rates: str = field(
        metadata={"help": "Name of the rates, and what to do where they are not own."}
    )
    invented: bool = field(metadata={"help": "Whether the job is invented."})
    note: str = field(metadata={"help": "What the owner wrote about the job."})
    figures: tuple[Figure, ...] = field(metadata={"help": "The quiet numbers at the head."})
    marks: tuple[Chalk, ...] = field(metadata={"help": "Marks that stand open, heaviest first."})
    folded: tuple[Chalk, ...] = field(metadata={"help": "Further marks to agree, folded away."})
    notes: tuple[Chalk, ...] = field(metadata={"help": "Marks to note."})
    fine: tuple[Chalk, ...] = field(metadata={"help": "What was checked and is fine."})
    count: str = field(metadata={"help": "How many of each weight, in words."})
    views: tuple[View, ...] = field(metadata={"help": "The plan, looked at in several ways."})
    at: str = field(metadata={"help": "Where the section is taken, in words."})
    section: str = field(metadata={"help": "The rise stick beside the section, as SVG."})
    governs: str = field(metadata={"help": "What governs the thickness, in a sentence."})
    holes: tuple[Hole, ...] = field(metadata={"help": "The rise stick, the thickest on top."})
    folded_holes: int = field(metadata={"help": "Holes on top that are far too high to matter."})
    other_holes: tuple[Hole, ...] = field(metadata={"help": "The stick in the other layers."})
    other_layers: str = field(metadata={"help": "What the other stick is of."})
    stick_facts: tuple[Fact, ...] = field(metadata={"help": "What hangs on the thickness taken."})
    why: str = field(metadata={"help": "Why this thickness, in a sentence."})
    stick_says: str = field(metadata={"help": "What the roof is asked to reach, and was before."})
    evenings: tuple[Evening, ...] = field(metadata={"help": "One small roof for each day."})
    evenings_say: str = field(metadata={"help": "Days, reserve and chance of a wet evening."})
    order: tuple[Group, ...] = field(metadata={"help": "What to order, in packs."})
    groups: tuple[Line, ...] = field(metadata={"help": "The price in groups, without VAT."})
    sums: tuple[Line, ...] = field(metadata={"help": "Net, VAT, total, a square metre."})
    stages: tuple[Line, ...] = field(metadata={"help": "Payments."})
    provisional: tuple[Line, ...] = field(metadata={"help": "Rates agreed in advance."})
    valid_until: str = field(metadata={"help": "Until when the price holds."})
    offers: tuple[Offer, ...] = field(metadata={"help": "Options beside the job."})
    no_offers: str = field(metadata={"help": "Why there are no options."})
    owner: Owner = field(metadata={"help": "Cost and margin, for the owner only."})
    rooms: tuple[Room, ...] = field(metadata={"help": "Every room with all its workings."})
    head_lines: tuple[Slip, ...] = field(metadata={"help": "Workings printed under the sheet."})


def build(worked: WorkedJob, *, own_rates: bool) -> Page:
    """Gather all that the desk shows.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    own_rates : bool
        Whether the firm's own rates were found [-].

    Returns
    -------
    Page
        The page [-].
    """
    meta, figures = worked.meta, _figures(worked)
    marks = tuple(
        _chalk(n, f) for n, f in enumerate((f for f in worked.findings if f.level != "fine"), 1)
    )
    heavy = tuple(m for m in marks if m.level != "note")
    open_ = max(OPEN_MARKS, sum(m.level == "stop" for m in heavy))
    fine = tuple(_chalk(0, f) for f in worked.findings if f.level == "fine")
    rise = worked.rise
    return Page(
        title=meta.title,
        about=f"{meta.client}, {meta.address} · {meta.reference}",
        worked_on=f"surveyed {_day(meta.surveyed_on)}, worked as on {_day(meta.on)}",
        prices=_prices(worked, own_rates),
        rates=meta.rates if own_rates else f"{meta.rates}. {OWN_RATES}",
        invented=meta.invented,
        note=meta.note,
        figures=figures,
        marks=heavy[:open_],
        folded=heavy[open_:],
        notes=tuple(m for m in marks if m.level == "note"),
        fine=fine,
        count=_count(marks, len(fine)),
        views=views(worked),
        section=section(worked),
        governs=rise.governs[:1].upper() + rise.governs[1:],
        at=_at(worked),
        holes=stick.holes(rise),
        folded_holes=stick.folded(rise),
        other_holes=stick.others(rise),
        other_layers="one layer" if len(rise.row.boards) > 1 else "two layers",
        stick_facts=stick.facts(rise, screwed=worked.case.job.design.hold_boards_by == "screws"),
        why=rise.why,
        stick_says=stick.says(rise),
        evenings=evenings(worked),
        evenings_say=_evenings_say(worked),
        order=of_money.order(worked),
        groups=of_money.groups(worked),
        sums=of_money.sums(worked.price),
        stages=of_money.stages(worked.price),
        provisional=of_money.provisional(worked.price),
        valid_until=_day(worked.price.valid_until),
        offers=of_money.offers(worked.options),
        no_offers=worked.options.why_empty or "No options are asked for in the job file.",
        owner=of_money.owner(worked.price, worked.margins),
        rooms=tuple(
            rooms.room(key, title, getattr(worked, key), of_room(worked, key))
            for key, title in rooms.TITLES.items()
        ),
        head_lines=tuple(f.slip for f in figures),
    )


def _day(on: date) -> str:
    return f"{on.day} {on:%b %Y}"


def _prices(worked: WorkedJob, own_rates: bool) -> str:
    meta = worked.meta
    told = f"prices of {_day(meta.priced_on)}"
    return told if own_rates else f"{told}, invented"


def _count(marks: tuple[Chalk, ...], fine: int) -> str:
    of: Mapping[str, int] = {k: sum(m.level == k for m in marks) for k in ("stop", "agree", "note")}
    return (
        f"{of['stop']} to stop for, {of['agree']} to agree, {of['note']} to note; "
        f"{fine} checked and fine"
    )


# --- the quiet numbers ---------------------------------------------------------------------------


def _figures(worked: WorkedJob) -> tuple[Figure, ...]:
    price, heat, target = worked.price, worked.heat.u, worked.rise.target_u
    cold = heat.value > target
    found = [
        Figure("price", money(price.total.value), "the price with VAT", False,
               slips.slip(price.total, slips.OWNER)),
        _days(worked),
        Figure("heat", near(heat.value, target), f"heat lost, W/m²K ({target:.2f} asked for)",
               cold, slips.slip(heat)),
    ]  # fmt: skip
    if worked.heights.items:
        found.append(_left(worked))
    return tuple(found)


def _days(worked: WorkedJob) -> Figure:
    programme, hours = worked.programme, worked.tasks.hours
    rows = tuple(
        Row(f"day {d.number}", measure(d.hours, "h"), f"{d.says} · {d.people} people")
        for d in programme.days
    )
    told = slips.slip(hours)
    rows += (Row("hours by all hands", told.answer, f"{told.title} · {told.basis}", told),)
    reserve = programme.wet_reserve
    if reserve.value:
        told = slips.slip(reserve)
        rows += (Row("in reserve for wet", told.answer, f"not counted · {told.basis}", told),)
    basis = weakest([hours.basis, reserve.basis])
    count = len(programme.days)
    days = Slip("Days on the roof", "days = one line a day", "", str(count), "the programme",
                basis, rows)  # fmt: skip
    people = max((d.people for d in programme.days), default=0)
    return Figure("days", str(count), f"days, up to {people} people", False, days)


_UNDER = {"sill": "under the sill of", "sash": "under the sash of", "threshold": "at the door"}


def _left(worked: WorkedJob) -> Figure:
    tight = worked.heights.items[0]
    short = tight.margin.value < 0
    place = f"{_UNDER.get(tight.kind, 'at')} {tight.name.replace('-', ' ')}"
    label = f"mm too high {place}" if short else f"mm left {place}"
    text = f"{abs(tight.margin.value):.0f}"
    return Figure("left", text, label, short and not tight.agreed, slips.slip(tight.margin))


def _at(worked: WorkedJob) -> str:
    items = worked.heights.items
    return f"at the {items[0].name.replace('-', ' ')}" if items else "at the edge"


def _evenings_say(worked: WorkedJob) -> str:
    p = worked.programme
    if not p.days:
        return "No day of work is planned yet."
    says = f"{_day(p.days[0].on)} to {_day(p.finish_on)}"
    if p.wet_reserve.value:
        says += f", {p.wet_reserve.value:g} more in reserve for wet"
    if p.wet_evening:
        says += f". About 1 evening in {1 / p.wet_evening:.0f} turns wet"
    return f"{says}."


# --- chalk marks ---------------------------------------------------------------------------------


def _chalk(number: int, finding: Finding) -> Chalk:
    remedy = finding.remedy.says if finding.remedy else ""
    if remedy.rstrip(".").lower() in finding.says.lower():
        remedy = ""
    code = f"{finding.code}, {finding.subject}"
    return Chalk(number, finding.level, finding.says, remedy, _why(finding), code)


def _why(finding: Finding) -> str:
    numbers = ""
    if finding.value is not None:
        numbers = measure(finding.value, finding.unit)
        if finding.limit is not None:
            numbers += f" against {measure(finding.limit, finding.unit)}"
        numbers += " · "
    return f"{numbers}{finding.source} · {finding.basis}"
