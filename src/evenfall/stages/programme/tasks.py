"""Tasks: all work with its hours by the firm's outputs, bay by bay in the order of the trade."""

from __future__ import annotations

from collections import defaultdict
from dataclasses import replace

from evenfall.model.finding import Finding
from evenfall.model.programmed import Search, Task, Tasks
from evenfall.model.rates import Output
from evenfall.stages.programme.draft import QUICK, THOROUGH, Draft, draft
from evenfall.stages.programme.hindrances import with_remedies
from evenfall.stages.programme.least import least_days
from evenfall.stages.programme.one_day import backwards
from evenfall.stages.programme.outputs import Outputs
from evenfall.stages.programme.roof import Roof, When
from evenfall.stages.programme.site import kind
from evenfall.standards import programme_practice as practice
from evenfall.working import Basis, Table, Working, total, weakest

__all__ = ["Roof", "When", "work"]


def work(
    roof: Roof,
    when: When,
    outputs: tuple[Output, ...],
    basis: Basis,
    thorough: bool = False,
    pence_hour: float = 0.0,
) -> Tasks:
    """List all work with its hours.

    The bays are cut here, because the night joints are work too; the days are counted for the
    hours of opening and closing the site.

    Parameters
    ----------
    roof : Roof
        The roof, what was found on it and what was chosen [-].
    when : When
        Crew, calendar and place [-].
    outputs : tuple of Output
        Person-hours for one unit, by the name of the task [h].
    basis : str
        Basis of the rates [-].
    thorough : bool
        Whether to search on for a better order of the days, or its proof [-].
    pence_hour : float
        What an hour of labour costs [pence].

    Returns
    -------
    Tasks
        Tasks, bays, hours and what stands in the way [h].

    Raises
    ------
    InvalidInput
        An output that this roof needs is missing, nought or in another unit.
    """
    rates = Outputs(outputs, basis)
    plan = draft(roof, when, rates, when.crew.people, THOROUGH if thorough else QUICK)
    found = with_remedies(roof, when, rates, plan, basis)
    weak = weakest({t.hours.basis for t in plan.tasks})
    return Tasks(
        plan.tasks, _hours(plan.tasks, weak), _table(plan.tasks, weak), plan.bays,
        (*found, *_zones(plan), *backwards(roof, when, rates, plan, pence_hour)),
        plan.laid.chosen, _search(plan, least_days(roof, when, rates, plan.people)),
    )  # fmt: skip


def _search(plan: Draft, least: int) -> Search:
    """Tell how good the days are, and whether that is proven."""
    stops, days, exposure = plan.laid.cost
    bound = plan.laid.bound
    return Search(
        int(stops),
        int(days),
        exposure,
        int(bound[0]),
        int(bound[1]),
        bound[2],
        plan.laid.steps,
        least,
    )


def _hours(tasks: tuple[Task, ...], basis: Basis) -> Working:
    kinds: dict[str, float] = defaultdict(float)
    for task in tasks:
        kinds[kind(task.id)] += task.hours.value
    parts = [(name, hours) for name, hours in kinds.items() if hours]
    return replace(total("Hours of work", "hours", "h", parts), own_basis=basis)


def _table(tasks: tuple[Task, ...], basis: Basis) -> Table:
    columns = (
        ("task", "-"), ("bay", "-"), ("quantity", "-"), ("unit", "-"), ("low", "h"),
        ("typical", "h"), ("high", "h"),
    )  # fmt: skip
    rows = tuple(
        (
            t.says, t.bay or "", t.quantity.value, t.quantity.unit, t.hours_low, t.hours.value,
            t.hours_high,
        )
        for t in tasks
    )  # fmt: skip
    return Table("Work and hours", columns, rows, "quantities times the firm's outputs", basis)


def _bays(zone: tuple[int, ...]) -> str:
    """Name the bays of a zone, which run on; more than two as a range."""
    if len(zone) == 1:
        return f"bay {zone[0]}"
    return f"bays {zone[0]} {'and' if len(zone) == 2 else 'to'} {zone[-1]}"


def _zones(plan: Draft) -> tuple[Finding, ...]:
    """Say where the sheet cannot be one piece."""
    if len(plan.zones) < 2:
        return ()
    limit = practice.ONE_DAY_TWO
    groups = "; ".join(map(_bays, plan.zones))
    says = (
        "Boards and sheet of the whole roof are more than this crew closes in one day. "
        f"They go down in {len(plan.zones)} parts with a planned seam between: {groups}."
    )
    return (
        Finding(
            "sheet-in-parts", "roof", "note", says, limit.source, limit.basis,
            sum(b.area_m2 for b in plan.bays), limit.value, "m2",
        ),
    )  # fmt: skip
