"""What is true this morning: the hour, what is really done, who is there, what covers there are."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import UTC, date, datetime

from evenfall.errors import InvalidInput
from evenfall.model.forecast import ONE_HOUR, Forecast
from evenfall.model.programmed import Programme, Task
from evenfall.model.recorded import DoneWork, SiteRecord
from evenfall.model.words import clock
from evenfall.stages.programme.site import kind
from evenfall.stages.weather.sky import clock_hour
from evenfall.standards import weather_practice as weather

AHEAD = 10  # minutes that a forecast may lie in the future: clocks differ
MINUTES = 60
WHERE = "--forecast"


@dataclass(frozen=True, slots=True)
class Situation:
    """One morning on the roof."""

    at: datetime  # now, Greenwich
    done: frozenset[str]  # ids of tasks
    people: int
    covers: tuple[tuple[float, float], ...]  # m
    contact: bool = False
    closed: tuple[tuple[int, date], ...] = ()  # bays, and the day told on which each was closed


def fresh(forecast: Forecast, now: datetime) -> datetime:
    """Refuse a forecast that cannot speak of this morning.

    Parameters
    ----------
    forecast : Forecast
        What was brought [-].
    now : datetime
        Now, with its zone [-].

    Returns
    -------
    datetime
        When it was issued, in Greenwich time [-].

    Raises
    ------
    InvalidInput
        No forecast, no time of issue, older than three hours, of the future, or past.
    """
    if forecast.kind != "forecast":
        what = "a typical year" if forecast.kind == "typical" else "hours without a chance of rain"
        raise InvalidInput(
            what, "a forecast with chance_percent in every hour", where=WHERE,
            do="ask a forecaster for this morning's hours",
        )  # fmt: skip
    if forecast.issued is None:
        raise InvalidInput(
            "a forecast that does not say when it was made",
            "a line such as # issued: 2027-04-12T05:40+01:00", where=WHERE,
        )  # fmt: skip
    age = (now - forecast.issued) / ONE_HOUR
    told = f"{clock(clock_hour(forecast.issued))} on {forecast.issued:%a %d %b}"
    if age < -AHEAD / MINUTES:
        raise InvalidInput(
            f"a forecast made at {told}, which is still to come", "one made before now",
            where=WHERE, do="look at --now",
        )  # fmt: skip
    if age > weather.FORECAST_AGE:
        raise InvalidInput(
            f"a forecast made at {told}, {age:.1f} hours old",
            f"no older than {float(weather.FORECAST_AGE):.0f} hours for this morning's answer",
            where=WHERE, do="ask for the latest one",
        )  # fmt: skip
    if forecast.ends <= now or forecast.hours[0].at > now + ONE_HOUR:
        first, last = forecast.hours[0].at, forecast.ends
        raise InvalidInput(
            f"hours from {first:%d %b %H:%M}Z to {last:%d %b %H:%M}Z",
            f"hours from now on ({now.astimezone(UTC):%d %b %H:%M}Z)", where=WHERE,
            do="ask for today's hours",
        )  # fmt: skip
    return forecast.issued


def done_ids(
    record: SiteRecord, said: tuple[str, ...], of: Programme, tasks: tuple[Task, ...], today: date
) -> frozenset[str]:
    """Turn what was recorded, and said this morning, into ids of tasks.

    A bay means all of it up to its VCL; a task by kind alone means every part of it.

    Parameters
    ----------
    record : SiteRecord
        The record of the job [-].
    said : tuple of str
        Such as ``bay:1`` and ``strip-felt@2`` [-].
    of : Programme
        Bays [-].
    tasks : tuple of Task
        All work [-].
    today : date
        Records of later days do not count [-].

    Returns
    -------
    frozenset of str
        Ids [-].

    Raises
    ------
    InvalidInput
        No such bay or task.
    """
    asked = [(f"record.done[{n}]", _named(d)) for n, d in enumerate(record.done) if d.on <= today]
    asked += [("--done", word) for word in said]
    found: set[str] = set()
    for where, word in asked:
        ids = _ids(word, tasks)
        if not ids:
            known = ", ".join(sorted({kind(t.id) for t in tasks}))
            bays = f"bay:1 to bay:{len(of.bays)}"
            raise InvalidInput(f'"{word}"', f"{bays}, or one of {known}", where=where)
        found |= ids
    return frozenset(found)


def closed_on(
    record: SiteRecord, tasks: tuple[Task, ...], today: date
) -> tuple[tuple[int, date], ...]:
    """Find the first day of which the record tells work on each bay.

    Parameters
    ----------
    record : SiteRecord
        The record of the job [-].
    tasks : tuple of Task
        All work [-].
    today : date
        Records of later days do not count [-].

    Returns
    -------
    tuple of (bay, date)
        Bays that the record tells of [-].
    """
    bay_of = {t.id: t.bay for t in tasks if t.bay is not None}
    found: dict[int, date] = {}
    for done in (d for d in record.done if d.on <= today):
        for bay in {bay_of[i] for i in _ids(_named(done), tasks) if i in bay_of}:
            found[bay] = min(found.get(bay, done.on), done.on)
    return tuple(sorted(found.items()))


def _named(done: DoneWork) -> str:
    return f"bay:{done.bay}" if done.bay is not None else str(done.task)


def _ids(word: str, tasks: tuple[Task, ...]) -> set[str]:
    if word.startswith("bay:"):
        return {t.id for t in tasks if t.bay is not None and word == f"bay:{t.bay}"}
    word = word.removeprefix("task:")
    return {t.id for t in tasks if word in (kind(t.id), t.id.removeprefix("task:"))}
