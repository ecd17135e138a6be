"""START HERE: survey, design, take-off, programme, price: the worked job, room by room.

`work_out` is pure. A room is one function of narrow arguments to a frozen result; what each room
may see is written in `rooms.ROOMS`, in the order of the work. With ``reuse``, a room whose
arguments are equal to last time's is not worked again, and a room that gives an equal answer stops
the change.
"""

from __future__ import annotations

from collections.abc import Callable, Generator
from dataclasses import dataclass, field, replace
from types import SimpleNamespace
from typing import Any, cast

from evenfall.model import designed as d
from evenfall.model import edged, priced, programmed, standing, surveyed, taken_off
from evenfall.model.case import Case
from evenfall.model.change import apply
from evenfall.model.choice import build_up
from evenfall.model.finding import Change, Finding, heaviest
from evenfall.model.meta import Meta, meta_of
from evenfall.model.roof_log import Logged
from evenfall.model.ways import Ways
from evenfall.rooms import ROOMS
from evenfall.stages.design import answers
from evenfall.stages.papers import bills, drawings, groups, marking
from evenfall.stages.papers.papers import PAPERS as PAPERS
from evenfall.stages.price import options
from evenfall.stages.record.changed import changed as changed
from evenfall.stages.record.on_site import on_site


@dataclass(frozen=True, slots=True)
class WorkedJob:
    """The whole job worked out: one field a room, in the order of the papers."""

    meta: Meta
    plan: surveyed.Plan
    levels: surveyed.Levels
    falls: surveyed.Falls
    ways: Ways
    zones: standing.Zones
    rise: d.Rise
    heights: standing.Heights
    windows: standing.Windows
    heat: d.Heat
    edges: edged.Edges
    moisture: d.Moisture
    drying: d.Drying
    wind: d.Wind
    joists: d.Joists
    water: d.Water
    fire: d.Fire
    rules: d.Rules
    boards: taken_off.Boards
    fixings: taken_off.Fixings
    sheet: taken_off.Sheet
    rolls: taken_off.Rolls
    lengths: taken_off.Lengths
    items: taken_off.Items
    strip: taken_off.Strip
    tasks: programmed.Tasks
    programme: programmed.Programme
    price: priced.Price
    margins: priced.Margins
    extras: priced.Extras
    invoices: priced.Invoices
    record: Logged
    options: priced.Options
    findings: tuple[Finding, ...]
    case: Case = field(repr=False)  # what the log of the roof says taken in
    given: Case = field(repr=False)  # as it is kept
    thicknesses: d.Thicknesses = field(repr=False)
    edge_curves: edged.EdgeCurves = field(repr=False)
    edge_details: edged.EdgeDetails = field(repr=False)
    worked: tuple[str, ...] = field(compare=False, repr=False)
    seen: dict[str, tuple[object, ...]] = field(compare=False, repr=False)
    beside: dict[str, WorkedJob] = field(compare=False, repr=False)  # the options, by name


KEYS = (
    "meta", "plan", "levels", "falls", "zones", "heights", "windows", "ways", "rise", "heat",
    "edges", "moisture", "drying", "wind", "joists", "water", "fire", "rules", "boards", "fixings",
    "sheet", "rolls", "lengths", "items", "strip", "tasks", "programme", "price", "margins",
    "extras", "invoices", "record", "options",
    "findings",
)  # fmt: skip
"""The top-level keys of a worked job, as ``--json`` gives them."""

DRAWINGS: dict[str, Callable[[WorkedJob], Any]] = {
    "plan": lambda w: drawings.draw_plan(w, marking.marked(w, marking.chalked(w))),
    "survey": drawings.draw_found,
    "quoted": drawings.draw_client_plan,
    "boards": drawings.draw_boards,
    "boards-2": drawings.draw_second_layer,
    "tapers": drawings.draw_tapers,
    "saw": drawings.draw_saw_list,
    "fixings": drawings.draw_fixings,
    "sheet": drawings.draw_sheet,
    "rolls": drawings.draw_rolls,
    "evenings": drawings.draw_evenings,
    "evening-rows": drawings.draw_evening_rows,
    "eaves": drawings.draw_eaves_section,
    "street": drawings.draw_street_view,
    "edges": drawings.draw_edges,
    "height": drawings.draw_height_section,
    "window": drawings.draw_window_section,
    "drying": drawings.draw_drying,
    "days": drawings.draw_days,
    "months": drawings.draw_months,
    "zones": drawings.draw_zones,
    "as built": drawings.draw_as_built,
}
"""Every drawing of a worked job; ``height``, ``drying``, ``street``, ``boards-2`` (with one layer),
``tapers`` and ``saw`` are None where there is nothing to draw."""

DRAWN_OF: dict[str, Callable[[WorkedJob, str], Any]] = {
    **{
        leaf: lambda w, of, leaf=leaf: drawings.draw_leaf(w, leaf, int(of or 1))  # type: ignore[misc]
        for leaf in drawings.LEAVES
    },
    "evening": lambda w, of: drawings.draw_dusk(w, int(of)),
    "section": drawings.draw_eaves_section,
    "edge": drawings.draw_edges,
}
"""Drawings for the screen, each of one thing: a tracing sheet (``tonight`` of which day), an
evening by its number, the section at a side by its name, an edge by its id."""
LEAVES = drawings.LEAVES
"""The tracing sheets in the order of the job."""


BILLS: dict[str, Callable[[WorkedJob, str], Any]] = {
    "slip": bills.slip_paper,
    "invoice": bills.invoice_paper,
}
"""What a slip for extra work and an invoice say, by their names in the job."""


def price_groups(worked: WorkedJob) -> tuple[groups.PriceGroup, ...]:
    """Give the price as the client reads it: nothing of what the firm pays or adds.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].

    Returns
    -------
    tuple of PriceGroup
        Groups at selling prices that add up to the net price [pence].
    """
    return groups.price_groups(worked.price.lines, round(worked.price.net.value))


@dataclass(frozen=True, slots=True)
class Step:
    """A room that has just been worked, and what it saw; of an option where one is named.

    ``findings`` comes once, before the options; ``all`` when an option is worked out.
    """

    room: str
    answer: Any
    saw: tuple[object, ...] = ()
    option: str = ""


def work_out(case: Case, reuse: Any = None) -> WorkedJob:
    """Work a job out, room by room.

    Parameters
    ----------
    case : Case
        Job, rates, weather and date [-].
    reuse : WorkedJob, optional
        The same job as worked before; rooms that see nothing new are taken from it [-].

    Returns
    -------
    WorkedJob
        All rooms; equal to what it would be without ``reuse`` [-].

    Raises
    ------
    InvalidInput
        Something in the job that no roof can be made of; ``where`` names its key.
    """
    steps = room_by_room(case, reuse)
    while True:
        try:
            next(steps)
        except StopIteration as end:
            return cast("WorkedJob", end.value)


def room_by_room(case: Case, reuse: Any = None) -> Generator[Step, None, WorkedJob]:
    """Work a job out and stop after each room that was worked, so that it can be told or left.

    Parameters
    ----------
    case : Case
        Job, rates, weather and date [-].
    reuse : WorkedJob, optional
        The same job as worked before, or as far as it had got (`seen` says which rooms) [-].

    Yields
    ------
    Step
        Each room that is worked, in the order of the work, the options after the job itself [-].

    Returns
    -------
    WorkedJob
        All rooms [-].

    Raises
    ------
    InvalidInput
        Something in the job that no roof can be made of; ``where`` names its key.
    """
    given, case = case, _on_site(case)
    w, worked, seen = SimpleNamespace(build=build_up(case.job.design, case.rates)), [], {}
    for room in ROOMS:
        args = room.sees(case, w)
        known = reuse is not None and room.key in reuse.seen
        before = getattr(reuse, room.key) if known else None
        if known and reuse.seen[room.key] == args:
            seen[room.key] = reuse.seen[room.key]
            setattr(w, room.key, before)
            continue
        answer = room.work(*args)
        seen[room.key] = args
        worked.append(room.key)
        setattr(w, room.key, before if known and answer == before else answer)
        yield Step(room.key, getattr(w, room.key), args)
    del w.build
    found = _findings(w, case)
    yield Step("findings", found)
    beside = yield from _options(given, reuse, SimpleNamespace(**vars(w), seen=seen, beside={}))
    w.options = options.work(
        tuple((o.name, o.says) for o in case.job.design.options), _facts(w, case),
        tuple(_facts(beside[o.name], beside[o.name].case) for o in case.job.design.options),
    )  # fmt: skip
    return WorkedJob(
        meta=meta_of(case), **vars(w), findings=found, case=case, given=given,
        worked=tuple(worked), seen=seen, beside=beside,
    )  # fmt: skip


def _on_site(case: Case) -> Case:
    """Take in what the log of the roof says; a case without a log is left as it is."""
    if not case.job.record.log:
        return case
    return replace(case, job=on_site(case.job, frozenset(r.name for r in case.rates.provisional)))


def without_log(case: Case) -> Case:
    """Leave out the log of the roof: the job as it was planned and ordered.

    Parameters
    ----------
    case : Case
        The case as it is kept [-].

    Returns
    -------
    Case
        The same without a log [-].
    """
    record = case.job.record.model_copy(update={"log": ()})
    return replace(case, job=case.job.model_copy(update={"record": record}))


def _options(case: Case, reuse: Any, base: Any) -> Generator[Step, None, dict[str, WorkedJob]]:
    """Work out each option as a job of its own, which shares rooms with the one as it stands."""
    plain = apply(case.job, (Change("design.options", []),)) if case.job.design.options else None
    found = {}
    for option in case.job.design.options:
        changes = tuple(Change(path, value) for path, value in option.changes.items())
        job = apply(plain, changes) if plain else case.job
        before = (reuse.beside.get(option.name) if reuse else None) or base
        steps = room_by_room(replace(case, job=job), before)
        while True:
            try:
                step = next(steps)
            except StopIteration as end:
                found[option.name] = end.value
                break
            yield replace(step, option=option.name)
        yield Step("all", found[option.name], (), option.name)
    return found


def _facts(w: Any, case: Case) -> priced.Facts:
    stops = sum(f.level == "stop" for f in _findings(w, case))
    return options.facts(
        w.price, len(w.programme.days), w.heat.u.value, stops, w.boards.layers_mm,
        bool(w.plan.of_kind("verge", "party_line")), case.job.design, case.rates,
    )  # fmt: skip


def _gathered(w: Any) -> tuple[Finding, ...]:
    return tuple(f for room in ROOMS for f in getattr(getattr(w, room.key), "findings", ()))


def _findings(w: Any, case: Case) -> tuple[Finding, ...]:
    """Gather all findings, the heaviest first; what was agreed in writing becomes a note."""
    record = case.job.record
    agreed = {(a.finding, a.subject): a for a in record.agreed}
    told = (answers.settled(f, record.answers) for f in _gathered(w))
    return heaviest(tuple(answers.agreed(f, agreed.get((f.code, f.subject))) for f in told))
