"""Which defaults matter here: each is varied over what it may well be, and what moves is told.

One whole job is worked for each value tried, with all rooms shared that see nothing new; a default
that moved something is tried no further. The order is that of cost: what few rooms see first, what
moves the shape of the roof last.
"""

from __future__ import annotations

import typing
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import Any

from pydantic import BaseModel

from evenfall.drafting.complete import Filled, kind_of
from evenfall.errors import InvalidInput, OutOfScope
from evenfall.flow import WorkedJob, work_out
from evenfall.model.case import Case
from evenfall.model.change import apply, steps
from evenfall.model.finding import Change
from evenfall.model.job import Job
from evenfall.model.job_checks import side_names

SHARE = 0.01
"""Of the price: a default that moves it by more matters. No quotation is nearer than that."""
MOST_TRIED = 5
"""Values tried of one default: so many whole jobs are worked for it at most."""
TOLD = 3
"""Reasons told of one default, the heaviest first."""
LAST = ("survey.tapes", "survey.offsets", "survey.sides", "survey.joists", "survey.openings")
"""Paths whose change works nearly every room again: they wait."""
FIRST = ("crew.", "survey.covering", "survey.below", "survey.deck", "design.")
"""Paths that fewer rooms see."""
NAMES = (
    "job.reference", "job.title", "job.client", "job.address", "job.surveyed_on",
    "survey.corners", "site.outside_humidity_source", "survey.below.room", "calendar.start_on",
)  # fmt: skip
"""Words, and the day of the start: no number of the roof hangs on them."""


@dataclass(frozen=True, slots=True)
class Matter:
    """Whether a default matters here, by what, and how many whole jobs it took to say so."""

    path: str
    matters: bool
    by: tuple[str, ...]
    tried: tuple[Any, ...]
    runs: int


def in_order(filled: tuple[Filled, ...]) -> tuple[Filled, ...]:
    """Put defaults in the order in which they are weighed: the cheap ones first.

    Parameters
    ----------
    filled : tuple of Filled
        The defaults of a job [-].

    Returns
    -------
    tuple of Filled
        The same, names first, shapes last [-].
    """

    def cost(f: Filled) -> int:
        if f.path in NAMES or f.path.endswith(".name"):
            return 0
        return 3 if f.path.startswith(LAST) else 1 if f.path.startswith(FIRST) else 2

    return tuple(sorted(filled, key=cost))


def matters(case: Case, filled: tuple[Filled, ...], worked: WorkedJob) -> Iterator[Matter]:
    """Weigh the defaults of a job, one after another.

    Parameters
    ----------
    case : Case
        The completed job [-].
    filled : tuple of Filled
        Its defaults [-].
    worked : WorkedJob
        The job worked out as it stands [-].

    Yields
    ------
    Matter
        One for each default, the cheap ones first [-].
    """
    for default in in_order(filled):
        yield weigh(case, default, worked)


def weigh(case: Case, default: Filled, worked: WorkedJob) -> Matter:
    """Try a default at what else it may well be, until something moves.

    Parameters
    ----------
    case : Case
        The completed job [-].
    default : Filled
        One of its defaults [-].
    worked : WorkedJob
        The job worked out as it stands [-].

    Returns
    -------
    Matter
        Whether it matters, and by what [-].
    """
    values = tried(case, default)
    for runs, value in enumerate(values, 1):
        by = _moved(case, Change(default.path, value), worked)
        if by:
            shown = _shown(value)
            told = tuple(f"{shown}{b}" for b in by[:TOLD])
            return Matter(default.path, True, told, values[:runs], runs)
    return Matter(default.path, False, (), values, len(values))


def tried(case: Case, default: Filled) -> tuple[Any, ...]:
    """List what else a default may well be.

    Parameters
    ----------
    case : Case
        The completed job [-].
    default : Filled
        One of its defaults [-].

    Returns
    -------
    tuple
        Other values; the other words where it is one of some [-].
    """
    if default.path in NAMES or default.path.endswith((".name", ".room")):
        return ()
    if default.others:
        return default.others[:MOST_TRIED]
    last = default.path.rsplit(".", 1)[-1]
    named: dict[str, Any] = {
        "board": case.rates.boards,
        "vcl": case.rates.vcls,
        "sheet": case.rates.sheets,
    }
    words: tuple[Any, ...] = _words(default.path)
    if last in named:
        words = tuple(s.name for s in named[last])
    elif last in ("low_side", "along", "side"):
        words = side_names(case.job.survey.corners)
    return tuple(w for w in words if w != default.value)[:MOST_TRIED]


def _words(path: str) -> tuple[str, ...]:
    """Return the words that a key of the job may hold, if it is one of some."""
    model: type[BaseModel] = Job
    for step in steps(path):
        field = model.model_fields.get(step)
        if field is None:
            continue  # the name of an entry
        inner, _ = kind_of(field.annotation)
        if inner is None:
            return _literal(field.annotation)
        model = inner
    return ()


def _literal(kind: Any) -> tuple[str, ...]:
    if typing.get_origin(kind) is typing.Literal:
        return tuple(a for a in typing.get_args(kind) if isinstance(a, str))
    return tuple(w for a in typing.get_args(kind) for w in _literal(a))


def _moved(case: Case, change: Change, before: WorkedJob) -> tuple[str, ...]:
    try:
        after = work_out(replace(case, job=apply(case.job, (change,))), before)
    except (InvalidInput, OutOfScope) as error:
        return (f"cannot be worked: {error}",)
    return (*_findings(before, after), *_numbers(before, after))


def _findings(before: WorkedJob, after: WorkedJob) -> tuple[str, ...]:
    """Tell which stops, and which agreements, come and go."""
    told = []
    for level, word in (("stop", "a stop"), ("agree", "something to agree")):
        had = {(f.code, f.subject) for f in before.findings if f.level == level}
        has = {(f.code, f.subject): f for f in after.findings if f.level == level}
        told += [f"{word} comes: {f.says}" for key, f in has.items() if key not in had]
        told += [f"{word} goes: {c.replace('-', ' ')}" for c, s in sorted(had - set(has))]
    return tuple(told)


def _numbers(before: WorkedJob, after: WorkedJob) -> tuple[str, ...]:
    told = []
    if before.rise.chosen_mm != after.rise.chosen_mm:
        told.append(f"board {before.rise.chosen_mm:g} → {after.rise.chosen_mm:g} mm")
    old, new = before.price.total.value, after.price.total.value
    if abs(new - old) > SHARE * old:
        told.append(f"price £{old / 100:,.0f} → £{new / 100:,.0f}")
    days = len(before.programme.days), len(after.programme.days)
    if days[0] != days[1]:
        told.append(f"days {days[0]} → {days[1]}")
    return tuple(told)


def _shown(value: Any) -> str:
    if isinstance(value, bool):
        return "if so: " if value else "if not: "
    if isinstance(value, int | float):
        return f"at {value:g}: "
    return f"{value.replace('_', ' ')}: " if isinstance(value, str) else "otherwise: "
