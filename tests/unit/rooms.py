"""Jobs worked room by room, for the tests of single rooms; programme and price are not needed."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date
from functools import lru_cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from evenfall.app.loading import DEMO_RATES
from evenfall.app.reading import read_file
from evenfall.model.case import Case
from evenfall.model.change import apply
from evenfall.model.choice import build_up
from evenfall.model.finding import Change, Finding
from evenfall.model.job import Job
from evenfall.model.job_checks import slips
from evenfall.model.priced import Price
from evenfall.model.programmed import Bay, Day, Evening, Programme, Task, Tasks
from evenfall.model.rates import Rates
from evenfall.rooms import ROOMS
from evenfall.working import Table, Working, total

EXAMPLES = Path(__file__).parents[2] / "examples"
ON = date(2026, 11, 20)


@lru_cache
def job(name: str) -> Job:
    """Read an example."""
    return read_file(EXAMPLES / name / "job.yaml", Job, slips).value


@lru_cache
def demo_rates() -> Rates:
    """Read the invented rates."""
    return read_file(DEMO_RATES, Rates).value


def changed(job: Job, **changes: object) -> Job:
    """Change keys of a job; ``__`` stands for the dots of a path."""
    return apply(job, [Change(path.replace("__", "."), value) for path, value in changes.items()])


def rates_with(**changes: object) -> Rates:
    """Change whole tables of the invented rates, or entries of tables that are no lists."""
    data = demo_rates().model_dump(mode="json")
    for path, value in changes.items():
        *way, last = path.split("__")
        table: Any = data
        for step in way:
            table = table[step]
        table[last] = value
    return Rates.model_validate_json(json.dumps(data))


SURVEY = ("plan", "levels", "falls")
DESIGN = (
    "zones", "thicknesses", "edge_curves", "rise", "heights", "windows", "ways", "wind", "heat",
    "edge_details", "edges", "moisture", "water",
)  # fmt: skip
TAKE_OFF = ("boards", "fixings", "sheet", "rolls", "lengths", "strip", "items")


def _work(w: SimpleNamespace, keys: tuple[str, ...], on: date = ON) -> SimpleNamespace:
    """Work some rooms as the flow wires them; rooms before them are already in ``w``."""
    case = Case(w.job, w.rates, on)
    for room in ROOMS:
        if room.key in keys:
            w.seen[room.key] = room.sees(case, w)
            setattr(w, room.key, room.work(*w.seen[room.key]))
    return w


def _begin(job: Job, rates: Rates | None) -> SimpleNamespace:
    rates = rates or demo_rates()
    return SimpleNamespace(job=job, rates=rates, build=build_up(job.design, rates), seen={})


def survey(job: Job) -> SimpleNamespace:
    """Work plan, levels and falls."""
    return _work(_begin(job, None), SURVEY)


def designed(job: Job, rates: Rates | None = None) -> SimpleNamespace:
    """Work the survey, and heights, rise, wind, heat, moisture and edges."""
    return _work(_begin(job, rates), SURVEY + DESIGN)


def screws_per_m2(w: SimpleNamespace) -> float:
    """Count screws over the whole roof."""
    if w.build.hold_boards_by == "adhesive":
        return 0.0
    board = w.build.board.length_mm * w.build.board.width_mm / 1000**2
    zones = w.wind.zones
    mean = sum(z.per_board * z.area_m2 for z in zones) / sum(z.area_m2 for z in zones)
    return float(mean / board)


_WORKED: dict[str, SimpleNamespace] = {}


def taken_off(job: Job, rates: Rates | None = None) -> SimpleNamespace:
    """Work everything up to the order; one bay is the whole roof. The answer is kept."""
    key = job.model_dump_json() + (rates.model_dump_json() if rates else "")
    if key not in _WORKED:
        _WORKED[key] = _taken_off(job, rates)
    return _WORKED[key]


def _taken_off(job: Job, rates: Rates | None) -> SimpleNamespace:
    w = designed(job, rates)
    low = w.plan.side(job.design.falls.low_side)
    bay = Bay(1, w.plan.deck, w.plan.gross.value, (low.a, low.b))
    w.programme = replace(programme(*DAYS), bays=(bay,))
    _work(w, TAKE_OFF)
    w.roof = w.seen["items"][0]
    w.order = (
        *w.boards.order, *w.sheet.order, *w.rolls.order, *w.lengths.order, *w.items.order,
    )  # fmt: skip
    return w


def tasks(*hours: tuple[str, float]) -> Tasks:
    """Make tasks by hand from ids and hours."""
    found = tuple(
        Task(
            id_, id_.split("@")[0], 1, Working("Quantity", "q", "m2", "by hand", 1.0),
            Working("Hours", "h", "h", "by hand", h, own_basis="measured"), h, h, (),
        )
        for id_, h in hours
    )  # fmt: skip
    table = Table("Tasks", (("task", "-"),), (), "by hand", "measured")
    return Tasks(found, total("Hours", "h", "h", [(t.id, t.hours) for t in found]), table)


def programme(*on: date) -> Programme:
    """Make a programme by hand from its days."""
    evening = Evening((), (), (), 16.0, 17.0)
    days = tuple(Day(i + 1, d, "work", (), 2, 8.0, evening) for i, d in enumerate(on))
    reserve = Working("Reserve", "r", "d", "by hand", 1.0)
    return Programme((), days, on[-1], reserve, None, len(on) - 1)


DAYS = (date(2026, 12, 7), date(2026, 12, 8), date(2026, 12, 9), date(2026, 12, 14))
HOURS = (("task:strip@1", 6.35), ("task:strip@2", 3.15), ("task:sheet", 5.25), ("task:none", 0.0))


def priced(w: SimpleNamespace, on: date = ON, days: tuple[date, ...] = DAYS) -> Price:
    """Price what was taken off, with hours and days by hand."""
    by_hand = SimpleNamespace(**vars(w) | {"tasks": tasks(*HOURS), "programme": programme(*days)})
    found: Price = _work(by_hand, ("price",), on).price
    return found


def codes(findings: tuple[Finding, ...]) -> list[str]:
    """List the codes of findings."""
    return [f.code for f in findings]


def one(findings: tuple[Finding, ...], code: str, subject: str = "") -> Finding:
    """Take the finding with a code."""
    return next(f for f in findings if f.code == code and f.subject.endswith(subject))


def cured(job: Job, found: Finding) -> Job:
    """Make the changes that a remedy asks for; it must have some."""
    assert found.remedy is not None
    assert found.remedy.changes, f"{found.code} has no changes"
    return apply(job, found.remedy.changes)
