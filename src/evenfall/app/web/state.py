"""All that the desk shows of a worked job but its drawings: plain data, each field explained."""

from __future__ import annotations

from dataclasses import asdict, dataclass, field
from datetime import date
from typing import Any

from evenfall.app.live.named import HEAD, Number, all_numbers
from evenfall.app.web import money as of_money
from evenfall.app.web import rooms
from evenfall.app.web.money import Group, Line, Offer, Owner
from evenfall.app.web.standing import Stick, stick
from evenfall.app.web.words import measure
from evenfall.flow import WorkedJob
from evenfall.model.finding import Change, Finding
from evenfall.model.programmed import Day
from evenfall.model.words import by_the_quarter, clock, memory, short_day

OWN_RATES = "Put your own prices in under “rates”, and this line goes."
LEAF_WORDS = {
    "found": "as found: old felt, levels in mm above its lowest point, how water runs now",
    "measured": "every tape in its place; in brackets, how many mm it is off",
    "stripped": "the bare deck, its joists in dashes",
    "tonight": "the roof at dusk: what keeps the rain out, and where water leaves",
    "boards": "boards in laying order; hatched ones are offcuts used again",
    "sheet": "the sheet as it lies over the edges",
    "finished": "the finished roof and the way its water runs",
}
"""The tracing sheets in the order of the job, and what each shows."""
CAUTIONS = (
    "asbestos-found", "asbestos-untested", "deck-fragile", "flue-unmeasured", "cables-in-void",
    "edge-protection",
)  # fmt: skip
"""Findings that can hurt somebody, the worst first; at most three of them stand at the head."""
MOST_CAUTIONS = 3
PAPERS = (
    ("quotation.pdf", "Quotation", "for the client: no cost, no margin"),
    ("calculations.pdf", "Calculation sheets", "for building control and the file"),
    ("drawings.pdf", "Drawings", "plans and sections to scale"),
    ("order.pdf", "Order", "a page for each supplier"),
    ("order.xlsx", "Order list", "for the supplier, as a workbook"),
    ("order.csv", "Order list as text", "for any other program"),
    ("cut-lists.pdf", "Cut lists", "for the saw"),
    ("day-sheets.pdf", "Day sheets", "for the crew, a page a day"),
    ("construction-phase-plan.pdf", "Construction-phase plan", "health and safety on this site"),
    ("programme.pdf", "Days for the client", "one page"),
    ("programme.ics", "The days", "for the calendar of your telephone"),
    ("handover.pdf", "Handover file", "for the client; says what is still missing"),
    ("care.ics", "Care", "spring and autumn, for the client's calendar"),
)
"""The papers that a person opens; plans go with them when all are taken."""


@dataclass(frozen=True, slots=True)
class Chalk:
    """One chalk mark: a finding as it stands in the margin."""

    number: int = field(metadata={"help": "Number in the margin and on the plan; 0 when fine."})
    level: str = field(metadata={"help": "stop, agree, note or fine."})
    code: str = field(metadata={"help": "Name of the finding."})
    subject: str = field(metadata={"help": "What it is about, such as side:B-C."})
    says: str = field(metadata={"help": "The finding in one or two sentences."})
    remedy: str = field(metadata={"help": "What clears it; empty where the sentence says it."})
    changes: tuple[Change, ...] = field(metadata={"help": "Changes to the job that clear it."})
    why: str = field(metadata={"help": "Number, limit, source and basis."})
    value: float | None = field(metadata={"help": "The number found, if there is one."})
    by_engineer: bool = field(metadata={"help": "Whether an engineer's word may settle it."})


@dataclass(frozen=True, slots=True)
class Leaf:
    """One tracing sheet."""

    name: str = field(metadata={"help": "Its word on the roll."})
    says: str = field(metadata={"help": "What it shows, in a sentence."})


@dataclass(frozen=True, slots=True)
class Edge:
    """One side of the roof, to be looked at in section."""

    name: str = field(metadata={"help": "Its corners, such as A-B."})
    kind: str = field(metadata={"help": "What it is, in words."})
    length: str = field(metadata={"help": "Length with its unit."})
    solved: bool = field(metadata={"help": "Whether its heat was solved, so that it has lines."})


@dataclass(frozen=True, slots=True)
class Evening:
    """One day of work and the roof at its dusk."""

    number: int = field(metadata={"help": "Which day, from 1."})
    on: str = field(metadata={"help": "The date, YYYY-MM-DD."})
    day: str = field(metadata={"help": "Day of the week and date."})
    says: str = field(metadata={"help": "The work of the day."})
    hands: str = field(metadata={"help": "People and hours."})
    closed: str = field(metadata={"help": "When the roof is closed and when it is dark."})
    water: str = field(metadata={"help": "Where water leaves tonight."})
    cover: str = field(metadata={"help": "What keeps the rain out, in words."})
    rain: str = field(metadata={"help": "Chance of a wet evening in words; empty if not known."})
    strokes: int = field(metadata={"help": "Heavy strokes of rain, one for each chance in five."})


@dataclass(frozen=True, slots=True)
class Paper:
    """One paper."""

    name: str = field(metadata={"help": "File name."})
    title: str = field(metadata={"help": "What it is."})
    says: str = field(metadata={"help": "For whom."})


@dataclass(frozen=True, slots=True)
class RoomName:
    """One room, whose workings are fetched when it is opened."""

    key: str = field(metadata={"help": "Its name in the flow."})
    title: str = field(metadata={"help": "Its name in words."})


@dataclass(frozen=True, slots=True)
class State:
    """The desk."""

    title: str = field(metadata={"help": "Title of the job."})
    about: str = field(metadata={"help": "Client, address, reference."})
    worked_on: str = field(metadata={"help": "When it was surveyed and worked."})
    prices: str = field(metadata={"help": "Whose prices, and of when."})
    rates: str = field(metadata={"help": "Name of the rates, and what to do if not one's own."})
    invented: bool = field(metadata={"help": "Whether the job is invented."})
    note: str = field(metadata={"help": "What the owner wrote about the job."})
    numbers: dict[str, Number] = field(metadata={"help": "Every number that may move, by id."})
    head: tuple[str, ...] = field(metadata={"help": "Ids of the numbers at the head."})
    cautions: tuple[str, ...] = field(metadata={"help": "At most three that this job triggers."})
    findings: tuple[Chalk, ...] = field(metadata={"help": "The heaviest first, fine ones last."})
    leaves: tuple[Leaf, ...] = field(metadata={"help": "The tracing sheets."})
    edges: tuple[Edge, ...] = field(metadata={"help": "The sides, clockwise from the house."})
    stick: Stick = field(metadata={"help": "The rise stick."})
    evenings: tuple[Evening, ...] = field(metadata={"help": "The days."})
    holidays: tuple[str, ...] = field(
        metadata={"help": "Public holidays that the firm keeps, this year and the next ones."}
    )
    evenings_say: str = field(metadata={"help": "Days, reserve and chance of a wet evening."})
    order: tuple[Group, ...] = field(metadata={"help": "What to order, in packs."})
    groups: tuple[Line, ...] = field(metadata={"help": "The price in groups, without VAT."})
    stages: tuple[Line, ...] = field(metadata={"help": "Payments."})
    provisional: tuple[Line, ...] = field(metadata={"help": "Rates agreed in advance."})
    valid_until: str = field(metadata={"help": "Until when the price holds."})
    offers: tuple[Offer, ...] = field(metadata={"help": "Options beside the job."})
    no_offers: str = field(metadata={"help": "Why there are no options."})
    owner: Owner = field(metadata={"help": "Cost and margin, for the owner only."})
    rooms: tuple[RoomName, ...] = field(metadata={"help": "Every room that has workings."})
    papers: tuple[Paper, ...] = field(metadata={"help": "The papers."})
    on: str = field(metadata={"help": "The day as on which it is worked, YYYY-MM-DD."})
    own_rates: bool = field(metadata={"help": "Whether the rates are the firm's own."})
    chosen: dict[str, Any] = field(metadata={"help": "Design, crew and calendar as worked with."})


def build(worked: WorkedJob, *, own_rates: bool) -> State:
    """Gather all that the desk shows.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    own_rates : bool
        Whether the firm's own rates were found [-].

    Returns
    -------
    State
        The state of the desk [-].
    """
    meta, price = worked.meta, worked.price
    numbers = all_numbers(worked)
    told = f"prices of {_day(meta.priced_on)}"
    return State(
        title=meta.title,
        about=f"{meta.client}, {meta.address} · {meta.reference}",
        worked_on=f"surveyed {_day(meta.surveyed_on)}, worked as on {_day(meta.on)}",
        prices=told if own_rates else f"{told}, invented",
        rates=meta.rates if own_rates else f"{meta.rates}. {OWN_RATES}",
        invented=meta.invented,
        note=meta.note,
        numbers=numbers,
        head=tuple(i for stem in HEAD for i in numbers if i.startswith(stem)),
        cautions=_cautions(worked.findings),
        findings=_chalked(worked.findings),
        leaves=tuple(Leaf(name, says) for name, says in LEAF_WORDS.items()),
        edges=_edges(worked),
        stick=stick(worked),
        evenings=tuple(_evening(d, worked) for d in worked.programme.days),
        holidays=tuple(h.on.isoformat() for h in worked.programme.holidays),
        evenings_say=_evenings_say(worked),
        order=of_money.order(worked),
        groups=of_money.groups(worked),
        stages=of_money.stages(price),
        provisional=of_money.provisional(price),
        valid_until=_day(price.valid_until),
        offers=of_money.offers(worked.options),
        no_offers=worked.options.why_empty or "No options are asked for in the job file.",
        owner=of_money.owner(price, worked.margins),
        rooms=tuple(RoomName(key, title) for key, title in rooms.TITLES.items()),
        papers=tuple(Paper(*p) for p in PAPERS),
        on=meta.on.isoformat(),
        own_rates=own_rates,
        chosen=worked.case.job.model_dump(mode="json", include={"design", "crew", "calendar"}),
    )


def as_data(state: Any) -> dict[str, Any]:
    """Give a state, or a part of it, as plain data.

    Parameters
    ----------
    state : dataclass
        What `build` gives, or a part of it [-].

    Returns
    -------
    dict
        What JSON can carry [-].
    """
    return asdict(state)


def _day(on: date) -> str:
    return f"{on.day} {on:%b %Y}"


def _cautions(findings: tuple[Finding, ...]) -> tuple[str, ...]:
    by = {f.code: f.says for f in findings}
    return tuple(by[code] for code in CAUTIONS if code in by)[:MOST_CAUTIONS]


def _chalked(findings: tuple[Finding, ...]) -> tuple[Chalk, ...]:
    """Give the marks the numbers of the plan, the heaviest first; fine ones have none."""
    marks = [f for f in findings if f.level != "fine"]
    fine = [f for f in findings if f.level == "fine"]
    return (*(_chalk(n, f) for n, f in enumerate(marks, 1)), *(_chalk(0, f) for f in fine))


def _chalk(number: int, finding: Finding) -> Chalk:
    remedy = finding.remedy.says if finding.remedy else ""
    if remedy.rstrip(".").lower() in finding.says.lower():
        remedy = ""
    changes = finding.remedy.changes if finding.remedy else ()
    return Chalk(number, finding.level, finding.code, finding.subject, finding.says, remedy,
                 changes, _why(finding), finding.value, finding.by_engineer)  # fmt: skip


def _why(finding: Finding) -> str:
    numbers = ""
    if finding.value is not None:
        numbers = measure(finding.value, finding.unit)
        if finding.limit is not None:
            numbers += f" against {measure(finding.limit, finding.unit)}"
        numbers += " · "
    return f"{numbers}{finding.source} · {finding.basis}"


def _edges(worked: WorkedJob) -> tuple[Edge, ...]:
    solved = {d.id for d in worked.edge_details.details}
    return tuple(
        Edge(s.name, s.kind.replace("_", " "), f"{s.length_m:.3f} m", s.id in solved)
        for s in worked.plan.sides
    )


# --- evenings ------------------------------------------------------------------------------------

COVERS = {"felt": "old felt", "open": "open", "vcl": "VCL", "sheet": "sheet"}
"""What keeps the rain out, in words."""
STROKES = 5
"""Strokes of rain beside an evening."""


def _evening(today: Day, worked: WorkedJob) -> Evening:
    dusk = today.evening
    chance = dict(worked.programme.wet_months).get(today.on.month)
    ways = _listed(tuple(_way(way) for way in dusk.water_leaves_by))
    kinds = dict.fromkeys(COVERS[cover] for _, cover in dusk.covers)
    return Evening(
        number=today.number,
        on=today.on.isoformat(),
        day=short_day(today.on),
        says=today.says,
        hands=f"{today.people} people, {today.hours:.1f} h",
        closed=(f"closed {by_the_quarter(dusk.sealed_by)}" if today.opens else "nothing is opened")
        + f", dark {clock(dusk.dusk)}",
        water=f"water by {ways}",
        cover=" and ".join(kinds),
        rain=_rain(float(chance)) if chance is not None else "",
        strokes=round(STROKES * float(chance)) if chance is not None else 0,
    )


def _rain(chance: float) -> str:
    return f"wet about {round(STROKES * chance)} in {STROKES}"


def _way(id_: str) -> str:
    """Name a side or an opening."""
    kind, _, name = id_.partition(":")
    return name if kind == "side" else f"the {name.replace('-', ' ')}"


def _listed(words: tuple[str, ...]) -> str:
    """Join words as they are said."""
    *first, last = words or ("nothing",)
    return f"{', '.join(first)} and {last}" if first else last


def _evenings_say(worked: WorkedJob) -> str:
    p = worked.programme
    if not p.days:
        return "No day of work is planned yet."
    says = f"{_day(p.days[0].on)} to {_day(p.finish_on)}"
    if p.wet_reserve.value:
        says += f", {p.wet_reserve.value:g} more in reserve for wet"
    if p.wet_evening:
        says += f". About 1 evening in {1 / p.wet_evening:.0f} turns wet{memory(p.wet_evening)}"
    search = worked.tasks.search
    if search and search.says:
        says += f". Of the days: {search.says}"
    return f"{says}."
