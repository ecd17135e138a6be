"""Tasks: all work with its hours by the firm's outputs, bay by bay in the order of the trade."""

from __future__ import annotations

from collections import defaultdict

from evenfall.model.finding import Finding
from evenfall.model.programmed import Task, Tasks
from evenfall.model.rates import Output
from evenfall.stages.programme.days import kind
from evenfall.stages.programme.draft import Draft, draft
from evenfall.stages.programme.hindrances import with_remedies
from evenfall.stages.programme.outputs import Outputs
from evenfall.stages.programme.roof import Roof, When
from evenfall.standards import programme_practice as practice
from evenfall.working import Basis, Table, Working, total, weakest

__all__ = ["Roof", "When", "work"]


def work(roof: Roof, when: When, outputs: tuple[Output, ...], basis: Basis) -> Tasks:
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
    plan = draft(roof, when, rates, when.crew.people)
    found = with_remedies(roof, when, rates, plan, basis)
    return Tasks(
        plan.tasks, _hours(plan.tasks), _table(plan.tasks), plan.bays, (*found, *_zones(plan))
    )


def _hours(tasks: tuple[Task, ...]) -> Working:
    kinds: dict[str, float] = defaultdict(float)
    for task in tasks:
        kinds[kind(task.id)] += task.hours.value
    parts = [(name, hours) for name, hours in kinds.items() if hours]
    basis = weakest([t.hours.basis for t in tasks])
    summed = total("Hours of work", "hours", "h", parts)
    return Working(
        summed.title, summed.symbol, summed.unit, summed.source, summed.value, summed.of,
        summed.expression, basis,
    )  # fmt: skip


def _table(tasks: tuple[Task, ...]) -> Table:
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
    basis = weakest([t.hours.basis for t in tasks])
    return Table("Work and hours", columns, rows, "quantities times the firm's outputs", basis)


def _zones(plan: Draft) -> tuple[Finding, ...]:
    """Say where the sheet cannot be one piece."""
    if len(plan.zones) < 2:
        return ()
    limit = practice.ONE_DAY_TWO
    groups = "; ".join("bays " + " and ".join(map(str, z)) for z in plan.zones)
    says = (
        f"Boards and sheet of the whole roof are more than {plan.people} people close in one day. "
        f"They go down in {len(plan.zones)} parts with a planned seam between: {groups}."
    )
    return (
        Finding(
            "sheet-in-parts", "roof", "note", says, limit.source, limit.basis,
            sum(b.area_m2 for b in plan.bays), limit.value, "m2",
        ),
    )  # fmt: skip
