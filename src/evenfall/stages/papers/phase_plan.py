"""The construction-phase plan: who, what, which risks, what is done about each."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import ceil

from evenfall.model.words import short_day
from evenfall.stages.papers.cautions import Caution, cautions
from evenfall.stages.papers.day_sheets import kind_of
from evenfall.stages.papers.scope import days_of
from evenfall.stages.papers.words import listed, sentence
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.stages.record.whom_to_ring import rings_of
from evenfall.standards import cdm_2015 as cdm
from evenfall.standards import site_duties as duties


@dataclass(frozen=True, slots=True)
class Risk:
    """One risk of this job, what is done about it, and when it is met."""

    risk: str
    says: str
    days: str
    source: str
    basis: str


@dataclass(frozen=True, slots=True)
class PlanDay:
    """One day in a line."""

    on: str
    does: str
    evening: str


@dataclass(frozen=True, slots=True)
class PhasePlan:
    """All of it."""

    who: tuple[tuple[str, str], ...]
    work: str
    size: tuple[str, ...]
    open_points: tuple[str, ...]
    risks: tuple[Risk, ...]
    days: tuple[PlanDay, ...]
    site: tuple[str, ...]
    emergency: tuple[tuple[str, str], ...]
    caution: str


EMERGENCY = {
    "hurt": "Fire, ambulance, police", "gas": "Gas", "cable": "A cable hit",
    "structure": "It gives way", "asbestos": "Asbestos suspected",
}  # fmt: skip
BLANK = ""  # filled in by hand
CAUTION = (
    "Written by the firm for this job from its survey. It is read to everybody on site on the "
    "first morning and changed when the job changes; each change is dated and signed. Local "
    "rules, the makers' written instructions and licensed people come first."
)


def phase_plan(worked: WorkedRoof) -> PhasePlan:
    """Write the construction-phase plan.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    PhasePlan
        Plain words; what nobody told yet is left blank to be filled in [-].
    """
    said = days_of(worked.programme)
    days = tuple(PlanDay(short_day(d.on), d.does, d.evening) for d in said)
    stops = (f.says for f in worked.findings if f.level == "stop" and f.subject != "price")
    return PhasePlan(
        who=tuple(_who(worked)), work=_work(worked), size=tuple(_size(worked)),
        open_points=tuple(stops), risks=tuple(_risks(worked)), days=days,
        site=tuple(_site(worked)), emergency=tuple(_emergency(worked)), caution=CAUTION,
    )  # fmt: skip


def _who(worked: WorkedRoof) -> Iterator[tuple[str, str]]:
    meta = worked.meta
    yield "Client", (f"{meta.client}. Where it is his own home, his duties pass to the contractor, "
                     "or to the principal contractor where there is more than one.")  # fmt: skip
    yield "Contractor", meta.firm
    yield "In charge on site", BLANK
    yield "First aid", BLANK
    yield "Others on site, such as the scaffolder", BLANK


def _work(worked: WorkedRoof) -> str:
    plan, edge = worked.plan, worked.case.job.site.roof_height_m
    return (
        f"A flat roof of {plan.gross.value:.1f} m², its edge {edge:.1f} m up, at "
        f"{worked.meta.address}: the old felt is stripped, the deck mended, and a warm roof laid "
        f"on it in {len(worked.programme.bays)} parts, each shut again the same day."
    )


def _size(worked: WorkedRoof) -> Iterator[str]:
    days, crew = worked.programme.days, worked.case.job.crew
    people = max(d.people for d in days)
    spare = worked.programme.wet_reserve.value
    person_days = ceil(worked.tasks.hours.value / crew.hours_a_day)
    yield (f"{len(days)} working days and {spare:g} in reserve, at most {people} people at once, "
           f"about {person_days} person-days.")  # fmt: skip
    calendar = (days[-1].on - days[0].on).days + 1
    long = calendar > cdm.LONG_DAYS and people > cdm.MANY_AT_ONCE
    if long or person_days > cdm.PERSON_DAYS:
        yield "The Health and Safety Executive must be notified before work starts."
    else:
        yield (
            f"No notification: that begins at more than {cdm.LONG_DAYS:.0f} days with more than "
            f"{cdm.MANY_AT_ONCE:.0f} workers at once, or more than {cdm.PERSON_DAYS:.0f} "
            f"person-days ({cdm.SOURCE}; {cdm.LONG_DAYS.basis})."
        )


def _risks(worked: WorkedRoof) -> Iterator[Risk]:
    days = [(d.number, tuple(kind_of(id_) for id_, _ in d.work)) for d in worked.programme.days]
    for c in cautions(worked):
        yield Risk(c.risk, c.says, _days(c, days), c.source, c.basis)


def _days(caution: Caution, days: list[tuple[int, tuple[str, ...]]]) -> str:
    on = [number for number, work in days if caution.of(work)]
    if len(on) == len(days):
        return "every day"
    return f"day{'s' * (len(on) > 1)} {listed([str(n) for n in on])}" if on else "when it is met"


def _site(worked: WorkedRoof) -> Iterator[str]:
    strip, below = worked.strip, worked.case.job.survey.below.room
    yield (
        f"Edge protection before anyone steps on: main rail at {duties.RAIL_MM:.0f} mm or higher, "
        f"no gap over {duties.RAIL_GAP_MM:.0f} mm, a toe-board, full protection within "
        f"{duties.NEAR_EDGE_M:.0f} m of every edge. Handed over and looked at each morning."
    )
    yield f"The room below ({below}) is sheeted; nobody is in it while the roof over it is open."
    yield (
        f"About {strip.mass.value:.0f} kg come off, {strip.volume.value:.1f} m³; lowered, never "
        "thrown; the ground under the edge is fenced off."
    )
    yield "Packs are spread over the joists near the walls, never stacked at mid-span."
    yield "Covers as large as what is open, with weights, lie on the roof before stripping begins."
    yield "Toilet, water to wash with and a place to sit are agreed with the client, or brought."
    yield "Adhesive and primer are stored locked, in the shade, away from the house."
    lifts = worked.sheet
    yield (f"Heaviest piece {lifts.mass.value:.0f} kg: {lifts.hands.value:.0f} people or a "
           "hoist.")  # fmt: skip


def _emergency(worked: WorkedRoof) -> Iterator[tuple[str, str]]:
    firm = worked.case.rates.firm
    for danger, title in EMERGENCY.items():
        rung = rings_of(danger, worked.case.job.job.nation, firm.emergency)
        if rung:
            yield title, "; ".join(ring.says for ring in rung)
    yield "The office", f"{firm.name}, {firm.telephone}"
    yield "On duty tonight, name and telephone", BLANK
    yield "Nearest accident department", BLANK
    yield "Stopcock, fuse board, gas tap", BLANK
    yield "Address to say", sentence(worked.meta.address)
