"""A job as far as it is known, completed by shown defaults: what was filled, with what, and why.

What a person gave is never changed. An entry that nobody could place, such as a tape without its
ends, is set aside and told; it is not lost, since the document that came in stays as it is.
"""

from __future__ import annotations

import copy
import json
import re
import types
import typing
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

from pydantic import BaseModel, ValidationError

from evenfall.drafting import outline
from evenfall.drafting.around import Around, look_around
from evenfall.drafting.usual import USUAL, Usual
from evenfall.model.job import Job
from evenfall.model.job_checks import slips
from evenfall.model.rates import Rates
from evenfall.model.slip import Slip
from evenfall.working import Basis

ROUNDS = 8  # times that what does not fit is set aside; two are usual
_ENTRY = re.compile(r"((?:survey|design|record)\.\w+)(?:\[|\.)(\d+)\b")


@dataclass(frozen=True, slots=True)
class Filled:
    """One default: where it stands, what was put there and why, and what else it may well be."""

    path: str
    value: Any
    why: str
    basis: Basis
    others: tuple[Any, ...] = ()


@dataclass(frozen=True)
class Drafted:
    """A whole job from one as far as it is known.

    ``job`` is None where what a person gave cannot stand in a job; ``problems`` say what.
    ``aside`` are entries that could not be placed.
    """

    document: dict[str, Any]
    filled: tuple[Filled, ...]
    aside: tuple[Slip, ...]
    problems: tuple[Slip, ...]
    job: Job | None
    around: Around

    @property
    def paths(self) -> tuple[str, ...]:
        """Paths of all defaults, in the order of the job."""
        return tuple(f.path for f in self.filled)


def complete(document: Mapping[str, Any], rates: Rates, on: date) -> Drafted:
    """Complete a job by defaults.

    Parameters
    ----------
    document : mapping
        A job file as data, as far as it is known; even an empty one [-].
    rates : Rates
        What the firm buys: its first board, sheet and VCL are taken [-].
    on : date
        The day on which it is asked [-].

    Returns
    -------
    Drafted
        The whole document, every default, what was set aside, and what is still wrong [-].
    """
    whole = copy.deepcopy(dict(document))
    job, _ = _checked({"format": 1, **whole})
    if job is not None:  # nothing is missing: it is what the person says
        return Drafted(whole, (), (), (), job, look_around(whole, rates, on))
    whole.setdefault("format", 1)
    if not isinstance(whole.get("survey", {}), dict):
        whole.pop("survey")
    survey = whole.setdefault("survey", {})
    around = look_around(whole, rates, on)
    filling = _Filling(around)
    filling.outline(survey)
    filling.table(Job, whole, "", "", "")
    job, problems = _fitting(whole, filling)
    return Drafted(whole, tuple(filling.filled), tuple(filling.aside), problems, job, around)


class _Filling:
    """Walks a document by the model, filling in and setting aside."""

    def __init__(self, around: Around) -> None:
        self.around = around
        self.filled: list[Filled] = []
        self.aside: list[Slip] = []
        self.places: dict[str, list[int]] = {}  # of the entries that are left, in what came in

    def came(self, path: str, number: int) -> str:
        """Say where an entry stood in the document that came in; and forget it."""
        left = self.places.get(path)
        return f"{path}[{left.pop(number) if left and number < len(left) else number}]"

    def outline(self, survey: dict[str, Any]) -> None:
        """Corners, sides, tapes, levels and gutter: lists that must be there as a whole."""
        for made in outline.made(self.around, survey):
            self.filled.append(Filled(*made))

    def table(
        self, model: type[BaseModel], data: dict[str, Any], path: str, usual: str, raw: str
    ) -> bool:
        """Fill in one table; tell whether all that it needs is there."""
        whole = True
        for name, field in model.model_fields.items():
            at, key, came = _join(path, name), _join(usual, name), _join(raw, name)
            inner, many = kind_of(field.annotation)
            value = data.get(name)
            if inner is not None and not many:
                if value is None and field.is_required():
                    value = data[name] = {}
                if isinstance(value, dict) and not self.nested(inner, value, at, key, came):
                    if field.is_required():
                        whole = False
                    else:
                        del data[name]
            elif inner is not None and isinstance(value, list):
                self.entries(inner, value, at, key, came)
            elif value is None and key in USUAL:
                self._put(USUAL[key], data, name, at)
            whole &= not (field.is_required() and data.get(name) is None)
        return whole

    def nested(
        self, model: type[BaseModel], data: dict[str, Any], path: str, usual: str, raw: str
    ) -> bool:
        """Fill in a table within a table; one that cannot be is set aside by its path."""
        before = len(self.filled)
        if self.table(model, data, path, usual, raw):
            return True
        del self.filled[before:]
        self.aside.append(_short(model, data, raw))
        return False

    def entries(
        self, model: type[BaseModel], listed: list[Any], path: str, usual: str, raw: str
    ) -> None:
        """Fill in the entries of a list; those that cannot be are set aside."""
        kept = []
        left = self.places.setdefault(raw, [])
        for number, entry in enumerate(listed):
            if isinstance(entry, dict):
                self._name(model, entry, listed, path)
                before = len(self.filled)
                label, came = f"{path}[{_label(entry, number)}]", f"{raw}[{number}]"
                if not self.table(model, entry, label, f"{usual}[]", came):
                    del self.filled[before:]
                    self.aside.append(_short(model, entry, came))
                    continue
            kept.append(entry)
            left.append(number)
        listed[:] = kept

    def _name(
        self, model: type[BaseModel], entry: dict[str, Any], all_: list[Any], path: str
    ) -> None:
        if "name" not in model.model_fields or entry.get("name") is not None:
            return
        stem = path.rsplit(".", 1)[-1].rstrip("s")
        taken = {e.get("name") for e in all_ if isinstance(e, dict)}
        entry["name"] = next(n for n in _names(stem) if n not in taken)
        why = "it had no name yet"
        self.filled.append(
            Filled(f"{path}[{entry['name']}].name", entry["name"], why, "common practice")
        )

    def _put(self, usual: Usual, data: dict[str, Any], name: str, path: str) -> None:
        if usual.only is not None and not usual.only(self.around, data):
            return
        value = usual.value(self.around, data) if callable(usual.value) else usual.value
        data[name] = value
        others = usual.others
        if usual.times:
            others = tuple(round(float(value) * f, 3) for f in others)
        self.filled.append(Filled(path, value, usual.why, usual.basis, others))


def _names(stem: str) -> Iterator[str]:
    return (f"{stem}-{n}" for n in range(1, 10**6))


def _label(entry: dict[str, Any], number: int) -> str:
    return str(entry.get("name") or entry.get("side") or entry.get("between") or number)


def _join(path: str, name: str) -> str:
    return f"{path}.{name}" if path else name


def kind_of(annotation: Any) -> tuple[type[BaseModel] | None, bool]:
    """Say which table a key holds, and whether a list of it.

    Parameters
    ----------
    annotation : object
        The type of a field of the job [-].

    Returns
    -------
    tuple
        The model, None where it holds no table; and whether it is a list [-].
    """
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation, False
    origin, args = typing.get_origin(annotation), typing.get_args(annotation)
    if origin is typing.Annotated:
        return kind_of(args[0])
    if origin in (typing.Union, types.UnionType):
        return next((k for a in args if (k := kind_of(a))[0] is not None), (None, False))
    if origin is tuple:
        return kind_of(args[0])[0], True
    return None, False


def _short(model: type[BaseModel], entry: dict[str, Any], path: str) -> Slip:
    missing = [n for n, f in model.model_fields.items() if f.is_required() and entry.get(n) is None]
    return Slip(path, "an entry that is not whole yet", f"{', '.join(missing)} as well",
                do="it is kept, and left out until that is known")  # fmt: skip


def _fitting(whole: dict[str, Any], filling: _Filling) -> tuple[Job | None, tuple[Slip, ...]]:
    """Set aside the entries of lists that do not fit the rest, and say so."""
    job, problems = _checked(whole)
    for _ in range(ROUNDS):
        wrong = {m.group(1, 2): p for p in problems if (m := _ENTRY.match(p.path))}
        if not wrong:
            break
        for (path, number), slip in sorted(wrong.items(), key=lambda w: -int(w[0][1])):
            came = filling.came(path, int(number))
            filling.aside.append(Slip(came, slip.found, slip.expected, slip.words, slip.do))
            table, key = path.split(".")
            del whole[table][key][int(number)]
        job, problems = _checked(whole)
    return job, problems


def _checked(whole: dict[str, Any]) -> tuple[Job | None, tuple[Slip, ...]]:
    try:
        job = Job.model_validate_json(json.dumps(whole, default=str), strict=True)
    except (ValidationError, ValueError) as error:
        return None, tuple(_told(error))
    found = slips(job)
    return (None if found else job), found


def _told(error: Exception) -> Iterator[Slip]:
    if not isinstance(error, ValidationError):
        yield Slip("", str(error), "a job")
        return
    for e in error.errors(include_url=False):
        yield Slip(".".join(str(s) for s in e["loc"]), repr(e["input"])[:60], e["msg"])
