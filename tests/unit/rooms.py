"""Jobs worked room by room, for the tests of single rooms; programme and price are not needed."""

from __future__ import annotations

import json
from datetime import date
from functools import lru_cache
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from evenfall.app.loading import DEMO_RATES
from evenfall.app.reading import read_file
from evenfall.model.change import apply
from evenfall.model.choice import build_up
from evenfall.model.finding import Change, Finding
from evenfall.model.job import Job
from evenfall.model.job_checks import slips
from evenfall.model.programmed import Bay, Day, Evening, Programme, Task, Tasks
from evenfall.model.rates import Rates
from evenfall.stages.design import (
    edges,
    heat,
    heights,
    moisture,
    rise,
    thicknesses,
    wind,
)
from evenfall.stages.price import price
from evenfall.stages.survey import falls, levels, plan
from evenfall.stages.takeoff import boards, items, lengths, rolls, sheet, strip
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


def survey(job: Job) -> SimpleNamespace:
    """Work plan, levels and falls."""
    s = job.survey
    w = SimpleNamespace(job=job)
    w.plan = plan.work(s.corners, s.tapes, s.tape_accuracy_mm, s.sides, s.openings)
    w.levels = levels.work(s.levels, w.plan)
    w.falls = falls.work(job.design.falls, s.joists, w.plan, w.levels)
    return w


def designed(job: Job, rates: Rates | None = None) -> SimpleNamespace:
    """Work the survey, and heights, rise, heat, moisture and edges."""
    w, r, s, d = survey(job), rates or demo_rates(), job.survey, job.design
    w.rates, w.build = r, build_up(d, r)
    w.thicknesses = thicknesses.work(
        w.build, s.deck, s.below, s.covering, s.joists, job.site, job.job.nation, d.target_u,
        w.plan.net,
    )  # fmt: skip
    prices = next(
        tuple((z.thickness_mm, z.price_pence) for z in b.sizes)
        for b in r.boards
        if b.name == d.board
    )
    w.rise = rise.work(
        w.thicknesses, w.build, s.covering, s.heights, s.windows, w.plan, w.falls, prices
    )
    w.heights = heights.work(
        w.rise.chosen_mm, w.build, s.covering, s.heights, s.windows, w.plan, w.falls
    )
    w.wind = wind.work(
        job.site, s.sides, s.deck, s.below.cables_in_void, w.build, w.rise.chosen_mm, w.plan,
        r.adhesive, tuple(w.falls.rise.at(p) for p in w.plan.deck)
        if w.falls.kind == "tapered" else (),
    )  # fmt: skip
    w.heat = heat.work(
        w.rise.chosen_mm, w.build, s.deck, s.below, s.covering, s.joists, job.site,
        w.thicknesses.target_u, w.plan.net, w.thicknesses.before_u, screws_per_m2(w),
        r.terms.heat_price_pence_kwh,
    )  # fmt: skip
    w.edges = edges.work(s.sides, w.plan, d.wall_head)
    w.moisture = moisture.work(
        w.rise.chosen_mm, w.build, s.deck, s.below, s.joists, s.readings, job.site
    )
    return w


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
    r, s, d = w.rates, job.survey, job.design
    w.boards = boards.work(w.plan, w.build.board, w.rise.chosen_mm, d.layers, False, r.basis)
    w.sheet = sheet.work(w.plan, w.build.rubber, r.basis)
    w.rolls = rolls.work(w.plan, w.falls, w.build.vcl, w.rise.chosen_mm, s.deck, r.basis)
    sections = tuple(
        lengths.Section(x.name, x.says, x.lengths_mm, x.depth_mm, x.joint_gap_mm) for x in r.lengths
    )
    w.lengths = lengths.work(
        w.plan, w.falls, s.sides, s.joists, s.deck.thickness_mm, s.gutters,
        (d.fascia == "renew", d.gutter == "renew"), w.rise.chosen_mm, sections, r.basis,
    )  # fmt: skip
    w.strip = strip.work(
        w.plan, s.covering, s.deck, s.below, d.quilt,
        tuple((c.name, c.says, c.holds_m3) for c in r.charges),
    )  # fmt: skip
    low = w.plan.side(d.falls.low_side)
    w.bays = (Bay(1, w.plan.deck, w.plan.gross.value, (low.a, low.b)),)
    w.roof = items.Roof(
        w.plan, w.wind.zones, w.build.board, w.wind.screw_mm, w.sheet, w.rolls, w.lengths, w.strip,
        w.bays, w.build.vcl, d, s.deck, s.joists, s.sides, s.heights, w.heights.rise_at_edge.value,
    )  # fmt: skip
    w.items = items.work(w.roof, r.items, r.screw, r.basis)
    w.order = (
        *w.boards.order, *w.sheet.order, *w.rolls.order, *w.lengths.order, *w.items.order,
    )  # fmt: skip
    return w


def tasks(*hours: tuple[str, float]) -> Tasks:
    """Make tasks by hand from ids and hours."""
    found = tuple(
        Task(
            id_, id_.split("@")[0], 1, Working("Quantity", "q", "m2", "by hand", 1.0),
            Working("Hours", "h", "h", "by hand", h, own_basis="measured"), h, h, (), True, False,
            1,
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


def priced(w: SimpleNamespace, on: date = ON, days: tuple[date, ...] = DAYS) -> Any:
    """Price what was taken off, with hours and days by hand."""
    job = w.job
    return price.work(
        w.boards, w.sheet, w.rolls, w.lengths, w.items, w.strip, tasks(*HOURS), programme(*days),
        w.plan, w.rates, job.design.vat, on, job.survey.covering.asbestos != "not_sampled",
    )  # fmt: skip


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
