"""What all commands share: their arguments, and a job read and worked out, or told to be wrong."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from datetime import date
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from evenfall.app.loading import Loaded
    from evenfall.flow import WorkedJob

WRONG = 2
"""Exit code of a wrong file or option."""

JobFile = Annotated[Path, typer.Argument(help="A job file, or a folder with job.yaml in it.")]
On = Annotated[
    str | None, typer.Option("--on", help="Work it as on this day (YYYY-MM-DD); else today.")
]
RatesFile = Annotated[
    Path | None, typer.Option("--rates", help="The firm's rates; else rates.yaml beside the job.")
]
WeatherFile = Annotated[
    Path | None, typer.Option("--weather", help="Daily weather; else weather.yaml beside the job.")
]


@contextmanager
def told() -> Iterator[None]:
    """Tell what is wrong in plain words, with exit 2, instead of a traceback.

    Raises
    ------
    Exit
        Something that a person gave cannot be used.
    """
    from evenfall.errors import InvalidInput, OutOfScope

    try:
        yield
    except (InvalidInput, OutOfScope, OSError) as error:
        typer.echo(str(error), err=True)
        raise typer.Exit(WRONG) from None


def worked_job(
    job: Path, on: str | None, rates: Path | None, weather: Path | None,
    forecast: Path | None = None,
) -> tuple[Loaded, WorkedJob]:  # fmt: skip
    """Load and work out; a wrong file is told in plain words, with exit 2.

    Parameters
    ----------
    job : Path
        The job file, or its folder [-].
    on : str or None
        Day [-].
    rates, weather : Path or None
        Other files than those beside the job [-].
    forecast : Path or None
        Hours to come, round which the days are planned [-].

    Returns
    -------
    tuple
        What was loaded, and the worked job [-].
    """
    from evenfall.app.loading import load
    from evenfall.app.reading import in_file
    from evenfall.errors import InvalidFile, InvalidInput
    from evenfall.flow import work_out

    with told():
        loaded = load(job, day(on), rates, weather, forecast)
        try:
            return loaded, work_out(loaded.case)
        except InvalidFile:
            raise
        except InvalidInput as error:
            raise in_file(error, loaded.job, loaded.rates) from error
    raise AssertionError  # pragma: no cover


def write(content: bytes, folder: Path, name: str) -> Path:
    """Write one paper into a folder, which is made where it is missing.

    Parameters
    ----------
    content : bytes
        The paper [-].
    folder : Path
        Where it goes [-].
    name : str
        File name [-].

    Returns
    -------
    Path
        The file, from the root [-].
    """
    folder.mkdir(parents=True, exist_ok=True)
    target = folder / name
    target.write_bytes(content)
    return target.absolute()


def day(on: str | None) -> date:
    """Read a day; today where none is given.

    Parameters
    ----------
    on : str or None
        Such as 2026-11-25 [-].

    Returns
    -------
    date
        The day [-].

    Raises
    ------
    InvalidInput
        It is no day.
    """
    from evenfall.errors import InvalidInput

    if on is None:
        return date.today()
    try:
        return date.fromisoformat(on)
    except ValueError:
        raise InvalidInput(f'"{on}"', "a day such as 2026-11-25", where="--on") from None
