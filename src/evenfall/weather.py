"""The worked job against the weather: files read, risk over years, this morning, own hours.

Pure, as `flow` is: the command line and the desk hand texts, times and worked jobs in.
"""

from __future__ import annotations

from datetime import datetime

from evenfall.flow import WorkedJob
from evenfall.model.choice import build_up
from evenfall.model.forecast import Forecast
from evenfall.model.logged import OwnMaterial, OwnRate
from evenfall.model.morning import Morning
from evenfall.model.recorded import SiteRecord
from evenfall.model.risked import Risk
from evenfall.stages import seen
from evenfall.stages.papers.drawn_morning import draw_day as draw_day
from evenfall.stages.price.lookup import Lookup
from evenfall.stages.programme import own_hours
from evenfall.stages.record import own_material
from evenfall.stages.record.on_site import planned
from evenfall.stages.weather import epw, reading, situation, sources
from evenfall.stages.weather import morning as mornings
from evenfall.stages.weather import risk as risks
from evenfall.stages.weather.situation import fresh as fresh


def read_weather(text: str, name: str) -> Forecast:
    """Read hours of weather: CSV by the hour, or a year of an EPW file, by how it begins.

    Parameters
    ----------
    text : str
        What stands in the file [-].
    name : str
        Its name, for the mistakes [-].

    Returns
    -------
    Forecast
        The hours [-].

    Raises
    ------
    InvalidFile
        With every mistake in the file.
    """
    is_epw = text.removeprefix("\ufeff").startswith("LOCATION,")
    return epw.read_epw(text, name) if is_epw else reading.read_csv(text, name)


def risk_of(worked: WorkedJob, hours: tuple[Forecast, ...] = (), contact: bool = False) -> Risk:
    """Walk the plan of a worked job through many years of weather.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    hours : tuple of Forecast
        Years of hours, where somebody brought any; else the days of the case, else the rain
        climate of the region [-].
    contact : bool
        Whether the sheet goes down in contact adhesive, which needs no warm night [-].

    Returns
    -------
    Risk
        Wet evenings, days lost, finish, money, best week [-].
    """
    case = worked.case
    if hours:
        weather = sources.from_hours(hours)
    elif case.weather is not None:
        weather = sources.from_days(case.weather)
    else:
        weather = sources.from_climate(case.job.site)
    return risks.wager(
        worked.programme, worked.tasks.tasks, case.job.crew, case.job.calendar,
        case.job.job.nation, case.rates, weather, contact,
    )  # fmt: skip


def morning_of(
    worked: WorkedJob, forecast: Forecast, now: datetime, done: tuple[str, ...] = (),
    covers: tuple[tuple[float, float], ...] = (), people: int | None = None, contact: bool = False,
) -> Morning:  # fmt: skip
    """Answer for this morning: what to open, when to stop, what moves.

    Parameters
    ----------
    worked : WorkedJob
        The job worked out [-].
    forecast : Forecast
        Made within the last three hours [-].
    now : datetime
        Now, with its zone [-].
    done : tuple of str
        What is done besides what the record says, such as ``bay:1`` [-].
    covers : tuple of (length, width)
        Covers on the roof; none takes those of the record [m].
    people : int, optional
        Who is there; else the crew [-].
    contact : bool
        Whether the sheet goes down in contact adhesive [-].

    Returns
    -------
    Morning
        The answer; the roofer decides [-].

    Raises
    ------
    InvalidInput
        A forecast that cannot speak of this morning, or work that the plan does not have.
    """
    job, tasks = worked.case.job, worked.tasks.tasks
    record, today = _record(worked), now.date()
    known = situation.done_ids(record, done, worked.programme, tasks, today)
    on_roof = covers or tuple((c.length_m, c.width_m) for c in job.record.covers)
    hands = job.crew.people if people is None else people
    site = mornings.Site(
        worked.plan, worked.programme, tasks, seen.when(worked.case, worked),
        (worked.falls.downhill, worked.water.rain.value),
        build_up(job.design, worked.case.rates).vcl.nights,
    )  # fmt: skip
    return mornings.answer(
        site, forecast, situation.Situation(
            now, known, hands, on_roof, contact, situation.closed_on(record, tasks, today)
        )
    )  # fmt: skip


def own_rates(jobs: tuple[WorkedJob, ...]) -> tuple[OwnRate, ...]:
    """Set the hours that finished jobs really took beside the rates of the last of them.

    Parameters
    ----------
    jobs : tuple of WorkedJob
        Jobs with a log of hours, at least one [-].

    Returns
    -------
    tuple of OwnRate
        One entry to each output that was logged [h].
    """
    finished = tuple(
        own_hours.Finished(
            w.case.job.model_copy(update={"record": _record(w)}), w.tasks.tasks,
            w.case.rates.outputs,
        )
        for w in jobs
    )  # fmt: skip
    return own_hours.beside(finished, jobs[-1].case.rates.outputs)


def own_materials(jobs: tuple[WorkedJob, ...]) -> tuple[OwnMaterial, ...]:
    """Set what finished jobs really used and paid beside the rates of the last of them.

    Parameters
    ----------
    jobs : tuple of WorkedJob
        Jobs; those without a day of finishing are left out [-].

    Returns
    -------
    tuple of OwnMaterial
        One entry to each line of the order that was written down [-].
    """
    return own_material.beside(
        tuple(_ordered(w) for w in jobs if w.case.job.record.finished_on is not None)
    )


def _ordered(worked: WorkedJob) -> own_material.Ordered:
    """Give all that a job ordered, with the price of each line by its rates."""
    rooms = (worked.boards, worked.sheet, worked.rolls, worked.lengths, worked.windows,
             worked.items)  # fmt: skip
    order = tuple(line for room in rooms for line in room.order)
    prices = Lookup(worked.case.rates)
    pence = tuple(float(prices.pence(line)) for line in order)
    return own_material.Ordered(order, pence, worked.case.job.record.bought)


def _record(worked: WorkedJob) -> SiteRecord:
    """Give the record, without what the log tells of work that the plan no longer has."""
    return planned(worked.case.job.record, worked.given.job.record, worked.tasks.tasks)
