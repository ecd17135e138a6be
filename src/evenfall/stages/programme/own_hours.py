"""Own hours: what finished jobs really took, beside the outputs that they were planned with."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from math import sqrt

from evenfall.errors import InvalidInput
from evenfall.model.job import Job
from evenfall.model.logged import LoggedJob, OwnRate
from evenfall.model.programmed import Task
from evenfall.model.rates import Output
from evenfall.stages.programme.site import kind
from evenfall.standards import weather_practice as practice
from evenfall.working import Known, Working

OUTPUT = re.compile(r"outputs\[([^\]]+)\]")
DIGITS = 3  # figures of a rate that a log is good for


@dataclass(frozen=True, slots=True)
class Finished:
    """A job with its plan, its rates and its log."""

    job: Job
    tasks: tuple[Task, ...]
    outputs: tuple[Output, ...]


def beside(finished: tuple[Finished, ...], seed: tuple[Output, ...]) -> tuple[OwnRate, ...]:
    """Set a firm's log beside its rates.

    Parameters
    ----------
    finished : tuple of Finished
        Jobs; those without a day of finishing are left out [-].
    seed : tuple of Output
        The rates as they stand [h].

    Returns
    -------
    tuple of OwnRate
        One entry to each output that was logged; offered from three finished jobs on [h].

    Raises
    ------
    InvalidInput
        Hours of work that a job does not have.
    """
    logged: dict[str, list[LoggedJob]] = defaultdict(list)
    for one in finished:
        for task, log in _logs(one):
            logged[task].append(log)
    seeds = {o.task: o for o in seed}
    return tuple(
        _own(seeds[task], tuple(jobs)) for task, jobs in sorted(logged.items()) if task in seeds
    )


def _logs(one: Finished) -> Iterator[tuple[str, LoggedJob]]:
    """Yield each output of a finished job with the hours that its work took."""
    done = one.job.record.finished_on
    planned: dict[str, list[Task]] = defaultdict(list)
    for task in one.tasks:
        planned[kind(task.id)].append(task)
    used: dict[str, float] = defaultdict(float)
    for n, entry in enumerate(one.job.record.hours):
        if entry.task not in planned:
            raise InvalidInput(f'"{entry.task}"', f"one of {', '.join(sorted(planned))}",
                               where=f"record.hours[{n}].task")  # fmt: skip
        used[entry.task] += entry.people * entry.hours
    if done is None:
        return
    typical = {o.task: o.typical for o in one.outputs}
    kinds: dict[str, list[str]] = defaultdict(list)
    for name in used:
        for output in dict.fromkeys(o for t in planned[name] for o in outputs_of(t.hours)):
            kinds[output].append(name)
    for output, names in kinds.items():
        wanted = sum(t.hours.value for name in names for t in planned[name])
        hours = sum(used[name] for name in names)
        if wanted and output in typical:
            log = LoggedJob(
                one.job.job.reference, done, wanted, hours, typical[output] * hours / wanted
            )
            yield output, log


def outputs_of(hours: Working) -> tuple[str, ...]:
    """Name the outputs of the rates that some hours were counted with.

    Parameters
    ----------
    hours : Working
        Hours of a task [h].

    Returns
    -------
    tuple of str
        Names of outputs, each once [-].
    """
    found: dict[str, None] = {}
    for _, _, part in hours.of:
        if isinstance(part, Working):
            found |= dict.fromkeys(outputs_of(part))
        elif isinstance(part, Known) and (named := OUTPUT.search(part.where)):
            found[named[1]] = None
    return tuple(found)


def _own(seed: Output, jobs: tuple[LoggedJob, ...]) -> OwnRate:
    rates = [j.rate for j in jobs]
    amount = sum(j.used_h / j.rate for j in jobs)
    typical = sum(j.used_h for j in jobs) / amount
    mean = sum(rates) / len(rates)
    spread = sqrt(sum((r - mean) ** 2 for r in rates) / (len(rates) - 1)) if len(rates) > 1 else 0.0
    own = tuple(float(f"{v:.{DIGITS}g}") for v in (min(rates), typical, max(rates)))
    return OwnRate(
        seed.task, seed.unit, (seed.low, seed.typical, seed.high), (own[0], own[1], own[2]),
        spread, jobs, len(jobs) >= practice.JOBS_LOGGED,
    )  # fmt: skip
