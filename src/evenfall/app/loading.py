"""A job folder read into a Case: the job file, the rates beside it, weather if there is any."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from pathlib import Path

from evenfall.app.papers.logo import read_logo
from evenfall.app.price_book.reading import read_rates
from evenfall.app.reading import Read, read_file
from evenfall.app.weather_file import read_weather_file
from evenfall.errors import InvalidFile, Mistake
from evenfall.model.case import Case
from evenfall.model.job import Job
from evenfall.model.job_checks import slips
from evenfall.model.rates import Rates
from evenfall.model.weather import Weather

DATA = Path(__file__).parent / "data"
DEMO_RATES = DATA / "rates_invented.yaml"
JOB_NAMES = ("job.yaml", "job.yml", "job.json")


@dataclass(frozen=True)
class Loaded:
    """A case, and the files that its job and its rates were read from."""

    case: Case
    job: Read[Job]
    rates: Read[Rates]
    rates_file: Path
    own_rates: bool


def load(
    job: Path, on: date, rates: Path | None = None, weather: Path | None = None,
    forecast: Path | None = None,
) -> Loaded:  # fmt: skip
    """Read a job and what belongs to it.

    Rates and weather named ``rates.yaml`` (or ``.xlsx``) and ``weather.yaml`` beside the job are
    taken; without rates of its own a job is worked with the invented ones, and the summary says
    so.

    Parameters
    ----------
    job : Path
        The job file, or a folder with one [-].
    on : date
        The date on which it is worked [-].
    rates, weather : Path, optional
        Other files than those beside the job [-].
    forecast : Path, optional
        Hours to come, round which the days are planned [-].

    Returns
    -------
    Loaded
        The case and where it came from [-].

    Raises
    ------
    InvalidFile
        A file that cannot be used; with every mistake of the job file.
    """
    file = _job_file(job)
    read = read_file(file, Job, slips)
    own = rates or _beside(file, "rates.yaml") or _beside(file, "rates.xlsx")
    rates_file = own or DEMO_RATES
    bought = read_rates(rates_file)
    sky = weather or _beside(file, "weather.yaml")
    days = read_file(sky, Weather).value if sky else None
    logo = read_logo(rates_file, bought.value.firm.logo)
    case = Case(
        read.value, bought.value, on, days, logo=logo,
        forecast=read_weather_file(forecast) if forecast else None,
    )  # fmt: skip
    return Loaded(case, read, bought, rates_file, own is not None)


def _job_file(job: Path) -> Path:
    if not job.is_dir():
        return job
    for name in JOB_NAMES:
        if (job / name).is_file():
            return job / name
    mistake = Mistake(1, 1, "", "a folder without a job file", f"{JOB_NAMES[0]} in it")
    raise InvalidFile(str(job), (mistake,))


def _beside(file: Path, name: str) -> Path | None:
    found = file.parent / name
    return found if found.is_file() else None
