"""What a telephone on the roof needs of a job's days, as plain data for its JSON."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import asdict
from datetime import timedelta
from typing import Any

from evenfall.model.programmed import Day
from evenfall.model.surveyed import Ring
from evenfall.stages.papers.day_sheets import day_sheets, kind_of
from evenfall.stages.papers.handover import handover
from evenfall.stages.papers.hold_values import hold_values
from evenfall.stages.papers.stop_cards import stop_cards
from evenfall.stages.papers.words import sentence
from evenfall.stages.papers.worked import WorkedRoof
from evenfall.stages.price import vat as tax
from evenfall.stages.price.extras import deck_allowed
from evenfall.stages.programme.gang import works
from evenfall.standards.hold_asks import HOLD_ASKS, Ask
from evenfall.standards.programme_practice import HOLD_POINTS

FORMAT = 1
LATER_DAYS = 60
"""How many working days after the last one are told, so that a telephone knows a new last day."""
CENTIMETRES = 2  # decimals of a place on the plan: nobody points closer with a thumb


def day_bundle(worked: WorkedRoof) -> dict[str, Any]:
    """Gather what a telephone needs to hold the days of a job, without asking again.

    Parameters
    ----------
    worked : WorkedRoof
        The worked job [-].

    Returns
    -------
    dict
        Plain data, for JSON; places on the plan in metres, money in pence; the same for the same
        job [-].
    """
    meta, rates = worked.meta, worked.case.rates
    days, survey = list(_days(worked)), worked.case.job.survey
    cards = stop_cards(worked.case.job.job.nation, rates.firm)
    return {
        "format": FORMAT,
        "job": {"reference": meta.reference, "title": meta.title, "address": meta.address,
                "firm": meta.firm, "telephone": rates.firm.telephone, "invented": meta.invented},
        "people": worked.case.job.crew.people,
        "plan": _plan(worked),
        "days": days,
        "dues": [due for day in days for due in day["holds"]],
        "holds": [_hold(worked, h.number) for h in HOLD_POINTS],
        "tasks": _tasks(worked),
        "products": [p.what for p in handover(worked).products],
        "rates": [_rate(worked, r) for r in rates.provisional],
        "money": _money(worked),
        "slips": _slips(worked),
        "points": {"moisture": [r.name for r in survey.readings],
                   "level": [p.name for p in survey.levels]},
        "stops": [asdict(card) for card in cards],
    }  # fmt: skip


def _plan(worked: WorkedRoof) -> dict[str, Any]:
    plan = worked.plan
    return {
        "ring": _ring(plan.deck),
        "corners": [c.name for c in plan.corners],
        "sides": [{"name": s.name, "kind": s.kind, "a": _at(s.a), "b": _at(s.b),
                   "outwards": _at(s.outwards)} for s in plan.sides],
        "openings": [{"name": o.name, "kind": o.kind, "ring": _ring(o.ring)}
                     for o in plan.openings],
        "bays": [{"number": b.number, "ring": _ring(b.ring)} for b in worked.programme.bays],
    }  # fmt: skip


def _at(point: tuple[float, float]) -> list[float]:
    return [round(point[0], CENTIMETRES) + 0.0, round(point[1], CENTIMETRES) + 0.0]


def _ring(ring: Ring) -> list[list[float]]:
    return [_at(p) for p in ring]


def _days(worked: WorkedRoof) -> Iterator[dict[str, Any]]:
    tasks = {t.id: t for t in worked.tasks.tasks}
    last = {id_: day.number for day in worked.programme.days for id_, _ in day.work}
    for sheet, day in zip(day_sheets(worked), worked.programme.days, strict=True):
        today = [tasks[id_] for id_, _ in day.work if id_ in tasks]
        due = {(t.hold_point, t.bay or min(t.bays, default=None)) for t in today
               if t.hold_point is not None and last[t.id] == day.number}  # fmt: skip
        told = asdict(sheet)
        for line, id_ in zip(told["work"], (i for i, _ in day.work if i in tasks), strict=True):
            line |= {"id": id_.removeprefix("task:"), "task": _kind(id_)}
        for caution in told["cautions"]:
            del caution["work"]
        yield told | {
            "date": day.on.isoformat(),
            "bays": sorted({b for t in today for b in ((t.bay,) if t.bay else t.bays)}),
            "holds": [{"hold": h, "bay": b} for h, b in sorted(due, key=_order)],
            "night": told["night"] | _night(day),
        }  # fmt: skip


def _order(due: tuple[int, int | None]) -> tuple[int, int]:
    return due[0], due[1] or 0


def _kind(id_: str) -> str:
    return kind_of(id_).partition("/")[0]


def _night(day: Day) -> dict[str, Any]:
    return {
        "covers": [[bay, cover] for bay, cover in day.evening.covers],
        "lines": [[_at(a), _at(b)] for a, b in day.evening.night_lines],
        "leaves": list(day.evening.water_leaves_by),
        "cover_m": [round(m, 1) for m in day.cover_m],
    }


def _hold(worked: WorkedRoof, number: int) -> dict[str, Any]:
    point, asked = HOLD_POINTS[number], HOLD_ASKS[number]
    return {
        "number": number, "when": point.when, "passes": sentence(point.passes),
        "values": list(hold_values(worked, number)), "source": point.source, "basis": point.basis,
        "asks": [_ask(a) for a in asked.asks], "photo": asked.photo, "batches": list(asked.batches),
    }  # fmt: skip


def _ask(ask: Ask) -> dict[str, Any]:
    found: dict[str, Any] = {"what": ask.what, "says": ask.says, "unit": ask.unit,
                             "needed": ask.needed}  # fmt: skip
    for name in ("least", "most", "again_above"):
        limit = getattr(ask, name)
        if limit is not None:
            found |= {name: float(limit), "source": limit.source, "basis": limit.basis}
    return found


_PART = re.compile(r" \([A-Z]\w*-[A-Z]\w*\)$")  # the side of which a task is a part


def _tasks(worked: WorkedRoof) -> list[dict[str, str]]:
    """List the kinds of work, each once, in the order of the job."""
    found: dict[str, str] = {}
    for task in worked.tasks.tasks:
        found.setdefault(_kind(task.id), sentence(_PART.sub("", task.says))[:-1])
    return [{"name": name, "says": says} for name, says in found.items()]


def _rate(worked: WorkedRoof, rate: Any) -> dict[str, Any]:
    """Tell a rate agreed beforehand, and what is left of what the price holds already."""
    left = None
    if rate.beyond == "deck":
        gross, renewed = worked.plan.gross.value, worked.case.job.survey.deck.renew_percent
        used = sum(e.found for e in worked.case.job.record.extras if e.rate == rate.name)
        left = max(round(deck_allowed(gross, renewed) - used, 2), 0.0)
    return {"name": rate.name, "says": rate.says, "unit": rate.unit, "pence": rate.price_pence,
            "hours": rate.hours, "left": left}  # fmt: skip


def _slips(worked: WorkedRoof) -> dict[str, Any]:
    """Tell the slips of the finds that the log held already, by the ids of their entries."""
    record, finds = worked.case.job.record, defaultdict[tuple[object, ...], list[str]](list)
    for e in record.log:
        if e.kind == "found":
            finds[(e.rate, e.quantity, e.where)].append(e.id)
    told = {}
    for extra, slip in zip(record.extras, worked.extras.slips, strict=True):
        if ids := finds[(extra.rate, extra.found, extra.where)]:
            told[ids.pop(0)] = {
                "left": slip.allowed.value if slip.allowed else 0.0, "charged": slip.charged.value,
                "net": slip.net.value, "vat": slip.vat.value, "whole": slip.total.value,
                "days": slip.days.value, "total": slip.new_total.value,
                "finish": slip.new_finish.isoformat(), "signed": slip.signed_on is not None,
            }  # fmt: skip
    return told


def _money(worked: WorkedRoof) -> dict[str, Any]:
    """Tell what the job comes to, and on which day it is done with more days' work."""
    job = worked.case.job
    later, on = [worked.programme.finish_on], worked.programme.finish_on
    while len(later) <= LATER_DAYS and on < worked.programme.finish_on + timedelta(days=LATER_DAYS):
        on += timedelta(days=1)
        if works(on, job.calendar, job.job.nation):
            later.append(on)
    signed = [s for s in worked.extras.slips if s.signed_on]
    return {
        "total_pence": round(worked.extras.total.value),
        "vat_percent": tax.rate(job.design.vat.case, worked.programme.finish_on).value,
        "people": job.crew.people, "hours_a_day": job.crew.hours_a_day,
        "days": sum(s.days.value for s in signed),
        "finish": [d.isoformat() for d in later],
    }  # fmt: skip
