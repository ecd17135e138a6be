"""From what a revision holds to what is worked: a case, or the problems in words."""

from __future__ import annotations

import functools
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from threading import Lock
from typing import Any, TypeVar

from pydantic import BaseModel

from evenfall.app.loading import DEMO_RATES
from evenfall.app.reading import read_data, read_file
from evenfall.app.store.kept import Contents, Data
from evenfall.app.yaml_core import parse
from evenfall.drafting.complete import complete
from evenfall.errors import InvalidFile, Mistake
from evenfall.model.case import Case
from evenfall.model.job import Job
from evenfall.model.job_checks import slips
from evenfall.model.rates import Rates
from evenfall.model.weather import Weather

M = TypeVar("M", bound=BaseModel)

CASES_KEPT = 64


@dataclass(frozen=True, slots=True)
class Sound:
    """A case that can be worked, or why there is none."""

    case: Case | None
    problems: tuple[Mistake, ...] = ()
    defaults: tuple[str, ...] = ()  # paths that the person has not said
    own_rates: bool = False


class Cases:
    """Makes cases of what revisions hold, and keeps the last ones.

    Parameters
    ----------
    rates_file : Path, optional
        The firm's own rates [-].
    """

    def __init__(self, rates_file: Path | None = None) -> None:
        own = rates_file if rates_file and rates_file.is_file() else None
        self.own_rates = own is not None
        self.rates = read_file(own or DEMO_RATES, Rates).value
        self._kept: OrderedDict[tuple[str, int, date], Sound] = OrderedDict()
        self._parts: OrderedDict[int, tuple[Data, Any]] = OrderedDict()
        self._sound: dict[str, Data] = {}  # what was read last without a mistake
        self._lock = Lock()
        self._rates_file = own or DEMO_RATES

    def of(self, job: str, revision: int, on: date, contents: Callable[[], Contents]) -> Sound:
        """Give the case of a revision.

        Parameters
        ----------
        job : str
            Id of the job [-].
        revision : int
            Number of the revision [-].
        on : date
            The day as on which it is worked [-].
        contents : callable
            Gives what the revision holds, where that is asked [-].

        Returns
        -------
        Sound
            The case, or the problems [-].
        """
        key = (job, revision, on)
        with self._lock:
            if key in self._kept:
                return self._kept[key]
        return self.keep(job, revision, on, self.make(contents(), on))

    def keep(self, job: str, revision: int, on: date, found: Sound) -> Sound:
        """Keep what was made of a revision on a day."""
        with self._lock:
            self._kept[(job, revision, on)] = found
            while len(self._kept) > CASES_KEPT:
                self._kept.popitem(last=False)
        return found

    def make(self, contents: Contents, on: date) -> Sound:
        """Make a case.

        Parameters
        ----------
        contents : Contents
            Job, rates and weather as data [-].
        on : date
            The day as on which it is worked [-].

        Returns
        -------
        Sound
            The case, or the problems [-].
        """
        problems: list[Mistake] = []
        rates: Rates | None = self.rates
        if contents.rates is not None:
            rates = self._part(contents.rates, Rates, problems, "rates")
        document, defaults = contents.document, tuple[str, ...]()
        job = self._read(document, Job, [])  # what is whole needs no defaults, and costs none
        if job is None:
            document, defaults = completed(contents.document, rates, on)
            job = self._read(document, Job, problems)
        weather = None
        if contents.weather is not None:
            weather = self._part(contents.weather, Weather, problems, "weather")
        own = contents.rates is not None or self.own_rates
        if job is None or rates is None or problems:
            return Sound(None, tuple(problems), defaults, own)
        return Sound(Case(job, rates, on, weather), (), defaults, own)

    def _read(self, document: Data, model: type[Job], problems: list[Mistake]) -> Job | None:
        try:
            found = read_data(document, "job", model, slips, self._sound.get("job")).value
            self._sound["job"] = document
            return found
        except InvalidFile as error:
            problems += error.mistakes
            return None

    def _part(self, data: Data, model: type[M], problems: list[Mistake], name: str) -> M | None:
        """Read rates or weather; the same data are read once."""
        with self._lock:
            for kept, value in self._parts.values():
                if isinstance(value, model) and (kept is data or kept == data):
                    return value
        try:
            found = read_data(data, name, model, None, self._sound.get(name)).value
            self._sound[name] = data
        except InvalidFile as error:
            problems += [_within(name, m) for m in error.mistakes]
            return None
        with self._lock:
            self._parts[id(found)] = (data, found)
            while len(self._parts) > CASES_KEPT:
                self._parts.popitem(last=False)
        return found

    def rates_data(self) -> Data:
        """Give the rates that a job without its own is worked with, as data."""
        return _data_of(self._rates_file)


@functools.lru_cache(maxsize=4)
def _data_of(file: Path) -> Data:
    data: Data = parse(file.read_text(encoding="utf-8-sig")).data
    return data


def _within(name: str, mistake: Mistake) -> Mistake:
    return Mistake(1, 1, f"{name}.{mistake.path}", mistake.found, mistake.expected,
                   mistake.nearest, mistake.do)  # fmt: skip


def completed(document: Data, rates: Rates | None, on: date) -> tuple[Data, tuple[str, ...]]:
    """Complete a document by the shown defaults for what the person has not said yet.

    Parameters
    ----------
    document : dict
        The job file as data, whole or partial [-].
    rates : Rates, optional
        What the firm buys; without rates nothing is completed [-].
    on : date
        The day as on which it is worked [-].

    Returns
    -------
    tuple
        The whole of it, and the paths that were filled [-].
    """
    if rates is None:
        return document, ()
    drafted = complete(document, rates, on)
    return drafted.document, drafted.paths
